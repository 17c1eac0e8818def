"""Pipe threads of Whitworth form: G (ISO 228-1); R, Rc, Rp (ISO 7-1); the BSP names of both.

Designations: "G 1/2" (internal), "G 1/2 A", "G 1/2 B" (external), "R 1/2" (taper external),
"Rc 1/2" (taper internal), "Rp 1/2" (parallel internal), "BSPT 1/2" (taper; ask with a side).
"BSPP 1/2" reads as "G 1/2", "BSPP 1/2 A" as "G 1/2 A". "-LH" at the end for left hand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from functools import cache

from flankwise_service.core.threads import whitworth_form as form
from flankwise_service.core.threads.common import side_of, to_places, unknown
from flankwise_service.core.threads.model import (
    Family,
    Limits,
    Side,
    Span,
    Thread,
    Tolerances,
)
from flankwise_service.core.threads.reading import (
    GAUGE_TURN,
    SIZE,
    THREADS_PER_INCH,
    closest,
    hand_mark,
    inches,
    take_hand,
)
from flankwise_service.core.threads.tables import iso_7, iso_228
from flankwise_service.core.units import MM_PER_INCH_EXACT

FAMILIES: tuple[Family, ...] = ("bsp_parallel", "bsp_taper")
EDITIONS: tuple[str, ...] = ("ISO 228-1:2000, ISO 7-1:1994",)
EXAMPLES: tuple[str, ...] = ("G 1/2 A", "R 1/2")

TAPER = Decimal("0.0625")
_SERIES = {"G": "G", "BSPP": "G", "R": "R", "RC": "Rc", "RP": "Rp", "BSPT": "BSPT", "BSP": "BSP"}
_SIDES: dict[str, Side | None] = {
    "R": "external", "Rc": "internal", "Rp": "internal", "BSPT": None,
}  # fmt: skip
_PREFIXED = re.compile(
    rf"(?P<series>G|BSPP|BSPT|BSP|RC|RP|R) ?{SIZE}(?:-{THREADS_PER_INCH})?(?: ?-?(?P<grade>[AB]))?",
    re.IGNORECASE,
)
_SUFFIXED = re.compile(
    rf"{SIZE}(?:-{THREADS_PER_INCH})? ?(?P<series>BSPP|BSPT|BSP)(?: ?-?(?P<grade>[AB]))?",
    re.IGNORECASE,
)


def sizes_of(series: str) -> tuple[iso_228.ParallelSize, ...]:
    """Return the sizes of a series, smallest first: all of ISO 228-1, or the 15 of ISO 7-1.

    >>> len(sizes_of("G")), len(sizes_of("Rc"))
    (24, 15)
    """
    if series == "G":
        return iso_228.SIZES
    return tuple(size for size in iso_228.SIZES if size.name in iso_7.SIZES)


def read(text: str) -> Thread | None:
    """Return the pipe thread of Whitworth form named, None when the text isn't one.

    >>> [read(text).designation for text in ("g1/2a", "1/2-14 BSPP", "Rc 3/4-LH")]
    ['G 1/2 A', 'G 1/2', 'Rc 3/4-LH']
    """
    body, hand = take_hand(text)
    found = _PREFIXED.fullmatch(body) or _SUFFIXED.fullmatch(body)
    if found is None:
        return None
    series = _SERIES[found["series"].upper()]
    size = _size(text, found, series)
    grade = found["grade"].upper() if found["grade"] else None
    if series == "BSP":
        near = [f"{name} {size.name}" for name in _named(size)]
        raise unknown(text, "BSP alone doesn't say parallel or taper", near)
    if grade and series != "G":
        raise unknown(text, f"{series} has no class {grade}", [f"{series} {size.name}"])
    side: Side | None = _SIDES[series] if series != "G" else ("external" if grade else "internal")
    return Thread(
        designation=f"{series} {size.name}" + (f" {grade}" if grade else "") + hand_mark(hand),
        family="bsp_parallel" if series in ("G", "Rp") else "bsp_taper",
        series=series,
        unit="mm",
        diameter=size.major,
        pitch=MM_PER_INCH_EXACT / size.threads_per_inch,
        hand=hand,
        thread_class=grade,
        side=side,
        threads_per_inch=Decimal(size.threads_per_inch),
    )


def _named(size: iso_228.ParallelSize) -> tuple[str, ...]:
    return ("G", "R", "Rc", "Rp") if size.name in iso_7.SIZES else ("G",)


def _size(text: str, found: re.Match[str], series: str) -> iso_228.ParallelSize:
    """Return the size a match names, or refuse it, naming the nearest there are."""
    nominal = inches(found["size"])
    if nominal is None:
        raise unknown(text, f"{found['size']} is no size", change="give a size, as 1/2 or 1 1/4")
    shown = "G" if series == "BSP" else series
    sizes = _by_nominal(shown)
    size = sizes.get(nominal)
    if size is None:
        near = closest(nominal, ((value, f"{shown} {one.name}") for value, one in sizes.items()))
        raise unknown(text, f"{shown} has no size {found['size']}; it has {', '.join(near)}", near)
    if found["tpi"] and inches(found["tpi"]) != size.threads_per_inch:
        detail = f"{shown} {size.name} has {size.threads_per_inch} threads per inch"
        raise unknown(text, f"{detail}, not {found['tpi']}", [f"{shown} {size.name}"])
    return size


@cache
def _by_nominal(series: str) -> dict[Decimal, iso_228.ParallelSize]:
    return {_nominal(size): size for size in sizes_of(series)}


def _nominal(size: iso_228.ParallelSize) -> Decimal:
    nominal = inches(size.name)
    assert nominal is not None, size
    return nominal


def designations() -> Iterator[str]:
    """Yield every size of G, R, Rc, Rp and BSPT."""
    for series in ("G", *_SIDES):
        for size in sizes_of(series):
            yield f"{series} {size.name}"


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes to choose from: A and B for external G."""
    if thread.series == "G":
        return {"external": ("A", "B"), "internal": ()}
    if thread.series == "BSPT":
        return {"external": (), "internal": ()}
    return {"external" if thread.series == "R" else "internal": ()}


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return limits of size, mm; of a taper thread at the face of the part.

    Source: ISO 228-1:2000, Table 1; ISO 7-1:1994, Table 1 (memory).

    >>> limits(read("G 1/2 A"), None, EDITIONS[0]).pitch_diameter
    Span(min=Decimal('19.651'), max=Decimal('19.793'))
    """
    known = side_of(thread, side)
    size = iso_228.BY_MAJOR[thread.diameter]
    if thread.series == "G":
        return _parallel_limits(thread, known, size)
    if thread.series == "Rp":
        return _jointing_parallel_limits(thread, size)
    return _taper_limits(thread, known, size)


def _parallel_limits(thread: Thread, side: Side, size: iso_228.ParallelSize) -> Limits:
    """Return limits of G: ISO 228-1, Table 1."""
    tolerance = size.pitch_tolerance * (2 if thread.thread_class == "B" else 1)
    if side == "external":
        major = Span(size.major - size.major_tolerance, size.major)
        pitch = Span(size.pitch_diameter - tolerance, size.pitch_diameter)
        minor = Span(max=size.minor)
        tolerances = Tolerances(size.major_tolerance, tolerance)
    else:
        major = Span(min=size.major)
        pitch = Span(size.pitch_diameter, size.pitch_diameter + tolerance)
        minor = Span(size.minor, size.minor + size.minor_tolerance)
        tolerances = Tolerances(None, tolerance, size.minor_tolerance)
    return Limits(
        thread=thread,
        side=side,
        allowance=Decimal(0),
        major_diameter=major,
        pitch_diameter=pitch,
        minor_diameter=minor,
        basic=form.profile(thread.pitch, size.major, size.pitch_diameter, size.minor),
        tolerances=tolerances,
        sources=(iso_228.SOURCE,),
        notes=("Joints are not made pressure-tight on these threads.",),
        extra={"thread_height": size.height},
    )


def _jointing_parallel_limits(thread: Thread, size: iso_228.ParallelSize) -> Limits:
    """Return limits of Rp: every diameter within +-T of basic."""
    spread = iso_7.SIZES[size.name].parallel_tolerance
    return Limits(
        thread=thread,
        side="internal",
        allowance=Decimal(0),
        major_diameter=Span(size.major - spread, size.major + spread),
        pitch_diameter=Span(size.pitch_diameter - spread, size.pitch_diameter + spread),
        minor_diameter=Span(size.minor - spread, size.minor + spread),
        basic=form.profile(thread.pitch, size.major, size.pitch_diameter, size.minor),
        tolerances=Tolerances(2 * spread, 2 * spread, 2 * spread),
        sources=(iso_228.SOURCE, iso_7.SOURCE),
        extra={"thread_height": size.height},
    )


def _taper_limits(thread: Thread, side: Side, size: iso_228.ParallelSize) -> Limits:
    """Return limits of R and Rc at the face: the gauge plane shifted along a taper of 1:16."""
    row = iso_7.SIZES[size.name]
    external = side == "external"
    shift = -TAPER * row.gauge_length if external else TAPER * thread.pitch / 2
    axial = row.gauge_length_tolerance if external else row.internal_tolerance
    spread = TAPER * axial

    def around(basic: Decimal) -> Span:
        return Span(to_places(basic + shift - spread, 3), to_places(basic + shift + spread, 3))

    at_face = [
        to_places(basic + shift, 3) for basic in (size.major, size.pitch_diameter, size.minor)
    ]
    total = to_places(2 * spread, 3)
    plane = "the gauge length from" if external else "half a pitch behind"
    return Limits(
        thread=thread,
        side=side,
        allowance=Decimal(0),
        major_diameter=around(size.major),
        pitch_diameter=around(size.pitch_diameter),
        minor_diameter=around(size.minor),
        basic=form.profile(thread.pitch, at_face[0], at_face[1], at_face[2], float(TAPER)),
        tolerances=Tolerances(total, total, total),
        sources=(iso_228.SOURCE, iso_7.SOURCE, iso_7.GAUGE_PLANE),
        notes=(
            f"Diameters are at the face of the part; the gauge plane is {plane} it, taper 1:16.",
            "ISO 7-1 sets the place of the gauge plane along the axis; these diameters follow.",
            GAUGE_TURN,
        ),
        extra=_taper_extra(thread.pitch, row, size, external),
    )


def _taper_extra(
    pitch: Decimal, row: iso_7.TaperSize, size: iso_228.ParallelSize, external: bool
) -> dict[str, Decimal | None]:
    """Return gauge diameters and lengths by their trade names, mm; names in `_turns` are counts.

    Those of an internal thread that begin with `external_` are its mate's, which it must take in.
    """
    found: dict[str, Decimal | None] = {
        "thread_height": size.height,
        "major_diameter_at_gauge_plane": size.major,
        "pitch_diameter_at_gauge_plane": size.pitch_diameter,
        "minor_diameter_at_gauge_plane": size.minor,
        "diameter_increase_per_thread": to_places(TAPER * pitch, 3),
    }
    if not external:
        return found | {
            "gauge_plane_tolerance": row.internal_tolerance,
            "gauge_plane_tolerance_turns": to_places(row.internal_tolerance / pitch, 2),
            "external_gauge_length_max": row.gauge_length + row.gauge_length_tolerance,
            "external_useful_thread_length": row.useful_length,
        }
    gauge, tolerance = row.gauge_length, row.gauge_length_tolerance
    return found | {
        "gauge_length": gauge,
        "gauge_length_tolerance": tolerance,
        "gauge_length_min": gauge - tolerance,
        "gauge_length_max": gauge + tolerance,
        "useful_thread_length": row.useful_length,
        "useful_thread_length_at_gauge_length_max": row.useful_length + tolerance,
        "useful_thread_length_at_gauge_length_min": row.useful_length - tolerance,
        "gauge_length_turns": to_places(gauge / pitch, 2),
        "gauge_length_tolerance_turns": to_places(tolerance / pitch, 2),
        "useful_thread_length_turns": to_places(row.useful_length / pitch, 2),
    }
