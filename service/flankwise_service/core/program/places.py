"""Places of many pieces at once, as writer and comparison both need them.

X, Y and Z each in a row, a column for each piece.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import chain

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
NOWHERE = (math.nan, math.nan)
"""The centre of what has none."""
RADIANS_PER_DEGREE = math.pi / 180.0


def coordinates(places: Iterable[Sequence[float]], axes: int) -> Numbers:
    """Return the coordinates of places, those of one axis in a row.

    >>> coordinates([(1.0, 2.0), (3.0, 4.0)], 2).tolist()
    [[1.0, 3.0], [2.0, 4.0]]
    """
    return np.fromiter(chain.from_iterable(places), np.float64).reshape(-1, axes).T


def middles(begin: Numbers, centre: Numbers, sweep: Numbers) -> tuple[Numbers, Numbers]:
    """Return X and Y half way along each arc; sweeps in degrees, counterclockwise above 0.

    As `arcs.middle`, but for the last bits.

    >>> x, y = middles(np.array([[1.0], [0.0]]), np.zeros((2, 1)), np.array([-180.0]))
    >>> x.round(9).tolist(), y.round(9).tolist()
    ([0.0], [-1.0])
    """
    half_rad = sweep / 2 * RADIANS_PER_DEGREE
    cos, sin = np.cos(half_rad), np.sin(half_rad)
    x, y = begin - centre
    return centre[0] + x * cos - y * sin, centre[1] + x * sin + y * cos
