"""Where a radius offset at the control can be switched on and off along a path.

It goes on in a straight piece in X or Y and off in another (NISTIR 6556, appendix B, from memory),
with only arcs and lines that join without a corner between the two.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from flankwise_service.core.errors import Fault, plain
from flankwise_service.core.path.segment import Segment
from flankwise_service.core.program.setup import Operation

GREATEST_CORNER = 0.05
"""Degrees by which two pieces of an exact path may turn where they join."""


class Span(NamedTuple):
    """Indices of the straight pieces that switch the offset on and off."""

    on: int
    off: int


def offset_spans(segments: Sequence[Segment]) -> Iterator[Span]:
    """Yield the spans of a path that hold arcs, one for each unbroken run of cuts.

    Pieces in Z alone before and after the span stay outside it.
    """
    run: list[int] = []
    for index in range(len(segments) + 1):
        if index < len(segments) and segments[index].kind != "rapid":
            run.append(index)
            continue
        moving = [i for i in run if not _upright(segments[i])]
        if any(segments[i].kind == "arc" for i in moving):
            yield Span(moving[0], moving[-1])
        run = []


def offset_faults(operation: Operation, least_length: float) -> Iterator[Fault]:
    """Yield why the offset can't be switched on along the path; pointers below the operation."""
    if operation.tool.radius_offset is None:
        return
    segments = operation.segments
    spans = list(offset_spans(segments))
    if not spans:
        yield Fault(
            "/tool/radius_offset", "never_switched_on",
            f"radius offset {operation.tool.radius_offset} would never be switched on: the path "
            "has no arc", "leave the radius offset out, or give a path of arcs",
            operation.tool.radius_offset,
        )  # fmt: skip
    for span in spans:
        for index, name in ((span.on, "in"), (span.off, "out")):
            piece = segments[index]
            if piece.kind != "line" or math.dist(piece.begin[:2], piece.end[:2]) < least_length:
                yield Fault(
                    f"/segments/{index}", "no_straight_lead",
                    f"a radius offset needs a straight lead-{name} in X or Y",
                    f"take a radial lead-{name}, or leave the radius offset out",
                )  # fmt: skip
        for index in range(span.on + 1, span.off - 1):
            corner = _corner(segments[index], segments[index + 1])
            if corner > GREATEST_CORNER:
                yield Fault(
                    f"/segments/{index + 1}", "corner_under_offset",
                    f"the path turns by {plain(corner, 3)} degrees here, under a radius offset",
                    "join the pieces tangentially, or leave the radius offset out", corner,
                    0.0, GREATEST_CORNER, "degree",
                )  # fmt: skip


def offset_codes(operation: Operation) -> dict[int, str]:
    """Return the words that switch the offset, by the index of the segment that carries them."""
    tool = operation.tool
    if tool.radius_offset is None:
        return {}
    on = f"{'G41' if tool.radius_side == 'left' else 'G42'} D{tool.radius_offset} "
    codes: dict[int, str] = {}
    for span in offset_spans(operation.segments):
        codes[span.on], codes[span.off] = on, "G40 "
    return codes


def offset_indices(operation: Operation) -> frozenset[int]:
    """Return the indices of the segments that run under the offset."""
    if operation.tool.radius_offset is None:
        return frozenset()
    spans = offset_spans(operation.segments)
    return frozenset(index for span in spans for index in range(span.on, span.off))


def heading(
    begin: Sequence[float], end: Sequence[float], centre: tuple[float, float] | None,
    sense: str | None, *, at_end: bool,
) -> float:  # fmt: skip
    """Return the direction of motion in the XY plane at begin or end, in degrees.

    >>> heading((1, 0), (0, 1), (0, 0), "counterclockwise", at_end=True)
    180.0
    """
    if centre is None:
        return math.degrees(math.atan2(end[1] - begin[1], end[0] - begin[0]))
    place = end if at_end else begin
    spoke = math.degrees(math.atan2(place[1] - centre[1], place[0] - centre[0]))
    return spoke + (90.0 if sense == "counterclockwise" else -90.0)


def turned(first: float, second: float) -> float:
    """Return the angle between two directions, in degrees from 0 to 180.

    >>> turned(-170.0, 170.0)
    20.0
    """
    return abs((second - first + 180.0) % 360.0 - 180.0)


def _upright(segment: Segment) -> bool:
    """Whether a straight piece moves in Z alone."""
    return segment.kind == "line" and segment.begin[:2] == segment.end[:2]


def _corner(before: Segment, after: Segment) -> float:
    """Return the angle by which the path turns from one piece to the next, in degrees."""
    first = heading(before.begin, before.end, before.centre, before.sense, at_end=True)
    second = heading(after.begin, after.end, after.centre, after.sense, at_end=False)
    return turned(first, second)
