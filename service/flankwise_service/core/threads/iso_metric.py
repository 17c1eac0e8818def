"""ISO metric screw threads (ISO 261, ISO 965-1): designation to limits of size, millimetres."""

from __future__ import annotations

import math
from decimal import Decimal

from flankwise_service.core.errors import Fault, NoSource
from flankwise_service.core.threads.common import side_of, to_places
from flankwise_service.core.threads.iso_metric_text import designations, read, thread_of
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
from flankwise_service.core.threads.tables import iso_965_1 as table
from flankwise_service.core.threads.tables.iso_261 import SERIES_SOURCE
from flankwise_service.core.threads.tables.iso_965_1_engagement import SOURCE as ENGAGEMENT_SOURCE
from flankwise_service.core.threads.tables.iso_965_1_engagement import normal_length

__all__ = ["EDITIONS", "EXAMPLES", "FAMILIES", "classes", "designations", "limits", "read"]

FAMILIES: tuple[Family, ...] = ("iso_metric",)
EDITIONS: tuple[str, ...] = ("ISO 965-1:1998",)
EXAMPLES = ("M20x1.5-6H", "M8-6g")
_H = 0.8660254037844386
_SMALL = Decimal("1.4")
_NONE = table.Cell(Decimal("0.000"), "seen")


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes that ISO 965-1 prefers and tabulates for this pitch, by side.

    >>> classes(read("M8"))["internal"]
    ('4H', '5H', '6H', '7H', '8H', '5G', '6G', '7G', '8G')
    """
    end = table.range_end(thread.diameter)
    assert end is not None
    internal = tuple(
        f"{grade}{position}"
        for position, grades in (("H", "45678"), ("G", "5678"))
        for grade in grades
        if (end, thread.pitch, grade) in table.PITCH_INTERNAL
        and (thread.pitch, grade) in table.MINOR_INTERNAL
    )
    external = tuple(
        f"{grade}{position}" if grade == crest else f"{grade}{position}{crest}{position}"
        for grade, crest in (
            ("3", "4"), ("4", "4"), ("5", "4"), ("5", "6"), ("6", "6"), ("7", "6"), ("8", "8"),
            ("9", "8"),
        )
        for position in "hgfe"
        if (end, thread.pitch, grade) in table.PITCH_EXTERNAL
        and (thread.pitch, crest) in table.MAJOR_EXTERNAL
        and (position == "h" or (thread.pitch, position) in table.DEVIATION)
    )  # fmt: skip
    return {"external": external, "internal": internal}


def default_class(diameter: Decimal, side: Side) -> str:
    """Return the class a designation without one stands for.

    6H and 6g from M1.6 up, 5H and 6h up to M1.4. Source: ISO 965-1:1998, clause 5 (memory).

    >>> default_class(Decimal(8), "external"), default_class(Decimal("1.4"), "internal")
    ('6g', '5H')
    """
    if side == "internal":
        return "5H" if diameter <= _SMALL else "6H"
    return "6h" if diameter <= _SMALL else "6g"


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return the limits of size of an ISO metric thread, mm.

    Errors: `BadInput` at /side; `NoSource` where the standard's tables hold no such grade.
    Source: ISO 965-1:1998, stored tables.

    >>> limits(read("M8-6g"), None, "ISO 965-1:1998").major_diameter
    Span(min=Decimal('7.760'), max=Decimal('7.972'))
    """
    definite = side_of(thread, side)
    notes: tuple[str, ...] = ()
    if thread.thread_class is None:
        name = default_class(thread.diameter, definite)
        notes = (f"no class given: {name}, which ISO 965-1 has such a designation stand for",)
        thread = thread_of(
            thread.diameter,
            thread.pitch,
            starts=thread.starts,
            thread_class=name,
            side=definite,
            group=thread.engagement_group,
            hand=thread.hand,
        )
    notes += _notes(thread)
    return _external(thread, notes) if definite == "external" else _internal(thread, notes)


def _notes(thread: Thread) -> tuple[str, ...]:
    notes: tuple[str, ...] = ()
    if thread.series == "special":
        notes += ("this pairing of diameter and pitch is not in ISO 261; tolerances by ISO 965-1",)
    if thread.engagement_group in ("S", "L"):
        notes += ("the engagement group guides the choice of class; it doesn't change the limits",)
    return notes


def _parts(thread: Thread) -> tuple[str, str, str, str]:
    """Return grade and position for the pitch diameter, then for the crest diameter."""
    written = thread.thread_class or ""
    pitch, crest = written[:2], written[2:] or written[:2]
    if pitch[1] != crest[1]:
        detail = f"{written} mixes two positions; no table here combines them"
        raise _no_source(thread, detail, f"use one letter, as {pitch}{crest[0]}{pitch[1]}")
    return pitch[0], pitch[1], crest[0], crest[1]


def _offered(thread: Thread) -> tuple[str, ...]:
    assert thread.side is not None
    return classes(thread)[thread.side]


def _no_source(thread: Thread, detail: str, change: str) -> NoSource:
    base = thread_of(thread.diameter, thread.pitch, starts=thread.starts).designation
    offered = _offered(thread)
    near = tuple(f"{base}-{name}" for name in offered if name[1] in "ghGH")
    return NoSource(
        Fault("/designation", "no_tolerance", detail, change, thread.designation, near=near)
    )


def _deviation(thread: Thread, position: str) -> table.Cell:
    if position in "hH":
        return _NONE
    cell = table.DEVIATION.get((thread.pitch, position))
    if cell is None:
        detail = f"no fundamental deviation {position} is held for pitch {thread.pitch} mm"
        raise _no_source(thread, detail, _offer(thread))
    return cell


def _offer(thread: Thread) -> str:
    offered = _offered(thread)
    usual = [name for name in offered if name[1] in "ghGH"]
    return f"use one of {', '.join(usual)}"


def _pitch_tolerance(thread: Thread, grade: str) -> table.Cell:
    held = table.PITCH_EXTERNAL if thread.side == "external" else table.PITCH_INTERNAL
    end = table.range_end(thread.diameter)
    cell = held.get((end, thread.pitch, grade)) if end is not None else None
    if cell is None:
        detail = f"ISO 965-1 has no pitch diameter tolerance of grade {grade} for this size"
        raise _no_source(thread, detail, _offer(thread))
    return cell


def _crest_tolerance(thread: Thread, grade: str) -> table.Cell:
    external = thread.side == "external"
    held = table.MAJOR_EXTERNAL if external else table.MINOR_INTERNAL
    cell = held.get((thread.pitch, grade))
    if cell is None:
        crest = "major" if external else "minor"
        detail = f"ISO 965-1 has no {crest} diameter tolerance of grade {grade} for this pitch"
        raise _no_source(thread, detail, _offer(thread))
    return cell


def pitch_diameter(diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return D - 0.649519 P to 3 decimals, mm.

    >>> pitch_diameter(Decimal(8), Decimal("1.25"))
    Decimal('7.188')
    """
    return to_places(diameter - Decimal("0.649519") * pitch, 3)


def minor_diameter(diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return D - 1.082532 P to 3 decimals, mm.

    >>> minor_diameter(Decimal(8), Decimal("1.25"))
    Decimal('6.647')
    """
    return to_places(diameter - Decimal("1.082532") * pitch, 3)


def greatest_rounded_minor(pitch_max: Decimal, tolerance: Decimal, pitch: Decimal) -> Decimal:
    """Return the greatest minor diameter of a rounded root of radius 0.125 P, to 3 decimals, mm.

    d2max - (H/2 + 2 r (1 - cos(60 deg - acos(1 - Td2/(4 r))))). Source: ASME B1.13M, as quoted by a
    reference page (seen).

    >>> greatest_rounded_minor(Decimal("7.160"), Decimal("0.118"), Decimal("1.25"))
    Decimal('6.591')
    """
    p, radius = float(pitch), 0.125 * float(pitch)
    inside = math.acos(max(-1.0, 1 - float(tolerance) / (4 * radius)))
    drop = _H * p / 2 + 2 * radius * (1 - math.cos(math.radians(60) - inside))
    return to_places(pitch_max - Decimal(drop), 3)


def _external(thread: Thread, notes: tuple[str, ...]) -> Limits:
    grade, position, crest_grade, _ = _parts(thread)
    deviation = _deviation(thread, position)
    pitch_tolerance = _pitch_tolerance(thread, grade)
    major_tolerance = _crest_tolerance(thread, crest_grade)
    major_max = to_places(thread.diameter, 3) - deviation.value
    pitch_max = pitch_diameter(thread.diameter, thread.pitch) - deviation.value
    pitch_min = pitch_max - pitch_tolerance.value
    flat = to_places(pitch_max - Decimal("0.433013") * thread.pitch, 3)
    return Limits(
        thread=thread,
        side="external",
        allowance=deviation.value,
        major_diameter=Span(major_max - major_tolerance.value, major_max),
        pitch_diameter=Span(pitch_min, pitch_max),
        minor_diameter=Span(None, flat),
        basic=basic_profile(thread),
        tolerances=Tolerances(major_tolerance.value, pitch_tolerance.value, None),
        sources=_sources(
            ("Td, major diameter tolerance", major_tolerance),
            ("Td2, pitch diameter tolerance", pitch_tolerance),
            ("es, fundamental deviation", deviation),
        ),
        notes=notes,
        extra={
            **_engagement(thread),
            "minor_diameter_flat_max": flat,
            "minor_diameter_rounded_max": greatest_rounded_minor(
                pitch_max, pitch_tolerance.value, thread.pitch
            ),
            "minor_diameter_rounded_min": to_places(
                pitch_min - Decimal("0.616025") * thread.pitch, 3
            ),
        },
    )


def _internal(thread: Thread, notes: tuple[str, ...]) -> Limits:
    grade, position, crest_grade, _ = _parts(thread)
    deviation = _deviation(thread, position)
    pitch_tolerance = _pitch_tolerance(thread, grade)
    minor_tolerance = _crest_tolerance(thread, crest_grade)
    pitch_min = pitch_diameter(thread.diameter, thread.pitch) + deviation.value
    pitch_max = pitch_min + pitch_tolerance.value
    minor_min = minor_diameter(thread.diameter, thread.pitch) + deviation.value
    return Limits(
        thread=thread,
        side="internal",
        allowance=deviation.value,
        major_diameter=Span(to_places(thread.diameter, 3) + deviation.value, None),
        pitch_diameter=Span(pitch_min, pitch_max),
        minor_diameter=Span(minor_min, minor_min + minor_tolerance.value),
        basic=basic_profile(thread),
        tolerances=Tolerances(None, pitch_tolerance.value, minor_tolerance.value),
        sources=_sources(
            ("TD1, minor diameter tolerance", minor_tolerance),
            ("TD2, pitch diameter tolerance", pitch_tolerance),
            ("EI, fundamental deviation", deviation),
        ),
        notes=notes,
        extra={
            **_engagement(thread),
            "major_diameter_max_by_form": to_places(
                pitch_max + Decimal("0.793857") * thread.pitch, 3
            ),
        },
    )


def _engagement(thread: Thread) -> dict[str, Decimal | None]:
    normal = normal_length(thread.diameter, thread.pitch)
    return {"normal_engagement_over": normal.min, "normal_engagement_up_to": normal.max}


def _sources(*used: tuple[str, table.Cell]) -> tuple[Source, ...]:
    held = (table.table_source(place, cell) for place, cell in used if cell is not _NONE)
    return (*held, SERIES_SOURCE, ENGAGEMENT_SOURCE)


def basic_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile, mm: H = 0.8660254 P, height 5/8 H, crest P/8, root P/4.

    Source: ISO 68-1:1998.
    """
    pitch = float(thread.pitch)
    return BasicProfile(
        pitch=thread.pitch,
        lead=thread.lead,
        starts=thread.starts,
        flank_angle_upper=30.0,
        flank_angle_lower=30.0,
        fundamental_height=_H * pitch,
        thread_height=0.625 * _H * pitch,
        crest_width=pitch / 8,
        root_width=pitch / 4,
        root_radius=None,
        major_diameter=to_places(thread.diameter, 3),
        pitch_diameter=pitch_diameter(thread.diameter, thread.pitch),
        minor_diameter=minor_diameter(thread.diameter, thread.pitch),
    )
