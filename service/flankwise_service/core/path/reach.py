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


def arc_radius_limits(helix: Helix, entry: Entry, radius: float) -> tuple[float, float]:
    """Return the least and greatest radius of a lead arc that leads clear of the blank.

    Half arc: (radius +/- 2 arc)^2 + straight^2 against (radius +/- off)^2.
    Quarter arc: (radius +/- (arc + straight))^2 + arc^2 against the same. External
    there is no greatest one: infinite. Where none does, the least is above the greatest.

    >>> from flankwise_service.core.cutting.cutter import Cutter, Tooth
    >>> from flankwise_service.core.path.request import RadialPass
    >>> job = Helix("internal", "right", "climb", 1.5, 10.0, 18.5,
    ...             Cutter(12.0, 4, Tooth(30, 30, 0.2, 1.0)), (RadialPass(4.0, 300.0),), 0.5, 2.0)
    >>> arc_radius_limits(job, "half_arc", 4.0)
    (0.625, 3.375)
    """
    off, straight = off_distance(helix, radius), helix.straight_lead
    if helix.side == "external":
        if entry == "half_arc":
            return off / 2, math.inf
        return (math.sqrt(2 * (radius + off) ** 2 - radius**2) - radius) / 2, math.inf
    each = [_clear_inside(entry, radius, radius - off, piece) for piece in (0.0, straight)]
    return max(low for low, _ in each), min(high for _, high in each)


def _clear_inside(entry: Entry, radius: float, room: float, straight: float) -> tuple[float, float]:
    """Return the arc radii whose lead ends at most `room` from a hole's axis."""
    if entry == "half_arc":
        middle, square = radius / 2, (room**2 - straight**2) / 4
    else:
        middle = (radius - straight) / 2
        square = (2 * room**2 - (radius - straight) ** 2) / 4
    if square < 0:
        return math.inf, 0.0
    return middle - math.sqrt(square), middle + math.sqrt(square)
