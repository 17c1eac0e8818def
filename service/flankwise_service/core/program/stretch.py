"""A stretch of plain lines carried out at once, as `control` would line by line.

A shorter way, never another one: nothing is done where any line might be a fault, or where the
control isn't in its usual state. `control` then takes the lines one after the other, and says
what is wrong with which.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.program.arcs import DEGREES_PER_RADIAN, FULL_TURN
from flankwise_service.core.program.blocks import Stretch
from flankwise_service.core.program.control import Control
from flankwise_service.core.program.moves import SAME
from flankwise_service.core.program.plain import KEPT, LETTERS, table
from flankwise_service.core.program.reading import Rows
from flankwise_service.core.program.setup import ARC_TOLERANCE

Numbers = NDArray[np.float64]
Mask = NDArray[np.bool_]

G, X, Y, Z, F, I, J = (LETTERS.index(letter) for letter in "GXYZFIJ")  # noqa: E741
XYZ, IJ = slice(X, Z + 1), slice(I, J + 1)


class Arcs(NamedTuple):
    """Arcs in the XY plane, X and Y each in a row."""

    rows: NDArray[np.intp]
    begin: Numbers
    end: Numbers
    offset: Numbers
    centre: Numbers
    full: Mask
    """Begin and end are one place, but for the last bits."""


def carried_out(control: Control, stretch: Stretch) -> bool:
    """Carry out plain lines; False leaves all as it was, and means a doubt, not yet a fault.

    >>> from flankwise_service.core.program.blocks import pieces
    >>> control = Control()
    >>> (stretch,) = pieces("\\n".join(["G00 X1."] * 20))
    >>> carried_out(control, stretch)  # its unit isn't known yet
    False
    """
    if not _usual(control):
        return False
    words = table(stretch.lines, stretch.forms)
    given = ~np.isnan(words)
    kept = _kept(control, words, given)
    if not _clear(words, given, kept[:, 1:]):
        return False
    code, place = kept[G, 1:], kept[XYZ]
    arcs = _arcs(code, place, words)
    if not _clear_arcs(arcs, ARC_TOLERANCE[control.unit or "mm"]):
        return False
    sweep, centre = np.zeros(len(code)), np.full((2, len(code)), np.nan)
    sweep[arcs.rows], centre[:, arcs.rows] = _sweeps(arcs, code), arcs.centre
    control.take(Rows(
        stretch.line, code.astype(np.int64), place, centre, sweep, kept[F, 1:],
        len(control.states) - 1,
    ))  # fmt: skip
    return True


def _usual(control: Control) -> bool:
    """Whether the control is as most programs have it where they cut, and knows its place."""
    state = control.state
    return (
        not control.ended
        and None not in control.place
        and state.unit == control.unit
        and state.distance == "absolute"
        and state.feed_mode == "per minute"
        and state.plane == "XY"
        and state.spindle != "stopped"
    )


def _kept(control: Control, words: Numbers, given: Mask) -> Numbers:
    """Return the words in force before the first line and on each, of those letters that stay."""
    before = (control.motion, *control.place, control.feed)
    found = np.column_stack([np.array(before, np.float64), words[:KEPT]])
    last = np.zeros(found.shape, np.int64)
    last[:, 1:] = np.where(given[:KEPT], np.arange(1, found.shape[1]), 0)
    np.maximum.accumulate(last, axis=1, out=last)
    kept: Numbers = found.take(last + np.arange(KEPT)[:, None] * found.shape[1])
    return kept


def _clear(words: Numbers, given: Mask, kept: Numbers) -> bool:
    """Whether every line is a rapid, line or arc that has its words, and none without use."""
    code = kept[G]
    arc = code > 1
    in_plane = given[X] | given[Y]
    fed = (code == 0) | (kept[F] > 0)
    centred = (given[I] | given[J]) == arc
    return bool(((code <= 3) & (in_plane | ~arc) & centred & fed & ~(words[F] <= 0)).all())


def _arcs(code: Numbers, place: Numbers, words: Numbers) -> Arcs:
    """Return the arcs among the lines."""
    rows = np.flatnonzero(code > 1)
    begin, end = place[:2].take(rows, axis=1), place[:2].take(rows + 1, axis=1)
    x, y = np.abs(begin - end)
    full = (x < SAME) & (y < SAME)
    offset = words[IJ].take(rows, axis=1)
    offset[np.isnan(offset)] = 0.0
    return Arcs(rows, begin, np.where(full, begin, end), offset, begin + offset, full)


def _clear_arcs(arcs: Arcs, tolerance: float) -> bool:
    """Whether each arc has a radius, and the same at both ends well within `tolerance`."""
    radius = np.hypot(*arcs.offset)
    apart = np.abs(np.hypot(*(arcs.end - arcs.centre)) - radius)
    return bool(((radius > 0.0) & (apart < tolerance)).all())


def _sweeps(arcs: Arcs, code: Numbers) -> Numbers:
    """Return the angle each arc turns through, in degrees above 0 up to 360."""
    turned = _angles(arcs.end - arcs.centre) - _angles(arcs.begin - arcs.centre)
    clockwise = code.take(arcs.rows) == 2
    sweep = np.where(clockwise, -turned, turned) * DEGREES_PER_RADIAN % FULL_TURN
    return np.where(arcs.full | (sweep == 0.0), FULL_TURN, sweep)


def _angles(spokes: Numbers) -> Numbers:
    """Return directions in radians; by `math`, whose last bits are those of `arcs`."""
    x, y = spokes.tolist()
    return np.fromiter(map(math.atan2, y, x), np.float64, len(x))
