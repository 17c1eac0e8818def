"""Cutters compared by the whole plan each would give: the one to reach for comes first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from flankwise_service.core.errors import BadInput, Fault, Refusal
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import CutterAsked, Job
from flankwise_service.core.plan.result import Plan, Verdict

MOST_CUTTERS = 20
ORDER: dict[str, int] = {"ready": 0, "ready with cautions": 1, "refused": 2, "no plan": 3}


@dataclass(frozen=True, slots=True)
class CutterCompared:
    """One cutter and the plan it would give."""

    place: int
    """1 is the one to reach for."""
    index: int
    """Where it stood among those given, from 0."""
    name: str
    diameter: float
    verdict: Verdict | None
    """None where no plan can be made with it."""
    passes: int | None
    seconds_per_part: float | None
    cost_per_part: float | None
    pitch_diameter_effect: float | None
    """What deflection leaves on the pitch diameter after the last pass."""
    centre_radius_change: float | None
    """Correction that the form really cut asks of the nominal centre path."""
    reasons: tuple[str, ...]
    """What speaks for it or against it, with figures."""


def compared(job: Job, cutters: Sequence[CutterAsked], version: str) -> tuple[CutterCompared, ...]:
    """Return the cutters in order: ready before cautions before refused, then by time.

    Errors: `BadInput` when none or more than 20 are given, or when the job itself is at fault.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> found = compared(job, [CutterAsked(12.0, 4), CutterAsked(8.0, 4)], "1.0.0")
    >>> [(one.place, one.diameter) for one in found]
    [(1, 8.0), (2, 12.0)]
    """
    if not 1 <= len(cutters) <= MOST_CUTTERS:
        raise BadInput(
            Fault(
                "/cutters",
                "wrong_count",
                f"{len(cutters)} cutters can't be compared",
                f"give 1 to {MOST_CUTTERS} cutters",
                len(cutters),
                1,
                MOST_CUTTERS,
            )
        )
    judged = [_judged(job, cutter, index, version) for index, cutter in enumerate(cutters)]
    if all(isinstance(one, Refusal) and not _of_the_cutter(one) for one in judged):
        # Not a cutter's fault: the job can't be planned with any.
        raise next(one for one in judged if isinstance(one, Refusal))
    told = [
        _refused(cutter, index, one) if isinstance(one, Refusal) else one
        for index, (cutter, one) in enumerate(zip(cutters, judged, strict=True))
    ]
    ranked = sorted(
        told,
        key=lambda one: (ORDER[one.verdict or "no plan"], one.seconds_per_part or 0.0, one.index),
    )
    return tuple(replace(one, place=place) for place, one in enumerate(ranked, 1))


def _of_the_cutter(refusal: Refusal) -> bool:
    """Whether any fault lies with the cutter, whatever else stands in the way with it."""
    return any(fault.pointer.startswith("/cutter") for fault in refusal.faults)


def _refused(cutter: CutterAsked, index: int, refusal: Refusal) -> CutterCompared:
    reasons = tuple(fault.detail for fault in refusal.faults)
    return CutterCompared(
        0, index, cutter.name, cutter.diameter, None, None, None, None, None, None, reasons
    )


def _judged(job: Job, cutter: CutterAsked, index: int, version: str) -> CutterCompared | Refusal:
    try:
        plan = work(replace(job, cutter=cutter), version, advise=False).plan
    except Refusal as refusal:
        return refusal
    return CutterCompared(
        place=0,
        index=index,
        name=cutter.name,
        diameter=cutter.diameter,
        verdict=plan.verdict,
        passes=len(plan.passes),
        seconds_per_part=plan.time.total_s,
        cost_per_part=None if plan.cost is None else plan.cost.per_part,
        pitch_diameter_effect=plan.passes[-1].pitch_diameter_effect,
        centre_radius_change=plan.form.correction.change,
        reasons=_reasons(plan),
    )


def _reasons(plan: Plan) -> tuple[str, ...]:
    against = tuple(check.detail for check in plan.checks if check.state != "passed")
    last = plan.passes[-1]
    steady = (
        f"{len(plan.passes)} passes, {plan.time.cutting_s:.0f} s cutting, "
        f"{last.work.force.power_kw:.3f} kW at the last pass"
    )
    return (*against, steady)
