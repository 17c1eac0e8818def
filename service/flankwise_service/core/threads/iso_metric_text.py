"""ISO metric designations: reading, and spelling in the one canonical way (ISO 965-1:1998, 5).

Canonical: M, diameter, xpitch unless coarse, -class -group -LH, as in M20x1.5-6H-LH; more starts as
M16xPh3P1.5-6H.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Literal

from flankwise_service.core.threads.common import plain, unknown
from flankwise_service.core.threads.model import Hand, Side, Thread
from flankwise_service.core.threads.tables.iso_261 import COARSE, FINE
from flankwise_service.core.threads.tables.iso_965_1 import PITCH_EXTERNAL, range_end

MOST_STARTS = 8
_NUMBER = r"\d{1,3}(?:[.,]\d{1,3})?"


def _patterns(letters: str) -> tuple[re.Pattern[str], re.Pattern[str]]:
    head = "".join(f"[{letter}{letter.lower()}]" for letter in letters)
    strict = re.compile(
        rf"{head} ?(?P<diameter>{_NUMBER})"
        rf"(?:[xX](?:[Pp][Hh](?P<lead>{_NUMBER})[Pp](?P<threaded>{_NUMBER})"
        rf"(?: ?\((?:\d|[A-Za-z]{{3,5}}) [Ss][Tt][Aa][Rr][Tt][Ss]?\))?|(?P<pitch>{_NUMBER})))?"
        r"(?:[ -](?P<class>\d[A-Za-z](?:\d[A-Za-z])?(?:/\d[A-Za-z](?:\d[A-Za-z])?)?))?"
        r"(?:[ -](?P<group>[SNLsnl]))?(?:[ -](?P<hand>[LlRr][Hh]))?"
    )
    loose = re.compile(rf"{head} ?(?P<diameter>{_NUMBER})(?:[^A-Za-z0-9].*|[xX-].*)?")
    return strict, loose


Letters = Literal["M", "MJ"]
_PATTERNS: dict[Letters, tuple[re.Pattern[str], re.Pattern[str]]] = {
    "M": _patterns("M"),
    "MJ": _patterns("MJ"),
}
_SPACES = re.compile(r" ?([xX-]) ?|(?<=[PpHh]) (?=\d)|(?<=\d) (?=[Pp])")
_CLASS = re.compile(r"(?:(\d)([a-h])(?:(\d)([a-h]))?|(\d)([A-H])(?:(\d)([A-H]))?)")


def read(text: str) -> Thread | None:
    """Return the ISO metric thread a cleaned text names; None when it isn't of this grammar.

    Errors: `UnknownThread` for a size, pitch or class that isn't in the standards.

    >>> read("m8 x 1.25-6g").designation
    'M8-6g'
    >>> read("M16xPh3P1.5-6H").starts
    2
    >>> read("7/8-14 UNF") is None
    True
    """
    return read_with("M", text)


def read_with(letters: Letters, text: str) -> Thread | None:
    """Return the same for designations that begin with these letters, M or MJ."""
    strict, loose = _PATTERNS[letters]
    match = strict.fullmatch(_SPACES.sub(lambda gap: gap[1] or "", text))
    if match is None:
        if (meant := loose.fullmatch(text)) is not None:
            raise unknown(
                text,
                f"{text} can't be read as an ISO metric designation",
                _near(letters, _number(meant["diameter"]), None),
                f"write {letters}, diameter, x pitch, - class, as M20x1.5-6H or MJ6x1-4h6h",
                "unreadable",
            )
        return None
    diameter = _number(match["diameter"])
    pitch, starts = _pitch_and_starts(letters, text, match, diameter)
    thread_class, side = _class_and_side(text, match["class"])
    _check_pairing(letters, text, diameter, pitch)
    return thread_of(
        diameter,
        pitch,
        letters=letters,
        starts=starts,
        thread_class=thread_class,
        side=side,
        group=_group(match["group"]),
        hand="left" if (match["hand"] or "").upper() == "LH" else "right",
    )


def thread_of(
    diameter: Decimal,
    pitch: Decimal,
    *,
    letters: Letters = "M",
    starts: int = 1,
    thread_class: str | None = None,
    side: Side | None = None,
    group: Literal["S", "N", "L"] | None = None,
    hand: Hand = "right",
) -> Thread:
    """Return the thread of these parts, spelled canonically.

    >>> thread_of(Decimal(20), Decimal("1.5"), thread_class="6H", side="internal").designation
    'M20x1.5-6H'
    """
    text = _base(letters, diameter, pitch, starts)
    text += f"-{thread_class}" if thread_class else ""
    text += f"-{group}" if group else ""
    text += "-LH" if hand == "left" else ""
    return Thread(
        designation=text,
        family="iso_metric" if letters == "M" else "metric_j",
        series=series_of(diameter, pitch),
        unit="mm",
        diameter=diameter,
        pitch=pitch,
        starts=starts,
        hand=hand,
        thread_class=thread_class,
        side=side,
        engagement_group=group,
        rounded_root=letters == "MJ",
    )


def _base(letters: Letters, diameter: Decimal, pitch: Decimal, starts: int = 1) -> str:
    """Return size and pitch; M leaves out a coarse pitch, MJ never does (ISO 5855-1)."""
    name = f"{letters}{plain(diameter)}"
    if starts > 1:
        return f"{name}xPh{plain(starts * pitch)}P{plain(pitch)}"
    coarse = letters == "M" and COARSE.get(diameter) == pitch
    return name if coarse else f"{name}x{plain(pitch)}"


def series_of(diameter: Decimal, pitch: Decimal) -> str:
    """Return "coarse", "fine", or "special" when the pairing isn't in ISO 261.

    >>> series_of(Decimal(8), Decimal("1.25")), series_of(Decimal(50), Decimal(4))
    ('coarse', 'special')
    """
    if COARSE.get(diameter) == pitch:
        return "coarse"
    return "fine" if pitch in FINE.get(diameter, ()) else "special"


def designations() -> Iterator[str]:
    """Yield every size of ISO 261, by diameter, coarse first.

    >>> next(designations())
    'M1'
    """
    for diameter in FINE:
        yield from names_at("M", diameter)


def names_at(letters: Letters, diameter: Decimal) -> list[str]:
    """Return the sizes ISO 261 has at a diameter, coarse first.

    >>> names_at("MJ", Decimal(8))
    ['MJ8x1.25', 'MJ8x1', 'MJ8x0.75']
    """
    coarse = [COARSE[diameter]] if diameter in COARSE else []
    return [_base(letters, diameter, pitch) for pitch in (*coarse, *FINE[diameter])]


def _number(text: str) -> Decimal:
    return Decimal(text.replace(",", ".")).normalize() + 0


def _group(text: str | None) -> Literal["S", "N", "L"] | None:
    groups: dict[str, Literal["S", "N", "L"]] = {"S": "S", "N": "N", "L": "L"}
    return groups[text.upper()] if text else None


def _pitch_and_starts(
    letters: Letters, text: str, match: re.Match[str], diameter: Decimal
) -> tuple[Decimal, int]:
    if match["lead"]:
        pitch, lead = _number(match["threaded"]), _number(match["lead"])
        starts = lead / pitch if pitch else Decimal(0)
        if starts != int(starts) or not 1 <= starts <= MOST_STARTS:
            detail = f"a lead of {plain(lead)} mm is not 1 to {MOST_STARTS} times the pitch"
            raise unknown(text, detail, change="lead = starts times pitch", code="lead_not_whole")
        return pitch, int(starts)
    if match["pitch"]:
        return _number(match["pitch"]), 1
    if diameter not in COARSE:
        near = _near(letters, diameter, None)
        detail = f"{letters}{plain(diameter)} has no coarse pitch, so its pitch must be given"
        raise unknown(text, detail, near, code="pitch_missing")
    return COARSE[diameter], 1


def _class_and_side(text: str, written: str | None) -> tuple[str | None, Side | None]:
    if written is None:
        return None, None
    if "/" in written:
        parts = written.split("/")
        detail = f"{written} is a fit, two classes: one for the nut, one for the bolt"
        raise unknown(text, detail, change=f"ask for {parts[0]} or {parts[1]}", code="fit")
    match = _CLASS.fullmatch(written)
    if match is None:
        detail = f"{written} is not a tolerance class"
        change = "a grade 3 to 9 with e f g h (external) or G H (internal), as 6g, 5g6g, 6H or 4H5H"
        raise unknown(text, detail, change=change, code="unknown_class")
    same = written[:2] if written[2:] in ("", written[:2]) else written
    return same, "external" if match[1] else "internal"


def _check_pairing(letters: Letters, text: str, diameter: Decimal, pitch: Decimal) -> None:
    end = range_end(diameter)
    if end is not None and (end, pitch, "6") in PITCH_EXTERNAL:
        return
    near = _near(letters, diameter, pitch)
    asked = f"{letters}{plain(diameter)}x{plain(pitch)}"
    detail = f"{asked} is not in ISO 261, and ISO 965-1 has no tolerance for it"
    raise unknown(text, detail, near, code="not_in_series")


def _near(letters: Letters, diameter: Decimal, pitch: Decimal | None, count: int = 4) -> list[str]:
    """Return sizes of this diameter, nearest pitch first, else of the two nearest diameters."""
    if diameter in FINE:
        pitches = [*([COARSE[diameter]] if diameter in COARSE else []), *FINE[diameter]]
        pitches.sort(key=lambda p: abs(p - (pitch or 0)) if pitch else 0)
        return [_base(letters, diameter, p) for p in pitches[:count]]
    around = sorted(FINE, key=lambda d: abs(d - diameter))[:2]
    return [name for d in sorted(around) for name in names_at(letters, d)[:2]]
