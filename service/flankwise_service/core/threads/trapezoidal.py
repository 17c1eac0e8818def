"""ISO metric trapezoidal screw threads (ISO 2901 to 2904): Tr, one start or more.

Designations: "Tr 24x5-7e" (external), "Tr 24x5-7H" (internal), "Tr 40x14(P7)-8e-LH": lead 14,
pitch 7, two starts. Positions e and c outside, H inside; grades 7, 8, 9.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from decimal import Decimal

from flankwise_service.core.errors import Refusal
from flankwise_service.core.threads.common import plain, side_of, to_places, unknown
from flankwise_service.core.threads.model import (
    BasicProfile,
    Family,
    Limits,
    Side,
    Source,
    Span,
    Thread,
    Tolerances,
)
from flankwise_service.core.threads.reading import (
    class_missing,
    closest,
    hand_mark,
    take_hand,
)
from flankwise_service.core.threads.tables import iso_2903 as table

FAMILIES: tuple[Family, ...] = ("trapezoidal",)
EDITIONS: tuple[str, ...] = ("ISO 2903:2016",)
EXAMPLES: tuple[str, ...] = ("Tr 24x5-7e", "Tr 40x14(P7)-7H")

FLANK_ANGLE = 15.0
_NUMBER = r"\d{1,3}(?:\.\d{1,2})?"
_GRAMMAR = re.compile(
    rf"(?i:TR) ?(?P<diameter>{_NUMBER}) ?(?i:x) ?(?P<lead>{_NUMBER})"
    rf"(?: ?\(?(?i:P) ?(?P<pitch>{_NUMBER})\)?)?(?: ?-? ?(?i:LH))?(?: ?- ?(?P<grade>\d[A-Za-z]))?"
)
_LEFT_INSIDE = re.compile(r"[ -]?LH", re.IGNORECASE)
_EXTERNAL = ("7e", "8e", "8c", "9c", "7c", "9e")
_INTERNAL = ("7H", "8H", "9H")
_RECOMMENDED = ("7e", "8e", "8c", "9c", *_INTERNAL)
_MOST_STARTS = 8
_MICROMETRE = Decimal("0.001")


def read(text: str) -> Thread | None:
    """Return the trapezoidal thread named, None when the text isn't one.

    >>> [read(text).designation for text in ("tr24x5-7e", "Tr 40 x 14 (P7) LH - 7H")]
    ['Tr 24x5-7e', 'Tr 40x14(P7)-7H-LH']
    """
    body, hand = take_hand(text)
    found = _GRAMMAR.fullmatch(body)
    if found is None:
        return None
    if _LEFT_INSIDE.search(body):
        hand = "left"
    diameter, lead = Decimal(found["diameter"]), Decimal(found["lead"])
    pitch = Decimal(found["pitch"]) if found["pitch"] else lead
    starts = _starts(text, diameter, lead, pitch)
    grade = found["grade"]
    if grade is not None and grade not in _EXTERNAL + _INTERNAL:
        near = [f"{_name(diameter, pitch, starts)}-{one}" for one in _RECOMMENDED]
        change = "give 7e, 8e, 8c or 9c outside, 7H, 8H or 9H inside"
        raise unknown(text, f"{grade} is no class of trapezoidal threads", near, change)
    return Thread(
        designation=_name(diameter, pitch, starts)
        + (f"-{grade}" if grade else "")
        + hand_mark(hand),
        family="trapezoidal",
        series="Tr",
        unit="mm",
        diameter=Decimal(plain(diameter)),
        pitch=Decimal(plain(pitch)),
        starts=starts,
        hand=hand,
        thread_class=grade,
        side=_side_of_class(grade),
    )


def _side_of_class(grade: str | None) -> Side | None:
    if grade is None:
        return None
    return "internal" if grade in _INTERNAL else "external"


def _name(diameter: Decimal, pitch: Decimal, starts: int) -> str:
    if starts == 1:
        return f"Tr {plain(diameter)}x{plain(pitch)}"
    return f"Tr {plain(diameter)}x{plain(starts * pitch)}(P{plain(pitch)})"


def _starts(text: str, diameter: Decimal, lead: Decimal, pitch: Decimal) -> int:
    """Return the number of starts, or refuse a size that ISO 2902 doesn't have."""
    if diameter not in table.SIZES:
        near = closest(diameter, ((d, _name(d, table.SIZES[d][0], 1)) for d in table.SIZES))
        raise unknown(text, f"ISO 2902 has no diameter {plain(diameter)} mm", near)
    pitches = table.SIZES[diameter]
    if pitch not in pitches:
        near = tuple(_name(diameter, one, 1) for one in pitches)
        raise unknown(text, f"Tr {plain(diameter)} has no pitch {plain(pitch)} mm", near)
    starts = int(lead // pitch)
    if starts * pitch != lead or not 1 <= starts <= _MOST_STARTS:
        near = tuple(_name(diameter, pitch, one) for one in (1, 2, 3))
        detail = (
            f"a lead of {plain(lead)} mm is no 1 to {_MOST_STARTS} pitches of {plain(pitch)} mm"
        )
        raise unknown(text, detail, near)
    return starts


def designations() -> Iterator[str]:
    """Yield every size of ISO 2902, one start."""
    for diameter, pitches in table.SIZES.items():
        for pitch in pitches:
            yield _name(diameter, pitch, 1)


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes to choose from, those that ISO 2903 recommends first."""
    return {"external": _EXTERNAL, "internal": _INTERNAL}


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return limits of size, mm.

    Source: ISO 2903:2016, ISO 2904:2020 (memory).

    >>> limits(read("Tr 24x5-7e"), None, EDITIONS[0]).pitch_diameter
    Span(min=Decimal('21.094'), max=Decimal('21.394'))
    """
    if thread.thread_class is None:
        raise _class_missing(thread, side)
    known = side_of(thread, side)
    return _external_limits(thread) if known == "external" else _internal_limits(thread)


def _class_missing(thread: Thread, side: Side | None) -> Refusal:
    bare = thread.designation.removesuffix("-LH")
    offered = [
        f"{bare}-{name}"
        for one, names in classes(thread).items()
        for name in names
        if side in (None, one) and name in _RECOMMENDED
    ]
    return class_missing(thread, side_of(thread, side or "external"), offered)


def pitch_diameter_tolerance(thread: Thread, side: Side) -> Decimal:
    """Return Td2 or TD2 with the factor for the number of starts, mm.

    ISO 2903 tabulates one for every diameter and pitch of ISO 2902.
    """
    assert thread.thread_class is not None
    end = next(end for end in table.DIAMETER_RANGE_ENDS if thread.diameter <= end)
    cells = table.EXTERNAL_PITCH_DIAMETER if side == "external" else table.INTERNAL_PITCH_DIAMETER
    cell = cells[end, thread.pitch, thread.thread_class[0]]
    factor = table.START_FACTOR[min(thread.starts, 5)]
    return to_places(cell * factor, 0) * _MICROMETRE


def minor_diameter_tolerance(pitch_tolerance: Decimal, deviation: Decimal) -> Decimal:
    """Return Td3 = 1.25 Td2 + |es| of the external minor diameter, mm (ISO 2903, 11.5).

    1.25 Td2 is rounded to 0.001 first, an exact half to the even digit: so the printed tables go.

    >>> minor_diameter_tolerance(Decimal("0.170"), Decimal("0.067"))
    Decimal('0.279')
    >>> minor_diameter_tolerance(Decimal("0.190"), Decimal("0.071"))
    Decimal('0.309')
    """
    return to_places(Decimal("1.25") * pitch_tolerance, 3) + deviation


def _external_limits(thread: Thread) -> Limits:
    assert thread.thread_class is not None
    basic = basic_profile(thread)
    deviation = table.DEVIATION[thread.thread_class[1]][thread.pitch] * _MICROMETRE
    major_tolerance = table.MAJOR_TOLERANCE[thread.pitch] * _MICROMETRE
    pitch_tolerance = pitch_diameter_tolerance(thread, "external")
    minor_tolerance = minor_diameter_tolerance(pitch_tolerance, deviation)
    major = basic.major_diameter
    pitch_max = basic.pitch_diameter - deviation
    minor = basic.minor_diameter - 2 * table.crest_clearance(thread.pitch)
    return Limits(
        thread=thread,
        side="external",
        allowance=deviation,
        major_diameter=Span(major - major_tolerance, major),
        pitch_diameter=Span(pitch_max - pitch_tolerance, pitch_max),
        minor_diameter=Span(minor - minor_tolerance, minor),
        basic=basic,
        tolerances=Tolerances(major_tolerance, pitch_tolerance, minor_tolerance),
        sources=_sources(thread),
        notes=_notes(thread),
        extra=_form(thread),
    )


def _internal_limits(thread: Thread) -> Limits:
    basic = basic_profile(thread)
    pitch_tolerance = pitch_diameter_tolerance(thread, "internal")
    minor_tolerance = table.MINOR_TOLERANCE[thread.pitch] * _MICROMETRE
    major = basic.major_diameter + 2 * table.crest_clearance(thread.pitch)
    return Limits(
        thread=thread,
        side="internal",
        allowance=Decimal(0),
        major_diameter=Span(min=major),
        pitch_diameter=Span(basic.pitch_diameter, basic.pitch_diameter + pitch_tolerance),
        minor_diameter=Span(basic.minor_diameter, basic.minor_diameter + minor_tolerance),
        basic=basic,
        tolerances=Tolerances(None, pitch_tolerance, minor_tolerance),
        sources=_sources(thread),
        notes=_notes(thread),
        extra=_form(thread),
    )


def basic_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile, mm: 30 degrees, height 0.5 P, flats 0.366 P (ISO 2901).

    >>> basic_profile(read("Tr 24x5")).minor_diameter
    Decimal('19.000')
    """
    pitch, tangent = thread.pitch, math.tan(math.radians(FLANK_ANGLE))
    flat = float(pitch) * (1 - tangent) / 2
    return BasicProfile(
        pitch=pitch,
        lead=thread.lead,
        starts=thread.starts,
        flank_angle_upper=FLANK_ANGLE,
        flank_angle_lower=FLANK_ANGLE,
        fundamental_height=float(pitch) / (2 * tangent),
        thread_height=float(pitch) / 2,
        crest_width=flat,
        root_width=flat,
        root_radius=None,
        major_diameter=to_places(thread.diameter, 3),
        pitch_diameter=to_places(thread.diameter - pitch / 2, 3),
        minor_diameter=to_places(thread.diameter - pitch, 3),
    )


def _form(thread: Thread) -> dict[str, Decimal | None]:
    """Return the design profile's clearance, height and radii by name, mm (ISO 2901)."""
    clearance = table.crest_clearance(thread.pitch)
    return {
        "crest_clearance": clearance,
        "thread_height_total": thread.pitch / 2 + clearance,
        "crest_radius_max": clearance / 2,
        "root_radius_max": clearance,
        "external_minor_diameter": to_places(thread.diameter - thread.pitch - 2 * clearance, 3),
        "internal_major_diameter": to_places(thread.diameter + 2 * clearance, 3),
    }


def _sources(thread: Thread) -> tuple[Source, ...]:
    found = [table.SIZES_SOURCE, table.FORM, table.CLEARANCE, table.POSITIONS, table.TOLERANCES]
    if thread.starts > 1:
        found.append(table.MULTIPLE_START)
    elif _was_seen(thread):
        found.append(table.TOLERANCES_7E)
    return tuple(found)


def _was_seen(thread: Thread) -> bool:
    """Return whether the limits of 7e were also read in a printed table."""
    return thread.thread_class == "7e" and thread.diameter <= 18


def _notes(thread: Thread) -> tuple[str, ...]:
    found = []
    if thread.starts > 1 or not _was_seen(thread):
        found.append(
            "Tolerances recalled from ISO 2903, not read: check them before you rely on them."
        )
    if thread.thread_class not in _RECOMMENDED:
        found.append("ISO 2903 does not recommend this class.")
    return tuple(found)
