"""Given cutters compared for one thread, by the form they would really leave."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.errors import BadInput, Faults, Refusal, plain
from flankwise_service.core.form.correction import RadiusCorrection
from flankwise_service.core.form.job import Job
from flankwise_service.core.form.landed import Landed, landed
from flankwise_service.core.form.section import Section
from flankwise_service.core.form.tolerance import check_limits

ROW_PITCH_AGREES = 1e-3
"""Rows within this share of the pitch count as cut for it; finer errors are told by rows_effect."""
MOST_CUTTERS = 200
ENOUGH_POINTS = 60


@dataclass(frozen=True, slots=True)
class RankedCutter:
    """One cutter, and how it would do."""

    place: int
    """1 is best. Cutters that won't do come last, in the order they were given."""
    index: int
    """Where it stood among those given, from 0."""
    cutter: Cutter
    will_do: bool
    against: tuple[str, ...]
    """Why it won't do, each with its figures; empty when it will."""
    correction: RadiusCorrection | None
    section: Section | None
    """Of the corrected path; None where the cutter leaves none."""
    used_by_overcut: float | None
    """Percent of the tolerance, before correction."""
    used_by_form: float | None
    """Percent of the tolerance that no correction takes back."""


def rank_cutters(job: Job, cutters: Sequence[Cutter]) -> tuple[RankedCutter, ...]:
    """Return `cutters` in the order a shop would reach for them.

    Those that will do come first, the greatest diameter leading: it is the stiffest, and every one
    of them keeps its form error inside the share. Raises BadInput for a job that can't be read.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.job import job_for
    >>> from flankwise_service.core.threads import limits
    >>> tooth = Tooth(30.0, 30.0, 0.15625, 0.9)
    >>> given = [Cutter(diameter, 3, tooth) for diameter in (6.0, 4.0)]
    >>> found = rank_cutters(job_for(limits("M8x1.25-6H")), given)
    >>> [(one.cutter.diameter, one.will_do) for one in found]
    [(4.0, True), (6.0, False)]
    """
    _check(job, cutters)
    judged = [_judge(job, cutter, n) for n, cutter in enumerate(cutters)]
    order = sorted(judged, key=lambda one: (not one.will_do, -one.cutter.diameter * one.will_do))
    return tuple(replace(one, place=n + 1) for n, one in enumerate(order))


def _judge(job: Job, cutter: Cutter, index: int) -> RankedCutter:
    against = _misfits(job, cutter)
    found: Landed | None = None
    try:
        found = landed(job, cutter, ENOUGH_POINTS)
        against += _as_cut_faults(job, cutter, found.section, found.correction)
    except Refusal as refusal:
        against += tuple(fault.detail for fault in refusal.faults)
    left = found.section if found else None
    use = left.tolerance_use if left else None
    tolerance = job.pitch_diameter_limits[1] - job.pitch_diameter_limits[0]
    return RankedCutter(
        place=0,
        index=index,
        cutter=cutter,
        will_do=not against,
        against=against,
        correction=found.correction if found else None,
        section=left,
        used_by_overcut=100 * abs(found.correction.error_without) / tolerance if found else None,
        used_by_form=use.used_by_form if use else None,
    )


def _misfits(job: Job, cutter: Cutter) -> tuple[str, ...]:
    """Return what is against a cutter by its drawing alone."""
    against = []
    room = job.crest_diameter - 2 * job.clearance
    if job.side == "internal" and cutter.diameter > room:
        against.append(
            f"its diameter {plain(cutter.diameter, 5)} doesn't enter the hole of "
            f"{plain(job.crest_diameter, 5)}"
            f" with {plain(job.clearance, 4)} clearance all round"
        )
    for angle, made, word in zip(
        job.flank_angles,
        (cutter.tooth.flank_angle_upper, cutter.tooth.flank_angle_lower),
        ("upper", "lower"),
        strict=True,
    ):
        if abs(angle - made) > 0.05:
            against.append(
                f"its {word} flank stands at {plain(made)} degrees, the thread's at {plain(angle)}"
            )
    if cutter.least_pitch is not None and job.pitch < cutter.least_pitch * (1 - 1e-9):
        against.append(
            f"pitch {plain(job.pitch, 5)} is finer than its range from {plain(cutter.least_pitch)}"
        )
    if cutter.greatest_pitch is not None and job.pitch > cutter.greatest_pitch * (1 + 1e-9):
        against.append(
            f"pitch {plain(job.pitch, 5)} is coarser than its range to "
            f"{plain(cutter.greatest_pitch)}"
        )
    apart = job.pitch if cutter.row_pitch is None else cutter.row_pitch
    if cutter.rows > 1 and abs(apart - job.pitch) > ROW_PITCH_AGREES * job.pitch:
        against.append(
            f"its rows stand {plain(apart, 5)} apart, the pitch is {plain(job.pitch, 5)}"
        )
    return tuple(against)


def _as_cut_faults(
    job: Job, cutter: Cutter, as_cut: Section, found: RadiusCorrection
) -> tuple[str, ...]:
    """Return what is against a cutter by the form it leaves."""
    against = []
    use = as_cut.tolerance_use
    least, most = job.pitch_diameter_limits
    overcut = 100 * abs(found.error_without) / (most - least)
    if overcut > 100 * job.share:
        against.append(
            f"uncorrected its overcut shifts the pitch diameter by {plain(overcut, 3)} percent "
            "of the"
            f" tolerance; {plain(100 * job.share, 3)} is allowed"
        )
    if use and not use.functional_diameter_inside:
        against.append(
            f"corrected, a perfect mating thread still meets {plain(as_cut.functional_diameter)},"
            " outside the limits"
        )
    outward = 1.0 if job.side == "internal" else -1.0
    limit = job.root_diameter_limit
    if limit is not None and outward * (found.root_diameter - limit) < -1e-9 * limit:
        against.append(
            f"its root comes to {plain(found.root_diameter)} and must reach {plain(limit)}"
        )
    if as_cut.crest_left_by != "blank":
        against.append(f"the crest isn't left by the blank but by the {as_cut.crest_left_by}")
    neck = outward * (job.crest_diameter / 2 - found.centre_radius) - cutter.neck_diameter / 2
    if neck < job.clearance:
        against.append(
            f"its neck clears the crest by {plain(neck, 4)}; {plain(job.clearance, 4)} is wanted"
        )
    return tuple(against)


def _check(job: Job, cutters: Sequence[Cutter]) -> None:
    faults = Faults()
    check_limits(job.pitch_diameter_limits, faults)
    faults.within("/pitch", job.pitch, least=1e-5, greatest=1e5, name="pitch")
    faults.within(
        "/crest_diameter", job.crest_diameter, least=1e-5, greatest=1e5, name="crest diameter"
    )
    faults.within("/share", job.share, least=0.001, greatest=10.0, name="share of the tolerance")
    faults.within("/fraction", job.fraction, least=0.0, greatest=1.0, name="fraction")
    faults.within("/clearance", job.clearance, least=0.0, greatest=1e5, name="clearance")
    for n, angle in enumerate(job.flank_angles):
        faults.within(
            f"/flank_angles/{n}",
            angle,
            least=0.5,
            greatest=80.0,
            name="flank angle",
            unit="degrees",
        )
    faults.need(
        0 < len(cutters) <= MOST_CUTTERS,
        "/cutters",
        "cutters",
        f"{len(cutters)} cutters can't be compared",
        f"give 1 to {MOST_CUTTERS} cutters",
    )
    for n, cutter in enumerate(cutters):
        faults.within(
            f"/cutters/{n}/diameter", cutter.diameter, least=1e-5, greatest=1e5, name="diameter"
        )
    faults.raise_any(BadInput)
