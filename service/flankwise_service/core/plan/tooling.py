"""The thread mill: completed where the job leaves something out, proposed where it has none."""

from __future__ import annotations

import math

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import BadInput, Fault, Faults
from flankwise_service.core.plan.job import CutterAsked, Job
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.tooth import BEYOND_CREST, tooth_for
from flankwise_service.core.units import from_mm, written, written_up

HOLE_SHARE = 0.7
"""Cutter over hole diameter when the plan proposes one: beyond it the overcut grows fast and
chips have no room (common practice, no source); `form` tells what it does to this thread."""
LEAST_SHANK_MM = 3.0


def proposed(job: Job, sizes: Sizes, blank_diameter: float) -> tuple[CutterAsked, str]:
    """Return a single-tooth carbide cutter that fits, with what was assumed of it.

    Internal: the greatest handy size up to 0.7 of the hole. External: half the boss, or more where
    the tooth is deep or the reach long, so that the neck stays stiff. Neck and reach follow.
    """
    unit = job.unit
    depth = tooth_for(sizes, blank_diameter).depth
    reach = job.thread.length + 2.5 * sizes.pitch
    size = HOLE_SHARE * (blank_diameter - sizes.taper * job.thread.length)
    if sizes.side == "external":
        size = max(blank_diameter / 2, 5.75 * depth, reach / 3)
    size = _handy(size, unit)
    # A taper boss stands out farther at its thick end than where the cutter begins.
    grown = sizes.taper * job.thread.length / 2 if sizes.side == "external" else 0.0
    neck = max(size - 2 * (1.15 * depth + grown), 0.4 * size)
    # Above the reach the shank stays out of the hole, so it may be as thick as is usual.
    shank = max(size, from_mm(LEAST_SHANK_MM, unit))
    overhang = reach + from_mm(5.0, unit)
    made = CutterAsked(
        diameter=size,
        flutes=4 if size > from_mm(8.0, unit) else 3,
        neck_diameter=neck,
        reach=reach,
        shank_diameter=shank,
        overhang=overhang,
        name="proposed single-tooth thread mill",
    )
    words = (
        f"thread mill: single tooth, carbide, {made.flutes} flutes, {size:g} {unit} diameter, "
        f"neck {written(neck, unit)}, reach {written(reach, unit)}, overhang "
        f"{written(overhang, unit)} {unit}; check these "
        "against the cutter you have"
    )
    return made, words


def _handy(limit: float, unit: str) -> float:
    fine = limit < (0.15 if unit == "in" else 4.0)
    step = (1 / 128 if fine else 1 / 32) if unit == "in" else (0.1 if fine else 0.5)
    return round(max(step, int(limit / step) * step), 6)


def complete(asked: CutterAsked, sizes: Sizes, tooth: Tooth) -> tuple[Cutter, tuple[str, ...]]:
    """Return the cutter with a tooth and a tip, and in words what was assumed of them.

    Errors: a tip above the lower edge of the tooth, at /cutter/tip_to_tooth; lengths that
    contradict one another.
    """
    words: list[str] = []
    if asked.tooth is None:
        tip = (
            f"tip radius {written(tooth.tip_radius, sizes.unit)}"
            if tooth.tip_radius
            else f"tip {written(tooth.tip_width, sizes.unit)}"
        )
        words.append(
            f"tooth: flank angles {tooth.flank_angle_upper:g} and {tooth.flank_angle_lower:g} "
            f"degrees, {tip} {sizes.unit}, {written(tooth.depth, sizes.unit)} deep; state the "
            "tooth of your cutter to be exact"
        )
    tooth = asked.tooth or tooth
    half = lower_half_width(tooth, tooth.depth)
    _refuse_contradictions(asked, half, sizes.unit)
    if asked.tip_to_tooth is None:
        words.append(
            f"tip to middle of the lowest tooth: {written(half, sizes.unit)} {sizes.unit}, the "
            "tooth flush with the "
            "tool's tip"
        )
    else:
        _refuse_tip_inside_tooth(asked.tip_to_tooth, tooth, asked.tooth is not None, sizes)
    return asked.with_tooth(tooth, half), tuple(words)


def _refuse_contradictions(asked: CutterAsked, half: float, unit: str) -> None:
    """Refuse lengths of one tool, all from its tip, that can't be true together."""
    faults = Faults()
    tip, reach, overhang = asked.tip_to_tooth, asked.reach, asked.overhang
    if reach is not None and overhang is not None and overhang < reach:
        faults.add(
            Fault(
                "/cutter/overhang", "overhang_below_reach",
                f"the cutter stands {written(overhang, unit)} {unit} out of its holder, but its "
                "shank is said "
                f"to begin {written(reach, unit)} {unit} from the tip: the holder would grip the "
                "neck",
                "measure both from the lowest point of the tool: overhang at least "
                f"{written_up(reach, unit)} "
                f"{unit}, or a shorter reach", overhang, least=reach, unit=unit,
            )
        )  # fmt: skip
    lengths = [one for one in (reach, overhang) if one is not None]
    shortest = min(lengths, default=math.inf)
    name = "reach" if shortest == reach else "overhang"
    if tip is not None and tip >= shortest:
        faults.add(
            Fault(
                "/cutter/tip_to_tooth", "tooth_above_neck",
                f"the tooth is said to stand {written(tip, unit)} {unit} above the tool's tip, "
                "beyond the "
                f"{name} of {written(shortest, unit)} {unit}: in the shank or the holder",
                "measure from the lowest point of the tool to the middle of the lowest tooth: "
                f"less than {written(shortest, unit)} {unit}", tip, unit=unit,
            )
        )  # fmt: skip
    elif tip is None and half >= shortest:
        faults.add(
            Fault(
                f"/cutter/{name}", "tooth_above_neck",
                f"{name} {written(shortest, unit)} {unit} doesn't hold the tooth, which takes "
                f"{written(half, unit)} "
                f"{unit} below its own middle",
                f"measure the {name} from the lowest point of the tool", shortest, least=half,
                unit=unit,
            )
        )  # fmt: skip
    faults.raise_any(BadInput)


def lower_half_width(tooth: Tooth, depth: float) -> float:
    """Return how far the tooth reaches below its own middle at a depth from its tip.

    >>> round(lower_half_width(Tooth(30.0, 30.0, 0.2, 1.0), 1.0), 4)
    0.6774
    """
    return tooth.tip_width / 2 + depth * math.tan(math.radians(tooth.flank_angle_lower))


def _refuse_tip_inside_tooth(tip_to_tooth: float, tooth: Tooth, stated: bool, sizes: Sizes) -> None:
    # Of a tooth that the plan assumed, only the part that cuts is sure to be there.
    half = lower_half_width(tooth, tooth.depth if stated else tooth.depth / BEYOND_CREST)
    if tip_to_tooth < half * (1 - 1e-6):
        raise BadInput(
            Fault(
                "/cutter/tip_to_tooth",
                "tip_inside_tooth",
                f"the tool's tip can't stand {written(tip_to_tooth, sizes.unit)} {sizes.unit} "
                "below the middle of the lowest tooth: the tooth itself reaches "
                f"{written(half, sizes.unit)} below it",
                "measure from the lowest point of the tool: at least "
                f"{written_up(half, sizes.unit)} {sizes.unit}",
                tip_to_tooth,
                least=half,
                unit=sizes.unit,
            )
        )
