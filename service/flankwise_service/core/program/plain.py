"""Lines that only move, in the plain form most of a program has, taken apart many at once.

A shorter way to what `blocks` gives, never another one: the form of a line is looked up with its
digits hidden, then all digits of a stretch of lines are read in one go. What isn't plain is left
to `blocks`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

LETTERS = "GXYZFIJN"
"""Letters of plain lines, in the order of the rows of `table`."""
KEPT = 5
"""The first of them stay in force from line to line."""
AXES = frozenset("XYZ")
LONGEST = 128
"""Of a plain line: a number of eight words fills no more."""
SHAPES_KEPT = 1024

_HIDDEN = str.maketrans("123456789", "000000000")
_NUMBERS_ONLY = str.maketrans("", "", LETTERS + ".-")
_WORD = "(?:G0{1,2}|[XYZIJF]-?0{1,8}(?:\\.0{0,7})?)"
_PLAIN = re.compile(f"(?:N0{{1,5}} )?{_WORD}(?: {_WORD})*\r?")
"""No number has more than 15 digits: each is a whole number that a float holds, and the number is
that one over a power of ten, to the last bit what reading the digits gives."""


class Shape(NamedTuple):
    """What every line of one form holds: its words' rows in `table`, and what divides digits."""

    rows: bytes
    divisors: bytes
    words: int


def shapes(text: str) -> list[Shape | None]:
    """Return the shape of each line of a text, None where it isn't plain.

    >>> [shape and shape.words for shape in shapes("G01 X-1.5 F20.\\nM30\\nX1. X2.")]
    [3, None, None]
    """
    hidden = text.translate(_HIDDEN).split("\n")
    return [_shape(line) if len(line) <= LONGEST else None for line in hidden]


@lru_cache(SHAPES_KEPT)
def _shape(hidden: str) -> Shape | None:
    """Return the shape of one line whose digits are all 0."""
    if not _PLAIN.fullmatch(hidden):
        return None
    words = hidden.split()
    letters = [word[0] for word in words]
    if len(set(letters)) < len(letters) or not AXES.intersection(letters):
        return None
    divisors = [10.0 ** len(word.partition(".")[2]) * (-1 if "-" in word else 1) for word in words]
    rows = np.array([LETTERS.index(letter) for letter in letters], np.int64)
    return Shape(rows.tobytes(), np.array(divisors).tobytes(), len(words))


def table(lines: Sequence[str], forms: Sequence[Shape | None]) -> NDArray[np.float64]:
    """Return the numbers of plain lines: a row for each of `LETTERS`, a column for each line.

    A word that a line doesn't have is NaN.

    >>> lines = ["G01 X-1.5 F20."]
    >>> table(lines, shapes(lines[0])).T
    array([[ 1. , -1.5,  nan,  nan, 20. ,  nan,  nan,  nan]])
    """
    digits = "\n".join(lines).translate(_NUMBERS_ONLY)
    rows, divisors, words = zip(*filter(None, forms), strict=True)
    at = np.frombuffer(b"".join(rows), np.int64) * len(lines)
    at += np.repeat(np.arange(len(lines)), words)
    found = np.full((len(LETTERS), len(lines)), np.nan)
    found.ravel()[at] = np.fromstring(digits, np.int64, sep=" ") / np.frombuffer(b"".join(divisors))
    return found
