"""The blocks of paths: places rounded, centres chosen, words printed, all pieces at once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, chain
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.path.segment import Segment, Sense
from flankwise_service.core.program.arcs import (
    DEGREES_PER_RADIAN,
    FULL_TURN,
    Grid,
    Way,
    middle,
    printable_centre,
    printable_radius,
    sweep_as_read,
)
from flankwise_service.core.program.centres import printable_centres
from flankwise_service.core.program.columns import ARC, AT_ONCE, RAPID, Columns, columns, rest
from flankwise_service.core.program.offset_spans import offset_codes
from flankwise_service.core.program.places import Numbers, middles
from flankwise_service.core.program.printing import LETTERS, printed
from flankwise_service.core.program.setup import Operation, Setup, Tool

Place = tuple[int, int, int]
Counts = NDArray[np.int64]
Mask = NDArray[np.bool_]
I, R, K = (LETTERS.index(letter) for letter in "IRK")  # noqa: E741
SHORT = 20
"""Counts of way beyond which rounding can't turn an arc into another one."""
ROUNDING_ROOM = 6
"""Counts by which rounding may lengthen or shorten an arc: more means it reads as another arc."""


class Words(NamedTuple):
    """What each piece's block says: its G word, and counts by `printing.LETTERS` where shown."""

    code: Counts
    counts: Counts
    shown: Mask


class Arc(NamedTuple):
    """One true arc, in counts, and the places it begins and ends at when rounded."""

    begin: Grid
    end: Grid
    true_begin: tuple[float, float]
    centre: tuple[float, float]
    sense: Sense
    sweep: float


class Arcs(NamedTuple):
    """Many of them, those of one coordinate in a row; `turn` is 1 counterclockwise, else -1."""

    begin: Counts
    end: Counts
    true_begin: Numbers
    centre: Numbers
    turn: Numbers
    sweep: Numbers

    def one(self, row: int) -> Arc:
        """Return one of them."""
        begin, end, true_begin, centre, turn, sweep = (part[..., row].tolist() for part in self)
        sense: Sense = "clockwise" if turn < 0 else "counterclockwise"
        return Arc(tuple(begin), tuple(end), tuple(true_begin), tuple(centre), sense, sweep)


@dataclass(slots=True)
class Run:
    """Some pieces of one operation's path, and what was printed before them."""

    tool: Tool
    segments: Sequence[Segment]
    codes: Mapping[int, str]
    """Words to stand before those of a straight cut, by its index."""
    at: Place | None = None
    """The printed place; None where the path begins."""
    feed: float = math.nan
    feed_text: str = ""


def path_blocks(
    setup: Setup, operations: Sequence[Operation], paths: Columns | None
) -> Iterator[Iterable[str]]:
    """Yield the blocks that move of each operation's path.

    Pieces that round to no motion at all are left out. `paths` are all of them in columns, None
    for long ones, which are written part by part.
    """
    runs = [Run(one.tool, one.segments, offset_codes(one)) for one in operations]
    if paths is not None:
        yield from _blocks(setup, runs, paths)
        return
    for run in runs:
        yield chain.from_iterable(_parts(setup, run))


def _parts(setup: Setup, whole: Run) -> Iterator[list[str]]:
    """Yield the blocks of a long path, some at a time."""
    part = Run(whole.tool, (), {})
    for begin in range(0, len(whole.segments), AT_ONCE):
        part.segments = whole.segments[begin : begin + AT_ONCE]
        part.codes = {at - begin: code for at, code in whole.codes.items()}
        yield from _blocks(setup, [part], columns([rest(part.segments), *part.segments]))


def _blocks(setup: Setup, runs: Sequence[Run], path: Columns) -> Iterator[list[str]]:
    """Yield the blocks of each run; `path` holds all their pieces, a rest before those of each."""
    begins = list(accumulate((len(run.segments) + 1 for run in runs), initial=0))
    place = _places(path, runs, begins, 10.0**setup.places)
    words = _words(path, place, begins[:-1], setup)
    moved = np.flatnonzero(words.shown.any(axis=0))
    words = Words._make(column.take(moved, axis=-1) for column in words)
    lines = printed(*words, setup.places)
    feeds, bounds = path.feed.take(moved), np.searchsorted(moved, begins).tolist()
    for run, begin, first, last in zip(runs, begins, bounds, bounds[1:], strict=False):
        x, y, z = place[:, begin + len(run.segments)].tolist()
        run.at = (x, y, z)
        own = lines[first:last]
        _add_feeds(own, words.code[first:last], feeds[first:last], run, setup.feed_places)
        if run.codes:
            indices = (moved[first:last] - begin - 1).tolist()
            own = [run.codes.get(at, "") + text for at, text in zip(indices, own, strict=True)]
        yield own


def _add_feeds(lines: list[str], code: Counts, feed: Numbers, run: Run, places: int) -> None:
    """Add the feed word to the cuts where it changes."""
    cuts = np.flatnonzero(code)
    feeds = np.concatenate(([run.feed], feed.take(cuts)))
    run.feed = float(feeds[-1])
    changes = np.flatnonzero(feeds[1:] != feeds[:-1])
    form = f" F%.{places}f"
    for row, one in zip(cuts[changes].tolist(), feeds[changes + 1].tolist(), strict=True):
        text = form % one
        if text != run.feed_text:
            run.feed_text = text
            lines[row] += text


def _places(path: Columns, runs: Sequence[Run], begins: Sequence[int], scale: float) -> Counts:
    """Return the printed end of each piece: a full turn ends where it began."""
    end = path.end.copy()
    end[2] -= np.repeat([run.tool.tip_to_tooth for run in runs], np.diff(begins))
    place = np.rint(end * scale).astype(np.int64)
    for run, begin in zip(runs, begins, strict=False):
        if run.at is not None:
            place[:, begin] = run.at
    full = (path.kind == ARC) & (path.sweep >= FULL_TURN - 1e-9)
    if full.any():
        last = np.maximum.accumulate(np.where(full, 0, np.arange(len(full))))
        place[:2] = place[:2, last]
    return place


def _words(path: Columns, place: Counts, begins: Sequence[int], setup: Setup) -> Words:
    """Return the words of each piece between its printed places."""
    counts = np.zeros((len(LETTERS), len(path.kind)), np.int64)
    shown = np.zeros(counts.shape, np.bool_)
    counts[:3] = place
    shown[:3, 1:] = place[:, 1:] != place[:, :-1]
    shown[:, begins] = False  # a rest needs no words
    words = Words(np.where(path.kind == RAPID, 0, 1), counts, shown)
    rows = np.flatnonzero(path.kind == ARC)
    if len(rows):
        begin, end = place[:2].take(rows - 1, axis=1), place[:2].take(rows, axis=1)
        _add_arcs(words, rows, path.at(rows), begin, end, setup)
    return words


def _add_arcs(
    words: Words, rows: NDArray[np.intp], path: Columns, begin: Counts, end: Counts, setup: Setup
) -> None:
    """Make arcs of the rows that stay arcs when rounded; the others are left as lines."""
    scale = 10.0**setup.places
    arcs = Arcs(
        begin,
        end,
        path.begin[:2] * scale,
        path.centre * scale,
        path.turn.astype(np.float64),
        path.sweep,
    )
    letters, found, round_ = _radii(arcs) if setup.arc_form == "radius" else _centres(arcs)
    if setup.helix_rise_words:
        rise = path.end[2] - path.begin[2]
        words.counts[K, rows] = np.rint(np.abs(rise) * FULL_TURN / path.sweep * scale)
        words.shown[K, rows] = round_ & (rise != 0.0)
    words.counts[letters, rows] = found
    words.shown[letters, rows] = round_
    words.shown[:3, rows] |= round_
    words.code[rows] = np.where(round_, np.where(path.turn < 0, 2, 3), 1)


def _centres(arcs: Arcs) -> tuple[slice, Counts, Mask]:
    """Return the rows of I and J, their counts for each arc, and which are arcs when rounded."""
    far = np.array(middles(arcs.true_begin, arcs.centre, arcs.sweep * arcs.turn))
    centre, doubt = printable_centres(arcs.begin, arcs.end, arcs.centre, far, arcs.turn)
    round_ = np.ones(len(doubt), np.bool_)
    doubt |= (
        arcs.sweep * np.hypot(*(arcs.true_begin - arcs.centre)) < 1.001 * SHORT * DEGREES_PER_RADIAN
    )
    for row in np.flatnonzero(doubt).tolist():
        one = printed_centre(arcs.one(row))
        round_[row] = one is not None
        centre[:, row] = one or (0, 0)
    return slice(I, R), centre - arcs.begin, round_


def printed_centre(arc: Arc) -> Grid | None:
    """Return the centre of an arc; None where it is too short to be one when rounded.

    >>> printed_centre(Arc((4, 0), (4, 0), (4.0, 0.0), (0.0, 0.0), "clockwise", 0.001)) is None
    True
    """
    begin, end, true_begin, centre, sense, sweep = arc
    radius = math.dist(true_begin, centre)
    grid = printable_centre(
        begin, end, centre, Way(middle(true_begin, centre, sweep, sense), sense)
    )
    if sweep * radius < SHORT * DEGREES_PER_RADIAN:
        read = sweep_as_read(begin, end, grid, sense)
        if (read - sweep) * radius > ROUNDING_ROOM * DEGREES_PER_RADIAN:
            return None  # begin and end round to one place, or change places: a turn too many
    return grid


def _radii(arcs: Arcs) -> tuple[slice, Counts, Mask]:
    """Return the row of R, its count for each arc, and which are arcs when rounded."""
    found = [_radius(arcs.one(row)) for row in range(len(arcs.sweep))]
    round_ = np.array([radius is not None for radius in found])
    return slice(R, K), np.array([[radius or 0 for radius in found]]), round_


def _radius(arc: Arc) -> int | None:
    """Return the signed radius of an arc; None where it is too short to have one."""
    radius = math.dist(arc.true_begin, arc.centre)
    return printable_radius(arc.begin, arc.end, arc.centre, radius, arc.sense, arc.sweep)
