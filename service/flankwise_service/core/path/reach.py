"""How far a thread's leads must go to be clear of the blank, and how far they go."""

from __future__ import annotations

import math

from flankwise_service.core.path.entry import lead_arc_radius, withdrawal
from flankwise_service.core.path.request import ENTRY_SWEEP, Entry, Helix


def off_distance(helix: Helix, radius: float) -> float:
    """Return how far from a curve of `radius` a lead must begin: blank left, and clearance."""
    off = withdrawal(helix.side, radius, helix.cutter.diameter / 2, helix.blank_diameter / 2)
    return max(off, 0.0) + helix.clearance


def arc_radius_of(helix: Helix, entry: Entry, radius: float) -> float:
    """Return the radius of the lead arc at a curve of `radius`, as given or by default."""
    if helix.lead_arc_radius is not None:
        return helix.lead_arc_radius
    return lead_arc_radius(entry, helix.side, radius, off_distance(helix, radius))


def far_distance(
    entry: Entry, away: float, radius: float, arc: float, off: float, straight: float
) -> float:
    """Return how far from the thread's axis a lead begins; `away` is +1 external, -1 internal.

    With a straight piece before its arc: of that piece's far end.

    >>> far_distance("half_arc", 1.0, 12.0, 0.5, 1.0, 0.0)
    13.0
    >>> far_distance("quarter_arc", -1.0, 12.0, 6.0, 1.0, 6.0)
    6.0
    """
    if entry == "radial":
        return radius + away * off
    if ENTRY_SWEEP[entry] == 180:
        return math.hypot(radius + 2 * away * arc, straight)
    return math.hypot(radius + away * (arc + straight), arc)
