"""What the interpreter gives back: all motions in order, and the whole reading."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import partial
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.path.segment import Kind, Sense
from flankwise_service.core.program.blocks import BlockFault
from flankwise_service.core.program.modal import Modal, Motion
from flankwise_service.core.units import Unit

KINDS: tuple[Kind, ...] = ("rapid", "line", "arc", "arc")
SENSES: tuple[Sense | None, ...] = (None, None, "clockwise", "counterclockwise")
"""By the number of the motion word, G00 to G03."""
_motion = partial(tuple.__new__, Motion)
"""A motion of its nine fields in one tuple: three times as fast as by their names."""


class Rows(NamedTuple):
    """Motions one after the other in the XY plane, under one modal state, in columns."""

    line: int
    """Of the first; each has a line of its own."""
    code: NDArray[np.int64]
    """Number of the motion word."""
    place: NDArray[np.float64]
    """X, Y and Z, each in a row: where the first begins, then where each ends."""
    centre: NDArray[np.float64]
    """X and Y, each in a row; of arcs only."""
    sweep: NDArray[np.float64]
    feed: NDArray[np.float64]
    """Of all but rapids."""
    state: int

    def part(self, begin: int, end: int) -> Rows:
        """Return some of them."""
        return Rows(
            self.line + begin, self.code[begin:end], self.place[:, begin : end + 1],
            self.centre[:, begin:end], self.sweep[begin:end], self.feed[begin:end], self.state,
        )  # fmt: skip

    def motions(self) -> list[Motion]:
        """Return them one by one."""
        codes = self.code.tolist()
        places = list(zip(*self.place.tolist(), strict=True))
        centres = zip(*self.centre.tolist(), strict=True)
        return list(map(_motion, zip(
            range(self.line, self.line + len(codes)),
            [KINDS[code] for code in codes],
            places,
            places[1:],
            [centre if code > 1 else None for code, centre in zip(codes, centres, strict=True)],
            [SENSES[code] for code in codes],
            self.sweep.tolist(),
            [feed if code else None for code, feed in zip(codes, self.feed.tolist(), strict=True)],
            [self.state] * len(codes),
            strict=False,
        )))  # fmt: skip


class Track:
    """Motions in the order they were read; rows of them stay in columns until asked for."""

    def __init__(self) -> None:
        self._parts: list[list[Motion] | Rows] = []
        self._begins: list[int] = []
        self._count = 0

    def __len__(self) -> int:
        return self._count

    def __getitem__(self, index: int) -> Motion:
        part, at = self._part(index)
        return part[at] if isinstance(part, list) else part.part(at, at + 1).motions()[0]

    def add(self, motion: Motion) -> None:
        """Add a motion."""
        if not self._parts or isinstance(self._parts[-1], Rows):
            self._parts.append([])
            self._begins.append(self._count)
        last = self._parts[-1]
        assert isinstance(last, list)
        last.append(motion)
        self._count += 1

    def add_rows(self, rows: Rows) -> None:
        """Add rows of motions."""
        self._parts.append(rows)
        self._begins.append(self._count)
        self._count += len(rows.code)

    def last_state(self) -> int:
        """Return the modal state that the last motion ran under, -1 where there is none yet."""
        if not self._parts:
            return -1
        last = self._parts[-1]
        return last.state if isinstance(last, Rows) else last[-1].state

    def rows(self, begin: int, most: int) -> Rows | None:
        """Return the motions from one on, at most so many, as far as they stay in columns."""
        if begin >= self._count:
            return None
        part, at = self._part(begin)
        return None if isinstance(part, list) else part.part(at, min(at + most, len(part.code)))

    def motions(self) -> list[Motion]:
        """Return all motions."""
        return [
            motion
            for part in self._parts
            for motion in (part if isinstance(part, list) else part.motions())
        ]

    def _part(self, index: int) -> tuple[list[Motion] | Rows, int]:
        """Return the part that holds a motion, and its place there."""
        found = bisect_right(self._begins, index) - 1
        return self._parts[found], index - self._begins[found]


@dataclass(frozen=True, slots=True)
class Reading:
    """A program as read."""

    unit: Unit | None
    track: Track
    kept: int
    """Motions of the blocks before the first fault."""
    states: tuple[Modal, ...]
    faults: tuple[BlockFault, ...]
    blocks: int
    ended: bool
    """The program says its end, by M02 or M30."""
    dwell_seconds: float
    comments: tuple[str, ...]

    @property
    def motions(self) -> tuple[Motion, ...]:
        """The motions up to the first fault, one by one; made anew each time."""
        return tuple(self.track.motions()[: self.kept])
