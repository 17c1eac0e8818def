"""Our own reader of word-address text: motions with the modal state they run under.

Strict where a control may guess: nothing moves before unit, G90 or G91, plane and a motion word
are given; unknown words, two words of one modal group, repeated letters and words without use are
faults, each with its block. After a tool change or a new offset the tool's place is unknown until
each axis is given again.

Sources: as in `codes`; the order of execution within a block is that of NISTIR 6556, 3.8, table 8
(from memory).
"""

from __future__ import annotations

from flankwise_service.core.errors import plain
from flankwise_service.core.program.blocks import Block, BlockFault, Stretch, pieces
from flankwise_service.core.program.codes import GROUP_OF, ONCE, REPEATED
from flankwise_service.core.program.control import Control
from flankwise_service.core.program.modal import Stop
from flankwise_service.core.program.reading import Reading
from flankwise_service.core.program.stretch import carried_out

MOST_FAULTS = 50
MOST_COMMENTS = 1000
SHOWN = 60


def read_program(text: str) -> Reading:
    """Return the motions of word-address text, or the faults of its blocks.

    Reading goes on after a fault to find the others, but no motion is kept from then on.

    >>> reading = read_program("G21 G17 G90 G94\\nG00 X0 Y0 Z5.\\nS900 M03\\nG01 Z-1. F60.\\nM30")
    >>> [(motion.kind, motion.end, motion.feed) for motion in reading.motions]
    [('rapid', (0.0, 0.0, 5.0), None), ('line', (0.0, 0.0, -1.0), 60.0)]
    >>> read_program("G17 G18").faults[0].detail
    'two words of the modal group "plane"'
    """
    reader = _Reader()
    reader.read(text)
    return reader.reading()


class _Reader:
    """Lets a control carry out a text, and notes what is wrong."""

    def __init__(self) -> None:
        self.control = Control()
        self.faults: list[BlockFault] = []
        self.comments: list[str] = []
        self.count = self.kept = 0

    def read(self, text: str) -> None:
        """Carry out all blocks, or as many as have `MOST_FAULTS` faults."""
        for piece in pieces(text):
            if isinstance(piece, Stretch):
                self._take_all(piece)
            else:
                self._take(piece)
            if len(self.faults) >= MOST_FAULTS:
                break

    def _take_all(self, stretch: Stretch) -> None:
        """Carry out plain lines: at once, but for the first that tell the tool's place."""
        tried = False
        for index, block in enumerate(stretch.blocks()):
            if not tried and None not in self.control.place:
                tried = True
                if carried_out(self.control, stretch.after(index)):
                    self.count += len(stretch.lines) - index
                    self._keep()
                    return
            self._take(block)
            if len(self.faults) >= MOST_FAULTS:
                return

    def _take(self, block: Block | BlockFault) -> None:
        """Carry out one block."""
        self.count += 1
        fault: BlockFault | None
        if isinstance(block, Block):
            self.comments.extend(block.comments)
            fault = _fault(self.control, block)
        else:
            fault = block
        if fault is not None:
            self.faults.append(fault)
        self._keep()

    def _keep(self) -> None:
        """Keep the motions up to here where nothing has been wrong."""
        if not self.faults:
            self.kept = len(self.control.track)

    def reading(self) -> Reading:
        """Return all that was read."""
        control = self.control
        if not self.faults and not control.ended:
            self.faults.append(BlockFault(self.count, "no_end", "the program doesn't say its end",
                                          "end it by M30 or M02"))  # fmt: skip
        return Reading(
            control.unit, control.track, self.kept, tuple(control.states), tuple(self.faults),
            self.count, control.ended, control.dwell,
            tuple(self.comments[:MOST_COMMENTS]),
        )  # fmt: skip


def _fault(control: Control, block: Block) -> BlockFault | None:
    """Let the control carry out one block; return what is wrong with it, or None."""
    try:
        groups, values = _by_group(block)
        control.carry_out(block.line, groups, values)
    except Stop as stop:
        shown = block.text[:SHOWN]
        return BlockFault(block.line, stop.code, stop.detail, stop.change, shown)
    return None


def _by_group(block: Block) -> tuple[dict[str, float], dict[str, float]]:
    """Return a block's G and M words by modal group, and its other words by letter."""
    groups: dict[str, float] = {}
    values: dict[str, float] = {}
    for letter, value in block.words:
        if letter in ONCE:
            if letter in values:
                raise Stop("letter_twice", f"{letter} stands twice in one block", "give it once")
            values[letter] = value
            continue
        if letter not in REPEATED:
            raise Stop("unknown_letter", f"{letter} isn't a word this reader knows", "take it out")
        group = GROUP_OF.get((letter, value))
        if group is None:
            shown = f"{letter}{plain(value)}"
            raise Stop("unknown_code", f"{shown} isn't a code this reader knows", "take it out")
        if group in groups:
            raise Stop("group_twice", f'two words of the modal group "{group}"', "give one of them")
        groups[group] = value
    return groups, values
