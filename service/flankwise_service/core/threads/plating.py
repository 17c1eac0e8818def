"""Coated threads: the limits to cut before plating so that the coated thread is right.

A coat of thickness t, square to the surface, moves each flank t/cos(angle) along the axis and so
changes the pitch diameter by 2 t (1/cos a1 + 1/cos a2) / (tan a1 + tan a2); equal flanks make
that 2 t / sin a, four times the thickness at 30 degrees (60 degree threads).
Sources: ASME B1.1-2003, section 7, coated threads (memory, four times and the basic size rule);
the general factor is derived from geometry. Lengths in one unit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible, plain
from flankwise_service.core.threads.model import Side, Source, Span
from flankwise_service.core.threads.sized import Sized, pitch_limits

Ceiling = Literal["basic size", "class limits"]
CEILINGS: tuple[Ceiling, ...] = ("basic size", "class limits")
B1_1 = Source("ASME B1.1", "2003", "section 7, coated threads", "memory")
ISO_965 = Source("ISO 965-1", "2013", "coated threads: not past the h or H line", "memory")


@dataclass(frozen=True, slots=True)
class Range:
    """Least and greatest size; None where the standard sets none."""

    min: float | None
    max: float | None


@dataclass(frozen=True, slots=True)
class Sizes:
    """The three diameters of a thread."""

    major_diameter: Range
    pitch_diameter: Range
    minor_diameter: Range


@dataclass(frozen=True, slots=True)
class Plated:
    """What to cut, and what the coat makes of it."""

    side: Side
    pitch_diameter_factor: float
    """Change of pitch diameter over thickness: 4 for 60 degree threads."""
    before: Sizes
    after: Sizes
    """Limits that the coated thread must keep."""
    greatest_thickness_uncut: float
    """Thickest coat that a thread cut to its class limits takes without going past `after`."""
    fits_uncut: bool
    """Whether the class's own allowance takes this coat, so that nothing need be cut deeper."""
    pitch_tolerance_left: float
    """Tolerance of the pitch diameter that remains for cutting."""
    sources: tuple[Source, ...]


def pitch_diameter_factor(flank_angle_upper: float, flank_angle_lower: float) -> float:
    """Return the change of pitch diameter over coat thickness per side; angles in degrees.

    2 (1/cos a1 + 1/cos a2) / (tan a1 + tan a2), which is 2 / sin a for equal flanks.
    Errors: BadInput unless angles are from 0 to 60 degrees and add up to 2 or more.

    >>> round(pitch_diameter_factor(30.0, 30.0), 12)
    4.0
    >>> round(pitch_diameter_factor(14.5, 14.5), 3)
    7.988
    """
    faults = Faults()
    for name, angle in (("upper", flank_angle_upper), ("lower", flank_angle_lower)):
        faults.within(
            f"/flank_angle_{name}", angle, least=0.0, greatest=60.0, name=f"{name} flank angle"
        )
    faults.raise_any(BadInput)
    both = flank_angle_upper + flank_angle_lower
    faults.within("/flank_angle_upper", both, least=2.0, greatest=120.0, name="included angle")
    faults.raise_any(BadInput)
    upper, lower = math.radians(flank_angle_upper), math.radians(flank_angle_lower)
    along_axis = 1 / math.cos(upper) + 1 / math.cos(lower)
    return 2 * along_axis / (math.tan(upper) + math.tan(lower))


def plated(
    limits: Sized, least_thickness: float, greatest_thickness: float, ceiling: Ceiling
) -> Plated:
    """Return the limits before coating, from the coat's thickness per side.

    After coating the thread keeps its class limits, but with `ceiling` "basic size" the class's
    allowance may be used up: maximum material after coating is then the basic size. The thickest
    coat is taken off the maximum material limit and the thinnest off the other.
    Refused (BadInput, Impossible) when thicknesses are out of range or eat up the tolerance.
    """
    _refuse_bad_thickness(limits, least_thickness, greatest_thickness)
    basic = limits.basic
    factor = pitch_diameter_factor(basic.flank_angle_upper, basic.flank_angle_lower)
    after = _after(limits, ceiling)
    thin, thick = least_thickness, greatest_thickness
    sign = 1 if limits.side == "external" else -1
    before = Sizes(
        _uncoated(after.major_diameter, 2.0, thin, thick, sign),
        _uncoated(after.pitch_diameter, factor, thin, thick, sign),
        _uncoated(after.minor_diameter, 2.0, thin, thick, sign),
    )
    left = _left(before, after, factor)
    uncut = 0.0
    if ceiling == "basic size":
        uncut = min(float(limits.allowance) / factor, _taken_off_the_crest(limits) / 2)
    return Plated(
        limits.side,
        factor,
        before,
        after,
        uncut,
        thick <= uncut * (1 + 1e-12),
        left,
        (B1_1, ISO_965),
    )


def coated(sizes: Sizes, factor: float, thickness: float, side: Side) -> Sizes:
    """Return what a coat of one thickness per side makes of a thread's sizes.

    >>> cut = Sizes(Range(0.86, 0.87), Range(0.82, 0.825), Range(None, 0.79))
    >>> round(coated(cut, 4.0, 0.0005, "external").pitch_diameter.max, 4)
    0.827
    """
    grow = thickness if side == "external" else -thickness
    return Sizes(
        _grown(sizes.major_diameter, 2.0 * grow),
        _grown(sizes.pitch_diameter, factor * grow),
        _grown(sizes.minor_diameter, 2.0 * grow),
    )


def _grown(span: Range, by: float) -> Range:
    return Range(
        None if span.min is None else span.min + by, None if span.max is None else span.max + by
    )


def _after(limits: Sized, ceiling: Ceiling) -> Sizes:
    """Return the limits after coating, in which the allowance may be used up or not.

    Crest and root give only what the standard took off them: the screws of Acme and trapezoidal
    threads have their allowance on the pitch diameter alone.
    """
    use = float(limits.allowance) if ceiling == "basic size" else 0.0
    at_crest = min(use, _taken_off_the_crest(limits))
    external = limits.side == "external"

    def widened(span: Span, by: float) -> Range:
        inward, outward = (0.0, by) if external else (by, 0.0)
        return Range(
            None if span.min is None else _neat(float(span.min) - inward),
            None if span.max is None else _neat(float(span.max) + outward),
        )

    return Sizes(
        widened(limits.major_diameter, at_crest),
        widened(limits.pitch_diameter, use),
        widened(limits.minor_diameter, at_crest),
    )


def _taken_off_the_crest(limits: Sized) -> float:
    if limits.side == "external":
        found, basic = limits.major_diameter.max, limits.basic.major_diameter
        return 0.0 if found is None else max(0.0, float(basic) - float(found))
    found, basic = limits.minor_diameter.min, limits.basic.minor_diameter
    return 0.0 if found is None else max(0.0, float(found) - float(basic))


def _neat(size: float) -> float:
    """Return a size without what adding in binary leaves in its last digits."""
    return round(size, 13)


def _uncoated(after: Range, factor: float, thin: float, thick: float, sign: int) -> Range:
    """External sizes shrink before coating and internal ones grow, so thick meets the material."""
    if sign > 0:
        low, high = thin, thick
    else:
        low, high = thick, thin
    return Range(
        None if after.min is None else _neat(after.min - sign * factor * low),
        None if after.max is None else _neat(after.max - sign * factor * high),
    )


def _left(before: Sizes, after: Sizes, factor: float) -> float:
    span, whole = before.pitch_diameter, after.pitch_diameter
    assert span.min is not None
    assert span.max is not None
    assert whole.min is not None
    assert whole.max is not None
    left = _neat(span.max - span.min)
    if left <= 0:
        raise Impossible(
            Fault(
                "/greatest_thickness",
                "coat_varies_too_much",
                f"the coat varies so much that it eats up the pitch diameter tolerance: "
                f"{plain(whole.max - whole.min, 4)} is needed to cut in, and the variation takes "
                f"{plain(whole.max - whole.min - left, 4)}",
                f"hold the coat within {plain((whole.max - whole.min) / factor, 3)} per side, "
                "or take a coarser class",
                whole.max - whole.min - left,
            )
        )
    return left


def _refuse_bad_thickness(limits: Sized, thin: float, thick: float) -> None:
    pitch_limits(limits)
    faults = Faults()
    greatest = 0.05 * float(limits.basic.pitch)
    for name, value in (("least_thickness", thin), ("greatest_thickness", thick)):
        faults.within(
            f"/{name}", value, least=0.0, greatest=greatest, name="coat thickness per side"
        )
    faults.raise_any(BadInput)
    faults.need(
        not thin > thick,
        "/least_thickness",
        "turned_round",
        f"least thickness {plain(thin)} is above the greatest, {plain(thick)}",
        "give the thinner coat as the least thickness",
        thin,
    )
    faults.raise_any(BadInput)
