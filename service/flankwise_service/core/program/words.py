"""Numbers and comments as program text. Counts are whole numbers of the last printed digit."""

from __future__ import annotations

import re
import unicodedata

COMMENT_LENGTH = 72
"""Longest comment: with its parentheses and a line number it stays well inside a block of 256
characters, the most that RS274/NGC takes (NISTIR 6556, 3.1, from memory)."""

_UNSAFE = re.compile(r"[^A-Za-z0-9 .,+\-/*='_]")
_WORD = re.compile(r"(?<![A-Za-z])([A-Za-z])[ _=]*(?=[+\-.\d])")
"""Blanks count for nothing in a block (NISTIR 6556, 3.2, from memory), so "C 45" would be the word
C45 too; an equals sign is an assignment on some controls."""


def counts(length: float, places: int) -> int:
    """Return `length` in whole counts of the last of `places` printed digits.

    >>> counts(0.43758, 4), counts(-0.00004, 4)
    (4376, 0)
    """
    return round(length * 10.0**places)


def decimal(count: int, places: int) -> str:
    """Return a count as printed, always with all its digits.

    >>> decimal(-625, 4), decimal(0, 4), decimal(12500, 4)
    ('-0.0625', '0.0000', '1.2500')
    """
    return f"{count / 10.0**places:.{places}f}"


def plain(text: str) -> str:
    """Return `text` in letters, digits and a few marks that mean nothing outside a comment.

    Accents are dropped; whatever can't be written so becomes an underscore: parentheses,
    semicolons, per cent signs, brackets, number signs, controls, line ends, marks that turn the
    direction of writing, and letters that only look like Latin ones.

    >>> plain("Flansch gr\\u00f6\\u00dfe) G1 X-5 (")
    'Flansch gro_e_ G1 X-5 _'
    """
    flat = text[: 4 * COMMENT_LENGTH]
    if not flat.isascii():
        whole = unicodedata.normalize("NFKD", flat)
        flat = "".join(c for c in whole if not unicodedata.combining(c))
    return _UNSAFE.sub("_", flat)


def tame(text: str) -> str:
    """Return `text` as `plain` does, with no word in it that a control could carry out.

    A word is one letter and a number; an apostrophe set between the two parts them.

    >>> tame("REV2 M03 x -1 to 0.8216"), tame("S355J2")
    ("REV2 M'03 x'-1 to 0.8216", "S'355J'2")
    """
    return _WORD.sub(r"\1'", plain(text))


def comment(label: str, text: str = "") -> str:
    """Return a comment, closed in parentheses: our own `label`, then `text` made safe.

    The label comes first so that no text can start an active comment such as a message.

    >>> comment("JOB", "adapter (2)%\\r\\nG0 Z-5")
    "(JOB adapter _2____G'0 Z'-5)"
    """
    return f"({f'{label} {tame(text)}'.rstrip()[:COMMENT_LENGTH]})"
