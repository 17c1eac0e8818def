"""UNJ inch screw threads (ASME B1.15): designation to limits of size.

External class 3A is stated by formula; the tolerance on the minor diameter of the internal thread
is in a table that isn't held, so internal limits are refused.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from flankwise_service.core.errors import BadInput, Fault, NoSource
from flankwise_service.core.threads import unified
from flankwise_service.core.threads import unified_limits as step
from flankwise_service.core.threads.common import side_of, to_places
from flankwise_service.core.threads.j_form import (
    basic_profile_j,
    extra_external,
    greatest_minor_external,
    least_minor_internal,
)
from flankwise_service.core.threads.model import Family, Limits, Side, Source, Span, Thread
from flankwise_service.core.threads.tables.asme_b1_1 import SERIES, SERIES_SOURCE
from flankwise_service.core.threads.unified_base import base_series, threads_per_inch
from flankwise_service.core.threads.unified_names import name_of, with_form
from flankwise_service.core.threads.unified_text import grammar, read_with

FAMILIES: tuple[Family, ...] = ("unified_j",)
EDITIONS: tuple[str, ...] = ("ASME B1.15-1995",)
EXAMPLES = ("1/4-28 UNJF-3A",)
CLASSES: dict[Side, tuple[str, ...]] = {"external": ("3A",), "internal": ("3B",)}
_GRAMMAR = grammar("unified_j", "J", CLASSES)
_SOURCE = Source("ASME B1.15", "1995", "UNJ form and limits, rounded as ASME B1.1", "memory")


def read(text: str) -> Thread | None:
    """Return the UNJ thread a cleaned text names; None when it isn't of this grammar.

    Errors: `UnknownThread` for a size, pairing, class or length that isn't in the standard.

    >>> read("1/4-28 unjf-3a").designation
    '1/4-28 UNJF-3A'
    """
    return read_with(_GRAMMAR, text)


def designations() -> Iterator[str]:
    """Yield the pairings of the standard series in the J form.

    >>> next(designations())
    '0-80 UNJF'
    """
    return (name_of(pair, with_form(SERIES[pair], "J")) for pair in sorted(SERIES))


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes: 3A and 3B."""
    return dict(CLASSES)


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return the limits of size of an external UNJ thread of class 3A, in.

    Errors: `BadInput` at /designation when it has no class; `NoSource` for an internal thread.
    Source: ASME B1.15-1995 (memory); major and pitch diameter as class 3A of ASME B1.1.

    >>> limits(read("1/4-28 UNJF-3A"), None, EDITIONS[0]).minor_diameter.max
    Decimal('0.2088')
    """
    if thread.thread_class is None:
        near = tuple(f"{thread.designation}-{name}" for name in ("3A", "3B"))
        detail = f"{thread.designation} has no class, and its limits depend on it"
        change = f"add the class: {', '.join(near)}"
        raise BadInput(
            Fault("/designation", "class_missing", detail, change, thread.designation, near=near)
        )
    if side_of(thread, side) == "internal":
        raise _no_internal(thread)
    return _external(thread)


def _no_internal(thread: Thread) -> NoSource:
    pitch = step.pitch_of(threads_per_inch(thread))
    minor = least_minor_internal(thread.diameter, pitch, 4)
    detail = (
        "the tolerance on the minor diameter of an internal UNJ thread is in a table that isn't "
        f"held here; the least minor diameter is {minor} in"
    )
    change = "take the greatest minor diameter from ASME B1.15 or AS8879"
    return NoSource(Fault("/designation", "no_table", detail, change, thread.designation))


def _external(thread: Thread) -> Limits:
    base = replace(thread, family="unified", series=base_series(thread), rounded_root=False)
    found = unified.limits(base, "external", unified.EDITIONS[0])
    pitch = step.pitch_of(threads_per_inch(thread))
    middle = found.pitch_diameter
    assert middle.min is not None
    assert middle.max is not None
    basic = basic_profile_j(found.basic, 4)
    return replace(
        found,
        thread=thread,
        minor_diameter=Span(None, greatest_minor_external(middle.max, pitch, 4)),
        basic=replace(basic, minor_diameter=to_places(basic.minor_diameter, 4)),
        sources=(_SOURCE, SERIES_SOURCE),
        notes=("the root must be one radius between the limits in extra", *_not_of_1989(found)),
        extra=extra_external(middle.min, pitch, 4),
    )


def _not_of_1989(found: Limits) -> tuple[str, ...]:
    return tuple(note for note in found.notes if not note.startswith("tables of"))
