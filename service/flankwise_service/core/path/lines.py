"""Any path as straight lines, for a control without helical arcs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from flankwise_service.core.path.direction import turn
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.spiral import chord_angle, count_pieces


def arc_radius(segment: Segment) -> float:
    """Return the radius of an arc; 0 for a straight piece.

    >>> arc_radius(Segment("rapid", "link", Point(0, 0, 0), Point(1, 0, 0)))
    0.0
    """
    centre, begin = segment.centre, segment.begin
    return 0.0 if centre is None else math.hypot(begin[0] - centre[0], begin[1] - centre[1])


def place_on(segment: Segment, share: float) -> Point:
    """Return the place after `share` (0 to 1) of a segment's way.

    >>> place_on(Segment("line", "link", Point(0, 0, 0), Point(4, 2, 0)), 0.5)
    Point(x=2.0, y=1.0, z=0.0)
    """
    begin, end = segment.begin, segment.end
    z = begin.z + (end.z - begin.z) * share
    if segment.centre is None or segment.sense is None:
        x, y = begin.x + (end.x - begin.x) * share, begin.y + (end.y - begin.y) * share
        return Point(x, y, z)
    cx, cy = segment.centre
    turned_rad = math.radians(turn(segment.sense) * segment.sweep * share)
    cos, sin = math.cos(turned_rad), math.sin(turned_rad)
    dx, dy = begin.x - cx, begin.y - cy
    return Point(cx + dx * cos - dy * sin, cy + dx * sin + dy * cos, z)


def chords(segment: Segment, tolerance: float) -> Iterator[Segment]:
    """Yield one segment as chords within `tolerance` of its arc; a straight one as it is."""
    if segment.kind != "arc":
        yield segment
        return
    pieces = count_pieces(segment.sweep, chord_angle(arc_radius(segment), tolerance))
    begin = segment.begin
    for index in range(1, pieces + 1):
        end = segment.end if index == pieces else place_on(segment, index / pieces)
        yield segment._replace(
            kind="line", begin=begin, end=end, centre=None, sense=None, sweep=0.0
        )
        begin = end


def shorter_arcs(segment: Segment, greatest_sweep: float) -> Iterator[Segment]:
    """Yield an arc as equal arcs of at most `greatest_sweep` degrees; others as they are."""
    pieces = count_pieces(segment.sweep, greatest_sweep)
    if segment.kind != "arc" or pieces == 1:
        yield segment
        return
    begin = segment.begin
    for index in range(1, pieces + 1):
        end = segment.end if index == pieces else place_on(segment, index / pieces)
        yield segment._replace(begin=begin, end=end, sweep=segment.sweep / pieces)
        begin = end


def as_lines(segments: Iterable[Segment], tolerance: float) -> Iterator[Segment]:
    """Yield a path with every arc as chords within `tolerance` of it, in the plane."""
    for segment in segments:
        yield from chords(segment, tolerance)
