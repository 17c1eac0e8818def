"""The thread mill: completed where the job leaves something out, proposed where it has none."""

from __future__ import annotations

import math

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import BadInput, Fault, Impossible
from flankwise_service.core.plan.check import Check, at_least, at_most, inside
from flankwise_service.core.plan.job import CutterAsked, Job
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.tooth import BEYOND_CREST, tooth_for
from flankwise_service.core.units import from_mm

HOLE_SHARE = 0.7
"""Cutter over hole diameter when the plan proposes one: beyond it the overcut grows fast and
chips have no room (common practice, no source); `form` tells what it does to this thread."""
LEAST_SHANK_MM = 3.0
ANGLE_TOLERANCE = 0.1
"""Greatest difference of flank angles, degrees, between tooth and thread."""
SAME_PITCH = 0.01
"""Rows may be out of pitch by this share: beyond it they are made for another thread. What a
smaller difference does, the functional diameter as cut tells."""


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
    made = CutterAsked(
        diameter=size,
        flutes=4 if size > from_mm(8.0, unit) else 3,
        neck_diameter=neck,
        reach=reach,
        shank_diameter=shank,
        overhang=reach + from_mm(5.0, unit),
        name="proposed single-tooth thread mill",
    )
    words = (
        f"thread mill: single tooth, carbide, {made.flutes} flutes, {size:g} {unit} diameter, "
        f"neck {neck:.4g}, reach {reach:.4g}, overhang {made.overhang:.4g} {unit}; check these "
        "against the cutter you have"
    )
    return made, words


def _handy(limit: float, unit: str) -> float:
    fine = limit < (0.15 if unit == "in" else 4.0)
    step = (1 / 128 if fine else 1 / 32) if unit == "in" else (0.1 if fine else 0.5)
    return round(max(step, int(limit / step) * step), 6)


def complete(asked: CutterAsked, sizes: Sizes, tooth: Tooth) -> tuple[Cutter, tuple[str, ...]]:
    """Return the cutter with a tooth and a tip, and in words what was assumed of them.

    Errors: a tip above the lower edge of the tooth, at /cutter/tip_to_tooth.
    """
    words: list[str] = []
    if asked.tooth is None:
        tip = (
            f"tip radius {tooth.tip_radius:.4g}"
            if tooth.tip_radius
            else f"tip {tooth.tip_width:.4g}"
        )
        words.append(
            f"tooth: flank angles {tooth.flank_angle_upper:g} and {tooth.flank_angle_lower:g} "
            f"degrees, {tip} {sizes.unit}, {tooth.depth:.4g} deep; state the tooth of your "
            "cutter to be exact"
        )
    tooth = asked.tooth or tooth
    half = lower_half_width(tooth, tooth.depth)
    if asked.tip_to_tooth is None:
        words.append(
            f"tip to middle of the lowest tooth: {half:.4g} {sizes.unit}, the tooth flush with the "
            "tool's tip"
        )
    else:
        _refuse_tip_inside_tooth(asked.tip_to_tooth, tooth, asked.tooth is not None, sizes)
    return asked.with_tooth(tooth, half), tuple(words)


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
                f"the tool's tip can't stand {tip_to_tooth:.4g} {sizes.unit} below the middle of "
                f"the lowest tooth: the tooth itself reaches {half:.4g} below it",
                f"measure from the lowest point of the tool: at least {half:.4g} {sizes.unit}",
                tip_to_tooth,
                least=half,
                unit=sizes.unit,
            )
        )


def cutter_checks(cutter: Cutter, sizes: Sizes, blank_diameter: float) -> tuple[Check, ...]:
    """Return whether the cutter suits the thread: angles, rows, pitch range, and the hole."""
    tooth, unit = cutter.tooth, sizes.unit
    checks = [
        at_most(
            "flank_angle", max(
                abs(tooth.flank_angle_upper - sizes.flank_slope_angles[0]),
                abs(tooth.flank_angle_lower - sizes.flank_slope_angles[1]),
            ), ANGLE_TOLERANCE, "flank angle differs from the thread's by", "deg",
            f"take a cutter of {sizes.flank_slope_angles[0]:g} and "
            f"{sizes.flank_slope_angles[1]:g} degrees for {sizes.limits.designation}",
        ),
        at_most(
            "tip_width", tooth.tip_width, sizes.pitch / 2, "tip of the tooth", unit,
            "take a cutter for this pitch: the tip is wider than half the pitch",
        ),
    ]  # fmt: skip
    if cutter.rows > 1:
        checks.append(_rows(cutter, sizes))
    if cutter.least_pitch is not None or cutter.greatest_pitch is not None:
        checks.append(
            inside(
                "pitch_range", sizes.pitch, cutter.least_pitch, cutter.greatest_pitch,
                "pitch for this cutter", unit, "take a cutter made for this pitch",
            )
        )  # fmt: skip
    if sizes.side == "internal":
        checks.append(
            at_most(
                "cutter_enters_hole", cutter.diameter, 0.98 * blank_diameter, "cutter diameter",
                unit, f"take a cutter below {0.95 * blank_diameter:.4g} {unit}",
            )
        )  # fmt: skip
    return tuple(checks)


def _rows(cutter: Cutter, sizes: Sizes) -> Check:
    if cutter.row_pitch is None:
        return Check(
            "row_pitch", "refused", "the distance of the cutter's rows isn't stated", None,
            sizes.pitch, sizes.unit, f"state row_pitch; it must be {sizes.pitch:.6g}",
        )  # fmt: skip
    off = abs(cutter.row_pitch - sizes.pitch)
    return at_most(
        "row_pitch", off, SAME_PITCH * sizes.pitch, "rows differ from the thread's pitch by",
        sizes.unit, f"take a cutter whose rows stand {sizes.pitch:.6g} {sizes.unit} apart",
    )  # fmt: skip


def refuse_unfit(checks: tuple[Check, ...]) -> None:
    """Raise what no path can be made with, each with its figures: these can't be accepted."""
    faults = [
        Fault(f"/cutter/{_place(check.code)}", check.code, check.detail, check.change,
              check.figure, greatest=check.limit, unit=check.unit)
        for check in checks
        if check.state == "refused"
    ]  # fmt: skip
    if faults:
        raise Impossible(*faults)


def _place(code: str) -> str:
    return {
        "flank_angle": "tooth",
        "tip_width": "tooth/tip_width",
        "row_pitch": "row_pitch",
        "pitch_range": "greatest_pitch",
    }.get(code, "diameter")


def reach_check(cutter: Cutter, depth_below_face: float, unit: str) -> Check:
    """Return whether the neck is long enough for the lowest tooth to get down there."""
    if cutter.reach is None:
        return Check(
            "reach", "caution", "the cutter's reach isn't stated, so it isn't checked",
            None, depth_below_face, unit, "state reach: from the tip to where the shank begins",
        )  # fmt: skip
    return at_least(
        "reach", cutter.reach - cutter.tip_to_tooth, depth_below_face, "reach", unit,
        "take a cutter of longer reach, or a shorter thread",
        acceptable=cutter.shank_diameter is not None,
    )  # fmt: skip
