"""A taper thread's curve as arcs.

The radius grows by `growth` for each degree turned, which no arc does. Each arc here runs
through the true place of both ends and of the middle of its piece, so neighbours join exactly.
To first order its departure is g * (u - h * sin(u) / sin(h)), for u from -h to h, h half
the piece and g the growth for each radian: odd about the middle, so no other arc through those
ends can be nearer. It grows as the cube of the piece, which makes the number of pieces the least
for arcs whose ends lie on the curve.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from flankwise_service.core.path.segment import Point
from flankwise_service.core.path.spiral import Piece, Spiral, count_pieces

PROBES = 64
"""Places looked at along an arc."""
BETWEEN_PROBES = 1.0005
"""The greatest departure may lie between two of them."""
GREATEST_PIECE = 180.0
"""Beyond half a turn the three places of an arc no longer fix it well."""


def departure(growth_per_radian: float, piece: float) -> float:
    """Return the radial departure of an arc of `piece` degrees from the spiral, first order.

    Greatest where cos(u) = sin(h) / h.

    >>> round(departure(0.009, 90.0), 7)
    0.0002981
    """
    half_rad = math.radians(piece) / 2
    if half_rad < 1e-3:
        # sin(h)/h loses its digits here; the series' first term is exact enough: h^3 / (9 sqrt 3)
        return abs(growth_per_radian) * half_rad**3 / (9 * math.sqrt(3))
    at_rad = math.acos(math.sin(half_rad) / half_rad)
    return abs(growth_per_radian) * abs(at_rad - half_rad * math.sin(at_rad) / math.sin(half_rad))


def taper_pieces(growth_per_turn: float, turns: float, greatest: float, tolerance: float) -> int:
    """Return the fewest pieces of `turns` whose arcs stay within `tolerance`, to first order.

    >>> taper_pieces(0.0567, 1.0, 360, 0.001)
    3
    """
    growth = growth_per_turn / (2 * math.pi)
    least = count_pieces(turns * 360, min(greatest, GREATEST_PIECE))
    if departure(growth, turns * 360 / least) <= tolerance:
        return least
    low, high = least, 2 * least
    while departure(growth, turns * 360 / high) > tolerance:
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        if departure(growth, turns * 360 / middle) > tolerance:
            low = middle
        else:
            high = middle
    return high


def arc_through(begin: Point, middle: Point, end: Point) -> tuple[tuple[float, float], float]:
    """Return centre and sweep, in degrees, of the arc through three places as seen from +Z.

    >>> arc_through(Point(1, 0, 0), Point(0.6, 0.8, 0), Point(0, 1, 0))[1]
    90.0
    """
    ax, ay = begin.x - middle.x, begin.y - middle.y
    bx, by = end.x - middle.x, end.y - middle.y
    double = 2 * (ax * by - ay * bx)
    a2, b2 = ax * ax + ay * ay, bx * bx + by * by
    x, y = (by * a2 - ay * b2) / double, (ax * b2 - bx * a2) / double
    radius = math.hypot(x, y)
    first = 2 * math.asin(min(1.0, math.sqrt(a2) / (2 * radius)))
    second = 2 * math.asin(min(1.0, math.sqrt(b2) / (2 * radius)))
    return (middle.x + x, middle.y + y), math.degrees(first + second)


def worst_departure(curve: Spiral, pieces: int) -> float:
    """Return how far the arcs are from the cone, radially, looked at in the first and last piece.

    It is greatest where the radius is least, so at one end of the curve.
    """
    each, worst = curve.sweep / pieces, 0.0
    for first in (0.0, curve.sweep - each):
        begin, middle, end = (curve.point_at(first + share * each) for share in (0.0, 0.5, 1.0))
        (cx, cy), sweep = arc_through(begin, middle, end)
        radius = math.hypot(begin.x - cx, begin.y - cy)
        from_rad = math.atan2(begin.y - cy, begin.x - cx)
        for step in range(1, PROBES):
            at_rad = from_rad + curve.turn * math.radians(sweep) * step / PROBES
            x = cx + radius * math.cos(at_rad) - curve.x
            y = cy + radius * math.sin(at_rad) - curve.y
            # z goes evenly with the arc's angle, and the cone's radius with z
            cone = curve.radius_at(first + each * step / PROBES)
            worst = max(worst, abs(math.hypot(x, y) - cone))
    return worst * BETWEEN_PROBES


def pieces_within(curve: Spiral, greatest_sweep: float, tolerance: float) -> int:
    """Return the fewest arcs within `tolerance` of the curve: first order, then made good."""
    turns = curve.sweep / 360
    pieces = taper_pieces(curve.growth * 360, turns, greatest_sweep, tolerance)
    while worst_departure(curve, pieces) > tolerance:
        pieces += 1 + pieces // 1000
    return pieces


def taper_arcs(curve: Spiral, greatest_sweep: float, tolerance: float) -> Iterator[Piece]:
    """Yield a conical spiral as the fewest equal arcs within `tolerance` of it, radially."""
    pieces = pieces_within(curve, greatest_sweep, tolerance)
    begin = curve.point_at(0.0)
    for index in range(pieces):
        middle = curve.point_at(curve.sweep * ((2 * index + 1) / (2 * pieces)))
        end = curve.point_at(curve.sweep * ((index + 1) / pieces))
        yield end, *arc_through(begin, middle, end)
        begin = end
