"""What a program may do on purpose and most often doesn't: told as a caution, never a fault.

Some controls apply a tool's length with its number, and some shops keep lengths under numbers of
their own; so neither is wrong by ISO 6983 or RS-274. Where a hand has edited the text, it is what
breaks a cutter.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from flankwise_service.core.program.blocks import SHOWN, BlockFault
from flankwise_service.core.program.modal import Modal, Motion

Held = tuple[int | None, int | None]
"""The tool in the spindle, and the number of the length offset in force."""


def doubts(text: str, motions: Sequence[Motion], states: Sequence[Modal]) -> list[BlockFault]:
    """Return a caution for each tool and length offset that a cut shouldn't be made with.

    Each stands at the first cut it holds for.

    >>> from flankwise_service.core.program.interpreter import read_program
    >>> text = "G21 G17 G90 G94\\nT4 M06\\nS900 M03\\nG00 X0 Y0\\nG43 H7 Z5.\\nG01 Z-1. F60.\\nM30"
    >>> reading = read_program(text)
    >>> [(one.line, one.code) for one in doubts(text, reading.motions, reading.states)]
    [(6, 'length_offset_number')]
    """
    lines = text.split("\n")
    return [
        caution._replace(text=lines[caution.line - 1].strip()[:SHOWN])
        for held, line in _first_cuts(motions, states).items()
        for caution in _of(held, line)
    ]


def _first_cuts(motions: Sequence[Motion], states: Sequence[Modal]) -> dict[Held, int]:
    """Return the line of the first cut with each tool and length offset."""
    found: dict[Held, int] = {}
    seen: set[int] = set()
    for motion in motions:
        if motion.kind != "rapid" and motion.state not in seen:
            seen.add(motion.state)
            state = states[motion.state]
            found.setdefault((state.tool, state.length_offset), motion.line)
    return found


def _of(held: Held, line: int) -> Iterator[BlockFault]:
    """Yield what is doubtful about cutting with a tool under a length offset."""
    tool, offset = held
    if tool is None:
        yield BlockFault(
            line, "no_tool_called", "a cut with no tool called: whichever is in the spindle cuts",
            "call the tool (T and M06) before it, or see that the right one is in the spindle",
        )  # fmt: skip
    what = "the tool" if tool is None else f"tool {tool}"
    if offset is None:
        yield BlockFault(
            line, "no_length_offset", f"a cut with no length offset of {what} in force: its tip "
            "may be lower or higher by the whole length of the tool",
            "give G43 and its H before the first move in Z, unless the control applies the length "
            "with the tool's number",
        )  # fmt: skip
    elif tool is not None and offset != tool:
        yield BlockFault(
            line, "length_offset_number", f"tool {tool} cuts under length offset {offset}, "
            "whose number isn't the tool's",
            f"give H{tool}, unless the length of tool {tool} is kept under {offset} on purpose",
        )  # fmt: skip
