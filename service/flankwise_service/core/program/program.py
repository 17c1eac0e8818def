"""A whole program: written, read back, and only then given out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

from flankwise_service.core.errors import BadInput, Fault
from flankwise_service.core.program.blocks import GREATEST_TEXT
from flankwise_service.core.program.replay import Replay, replay_equals_path
from flankwise_service.core.program.setup import Operation, Setup
from flankwise_service.core.program.writer import program_lines

LINES_AT_ONCE = 1000


@dataclass(frozen=True, slots=True)
class Program:
    """Word-address text and what its replay found."""

    text: str
    blocks: int
    """Lines that the control carries out: all but comments and the marks of begin and end."""
    bytes: int
    replay: Replay


def write_program(setup: Setup, operations: Sequence[Operation]) -> Program:
    """Return the program of the operations, in their order, proved equal to its path.

    Errors: `BadInput` with every fault of what was asked; `Impossible` when the replay differs.

    >>> from flankwise_service.core.path.segment import Point, Segment
    >>> from flankwise_service.core.program.setup import Tool
    >>> down = Segment("line", "plunge", Point(0, 0, 0.1), Point(0, 0, 0.05), feed=10.0)
    >>> up = Segment("rapid", "retract", Point(0, 0, 0.05), Point(0, 0, 0.1))
    >>> mill = Tool(1, 3000, length_offset=1)
    >>> program = write_program(Setup("in", 1.0), [Operation(mill, [down, up])])
    >>> program.blocks, program.replay.equal, program.replay.position_error
    (12, True, 0.0)
    """
    source = program_lines(setup, operations)
    lines: list[str] = []
    size = 0
    while some := list(islice(source, LINES_AT_ONCE)):
        size += sum(map(len, some)) + len(some)
        if size > GREATEST_TEXT:
            raise BadInput(Fault(
                "/operations", "program_too_long",
                f"the program is longer than {GREATEST_TEXT} bytes",
                "take fewer passes, longer arcs, or a wider chord tolerance", None, None,
                GREATEST_TEXT,
            ))  # fmt: skip
        lines += some
    text = "\n".join(lines) + "\n"
    unread = text.count("\n(") + text.count("\n%") + 1  # the first line is a mark too
    blocks = len(lines) - unread
    return Program(text, blocks, size, replay_equals_path(text, setup, operations))
