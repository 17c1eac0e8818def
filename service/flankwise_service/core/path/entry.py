"""Lead-in and lead-out: how the cutter comes to the thread's curve, and leaves it.

An arc is tangent to the curve and keeps the thread's slope: its z changes per unit of way as on
the helix, so the tooth sits in its own groove while it sinks in. z follows the lead
times the angle seen from the thread's axis, exactly where the arc's radius is half that of the
curve, and to third order elsewhere. (Turning a lead-in arc by the lead times its own angle
would move z twice as fast as the groove, and cut into a flank.)
"""

from __future__ import annotations

import math
from typing import NamedTuple

from flankwise_service.core.path.direction import opposite, turn
from flankwise_service.core.path.request import ENTRY_SWEEP, Entry
from flankwise_service.core.path.segment import Point, Sense
from flankwise_service.core.threads.model import Side

QUARTER_AND_HALF = {90.0: (0.0, 1.0), 180.0: (-1.0, 0.0)}
"""Cosine and sine of the sweeps in use."""


class Lead(NamedTuple):
    """One lead-in or lead-out: its far end, and its arc (centre None: a straight line)."""

    far: Point
    centre: tuple[float, float] | None
    sense: Sense | None
    sweep: float
    radius: float


class Contact(NamedTuple):
    """Where a lead meets the curve: the place, the curve's centre there, sense and slope."""

    place: Point
    pivot: tuple[float, float]
    radius: float
    """Of the curve about the pivot."""
    sense: Sense
    slope: float
    """Change of z for each unit of way in the plane."""


def withdrawal(side: Side, radius: float, cutter_radius: float, blank_radius: float) -> float:
    """Return how far the cutter must move off the curve, radially, until it just leaves the blank.

    Negative where it doesn't reach the blank at all.

    >>> withdrawal("external", 13.0, 5.0, 10.0)
    2.0
    >>> withdrawal("internal", 2.0, 4.0, 5.5)
    0.5
    """
    if side == "external":
        return blank_radius + cutter_radius - radius
    return radius + cutter_radius - blank_radius


def lead_arc_radius(entry: Entry, side: Side, radius: float, off: float) -> float:
    """Return the radius of a lead arc to a curve of `radius` that ends `off` away from it.

    Internal: half the curve's radius, where z keeps to the groove exactly, and a half turn
    begins on the thread's axis. External: the least that ends `off` away; with the quarter arc
    (radius + rho)^2 + rho^2 = (radius + off)^2.

    >>> lead_arc_radius("half_arc", "internal", 3.0, 1.0)
    1.5
    >>> lead_arc_radius("half_arc", "external", 12.0, 2.0)
    1.0
    >>> round(lead_arc_radius("quarter_arc", "external", 12.0, 2.0), 6)
    1.874008
    """
    if side == "internal":
        return radius / 2
    if entry == "half_arc":
        return off / 2
    return (math.sqrt(2 * (radius + off) ** 2 - radius**2) - radius) / 2


def lead(
    entry: Entry, side: Side, contact: Contact, arc_radius: float, off: float, entering: bool
) -> Lead:
    """Return the lead-in (`entering`) or lead-out at a contact with the thread's curve.

    `arc_radius` serves the arcs, `off` the straight radial move, which keeps z.
    """
    away = -1.0 if side == "internal" else 1.0
    x, y, z = contact.place
    ux = away * (x - contact.pivot[0]) / contact.radius
    uy = away * (y - contact.pivot[1]) / contact.radius
    if entry == "radial":
        return Lead(Point(x + off * ux, y + off * uy, z), None, None, 0.0, 0.0)
    sweep = ENTRY_SWEEP[entry]
    sense = contact.sense if side == "internal" else opposite(contact.sense)
    back = -1.0 if entering else 1.0
    # exact for 90 and 180 degrees, so a half turn in and one out end at the very same place
    cos, sin = QUARTER_AND_HALF[sweep]
    sin *= back * turn(sense)
    centre = (x + arc_radius * ux, y + arc_radius * uy)
    dx, dy = -arc_radius * ux, -arc_radius * uy
    rise = back * contact.slope * arc_radius * math.radians(sweep)
    far = Point(centre[0] + dx * cos - dy * sin, centre[1] + dx * sin + dy * cos, z + rise)
    return Lead(far, centre, sense, sweep, arc_radius)


def straight_before(way: Lead, length: float, entering: bool) -> Point:
    """Return where a level straight piece, tangent to a lead arc at its far end, begins or ends.

    At the far end itself where the lead is straight already, or the length is 0.

    >>> arc = Lead(Point(1, -1, 0), (1, 0), "counterclockwise", 90.0, 1.0)
    >>> straight_before(arc, 2.0, True)
    Point(x=-1.0, y=-1.0, z=0)
    """
    if way.centre is None or way.sense is None:
        return way.far
    along = turn(way.sense) * length / way.radius * (-1.0 if entering else 1.0)
    dx, dy = way.far.x - way.centre[0], way.far.y - way.centre[1]
    return Point(way.far.x - along * dy, way.far.y + along * dx, way.far.z)


def lead_feed(feed: float, side: Side, radius: float, cutter_radius: float, arc: float) -> float:
    """Return the feed on a lead arc that keeps the thread's feed at the cutting edge.

    The edge turns about the thread's axis at radius + cutter_radius (internal) or
    radius - cutter_radius (external), and about the lead arc's centre at arc + cutter_radius
    either way, because the arc's centre lies on the far side of the cutter from the work.

    >>> round(lead_feed(100.0, "internal", 1.0, 3.0, 0.5), 6)
    57.142857
    """
    reach = radius + cutter_radius if side == "internal" else radius - cutter_radius
    return feed * (reach / radius) * (arc / (arc + cutter_radius))
