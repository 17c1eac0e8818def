"""Refusals of the steps below, told of what the job itself states.

A step speaks of its own arguments: the passes of a cut, a stiffness. A job has none of these, so
what is wrong is told of the figures it does have, with what to change there.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.core.plan.job import Job
from flankwise_service.core.units import written, written_up


def told(job: Job, refusal: Refusal) -> Refusal:
    """Return a refusal with every fault at a place that the job has.

    >>> from flankwise_service.core.errors import Impossible
    >>> from flankwise_service.core.plan.job import CutterAsked, StockAsked, ThreadAsked
    >>> thread, stock = ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082")
    >>> job = Job("mm", thread, stock, cutter=CutterAsked(12.0, 4, neck_diameter=0.02))
    >>> soft = Impossible(Fault("/cutting/rigid_deflection", "out_of_range", "", "", 1e8))
    >>> told(job, soft).faults[0].pointer
    '/cutter/neck_diameter'
    """
    found = [_fault(job, one) for one in refusal.faults]
    return type(refusal)(*{(one.pointer, one.code, one.detail): one for one in found}.values())


def _fault(job: Job, fault: Fault) -> Fault:
    for begin, telling in TELLINGS.items():
        if fault.pointer.startswith(begin):
            return telling(job, fault)
    return fault


def _passes(job: Job, fault: Fault) -> Fault:
    """Return what leaves nothing to cut, or no room for a cutter, by the job's own figures."""
    unit, cutter = job.unit, job.cutter
    boss_or_hole = job.boss or job.hole
    if fault.code == "cuts_nothing" and job.cutting.radius_offset:
        return Fault(
            "/cutting/radius_offset", "cuts_nothing",
            f"corrected by {written(job.cutting.radius_offset, unit)} {unit} the cutter doesn't "
            "reach the blank: nothing is cut", "take cutting.radius_offset back",
            job.cutting.radius_offset, unit=unit,
        )  # fmt: skip
    if fault.code == "cuts_nothing" and boss_or_hole is not None and boss_or_hole.diameter:
        name = "boss" if job.boss is not None else "hole"
        return Fault(
            f"/{name}/diameter", "cuts_nothing",
            f"a {name} of {written(boss_or_hole.diameter, unit)} {unit} lies beyond the whole "
            "thread: nothing is cut", f"measure the {name} again, or check the designation",
            boss_or_hole.diameter, unit=unit,
        )  # fmt: skip
    if cutter is None:
        return replace(fault, pointer="/cutter")
    return Fault(
        "/cutter/diameter", "no_path",
        f"no path of a cutter of {written(cutter.diameter, unit)} {unit} leaves this thread: it "
        f"is too wide for {'the hole' if job.hole is not None else 'its lead'}",
        "take a smaller cutter", cutter.diameter, unit=unit,
    )  # fmt: skip


def _bending(job: Job, fault: Fault) -> Fault:
    """Return a stiffness that nothing has as what it comes from: neck, reach and overhang."""
    cutter, unit = job.cutter, job.unit
    if cutter is None or not cutter.neck_diameter:
        return replace(fault, pointer="/cutter")
    return Fault(
        "/cutter/neck_diameter", "bends_without_end",
        f"a neck of {written(cutter.neck_diameter, unit)} {unit} bends without end under the cut",
        "check neck_diameter, reach and overhang of the cutter", cutter.neck_diameter, unit=unit,
    )  # fmt: skip


def _tooth(job: Job, fault: Fault) -> Fault:
    """Return a tooth that the plan took from the thread as the cutter that can't have it."""
    cutter, unit = job.cutter, job.unit
    if cutter is None or cutter.tooth is not None or not isinstance(fault.value, float):
        return fault
    return Fault(
        "/cutter/diameter", "tooth_deeper_than_cutter",
        f"this thread asks for a tooth {written(fault.value, unit)} {unit} deep, more than half a "
        f"cutter of {written(cutter.diameter, unit)} {unit}",
        f"take a cutter of more than {written_up(2 * fault.value, unit)} {unit}, or state its "
        "tooth",
        cutter.diameter, 2 * fault.value, unit=unit,
    )  # fmt: skip


TELLINGS: dict[str, Callable[[Job, Fault], Fault]] = {
    "/cutter/passes": _passes,
    "/cutting/rigid_deflection": _bending,
    "/cutter/tooth/depth": _tooth,
}
