"""Proof that a program says the path: read back by our own interpreter and compared."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from flankwise_service.core.errors import Fault, Impossible, plain
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.program.alike import Pair, apart
from flankwise_service.core.program.arcs import MIDDLE_ROOM, middle
from flankwise_service.core.program.blocks import FEWEST
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.modal import Motion, Place
from flankwise_service.core.program.offset_path import with_radius_offsets
from flankwise_service.core.program.offset_spans import offset_indices
from flankwise_service.core.program.reading import Reading, Rows
from flankwise_service.core.program.setup import Operation, Setup, Tool, moves_before_change
from flankwise_service.core.units import Unit

VANISHED = 7.0
"""Pieces shorter than this many counts may be missing, or stand as a line instead of an arc."""
PROBE: dict[Unit, float] = {"in": 0.001, "mm": 0.02}
"""A radius offset of usual size, to try whether the path holds under it (memory)."""
ONE = 1.0 + 1e-6
"""One count, with room for the last bits of the path's own figures."""


@dataclass(frozen=True, slots=True)
class Replay:
    """How near the text is to the path: the greatest differences found, lengths in `unit`."""

    equal: bool
    unit: Unit
    last_digit: float
    """Value of one count of the last printed digit: every place is equal within it."""
    motions: int
    position_error: float
    arc_middle_error: float
    arc_radius_error: float
    """Between an arc's radius at its end and at its begin, where a control has its own limit."""
    feed_error: float
    left_out: int
    """Pieces of the path too short for the printed digits to tell."""


def replay_equals_path(text: str, setup: Setup, operations: Sequence[Operation]) -> Replay:
    """Return the figures of the replay.

    Errors: `Impossible` with the line and what differs, when text and path aren't the same.

    >>> replay_equals_path("G21 G90\\nM30", Setup("mm", 25.0), []).motions
    0
    """
    reading = read_program(text)
    if reading.faults:
        raise Impossible(*(
            Fault("/text", fault.code, f"line {fault.line}: {fault.detail}", fault.change,
                  fault.text)
            for fault in reading.faults
        ))  # fmt: skip
    comparison = _compared(reading, setup, operations)
    _follow_offsets(reading, operations)
    return comparison.figures()


def _compared(reading: Reading, setup: Setup, operations: Sequence[Operation]) -> _Comparison:
    """Return the comparison of all operations, many motions at once where nothing differs."""
    try:
        quick = _walked(_Comparison(reading, setup, at_once=True), operations)
    except Impossible:
        quick = None
    if quick is not None and quick.settled():
        return quick
    # Something differs, or is left out: piece by piece, the first that differs is told.
    return _walked(_Comparison(reading, setup, at_once=False), operations)


def _walked(comparison: _Comparison, operations: Sequence[Operation]) -> _Comparison:
    """Return the comparison after all operations."""
    for before, operation in zip((None, *operations), operations, strict=False):
        comparison.compare(operation, before)
    return comparison


def _follow_offsets(reading: Reading, operations: Sequence[Operation]) -> None:
    """Refuse a program under whose radius offsets, either way, the path would not hold."""
    numbers = [one.tool.radius_offset for one in operations if one.tool.radius_offset is not None]
    probe = PROBE[reading.unit or "mm"]
    for amount in (probe, -probe) if numbers else ():
        with_radius_offsets(reading, dict.fromkeys(numbers, amount))


def _differs(line: int, what: str) -> Impossible:
    """Return the refusal that text and path aren't the same."""
    return Impossible(Fault(
        "/text", "replay_differs", f"line {line}: {what}",
        "don't run this program: it isn't the path it was asked for",
    ))  # fmt: skip


class _Comparison:
    """Walks motions and segments side by side."""

    def __init__(self, reading: Reading, setup: Setup, *, at_once: bool) -> None:
        self.track, self.states, self.setup = reading.track, reading.states, setup
        self.at = 0
        self.count = 10.0**-setup.places
        self.feed_room = 0.5 * 10.0**-setup.feed_places * ONE
        self.position = self.middle = self.radius = self.feed = 0.0
        self.left_out = 0
        self.right: set[tuple[object, ...]] = set()
        self.at_once = at_once
        self.pending: list[Pair] = []
        """Motions and segments passed by, still to be compared."""

    def figures(self) -> Replay:
        """Return the greatest differences, all motions being accounted for."""
        extra = self._next()
        if extra is not None:
            raise _differs(extra.line, "a motion the path doesn't have")
        return Replay(
            True, self.setup.unit, self.count, self.at, self.position, self.middle, self.radius,
            self.feed, self.left_out,
        )  # fmt: skip

    def compare(self, operation: Operation, before: Operation | None) -> None:
        """Compare one operation, with its approach and its retract.

        The tool of the one before it goes to where this one begins (see `writer`).
        """
        tool, safe = operation.tool, self.setup.safe_height
        first, last = operation.segments[0].begin, operation.segments[-1].end
        if before is not None and moves_before_change(self.setup, before, operation):
            self._rapid((first.x, first.y, safe), before.tool)
        self.right.clear()  # found right for another tool
        self._rapid((first.x, first.y, None), tool, tool_length=False)
        self._rapid((first.x, first.y, safe), tool)
        self._rapid(_tip(first, tool), tool, may_rest=True)
        self._segments(operation.segments, tool, offset_indices(operation))
        self._rapid((last.x, last.y, safe), tool, may_rest=True)

    def _next(self) -> Motion | None:
        """Return the next motion, or None."""
        return self.track[self.at] if self.at < len(self.track) else None

    def _rapid(
        self, place: Place, tool: Tool, *, tool_length: bool = True, may_rest: bool = False
    ) -> None:
        """Take the rapid to `place`, or none where the tool is there within a count."""
        motion = self._next()
        if motion is not None and motion.kind == "rapid":
            off = self._off(motion.end, place)
            if off <= ONE and not (may_rest and motion.end == motion.begin):
                self._state(motion.line, motion.state, True, tool, tool_length, False)
                self.position = max(self.position, off * self.count)
                self.at += 1
                return
        if may_rest and self.at and self._off(self.track[self.at - 1].end, place) <= ONE:
            return
        raise _differs(motion.line if motion else 0, "approach or retract isn't as asked")

    def _off(self, place: Place, asked: Place) -> float:
        """Return the greatest difference of the axes, in counts; infinite where one is unknown."""
        off = 0.0
        for found, wanted in zip(place, asked, strict=True):
            if wanted is not None:
                apart = math.inf if found is None else abs(found - wanted)
                off = apart if apart > off else off
        return off / self.count

    def _segments(self, segments: Sequence[Segment], tool: Tool, under: frozenset[int]) -> None:
        """Take the motions of all segments, or pass by many at once."""
        index = 0
        while index < len(segments):
            rows = self.track.rows(self.at, len(segments) - index) if self.at_once else None
            if rows is None or len(rows.code) < FEWEST:
                self._segment(segments[index], tool, index in under)
                index += 1
                continue
            count = len(rows.code)
            self._states(rows, tool, [at in under for at in range(index, index + count)])
            self.pending.append(Pair(rows, segments[index : index + count], tool.tip_to_tooth))
            self.at += count
            index += count

    def _states(self, rows: Rows, tool: Tool, on: Sequence[bool]) -> None:
        """Refuse motions that run under another modal state than asked."""
        for is_rapid, is_on in dict.fromkeys(zip((rows.code == 0).tolist(), on, strict=True)):
            self._state(rows.line, rows.state, is_rapid, tool, True, is_on)

    def settled(self) -> bool:
        """Return whether all that was passed by is the same; its figures are then counted in."""
        if not self.pending:
            return True
        off = apart(self.pending)
        if off is None or not (
            off.position / self.count <= ONE
            and off.feed <= self.feed_room
            and off.middle <= MIDDLE_ROOM * self.count
        ):
            return False
        self.position = max(self.position, off.position / self.count * self.count)
        self.middle = max(self.middle, off.middle)
        self.radius = max(self.radius, off.radius)
        self.feed = max(self.feed, off.feed)
        return True

    def _segment(self, segment: Segment, tool: Tool, on: bool) -> None:
        """Take the motion of one segment."""
        motion = self._next()
        what = "a motion is missing" if motion is None else self._difference(segment, motion, tool)
        if motion is not None and what is None:
            self._state(motion.line, motion.state, motion.kind == "rapid", tool, True, on)
            self.at += 1
            return
        if _length(segment, segment.rise) > VANISHED * self.count:
            raise _differs(motion.line if motion else 0, what or "")
        self.left_out += 1

    def _difference(self, segment: Segment, motion: Motion, tool: Tool) -> str | None:
        """Return how a motion differs from its segment, or None."""
        if motion.kind != segment.kind and not self._shortened(segment, motion):
            return f"{motion.kind} instead of {segment.kind}"
        off = self._off(motion.end, _tip(segment.end, tool))
        if off > ONE:
            return f"its end is {plain(off, 3)} of the last printed digit away"
        feed = abs((motion.feed or 0.0) - (segment.feed or 0.0))
        if feed > self.feed_room:
            return f"feed {motion.feed} instead of {segment.feed}"
        if motion.kind == "arc":
            what = self._arc_difference(segment, motion)
            if what is not None:
                return what
        self.position = max(self.position, off * self.count)
        self.feed = max(self.feed, feed)
        return None

    def _shortened(self, segment: Segment, motion: Motion) -> bool:
        """Whether a motion is the line that stands for an arc too short to print."""
        kinds = (motion.kind, segment.kind)
        return kinds == ("line", "arc") and _length(segment, 0.0) <= VANISHED * self.count

    def _arc_difference(self, segment: Segment, motion: Motion) -> str | None:
        """Return how an arc differs, or None; keeps the greatest errors."""
        begin, end, centre = motion.begin, motion.end, motion.centre
        if begin[0] is None or begin[1] is None or centre is None or motion.sense != segment.sense:
            return "the arc turns the other way"
        assert end[0] is not None and end[1] is not None  # noqa: PT018 - an arc's are known
        assert segment.centre is not None
        found = middle((begin[0], begin[1]), centre, motion.sweep, motion.sense)
        wanted = middle(segment.begin[:2], segment.centre, segment.sweep, segment.sense)
        apart = math.dist(found, wanted)
        if apart > MIDDLE_ROOM * self.count:
            return f"the arc's middle is {plain(apart / self.count, 3)} of the last digit away"
        self.middle = max(self.middle, apart)
        radii = math.dist((begin[0], begin[1]), centre) - math.dist((end[0], end[1]), centre)
        self.radius = max(self.radius, abs(radii))
        return None

    def _state(
        self, line: int, index: int, is_rapid: bool, tool: Tool, tool_length: bool, on: bool
    ) -> None:
        """Refuse a motion that runs under another modal state than asked."""
        key = (index, is_rapid, tool_length, on)
        if key in self.right:
            return
        asked = self._asked_state(is_rapid, tool, tool_length, on)
        state = self.states[index]
        for name, wanted in asked.items():
            if getattr(state, name) != wanted:
                raise _differs(line, f"{name.replace('_', ' ')} is {getattr(state, name)}, "
                               f"not {wanted}")  # fmt: skip
        self.right.add(key)

    def _asked_state(
        self, is_rapid: bool, tool: Tool, tool_length: bool, on: bool
    ) -> dict[str, object]:
        """Return the modal state that a motion must run under."""
        asked: dict[str, object] = {
            "unit": self.setup.unit, "plane": "XY", "distance": "absolute",
            "feed_mode": "per minute", "work_offset": self.setup.work_offset,
            "tool": tool.number, "spindle": "clockwise",
            "spindle_speed": float(round(tool.spindle_speed)),
            "radius_side": tool.radius_side if on else None,
            "radius_offset": tool.radius_offset if on else None,
        }  # fmt: skip
        if tool_length:
            asked["length_offset"] = tool.length_offset
        if not is_rapid:
            asked["coolant"] = () if tool.coolant == "off" else (tool.coolant,)
        return asked


def _tip(point: Point, tool: Tool) -> tuple[float, float, float]:
    """Return the place of the tool's tip for a point of the path."""
    return point.x, point.y, point.z - tool.tip_to_tooth


def _length(segment: Segment, rise: float) -> float:
    """Return the length of a segment, were its change of Z `rise`."""
    if segment.kind != "arc" or segment.centre is None:
        return math.hypot(math.dist(segment.begin[:2], segment.end[:2]), rise)
    radius = math.dist(segment.begin[:2], segment.centre)
    return math.hypot(radius * math.radians(segment.sweep), rise)
