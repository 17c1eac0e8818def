"""The whole job, step by step: each step is a module of this folder.

prepared   thread, material, crest diameter, bar, cutter, end mill
milled     centre path by the form really cut, section, speed, passes
laid       path of blank and thread, depth budget, approaches of tool to stock
work       measuring, checks, program, time, and all of it as one plan
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from flankwise_service.core.cutting.cost import BatchCost, batch_cost
from flankwise_service.core.cutting.speed import SpindleSpeed
from flankwise_service.core.cutting.time import MachiningTime, machining_time, moves_of
from flankwise_service.core.errors import Refusal
from flankwise_service.core.form.correction import RadiusCorrection
from flankwise_service.core.form.model import Cut
from flankwise_service.core.form.offset import diameter_per_depth
from flankwise_service.core.form.section import Section
from flankwise_service.core.path.collision import Approach
from flankwise_service.core.path.segment import Segment
from flankwise_service.core.path.totals import totals
from flankwise_service.core.plan import bar as bars
from flankwise_service.core.plan import blank as blanks
from flankwise_service.core.plan import (
    conditions,
    milling,
    offset,
    room,
    route,
    shape,
    unstated,
)
from flankwise_service.core.plan import taper as tapers
from flankwise_service.core.plan.advice import Tried, advised
from flankwise_service.core.plan.blank_fit import blank_checks
from flankwise_service.core.plan.cautions import CAUTIONS
from flankwise_service.core.plan.check import Check, accepted, at_most
from flankwise_service.core.plan.clear import below_boss, budget_checks, collision_checks
from flankwise_service.core.plan.engagement import engagement_check
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.measuring import gauging_check, gauging_plan
from flankwise_service.core.plan.preparing import Prepared, prepared
from flankwise_service.core.plan.result import (
    BlankPlan,
    GaugingPlan,
    PassPlan,
    Plan,
    Verdict,
    Work,
)
from flankwise_service.core.plan.settled import settled
from flankwise_service.core.plan.sources import sources
from flankwise_service.core.plan.telling import told
from flankwise_service.core.plan.tool_fit import reach_check
from flankwise_service.core.plan.unit_doubt import with_unit_doubt
from flankwise_service.core.plan.writing import program_for
from flankwise_service.core.program.program import Program


@dataclass(frozen=True, slots=True)
class Milled:
    """How it is cut, and the form that leaves."""

    correction: RadiusCorrection
    cut: Cut
    section: Section
    speed: SpindleSpeed
    passes: tuple[PassPlan, ...]


@dataclass(frozen=True, slots=True)
class Laid:
    """Where the tools go."""

    route: route.Route
    blank: BlankPlan
    blank_segments: tuple[Segment, ...]
    near: tuple[Approach, ...]


def work(job: Job, version: str, *, advise: bool = True) -> Work:
    """Return the whole job worked out: limits to checked program.

    Raises `Refusal` with every fault where no plan can be made at all. A plan that can be made but
    mustn't be run has the verdict "refused": its checks say why, and it has no program. Unless it
    is to `advise`, nothing is tried out for a cutter that finds no way in.
    """
    ready, cut, path = _ways(job, advise)
    gauging = gauging_plan(job, ready.sizes, diameter_per_depth(cut.cut))
    checks = tuple(accepted(one, job.accept) for one in _checks(ready, cut, path, gauging))
    program = None
    if verdict(checks) != "refused":
        program = _program(ready, cut, path, checks, version)
        checks = (*checks, _replay_check(job, program))
    plan = _plan(ready, cut, path, gauging, checks, program, version)
    return Work(job, plan, cut.section, path.route.segments, path.blank_segments)


def _ways(job: Job, advise: bool) -> tuple[Prepared, Milled, Laid]:
    """Return the job with its paths. Errors: of a cutter too wide, with what would go (`room`)."""
    try:
        ready = prepared(job)
        cut = milled(ready)
        return ready, cut, laid(ready, cut)
    except Refusal as refusal:
        advised_of = room.with_room(job, refusal, _goes) if advise else refusal
        raise with_unit_doubt(job, told(job, advised_of)) from refusal


def _goes(job: Job) -> bool:
    """Return whether a job's paths can be made, touch nothing, and leave a form inside limits."""
    try:
        ready = prepared(job)
        cut = milled(ready)
        short = room.shortened(job, ready.sizes)
        found = route.route(short, ready.sizes, ready.cutter, ready.blank, cut.passes, ready.used)
    except Refusal:
        return False
    stock = route.stock_around(job, ready.sizes, ready.blank, ready.bar, job.thread.length)
    near = route.approaches(found, stock)
    form = shape.form_checks(ready.sizes, cut.section)
    return all(one.clearance >= 0 for one in near) and all(one.state == "passed" for one in form)


def milled(ready: Prepared) -> Milled:
    """Return the corrected centre path, the section it leaves, and the passes that get there."""
    job, at, blank = ready.job, ready.sizes, ready.blank
    corrected, ideal = shape.correction(job, at, ready.cutter)
    cut = ideal.moved(-job.cutting.radius_offset)
    real = offset.expected_cut(job, at, ideal)
    section = shape.as_cut(at, ready.cutter, real, blank.diameter)
    speed = milling.speed_for(job, ready.cutter, ready.material)
    conditions = milling.thread_cut(
        job, at, ready.cutter, ready.material, blank.diameter, speed.speed
    )
    depth = at.outward * (cut.root_radius - blank.diameter / 2)
    depths = milling.depths(job, at, conditions, depth)
    passes = milling.pass_plans(conditions, depths, cut.deepest.centre_radius, at.outward)
    return Milled(corrected, cut, section, speed, passes)


def laid(ready: Prepared, cut: Milled) -> Laid:
    """Return the paths, the depth they need, and how near the tool comes to the stock."""
    job, at = ready.job, ready.sizes
    found = route.route(job, at, ready.cutter, ready.blank, cut.passes, ready.used)
    blank = replace(ready.blank, budget=found.budget)
    blank_path = blanks.blank_segments(job, at, blank, ready.bar, ready.used)
    if blank.kind == "hole" and blank.diameter >= ready.bar.size:
        fit = bars.bar_checks(job, at, ready.bar, ready.crest.diameter)
        bars.refuse_unfit(job, ready.bar, fit)
    stock = route.stock_around(job, at, blank, ready.bar, job.thread.length)
    return Laid(found, blank, blank_path, route.approaches(found, stock))


def verdict(checks: tuple[Check, ...]) -> Verdict:
    """Return what the checks together say.

    >>> verdict((Check("a", "passed", ""), Check("b", "caution", "")))
    'ready with cautions'
    """
    states = {check.state for check in checks}
    if "refused" in states:
        return "refused"
    return "ready with cautions" if states & {"caution", "accepted"} else "ready"


def _checks(
    ready: Prepared, cut: Milled, path: Laid, gauging: GaugingPlan | None
) -> tuple[Check, ...]:
    job, at = ready.job, ready.sizes
    return (
        *ready.fit,
        *bars.bar_checks(job, at, ready.bar, ready.crest.diameter),
        *blank_checks(job, at, ready.blank),
        *tapers.taper_checks(job, at, ready.crest.diameter),
        *budget_checks(job, path.blank, path.route),
        reach_check(ready.cutter, -path.route.totals.least.z, job.unit),
        *collision_checks(path.near, job.unit, below_boss(job)),
        *advised(
            Tried(job, at, ready.cutter, ready.blank.diameter),
            cut.section,
            shape.form_checks(at, cut.section),
        ),
        *offset.offset_checks(job, at),
        *shape.chord_checks(job, at, cut.section, ready.used.chord_tolerance),
        *conditions.condition_checks(job, ready.cutter, ready.material, cut.speed, cut.passes),
        *milling.milling_checks(job, at, cut.passes),
        *unstated.unstated_speed_checks(job, cut.speed, ready.blank),
        engagement_check(job, at),
        gauging_check(job, at, gauging),
    )


def _program(
    ready: Prepared, cut: Milled, path: Laid, checks: tuple[Check, ...], version: str
) -> Program:
    return program_for(
        ready.job, ready.sizes, ready.cutter, path.blank, cut.speed.speed, path.route.segments,
        path.blank_segments, checks, ready.used, version,
    )  # fmt: skip


def _replay_check(job: Job, program: Program) -> Check:
    replay = program.replay
    return at_most(
        "program_replay", replay.position_error, replay.last_digit,
        "the program read back differs from the path by", job.unit, "report this: it is our fault",
    )  # fmt: skip


def _time(ready: Prepared, path: Laid) -> MachiningTime:
    used = ready.used
    tools = 2 if path.blank_segments else 1
    return machining_time(
        moves_of((*path.blank_segments, *path.route.segments)),
        rapid=used.rapid, acceleration=used.acceleration, tool_changes=tools,
        tool_change_s=used.tool_change_s,
    )  # fmt: skip


def _cost(job: Job, time: MachiningTime) -> BatchCost | None:
    if job.costs.hourly_rate == 0:
        return None
    return batch_cost(
        time.total_s, job.quantity, hourly_rate=job.costs.hourly_rate,
        setup_minutes=job.costs.setup_minutes, cutting_seconds_per_part=time.cutting_s,
    )  # fmt: skip


def _plan(
    ready: Prepared, cut: Milled, path: Laid, gauging: GaugingPlan | None,
    checks: tuple[Check, ...], program: Program | None, version: str,
) -> Plan:  # fmt: skip
    job, time = ready.job, _time(ready, path)
    return Plan(
        unit=job.unit,
        made_by=f"flankwise {version}",
        name=job.name,
        quantity=job.quantity,
        verdict=verdict(checks),
        limits=ready.sizes.limits,
        material=ready.material.name,
        bar=ready.bar,
        blank=path.blank,
        cutter=ready.cutter,
        speed=cut.speed,
        motion=route.motion_plan(job, path.route),
        passes=cut.passes,
        form=shape.form_plan(cut.section, cut.correction),
        path=path.route.totals,
        blank_path=totals(path.blank_segments) if path.blank_segments else None,
        time=time,
        cost=_cost(job, time),
        gauging=gauging,
        program=program,
        checks=checks,
        assumed=(*ready.assumed, *unstated.machine_words(job, cut.speed, path.blank, cut.passes)),
        advice=tuple(dict.fromkeys(check.change for check in checks if check.change)),
        cautions=CAUTIONS,
        sources=sources(ready.sizes, ready.material),
        job=settled(
            job, ready.sizes, ready.cutter, path.blank.end_mill, ready.bar, cut.passes, gauging,
            ready.used, milling.surface_speed_for(job, ready.cutter, ready.material),
            milling.chip_load_for(job, ready.cutter, ready.material), version,
        ),
    )  # fmt: skip
