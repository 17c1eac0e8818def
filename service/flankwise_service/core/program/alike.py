"""Motions compared with the pieces of a path, all of an operation at once.

A shorter way, never another one: it only finds how far the two are apart. What isn't the same,
piece by piece, is left to `replay`, which walks along both and says what differs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import repeat
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.path.segment import Point, Segment, Sense
from flankwise_service.core.program.arcs import middle
from flankwise_service.core.program.places import NOWHERE, Numbers, coordinates, middles
from flankwise_service.core.program.reading import Rows

Place = tuple[float, float]
CODES = {
    ("rapid", None): 0, ("line", None): 1, ("arc", "clockwise"): 2, ("arc", "counterclockwise"): 3,
}  # fmt: skip
"""Motion words by kind and sense of a piece."""


class Pair(NamedTuple):
    """Motions, as many pieces of a path, and how high its places stand above the tool's tip."""

    rows: Rows
    segments: Sequence[Segment]
    tip: float


class Apart(NamedTuple):
    """The greatest differences between motions and pieces: lengths, and feed a minute."""

    position: float
    middle: float
    radius: float
    feed: float


class Arcs(NamedTuple):
    """Arcs as read and as asked, X and Y each in a row; sweeps positive counterclockwise."""

    begin: Numbers
    end: Numbers
    centre: Numbers
    sweep: Numbers
    asked_begin: Numbers
    asked_centre: Numbers
    asked_sweep: Numbers


ROOM_SHARE = 1e-12
"""Share of the places' size by which what `numpy` finds may be off: far more than it ever is.

Its last bits depend on the machine; those of `math`, which tells the figures, don't."""


def apart(pairs: Sequence[Pair]) -> Apart | None:
    """Return how far motions are from their pieces; None where kinds or senses aren't the same.

    A difference that isn't a number comes out as NaN.

    >>> from flankwise_service.core.path.segment import Point
    >>> from flankwise_service.core.program.interpreter import read_program
    >>> lines = ["G21 G17 G90 G94 G0 X0 Y0 Z0", "S9 M3", "F60."] + ["G1 X1.001", "G1 X0."] * 9
    >>> asked = [Segment("line", "link", Point(0, 0, 1), Point(1, 0, 1), feed=60.02)]
    >>> rows = read_program("\\n".join(lines)).track.rows(1, 1)
    >>> [round(off, 6) for off in apart([Pair(rows, asked, 1.0)])]
    [0.001, 0.0, 0.0, 0.02]
    """
    segments = [segment for pair in pairs for segment in pair.segments]
    kinds, _, begins, ends, centres, senses, sweeps, feeds, *_ = zip(*segments, strict=True)
    codes = np.fromiter(map(CODES.get, zip(kinds, senses, strict=True), repeat(-1)), np.int64)
    rows = [pair.rows for pair in pairs]
    if (codes != np.concatenate([one.code for one in rows])).any():
        return None
    places = coordinates(ends, 3)
    places[2] -= np.repeat([pair.tip for pair in pairs], [len(pair.segments) for pair in pairs])
    end = np.concatenate([one.place[:, 1:] for one in rows], axis=1)
    feed = np.where(codes == 0, 0.0, np.concatenate([one.feed for one in rows]))
    feed -= np.array([feed or 0.0 for feed in feeds])
    with np.errstate(invalid="ignore", over="ignore"):
        off, radius = _greatest_of_arcs(_arcs(rows, codes, begins, centres, sweeps))
        return Apart(_greatest(end - places), off, radius, _greatest(feed))


def _arcs(
    rows: Sequence[Rows], codes: NDArray[np.int64], begins: Sequence[Point],
    centres: Sequence[tuple[float, float] | None], sweeps: Sequence[float],
) -> Arcs:  # fmt: skip
    """Return the arcs among the motions and the pieces."""
    at = np.flatnonzero(codes > 1)
    turn = np.where(codes.take(at) == 2, -1.0, 1.0)
    chosen = at.tolist()
    read = np.concatenate(
        [np.vstack([r.place[:2, :-1], r.place[:2, 1:], r.centre, r.sweep]) for r in rows], axis=1
    ).take(at, axis=1)
    return Arcs(
        read[0:2],
        read[2:4],
        read[4:6],
        turn * read[6],
        coordinates([begins[row] for row in chosen], 3)[:2],
        coordinates([centres[row] or NOWHERE for row in chosen], 2),
        turn * np.array([sweeps[row] for row in chosen]),
    )


def _greatest_of_arcs(arcs: Arcs) -> tuple[float, float]:
    """Return the greatest distance of middles, and difference of radii at begin and end."""
    room = ROOM_SHARE * (np.abs(arcs.begin).max(initial=0.0) + np.abs(arcs.centre).max(initial=0.0))
    x, y = middles(arcs.begin, arcs.centre, arcs.sweep)
    asked_x, asked_y = middles(arcs.asked_begin, arcs.asked_centre, arcs.asked_sweep)
    off = np.hypot(x - asked_x, y - asked_y)
    radii = np.hypot(*(arcs.begin - arcs.centre)) - np.hypot(*(arcs.end - arcs.centre))
    return _exactly(_middle_apart, arcs, off, room), _exactly(_radius_apart, arcs, radii, room)


def _exactly(difference: Callable[..., float], arcs: Arcs, found: Numbers, room: float) -> float:
    """Return the greatest difference of those that come near the greatest found."""
    greatest = np.abs(found).max(initial=0.0)
    if not np.isfinite(greatest):
        return math.nan
    worst = np.flatnonzero(np.abs(found) >= greatest - room).tolist()
    exact = [difference(*(column[..., row].tolist() for column in arcs)) for row in worst]
    return _greatest(np.array(exact))


def _middle_apart(
    begin: Place, _end: Place, centre: Place, sweep: float, asked_begin: Place,
    asked_centre: Place, asked_sweep: float,
) -> float:  # fmt: skip
    """Return how far an arc's middle is from that asked for."""
    sense: Sense = "clockwise" if sweep < 0 else "counterclockwise"
    found = middle(begin, centre, abs(sweep), sense)
    return math.dist(found, middle(asked_begin, asked_centre, abs(asked_sweep), sense))


def _radius_apart(begin: Place, end: Place, centre: Place, *_: object) -> float:
    """Return how much an arc's radius at its end differs from that at its begin."""
    return math.dist(begin, centre) - math.dist(end, centre)


def _greatest(differences: Numbers) -> float:
    """Return the greatest difference; 0 where there is none to compare, NaN where one is."""
    return float(np.abs(differences).max(initial=0.0))
