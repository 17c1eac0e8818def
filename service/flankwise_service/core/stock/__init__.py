"""Stock: hexagon and round bar, blank and hole before threading, drills."""
