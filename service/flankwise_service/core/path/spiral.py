"""The curve the thread asks of the cutter axis: a helix, or on a taper a conical spiral."""

from __future__ import annotations

import math
from collections.abc import Iterator
from math import cos, fmod, radians, sin
from typing import NamedTuple

from flankwise_service.core.path.segment import Point, Sense


class Spiral(NamedTuple):
    """r = radius + growth * t, z = z + climb * t, angle = angle + turn * t; t in degrees."""

    x: float
    y: float
    radius: float
    z: float
    angle: float
    turn: int
    """+1 counter-clockwise, -1 clockwise."""
    climb: float
    """Change of z for each degree turned."""
    growth: float
    """Change of radius for each degree turned; 0 on a straight thread."""
    sweep: float
    """Degrees turned in all, positive."""

    @property
    def sense(self) -> Sense:
        """Sense of turning, seen from +Z."""
        return "counterclockwise" if self.turn > 0 else "clockwise"

    @property
    def slope(self) -> float:
        """Change of z for each unit of way in the plane, where the curve begins."""
        return self.climb / (self.radius * math.radians(1.0))

    def radius_at(self, swept: float) -> float:
        """Return the distance from the axis after `swept` degrees."""
        return self.radius + self.growth * swept

    def point_at(self, swept: float) -> Point:
        """Return the place after `swept` degrees."""
        x, y, radius, z, angle, turned, climb, growth, _ = self
        angle_rad = math.radians(math.fmod(angle + turned * swept, 360.0))
        radius += growth * swept
        return Point(
            x + radius * math.cos(angle_rad), y + radius * math.sin(angle_rad), z + climb * swept
        )


Piece = tuple[Point, tuple[float, float] | None, float]
"""The next bit of a curve: its end, the centre of the arc that leads there (None: a line), and the
angle that turns."""


def count_pieces(sweep: float, greatest: float) -> int:
    """Return the fewest equal pieces of `sweep`, none above `greatest`, all in degrees.

    >>> count_pieces(12.8 * 360, 360)
    13
    >>> count_pieces(720.0, 360)
    2
    """
    return max(1, math.ceil(sweep / greatest - 1e-9))


def helix_arcs(curve: Spiral, greatest_sweep: float) -> Iterator[Piece]:
    """Yield a straight thread's curve as equal helical arcs, each exact.

    Each end is worked out from the whole curve, so nothing drifts over many turns.
    """
    x, y, radius, z, angle, turned, climb, _, sweep = curve
    pieces, centre = count_pieces(sweep, greatest_sweep), (x, y)
    each = sweep / pieces
    new = tuple.__new__  # what Point() does, and `point_at` written out: a thread has thousands
    for index in range(1, pieces + 1):
        swept = sweep * (index / pieces)
        angle_rad = radians(fmod(angle + turned * swept, 360.0))
        place = (x + radius * cos(angle_rad), y + radius * sin(angle_rad), z + climb * swept)
        yield new(Point, place), centre, each


def chord_angle(radius: float, tolerance: float) -> float:
    """Return the greatest angle, in degrees, of a chord that stays within `tolerance` of its arc.

    The chord's middle is radius * (1 - cos(angle / 2)) from the arc. At most 90 degrees.

    >>> round(chord_angle(10.0, 0.01), 4)
    5.1251
    """
    if tolerance >= radius * (1 - math.sqrt(0.5)):
        return 90.0
    return math.degrees(4 * math.asin(math.sqrt(tolerance / (2 * radius))))


def spiral_lines(curve: Spiral, tolerance: float) -> Iterator[Piece]:
    """Yield the curve as chords within `tolerance` of it, their ends on it."""
    widest = max(curve.radius, curve.radius_at(curve.sweep))
    pieces = count_pieces(curve.sweep, chord_angle(widest, tolerance))
    for index in range(1, pieces + 1):
        yield curve.point_at(curve.sweep * (index / pieces)), None, 0.0
