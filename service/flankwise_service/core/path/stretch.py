"""A path in stretches: a run of the thread is one, every other segment one of its own."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from flankwise_service.core.errors import Fault, Impossible
from flankwise_service.core.path.lines import arc_radius, place_on
from flankwise_service.core.path.segment import Point, Segment

CUTTING = frozenset({"lead_in", "thread", "lead_out", "boss", "bore"})
"""Purposes while which the teeth may meet what they cut."""
MOST_SEARCHED = 200_000
"""Segments held at once; a path of greatest sweep 360 has the fewest."""


@dataclass(slots=True)
class Stretch:
    """Neighbouring segments, the distances from an axis and the heights they keep within."""

    segments: list[Segment]
    first: int
    """Index of the first in the path."""
    cutting: bool
    near: float
    far: float
    """Bounds of the distance from the axis; equal ones are exact."""
    low: float
    high: float
    """Of z, exact."""

    def at_height(self, z: float) -> tuple[int, Point]:
        """Return a segment's index and a place of it where the stretch is at a height."""
        for index, segment in enumerate(self.segments):
            begin, rise = segment.begin.z, segment.rise
            share = (z - begin) / rise if rise else 0.0
            if -1e-12 <= share <= 1 + 1e-12 and (rise or z == begin):
                return self.first + index, place_on(segment, share)
        return self.first, self.segments[0].begin


def stretches(segments: Iterable[Segment], axis: tuple[float, float]) -> Iterator[Stretch]:
    """Yield a path in stretches about an axis.

    Arcs of the thread that follow one another about the axis itself make one stretch: their
    distance from it is the same all along, and z goes one way.

    Raises:
        Impossible: one stretch holds more than MOST_SEARCHED segments.
    """
    held: Stretch | None = None
    for index, segment in enumerate(segments):
        round_axis = segment.purpose == "thread" and segment.centre == axis
        if held is not None:
            if round_axis and held.segments[-1].end == segment.begin:
                _lengthen(held, segment)
                continue
            yield held
            held = None
        near, far = distances(segment, axis)
        begin, end = segment.begin.z, segment.end.z
        cutting = segment.purpose in CUTTING
        found = Stretch([segment], index, cutting, near, far, min(begin, end), max(begin, end))
        if round_axis:
            held = found
        else:
            yield found
    if held is not None:
        yield held


def _lengthen(held: Stretch, segment: Segment) -> None:
    if len(held.segments) >= MOST_SEARCHED:
        raise Impossible(
            Fault(
                "/segments",
                "too_many_segments",
                f"a run of more than {MOST_SEARCHED} segments can't be searched",
                "give the path with its arcs of up to 360 degrees, or a shorter one",
            )
        )
    held.segments.append(segment)
    held.low = min(held.low, segment.end.z)
    held.high = max(held.high, segment.end.z)


def distances(segment: Segment, axis: tuple[float, float]) -> tuple[float, float]:
    """Return bounds of a segment's distance from an axis; equal where it is the same all along.

    >>> distances(Segment("line", "link", Point(3, -1, 0), Point(3, 1, 0)), (0.0, 0.0))
    (3.0, 3.1622776601683795)
    """
    if segment.centre is not None:
        off = math.hypot(segment.centre[0] - axis[0], segment.centre[1] - axis[1])
        radius = arc_radius(segment)
        return abs(off - radius), off + radius
    x, y = segment.begin.x - axis[0], segment.begin.y - axis[1]
    ex, ey = segment.end.x - segment.begin.x, segment.end.y - segment.begin.y
    square = ex * ex + ey * ey
    share = min(1.0, max(0.0, -(x * ex + y * ey) / square)) if square else 0.0
    far = max(math.hypot(x, y), math.hypot(x + ex, y + ey))
    return math.hypot(x + share * ex, y + share * ey), far
