"""Buttress inch screw threads of ASME B1.9: pressure flank 7 degrees, clearance flank 45.

Designations: "2-8 BUTT-2A" (external, class 2), "2-8 PUSH-BUTT-3B-LH" (internal, class 3). BUTT
pulls: on the screw the clearance flank leads. PUSH-BUTT pushes: the pressure flank leads.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from flankwise_service.core.threads.common import half_up, plain, side_of, to_places, unknown
from flankwise_service.core.threads.model import (
    BasicProfile,
    Family,
    Limits,
    Side,
    Span,
    Thread,
    Tolerances,
)
from flankwise_service.core.threads.reading import (
    SIZE,
    THREADS_PER_INCH,
    class_missing,
    closest,
    hand_mark,
    inches,
    take_hand,
)
from flankwise_service.core.threads.roots import cube_root
from flankwise_service.core.threads.sizes import size_name
from flankwise_service.core.threads.tables import asme_b1_9 as table

FAMILIES: tuple[Family, ...] = ("buttress",)
EDITIONS: tuple[str, ...] = ("ASME B1.9-1973 (R2017)",)
EXAMPLES: tuple[str, ...] = ("2-8 BUTT-2A", "2-8 PUSH-BUTT-2B")

PRESSURE_FLANK = 7.0
CLEARANCE_FLANK = 45.0
_GRAMMAR = re.compile(
    rf"{SIZE}-{THREADS_PER_INCH} ?(?P<push>PUSH[ -]?)?BUTT(?:[ -](?P<grade>\d[A-Z]))?",
    re.IGNORECASE,
)
_CLASSES: dict[Side, tuple[str, ...]] = {"external": ("2A", "3A"), "internal": ("2B", "3B")}


def read(text: str) -> Thread | None:
    """Return the buttress thread named, None when the text isn't one.

    >>> [read(text).designation for text in ("2.500-8 butt-2a", "2-8 PUSH-BUTT-3B-LH")]
    ['2 1/2-8 BUTT-2A', '2-8 PUSH-BUTT-3B-LH']
    """
    body, hand = take_hand(text)
    found = _GRAMMAR.fullmatch(body)
    if found is None:
        return None
    series = "PUSH-BUTT" if found["push"] else "BUTT"
    diameter, threads = _pairing(text, found, series)
    name = f"{size_name(diameter)}-{plain(threads)} {series}"
    grade = found["grade"].upper() if found["grade"] else None
    offered = [one for names in _CLASSES.values() for one in names]
    if grade and grade not in offered:
        near = [f"{name}-{one}" for one in offered]
        raise unknown(text, f"buttress threads have no class {grade}", near)
    side: Side | None = None
    if grade:
        side = "external" if grade.endswith("A") else "internal"
    return Thread(
        designation=name + (f"-{grade}" if grade else "") + hand_mark(hand),
        family="buttress",
        series=series,
        unit="in",
        diameter=diameter,
        pitch=1 / threads,
        hand=hand,
        thread_class=grade,
        side=side,
        threads_per_inch=threads,
    )


def _pairing(text: str, found: re.Match[str], series: str) -> tuple[Decimal, Decimal]:
    """Return diameter and threads per inch, or refuse a pairing B1.9 has no tolerance for."""
    diameter, threads = inches(found["size"]), inches(found["tpi"])
    if diameter is None or not table.SMALLEST <= diameter <= table.LARGEST:
        near = closest(diameter or Decimal(1), ((d, _first(d, series)) for d in table.PREFERRED))
        raise unknown(text, f"buttress threads run from 0.5 to 24 in, not {found['size']}", near)
    offered = table.range_of(diameter)[2]
    if threads not in offered:
        name = size_name(to_places(diameter, 4))
        near = closest(threads or Decimal(0), ((n, f"{name}-{plain(n)} {series}") for n in offered))
        raise unknown(text, f"B1.9 has no {found['tpi']} threads per inch at {name} in", near)
    return to_places(diameter, 4), threads


def _first(diameter: Decimal, series: str) -> str:
    return f"{size_name(diameter)}-{plain(table.range_of(diameter)[2][0])} {series}"


def designations() -> Iterator[str]:
    """Yield every preferred size of BUTT, then of PUSH-BUTT."""
    for series in ("BUTT", "PUSH-BUTT"):
        for diameter in table.PREFERRED:
            for threads in table.range_of(diameter)[2]:
                yield f"{size_name(diameter)}-{plain(threads)} {series}"


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes to choose from: 2 standard, 3 precision; A external, B internal."""
    return dict(_CLASSES)


def pitch_diameter_tolerance(grade: str, diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return 0.002 D^(1/3) + 0.0173 p^(1/2) for class 2, two thirds of it for class 3, in.

    D is the middle of the diameter range. The same for external major and internal minor.

    >>> half_up(pitch_diameter_tolerance("2", Decimal("0.625"), Decimal("0.05")), 4)
    Decimal('0.0056')
    """
    low, high, _ = table.range_of(diameter)
    by_diameter = table.DIAMETER_INCREMENT * cube_root((low + high) / 2)
    standard = by_diameter + table.PITCH_INCREMENT * pitch.sqrt()
    return standard if grade == "2" else standard * 2 / 3


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return limits of size, in.

    Source: ASME B1.9-1973, sections 6 and 7; Machinery's Handbook 27, pages 1853 to 1855.

    >>> limits(read("1/2-20 BUTT-2A"), None, EDITIONS[0]).major_diameter
    Span(min=Decimal('0.4907'), max=Decimal('0.4963'))
    """
    if thread.thread_class is None:
        known = side_of(thread, side)
        bare = thread.designation.removesuffix("-LH")
        raise class_missing(thread, known, (f"{bare}-{one}" for one in _CLASSES[known]))
    known, pitch = side_of(thread, side), thread.pitch
    tolerance = half_up(pitch_diameter_tolerance(thread.thread_class[0], thread.diameter, pitch), 4)
    allowance = half_up(pitch_diameter_tolerance("3", thread.diameter, pitch), 4)
    spans = (_external if known == "external" else _internal)(thread, tolerance, allowance)
    free_root = known == "external"
    return Limits(
        thread=thread,
        side=known,
        allowance=allowance if known == "external" else Decimal(0),
        major_diameter=spans[0],
        pitch_diameter=spans[1],
        minor_diameter=spans[2],
        basic=basic_profile(thread),
        tolerances=Tolerances(
            tolerance if free_root else None, tolerance, None if free_root else tolerance
        ),
        sources=(
            table.FORM, table.TOLERANCES, table.CLASS_3, table.ALLOWANCES, table.SIZES_SOURCE,
        ),
        notes=_notes(thread, known),
        extra={
            "root_radius_min": half_up(table.ROOT_RADIUS / 2 * pitch, 4),
            "root_radius_basic": half_up(table.ROOT_RADIUS * pitch, 4),
            "thread_height": half_up(table.HEIGHT * pitch, 4),
            "height_of_engagement": half_up(table.ENGAGEMENT * pitch, 4),
            "crest_width": half_up(table.CREST_WIDTH * pitch, 4),
        },
    )  # fmt: skip


def _external(thread: Thread, tolerance: Decimal, allowance: Decimal) -> tuple[Span, Span, Span]:
    diameter, pitch = thread.diameter, thread.pitch
    major = half_up(diameter - allowance, 4)
    middle = half_up(diameter - table.ENGAGEMENT * pitch - allowance, 4)
    minor = half_up(diameter - table.MINOR_HEIGHTS * pitch - allowance, 4)
    least_minor = half_up(middle - tolerance - table.ROOT_FROM_PITCH * pitch, 4)
    return (
        Span(major - tolerance, major),
        Span(middle - tolerance, middle),
        Span(least_minor, minor),
    )


def _internal(thread: Thread, tolerance: Decimal, allowance: Decimal) -> tuple[Span, Span, Span]:
    diameter, pitch = thread.diameter, thread.pitch
    major = half_up(diameter + table.ROOT_EXTRA * pitch, 4)
    middle = half_up(diameter - table.ENGAGEMENT * pitch, 4)
    minor = half_up(diameter - 2 * table.ENGAGEMENT * pitch, 4)
    greatest_major = half_up(middle + tolerance + table.ROOT_FROM_PITCH * pitch, 4)
    return (
        Span(major, greatest_major),
        Span(middle, middle + tolerance),
        Span(minor, minor + tolerance),
    )


def basic_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile, in, as of the screw with its free end up (+Z).

    H = 0.89064 p, thread height 0.66271 p, crest 0.16316 p, root radius 0.07141 p in place of a
    flat 0.0928 p. BUTT: the clearance flank leads, so it faces +Z; PUSH-BUTT the pressure flank.

    >>> basic_profile(read("2-8 BUTT")).flank_angle_upper
    45.0
    """
    pitch = thread.pitch
    pushes = thread.series == "PUSH-BUTT"
    major = half_up(thread.diameter, 4)
    return BasicProfile(
        pitch=pitch,
        lead=thread.lead,
        starts=1,
        flank_angle_upper=PRESSURE_FLANK if pushes else CLEARANCE_FLANK,
        flank_angle_lower=CLEARANCE_FLANK if pushes else PRESSURE_FLANK,
        fundamental_height=float(table.FUNDAMENTAL * pitch),
        thread_height=float(table.HEIGHT * pitch),
        crest_width=float(table.CREST_WIDTH * pitch),
        root_width=float(table.ROOT_FLAT * pitch),
        root_radius=float(table.ROOT_RADIUS * pitch),
        major_diameter=major,
        pitch_diameter=half_up(thread.diameter - table.ENGAGEMENT * pitch, 4),
        minor_diameter=half_up(thread.diameter - table.MINOR_HEIGHTS * pitch, 4),
    )


def _notes(thread: Thread, side: Side) -> tuple[str, ...]:
    leading = "pressure" if thread.series == "PUSH-BUTT" else "clearance"
    found = [
        f"The {leading} flank of the screw leads; confirm the direction of load on the drawing."
    ]
    if side == "internal":
        found.append("The profile is the screw's; in the hole the screw's free end points down.")
    return tuple(found)
