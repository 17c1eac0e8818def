"""Whether a thread mill suits the thread: tooth, rows, pitches, hole and reach."""

from __future__ import annotations

from dataclasses import replace

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import Fault, Impossible
from flankwise_service.core.plan.check import Check, at_most, limits_said
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.tooling import HOLE_SHARE
from flankwise_service.core.units import written, written_up

ENTERS = 0.98
"""Greatest cutter diameter over hole diameter."""
ANGLE_TOLERANCE = 0.1
"""Greatest difference of flank angles, degrees, between tooth and thread."""
SAME_PITCH = 0.01
"""Rows may be out of pitch by this share: beyond it they are made for another thread. What a
smaller difference does, the functional diameter as cut tells."""


NOT_CHECKED = "; the tooth is assumed, not checked"
"""Said of what passes only because the plan took the tooth from the thread itself."""


def cutter_checks(
    cutter: Cutter, sizes: Sizes, blank_diameter: float, *, assumed: bool = False
) -> tuple[Check, ...]:
    """Return whether the cutter suits the thread: angles, rows, pitch range, and the hole.

    Of a tooth that the plan `assumed` nothing can be checked: one caution says so.
    """
    tooth, unit = cutter.tooth, sizes.unit
    angles = _flank_angles(tooth, sizes)
    tip = at_most(
        "tip_width", tooth.tip_width, sizes.pitch / 2, "tip of the tooth", unit,
        "take a cutter for this pitch: the tip is wider than half the pitch",
    )  # fmt: skip
    checks = [
        _assumed_tooth(tooth, angles, unit) if assumed and angles.state == "passed" else angles,
        not_checked(tip) if assumed else tip,
    ]  # fmt: skip
    if cutter.rows > 1:
        checks.append(_rows(cutter, sizes))
    if cutter.least_pitch is not None or cutter.greatest_pitch is not None:
        checks.append(_pitch_range(cutter, sizes))
    if sizes.side == "internal":
        checks.append(
            at_most(
                "cutter_enters_hole", cutter.diameter, ENTERS * blank_diameter, "cutter diameter",
                unit,
                "take a much smaller cutter: "
                f"{written(HOLE_SHARE * blank_diameter, unit)} {unit} is usual",
            )
        )  # fmt: skip
    return tuple(checks)


def _flank_angles(tooth: Tooth, sizes: Sizes) -> Check:
    """Return whether the tooth has the thread's flank angles; its figure is the worse angle."""
    own, wanted = (tooth.flank_angle_upper, tooth.flank_angle_lower), sizes.flank_slope_angles
    worse = _worse_flank(tooth, sizes)
    said, right = (f"{upper:g} and {lower:g} deg" for upper, lower in (own, wanted))
    if abs(own[worse] - wanted[worse]) <= ANGLE_TOLERANCE:
        return Check(
            "flank_angle", "passed", f"the tooth's flank angles, {said}, are those of the thread",
            own[worse], wanted[worse], "deg",
        )  # fmt: skip
    return Check(
        "flank_angle", "refused",
        f"the tooth's flank angles are {said}; the thread's are {right}", own[worse],
        wanted[worse], "deg",
        f"take a cutter of {wanted[0]:g} and {wanted[1]:g} degrees for "
        f"{sizes.limits.designation}",
    )  # fmt: skip


def _assumed_tooth(tooth: Tooth, angles: Check, unit: str) -> Check:
    """Return that the tooth is the plan's own idea, in place of angles that pass for that."""
    tip = f"tip {written(tooth.tip_width, unit)} {unit}"
    if tooth.tip_radius:
        tip = f"tip radius {written(tooth.tip_radius, unit)} {unit}"
    return replace(
        angles,
        state="caution",
        detail="the tooth is assumed to suit the thread, not checked: flank angles "
        f"{tooth.flank_angle_upper:g} and {tooth.flank_angle_lower:g} deg, {tip}, "
        f"{written(tooth.depth, unit)} {unit} deep",
        change="measure the tooth of your cutter, or read it from its maker's sheet, and state it "
        "as cutter.tooth",
    )


def not_checked(check: Check) -> Check:
    """Return the check of an assumed tooth, which says so where it passed.

    >>> not_checked(Check("tip_width", "passed", "tip 0.2 mm is within the limit")).detail
    'tip 0.2 mm is within the limit; the tooth is assumed, not checked'
    """
    if check.state != "passed":
        return check
    return replace(check, detail=check.detail + NOT_CHECKED)


def _worse_flank(tooth: Tooth, sizes: Sizes) -> int:
    """Return 0 or 1 as the upper or the lower flank is farther off the thread's."""
    upper, lower = sizes.flank_slope_angles
    return int(abs(tooth.flank_angle_lower - lower) > abs(tooth.flank_angle_upper - upper))


def _rows(cutter: Cutter, sizes: Sizes) -> Check:
    pitch, unit = sizes.pitch, sizes.unit
    if cutter.row_pitch is None:
        return Check(
            "row_pitch", "refused", "the distance of the cutter's rows isn't stated", None,
            pitch, unit, f"state row_pitch; it must be {written(pitch, unit, 6)}",
        )  # fmt: skip
    fits = abs(cutter.row_pitch - pitch) <= SAME_PITCH * pitch
    detail = (
        f"the cutter's rows stand {written(cutter.row_pitch, unit, 6)} {unit} apart; the thread's "
        "pitch is "
        f"{written(pitch, unit, 6)} {unit}"
    )
    change = (
        f"take a cutter whose rows stand {written(pitch, unit, 6)} {unit} apart, or one of a "
        "single row"
    )
    return Check(
        "row_pitch", "passed" if fits else "refused", detail, cutter.row_pitch, pitch, unit,
        "" if fits else change,
    )  # fmt: skip


def _pitch_range(cutter: Cutter, sizes: Sizes) -> Check:
    """Return whether the thread's pitch is one the cutter is made for; its figure is the bound."""
    pitch, unit = sizes.pitch, sizes.unit
    bounds = (("finest", cutter.least_pitch, -1.0), ("coarsest", cutter.greatest_pitch, 1.0))
    for name, bound, sign in bounds:
        if bound is not None and sign * (pitch - bound) > 1e-9 * pitch:
            return Check(
                "pitch_range", "refused",
                f"the cutter's {name} pitch is {written(bound, unit, 6)} {unit}; the thread's is "
                f"{written(pitch, unit, 6)} "
                f"{unit}",
                bound, pitch, unit,
                f"take a cutter made for a pitch of {written(pitch, unit, 6)} {unit}",
            )  # fmt: skip
    said = limits_said(cutter.least_pitch, cutter.greatest_pitch, unit)
    detail = (
        f"the cutter is made for pitches of {said}; the thread's is {written(pitch, unit, 6)} "
        f"{unit}"
    )
    return Check("pitch_range", "passed", detail, pitch, None, unit)


def refuse_unfit(checks: tuple[Check, ...], cutter: Cutter, sizes: Sizes) -> None:
    """Raise what no path can be made with, each with its figures: these can't be accepted.

    The value of each fault is what the cutter was said to have.
    """
    faults = []
    for check in checks:
        if check.state == "refused":
            place, least, greatest = _place(check, cutter, sizes)
            faults.append(
                Fault(f"/cutter/{place}", check.code, check.detail, check.change, check.figure,
                      least=least, greatest=greatest, unit=check.unit)
            )  # fmt: skip
    if faults:
        raise Impossible(*faults)


def _place(check: Check, cutter: Cutter, sizes: Sizes) -> tuple[str, float | None, float | None]:
    """Return where a refused check's figure stands in the cutter, and from what to what it may."""
    limit = check.limit or 0.0
    if check.code == "flank_angle":
        side = ("upper", "lower")[_worse_flank(cutter.tooth, sizes)]
        return f"tooth/flank_angle_{side}", limit - ANGLE_TOLERANCE, limit + ANGLE_TOLERANCE
    if check.code == "row_pitch":
        return "row_pitch", limit * (1 - SAME_PITCH), limit * (1 + SAME_PITCH)
    if check.code == "pitch_range":
        if check.figure == cutter.least_pitch:
            return "least_pitch", None, limit
        return "greatest_pitch", limit, None
    return ("tooth/tip_width" if check.code == "tip_width" else "diameter"), None, limit


def reach_check(cutter: Cutter, depth_below_face: float, unit: str) -> Check:
    """Return whether the neck is long enough for the lowest tooth to get down there."""
    if cutter.reach is None:
        return Check(
            "reach", "caution", "the cutter's reach isn't stated, so it isn't checked",
            None, depth_below_face, unit, "state reach: from the tip to where the shank begins",
        )  # fmt: skip
    below = cutter.tip_to_tooth
    needed = depth_below_face + below
    own = (
        f"reach {written(cutter.reach, unit)} {unit}, of which {written(below, unit)} {unit} lies "
        "below the tooth,"
    )
    if cutter.reach >= needed:
        detail = f"{own} covers what is needed, {written(needed, unit)} {unit}"
        return Check("reach", "passed", detail, cutter.reach, needed, unit)
    return Check(
        "reach", "refused",
        f"{own} is less than needed, {written(needed, unit)} {unit}: "
        f"{written(needed - cutter.reach, unit)} {unit} is "
        "missing",
        cutter.reach, needed, unit,
        f"take a cutter with a reach of at least {written_up(needed, unit)} {unit}, or a shorter "
        "thread",
        acceptable=cutter.shank_diameter is not None,
    )  # fmt: skip
