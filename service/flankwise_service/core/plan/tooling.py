"""The thread mill: completed where the job leaves something out, proposed where it has none."""

from __future__ import annotations

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.errors import Fault, Impossible
from flankwise_service.core.plan.check import Check, at_least, at_most, inside
from flankwise_service.core.plan.job import CutterAsked, Job
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.tooth import tooth_for
from flankwise_service.core.units import from_mm

HOLE_SHARE = 0.7
"""Cutter over hole diameter when the plan proposes one: beyond it the overcut grows fast and
chips have no room (common practice, no source); `form` tells what it does to this thread."""
ANGLE_TOLERANCE = 0.1
"""Greatest difference of flank angles, degrees, between tooth and thread."""
SAME_PITCH = 1e-4
"""Rows may be out of pitch by this share: beyond it the last row cuts another thread."""


def proposed(job: Job, sizes: Sizes, blank_diameter: float) -> tuple[CutterAsked, str]:
    """Return a single-tooth carbide cutter that fits, with what was assumed of it.

    Internal: the greatest handy size up to 0.7 of the hole. External: as long as it is stiff,
    its size matters little; about half the boss. Neck and reach follow from thread and length.
    """
    unit = job.unit
    share = HOLE_SHARE if sizes.side == "internal" else 0.5
    size = _handy(share * (blank_diameter - sizes.taper * job.thread.length), unit)
    depth = tooth_for(sizes, blank_diameter).depth
    neck = max(size - 2 * 1.15 * depth, 0.4 * size)
    reach = job.thread.length + 3 * sizes.pitch
    shank = size if sizes.side == "external" else max(neck, min(size, neck * 1.2))
    made = CutterAsked(
        diameter=size,
        flutes=4 if size > from_mm(8.0, unit) else 3,
        tip_to_tooth=0.0,
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
    step = 1 / 32 if unit == "in" else 0.5
    return max(step, int(limit / step) * step)


def complete(asked: CutterAsked, sizes: Sizes, blank_diameter: float) -> tuple[Cutter, str | None]:
    """Return the cutter with its tooth, and in words what was assumed of the tooth."""
    if asked.tooth is not None:
        return asked.with_tooth(asked.tooth), None
    tooth = tooth_for(sizes, blank_diameter)
    tip = f"tip radius {tooth.tip_radius:.4g}" if tooth.tip_radius else f"tip {tooth.tip_width:.4g}"
    words = (
        f"tooth: flank angles {tooth.flank_angle_upper:g} and {tooth.flank_angle_lower:g} degrees, "
        f"{tip} {sizes.unit}, {tooth.depth:.4g} deep; state the tooth of your cutter to be exact"
    )
    return asked.with_tooth(tooth), words


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
