"""British Association threads (BS 93): 0 to 16 BA, 47 1/2 degrees, crest and root rounded.

Designations: "2 BA close", "2 BA normal" (bolts), "2 BA" (nuts have one class; ask with a side).
"-LH" at the end for left hand.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from decimal import Decimal

from flankwise_service.core.threads.common import side_of, to_places, unknown
from flankwise_service.core.threads.model import (
    BasicProfile,
    Family,
    Limits,
    Side,
    Span,
    Thread,
    Tolerances,
)
from flankwise_service.core.threads.reading import class_missing, hand_mark, take_hand
from flankwise_service.core.threads.tables import bs_93 as table

FAMILIES: tuple[Family, ...] = ("ba",)
EDITIONS: tuple[str, ...] = ("BS 93:2008",)
EXAMPLES: tuple[str, ...] = ("2 BA close", "4 BA")

FLANK_ANGLE = 23.75
_GRAMMAR = re.compile(
    r"(?:(?:No\.? ?|#)?(?P<number>\d{1,2}) ?B\.?A\.?|BA ?(?P<after>\d{1,2}))"
    r"(?:[ ,-]+(?P<grade>close|normal))?(?:[ ,-]+\(?(?P<part>bolt|screw|nut)\)?)?",
    re.IGNORECASE,
)
_BOLTS = ("close", "normal")


def read(text: str) -> Thread | None:
    """Return the BA thread named, None when the text isn't one.

    >>> [read(text).designation for text in ("2ba", "BA 4 Close-LH", "0 B.A. nut")]
    ['2 BA', '4 BA close-LH', '0 BA nut']
    """
    body, hand = take_hand(text)
    found = _GRAMMAR.fullmatch(body)
    if found is None:
        return None
    number = int(found["number"] or found["after"])
    if number >= len(table.SIZES):
        near = ("16 BA", "15 BA", "14 BA")
        raise unknown(text, f"BS 93 has 0 to 16 BA, no {number} BA", near)
    grade = found["grade"].lower() if found["grade"] else None
    nut = bool(found["part"]) and found["part"].lower() == "nut"
    if grade and nut:
        raise unknown(text, "BA nuts have one class, without a name", [f"{number} BA nut"])
    side: Side | None = "internal" if nut else ("external" if grade or found["part"] else None)
    word = f" {grade}" if grade else {None: "", "external": " bolt", "internal": " nut"}[side]
    size = table.SIZES[number]
    return Thread(
        designation=f"{number} BA{word}{hand_mark(hand)}",
        family="ba",
        series="BA",
        unit="mm",
        diameter=size.major,
        pitch=size.pitch,
        hand=hand,
        thread_class=grade,
        side=side,
    )


def designations() -> Iterator[str]:
    """Yield 0 BA to 16 BA."""
    for number in range(len(table.SIZES)):
        yield f"{number} BA"


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes to choose from: close and normal for bolts."""
    return {"external": _BOLTS, "internal": ()}


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return limits of size, mm; "pitch diameter" is the British effective diameter.

    Source: BS 93:2008, Annex B.

    >>> limits(read("2 BA close"), None, EDITIONS[0]).pitch_diameter
    Span(min=Decimal('4.130'), max=Decimal('4.215'))
    """
    known = side_of(thread, side)
    number = table.NUMBER_OF[thread.diameter]
    if known == "internal":
        return _nut_limits(thread, number)
    if thread.thread_class is None:
        raise class_missing(thread, known, (f"{number} BA {one}" for one in _BOLTS))
    return _bolt_limits(thread, number)


def bolt_tolerances(grade: str, number: int, pitch: Decimal) -> Tolerances:
    """Return the tolerances of a bolt, mm (BS 93:2008, B.3 to B.5), to 3 decimals.

    Close: 0.15 P, 0.08 P + 0.02, 0.16 P + 0.04. Normal: 0.20 P (from 11 BA 0.25 P),
    0.10 P + 0.025, 0.20 P + 0.05.

    >>> bolt_tolerances("close", 0, Decimal(1)).pitch_diameter
    Decimal('0.100')
    """
    if grade == "close":
        major, share, base = Decimal("0.15"), Decimal("0.08"), Decimal("0.02")
    else:
        coarse = number <= table.LAST_WITH_ALLOWANCE
        major = Decimal("0.20") if coarse else Decimal("0.25")
        share, base = Decimal("0.10"), Decimal("0.025")
    effective = share * pitch + base
    return Tolerances(
        to_places(major * pitch, 3), to_places(effective, 3), to_places(2 * effective, 3)
    )


def _bolt_limits(thread: Thread, number: int) -> Limits:
    assert thread.thread_class is not None
    size = table.SIZES[number]
    tolerances = bolt_tolerances(thread.thread_class, number, thread.pitch)
    has_gap = thread.thread_class == "normal" and number <= table.LAST_WITH_ALLOWANCE
    gap = table.ALLOWANCE if has_gap else Decimal(0)
    return Limits(
        thread=thread,
        side="external",
        allowance=gap,
        major_diameter=_below(size.major - gap, tolerances.major_diameter),
        pitch_diameter=_below(size.effective - gap, tolerances.pitch_diameter),
        minor_diameter=_below(size.minor - gap, tolerances.minor_diameter),
        basic=basic_profile(thread),
        tolerances=tolerances,
        sources=(table.BASIC, table.TOLERANCES),
        notes=_NOTES,
        extra=_extra(size),
    )


def _below(top: Decimal, tolerance: Decimal | None) -> Span:
    assert tolerance is not None
    return Span(to_places(top - tolerance, 3), to_places(top, 3))


def _nut_limits(thread: Thread, number: int) -> Limits:
    """Return limits of a nut: effective + 0.12 P + 0.03, minor + 0.375 P, major no limit above."""
    size = table.SIZES[number]
    effective = to_places(Decimal("0.12") * size.pitch + Decimal("0.03"), 3)
    minor = to_places(Decimal("0.375") * size.pitch, 3)
    return Limits(
        thread=thread,
        side="internal",
        allowance=Decimal(0),
        major_diameter=Span(min=to_places(size.major, 3)),
        pitch_diameter=Span(size.effective, size.effective + effective),
        minor_diameter=Span(to_places(size.minor, 3), to_places(size.minor + minor, 3)),
        basic=basic_profile(thread),
        tolerances=Tolerances(None, effective, minor),
        sources=(table.BASIC, table.TOLERANCES),
        notes=_NOTES,
        extra=_extra(size),
    )


_NOTES = ("Tolerances by BS 93's formulas to 0.001 mm; its tables may round them more coarsely.",)


def _extra(size: table.Size) -> dict[str, Decimal | None]:
    return {"thread_depth": size.depth, "crest_radius": size.radius}


def basic_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile, mm: depth 0.6 P, radius 0.1808 P, flats that the radii replace.

    >>> round(basic_profile(read("0 BA")).crest_width, 3)
    0.236
    """
    size = table.SIZES[table.NUMBER_OF[thread.diameter]]
    tangent = math.tan(math.radians(FLANK_ANGLE))
    pitch = float(size.pitch)
    flat = pitch / 2 - float(size.depth) * tangent
    return BasicProfile(
        pitch=size.pitch,
        lead=thread.lead,
        starts=1,
        flank_angle_upper=FLANK_ANGLE,
        flank_angle_lower=FLANK_ANGLE,
        fundamental_height=pitch / (2 * tangent),
        thread_height=float(size.depth),
        crest_width=flat,
        root_width=flat,
        root_radius=float(size.radius),
        major_diameter=size.major,
        pitch_diameter=size.effective,
        minor_diameter=size.minor,
    )
