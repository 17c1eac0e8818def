"""Limits over wires: what the gauge may read, for the wires at hand.

Lengths in the unit of the limits given.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from flankwise_service.core.errors import BadInput, Fault, Impossible, Refusal, join, plain
from flankwise_service.core.gauging import section
from flankwise_service.core.gauging.groove import groove_of
from flankwise_service.core.gauging.helicoid import diameter_touching_at, rest
from flankwise_service.core.gauging.over_wires import (
    Line,
    Method,
    Reading,
    notes_on,
    reading_over,
    refuse_method,
)
from flankwise_service.core.gauging.wire_fit import fit_words, last_fitting, refuse_unfit_wire
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
    use: float | None
    """The best, or the nearest to it that will do; None where no wire will."""


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


def root_at(limits: Sized, pitch_diameter: float) -> float:
    """Return the root diameter of a form as deep below its pitch line as the basic profile.

    The standard's limit of the root may lie nearer the pitch line (see `shallow_root`); a tool of
    full form cuts it this deep.
    """
    basic = limits.basic
    root = basic.minor_diameter if limits.side == "external" else basic.major_diameter
    return pitch_diameter + float(root - basic.pitch_diameter)


def refuse_unfit(limits: Sized, wire: float, method: Method) -> None:
    """Raise Impossible unless a wire can measure the thread over its whole tolerance.

    Over balls inside a hole the gauge doesn't rest on the crest, however small the balls. What to
    change names wires that fit, found on the helicoids themselves.
    """
    try:
        _refuse_unfit(limits, wire, method)
    except Impossible as refusal:
        change = _fitting_words(limits, method)
        raise Impossible(*(replace(fault, change=change) for fault in refusal.faults)) from None


def _fitting_words(limits: Sized, method: Method) -> str:
    def fits(wire: float) -> bool:
        try:
            _refuse_unfit(limits, wire, method)
        except (Impossible, BadInput):
            return False
        return True

    sizes = wire_sizes(limits, method)
    if sizes.use is None:
        return "no wire fits over the whole tolerance: gauge it with thread gauges"
    least = last_fitting(fits, sizes.use, 0.9 * sizes.least)
    greatest = last_fitting(fits, sizes.use, 1.1 * sizes.greatest)
    return fit_words(least, greatest, sizes.use)


def _refuse_unfit(limits: Sized, wire: float, method: Method) -> None:
    groove = groove_of(limits.basic, limits.side)
    crest, standing, flank_end = edges(limits)
    if method == "over balls":
        standing = -math.inf if limits.side == "external" else math.inf
    for size in pitch_limits(limits):
        bottom = root_at(limits, size)
        refuse_unfit_wire(groove, size, wire, crest, flank_end, standing, bottom)


def shallow_root(limits: Sized, wire: float) -> tuple[str, ...]:
    """Return a note where a root left as shallow as its limit allows would hold the wire off."""
    groove = groove_of(limits.basic, limits.side)
    low, high = pitch_limits(limits)
    deep, sign = (low, 1) if limits.side == "external" else (high, -1)
    limit = edges(limits)[2]
    over = sign * (limit - 2 * rest(groove, deep, wire).centre_radius) + wire
    if over <= 0:
        return ()
    return (
        f"a root left as shallow as its limit, {plain(limit, 5)}, can hold this wire off the "
        "flanks by "
        f"up to {plain(over, 2)}: see that the root is cut to full depth",
    )


def wire_sizes(limits: Sized, method: Method | None = None) -> WireSizes:
    """Return best, least and greatest wire for a thread anywhere inside its limits.

    Least: flush with the highest crest (but for over balls), touching where the flank meets the
    root, or clear of the root, in the deepest cut groove. Greatest: touching at the edge of the
    deepest cut crest, in the shallowest. Section formulas; the lead shifts both ends a
    little, so `use` is tried on the helicoids themselves.

    >>> from flankwise_service.core.threads import limits as limits_of
    >>> sizes = wire_sizes(limits_of("7/8-14 UNF-2A"))
    >>> round(sizes.least, 4), round(sizes.best, 4), round(sizes.greatest, 4)
    (0.0379, 0.0412, 0.0653)
    """
    groove = groove_of(limits.basic, limits.side)
    low, high = pitch_limits(limits)
    crest, standing, root = edges(limits)
    shallow, deep = (high, low) if limits.side == "external" else (low, high)
    least = max(
        0.0 if method == "over balls" else section.least_wire(groove, deep, standing),
        section.least_touching_wire(groove, deep, root),
        section.clear_wire(groove, deep, root_at(limits, deep)),
    )
    mean = (low + high) / 2
    exact = diameter_touching_at(groove, mean, mean) if groove.is_symmetric else None
    greatest = section.greatest_wire(groove, shallow, crest)
    best = section.best_wire(groove)
    return WireSizes(best, exact, least, greatest, _usable(limits, best, least, greatest, method))


def _usable(
    limits: Sized, best: float, least: float, greatest: float, method: Method | None
) -> float | None:
    """Return the best wire, or the one a tenth inside the nearest end of the range, if it fits."""
    way: Method = method or ("three wires" if limits.side == "external" else "between balls")
    margin = 0.1 * (greatest - least)
    for wire in (best, min(max(best, least + margin), greatest - margin)):
        try:
            _refuse_unfit(limits, wire, way)
        except (Impossible, BadInput):
            continue
        return wire
    return None


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
    least, greatest = readings_over(limits, wire, method, line)
    return LimitsOver(
        wire,
        method,
        line,
        least,
        greatest,
        wire_sizes(limits, method),
        (EXACT, HANDBOOK),
        notes_on(groove_of(limits.basic, limits.side), method, line) + shallow_root(limits, wire),
    )


def readings_over(
    limits: Sized,
    wire: float,
    method: Method = "three wires",
    line: Line = "square to the axis",
) -> tuple[Reading, Reading]:
    """Return the readings at the least and the greatest pitch diameter; refused as `limits_over`.

    >>> from flankwise_service.core.threads import limits as limits_of
    >>> [round(one.reading, 5) for one in readings_over(limits_of("7/8-14 UNF-2A"), 0.04)]
    [0.87976, 0.88516]
    """
    groove = groove_of(limits.basic, limits.side)
    refuse_method(groove, method, line)
    refuse_unfit(limits, wire, method)
    low, high = pitch_limits(limits)
    least = reading_over(groove, low, wire, method, line)
    return least, reading_over(groove, high, wire, method, line)


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
