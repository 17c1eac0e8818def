"""The path as word-address text, block by block.

Sources: ISO 6983-1:2009 (addresses, G and M words) and Kramer, Proctor, Messina: The NIST
RS274/NGC Interpreter, version 3 (NISTIR 6556, 2000); both from memory where no clause is named.
Neither has a sub-program, so none is written.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from flankwise_service.core.program.asked import check_asked
from flankwise_service.core.program.columns import Columns
from flankwise_service.core.program.header import header_lines
from flankwise_service.core.program.path_blocks import path_blocks
from flankwise_service.core.program.setup import Operation, Setup, moves_before_change
from flankwise_service.core.program.words import comment, counts, decimal

CHANGE_CAUTION = "(CAUTION CHECK THE MACHINE LIFTS FIRST, OR THE NEW TOOL IS CLEAR HERE)"
COOLANT_CODES = {"off": "M09", "mist": "M07", "flood": "M08"}
UNIT_WORDS = {("in", "G20 G21"): "G20", ("mm", "G20 G21"): "G21",
              ("in", "G70 G71"): "G70", ("mm", "G70 G71"): "G71"}  # fmt: skip
GREATEST_LINE_NUMBER = 99999
"""NISTIR 6556, 3.2 (memory): a line number has at most five digits."""


def program_lines(setup: Setup, operations: Sequence[Operation]) -> Iterator[str]:
    """Yield the program, line by line, without line ends.

    Errors: `BadInput` with every fault, before the first line.

    >>> from flankwise_service.core.path.segment import Point, Segment
    >>> up = Segment("line", "plunge", Point(0, 0, 0.1), Point(0, 0, 0.05), feed=10.0)
    >>> down = Segment("rapid", "retract", Point(0, 0, 0.05), Point(0, 0, 0.1))
    >>> from flankwise_service.core.program.setup import Tool
    >>> mill = Tool(1, 3000, length_offset=1)
    >>> lines = program_lines(Setup("in", 1.0), [Operation(mill, [up, down])])
    >>> [line for line in lines if line.startswith("G01")]
    ['G01 Z0.0500 F10.00']
    """
    paths = check_asked(setup, operations)
    lines = _blocks(setup, operations, paths)
    return _numbered(lines, setup.line_number_step) if setup.line_number_step else lines


def _numbered(lines: Iterator[str], step: int) -> Iterator[str]:
    """Yield the lines with line numbers before all but % and O lines, starting anew when full."""
    number = 0
    for line in lines:
        if line[0] not in "%O(":
            number = number + step if number + step <= GREATEST_LINE_NUMBER else step
            yield f"N{number} {line}"
        else:
            yield line


def _blocks(setup: Setup, operations: Sequence[Operation], paths: Columns | None) -> Iterator[str]:
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
    moving = path_blocks(setup, operations, paths)
    for index, (operation, blocks) in enumerate(zip(operations, moving, strict=True)):
        if index:
            yield from _to_the_change(setup, operations[index - 1], operation)
        yield from _operation_blocks(setup, operation, blocks)
    yield "M05"
    yield setup.end
    yield "%"


def _to_the_change(setup: Setup, before: Operation, after: Operation) -> Iterator[str]:
    """Yield what brings the tool that is in the spindle to where the next one begins.

    No standard says that a tool change lifts the spindle: by RS274/NGC the axes stand afterwards
    where they stood before (NISTIR 6556, 3.6.3, from memory). A longer tool's tip is too low then,
    until a move in Z has brought its own length into force, so it must cross nothing on the way to
    that move. The old tool crosses the part, its length in force; the new one goes straight up or
    down. Moved in Z before X and Y instead, it would come down wherever a control that does leave
    its place for the change holds it.
    """
    if moves_before_change(setup, before, after):
        begin, places = after.segments[0].begin, setup.places
        x, y = (counts(at, places) for at in begin[:2])
        yield f"G00 X{decimal(x, places)} Y{decimal(y, places)}"
    yield "M05"
    yield CHANGE_CAUTION


def _operation_blocks(setup: Setup, operation: Operation, moving: Iterable[str]) -> Iterator[str]:
    """Yield one tool's blocks: change, start, approach, path, retract."""
    tool, places = operation.tool, setup.places
    begin, end = operation.segments[0].begin, operation.segments[-1].end
    x, y, safe = (counts(at, places) for at in (begin.x, begin.y, setup.safe_height))
    first, last = (counts(at.z - tool.tip_to_tooth, places) for at in (begin, end))
    length = "" if tool.length_offset is None else f"G43 H{tool.length_offset} "
    yield comment(f"TOOL {tool.number}", operation.title or tool.name)
    yield f"T{tool.number} M06"
    yield f"S{round(tool.spindle_speed)} M03"
    yield f"G00 X{decimal(x, places)} Y{decimal(y, places)}"
    yield f"{length}G00 Z{decimal(safe, places)}"
    if tool.coolant != "off":
        yield COOLANT_CODES[tool.coolant]
    if first != safe:
        yield f"G00 Z{decimal(first, places)}"
    yield from moving
    if last != safe:
        yield f"G00 Z{decimal(safe, places)}"
    if tool.coolant != "off":
        yield "M09"
