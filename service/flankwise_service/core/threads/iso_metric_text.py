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
_FORM = re.compile(
    rf"[Mm](?P<diameter>{_NUMBER})"
    rf"(?:[xX](?:[Pp][Hh](?P<lead>{_NUMBER})[Pp](?P<threaded>{_NUMBER})"
    rf"(?: ?\((?:\d|[A-Za-z]{{3,5}}) [Ss][Tt][Aa][Rr][Tt][Ss]\))?|(?P<pitch>{_NUMBER})))?"
    r"(?:[ -](?P<class>\d[A-Za-z](?:\d[A-Za-z])?(?:/\d[A-Za-z](?:\d[A-Za-z])?)?))?"
    r"(?:[ -](?P<group>[SNLsnl]))?(?:[ -](?P<hand>[LlRr][Hh]))?"
)
_LOOSE = re.compile(rf"[Mm] ?(?P<diameter>{_NUMBER})(?:[^A-Za-z0-9].*|[xX-].*)?")
_SPACES = re.compile(r" ?([xX-]) ?")
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
    match = _FORM.fullmatch(_SPACES.sub(r"\1", text))
    if match is None:
        if (loose := _LOOSE.fullmatch(text)) is not None:
            raise unknown(
                text,
                f"{text} can't be read as an ISO metric designation",
                _near(_number(loose["diameter"]), None),
                "write M, diameter, x pitch, - class, as M20x1.5-6H or M8-6g-LH",
                "unreadable",
            )
        return None
    diameter = _number(match["diameter"])
    pitch, starts = _pitch_and_starts(text, match, diameter)
    thread_class, side = _class_and_side(text, match["class"])
    _check_pairing(text, diameter, pitch)
    return thread_of(
        diameter,
        pitch,
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
    text = _base(diameter, pitch, starts)
    text += f"-{thread_class}" if thread_class else ""
    text += f"-{group}" if group else ""
    text += "-LH" if hand == "left" else ""
    return Thread(
        designation=text,
        family="iso_metric",
        series=series_of(diameter, pitch),
        unit="mm",
        diameter=diameter,
        pitch=pitch,
        starts=starts,
        hand=hand,
        thread_class=thread_class,
        side=side,
        engagement_group=group,
    )


def _base(diameter: Decimal, pitch: Decimal, starts: int = 1) -> str:
    name = f"M{plain(diameter)}"
    if starts > 1:
        return f"{name}xPh{plain(starts * pitch)}P{plain(pitch)}"
    return name if COARSE.get(diameter) == pitch else f"{name}x{plain(pitch)}"


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
        yield from _names_at(diameter)


def _names_at(diameter: Decimal) -> list[str]:
    coarse = [COARSE[diameter]] if diameter in COARSE else []
    return [_base(diameter, pitch) for pitch in (*coarse, *FINE[diameter])]


def _number(text: str) -> Decimal:
    return Decimal(text.replace(",", ".")).normalize() + 0


def _group(text: str | None) -> Literal["S", "N", "L"] | None:
    groups: dict[str, Literal["S", "N", "L"]] = {"S": "S", "N": "N", "L": "L"}
    return groups[text.upper()] if text else None


def _pitch_and_starts(text: str, match: re.Match[str], diameter: Decimal) -> tuple[Decimal, int]:
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
        near = _near(diameter, None)
        detail = f"M{plain(diameter)} has no coarse pitch, so its pitch must be given"
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


def _check_pairing(text: str, diameter: Decimal, pitch: Decimal) -> None:
    end = range_end(diameter)
    if end is not None and (end, pitch, "6") in PITCH_EXTERNAL:
        return
    near = _near(diameter, pitch)
    asked = f"M{plain(diameter)}x{plain(pitch)}"
    detail = f"{asked} is not in ISO 261, and ISO 965-1 has no tolerance for it"
    raise unknown(text, detail, near, code="not_in_series")


def _near(diameter: Decimal, pitch: Decimal | None, count: int = 4) -> list[str]:
    """Return sizes of this diameter, nearest pitch first, else of the two nearest diameters."""
    if diameter in FINE:
        pitches = [*([COARSE[diameter]] if diameter in COARSE else []), *FINE[diameter]]
        pitches.sort(key=lambda p: abs(p - (pitch or 0)) if pitch else 0)
        return [_base(diameter, p) for p in pitches[:count]]
    around = sorted(FINE, key=lambda d: abs(d - diameter))[:2]
    return [name for d in sorted(around) for name in _names_at(d)[:2]]
