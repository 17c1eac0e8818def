"""Whether the blank is on size, and its tools long and slim enough for it."""

from __future__ import annotations

from flankwise_service.core.errors import plain
from flankwise_service.core.plan.check import Check, at_least, at_most, inside, limits_said
from flankwise_service.core.plan.job import EndMill, Job
from flankwise_service.core.plan.result import BlankPlan
from flankwise_service.core.plan.sizes import Sizes, between
from flankwise_service.core.units import from_mm, written, written_up

END_MILL_CLEARANCE_MM = 0.5
"""Least gap between the end mill's holder and the face (common practice, no source)."""
DEEP_CUT = 6.0
"""Depth over an end mill's diameter beyond which it bends (common practice, no source)."""
NO_SUCH_MILL = 12.0
"""The same, beyond which none is proposed (common practice, no source)."""


def blank_checks(job: Job, sizes: Sizes, blank: BlankPlan) -> tuple[Check, ...]:
    """Return whether the blank is inside its limits and the end mill long enough for it.

    >>> from flankwise_service.core.plan.compose import work
    >>> from flankwise_service.core.plan.job import HoleAsked, StockAsked, ThreadAsked
    >>> thread, hole = ThreadAsked("M20x1.5-6H", 16.0), HoleAsked(22.0, ready=True)
    >>> made = work(Job("mm", thread, StockAsked("6082"), hole=hole), "1").plan
    >>> [one.state for one in made.checks if one.code == "blank_inside_limits"]
    ['caution']
    """
    what = "boss" if sizes.side == "external" else "hole"
    name = "major diameter" if sizes.side == "external" else "minor diameter"
    change = _off_size(job, sizes, blank)
    checks = [
        inside(
            "blank_inside_limits", blank.diameter, blank.least, blank.greatest,
            f"{what} ({name})", job.unit, change,
        )
    ]  # fmt: skip
    if blank.ready and not _measured(job):
        checks = [_not_measured(job, blank, f"{what} ({name})")]
    if blank.end_mill is not None:
        checks.append(
            at_least(
                "end_mill_reach", blank.end_mill.flute_length, blank.depth,
                "cutting edge of the end mill", job.unit,
                f"take an end mill that cuts {written_up(blank.depth, job.unit)} {job.unit} "
                "deep", acceptable=True,
            )
        )  # fmt: skip
        checks += _slender(job, blank, blank.end_mill)
        if blank.end_mill.overhang is not None:
            checks.append(_holder_clear(job, blank, blank.end_mill.overhang))
        if sizes.side == "internal":
            checks.append(_end_mill_fits(job, blank, blank.end_mill))
    if blank.end_mill is not None and job.hole is not None and job.hole.drilled_diameter:
        checks.append(_drilled(job, job.hole.drilled_diameter, blank.depth))
    return tuple(checks)


def _slender(job: Job, blank: BlankPlan, mill: EndMill) -> list[Check]:
    """Return what to say of an end mill that would cut many times its diameter deep."""
    deep = blank.depth / mill.diameter
    if deep <= DEEP_CUT:
        return []
    detail = (
        f"the end mill cuts {plain(deep, 2)} times its diameter deep, more than {DEEP_CUT:g} "
        "(common practice, no source): it bends, and the wall isn't straight"
    )
    change = "take a thicker end mill, mill the blank another way and state it as ready"
    if job.end_mill is None and deep > NO_SUCH_MILL:
        detail += "; none of that length was stated, and the one proposed is not to be bought"
        return [
            Check("end_mill_slender", "refused", detail, deep, NO_SUCH_MILL, "diameters",
                  f"state your own end mill, or {change}", acceptable=True)
        ]  # fmt: skip
    return [Check("end_mill_slender", "caution", detail, deep, DEEP_CUT, "diameters", change)]


def _measured(job: Job) -> bool:
    asked = job.boss or job.hole
    return asked is not None and asked.diameter is not None


def _not_measured(job: Job, blank: BlankPlan, name: str) -> Check:
    """Return that a finished blank's size is taken for granted, and what it must measure."""
    unit, span = job.unit, limits_said(blank.least, blank.greatest, job.unit)
    return Check(
        "blank_inside_limits", "caution",
        f"{name} isn't measured: {written(blank.diameter, unit)} {unit} is taken, its limits are "
        f"{span}",
        blank.diameter, None, unit,
        f"measure it before threading: {span}; and state it as {blank.kind}.diameter",
    )  # fmt: skip


def _off_size(job: Job, sizes: Sizes, blank: BlankPlan) -> str:
    """Return what can be done about a blank outside its limits: metal left comes off, no more."""
    external = sizes.side == "external"
    unit, middle = job.unit, between(sizes.crest_diameter, 0.5)
    span = limits_said(blank.least, blank.greatest, unit)
    if sizes.outward * (blank.diameter - middle) < 0:
        done = "turn the boss down" if external else "bore the hole on"
        return (
            f"metal is left: {done} to {written(middle, unit, 6)} {unit} ({span}) before threading"
        )
    start = "out of larger stock, turned" if external else "with its hole bored"
    return (
        f"metal is missing, and no cutter puts it back: the part is scrap for "
        f"{sizes.limits.designation}. Make another {start} to {written(middle, unit, 6)} {unit} "
        f"({span})"
    )


def _drilled(job: Job, diameter: float, depth: float) -> Check:
    return Check(
        "drilled_hole", "passed",
        f"boring counts on a drilled hole of {written(diameter, job.unit, 5)} {job.unit} all the "
        "way down",
        diameter, None, job.unit,
        f"see that the drilled hole is {written(depth, job.unit)} {job.unit} deep at its full "
        "diameter: where it "
        "ends higher, the end mill meets solid metal",
    )  # fmt: skip


def _holder_clear(job: Job, blank: BlankPlan, overhang: float) -> Check:
    needed = blank.depth + from_mm(END_MILL_CLEARANCE_MM, job.unit)
    return at_least(
        "end_mill_overhang", overhang, needed, "overhang of the end mill", job.unit,
        f"let the end mill stand out at least {written_up(needed, job.unit)} {job.unit}: its "
        "holder would run into the face",
    )  # fmt: skip


def _end_mill_fits(job: Job, blank: BlankPlan, mill: EndMill) -> Check:
    return at_most(
        "end_mill_fits", mill.diameter, 0.95 * blank.diameter, "end mill diameter", job.unit,
        "take an end mill smaller than the hole",
    )  # fmt: skip
