"""Has the tool room: is the blank deep enough, and does anything meet the stock?"""

from __future__ import annotations

from flankwise_service.core.cutting.tooth import reach_below_tooth
from flankwise_service.core.path.collision import Approach
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.result import BlankPlan
from flankwise_service.core.plan.route import Route
from flankwise_service.core.stock.blank import deepest_thread
from flankwise_service.core.units import Unit, from_mm, written, written_down, written_up

CLOSE_MM = 0.1
"""A clearance below this is told as a caution (common practice, no source)."""


def below_boss(job: Job) -> str:
    """Return what stands below a boss, in words: the bar goes on there where no shoulder is said.

    >>> from flankwise_service.core.plan.job import BossAsked, Job, StockAsked, ThreadAsked
    >>> boss = BossAsked(22.0, shoulder=False)
    >>> job = Job("mm", ThreadAsked("M20x1.5-6g", 16.0), StockAsked("6082"), boss=boss)
    >>> below_boss(job)
    'bar below the boss'
    """
    return "shoulder" if job.boss is not None and job.boss.shoulder else "bar below the boss"


def budget_checks(job: Job, blank: BlankPlan, found: Route) -> tuple[Check, ...]:
    """Return whether the blank is deep enough for thread, lead-out, half a tooth and clearance."""
    unit, length = job.unit, job.thread.length
    checks: list[Check] = []
    if found.budget is None:
        state = "passed" if blank.depth >= length else "refused"
        detail = (
            f"{blank.kind} {written(blank.depth, unit)} {unit} deep for {written(length, unit)} "
            f"{unit} of thread"
        )
        missing = length - blank.depth
        change = f"make the {blank.kind} {written_up(missing, unit)} {unit} deeper"
        if missing <= 0:
            change = _room_below(blank, found, unit)
        return (Check("axial_budget", state, detail, blank.depth, length, unit, change),)  # type: ignore[arg-type]
    budget = found.budget
    run_out = budget.thread_length - length
    parts = (
        f"{written(length, unit)} thread + {written(run_out, unit)} run-out + "
        f"{written(budget.half_tooth, unit)} of the tool below its lowest tooth's middle + "
        f"{written(budget.clearance, unit)} clearance"
    )
    what = below_boss(job) if blank.kind == "boss" else "bottom of the hole"
    if budget.missing == 0:
        detail = (
            f"down to the {what} {written(budget.needed, unit)} {unit} are needed ({parts}); "
            f"{written(budget.available, unit)} are there, {written(budget.spare, unit)} to spare"
        )
        checks.append(
            Check("axial_budget", "passed", detail, budget.available, budget.needed, unit)
        )
        return tuple(checks)
    longest = deepest_thread(budget.available, budget.half_tooth + run_out, budget.clearance)
    detail = (
        f"{written(length, unit)} {unit} of full thread needs a {blank.kind} "
        f"{written(budget.needed, unit)} {unit} deep "
        f"({parts}); this one is {written(budget.available, unit)}: "
        f"{written(budget.missing, unit)} {unit} is missing, "
        f"and the cutter would plough into the {what}"
    )
    change = f"make the {blank.kind} {written_up(budget.missing, unit)} {unit} deeper"
    if longest > 0:
        change += f", or thread no longer than {written_down(longest, unit)} {unit}"
    checks.append(
        Check("axial_budget", "refused", detail, budget.available, budget.needed, unit, change)
    )
    return tuple(checks)


def _room_below(blank: BlankPlan, found: Route, unit: Unit) -> str:
    """Return what to leave free below a part the cutter comes out of; nothing where it doesn't."""
    below = reach_below_tooth(found.helix.cutter) - found.totals.least.z - blank.depth
    if below <= 0 or blank.kind == "boss":
        return ""
    return (
        f"leave more than {written_up(below, unit)} {unit} free below the part: the cutter comes "
        "out of it by that much, keep vise and parallels away"
    )


def collision_checks(
    near: tuple[Approach, ...], unit: Unit, below: str = "shoulder"
) -> tuple[Check, ...]:
    """Return one check for each pair of tool and stock that could meet; `below` names one."""
    checks: list[Check] = []
    close = from_mm(CLOSE_MM, unit)
    for one in near:
        code = f"clearance_{one.tool}_{one.stock.replace(' ', '_')}"
        # 6e-15 and -0 are 0.
        x, y, z = (written(round(at, 6) + 0.0, unit) for at in one.place[:3])
        where = f"at X {x} Y {y} Z {z}"
        apart = f"{written(abs(one.clearance), unit)} {unit}"
        stock = below if one.stock == "shoulder" else one.stock
        if one.clearance < 0:
            verb = "cut" if one.tool == "teeth" else "cuts"
            detail = f"the {one.tool} {verb} {apart} into the {stock} {where}"
            change = _way_out(one)
            checks.append(Check(code, "refused", detail, one.clearance, 0.0, unit, change))
            continue
        verb = "stay" if one.tool == "teeth" else "stays"
        detail = f"the {one.tool} {verb} {apart} clear of the {stock}"
        if one.clearance < close:
            checks.append(
                Check(code, "caution", f"{detail}, {where}", one.clearance, close, unit,
                      "prove this place out with care: it is close")
            )  # fmt: skip
        else:
            checks.append(Check(code, "passed", detail, one.clearance, 0.0, unit))
    return tuple(checks)


def _way_out(one: Approach) -> str:
    return {
        "teeth": "make the blank deeper or the thread shorter",
        "neck": "take a cutter with a thinner neck, or a deeper tooth",
        "shank": "take a cutter of longer reach",
        "holder": "let the cutter stand out farther from the holder",
    }[one.tool]
