"""Strength of a threaded joint: what breaks first, and how much thread is enough.

Formulas of ASME B1.1-2003, nonmandatory appendix B, and FED-STD-H28/2B-1991 (memory; their
tensile stress areas agree with Machinery's Handbook 31, p. 1978). Lengths in one unit, areas in
that unit squared; strengths in any one unit of stress. Geometric figures: they say nothing of
fatigue, impact, wear or seizing, and a joint that lives hang on needs a qualified engineer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.errors import BadInput, Fault, Faults, NoSource
from flankwise_service.core.threads.mating import refuse_unlike
from flankwise_service.core.threads.model import Family, Limits, Source
from flankwise_service.core.threads.register import limits_in
from flankwise_service.core.threads.sized import Sized, set_limit
from flankwise_service.core.units import Unit

Weakest = Literal["external part breaks", "external thread strips", "internal thread strips"]

APPENDIX_B = Source(
    "ASME B1.1", "2003", "nonmandatory appendix B, stress and shear areas", "memory"
)
H28_2B = Source("FED-STD-H28/2B", "1991", "length of engagement, J and Q", "memory")
ISO_898 = Source("ISO 898-1", "2013", "nominal stress area, pi/4 ((d2 + d3)/2)^2", "memory")
_UNIFIED: tuple[Family, ...] = ("unified", "unified_j")
_METRIC: tuple[Family, ...] = ("iso_metric", "metric_j")
SHEAR_SHARE = 0.5
"""Shear strength over tensile strength, as the standards' factor 2 has it."""


@dataclass(frozen=True, slots=True)
class Strength:
    """Areas, loads and lengths of one joint."""

    tensile_stress_area: float
    external_shear_area: float
    internal_shear_area: float
    breaking_load: float
    external_stripping_load: float
    internal_stripping_load: float
    weakest: Weakest
    least_engagement: float
    """Length at which the external part breaks before either thread strips."""
    engagement: float
    engagement_is_enough: bool
    sources: tuple[Source, ...]
    cautions: tuple[str, ...]


def tensile_stress_area(limits: Sized, family: Family) -> tuple[float, Source]:
    """Return the tensile stress area of an external thread, unit squared, with its source.

    Unified: pi (E/2 - 3H/16)^2, E basic pitch diameter as printed (ASME B1.1 appendix B; the same
    as 0.7854 (D - 0.9743/n)^2 but for the rounding of E). ISO metric: pi/4 ((d2 + d3)/2)^2,
    d3 = d1 - H/6, that is pi/4 (d - 0.9382 P)^2 (ISO 898-1).
    NoSource for other families.
    """
    basic = limits.basic
    if family in _UNIFIED:
        radius = float(basic.pitch_diameter) / 2 - 3 * basic.fundamental_height / 16
        return math.pi * radius**2, APPENDIX_B
    if family in _METRIC:
        radius = (float(basic.major_diameter) - 0.9382 * float(basic.pitch)) / 2
        return math.pi * radius**2, ISO_898
    raise NoSource(
        Fault(
            "/external",
            "no_stress_area",
            "no tensile stress area is stored for this family of threads",
            "strength is worked out for Unified and ISO metric threads",
            family,
        )
    )


def external_shear_area(external: Sized, internal: Sized, engagement: float) -> float:
    """Return where an external thread strips: at the internal thread's greatest minor diameter.

    pi Le Kn_max / P (P/2 + (tan a1 + tan a2)/2 (Es_min - Kn_max)); the standards write the mean
    slope as 0.57735.
    """
    kn = set_limit(internal.minor_diameter.max, "/internal", "minor diameter")
    es = set_limit(external.pitch_diameter.min, "/external", "pitch diameter")
    return _shear_area(external, float(kn), float(es - kn), engagement)


def internal_shear_area(external: Sized, internal: Sized, engagement: float) -> float:
    """Return where an internal thread strips: at the external thread's least major diameter.

    pi Le Ds_min / P (P/2 + (tan a1 + tan a2)/2 (Ds_min - En_max)).
    """
    ds = set_limit(external.major_diameter.min, "/external", "major diameter")
    en = set_limit(internal.pitch_diameter.max, "/internal", "pitch diameter")
    return _shear_area(internal, float(ds), float(ds - en), engagement)


def _shear_area(limits: Sized, diameter: float, rise: float, engagement: float) -> float:
    basic = limits.basic
    slope = math.tan(math.radians(basic.flank_angle_upper)) + math.tan(
        math.radians(basic.flank_angle_lower)
    )
    pitch = float(basic.pitch)
    return math.pi * engagement * diameter / pitch * (pitch / 2 + slope / 2 * rise)


def strength(
    external: Limits,
    internal: Limits,
    engagement: float,
    *,
    unit: Unit,
    external_strength: float,
    internal_strength: float,
) -> Strength:
    """Return the loads at which a joint fails, and the least engagement that lets the part break.

    `external_strength` and `internal_strength` are ultimate tensile strengths in one unit of
    stress; loads come out in that unit times the length unit squared. Shear strength is half of
    tensile strength, as the standards' formulas have it. `engagement` is in `unit`.
    Refused: BadInput, Impossible (threads that can't mate), NoSource.

    >>> from flankwise_service.core.threads import limits as limits_of
    >>> joint = strength(
    ...     limits_of("M10-6g"), limits_of("M10-6H"), 10,
    ...     unit="mm", external_strength=800, internal_strength=310,
    ... )
    >>> joint.weakest, round(joint.least_engagement, 1)
    ('internal thread strips', 13.9)
    """
    refuse_unlike(external, internal, unit)
    out, inn = limits_in(external, unit), limits_in(internal, unit)
    _refuse_bad(out, engagement, external_strength, internal_strength)
    area, source = tensile_stress_area(out, external.thread.family)
    by_length = external_shear_area(out, inn, 1.0), internal_shear_area(out, inn, 1.0)
    breaks = area * external_strength
    strips = (
        by_length[0] * SHEAR_SHARE * external_strength,
        by_length[1] * SHEAR_SHARE * internal_strength,
    )
    least = breaks / min(strips)
    loads: dict[Weakest, float] = {
        "external part breaks": breaks,
        "external thread strips": strips[0] * engagement,
        "internal thread strips": strips[1] * engagement,
    }
    weakest = min(loads, key=lambda mode: loads[mode])
    return Strength(
        area,
        by_length[0] * engagement,
        by_length[1] * engagement,
        breaks,
        strips[0] * engagement,
        strips[1] * engagement,
        weakest,
        least,
        engagement,
        engagement >= least,
        (source, H28_2B),
        _cautions(weakest),
    )


def _cautions(weakest: Weakest) -> tuple[str, ...]:
    said = (
        "geometric areas only: friction, nut dilation, fatigue and chamfered ends take more away",
    )
    if weakest == "external part breaks":
        return said
    return ("the thread strips before the part breaks, which gives no warning", *said)


def _refuse_bad(
    external: Sized, engagement: float, external_strength: float, internal_strength: float
) -> None:
    faults = Faults()
    pitch = float(external.basic.pitch)
    greatest = 20 * float(external.basic.major_diameter)
    faults.within(
        "/engagement", engagement, least=pitch, greatest=greatest, name="length of engagement"
    )
    for name, value in (
        ("external_strength", external_strength),
        ("internal_strength", internal_strength),
    ):
        faults.within(f"/{name}", value, least=0.01, greatest=1e7, name=name.replace("_", " "))
    faults.raise_any(BadInput)
