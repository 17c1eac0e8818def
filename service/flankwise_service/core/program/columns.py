"""A path's pieces in columns, so that all of them can be checked and written at once."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import repeat
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.path.segment import Segment
from flankwise_service.core.program.places import NOWHERE, Numbers, coordinates

Mask = NDArray[np.bool_]
AT_ONCE = 5000
"""Pieces of paths checked and written at once, which bounds the memory that takes."""
RAPID, LINE, ARC = range(3)
KIND = {"rapid": RAPID, "line": LINE, "arc": ARC}
TURN = {"clockwise": -1, "counterclockwise": 1}


class Columns(NamedTuple):
    """The pieces of a path; NaN where a piece has no centre or no feed."""

    kind: NDArray[np.int64]
    """RAPID, LINE or ARC; -1 for one that isn't known."""
    begin: Numbers
    end: Numbers
    """Places, those of one axis in a row."""
    centre: Numbers
    turn: NDArray[np.int64]
    """1 counterclockwise, -1 clockwise, 0 neither."""
    sweep: Numbers
    feed: Numbers

    def at(self, rows: NDArray[np.intp]) -> Columns:
        """Return the columns of the pieces at `rows`."""
        return Columns._make(column.take(rows, axis=-1) for column in self)


def rest(segments: Sequence[Segment]) -> Segment:
    """Return a piece that rests where a path begins; it stands before each path in columns."""
    return Segment("rapid", "approach", segments[0].begin, segments[0].begin)


def columns(segments: Sequence[Segment]) -> Columns:
    """Return pieces in columns.

    >>> from flankwise_service.core.path.segment import Point
    >>> found = columns([Segment("line", "link", Point(0, 0, 1), Point(0, 2, 1), feed=60.0)])
    >>> found.end.tolist(), found.centre.tolist(), found.turn.tolist(), found.feed.tolist()
    ([[0.0], [2.0], [1.0]], [[nan], [nan]], [0], [60.0])
    """
    kinds, _, begins, ends, centres, senses, sweeps, feeds, *_ = zip(*segments, strict=True)
    end = coordinates(ends, 3)
    joined = begins[1:] == ends[:-1]
    begin = (
        np.column_stack([coordinates(begins[:1], 3), end[:, :-1]])
        if joined
        else coordinates(begins, 3)
    )
    return Columns(
        _codes(kinds, KIND, -1),
        begin,
        end,
        coordinates([centre or NOWHERE for centre in centres], 2),
        _codes(senses, TURN, 0),
        np.fromiter(sweeps, np.float64),
        _feeds(feeds),
    )


def _codes(names: Sequence[Any], known: Mapping[Any, int], otherwise: int) -> NDArray[np.int64]:
    """Return names as numbers."""
    return np.fromiter(map(known.get, names, repeat(otherwise)), np.int64, len(names))


def _feeds(feeds: Sequence[float | None]) -> Numbers:
    """Return feeds as a column: NaN where there is none, infinite where one isn't a number."""
    found = np.array(feeds, np.float64)
    if np.count_nonzero(np.isnan(found)) > feeds.count(None):
        found[[feed is not None and math.isnan(feed) for feed in feeds]] = math.inf
    return found
