"""The greatest cutter that gets in, and what would make room for this one: found by trying it out.

Nothing here is tried while the cutter asked for finds its way in.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.core.plan.common import defaults
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.units import written, written_down

HALVINGS = 10
SHRINKS = (0.8, 0.6, 0.4, 0.2)
"""Shares of the cutter's diameter below which the greatest one is looked for."""
STEPS = {"in": 0.005, "mm": 0.1}
"""Cutters are named to this step, rounded down."""
CLOSER = 0.2
"""Share of the radial clearance with which it is tried."""
TURNS = 3
NO_WAY_IN = "lead_in_material"
TOO_WIDE = (NO_WAY_IN, "cutter_enters_hole")
"""Codes of what a narrower cutter mends, at /cutter/diameter."""

Goes = Callable[[Job], bool]


def with_room(job: Job, refusal: Refusal, goes: Goes) -> Refusal:
    """Return the refusal; of a cutter that finds no way in it says what would, each tried out.

    `goes` tells of a job whether its paths can be made.
    """
    if not any(_too_wide(fault) for fault in refusal.faults):
        return refusal
    greatest = None if job.cutter is None else _greatest(job, job.cutter.diameter, goes)
    more = _more_room(job, goes)
    return type(refusal)(
        *(_told(job, fault, greatest, more) if _too_wide(fault) else fault
          for fault in refusal.faults)
    )  # fmt: skip


def _too_wide(fault: Fault) -> bool:
    return fault.pointer == "/cutter/diameter" and fault.code in TOO_WIDE


def narrowed(job: Job, diameter: float) -> Job:
    """Return the job with a cutter so wide, its neck as far inside the tooth as it was.

    >>> from flankwise_service.core.plan.job import CutterAsked, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"),
    ...           cutter=CutterAsked(18.0, 4, neck_diameter=15.0))
    >>> narrowed(job, 14.0).cutter.neck_diameter, narrowed(job, 2.0).cutter.neck_diameter
    (11.0, 0.0)
    """
    cutter = job.cutter
    if cutter is None:
        return job
    neck = max(0.0, cutter.neck_diameter - (cutter.diameter - diameter))
    return replace(job, cutter=replace(cutter, diameter=diameter, neck_diameter=neck))


def shortened(job: Job, sizes: Sizes) -> Job:
    """Return the job with a few turns of its thread: more say nothing of the way in, but cost time.

    A taper thread keeps its length, for its hole is narrowest at the end.

    >>> from flankwise_service.core.plan.job import StockAsked, ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> long = Job("mm", ThreadAsked("M20x1.5-6H", 160.0), StockAsked("6082"))
    >>> shortened(long, sizes(long.thread, "mm")).thread.length
    4.5
    """
    length = job.thread.length
    if not sizes.taper:
        length = min(length, TURNS * sizes.lead)
    return replace(job, thread=replace(job.thread, length=length))


def _greatest(job: Job, diameter: float, goes: Goes) -> float | None:
    """Return the greatest narrower cutter that goes, in whole steps, or None."""
    goes_not = diameter
    for share in SHRINKS:
        if goes(narrowed(job, diameter * share)):
            break
        goes_not = diameter * share
    else:
        return None
    least = diameter * share
    for _ in range(HALVINGS):
        middle = (least + goes_not) / 2
        least, goes_not = (middle, goes_not) if goes(narrowed(job, middle)) else (least, middle)
    step = STEPS[job.unit]
    rounded = round(int(least / step + 1e-9) * step, 6)
    return rounded if goes(narrowed(job, rounded)) else None


def _more_room(job: Job, goes: Goes) -> tuple[str, ...]:
    """Return which fields of the job make room for this cutter, in words; each was tried out."""
    said = []
    if job.program.radius_offset is not None:
        straight = f"{written(defaults(job).straight_lead, job.unit)} {job.unit}"
        if goes(replace(job, program=replace(job.program, radius_offset=None))):
            said.append(
                "leave program.radius_offset out: the straight moves that switch it on and off "
                f"take {straight}"
            )
    closer = CLOSER * defaults(job).radial_clearance
    if goes(replace(job, cutting=replace(job.cutting, radial_clearance=closer))):
        said.append(f"set cutting.radial_clearance to {written(closer, job.unit)} {job.unit}")
    return tuple(said)


def _told(job: Job, fault: Fault, greatest: float | None, more: tuple[str, ...]) -> Fault:
    """Return the fault in the job's own words, with what would do."""
    unit, diameter = job.unit, None if job.cutter is None else job.cutter.diameter
    ways = list(more)
    if greatest is not None:
        ways.insert(0, f"take a cutter of at most {written_down(greatest, unit)} {unit}")
    change = "take a much smaller cutter, or leave it out and the plan proposes one"
    if ways:
        change = f"{', or '.join(ways)} ({'each ' if len(ways) > 1 else ''}tried out)"
    detail = fault.detail
    if fault.code == NO_WAY_IN:
        detail = f"the cutter finds no way in and out beside the blank: {detail}"
    return replace(
        fault, detail=detail, change=change, value=diameter, greatest=greatest, unit=unit
    )
