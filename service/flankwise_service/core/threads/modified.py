"""Unified threads with modified crests: MOD after the class, and the crest's limits beside it.

A drawing may ask for a smaller major diameter of an external thread, or a larger minor diameter of
an internal one; the pitch diameter stays that of the class (ASME B1.1-2003, modified threads;
memory).
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from flankwise_service.core.errors import BadInput, Fault, Faults
from flankwise_service.core.threads.common import plain
from flankwise_service.core.threads.model import Limits, Source, Span, Thread
from flankwise_service.core.units import Unit, convert_exact

FAMILIES = ("unified", "unified_j")
_SOURCE = Source(
    "ASME B1.1", "2003, unchanged 2019", "modified threads: crest limits", "stated by the caller"
)


def crest_span(thread: Thread, least: float | None, greatest: float | None, unit: Unit) -> Span:
    """Return crest limits given in `unit` as the thread's own; None where not given.

    >>> crest_span(Thread("", "unified", "UNF", "in", Decimal(1), Decimal(1)), 12.7, 25.4, "mm").min
    Decimal('0.5')
    """
    ends = (None if end is None else Decimal(repr(end)) for end in (least, greatest))
    least_own, greatest_own = (
        None if end is None else convert_exact(end, unit, thread.unit) for end in ends
    )
    return Span(least_own, greatest_own)


def with_crest(found: Limits, crest: Span) -> Limits:
    """Return limits with the crest diameter between the limits given, and MOD in the designation.

    Crest: major diameter of an external thread, minor of an internal one. Errors: `BadInput` at
    /crest_least, /crest_greatest: not both given, in the wrong order, outside the standard's own
    limit toward the mating thread, or past the pitch diameter; at /designation for a family that
    has no MOD.
    """
    faults = Faults()
    if found.thread.family not in FAMILIES:
        detail = f"{found.thread.designation} can't be modified: MOD is for Unified threads"
        faults.add(Fault("/designation", "no_modified_form", detail, "leave the crest limits out"))
        faults.raise_any(BadInput)
    least, greatest = crest.min, crest.max
    faults.need(least is not None, "/crest_least", "missing", "the least is missing", "give both")
    faults.need(
        greatest is not None, "/crest_greatest", "missing", "the greatest is missing", "give both"
    )
    faults.raise_any(BadInput)
    assert least is not None
    assert greatest is not None
    _check(found, least, greatest, faults)
    faults.raise_any(BadInput)
    return _modified(found, Span(least, greatest))


def _check(found: Limits, least: Decimal, greatest: Decimal, faults: Faults) -> None:
    unit = found.thread.unit
    if least > greatest:
        detail = f"least crest {plain(least)} {unit} is above greatest {plain(greatest)} {unit}"
        faults.add(Fault("/crest_least", "wrong_order", detail, "give the smaller one as least"))
    low, high = _room(found)
    for pointer, value in (("/crest_least", least), ("/crest_greatest", greatest)):
        if not low <= value <= high:
            detail = (
                f"crest {plain(value)} {unit} is outside {plain(low)} to {plain(high)} {unit}, "
                "from the pitch diameter's limit to that of the standard's crest"
            )
            change = f"give a crest from {plain(low)} to {plain(high)} {unit}"
            shown = float(value)
            faults.add(
                Fault(pointer, "out_of_range", detail, change, shown, float(low), float(high), unit)
            )


def _room(found: Limits) -> tuple[Decimal, Decimal]:
    """Return how far the crest may go: never past the standard's limit, nor to the pitch line."""
    if found.side == "external":
        ends = (found.pitch_diameter.max, found.major_diameter.max)
    else:
        ends = (found.minor_diameter.min, found.pitch_diameter.min)
    low, high = ends
    assert low is not None
    assert high is not None
    return low, high


def _modified(found: Limits, crest: Span) -> Limits:
    thread = found.thread
    name = thread.designation if thread.modified else f"{thread.designation} MOD"
    said = "crest limits are those given with MOD; the pitch diameter is the class's"
    changed = replace(
        found,
        thread=replace(thread, designation=name, modified=True),
        sources=(*found.sources, _SOURCE),
        notes=(*found.notes, said),
    )
    assert crest.min is not None
    assert crest.max is not None
    width = crest.max - crest.min
    if found.side == "external":
        tolerances = replace(found.tolerances, major_diameter=width)
        return replace(changed, major_diameter=crest, tolerances=tolerances)
    tolerances = replace(found.tolerances, minor_diameter=width)
    return replace(changed, minor_diameter=crest, tolerances=tolerances)


def crest_missing(thread: Thread) -> BadInput:
    """Return the refusal of a MOD thread whose crest limits aren't given."""
    which = "major" if thread.side == "external" else "minor"
    detail = f"{thread.designation} says MOD: its {which} diameter's limits are on the drawing"
    change = f"give the least and greatest {which} diameter as crest limits"
    return BadInput(
        Fault("/crest_least", "missing", detail, change),
        Fault("/crest_greatest", "missing", detail, change),
    )
