"""Printable centres of many arcs at once, as `arcs.printable_centre` chooses them one by one.

A shorter way, never another one: where two centres are as good as each other but for the last bits
of the computation, it says so, and `arcs` has the choice.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.program.arcs import GREATEST_APART, LAST_CHOICE
from flankwise_service.core.program.places import Numbers

Counts = NDArray[np.int64]
Mask = NDArray[np.bool_]
NEIGHBOURS = np.array([[0, 1, 0, 1], [0, 0, 1, 1]])[:, :, None]
"""Steps in X and in Y from the printable point below and left of a centre."""
ROOM, ROOM_SHARE = 1e-6, 1e-13
"""How far the computed merits of a centre may be off, in counts: far more than they ever are."""


def printable_centres(
    begin: Counts, end: Counts, centre: Numbers, middle: Numbers, turn: Numbers
) -> tuple[Counts, Mask]:
    """Return the truest printable centre of each arc, and which choices are in doubt.

    All in counts, X in the first row, Y in the second; `turn` is 1 counterclockwise, -1 clockwise.

    >>> column = lambda x, y: np.array([[x], [y]])
    >>> way = column(7071.3, 7070.7)
    >>> ends = column(10000, 0), column(0, 10000)
    >>> centre, doubt = printable_centres(*ends, column(0.4, -0.4), way, np.array([1.0]))
    >>> centre.tolist(), doubt.tolist()
    ([[0], [0]], [False])
    """
    found = np.floor(centre)[:, None] + NEIGHBOURS
    with np.errstate(divide="ignore", invalid="ignore"):
        costs, apart, room = _costs(begin[:, None], end[:, None], found, middle[:, None], turn)
    best, rows = costs.argmin(axis=0), np.arange(len(turn))
    # Written so that what isn't a number, a centre at an end of its arc, is in doubt too.
    clear = (costs > costs[best, rows] + room).sum(axis=0) == len(costs) - 1
    clear &= (np.abs(apart - GREATEST_APART) > room).all(axis=0)
    return found[:, best, rows].astype(np.int64), ~clear


def _costs(
    begin: Counts, end: Counts, found: Numbers, middle: Numbers, turn: Numbers
) -> tuple[Numbers, Numbers, float]:
    """Return the cost of each centre as in `arcs`, its radii apart, and how far both may be off."""
    (ux, uy), (vx, vy) = begin - found, end - found
    first, last = np.sqrt(ux * ux + uy * uy), np.sqrt(vx * vx + vy * vy)
    ux, uy = ux / first, uy / first
    # Twice the way from one unit spoke to the other, turned outward, or to the spokes' far side.
    qx, qy = turn * (vy / last - uy), turn * (ux - vx / last)
    chord = np.sqrt(qx * qx + qy * qy)
    half = chord == 0.0
    if half.any():
        qx, qy = np.where(half, -ux, qx), np.where(half, -uy, qy)
        chord[half] = 1.0
    off_x = found[0] + first * qx / chord - middle[0]
    off_y = found[1] + first * qy / chord - middle[1]
    apart = np.abs(first - last)
    cost = apart + np.sqrt(off_x * off_x + off_y * off_y)
    cost += np.where(apart < GREATEST_APART, 0.0, LAST_CHOICE)
    room = ROOM + ROOM_SHARE * (np.abs(found).max() + first.max()) / chord.min()
    return cost, apart, float(room)
