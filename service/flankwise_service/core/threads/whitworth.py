"""British Standard Whitworth and Fine (BS 84): BSW and BSF, 55 degrees.

Designations: "1/2-12 BSW close", "1/2-12 BSW free" (screws), "1/2-12 BSW normal" (nuts), and
"1/2-12 BSW medium bolt", "1/2-12 BSW medium nut"; plain "medium" needs a side. "-LH" at the end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from flankwise_service.core.threads import whitworth_form as form
from flankwise_service.core.threads.common import half_up, plain, side_of, unknown
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
    no_source,
    take_hand,
)
from flankwise_service.core.threads.roots import cube_root
from flankwise_service.core.threads.tables import bs_84 as table

FAMILIES: tuple[Family, ...] = ("whitworth",)
EDITIONS: tuple[str, ...] = ("BS 84:2007",)
EXAMPLES: tuple[str, ...] = ("1/2-12 BSW medium bolt", "1/2-16 BSF normal")

_GRAMMAR = re.compile(
    rf"{SIZE}(?: ?in\.?)?(?: ?- ?{THREADS_PER_INCH})? ?B\.?S\.?(?P<kind>[WF])\.?"
    r"(?:[ ,-]+(?P<grade>close|medium|free|normal))?(?:[ ,-]+\(?(?P<part>bolt|screw|nut)\)?)?",
    re.IGNORECASE,
)
_CLASSES: dict[Side, tuple[str, ...]] = {
    "external": ("close", "medium", "free"),
    "internal": ("medium", "normal"),
}
_BY_DIAMETER = {
    series: {diameter: (name, threads) for name, (diameter, threads) in sizes.items()}
    for series, sizes in table.SERIES.items()
}


def read(text: str) -> Thread | None:
    """Return the Whitworth thread named, None when the text isn't one.

    >>> [read(text).designation for text in ("1/2 BSW", "1/4 in.-20 B.S.W. close (bolt)-LH")]
    ['1/2-12 BSW', '1/4-20 BSW close-LH']
    """
    body, hand = take_hand(text)
    found = _GRAMMAR.fullmatch(body)
    if found is None:
        return None
    series = "BS" + found["kind"].upper()
    size, diameter, threads = _size(text, found, series)
    grade = found["grade"].lower() if found["grade"] else None
    name = f"{size}-{plain(threads)} {series}"
    side = _side(text, name, grade, found["part"])
    word = {None: "", "external": " bolt", "internal": " nut"}[side]
    if grade is not None:
        word = f" {grade}" + (word if grade == "medium" else "")
    return Thread(
        designation=name + word + hand_mark(hand),
        family="whitworth",
        series=series,
        unit="in",
        diameter=diameter,
        pitch=1 / threads,
        hand=hand,
        thread_class=grade,
        side=side,
        threads_per_inch=threads,
    )


def _side(text: str, name: str, grade: str | None, part: str | None) -> Side | None:
    """Return the side that class and part name, or refuse a class the part doesn't have."""
    said: Side | None = None
    if part:
        said = "internal" if part.lower() == "nut" else "external"
    if grade is None:
        return said
    having: list[Side] = [one for one, names in _CLASSES.items() if grade in names]
    if said and said not in having:
        near = [f"{name} {one}" for one in _CLASSES[said]]
        if grade == "close":
            detail = (
                f"close class nuts are for special uses; no figure for {name} close nut is held"
            )
            raise no_source("/designation", detail, f"use {', '.join(near)}", near)
        raise unknown(text, f"a {part} has no class {grade}", near)
    return said or (having[0] if len(having) == 1 else None)


def _size(text: str, found: re.Match[str], series: str) -> tuple[str, Decimal, Decimal]:
    """Return size name, exact diameter and threads per inch, or refuse what isn't in the series."""
    asked = inches(found["size"])
    if asked is None:
        raise unknown(text, f"{found['size']} is no size", change="give a size, as 1/2 or 1 1/4")
    by_diameter = _BY_DIAMETER[series]
    if asked not in by_diameter:
        near = closest(
            asked, ((d, f"{n}-{plain(t)} {series}") for d, (n, t) in by_diameter.items())
        )
        raise unknown(text, f"{series} has no size {found['size']}; it has {', '.join(near)}", near)
    name, threads = by_diameter[asked]
    if found["tpi"] and inches(found["tpi"]) != threads:
        detail = f"{series} {name} has {plain(threads)} threads per inch, not {found['tpi']}"
        raise unknown(text, detail, _at_diameter(asked))
    return name, asked, threads


def _at_diameter(diameter: Decimal) -> list[str]:
    """Return the designations of every series at a diameter."""
    return [
        f"{name}-{plain(threads)} {series}"
        for series, sizes in table.SERIES.items()
        for name, (held, threads) in sizes.items()
        if held == diameter
    ]


def designations() -> Iterator[str]:
    """Yield every size of BSW, then of BSF."""
    for series, sizes in table.SERIES.items():
        for name, (_, threads) in sizes.items():
            yield f"{name}-{plain(threads)} {series}"


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes to choose from, as the designation writes them."""
    return dict(_CLASSES)


def engagement(thread: Thread) -> Decimal:
    """Return the length of engagement that the tolerance is for: one diameter, in (memory)."""
    return thread.diameter


def effective_tolerance(thread: Thread) -> Decimal:
    """Return T = 0.002 D^(1/3) + 0.003 L^(1/2) + 0.005 p^(1/2), of medium class, in.

    >>> half_up(effective_tolerance(read("1/2-12 BSW")), 4)
    Decimal('0.0052')
    """
    by_diameter = Decimal("0.002") * cube_root(thread.diameter)
    by_length = Decimal("0.003") * engagement(thread).sqrt()
    return by_diameter + by_length + Decimal("0.005") * thread.pitch.sqrt()


def nut_minor_tolerance(threads_per_inch: Decimal, pitch: Decimal) -> Decimal:
    """Return 0.2 p + 0.004 (26 threads and finer), 0.005 (to 22), 0.007 (20 and coarser), in.

    >>> half_up(nut_minor_tolerance(Decimal(12), 1 / Decimal(12)), 4)
    Decimal('0.0237')
    """
    if threads_per_inch >= 26:
        extra = Decimal("0.004")
    else:
        extra = Decimal("0.005") if threads_per_inch >= 22 else Decimal("0.007")
    return Decimal("0.2") * pitch + extra


def allowance(thread: Thread) -> Decimal:
    """Return the allowance of a screw: 0.3 T in medium and free to 3/4 in, else zero, in."""
    if thread.thread_class == "close" or thread.diameter > table.ALLOWANCE_TO:
        return Decimal(0)
    return half_up(table.ALLOWANCE_SHARE * effective_tolerance(thread), 4)


def basic_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile, in: effective and minor diameter D - h, D - 2 h, to 4 decimals.

    >>> basic_profile(read("1/2-12 BSW")).pitch_diameter
    Decimal('0.4466')
    """
    depth = form.depth(thread.pitch)
    return form.profile(
        thread.pitch,
        half_up(thread.diameter, 4),
        half_up(thread.diameter - depth, 4),
        half_up(thread.diameter - 2 * depth, 4),
    )


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return limits of size, in; "pitch diameter" is the British effective diameter.

    Source: BS 84:2007, Annex B (memory).

    >>> limits(read("1/2-12 BSW medium nut"), None, EDITIONS[0]).pitch_diameter
    Span(min=Decimal('0.4466'), max=Decimal('0.4518'))
    """
    known = side_of(thread, side)
    if thread.thread_class is None:
        bare = f"{thread.designation.split(' BS')[0]} {thread.series}"
        raise class_missing(thread, known, (f"{bare} {one}" for one in _CLASSES[known]))
    return _bolt_limits(thread) if known == "external" else _nut_limits(thread)


def _bolt_limits(thread: Thread) -> Limits:
    assert thread.thread_class is not None
    basic, gap = basic_profile(thread), allowance(thread)
    effective = table.EFFECTIVE_SHARE[thread.thread_class] * effective_tolerance(thread)
    root = thread.pitch.sqrt()
    share = Decimal("0.013") if thread.thread_class == "close" else Decimal("0.02")
    major_tolerance = half_up(effective + Decimal("0.01") * root, 4)
    minor_tolerance = half_up(effective + share * root, 4)
    tolerance = half_up(effective, 4)
    tops = [d - gap for d in (basic.major_diameter, basic.pitch_diameter, basic.minor_diameter)]
    return _limits(
        thread,
        "external",
        gap,
        (
            Span(tops[0] - major_tolerance, tops[0]),
            Span(tops[1] - tolerance, tops[1]),
            Span(tops[2] - minor_tolerance, tops[2]),
        ),
        Tolerances(major_tolerance, tolerance, minor_tolerance),
    )


def _nut_limits(thread: Thread) -> Limits:
    assert thread.thread_class is not None
    assert thread.threads_per_inch is not None
    basic = basic_profile(thread)
    tolerance = half_up(table.EFFECTIVE_SHARE[thread.thread_class] * effective_tolerance(thread), 4)
    minor_tolerance = half_up(nut_minor_tolerance(thread.threads_per_inch, thread.pitch), 4)
    return _limits(
        thread,
        "internal",
        Decimal(0),
        (
            Span(min=basic.major_diameter),
            Span(basic.pitch_diameter, basic.pitch_diameter + tolerance),
            Span(basic.minor_diameter, basic.minor_diameter + minor_tolerance),
        ),
        Tolerances(None, tolerance, minor_tolerance),
    )


def _limits(
    thread: Thread,
    side: Side,
    gap: Decimal,
    spans: tuple[Span, Span, Span],
    tolerances: Tolerances,
) -> Limits:
    return Limits(
        thread=thread,
        side=side,
        allowance=gap,
        major_diameter=spans[0],
        pitch_diameter=spans[1],
        minor_diameter=spans[2],
        basic=basic_profile(thread),
        tolerances=tolerances,
        sources=(table.FORM, table.SIZES_SOURCE, table.CLASSES_SOURCE, table.TOLERANCES),
        notes=(
            "Tolerances are for an engagement of one diameter, recalled from BS 84, not read.",
            "Printed lists of basic sizes differ by 0.0001 where the depth was rounded first.",
        ),
        extra={
            "thread_depth": half_up(form.depth(thread.pitch), 4),
            "crest_radius": half_up(form.crest_radius(thread.pitch), 4),
        },
    )
