"""The comment lines at the head of a program: what it is for, and what to mind before it runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from flankwise_service.core.program.setup import Operation, Setup
from flankwise_service.core.program.words import COMMENT_LENGTH, comment, plain

CAUTIONS: tuple[str, ...] = (
    "PROVE OUT IN AIR, BLOCK BY BLOCK, BEFORE THE FIRST CUT",
    "GUARDS CLOSED, EYE PROTECTION ON, WORK CLAMPED AGAINST TURNING",
    "CHECK TOOL, TOOL LENGTH, RADIUS OFFSET AND WORK OFFSET",
    "START WITH THE TOOL CLEAR, THE FIRST MOVE IS IN X AND Y",
    "THE MACHINE MANUAL AND THE RULES OF THE SHOP COME FIRST",
)
"""Usual cautions of the trade (common practice, no source)."""


def header_lines(setup: Setup, operations: Sequence[Operation]) -> Iterator[str]:
    """Yield the header, each line a closed comment.

    >>> next(header_lines(Setup("mm", 25.0, version="1.0.0"), []))
    '(MADE BY FLANKWISE 1.0.0)'
    """
    if setup.thread is not None:
        # As its standard spells it, words and all; but "Tr 40x14 (P7)" would close the comment.
        yield f"(THREAD {plain(setup.thread.designation)[: COMMENT_LENGTH - 7]})"
    yield comment("MADE BY FLANKWISE", setup.version)
    for remark in setup.remarks:
        yield comment("-", remark)
    length = "INCH" if setup.unit == "in" else "MILLIMETRE"
    yield f"(LENGTHS IN {length}, FEED IN {length} A MINUTE ALONG THE PATH)"
    yield "(ZERO OF Z IS THE FACE OF THE PART WHERE THE THREAD BEGINS)"
    for operation in operations:
        yield from _tool_lines(operation)
    for caution in CAUTIONS:
        yield f"(CAUTION {caution})"


def _tool_lines(operation: Operation) -> Iterator[str]:
    """Yield what the header says of one tool."""
    tool = operation.tool
    yield comment(f"TOOL {tool.number} IS MEASURED AT ITS TIP", tool.name)
    if tool.radius_offset is not None:
        yield f"(RADIUS OFFSET {tool.radius_offset} CORRECTS THE CENTRE PATH, BEGIN WITH ZERO)"
        yield "(POSITIVE TAKES THE CUTTER OFF THE FLANK, NEGATIVE CUTS DEEPER)"
