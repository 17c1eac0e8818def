"""Passes, speeds, feeds and loads of the thread, and the checks they must stand."""

from __future__ import annotations

import math
from itertools import product

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.cutting.load import (
    ThreadCut,
    ThreadPass,
    stiff_thread_depths,
    thread_passes,
)
from flankwise_service.core.cutting.materials import (
    Material,
    chip_load_window,
    force_figures,
    surface_speed_window,
)
from flankwise_service.core.cutting.passes import (
    equal_area_depths,
    residual_deflection,
    with_spring_passes,
)
from flankwise_service.core.cutting.speed import SpindleSpeed, spindle_speed
from flankwise_service.core.errors import Refusal, plain
from flankwise_service.core.plan.check import Check, at_most
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.result import PassPlan
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.tool_fit import not_checked
from flankwise_service.core.plan.tooth import is_assumed
from flankwise_service.core.units import from_mm, to_mm, written

PASSES_ADDED = 3
"""Passes beyond the usual number that the plan adds against deflection."""
UNSTATED_SPEED = 200_000.0
UNSTATED_FEED_MM = 100_000.0
DRIVE_EFFICIENCY = 0.8
"""Of a spindle's drive, for the power check (common practice, no source)."""


def surface_speed_for(job: Job, cutter: Cutter, found: Material) -> float:
    """Return the surface speed: the job's own, or the middle of the material's window."""
    if job.cutting.surface_speed is not None:
        return job.cutting.surface_speed
    return surface_speed_window(found, cutter.substance, job.unit).at(0.5)


def speed_for(job: Job, cutter: Cutter, found: Material) -> SpindleSpeed:
    """Return the spindle speed at that surface speed, capped by the machine."""
    surface = surface_speed_for(job, cutter, found)
    greatest = job.machine.greatest_spindle_speed or UNSTATED_SPEED
    return spindle_speed(surface, cutter.diameter, job.unit, greatest=greatest)


def chip_load_for(job: Job, cutter: Cutter, found: Material) -> float:
    """Return the chip load: the job's own, or the middle of the material's window."""
    if job.cutting.chip_load is not None:
        return job.cutting.chip_load
    window = chip_load_window(found, cutter.substance, to_mm(cutter.diameter, job.unit))
    return from_mm(window.at(0.5), job.unit)


def thread_cut(
    job: Job, sizes: Sizes, cutter: Cutter, found: Material, blank_diameter: float, speed: float
) -> ThreadCut:
    """Return the conditions that all passes share."""
    kc11, mc = force_figures(found)
    greatest = job.machine.greatest_feed
    return ThreadCut(
        cutter=cutter,
        unit=job.unit,
        side=sizes.side,
        blank_diameter=blank_diameter,
        lead=sizes.lead,
        speed=speed,
        chip_load=chip_load_for(job, cutter, found),
        kc11_n_per_mm2=kc11.value,
        mc=mc.value,
        milling=job.cutting.milling,
        greatest_feed=from_mm(UNSTATED_FEED_MM, job.unit) if greatest is None else greatest,
    )


def depths(job: Job, sizes: Sizes, cut: ThreadCut, depth: float) -> tuple[float, ...]:
    """Return the depth after each pass, spring passes last. Errors below /cutting."""
    try:
        return _depths(job, sizes, cut, depth)
    except Refusal as refusal:
        raise refusal.under("/cutting") from refusal


def _depths(job: Job, sizes: Sizes, cut: ThreadCut, depth: float) -> tuple[float, ...]:
    asked = job.cutting
    springs = (0, 1, 2) if asked.spring_passes is None else (asked.spring_passes,)
    if asked.pass_method == "stiffness":
        share = asked.deflection_share
        found = stiff_thread_depths(
            cut, depth, sizes.pitch_diameter_tolerance, final_share=share, rough_share=5 * share
        )
        return with_spring_passes(found, springs[0])
    usual = usual_passes(to_mm(sizes.pitch, job.unit))
    counts = range(usual, usual + PASSES_ADDED + 1)
    if asked.passes is not None:
        counts = range(asked.passes, asked.passes + 1)
    # A few passes more come first, for they also spare the cutter; then a spring pass.
    allowed = asked.deflection_share * sizes.pitch_diameter_tolerance
    for spring, count in product(springs, counts):
        found = _shared(job, cut, depth, count)
        effect = _last_effect(cut, found, spring)
        if effect is None or effect <= allowed:
            break
    return with_spring_passes(found, spring)


def usual_passes(pitch_mm: float) -> int:
    """Return the radial passes a pitch usually gets (common practice, no source).

    >>> [usual_passes(pitch) for pitch in (0.5, 1.25, 2.0, 3.0, 5.0)]
    [1, 2, 3, 4, 6]
    """
    return 1 if pitch_mm <= 0.8 else math.ceil(pitch_mm / 0.8 - 1e-9) if pitch_mm < 2 else (
        math.ceil(pitch_mm) + 1
    )  # fmt: skip


def _shared(job: Job, cut: ThreadCut, depth: float, count: int) -> tuple[float, ...]:
    if job.cutting.pass_method == "constant depth":
        return tuple(depth * done / count for done in range(1, count + 1))
    tooth = cut.cutter.tooth
    return equal_area_depths(
        depth, count, tooth.tip_width, tooth.flank_angle_upper, tooth.flank_angle_lower
    )


def _last_effect(cut: ThreadCut, found: tuple[float, ...], springs: int) -> float | None:
    """Return what the last step's deflection leaves on the pitch diameter."""
    last = thread_passes(cut, found)[-1]
    return pitch_effect(last, springs, cut.unit)


def pitch_effect(work: ThreadPass, springs: int, unit: str) -> float | None:
    """Return what deflection leaves on the pitch diameter after `springs` spring passes."""
    if work.deflection is None:
        return None
    step = work.depth_after - work.depth_before
    rigid = from_mm(abs(work.deflection.deflection_mm), "in" if unit == "in" else "mm")
    return 2 * residual_deflection(rigid, step, springs) if step > 0 else 0.0


def pass_plans(
    cut: ThreadCut, found: tuple[float, ...], centre_radius: float, outward: float
) -> tuple[PassPlan, ...]:
    """Return every pass with its centre radius; the last cutting depth has `centre_radius`."""
    plans: list[PassPlan] = []
    springs, last_cut = 0, None
    for number, work in enumerate(thread_passes(cut, found), 1):
        spring = work.depth_after == work.depth_before
        springs = springs + 1 if spring else 0
        last_cut = last_cut if spring else work
        left = found[-1] - work.depth_after
        effect = pitch_effect(last_cut or work, springs, cut.unit)
        radius = centre_radius - outward * left
        tooth = cut.cutter.tooth.depth
        plans.append(PassPlan(number, radius, spring, work, effect, tooth))
    return tuple(plans)


def milling_checks(job: Job, sizes: Sizes, passes: tuple[PassPlan, ...]) -> tuple[Check, ...]:
    """Return whether power and deflection stay within machine and tolerance."""
    unit, machine = job.unit, job.machine
    checks: list[Check] = []
    if machine.spindle_power_kw is not None:
        most = max(one.work.force.power_kw for one in passes) / DRIVE_EFFICIENCY
        checks.append(
            at_most(
                "spindle_power", most, machine.spindle_power_kw, "power", "kW",
                "take more passes, or a lower chip load", acceptable=True, caution_share=0.8,
            )
        )  # fmt: skip
    tooth = _tooth_check(job, passes)
    checks.append(not_checked(tooth) if is_assumed(job) else tooth)
    checks.append(_deflection_check(job, sizes, passes[-1].pitch_diameter_effect))
    checks.append(
        Check(
            "feed_at_edge", "passed",
            f"feed along the path {plain(passes[-1].work.feed.path_feed, 4)} {unit}/min is "
            f"{plain(passes[-1].work.feed.edge_feed, 4)} {unit}/min at the cutting edge",
            passes[-1].work.feed.path_feed, None, f"{unit}/min",
        )
    )  # fmt: skip
    return tuple(checks)


def _tooth_check(job: Job, passes: tuple[PassPlan, ...]) -> Check:
    depth, tooth = passes[-1].work.depth_after, passes[-1].tooth_depth
    detail = (
        f"the tooth is {written(tooth, job.unit)} {job.unit} deep for a thread "
        f"{written(depth, job.unit)} {job.unit} deep"
    )
    if tooth >= depth:
        return Check("tooth_depth", "passed", detail, tooth, depth, job.unit)
    return Check(
        "tooth_depth", "caution", f"{detail}: the cutter's body trims the crest", tooth, depth,
        job.unit, "take a deeper tooth, unless the cutter is made to trim the crest",
    )  # fmt: skip


def _unknown_deflection(job: Job) -> Check:
    """Return which figures of the cutter are missing, without which nobody knows how it bends."""
    asked, missing = job.cutter, []
    if asked is not None and asked.overhang is None:
        missing.append("overhang")
    if asked is not None and not asked.neck_diameter and asked.shank_diameter is None:
        missing.append("neck diameter")
    said, verb = " and ".join(missing), "isn't" if len(missing) == 1 else "aren't"
    return Check(
        "deflection", "caution",
        f"the cutter's {said} {verb} stated, so its deflection isn't checked", None, None, None,
        f"state {said.replace(' d', '_d')} of the cutter",
    )  # fmt: skip


def _deflection_check(job: Job, sizes: Sizes, effect: float | None) -> Check:
    if effect is None:
        return _unknown_deflection(job)
    share = effect / sizes.pitch_diameter_tolerance
    return at_most(
        "deflection", share, job.cutting.deflection_share,
        "share of the pitch diameter tolerance taken by deflection", "of tolerance",
        "take more passes, a spring pass, a thicker neck or less overhang", acceptable=True,
    )  # fmt: skip
