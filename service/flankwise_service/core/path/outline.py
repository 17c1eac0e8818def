"""Shapes seen along Z, and where along a move their distance can turn.

`signed` is the distance of a place from a shape's edge, negative inside. Along a straight or
circular move it is smooth and monotone between neighbouring `marks`: the places nearest and
farthest from a corner or centre, square to an edge, and where another edge or corner takes over.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple, Protocol

from flankwise_service.core.path.direction import turn
from flankwise_service.core.path.lines import arc_radius, place_on
from flankwise_service.core.path.segment import Point, Segment

Place = tuple[float, float]
SAME = 1e-12


class Move:
    """A segment as a move in the plane, from share 0 to share 1."""

    __slots__ = ("angle_rad", "radius", "segment", "sweep_rad", "turn")

    def __init__(self, segment: Segment) -> None:
        self.segment = segment
        self.radius = arc_radius(segment)
        self.angle_rad = self.sweep_rad = 0.0
        self.turn = 0
        if segment.centre is not None and segment.sense is not None:
            (cx, cy), begin = segment.centre, segment.begin
            if self.radius <= SAME:
                return
            self.turn = turn(segment.sense)
            self.angle_rad = math.atan2(begin.y - cy, begin.x - cx)
            self.sweep_rad = math.radians(segment.sweep)

    def at(self, share: float) -> Point:
        """Return the place after a share of the way."""
        centre = self.segment.centre
        if centre is None or not self.turn:
            return place_on(self.segment, share)
        low, high = self.segment.begin[2], self.segment.end[2]
        angle_rad = self.angle_rad + self.turn * self.sweep_rad * share
        x = centre[0] + self.radius * math.cos(angle_rad)
        y = centre[1] + self.radius * math.sin(angle_rad)
        return Point(x, y, low + (high - low) * share)

    def reach(self) -> float:
        """Return how far, at most, any place of the move is from its middle."""
        rise = abs(self.segment.rise) / 2
        if self.turn:
            return math.hypot(min(2.0, self.sweep_rad / 2) * self.radius, rise)
        return math.dist(self.segment.begin, self.segment.end) / 2

    def toward(self, angle_rad: float) -> Iterator[float]:
        """Yield the shares where an arc's radius points along an angle."""
        swept = math.fmod(self.turn * (angle_rad - self.angle_rad), 2 * math.pi)
        swept += 2 * math.pi if swept < 0 else 0.0
        if 0 < swept < self.sweep_rad:
            yield swept / self.sweep_rad

    def nearest(self, place: Place) -> Iterator[float]:
        """Yield the shares nearest to and farthest from a place."""
        if self.turn and self.segment.centre is not None:
            dx, dy = place[0] - self.segment.centre[0], place[1] - self.segment.centre[1]
            if math.hypot(dx, dy) > SAME * self.radius:
                angle_rad = math.atan2(dy, dx)
                yield from self.toward(angle_rad)
                yield from self.toward(angle_rad + math.pi)
            return
        begin, end = self.segment.begin, self.segment.end
        ex, ey = end.x - begin.x, end.y - begin.y
        square = ex * ex + ey * ey
        if square > 0:
            yield ((place[0] - begin.x) * ex + (place[1] - begin.y) * ey) / square

    def square_to(self, normal: Place) -> Iterator[float]:
        """Yield the shares where an arc runs along an edge of this normal."""
        if self.turn:
            angle_rad = math.atan2(normal[1], normal[0])
            yield from self.toward(angle_rad)
            yield from self.toward(angle_rad + math.pi)

    def crossing(self, place: Place, along: Place) -> Iterator[float]:
        """Yield the shares where the move crosses the line through a place along a direction."""
        size = math.hypot(*along)
        nx, ny = -along[1] / size, along[0] / size
        begin, end = self.segment.begin, self.segment.end
        if self.turn and self.segment.centre is not None:
            cx, cy = self.segment.centre
            off = ((place[0] - cx) * nx + (place[1] - cy) * ny) / self.radius
            if abs(off) <= 1:
                base_rad, half_rad = math.atan2(ny, nx), math.acos(off)
                yield from self.toward(base_rad + half_rad)
                yield from self.toward(base_rad - half_rad)
            return
        first = (begin.x - place[0]) * nx + (begin.y - place[1]) * ny
        last = (end.x - place[0]) * nx + (end.y - place[1]) * ny
        if first != last:
            yield first / (first - last)


class Outline(Protocol):
    """A shape seen along Z."""

    def signed(self, x: float, y: float) -> float:
        """Return the distance of a place from the edge, negative inside."""

    def marks(self, move: Move) -> Iterator[float]:
        """Yield the shares of a move between which `signed` is smooth and monotone."""

    def bounds(self, near: float, far: float) -> Span:
        """Return bounds of `signed` for places from `near` to `far` from the outline's centre.

        Equal bounds are the exact value.
        """


Span = tuple[float, float]
"""Least and greatest of a distance."""


class Disc(NamedTuple):
    """A round shape."""

    x: float
    y: float
    radius: float

    def signed(self, x: float, y: float) -> float:
        """Return the distance of a place from the edge, negative inside."""
        return math.hypot(x - self.x, y - self.y) - self.radius

    def bounds(self, near: float, far: float) -> Span:
        """Return the least and greatest of `signed` between two distances from the centre."""
        return near - self.radius, far - self.radius

    def marks(self, move: Move) -> Iterator[float]:
        """Yield where the move is nearest to and farthest from the centre."""
        return move.nearest((self.x, self.y))


@lru_cache(maxsize=64)  # a search asks some thousand times for the same
def _normals(angle: float) -> tuple[Place, ...]:
    angles = [math.radians(angle + 60 * k) for k in range(6)]
    return tuple((math.cos(angle_rad), math.sin(angle_rad)) for angle_rad in angles)


class Hexagon(NamedTuple):
    """A regular hexagon; `angle` is the direction square to one of its flats.

    >>> Hexagon(0.0, 0.0, 10.0).signed(7.0, 0.0)
    2.0
    """

    x: float
    y: float
    across_flats: float
    angle: float = 0.0

    def normals(self) -> tuple[Place, ...]:
        """Return the directions square to its six flats."""
        return _normals(self.angle)

    def corners(self) -> tuple[Place, ...]:
        """Return its six corners, each after the flat of the same number."""
        out = self.across_flats / math.sqrt(3)
        angles = (math.radians(self.angle + 30 + 60 * k) for k in range(6))
        return tuple((self.x + out * math.cos(a), self.y + out * math.sin(a)) for a in angles)

    def signed(self, x: float, y: float) -> float:
        """Return the distance of a place from the edge, negative inside."""
        half, dx, dy = self.across_flats / 2, x - self.x, y - self.y
        off = nx = ny = -math.inf
        for along_x, along_y in _normals(self.angle):
            beyond = dx * along_x + dy * along_y - half
            if beyond > off:
                off, nx, ny = beyond, along_x, along_y
        along = abs(dy * nx - dx * ny) - half / math.sqrt(3)
        return math.hypot(off, along) if off > 0 and along > 0 else off

    def bounds(self, near: float, far: float) -> Span:
        """Return bounds of `signed`, from the circles through corners and touching flats."""
        return near - self.across_flats / math.sqrt(3), far - self.across_flats / 2

    def marks(self, move: Move) -> Iterator[float]:
        """Yield where the move turns at a flat or a corner, and where another takes over."""
        for normal, corner in zip(self.normals(), self.corners(), strict=True):
            tangent = (-normal[1], normal[0])
            yield from move.square_to(normal)
            yield from move.nearest(corner)
            # edge line; strip of the flat, its other side with the flat opposite; line from the
            # centre through the corner
            yield from move.crossing(corner, tangent)
            yield from move.crossing(corner, normal)
            yield from move.crossing(corner, (corner[0] - self.x, corner[1] - self.y))


class Around(NamedTuple):
    """All that is outside a round hole, within an outline (None: without end).

    >>> Around(Disc(0.0, 0.0, 3.0), Hexagon(0.0, 0.0, 10.0)).signed(1.0, 0.0)
    2.0
    """

    hole: Disc
    within: Disc | Hexagon | None = None

    def signed(self, x: float, y: float) -> float:
        """Return the distance of a place from the edge, negative in the material."""
        inward = -self.hole.signed(x, y)
        return inward if self.within is None else max(inward, self.within.signed(x, y))

    def bounds(self, near: float, far: float) -> Span:
        """Return bounds of `signed`; equal ones only where the hole's edge alone decides."""
        least, greatest = self.hole.radius - far, self.hole.radius - near
        if self.within is None:
            return least, greatest
        return least, max(greatest, self.within.bounds(near, far)[1])

    def marks(self, move: Move) -> Iterator[float]:
        """Yield the marks of both edges, and where one takes over from the other."""
        marks = [0.0, 1.0, *self.hole.marks(move)]
        if self.within is None:
            yield from marks
            return
        marks.extend(self.within.marks(move))
        yield from marks
        shares = sorted(share for share in marks if 0 <= share <= 1)
        for low, high in pairwise(shares):
            yield from root(self._difference, move, low, high)

    def _difference(self, place: Point) -> float:
        assert self.within is not None
        return -self.hole.signed(place.x, place.y) - self.within.signed(place.x, place.y)


class Measure(Protocol):
    """A figure of a place."""

    def __call__(self, place: Point, /) -> float:
        """Return the figure."""


def root(measure: Measure, move: Move, low: float, high: float) -> Iterator[float]:
    """Yield the share between two where a monotone figure goes through zero, if it does."""
    first, last = measure(move.at(low)), measure(move.at(high))
    if not (first < 0 < last or last < 0 < first):
        return
    for _ in range(60):
        middle = (low + high) / 2
        if (measure(move.at(middle)) < 0) == (first < 0):
            low = middle
        else:
            high = middle
    yield (low + high) / 2
