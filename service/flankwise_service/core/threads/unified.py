"""Unified inch screw threads, UN and UNR (ASME B1.1): designation to limits of size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from flankwise_service.core.errors import BadInput, Fault, NoSource
from flankwise_service.core.threads import unified_limits as step
from flankwise_service.core.threads.common import plain, side_of, to_places
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
from flankwise_service.core.threads.tables.asme_b1_1 import PAIRS, SERIES_SOURCE
from flankwise_service.core.threads.unified_base import (
    BY_DIAMETER,
    COARSEST_BY_DIAMETER,
    OLD,
    base_series,
    threads_per_inch,
    tolerance_2a_of,
)
from flankwise_service.core.threads.unified_names import name_of
from flankwise_service.core.threads.unified_text import grammar, read_with, refuse_bare

__all__ = ["EDITIONS", "EXAMPLES", "FAMILIES", "classes", "designations", "limits", "read"]

FAMILIES: tuple[Family, ...] = ("unified",)
EDITIONS: tuple[str, ...] = ("ASME B1.1-2019", "ASME B1.1-2003", "ASME B1.1-1989")
EXAMPLES = ("7/8-14 UNF-2A", "10-24 UNC-2B")
CLASSES: dict[Side, tuple[str, ...]] = {
    "external": ("1A", "2A", "3A"),
    "internal": ("1B", "2B", "3B"),
}
_GRAMMAR = grammar("unified", "R?", CLASSES)
_PRINTED_1989 = {
    (Decimal("0.6250"), Decimal(11)): Decimal("0.0016"),
    (Decimal("0.2160"), Decimal(32)): Decimal("0.0009"),
}
"""Allowances that the 1989 tables print against their own formula (seen): 5/8-11, 12-32."""
_H = 0.8660254037844386
_FLAT = Decimal("0.793857")


def read(text: str) -> Thread | None:
    """Return the Unified thread a cleaned text names; None when it isn't of this grammar.

    Errors: `UnknownThread` for a size, pairing, class or length that isn't in the standard, and
    for a size and pitch without a series.

    >>> read("0.875-14 unf-2a").designation
    '7/8-14 UNF-2A'
    >>> read("M8") is None
    True
    """
    refuse_bare(text)
    return read_with(_GRAMMAR, text)


def designations() -> Iterator[str]:
    """Yield every pairing of the standard's series tables, by diameter, then threads per inch.

    >>> next(designations())
    '0-80 UNF'
    """
    for diameter, threads, series in PAIRS:
        yield name_of((diameter, threads), series)


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes by side; UNR is external only.

    >>> classes(read("7/8-14 UNRF"))["internal"]
    ()
    """
    if thread.rounded_root:
        return {"external": CLASSES["external"], "internal": ()}
    return dict(CLASSES)


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return the limits of size of a Unified thread, in.

    Errors: `BadInput` at /designation when it has no class; `NoSource` for a pitch so fine on its
    diameter that the tolerance swallows the thread. Source: ASME B1.1, `edition`.

    >>> limits(read("7/8-14 UNF-2A"), None, "ASME B1.1-2019").major_diameter
    Span(min=Decimal('0.8631'), max=Decimal('0.8734'))
    """
    if thread.thread_class is None:
        raise _class_missing(thread, side)
    definite = side_of(thread, side)
    found = _external(thread, edition) if definite == "external" else _internal(thread, edition)
    if not _is_thread(found):
        raise _tolerance_too_wide(found)
    if edition != OLD and (differs := _printed_before(found, thread)):
        found = replace(found, notes=(*found.notes, *differs))
    return found


def _is_thread(found: Limits) -> bool:
    """Return whether every thread inside the limits still has flanks at its pitch diameter."""
    middle, minor = found.pitch_diameter, found.minor_diameter
    assert middle.min is not None
    assert middle.max is not None
    assert minor.max is not None
    return minor.max < middle.min and middle.max < found.thread.diameter


def _tolerance_too_wide(found: Limits) -> NoSource:
    thread, tolerance = found.thread, found.tolerances.pitch_diameter
    assert tolerance is not None
    detail = (
        f"the formula's pitch diameter tolerance for {thread.designation}, {plain(tolerance)} in, "
        f"is as large as the thread is deep: the standard isn't meant for this pairing"
    )
    change = "give a coarser pitch, or a class of smaller tolerance"
    return NoSource(Fault("/designation", "tolerance_too_wide", detail, change, thread.designation))


def _class_missing(thread: Thread, side: Side | None) -> BadInput:
    offered = classes(thread)
    names = [f"{thread.designation.split(' LE')[0].removesuffix('-LH')}-{name}"
             for s in (side,) if s for name in offered[s]] or [
        f"{thread.designation.split(' LE')[0].removesuffix('-LH')}-{name}"
        for names in offered.values() for name in names
    ]  # fmt: skip
    detail = f"{thread.designation} has no class, and its limits depend on it"
    change = f"add the class: {', '.join(names)}"
    return BadInput(
        Fault(
            "/designation", "class_missing", detail, change, thread.designation, near=tuple(names)
        )
    )


def _class_and_pitch(thread: Thread) -> tuple[str, Decimal]:
    assert thread.thread_class is not None
    return thread.thread_class, step.pitch_of(threads_per_inch(thread))


def _external(thread: Thread, edition: str) -> Limits:
    name, pitch = _class_and_pitch(thread)
    tolerance_2a, notes = tolerance_2a_of(thread, pitch, edition)
    allowance = step.allowance(name, tolerance_2a)
    if edition == OLD and allowance:
        allowance = _PRINTED_1989.get((thread.diameter, threads_per_inch(thread)), allowance)
    major_tolerance = step.major_tolerance(name, pitch)
    pitch_tolerance = step.pitch_tolerance(name, tolerance_2a)
    major_max = to_places(thread.diameter - allowance, 4)
    pitch_max = to_places(major_max - step.twice_addendum(pitch), 4)
    flat = step.greatest_minor_flat(major_max, pitch)
    of_edition = step.greatest_minor_rounded_1989 if edition == OLD else step.greatest_minor_rounded
    rounded = of_edition(major_max, pitch)
    extra: dict[str, Decimal | None] = {
        "minor_diameter_flat_max": flat,
        "minor_diameter_rounded_max": rounded,
    }
    if name == "2A" and _has_hot_rolled(thread):
        hot_rolled = to_places(major_max - step.major_tolerance("1A", pitch), 4)
        extra["major_diameter_min_hot_rolled"] = hot_rolled
    return Limits(
        thread=thread,
        side="external",
        allowance=allowance,
        major_diameter=Span(to_places(major_max - major_tolerance, 4), major_max),
        pitch_diameter=Span(to_places(pitch_max - pitch_tolerance, 4), pitch_max),
        minor_diameter=Span(None, rounded if thread.rounded_root else flat),
        basic=basic_profile(thread),
        tolerances=Tolerances(major_tolerance, pitch_tolerance, None),
        sources=_sources(edition),
        notes=(*notes, *_class_notes(thread), *_range_notes(thread)),
        extra=extra,
    )


def _has_hot_rolled(thread: Thread) -> bool:
    """Return whether the tables give 2A a wider major limit for unfinished hot-rolled stock.

    UNC, and 8-UN above 1 in at quarters of an inch (seen for 2 1/2 in; the others memory).
    """
    eighth_series = base_series(thread) == "UN" and threads_per_inch(thread) == COARSEST_BY_DIAMETER
    quarters = thread.diameter > 1 and thread.diameter % Decimal("0.25") == 0
    return base_series(thread) == "UNC" or (eighth_series and quarters)


def _internal(thread: Thread, edition: str) -> Limits:
    name, pitch = _class_and_pitch(thread)
    tolerance_2a, notes = tolerance_2a_of(thread, pitch, edition)
    pitch_tolerance = step.pitch_tolerance(name, tolerance_2a)
    pitch_min = to_places(thread.diameter - step.twice_addendum(pitch), 4)
    pitch_max = to_places(pitch_min + pitch_tolerance, 4)
    of_edition = (
        step.greatest_minor_internal_1989 if edition == OLD else step.greatest_minor_internal
    )
    minor = Span(
        step.least_minor_internal(name, thread.diameter, pitch),
        of_edition(name, thread.diameter, pitch),
    )
    return Limits(
        thread=thread,
        side="internal",
        allowance=Decimal("0.0000"),
        major_diameter=Span(to_places(thread.diameter, 4), None),
        pitch_diameter=Span(pitch_min, pitch_max),
        minor_diameter=minor,
        basic=basic_profile(thread),
        tolerances=Tolerances(
            None, pitch_tolerance, step.minor_tolerance(name, thread.diameter, pitch)
        ),
        sources=_sources(edition),
        notes=(*notes, *_class_notes(thread), *_range_notes(thread)),
        extra={"major_diameter_max_by_form": to_places(pitch_max + _FLAT * pitch, 4)},
    )


def basic_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile, in: H = 0.8660254 P, height 5/8 H, crest P/8, root P/4.

    UNR asks for a root radius of at least 0.10825318 P. Source: ASME B1.1-2003, Fig. 1.
    """
    rounded_pitch, pitch = step.pitch_of(threads_per_inch(thread)), float(thread.pitch)
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
        root_radius=_H / 8 * pitch if thread.rounded_root else None,
        major_diameter=to_places(thread.diameter, 4),
        pitch_diameter=to_places(thread.diameter - step.twice_addendum(rounded_pitch), 4),
        minor_diameter=to_places(thread.diameter - step.twice_height(rounded_pitch), 4),
    )


def _sources(edition: str) -> tuple[Source, ...]:
    document, year = edition.rsplit("-", 1)
    place = "formulas of tolerance, allowance and limits of size, in the standard's rounding order"
    if edition == OLD:
        place = "printed tables, by the rounding that fits those in Machinery's Handbook 27"
    return (Source(document, year, place), SERIES_SOURCE)


def _class_notes(thread: Thread) -> tuple[str, ...]:
    small = thread.diameter < Decimal("0.25") or base_series(thread) not in BY_DIAMETER
    if small and thread.thread_class in ("1A", "1B"):
        return ("the standard tabulates class 1 for UNC and UNF from 1/4 in only; by formula here",)
    return ()


def _range_notes(thread: Thread) -> tuple[str, ...]:
    if thread.diameter > 6:
        return ("above 6 in, beyond the standard's tables; by formula here",)
    return ()


def _printed_before(found: Limits, thread: Thread) -> tuple[str, ...]:
    """Return a note for each limit that the 1989 tables print with another figure."""
    before = _external(thread, OLD) if found.side == "external" else _internal(thread, OLD)
    pairs = (
        ("allowance", found.allowance, before.allowance),
        ("major_diameter.min", found.major_diameter.min, before.major_diameter.min),
        ("major_diameter.max", found.major_diameter.max, before.major_diameter.max),
        ("pitch_diameter.min", found.pitch_diameter.min, before.pitch_diameter.min),
        ("pitch_diameter.max", found.pitch_diameter.max, before.pitch_diameter.max),
        ("minor_diameter.max", found.minor_diameter.max, before.minor_diameter.max),
    )
    return tuple(
        f"tables of ASME B1.1-1989 print {name} {was}, by another order of rounding"
        for name, now, was in pairs
        if now != was
    )
