"""What a job asks that can't be granted, whatever its thread: refused before it is worked out."""

from __future__ import annotations

from flankwise_service.core.errors import BadInput, Fault, Faults
from flankwise_service.core.plan.common import defaults
from flankwise_service.core.plan.job import Job
from flankwise_service.core.units import from_mm, written, written_up

ACCEPTABLE = (
    "boss_within_bar", "chip_load", "deflection", "end_mill_reach", "end_mill_slender", "reach",
    "spindle_power", "surface_speed", "thread_length", "wall_thickness",
)  # fmt: skip
"""Codes of the checks whose refusal a careful machinist may take on himself."""
LEAST_CLEARANCE_HEIGHT_MM = 0.5
"""Least height of the tip above the face for moves between passes (common practice, no source)."""
LEAST_SAFE_HEIGHT_MM = 1.0
"""Least height of the tip above the face for moves across the part (common practice, no source)."""


def check_accept(job: Job) -> None:
    """Refuse codes in `accept` that name no check, or one whose refusal nobody can accept.

    >>> from flankwise_service.core.plan.job import StockAsked, ThreadAsked
    >>> thread, stock = ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082")
    >>> check_accept(Job("mm", thread, stock, accept=("deflection",)))
    >>> check_accept(Job("mm", thread, stock, accept=("bananas",)))
    Traceback (most recent call last):
    ...
    flankwise_service.core.errors.BadInput: 'bananas' is no check whose refusal can be accepted
    """
    faults = Faults()
    for index, code in enumerate(job.accept):
        if code not in ACCEPTABLE:
            faults.add(
                Fault(
                    f"/accept/{index}",
                    "not_acceptable",
                    f"{code!r} is no check whose refusal can be accepted",
                    f"leave it out, or name one of {', '.join(ACCEPTABLE)}",
                    code,
                    near=ACCEPTABLE,
                )
            )
    faults.raise_any(BadInput)


def check_clearance_height(job: Job) -> None:
    """Refuse a stated clearance height at which the tool would move too near the face."""
    stated, unit = job.program.clearance_height, job.unit
    least = from_mm(LEAST_CLEARANCE_HEIGHT_MM, unit)
    if stated is None or stated >= least:
        return
    raise BadInput(
        Fault(
            "/program/clearance_height",
            "too_low",
            f"a clearance height of {written(stated, unit)} {unit} leaves less than "
            f"{written_up(least, unit)} {unit} over the face: the tool moves across the part there "
            "between its passes",
            f"give a clearance height of at least {written_up(least, unit)} {unit}",
            stated,
            least=least,
            unit=unit,
        )
    )


def check_safe_height(job: Job) -> None:
    """Refuse a stated safe height below the clearance height, or too near the face to move at."""
    stated, unit = job.program.safe_height, job.unit
    clearance, near = defaults(job).clearance_height, from_mm(LEAST_SAFE_HEIGHT_MM, unit)
    least = max(clearance, near)
    if stated is None or stated >= least:
        return
    code, why = "too_low", f"leaves less than {written(near, unit)} {unit} over the face"
    if stated < clearance:
        code, why = (
            "below_clearance",
            f"is below the clearance height, {written(clearance, unit)} {unit}",
        )
    raise BadInput(
        Fault(
            "/program/safe_height",
            code,
            f"a safe height of {written(stated, unit)} {unit} {why}: the tool moves across the "
            "part there",
            f"give a safe height of at least {written_up(least, unit)} {unit}",
            stated,
            least=least,
            unit=unit,
        )
    )
