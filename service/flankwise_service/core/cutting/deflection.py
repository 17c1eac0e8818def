"""How far the cutter bends, as a stepped cantilever, and what that does to the thread.

Bending only; the load acts at the tooth. Spindle, holder and workpiece give way too and are not
in these figures, so they are least values. Everything in mm, N and N/mm2.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from flankwise_service.core.cutting.cutter import Cutter, Substance
from flankwise_service.core.cutting.ranges import refuse_outside
from flankwise_service.core.errors import BadInput, Fault, Faults
from flankwise_service.core.threads.model import Source
from flankwise_service.core.units import Unit, to_mm

MODULUS: dict[Substance, tuple[float, Source]] = {
    "carbide": (
        600_000.0,
        Source(
            "cemented carbide, 8 to 10 % cobalt", "", "Young's modulus 580 to 630 GPa", "memory"
        ),
    ),
    "high speed steel": (
        210_000.0,
        Source("high speed steel", "", "Young's modulus about 210 GPa", "memory"),
    ),
}
"""Young's modulus in N/mm2."""

LEAST_SECTION_MM = 1e-3
"""A shorter piece of a cutter is none."""


class Section(NamedTuple):
    """A round piece of the cutter, counted from the load toward the holder."""

    length_mm: float
    diameter_mm: float


@dataclass(frozen=True, slots=True)
class Deflection:
    """How far the cutter bends at the tooth and what that makes of the pitch diameter."""

    deflection_mm: float
    """Positive: off the wall."""
    pitch_diameter_error_mm: float
    """Twice the deflection, with the sign a gauge sees: an internal thread off the wall is small,
    an external one is large."""
    stiffness_n_per_mm: float
    modulus_n_per_mm2: float
    modulus_source: Source


def bending_compliance(sections: tuple[Section, ...], modulus_n_per_mm2: float) -> float:
    """Return the deflection in mm per N at the end of a stepped cantilever.

    Sum of (x2^3 - x1^3)/(3 E I), x from the load, I = pi d^4/64. For two sections this is
    F/(3E) (Ln^3/In + (L^3 - Ln^3)/Is). Source: beam theory, unit-load integral of x^2/(E I).

    >>> round(bending_compliance((Section(30.0, 6.0),), 600_000.0) * 1000, 5)
    0.23579
    """
    faults = Faults()
    faults.need(
        bool(sections),
        "/sections",
        "needed",
        "a cutter without any length can't bend",
        "state neck or shank by length and diameter",
    )
    for place, section in enumerate(sections):
        for name, value, least in (
            ("length_mm", section.length_mm, LEAST_SECTION_MM),
            ("diameter_mm", section.diameter_mm, 0.01),
        ):
            faults.within(
                f"/sections/{place}/{name}",
                value,
                least=least,
                greatest=5000,
                name=name.removesuffix("_mm"),
                unit="mm",
            )
    faults.within("/modulus_n_per_mm2", modulus_n_per_mm2, least=1000, greatest=2e6, name="modulus")
    faults.raise_any(BadInput)
    total, begin = 0.0, 0.0
    for section in sections:
        end = begin + section.length_mm
        inertia = math.pi * section.diameter_mm**4 / 64
        total += (end**3 - begin**3) / (3 * float(modulus_n_per_mm2) * inertia)
        begin = end
    return total


def cutter_sections(cutter: Cutter, unit: Unit) -> tuple[Section, ...]:
    """Return neck and shank of a cutter as sections in mm, from the lowest tooth to the holder.

    Needs `overhang` and `neck_diameter` or `shank_diameter`; what is missing is refused, not
    guessed. Without a neck the shank runs down to the tooth; without `reach` or `shank_diameter`
    the neck runs up to the holder, which errs to the weak side.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> mill = Cutter(8.0, 4, Tooth(30, 30, 0.2, 1), neck_diameter=5.0, reach=20.0,
    ...     shank_diameter=8.0, overhang=40.0)
    >>> cutter_sections(mill, "mm")
    (Section(length_mm=20.0, diameter_mm=5.0), Section(length_mm=20.0, diameter_mm=8.0))
    """
    shank = cutter.shank_diameter or cutter.neck_diameter
    neck = cutter.neck_diameter or shank
    faults = Faults()
    if not neck:
        faults.add(
            Fault(
                "/cutter/neck_diameter",
                "needed",
                "the neck or shank diameter is needed to work out how far the cutter bends",
                "measure the neck below the teeth, or state the shank diameter",
            )
        )
    if cutter.overhang is None:
        faults.add(
            Fault(
                "/cutter/overhang",
                "needed",
                "the overhang is needed to work out how far the cutter bends",
                "measure from the tip to the holder's face",
            )
        )
    faults.raise_any(BadInput)
    whole = float(cutter.overhang or 0.0) - cutter.tip_to_tooth
    reach = whole if cutter.reach is None else min(cutter.reach - cutter.tip_to_tooth, whole)
    faults.need(
        reach > 0 and whole > 0,
        "/cutter/overhang",
        "out_of_order",
        "the holder or the shank begins below the lowest tooth",
        "check tip_to_tooth, reach and overhang: all are measured up from the tip",
    )
    faults.raise_any(BadInput)
    pieces = ((reach, neck), (whole - reach, shank))
    return tuple(
        Section(to_mm(float(length), unit), to_mm(float(diameter or 0.0), unit))
        for length, diameter in pieces
        if to_mm(float(length), unit) >= LEAST_SECTION_MM
    )


def deflect(
    wall_n: float, sections: tuple[Section, ...], substance: Substance, *, internal: bool
) -> Deflection:
    """Return how far the cutter bends under a force square to the wall (`force.PassLoad.wall_n`).

    pitch diameter error = -2 * deflection internal, +2 * deflection external: a cutter pushed off
    the wall leaves a hole's thread small and a boss's thread large.

    >>> bent = deflect(100.0, (Section(30.0, 6.0),), "carbide", internal=True)
    >>> round(bent.deflection_mm, 5), round(bent.pitch_diameter_error_mm, 5)
    (0.02358, -0.04716)
    """
    refuse_outside(wall_n=(wall_n, -1e6, 1e6, "N"))
    modulus, source = MODULUS[substance]
    compliance = bending_compliance(sections, modulus)
    bent = float(wall_n) * compliance
    return Deflection(
        deflection_mm=bent,
        pitch_diameter_error_mm=(-2 if internal else 2) * bent,
        stiffness_n_per_mm=1 / compliance,
        modulus_n_per_mm2=modulus,
        modulus_source=source,
    )
