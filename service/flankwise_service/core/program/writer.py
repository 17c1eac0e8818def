"""The path as word-address text, block by block.

Sources: ISO 6983-1:2009 (addresses, G and M words) and Kramer, Proctor, Messina: The NIST
RS274/NGC Interpreter, version 3 (NISTIR 6556, 2000); both from memory where no clause is named.
Neither has a sub-program, so none is written.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from flankwise_service.core.path.segment import Segment
from flankwise_service.core.program.arcs import (
    FULL_TURN,
    ArcWords,
    Grid,
    Way,
    middle,
    printable_centre,
    printable_radius,
    sweep_as_read,
)
from flankwise_service.core.program.asked import check_asked
from flankwise_service.core.program.header import header_lines
from flankwise_service.core.program.offset_spans import offset_codes
from flankwise_service.core.program.setup import Operation, Setup, Tool
from flankwise_service.core.program.words import comment, counts

Place = tuple[int, int, int]
COOLANT_CODES = {"off": "M09", "mist": "M07", "flood": "M08"}
UNIT_WORDS = {("in", "G20 G21"): "G20", ("mm", "G20 G21"): "G21",
              ("in", "G70 G71"): "G70", ("mm", "G70 G71"): "G71"}  # fmt: skip
GREATEST_LINE_NUMBER = 99999
"""NISTIR 6556, 3.2 (memory): a line number has at most five digits."""
DEGREES_PER_RADIAN = 57.29577951308232
SHORT = 20
"""Counts of way beyond which rounding can't turn an arc into another one."""
ROUNDING_ROOM = 6
"""Counts by which rounding may lengthen or shorten an arc: more means it reads as another arc."""


def program_lines(setup: Setup, operations: Sequence[Operation]) -> Iterator[str]:
    """Yield the program, line by line, without line ends.

    Errors: `BadInput` with every fault, before the first line.

    >>> from flankwise_service.core.path.segment import Point, Segment
    >>> up = Segment("line", "plunge", Point(0, 0, 0.1), Point(0, 0, 0.05), feed=10.0)
    >>> down = Segment("rapid", "retract", Point(0, 0, 0.05), Point(0, 0, 0.1))
    >>> mill = Tool(1, 3000, length_offset=1)
    >>> lines = program_lines(Setup("in", 1.0), [Operation(mill, [up, down])])
    >>> [line for line in lines if line.startswith("G01")]
    ['G01 Z0.0500 F10.00']
    """
    check_asked(setup, operations)
    return _numbered(_blocks(setup, operations), setup.line_number_step)


def _numbered(lines: Iterator[str], step: int) -> Iterator[str]:
    """Yield the lines with line numbers before all but % and O lines, starting anew when full."""
    number = 0
    for line in lines:
        if step and line[0] not in "%O(":
            number = number + step if number + step <= GREATEST_LINE_NUMBER else step
            yield f"N{number} {line}"
        else:
            yield line


def _blocks(setup: Setup, operations: Sequence[Operation]) -> Iterator[str]:
    """Yield the program without line numbers."""
    yield "%"
    if setup.program_number is not None:
        yield f"O{setup.program_number:04d}"
    yield from header_lines(setup, operations)
    length_off = " G49" if setup.unit_codes == "G20 G21" else ""
    yield f"G17 {UNIT_WORDS[setup.unit, setup.unit_codes]} G40{length_off} G80 G90 G94"
    if setup.arc_centre_code:
        yield "G91.1"
    yield setup.work_offset
    for index, operation in enumerate(operations):
        if index:
            yield "M05"
        yield from _operation_blocks(setup, operation)
    yield "M05"
    yield setup.end
    yield "%"


def _operation_blocks(setup: Setup, operation: Operation) -> Iterator[str]:
    """Yield one tool's blocks: change, start, approach, path, retract."""
    tool, writer = operation.tool, BlockWriter(setup, operation.tool)
    yield comment(f"TOOL {tool.number}", operation.title or tool.name)
    yield f"T{tool.number} M06"
    yield f"S{round(tool.spindle_speed)} M03"
    x, y, z = writer.place(operation.segments[0].begin)
    safe = counts(setup.safe_height, setup.places)
    length = "" if tool.length_offset is None else f"G43 H{tool.length_offset} "
    yield f"G00 X{writer.text(x)} Y{writer.text(y)}"
    yield f"{length}G00 Z{writer.text(safe)}"
    if tool.coolant != "off":
        yield COOLANT_CODES[tool.coolant]
    writer.at = (x, y, safe)
    yield from _blocks_of_path(writer, operation, (x, y, z))
    yield from filter(None, [writer.rapid((writer.at[0], writer.at[1], safe))])
    if tool.coolant != "off":
        yield "M09"


def _blocks_of_path(writer: BlockWriter, operation: Operation, begin: Place) -> Iterator[str]:
    """Yield the blocks that move, from the safe height to the path's end."""
    codes = offset_codes(operation)
    yield from filter(None, [writer.rapid(begin)])
    for index, segment in enumerate(operation.segments):
        block = writer.segment(segment, codes.get(index, ""))
        if block:
            yield block


class BlockWriter:
    """Writes one operation's segments, remembering the printed place and feed."""

    def __init__(self, setup: Setup, tool: Tool) -> None:
        self.setup, self.tool, self.scale = setup, tool, 10.0**setup.places
        number = f"%.{setup.places}f"
        self.form = number
        self.round_form = f"%s X{number} Y{number} Z{number}"
        self.centre_form = f" I{number} J{number}"
        self.at: Place = (0, 0, 0)
        self.feed: float | None = None
        self.feed_text = ""

    def place(self, point: Sequence[float]) -> Place:
        """Return a point of the path as counts of the tool's tip."""
        scale = self.scale
        return (round(point[0] * scale), round(point[1] * scale),
                round((point[2] - self.tool.tip_to_tooth) * scale))  # fmt: skip

    def text(self, count: int) -> str:
        """Return a count as printed, always with all its digits.

        >>> from flankwise_service.core.program.setup import Setup
        >>> writer = BlockWriter(Setup("in", 1.0), Tool(1, 1000.0, 1))
        >>> writer.text(-625), writer.text(0), writer.text(12500)
        ('-0.0625', '0.0000', '1.2500')
        """
        return self.form % (count / self.scale)

    def rapid(self, place: Place) -> str:
        """Return a rapid to `place`, or nothing when the tool is there."""
        moved = self._moved(place)
        self.at = place
        return f"G00{moved}" if moved else ""

    def segment(self, segment: Segment, code: str) -> str:
        """Return the block of one segment; nothing where it rounds to no motion at all."""
        place = self.place(segment.end)
        if segment.kind == "rapid":
            return self.rapid(place)
        arc = self._arc(segment, place) if segment.kind == "arc" else None
        if arc is None:
            moved = self._moved(place)
            self.at = place
            return f"{code}G01{moved}{self._feed(segment)}" if moved else ""
        scale, turn = self.scale, "G02" if segment.sense == "clockwise" else "G03"
        x, y = arc.end
        words = self.round_form % (turn, x / scale, y / scale, place[2] / scale)
        block = f"{words}{self._centre(arc, segment)}{self._feed(segment)}"
        self.at = (x, y, place[2])
        return block

    def _moved(self, place: Place) -> str:
        """Return the axis words that change."""
        return "".join(
            f" {axis}{self.text(new)}"
            for axis, old, new in zip("XYZ", self.at, place, strict=True)
            if new != old
        )

    def _feed(self, segment: Segment) -> str:
        """Return the feed word where it changes."""
        if segment.feed == self.feed:
            return ""
        self.feed = segment.feed
        text = f" F{segment.feed:.{self.setup.feed_places}f}"
        if text == self.feed_text:
            return ""
        self.feed_text = text
        return text

    def _arc(self, segment: Segment, place: Place) -> ArcWords | None:
        """Return the arc as printed; None where it is too short to be one when rounded."""
        assert segment.centre is not None
        assert segment.sense is not None
        scale = self.scale
        begin: Grid = self.at[:2]
        centre = (segment.centre[0] * scale, segment.centre[1] * scale)
        true_begin = (segment.begin.x * scale, segment.begin.y * scale)
        radius = math.dist(true_begin, centre)
        full = segment.sweep >= FULL_TURN - 1e-9
        end = begin if full else (place[0], place[1])
        if self.setup.arc_form == "radius":
            r = printable_radius(begin, end, centre, radius, segment.sense, segment.sweep)
            return None if r is None else ArcWords(end, begin, r)
        true_middle = middle(true_begin, centre, segment.sweep, segment.sense)
        way = Way(true_middle, segment.sense)
        grid = printable_centre(begin, end, centre, way)
        if segment.sweep * radius < SHORT * DEGREES_PER_RADIAN:
            read = sweep_as_read(begin, end, grid, segment.sense)
            if (read - segment.sweep) * radius > ROUNDING_ROOM * DEGREES_PER_RADIAN:
                return None  # begin and end round to one place, or change places: a turn too many
        return ArcWords(end, grid, None)

    def _centre(self, arc: ArcWords, segment: Segment) -> str:
        """Return I and J, or R, and the rise per turn where it is asked for."""
        if arc.radius is not None:
            words = f" R{self.text(arc.radius)}"
        else:
            i, j = arc.centre[0] - self.at[0], arc.centre[1] - self.at[1]
            words = self.centre_form % (i / self.scale, j / self.scale)
        if self.setup.helix_rise_words and segment.rise:
            rise = abs(segment.rise) * FULL_TURN / segment.sweep
            words += f" K{self.text(counts(rise, self.setup.places))}"
        return words
