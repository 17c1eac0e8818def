"""Limits over wires: what the gauge may read, for the wires at hand.

Lengths in the unit of the limits given.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flankwise_service.core.errors import BadInput, Fault, Impossible, Refusal, join
from flankwise_service.core.gauging import section
from flankwise_service.core.gauging.groove import groove_of
from flankwise_service.core.gauging.helicoid import diameter_touching_at
from flankwise_service.core.gauging.over_wires import (
    Line,
    Method,
    Reading,
    notes_on,
    reading_over,
    refuse_method,
)
from flankwise_service.core.gauging.wire_fit import refuse_unfit_wire
from flankwise_service.core.threads.model import Source
from flankwise_service.core.threads.sized import Sized, or_basic, pitch_limits

EXACT = Source(
    "this project's own derivation",
    "1.0",
    "a ball at rest on two helicoids; agrees with Machinery's Handbook 31, p. 2136",
)
HANDBOOK = Source(
    "NBS Handbook H28; ASME B1.2",
    "1969; 1983",
    "three-wire formula and its lead term, w/2 tan(lead angle)^2 cos a cot a",
    "memory",
)
MOST_WIRES = 200


@dataclass(frozen=True, slots=True)
class WireSizes:
    """Wires (or balls) that can measure a thread anywhere inside its limits."""

    best: float
    """By the section formula; touches at the pitch line where the flanks are equal."""
    best_exact: float | None
    """Touches at the mean pitch diameter, lead regarded; None where the flanks are unequal."""
    least: float
    greatest: float


@dataclass(frozen=True, slots=True)
class LimitsOver:
    """The readings between which the pitch diameter is inside its limits."""

    wire: float
    method: Method
    line: Line
    min: Reading
    max: Reading
    sizes: WireSizes
    sources: tuple[Source, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class UnfitWire:
    """A wire at hand that can't be used here, and why."""

    wire: float
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChosenWire:
    """The wire at hand that is least disturbed by an error of the flank angle."""

    limits: LimitsOver
    angle_sensitivity: float
    """Change of pitch diameter per degree of flank angle, with the wire chosen."""
    others: tuple[float, ...]
    """Further wires at hand that would do, best first."""
    unfit: tuple[UnfitWire, ...]


def edges(limits: Sized) -> tuple[float, float, float]:
    """Return (flank's end at the crest, crest farthest out, flank's end at the root), worst cases.

    Crest: where the crest is cut deepest, the flank ends soonest; a wire must still stand out past
    the highest crest. Root: its limit toward the flank, or the basic size where there's none.
    """
    major, minor, basic = limits.major_diameter, limits.minor_diameter, limits.basic
    if limits.side == "external":
        crest = or_basic(major.min, basic.major_diameter)
        standing = or_basic(major.max, basic.major_diameter)
        return float(crest), float(standing), float(or_basic(minor.max, basic.minor_diameter))
    crest = or_basic(minor.max, basic.minor_diameter)
    standing = or_basic(minor.min, basic.minor_diameter)
    return float(crest), float(standing), float(or_basic(major.min, basic.major_diameter))


def wire_sizes(limits: Sized) -> WireSizes:
    """Return best, least and greatest wire for a thread anywhere inside its limits.

    Least: flush with the highest crest, or touching where the flank meets the root, in the
    deepest cut groove. Greatest: touching at the edge of the deepest cut crest, in the shallowest.
    Section formulas; what the lead changes shows in `best_exact`.
    """
    groove = groove_of(limits.basic, limits.side)
    low, high = pitch_limits(limits)
    crest, standing, root = edges(limits)
    shallow, deep = (high, low) if limits.side == "external" else (low, high)
    least = max(
        section.least_wire(groove, deep, standing),
        section.least_touching_wire(groove, deep, root),
    )
    mean = (low + high) / 2
    exact = diameter_touching_at(groove, mean, mean) if groove.is_symmetric else None
    greatest = section.greatest_wire(groove, shallow, crest)
    return WireSizes(section.best_wire(groove), exact, least, greatest)


def limits_over(
    limits: Sized,
    wire: float,
    method: Method = "three wires",
    line: Line = "square to the axis",
) -> LimitsOver:
    """Return the limits of the reading over the given wire or ball. Exact, handbook beside.

    Refused (Impossible, at /wire) when the wire doesn't touch the flanks over the whole tolerance
    or stands below the crest. No limit is rounded: round min up and max down when printing.

    >>> from flankwise_service.core.threads import limits as limits_of
    >>> over = limits_over(limits_of("7/8-14 UNF-2A"), 0.04)
    >>> round(over.min.reading, 5), round(over.max.reading, 5)
    (0.87976, 0.88516)
    """
    groove = groove_of(limits.basic, limits.side)
    refuse_method(groove, method, line)
    low, high = pitch_limits(limits)
    crest, standing, root = edges(limits)
    for pitch_diameter in (low, high):
        refuse_unfit_wire(groove, pitch_diameter, wire, crest, root, standing)
    return LimitsOver(
        wire,
        method,
        line,
        reading_over(groove, low, wire, method, line),
        reading_over(groove, high, wire, method, line),
        wire_sizes(limits),
        (EXACT, HANDBOOK),
        notes_on(groove, method, line),
    )


def choose_wire(
    limits: Sized,
    wires: Sequence[float],
    method: Method = "three wires",
    line: Line = "square to the axis",
) -> ChosenWire:
    """Return which of the wires at hand to use, its limits, and why others can't be used.

    The best is the one nearest the best wire: an error of the flank angle shifts it least.
    Refused (Impossible) when none of them will do, with every wire's reasons.
    """
    if not 1 <= len(wires) <= MOST_WIRES:
        raise BadInput(
            Fault(
                "/wires",
                "wires_count",
                f"{len(wires)} wires given",
                f"give 1 to {MOST_WIRES} wire diameters",
            )
        )
    groove = groove_of(limits.basic, limits.side)
    refuse_method(groove, method, line)
    fit: dict[float, LimitsOver] = {}
    refused: dict[float, Refusal] = {}
    for wire in dict.fromkeys(wires):
        try:
            fit[wire] = limits_over(limits, wire, method, line)
        except (Impossible, BadInput) as refusal:
            refused[wire] = refusal
    if not fit:
        raise join(refused.values(), Impossible)
    best = section.best_wire(groove)
    order = sorted(fit, key=lambda wire: abs(wire - best))
    chosen = order[0]
    unfit = tuple(
        UnfitWire(wire, tuple(dict.fromkeys(fault.detail for fault in refusal.faults)))
        for wire, refusal in refused.items()
    )
    return ChosenWire(
        fit[chosen], section.angle_sensitivity(groove, chosen), tuple(order[1:]), unfit
    )
