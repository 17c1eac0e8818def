"""What every thread family shares: reading text safely, rounding as printed, taking a side.

Which way an exact half is rounded is the standard's to say: to even in ASME B1.1, else as printed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from difflib import SequenceMatcher
from functools import cache, lru_cache

from flankwise_service.core.errors import BadInput, Fault, UnknownThread
from flankwise_service.core.threads.model import Side, Thread

LONGEST_DESIGNATION = 60
_COMPARED, _LIKE = 30, 0.5
"""How many names are compared letter by letter, and how like one must be (1 is the same)."""
_SPELLINGS = {
    "×": "x", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "\u00a0": " ", "\t": " ",
    "⁄": "/", "″": '"', "”": '"',
    "¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
}  # fmt: skip
_SPELLED = str.maketrans(_SPELLINGS)
_PLAIN = re.compile(r"[ -~]*")
_BLANKS = re.compile(r" +")
_INCH_MARK = re.compile(r'(?<=\d) ?"(?=[ -]|$)')
_NUMBER_SIZE = re.compile(r"no\.? ?(?=\d)", re.IGNORECASE)
_LEFT_HAND = re.compile(r"\( ?LH ?\)", re.IGNORECASE)


def clean(text: object) -> str:
    """Return a designation in plain ASCII: one blank between words, x for ×, - for dashes.

    Inch marks are dropped, "No. 10" is #10 and (LH) is LH. Letter case is kept (6g and 6G differ).
    Errors: `UnknownThread` for text that is empty, longer
    than 60 characters, or holds a character no designation has.

    >>> clean("  M8×1 – 6g ")
    'M8x1 - 6g'
    >>> clean('7/8"-14 UNF'), clean("No. 10-24 UNC")
    ('7/8-14 UNF', '#10-24 UNC')
    """
    if not isinstance(text, str) or not text.strip():
        raise unknown("", "no thread designation is given", change='give one, as "7/8-14 UNF-2A"')
    if len(text) > LONGEST_DESIGNATION:
        detail = f"a designation of {len(text)} characters is longer than any standard's"
        raise unknown(text[:20] + "…", detail, change="give at most 60 characters")
    plain = _BLANKS.sub(" ", text.translate(_SPELLED)).strip(" ")
    if not _PLAIN.fullmatch(plain):
        odd = next(character for character in plain if not " " <= character <= "~")
        raise unknown(
            plain.encode("ascii", "backslashreplace").decode(),
            f"{_described(odd)} can't stand in a thread designation",
            change="type it with plain letters, digits, blank, hyphen, slash, point and #",
        )
    for pattern, put in ((_INCH_MARK, ""), (_LEFT_HAND, "LH")):
        plain = pattern.sub(put, plain)
    return "#" + plain[number.end() :] if (number := _NUMBER_SIZE.match(plain)) else plain


def _described(odd: str) -> str:
    return f"the character U+{ord(odd):04X} ({unicodedata.name(odd, 'unnamed').lower()})"


def unknown(
    text: str,
    detail: str,
    near: Iterable[str] = (),
    change: str | None = None,
    code: str = "unknown_thread",
) -> UnknownThread:
    """Return the refusal of a designation, naming the nearest existing ones.

    >>> unknown("M8x3", "M8x3 is not a standard size", ["M8", "M8x1"]).faults[0].change
    'use one that exists: M8, M8x1'
    """
    names = tuple(near)
    if change is None:
        change = f"use one that exists: {', '.join(names)}" if names else "check the designation"
    return UnknownThread(Fault("/designation", code, detail, change, text, near=names))


def side_of(thread: Thread, side: Side | None) -> Side:
    """Return the side the thread is cut on: said by its class, else by `side`; never guessed.

    Errors: `BadInput` at /side when neither says it, or when they differ.
    """
    if thread.side is None and side is None:
        detail = f"{thread.designation} doesn't say whether it is external or internal"
        raise BadInput(Fault("/side", "side_missing", detail, "give side external or internal"))
    if thread.side is not None and side is not None and thread.side != side:
        detail = f"{thread.designation} is an {thread.side} thread, not {side}"
        change = f"ask for side {thread.side}, or give a class for the other side"
        raise BadInput(Fault("/side", "side_differs", detail, change, side))
    return thread.side or side  # type: ignore[return-value]


@cache
def _unit_of(places: int) -> Decimal:
    return Decimal(1).scaleb(-places)


def to_places(value: Decimal, places: int) -> Decimal:
    """Return `value` rounded to `places` decimals, an exact half to the even digit.

    >>> to_places(Decimal("2.380050"), 4)
    Decimal('2.3800')
    """
    return value.quantize(_unit_of(places), rounding=ROUND_HALF_EVEN)


def half_up(value: Decimal, places: int) -> Decimal:
    """Return `value` rounded to `places` decimals, an exact half away from zero.

    >>> half_up(Decimal("2.380050"), 4)
    Decimal('2.3801')
    """
    return value.quantize(_unit_of(places), rounding=ROUND_HALF_UP)


def plain(value: Decimal) -> str:
    """Return a number as a designation writes it: no trailing zeros, no exponent.

    >>> plain(Decimal("1.50")), plain(Decimal("20")), plain(Decimal("100.0"))
    ('1.5', '20', '100')
    """
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


@lru_cache(maxsize=8192)
def _letter_pairs(text: str) -> frozenset[str]:
    marked = f" {text.upper()} "
    return frozenset(marked[at : at + 2] for at in range(len(marked) - 1))


def nearest(text: str, designations: Iterable[str], count: int = 3) -> tuple[str, ...]:
    """Return up to `count` designations spelled most like `text`, the likest first.

    Pairs of letters in common choose a few, and these are compared letter by letter.

    >>> nearest("M8x1.1", ["M8", "M8x1", "M10x1", "1/4-20 UNC"], 2)
    ('M8x1', 'M10x1')
    """
    pairs = _letter_pairs(text)
    shared = []
    for place, name in enumerate(designations):
        own = _letter_pairs(name)
        if common := len(pairs & own):
            shared.append((-common / (len(pairs) + len(own)), place, name))
    matcher = SequenceMatcher(autojunk=False)
    matcher.set_seq2(text.upper())
    scored = []
    for _, place, name in sorted(shared)[:_COMPARED]:
        matcher.set_seq1(name.upper())
        if (ratio := matcher.ratio()) >= _LIKE:
            scored.append((-ratio, place, name))
    return tuple(name for _, _, name in sorted(scored)[:count])
