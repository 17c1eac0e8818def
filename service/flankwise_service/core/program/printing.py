"""Whole numbers printed as words, all blocks of a path at once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

LETTERS = "XYZIJRK"
"""Addresses in the order they are printed, a column of counts for each."""
_LETTERS = np.frombuffer(LETTERS.encode("ascii"), np.uint8)
FOUR_DIGITS = (np.arange(10_000)[:, None] // (1000, 100, 10, 1) % 10 + ord("0")).astype(np.uint8)
"""The digits of each number below 10 000."""
NOTHING = b"\0"
"""Stands in each cell that stays empty, and is left out in the end."""


def printed(
    codes: NDArray[np.int64], counts: NDArray[np.int64], shown: NDArray[np.bool_], places: int
) -> list[str]:
    """Return blocks of a G word by `codes`, 0 to 9, and those words of `LETTERS` that are shown.

    `counts` are in the last of `places` printed digits, a row for each letter.

    >>> counts = np.array([[4376], [-625], [0], [0], [0], [0], [0]])
    >>> printed(np.array([1]), counts, counts != 0, 4)
    ['G01 X0.4376 Y-0.0625']
    >>> printed(np.array([], int), counts[:, :0], counts[:, :0] != 0, 4)
    []
    """
    used = np.flatnonzero(shown.any(axis=1))
    cells = _words(counts[used], used, places)
    cells[~shown[used]] = 0
    rows = np.zeros((len(codes), 3 + cells.shape[0] * cells.shape[2] + 1), np.uint8)
    rows[:, :3] = np.frombuffer(b"G00", np.uint8)
    rows[:, 2] += codes.astype(np.uint8)
    rows[:, 3:-1] = cells.transpose(1, 0, 2).reshape(len(codes), rows.shape[1] - 4)
    rows[:, -1] = ord("\n")
    return rows.tobytes().translate(None, NOTHING).decode("ascii").split("\n")[:-1]


def _words(counts: NDArray[np.int64], letters: NDArray[np.intp], places: int) -> NDArray[np.uint8]:
    """Return the characters of each count's word: blank, letter, sign, digits and point."""
    size = np.abs(counts)
    digits = _digits(size, max(places + 1, len(str(size.max(initial=0)))))
    whole = digits.shape[-1] - places
    cells = np.empty((*counts.shape, 3 + digits.shape[-1] + 1), np.uint8)
    cells[..., 0] = ord(" ")
    cells[..., 1] = _LETTERS[letters, None]
    cells[..., 2] = np.where(counts < 0, ord("-"), 0)
    cells[..., 3 : 3 + whole] = digits[..., :whole]
    cells[..., 3 + whole] = ord(".")
    cells[..., 4 + whole :] = digits[..., whole:]
    # Zeros before the first digit stay out, but for the one before the point.
    for place in range(1, whole):
        cells[..., 2 + whole - place][size < 10 ** (places + place)] = 0
    return cells


def _digits(numbers: NDArray[np.int64], least: int) -> NDArray[np.uint8]:
    """Return the digits of numbers, `least` of them or more, all with as many."""
    fours = [FOUR_DIGITS[numbers % 10_000]]
    while 4 * len(fours) < least:
        numbers = numbers // 10_000
        fours.insert(0, FOUR_DIGITS[numbers % 10_000])
    return np.concatenate(fours, axis=-1)
