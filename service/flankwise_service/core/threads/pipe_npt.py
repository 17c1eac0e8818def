"""American pipe threads: NPT (ASME B1.20.1), NPTF (B1.20.3), NPSC and NPSM (B1.20.1).

Designations: "1/2-14 NPT", "1/2-14 NPTF", "1/2-14 NPTF-1", "1/2-14 NPSC", "1/2-14 NPSM", with
"-LH" at the end. NPT, NPTF and NPSM are one designation for both sides: ask with a side.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import cache

from flankwise_service.core.threads import npt_limits as formulas
from flankwise_service.core.threads.common import plain, side_of, to_places, unknown
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
    GAUGE_TURN,
    SIZE,
    THREADS_PER_INCH,
    closest,
    hand_mark,
    inches,
    no_source,
    take_hand,
)
from flankwise_service.core.threads.tables import asme_b1_20_1 as table
from flankwise_service.core.threads.tables import asme_b1_20_3 as dryseal

FAMILIES: tuple[Family, ...] = ("npt", "nptf", "nps")
EDITIONS: tuple[str, ...] = ("ASME B1.20.1-1983 (R2006), B1.20.3-1976 (R2018)",)
EXAMPLES: tuple[str, ...] = ("1/2-14 NPT", "1/8-27 NPTF-1")

_FAMILY: dict[str, Family] = {"NPT": "npt", "NPTF": "nptf", "NPSC": "nps", "NPSM": "nps"}
_UNSTATED = {
    "NPSL": "the limits of NPSL (loose-fitting, with locknuts)",
    "NPSF": "the limits of NPSF (dryseal fuel, straight internal)",
    "NPSI": "the limits of NPSI (dryseal intermediate, straight internal)",
    "NPSH": "the limits of NPSH (hose coupling, ASME B1.20.7)",
    "NPTR": "the limits of NPTR (railing joints)",
}
_GRAMMAR = re.compile(
    rf"{SIZE}(?P<od> ?OD)?(?:-{THREADS_PER_INCH})? ?"
    r"(?P<series>NPTF|NPTR|NPT|NPSC|NPSM|NPSL|NPSF|NPSI|NPSH)(?:[ -](?P<grade>[12]))?",
    re.IGNORECASE,
)


def sizes_of(series: str) -> tuple[table.PipeSize, ...]:
    """Return the sizes a series of American pipe thread has, smallest first.

    >>> [size.name for size in sizes_of("NPTF")][-1]
    '3'
    """
    if series == "NPTF":
        return table.NPT[: [size.name for size in table.NPT].index(dryseal.LARGEST) + 1]
    if series == "NPSC":
        return tuple(size for size in table.NPT if size.name in table.NPSC_SIZES)
    if series == "NPSM":
        return tuple(size for size in table.NPT if size.name in table.NPSM)
    return table.NPT


def _name(size: table.PipeSize, series: str) -> str:
    return f"{size.name}-{plain(size.threads_per_inch)} {series}"


def read(text: str) -> Thread | None:
    """Return the American pipe thread named, None when the text isn't one.

    >>> thread = read("1/2 npt-lh")
    >>> thread.designation, thread.threads_per_inch, thread.hand
    ('1/2-14 NPT-LH', Decimal('14'), 'left')
    """
    body, hand = take_hand(text)
    found = _GRAMMAR.fullmatch(body)
    if found is None:
        return None
    series = found["series"].upper()
    if series in _UNSTATED:
        detail = f"{_UNSTATED[series]} can't be stated with a source"
        raise no_source("/designation", detail, "use NPT, NPTF, NPSC or NPSM, or give the limits")
    size = _size(text, found, series)
    grade = found["grade"]
    if grade and series != "NPTF":
        change = f"leave the {grade} out: {_name(size, series)}"
        raise unknown(text, f"{series} has no classes", [_name(size, series)], change)
    return Thread(
        designation=_name(size, series) + (f"-{grade}" if grade else "") + hand_mark(hand),
        family=_FAMILY[series],
        series=series,
        unit="in",
        diameter=size.outside_diameter,
        pitch=1 / size.threads_per_inch,
        hand=hand,
        thread_class=grade,
        side="internal" if series == "NPSC" else None,
        threads_per_inch=size.threads_per_inch,
    )


def _size(text: str, found: re.Match[str], series: str) -> table.PipeSize:
    """Return the pipe size a match names, or refuse it, naming the nearest there are."""
    nominal = inches(found["size"])
    if nominal is None:
        raise unknown(
            text, f"{found['size']} is no size", change="give a pipe size, as 1/2 or 1 1/4"
        )
    by_nominal = _by_nominal(series)
    size = by_nominal.get(nominal)
    if size is None or (found["od"] and "OD" not in size.name):
        near = closest(nominal, ((value, _name(one, series)) for value, one in by_nominal.items()))
        asked = found["size"] + (" OD" if found["od"] else "")
        raise unknown(text, f"{series} has no size {asked}; it has {', '.join(near)}", near)
    given = inches(found["tpi"]) if found["tpi"] else size.threads_per_inch
    if given != size.threads_per_inch:
        right = _name(size, series)
        detail = f"{series} of size {size.name} has {plain(size.threads_per_inch)} threads per inch"
        raise unknown(text, f"{detail}, not {found['tpi']}", [right])
    return size


@cache
def _by_nominal(series: str) -> dict[Decimal, table.PipeSize]:
    return {_nominal(size): size for size in sizes_of(series)}


def _nominal(size: table.PipeSize) -> Decimal:
    nominal = inches(size.name.removesuffix(" OD"))
    assert nominal is not None, size
    return nominal


def designations() -> Iterator[str]:
    """Yield every NPT, NPTF, NPSC and NPSM size."""
    for series in _FAMILY:
        for size in sizes_of(series):
            yield _name(size, series)


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes to choose from: 1 and 2 for NPTF (how truncation is inspected)."""
    if thread.series == "NPSC":
        return {"internal": ()}
    names = ("1", "2") if thread.series == "NPTF" else ()
    return {"external": names, "internal": names}


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return limits of size; of a taper thread at the face of the part (see `npt_limits`).

    Source: ASME B1.20.1, B1.20.3.

    >>> limits(read("1/2-14 NPT"), "external", EDITIONS[0]).pitch_diameter
    Span(min=Decimal('0.75396'), max=Decimal('0.76289'))
    """
    known = side_of(thread, side)
    if thread.series == "NPSC":
        return _coupling_limits(thread)
    if thread.series == "NPSM":
        return _mechanical_joint_limits(thread, known)
    return _taper_limits(thread, known)


def _taper_limits(thread: Thread, side: Side) -> Limits:
    size = table.NPT_BY_DIAMETER[thread.diameter]
    crest, root, shape = _truncation(thread, size)
    major, pitch, minor, tolerances = formulas.face_limits(thread, side, crest, root)
    where = (
        "at the small end of the pipe" if side == "external" else "at the face of the fitting (E1)"
    )
    sources = [
        table.FORMULAS,
        table.HAND_TIGHT_SEEN if size.seen else table.HAND_TIGHT_REMEMBERED,
        table.TRUNCATION,
    ]
    if thread.series == "NPTF":
        sources += [dryseal.DIMENSIONS, dryseal.SOURCE]
    return Limits(
        thread=thread,
        side=side,
        allowance=Decimal(0),
        major_diameter=major,
        pitch_diameter=pitch,
        minor_diameter=minor,
        basic=formulas.basic_profile(thread, side, crest[0], root[0]),
        tolerances=tolerances,
        sources=tuple(sources),
        notes=(
            f"Diameters are {where}; taper 1:16, measured along the axis.",
            "The pitch diameter may lie one turn large or small of basic (gauge tolerance).",
            "Crest and root follow the pitch diameter with the least and greatest truncation.",
            GAUGE_TURN,
        ),
        extra=formulas.lengths(thread) | shape,
    )


def _truncation(
    thread: Thread, size: table.PipeSize
) -> tuple[tuple[Decimal, Decimal], tuple[Decimal, Decimal], dict[str, Decimal | None]]:
    """Return crest and root truncation (min, max) and their printed form, in."""
    pitch = thread.pitch
    if thread.series == "NPTF":
        row = dryseal.TRUNCATION[size.threads_per_inch]
        crest = (row.crest_min * pitch, row.crest_max * pitch)
        root = (row.root_min * pitch, row.root_max * pitch)
    else:
        least = table.TRUNCATION_MIN_PITCHES * pitch
        crest = root = (least, table.TRUNCATION_MAX[size.threads_per_inch])
    heights = [formulas.thread_height(pitch, (a + b) / 2) for a, b in zip(crest, root, strict=True)]
    return (
        crest,
        root,
        {
            "thread_height_max": to_places(heights[0], 5),
            "thread_height_min": to_places(heights[1], 5),
            "crest_truncation_min": to_places(crest[0], 4),
            "crest_truncation_max": to_places(crest[1], 4),
            "root_truncation_min": to_places(root[0], 4),
            "root_truncation_max": to_places(root[1], 4),
        },
    )


def _straight_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile of a straight pipe thread, on the pitch diameter E1."""
    least = table.TRUNCATION_MIN_PITCHES * thread.pitch
    taper = formulas.basic_profile(thread, "internal", least, least)
    return replace(
        taper,
        major_diameter=to_places(taper.major_diameter, 4),
        pitch_diameter=to_places(taper.pitch_diameter, 4),
        minor_diameter=to_places(taper.minor_diameter, 4),
        taper=0.0,
    )


def _coupling_limits(thread: Thread) -> Limits:
    """Return limits of NPSC: the pitch diameter 1 1/2 turns either way of E1."""
    middle = formulas.face_pitch_diameter(thread, "internal")
    spread = Decimal("1.5") * formulas.TAPER * thread.pitch
    low, high = to_places(middle - spread, 4), to_places(middle + spread, 4)
    least_minor = to_places(low - table.THREAD_HEIGHT_PITCHES * thread.pitch, 3)
    return Limits(
        thread=thread,
        side="internal",
        allowance=Decimal(0),
        major_diameter=Span(),
        pitch_diameter=Span(low, high),
        minor_diameter=Span(min=least_minor),
        basic=_straight_profile(thread),
        tolerances=Tolerances(pitch_diameter=high - low),
        sources=(table.COUPLING, table.COUPLING_MINOR),
        notes=("Major and minor diameters vary with the pitch diameter; the form is kept.",),
    )


def _mechanical_joint_limits(thread: Thread, side: Side) -> Limits:
    """Return limits of NPSM as the table prints them."""
    size = table.NPT_BY_DIAMETER[thread.diameter]
    row = table.NPSM[size.name]
    if side == "external":
        major = Span(row.external_major_min, row.external_major_max)
        pitch, minor = Span(row.external_pitch_min, row.external_pitch_max), Span()
    else:
        major = Span()
        pitch = Span(row.internal_pitch_min, row.internal_pitch_max)
        minor = Span(row.internal_minor_min, row.internal_minor_max)
    return Limits(
        thread=thread,
        side=side,
        allowance=row.allowance if side == "external" else Decimal(0),
        major_diameter=major,
        pitch_diameter=pitch,
        minor_diameter=minor,
        basic=_straight_profile(thread),
        tolerances=Tolerances(_width(major), _width(pitch), _width(minor)),
        sources=(table.MECHANICAL_JOINT,),
        notes=("The diameters left empty vary with the pitch diameter; the form is kept.",),
    )


def _width(span: Span) -> Decimal | None:
    return None if span.min is None or span.max is None else span.max - span.min
