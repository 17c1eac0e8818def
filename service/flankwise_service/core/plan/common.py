"""Heights and clearances that a job may leave to the plan, and small shared steps."""

from __future__ import annotations

from dataclasses import dataclass, is_dataclass, replace
from typing import get_args, get_type_hints

from flankwise_service.core.errors import BadInput, Fault, Refusal, plain
from flankwise_service.core.path.request import SWEEPS, Sweep
from flankwise_service.core.plan.job import Job
from flankwise_service.core.units import from_mm, to_mm, written

CLEARANCE_HEIGHT_MM = 2.0
SAFE_HEIGHT_MM = 25.0
RADIAL_CLEARANCE_MM = 0.5
AXIAL_CLEARANCE_MM = 0.5
OUTSIDE_CLEARANCE_MM = 1.0
STRAIGHT_LEAD_MM = 1.0
CHORD_TOLERANCE_MM = 0.002
RADIAL_TOLERANCE_MM = 0.001
"""Common practice, no source; each can be set in the job."""
RAPID_MM = 10_000.0
ACCELERATION_MM = 2000.0
TOOL_CHANGE_S = 10.0
"""For the time, where the machine doesn't state them (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Defaults:
    """What the job states, or the plan's own values, in the job's unit."""

    clearance_height: float
    safe_height: float
    radial_clearance: float
    axial_clearance: float
    outside_clearance: float
    straight_lead: float
    """Where a control switches its radius offset on and off; 0 without one."""
    chord_tolerance: float
    radial_tolerance: float
    rapid: float
    acceleration: float
    tool_change_s: float


def defaults(job: Job) -> Defaults:
    """Return the heights, clearances and machine figures to plan with."""

    def own(stated: float | None, mm: float) -> float:
        return from_mm(mm, job.unit) if stated is None else stated

    machine, cutting = job.machine, job.cutting
    height = own(job.program.clearance_height, CLEARANCE_HEIGHT_MM)
    return Defaults(
        clearance_height=height,
        safe_height=own(job.program.safe_height, max(SAFE_HEIGHT_MM, to_mm(height, job.unit))),
        radial_clearance=own(cutting.radial_clearance, RADIAL_CLEARANCE_MM),
        axial_clearance=own(cutting.axial_clearance, AXIAL_CLEARANCE_MM),
        outside_clearance=own(None, OUTSIDE_CLEARANCE_MM),
        straight_lead=own(0.0 if job.program.radius_offset is None else None, STRAIGHT_LEAD_MM),
        chord_tolerance=own(machine.chord_tolerance, CHORD_TOLERANCE_MM),
        radial_tolerance=own(None, RADIAL_TOLERANCE_MM),
        rapid=own(machine.rapid, RAPID_MM),
        acceleration=own(machine.acceleration, ACCELERATION_MM),
        tool_change_s=TOOL_CHANGE_S
        if machine.tool_change_seconds is None
        else machine.tool_change_seconds,
    )


def sweep_of(degrees: float) -> Sweep:
    """Return the greatest arc sweep as the path takes it; only 90, 180 and 360 can be asked.

    >>> sweep_of(180.0)
    180
    """
    for sweep in SWEEPS:
        if sweep == degrees:
            return sweep
    raise BadInput(
        Fault(
            "/machine/greatest_sweep",
            "not_one_of",
            f"an arc block can't be limited to {degrees:g} degrees",
            "give 90, 180 or 360",
            degrees,
        )
    )


def check_sweep(job: Job) -> None:
    """Refuse arc blocks the program can't have; by their radius only quarter turns are sharp."""
    sweep = sweep_of(job.machine.greatest_sweep)
    if job.program.arc_form == "radius" and sweep > 90:
        raise BadInput(
            Fault(
                "/machine/greatest_sweep",
                "too_blunt",
                f"arcs of {sweep} degrees given by their radius are too sensitive to rounding",
                "give 90, or write the arcs by their centre (program.arc_form)",
                sweep,
                greatest=90,
                unit="deg",
            )
        )


def placed(refusal: Refusal, places: dict[str, str], otherwise: str) -> Refusal:
    """Return the refusal with its pointers where the job document has those values.

    `places` maps the begin of a step's pointer to its place in the job; the rest goes below
    `otherwise`, or to it where a job has no such value. What is said of many moves is said once.

    >>> from flankwise_service.core.errors import Impossible
    >>> lost = Impossible(Fault("/wire", "", "", ""))
    >>> placed(lost, {"/wire": "/gauging/wire_diameter"}, "/gauging").faults[0].pointer
    '/gauging/wire_diameter'
    >>> unknown = Impossible(Fault("/lead_out", "", "", ""))
    >>> placed(unknown, {}, "/cutting").faults[0].pointer
    '/cutting'
    """

    def place(pointer: str) -> str:
        for begin, target in places.items():
            if pointer == begin or pointer.startswith(begin + "/"):
                inside = target + pointer[len(begin) :]
                return inside if _in_a_job(inside) else target
        return otherwise + pointer if _in_a_job(otherwise + pointer) else otherwise

    moved = [replace(fault, pointer=place(fault.pointer)) for fault in refusal.faults]
    first = {(fault.pointer, fault.code, fault.detail): fault for fault in reversed(moved)}
    return type(refusal)(*reversed(first.values()))


def _in_a_job(pointer: str) -> bool:
    """Return whether a job document can hold a value at this place."""
    kind: object = Job
    for name in pointer.split("/")[1:]:
        inside = [one for one in (kind, *get_args(kind)) if is_dataclass(one)]
        hints = get_type_hints(inside[0]) if inside else {}
        if name not in hints:
            return False
        kind = hints[name]
    return True


def assumed_words(job: Job, used: Defaults) -> tuple[str, ...]:
    """Return what the plan set itself, in words."""
    unit, said = job.unit, []
    stated = {
        "clearance height": (job.program.clearance_height, used.clearance_height),
        "safe height": (job.program.safe_height, used.safe_height),
        "clearance to shoulder or bottom": (job.cutting.axial_clearance, used.axial_clearance),
    }
    for name, (given, value) in stated.items():
        if given is None:
            said.append(f"{name}: {written(value, unit)} {unit}")
    if job.machine.rapid is None or job.machine.acceleration is None:
        said.append(
            f"for the time: rapid {plain(used.rapid, 4)} {unit}/min, acceleration "
            f"{plain(used.acceleration, 4)} {unit}/s2, {used.tool_change_s:g} s per tool change"
        )
    return tuple(said)
