"""The form really cut: the centre path that lands the pitch diameter, and what is left."""

from __future__ import annotations

import math
from dataclasses import replace

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.errors import Refusal
from flankwise_service.core.form.correction import RadiusCorrection, radius_correction
from flankwise_service.core.form.model import Cut, single
from flankwise_service.core.form.rows import rows_effect
from flankwise_service.core.form.section import Section, section
from flankwise_service.core.plan.check import Check, at_most, inside
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.result import FormPlan
from flankwise_service.core.plan.sizes import Sizes, between
from flankwise_service.core.plan.tooth import tip_for_root
from flankwise_service.core.units import written_down

PATH_PLACES = {"in": 1e-4, "mm": 1e-3}


def first_cut(sizes: Sizes, cutter: Cutter, runout: float) -> Cut:
    """Return the final pass by the nominal triangle; a running-out cutter cuts as a larger one.

    The tooth that stands out farthest makes the groove: radius + half the full reading.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.plan.job import ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> at = sizes(ThreadAsked("M20x1.5-6H", 16.0), "mm")
    >>> cut = first_cut(at, Cutter(12.0, 4, Tooth(30.0, 30.0, 0.1875, 1.0)), runout=0.02)
    >>> cut.cutter_radius, round(cut.deepest.centre_radius, 4)
    (6.01, 4.0376)
    """
    slope_height = _triangle_root(sizes, cutter)
    radius = cutter.diameter / 2 + runout / 2
    return single(
        cutter.tooth,
        radius,
        sizes.side,
        sizes.pitch,
        slope_height - sizes.outward * radius,
        sizes.starts,
        # The form's taper is the change of diameter with RISING z: a hole opens, a boss closes.
        sizes.outward * sizes.taper,
    )


def _triangle_root(sizes: Sizes, cutter: Cutter) -> float:
    """Return the radius of the groove's bottom if the groove had the tooth's own straight shape."""
    middle = between(sizes.pitch_diameter, 0.5)
    # tip_for_root is linear in the root: turn it round at two roots.
    at_line = tip_for_root(sizes, middle)
    one_off = tip_for_root(sizes, middle + 2.0)
    height = (at_line - cutter.tooth.tip_width) / (at_line - one_off)
    return middle / 2 + sizes.outward * height


def correction(job: Job, sizes: Sizes, cutter: Cutter) -> tuple[RadiusCorrection, Cut]:
    """Return the centre path that lands the pitch diameter on the job's aim, and its cut.

    The job's own radius offset, from a measured part, is applied afterwards.
    """
    start = first_cut(sizes, cutter, job.cutting.runout)
    aim = between(sizes.pitch_diameter, job.thread.pitch_diameter_aim)
    try:
        found = radius_correction(start, aim)
    except Refusal as refusal:
        raise refusal.under("/cutter") from refusal
    at_aim = single(
        start.tooth, start.cutter_radius, start.side, start.pitch, found.centre_radius,
        start.starts, start.taper,
    )  # fmt: skip
    return found, at_aim


def tooth_as_it_cuts(job: Job, sizes: Sizes, cutter: Cutter) -> Cutter:
    """Return the cutter with a tip that lands the root inside its limits as really cut.

    For a tooth that the plan assumes: the overcut moves the whole path, and the root with it, so a
    tip by the nominal triangle would miss. Two steps by the slope of the triangle are enough.
    """
    least, greatest = sizes.root_diameter
    if least is None or greatest is None or cutter.tooth.tip_radius:
        return cutter
    for _ in range(2):
        found, _cut = correction(job, sizes, cutter)
        off = found.root_diameter - (least + greatest) / 2
        # Half the diameter's error, on both flanks.
        angles = (cutter.tooth.flank_angle_upper, cutter.tooth.flank_angle_lower)
        slope = sum(math.tan(math.radians(angle)) for angle in angles)
        tip = max(0.0, cutter.tooth.tip_width + sizes.outward * off / 2 * slope)
        cutter = replace(cutter, tooth=replace(cutter.tooth, tip_width=tip))
    return cutter


def as_cut(sizes: Sizes, cutter: Cutter, cut: Cut, blank_diameter: float) -> Section:
    """Return the section that the final pass leaves in this blank; rows off pitch counted in."""
    spread = 0.0
    if cutter.rows > 1 and cutter.row_pitch is not None:
        spread = rows_effect(cut, rows=cutter.rows, row_pitch=cutter.row_pitch).pitch_spread
    try:
        return section(
            cut,
            blank_diameter / 2,
            flank_angles=sizes.flank_slope_angles,
            pitch_diameter_limits=sizes.pitch_diameter,
            pitch_spread=spread,
        )
    except Refusal as refusal:
        raise refusal.under("/cutter") from refusal


def form_plan(found: Section, used: RadiusCorrection) -> FormPlan:
    """Return the measures of the section, without its points."""
    flanks = (found.upper_flank, found.lower_flank)
    use = found.tolerance_use
    return FormPlan(
        pitch_diameter=found.pitch_diameter,
        functional_diameter=found.functional_diameter,
        major_diameter=found.major_diameter,
        minor_diameter=found.minor_diameter,
        overcut_effect=found.overcut_effect,
        flank_angle_error_upper=flanks[0].angle_error,
        flank_angle_error_lower=flanks[1].angle_error,
        form_deviation=max(flank.form_deviation for flank in flanks),
        crest_width=found.crest_width,
        root_width=found.root_width,
        root_radius=found.root_radius,
        tolerance_used=None if use is None else (abs(use.used_by_form) / 100),
        correction=used,
    )


def form_checks(sizes: Sizes, found: Section) -> tuple[Check, ...]:
    """Return whether pitch, functional, root and crest diameters as cut are inside limits."""
    unit = sizes.unit
    root = found.minor_diameter if sizes.side == "external" else found.major_diameter
    names = ("minor diameter", "major diameter")
    root_name, crest_name = names if sizes.side == "external" else names[::-1]
    crest = found.major_diameter if sizes.side == "external" else found.minor_diameter
    # The bend of the flank depends on lead, flank angle and diameter only: once the radius is
    # corrected, no other cutter would leave it straighter.
    nearer = "aim the pitch diameter nearer the middle of its tolerance (pitch_diameter_aim)"
    return (
        inside(
            "pitch_diameter_as_cut", found.pitch_diameter, *sizes.pitch_diameter,
            "pitch diameter as cut", unit,
            "set pitch_diameter_aim between 0 and 1, and take back the radius offset",
        ),
        inside(
            "functional_diameter_as_cut", found.functional_diameter, *sizes.pitch_diameter,
            "functional diameter as cut", unit, nearer,
        ),
        inside(
            f"{root_name.split()[0]}_diameter_as_cut", root, *sizes.root_diameter,
            f"{root_name} as cut", unit,
            "take a cutter whose tip is narrower (deeper root) or wider (shallower root)",
        ),
        inside(
            f"{crest_name.split()[0]}_diameter_as_cut", crest, *sizes.crest_diameter,
            f"{crest_name} as cut", unit, "the flanks meet below the crest: turn the blank "
            "nearer its limit, or take a cutter with a narrower tip",
        ),
    )  # fmt: skip


def chord_checks(
    job: Job, sizes: Sizes, found: Section, chord_tolerance: float
) -> tuple[Check, ...]:
    """Return whether straight lines in place of arcs keep every diameter inside its limits.

    Their ends lie on the circle, so they cut inside it: a boss, a hole, and the thread in either,
    come out smaller by up to twice the chord tolerance.
    """
    if job.machine.helical_arcs:
        return ()
    crest, root = found.major_diameter, found.minor_diameter
    if sizes.side == "internal":
        crest, root = root, crest
    pairs = (
        (found.pitch_diameter, sizes.pitch_diameter[0]),
        (crest, sizes.crest_diameter[0]),
        (root, sizes.root_diameter[0]),
    )
    room = min(size - least for size, least in pairs if least is not None)
    return (
        at_most(
            "chord_tolerance", 2 * chord_tolerance, max(0.0, room),
            "straight lines in place of arcs make diameters smaller by up to", sizes.unit,
            "set machine.chord_tolerance to at most "
            f"{written_down(max(0.0, room) / 2, sizes.unit)} {sizes.unit}",
        ),
    )  # fmt: skip
