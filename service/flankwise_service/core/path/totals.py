"""Length, turns, height and box of a path, gathered while it streams by."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from flankwise_service.core.path.direction import turn
from flankwise_service.core.path.lines import arc_radius
from flankwise_service.core.path.segment import ROUNDING, Point, Segment

QUARTERS = ((1, 0), (0, 1), (-1, 0), (0, -1))
"""Directions at 0, 90, 180 and 270 degrees, without the rounding of cos and sin."""


@dataclass(frozen=True, slots=True)
class Totals:
    """What a path amounts to. Lengths along the path, in its unit."""

    segments: int
    arcs: int
    lines: int
    rapids: int
    cutting_length: float
    """Along everything that is fed."""
    rapid_length: float
    thread_length: float
    """Along the thread itself, without lead-ins and lead-outs."""
    arc_turns: float
    """Turns of all arcs of the thread, over all passes, starts and steps; 0 in straight lines."""
    height: float
    """From the lowest to the highest place of the lowest tooth."""
    least: Point
    greatest: Point
    begin: Point
    end: Point


def segment_length(segment: Segment) -> float:
    """Return the length along a segment: of a helical arc sqrt((radius * sweep)^2 + rise^2).

    >>> segment_length(Segment("line", "thread", Point(0, 0, 0), Point(3, 0, 4)))
    5.0
    """
    return _length(segment.begin, segment.end, arc_radius(segment), segment.sweep)


def _length(begin: Point, end: Point, radius: float, sweep: float) -> float:
    if radius == 0:
        return math.dist(begin, end)
    return math.hypot(radius * math.radians(sweep), end[2] - begin[2])


def extent(segment: Segment) -> Iterator[Point]:
    """Yield places that hold a segment's box: its ends, and where an arc crosses a quarter.

    >>> arc = Segment("arc", "thread", Point(1, 0, 0), Point(-1, 0, 1), (0, 0),
    ...               "counterclockwise", 180.0)
    >>> [place[:2] for place in extent(arc)]
    [(1, 0), (-1, 0), (0.0, 1.0)]
    """
    yield segment.begin
    yield segment.end
    if segment.centre is None or segment.sense is None:
        return
    (cx, cy), radius = segment.centre, arc_radius(segment)
    from_x = math.degrees(math.atan2(segment.begin.y - cy, segment.begin.x - cx))
    for quarter, (dx, dy) in enumerate(QUARTERS):
        swept = math.fmod(turn(segment.sense) * (90 * quarter - from_x) + 720.0, 360.0)
        if 0 < swept < segment.sweep:
            z = segment.begin.z + segment.rise * swept / segment.sweep
            yield Point(cx + radius * dx, cy + radius * dy, z)


@dataclass(slots=True)
class Tally:
    """Gathers the totals of a path while it streams by, in constant memory.

    >>> tally = Tally()
    >>> path = [Segment("line", "thread", Point(0, 0, 0), Point(3, 0, 4))]
    >>> for segment in tally.passing(path): pass
    >>> tally.totals().cutting_length
    5.0
    """

    counts: dict[str, int] = field(default_factory=lambda: {"arc": 0, "line": 0, "rapid": 0})
    cutting_length: float = 0.0
    rapid_length: float = 0.0
    thread_length: float = 0.0
    arc_turns: float = 0.0
    least: list[float] = field(default_factory=lambda: [math.inf] * 3)
    greatest: list[float] = field(default_factory=lambda: [-math.inf] * 3)
    begin: Point | None = None
    end: Point | None = None

    def passing(self, segments: Iterable[Segment]) -> Iterator[Segment]:
        """Yield the same segments, adding up each on its way."""
        for segment in segments:
            self.add(segment)
            yield segment

    def add(self, segment: Segment) -> None:
        """Add one segment."""
        kind, purpose, begin, end, centre, _, sweep, *_ = segment
        radius = arc_radius(segment)
        length = _length(begin, end, radius, sweep)
        self.counts[kind] += 1
        if kind == "rapid":
            self.rapid_length += length
        else:
            self.cutting_length += length
        if purpose == "thread":
            self.thread_length += length
            self.arc_turns += sweep / 360
        if self.begin is None:
            self.begin = begin
        if begin is not self.end:
            self._take_in(begin)
        self._take_in(end)
        if centre is not None and not self._holds_circle(centre, radius * (1 - ROUNDING)):
            for place in extent(segment):
                self._take_in(place)
        self.end = end

    def _take_in(self, place: Point) -> None:
        x, y, z = place
        least, greatest = self.least, self.greatest
        if not (least[0] <= x <= greatest[0]):
            least[0], greatest[0] = min(least[0], x), max(greatest[0], x)
        if not (least[1] <= y <= greatest[1]):
            least[1], greatest[1] = min(least[1], y), max(greatest[1], y)
        if not (least[2] <= z <= greatest[2]):
            least[2], greatest[2] = min(least[2], z), max(greatest[2], z)

    def _holds_circle(self, centre: tuple[float, float], radius: float) -> bool:
        """Return whether an arc's whole circle is in the box: then its quarters add nothing.

        So it is from the second turn of a thread on, but for rounding.
        """
        x, y = centre
        (left, front, _), (right, back, _) = self.least, self.greatest
        return (
            left <= x - radius and x + radius <= right
            and front <= y - radius and y + radius <= back
        )  # fmt: skip

    def totals(self) -> Totals:
        """Return the totals so far; of no segments at all, a path that stays at the origin."""
        origin = Point(0.0, 0.0, 0.0)
        begin, end = self.begin or origin, self.end or origin
        least = Point(*self.least) if self.begin else origin
        greatest = Point(*self.greatest) if self.begin else origin
        return Totals(
            sum(self.counts.values()),
            self.counts["arc"],
            self.counts["line"],
            self.counts["rapid"],
            self.cutting_length,
            self.rapid_length,
            self.thread_length,
            self.arc_turns,
            greatest.z - least.z,
            least,
            greatest,
            begin,
            end,
        )


def totals(segments: Iterable[Segment]) -> Totals:
    """Return the totals of a path, walking it once.

    >>> totals([]).segments
    0
    """
    tally = Tally()
    for segment in segments:
        tally.add(segment)
    return tally.totals()
