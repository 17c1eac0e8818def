"""MJ metric screw threads (ISO 5855): designation to limits of size, millimetres.

Pitch and crest tolerances are those of ISO 965-1, the root is the J form.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from flankwise_service.core.errors import BadInput, Fault, NoSource
from flankwise_service.core.threads import iso_metric
from flankwise_service.core.threads.common import side_of, unknown
from flankwise_service.core.threads.iso_metric_text import names_at, read_with
from flankwise_service.core.threads.j_form import (
    basic_profile_j,
    extra_external,
    greatest_minor_external,
    least_minor_internal,
)
from flankwise_service.core.threads.model import Family, Limits, Side, Source, Span, Thread
from flankwise_service.core.threads.tables.iso_261 import FINE

FAMILIES: tuple[Family, ...] = ("metric_j",)
EDITIONS: tuple[str, ...] = ("ISO 5855-1:1999",)
EXAMPLES = ("MJ6x1-4h6h",)
CLASSES: dict[Side, tuple[str, ...]] = {
    "external": ("4h6h", "4g6g"),
    "internal": ("4H5H", "4H6H"),
}
"""4H6H is for the small sizes of ISO 5855, 4g6g of ASME B1.21M (memory)."""
LEAST, GREATEST = Decimal("1.6"), Decimal(39)
"""Diameters of the list, ISO 5855-2 (memory); others are read as special."""
_SOURCE = Source("ISO 5855-1", "1999", "MJ form; tolerances by ISO 965-1", "memory")


def read(text: str) -> Thread | None:
    """Return the MJ thread a cleaned text names; None when it isn't of this grammar.

    Errors: `UnknownThread` for a size, pitch or class that isn't in the standards.

    >>> read("mj6 x 1 - 4h6h").designation
    'MJ6x1-4h6h'
    """
    thread = read_with("MJ", text)
    if thread is None or thread.thread_class is None:
        return thread
    assert thread.side is not None
    if thread.thread_class not in CLASSES[thread.side]:
        offered = ", ".join(name for names in CLASSES.values() for name in names)
        detail = f"{thread.thread_class} is not a class of MJ threads"
        raise unknown(text, detail, change=f"use one of {offered}", code="unknown_class")
    return thread


def designations() -> Iterator[str]:
    """Yield the sizes of ISO 5855-2, coarse first at each diameter.

    >>> next(designations())
    'MJ1.6x0.35'
    """
    for diameter in FINE:
        if LEAST <= diameter <= GREATEST:
            yield from names_at("MJ", diameter)


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes by side that the tables of ISO 965-1 hold for this pitch.

    >>> classes(read("MJ6x1"))["internal"]
    ('4H5H', '4H6H')
    """
    held = iso_metric.classes(thread)
    grades = {name[0] for name in held["internal"]}
    return {
        "external": tuple(name for name in CLASSES["external"] if _held_external(thread, name)),
        "internal": tuple(name for name in CLASSES["internal"] if {"4", name[2]} <= grades),
    }


def _held_external(thread: Thread, name: str) -> bool:
    return {f"4{name[1]}", f"6{name[1]}"} <= set(iso_metric.classes(thread)["external"])


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return the limits of size of an MJ thread, mm.

    Errors: `BadInput` at /designation when it has no class; `NoSource` where ISO 965-1 holds no
    such grade. Source: ISO 5855-1:1999 (memory), tolerances of ISO 965-1.

    >>> limits(read("MJ6x1-4H5H"), None, EDITIONS[0]).minor_diameter
    Span(min=Decimal('5.026'), max=Decimal('5.216'))
    """
    if thread.thread_class is None:
        raise _class_missing(thread)
    definite = side_of(thread, side)
    offered = classes(thread)[definite]
    if thread.thread_class not in offered:
        detail = f"ISO 965-1 holds no tolerances of {thread.thread_class} for this size"
        change = f"use {', '.join(offered)}" if offered else "no class of MJ is held for this size"
        raise NoSource(Fault("/designation", "no_tolerance", detail, change, thread.designation))
    found = iso_metric.limits(thread, definite, iso_metric.EDITIONS[0])
    return _external(found) if definite == "external" else _internal(found)


def _class_missing(thread: Thread) -> BadInput:
    near = tuple(f"{thread.designation}-{name}" for name in ("4h6h", "4H5H"))
    detail = f"{thread.designation} has no class, and MJ has no default one"
    change = f"add the class, as {' or '.join(near)}"
    return BadInput(
        Fault("/designation", "class_missing", detail, change, thread.designation, near=near)
    )


def _external(found: Limits) -> Limits:
    pitch, middle = found.thread.pitch, found.pitch_diameter
    assert middle.min is not None
    assert middle.max is not None
    return replace(
        found,
        minor_diameter=Span(None, greatest_minor_external(middle.max, pitch, 3)),
        basic=basic_profile_j(found.basic, 3),
        sources=(_SOURCE, *found.sources),
        notes=("the root must be one radius between the limits in extra", *found.notes),
        extra=extra_external(middle.min, pitch, 3),
    )


def _internal(found: Limits) -> Limits:
    tolerance = found.tolerances.minor_diameter
    assert tolerance is not None
    least = least_minor_internal(found.thread.diameter, found.thread.pitch, 3)
    return replace(
        found,
        minor_diameter=Span(least, least + tolerance),
        basic=basic_profile_j(found.basic, 3),
        sources=(_SOURCE, *found.sources),
    )
