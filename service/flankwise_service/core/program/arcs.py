"""Arcs in whole counts of the last printed digit, so that rounding never spoils an arc.

Begin and end are rounded from the exact path, each on its own, so nothing accumulates. The centre
is then chosen among the printable points round the true one, the one whose radius at both ends
comes nearest the true radius.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from flankwise_service.core.path.segment import Sense

Grid = tuple[int, int]
FULL_TURN = 360.0
DEGREES_PER_RADIAN = 180.0 / math.pi
GREATEST_APART = 1.5
"""Counts by which an arc's two radii may differ, where any centre allows it: some always does.

Rounded ends change each radius by no more than half the diagonal of a count, and among the four
printable points round the true centre one at least doesn't add to their difference. A control
takes two counts (0.0002 in of four decimals, 0.002 mm of three).
"""
LAST_CHOICE = 100.0
MIDDLE_ROOM = 3.0
"""Greatest distance, in counts, of an arc's middle from the path's. Begin, end and centre are
rounded each by itself, and the middle has its share of all three."""


def middle_apart(radius: float, sweep: float, led: float) -> float:
    """Return how far the middles of two arcs of one begin are apart that turn by these degrees.

    2 r sin(difference / 4). A full turn and none at all end at the same place: which of the two a
    hair's breadth means is left open here.

    >>> round(middle_apart(10.0, 90.0, 270.0), 6), middle_apart(10.0, 360.0, 0.0)
    (14.142136, 0.0)
    """
    off = abs(sweep - led)
    return 2 * radius * math.sin(math.radians(min(off, abs(FULL_TURN - off))) / 4)


class Way(NamedTuple):
    """The true arc as far as rounding needs it: its middle, in counts, and its sense."""

    middle: tuple[float, float]
    sense: Sense


def sweep_as_read(
    begin: tuple[float, float],
    end: tuple[float, float],
    centre: tuple[float, float],
    sense: Sense,
) -> float:
    """Return the angle a control turns through, in degrees above 0 up to 360.

    Equal begin and end read as a full turn (NISTIR 6556, 3.5.3.2).

    >>> sweep_as_read((1, 0), (0, 1), (0, 0), "counterclockwise")
    90.0
    >>> sweep_as_read((1, 0), (0, 1), (0, 0), "clockwise")
    270.0
    >>> sweep_as_read((1, 0), (1, 0), (0, 0), "clockwise")
    360.0
    """
    if begin == end:
        return FULL_TURN
    first = math.atan2(begin[1] - centre[1], begin[0] - centre[0])
    last = math.atan2(end[1] - centre[1], end[0] - centre[0])
    turned = math.degrees(last - first if sense == "counterclockwise" else first - last)
    return turned % FULL_TURN or FULL_TURN


def middle(
    begin: tuple[float, ...], centre: tuple[float, float], sweep: float, sense: Sense | None
) -> tuple[float, float]:
    """Return the place half way along an arc, in its plane.

    >>> x, y = middle((1.0, 0.0), (0.0, 0.0), 180.0, "clockwise")
    >>> round(x, 9), round(y, 9)
    (0.0, -1.0)
    """
    half_rad = math.radians(sweep / 2 if sense == "counterclockwise" else -sweep / 2)
    x, y = begin[0] - centre[0], begin[1] - centre[1]
    cos, sin = math.cos(half_rad), math.sin(half_rad)
    return centre[0] + x * cos - y * sin, centre[1] + x * sin + y * cos


def printable_centre(begin: Grid, end: Grid, centre: tuple[float, float], way: Way) -> Grid:
    """Return the printable point, within one count of `centre`, whose arc is truest.

    Weighed is how far the arc's middle lies from the true one, plus the difference of the radii
    at its begin and its end.

    >>> way = Way((7071.3, 7070.7), "counterclockwise")
    >>> printable_centre((10000, 0), (0, 10000), (0.4, -0.4), way)
    (0, 0)
    """
    best, least = (round(centre[0]), round(centre[1])), math.inf
    turn = 1.0 if way.sense == "counterclockwise" else -1.0
    left, low = math.floor(centre[0]), math.floor(centre[1])
    for found in ((left, low), (left + 1, low), (left, low + 1), (left + 1, low + 1)):
        ux, uy = begin[0] - found[0], begin[1] - found[1]
        vx, vy = end[0] - found[0], end[1] - found[1]
        first, last = math.hypot(ux, uy), math.hypot(vx, vy)
        if first == 0.0 or last == 0.0:
            continue
        apart = abs(first - last)
        if apart >= least:
            continue  # its middle can only add to that
        # The chord of the unit circle, turned outward, points at the arc's middle.
        qx, qy = turn * (vx / last - ux / first), turn * (vy / last - uy / first)
        chord = math.hypot(qx, qy)
        mx, my = (qy / chord, -qx / chord) if chord else (-ux / first, -uy / first)
        off_x = found[0] + first * mx - way.middle[0]
        off_y = found[1] + first * my - way.middle[1]
        cost = apart + math.hypot(off_x, off_y) + (0.0 if apart < GREATEST_APART else LAST_CHOICE)
        if cost < least:
            best, least = found, cost
    return best


def centre_by_radius(
    begin: tuple[float, float], end: tuple[float, float], radius: float, sense: Sense
) -> tuple[float, float] | None:
    """Return the centre that R words mean, or None where no such arc joins begin and end.

    A negative radius asks for the arc of more than half a turn (NISTIR 6556, 3.5.3.1).

    >>> x, y = centre_by_radius((1.0, 0.0), (0.0, 1.0), 1.0, "counterclockwise")
    >>> round(x, 9), round(y, 9)
    (0.0, 0.0)
    >>> centre_by_radius((1.0, 0.0), (-1.5, 0.0), 1.0, "clockwise") is None
    True
    """
    dx, dy = end[0] - begin[0], end[1] - begin[1]
    chord = math.hypot(dx, dy)
    if chord == 0.0 or abs(radius) < chord / 2:
        return None
    height = math.sqrt((abs(radius) - chord / 2) * (abs(radius) + chord / 2))
    left = (sense == "counterclockwise") == (radius > 0)
    side = height / chord if left else -height / chord
    return ((begin[0] + end[0]) / 2 - dy * side, (begin[1] + end[1]) / 2 + dx * side)


def printable_radius(
    begin: Grid, end: Grid, centre: tuple[float, float], radius: float, sense: Sense, sweep: float
) -> int | None:
    """Return the signed radius, in counts, whose arc has its centre nearest the true one.

    >>> printable_radius((10000, 0), (0, 10000), (0.0, 0.0), 10000.2, "counterclockwise", 90.0)
    10000
    """
    sign = -1 if sweep > FULL_TURN / 2 else 1
    best, least = None, math.inf
    for count in range(round(radius) - 1, round(radius) + 2):
        found = centre_by_radius(begin, end, sign * count, sense)
        off = math.inf if found is None else math.dist(found, centre)
        if off < least:
            best, least = sign * count, off
    return best
