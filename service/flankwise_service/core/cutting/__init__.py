"""Cutting: materials, speed, feed, chip thickness, passes, force, deflection, time and cost."""
