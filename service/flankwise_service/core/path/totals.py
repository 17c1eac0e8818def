"""Length, turns, height and box of a path, gathered while it streams by."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from math import dist, hypot, radians

from flankwise_service.core.path.direction import turn
from flankwise_service.core.path.lines import arc_radius
from flankwise_service.core.path.segment import ROUNDING, Point, Segment

BATCH = 1000
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
    >>> turn = Segment("arc", "thread", Point(4, 0, 0), Point(4, 0, 1.5), (0, 0),
    ...                "counterclockwise", 360.0, 200.0)
    >>> round(segment_length(turn), 4)
    25.1775
    """
    if segment.centre is None:
        return dist(segment.begin, segment.end)
    return hypot(arc_radius(segment) * radians(segment.sweep), segment.rise)


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
    >>> tally.take(path)
    >>> tally.totals().cutting_length
    5.0
    """

    counts: dict[str, int] = field(default_factory=lambda: {"arc": 0, "line": 0, "rapid": 0})
    cutting_length: float = 0.0
    rapid_length: float = 0.0
    thread_length: float = 0.0
    arc_turns: float = 0.0
    least: tuple[float, float, float] = (math.inf, math.inf, math.inf)
    greatest: tuple[float, float, float] = (-math.inf, -math.inf, -math.inf)
    begin: Point | None = None
    end: Point | None = None

    def take(self, segments: Sequence[Segment]) -> None:
        """Add the path's next segments, as many as are at hand."""
        if not segments:
            return
        if self.begin is None:
            self.begin = segments[0].begin
        self._measure(segments)
        self._enclose(segments)
        self.end = segments[-1].end

    def _measure(self, segments: Sequence[Segment]) -> None:
        counts, cutting, rapid = self.counts, self.cutting_length, self.rapid_length
        thread, turns = self.thread_length, self.arc_turns
        for kind, purpose, begin, end, centre, _, sweep, _, _, _ in segments:
            if centre is None:
                length = dist(begin, end)
            else:
                radius = hypot(begin[0] - centre[0], begin[1] - centre[1])
                length = hypot(radius * radians(sweep), end[2] - begin[2])
            counts[kind] += 1
            if kind == "rapid":
                rapid += length
            else:
                cutting += length
            if purpose == "thread":
                thread += length
                turns += sweep / 360
        self.cutting_length, self.rapid_length = cutting, rapid
        self.thread_length, self.arc_turns = thread, turns

    def _enclose(self, segments: Sequence[Segment]) -> None:
        """Widen the box by the ends of segments, and by the quarters that arcs cross.

        An arc whose whole circle the box holds adds nothing, but for rounding: so it is from the
        second turn of a thread on. `room` is what the box has about the last centre looked at.
        """
        (left, front, low), (right, back, high) = self.least, self.greatest
        last, around, room = self.end, None, 0.0
        for segment in segments:
            _, _, begin, end, centre, _, _, _, _, _ = segment
            for x, y, z in (end,) if begin is last else (begin, end):
                left, right = x if x < left else left, x if x > right else right
                front, back = y if y < front else front, y if y > back else back
                low, high = z if z < low else low, z if z > high else high
            last = end
            if centre is None:
                continue
            (x, y), (from_x, from_y, _) = centre, begin
            reach = hypot(from_x - x, from_y - y) * (1 - ROUNDING)
            if centre != around or reach > room:
                around, room = centre, min(x - left, right - x, y - front, back - y)
                if reach > room:
                    xs, ys, _ = zip(*extent(segment), strict=True)
                    left, right = min(left, *xs), max(right, *xs)
                    front, back = min(front, *ys), max(back, *ys)
        self.least, self.greatest = (left, front, low), (right, back, high)

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
    tally, left = Tally(), iter(segments)
    while batch := tuple(islice(left, BATCH)):
        tally.take(batch)
    return tally.totals()
