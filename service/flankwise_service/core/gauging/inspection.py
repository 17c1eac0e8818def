"""One reading of one part, all the way: pitch diameter, verdict, correction.

Lengths in the unit of the limits given.
"""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.errors import Impossible
from flankwise_service.core.gauging.correction import (
    Correction,
    CorrectionRow,
    correction,
    correction_table,
)
from flankwise_service.core.gauging.groove import groove_of
from flankwise_service.core.gauging.limits_over import refuse_unfit, shallow_root
from flankwise_service.core.gauging.measure import MeasuredOver, Verdict, measured_over, verdict
from flankwise_service.core.gauging.over_wires import (
    Line,
    Method,
    notes_on,
    of_reading,
    refuse_method,
)
from flankwise_service.core.threads.sized import Sized, pitch_limits
from flankwise_service.core.units import Unit


@dataclass(frozen=True, slots=True)
class Inspection:
    """What one reading over wires or balls says of a part, and what to do."""

    over: MeasuredOver
    verdict: Verdict
    correction: Correction
    notes: tuple[str, ...] = ()


def inspection(
    limits: Sized,
    reading: float,
    wire: float,
    method: Method,
    line: Line = "square to the axis",
    *,
    unit: Unit,
    reading_uncertainty: float,
    wire_uncertainty: float = 0.0,
    flank_angle_uncertainty: float = 0.0,
    aim: float | None = None,
    diameter_per_radius: float = 2.0,
) -> Inspection:
    """Return pitch diameter, verdict and correction from one reading.

    Refused: BadInput; Impossible where the wire can't touch this thread's flanks, or the reading
    is so far off that it isn't this thread, wire or tool.
    Sources: those of its steps, measure.py and correction.py.

    >>> from flankwise_service.core.threads import limits as limits_of
    >>> told = inspection(
    ...     limits_of("7/8-14 UNF-2A"), 0.8877, 0.04, "three wires",
    ...     unit="in", reading_uncertainty=0.0001,
    ... )
    >>> told.verdict.standing, told.correction.words
    ('too large', 'make the radius offset smaller by 0.0026 in')
    """
    groove = groove_of(limits.basic, limits.side)
    least, greatest = pitch_limits(limits)
    refuse_method(groove, method, line)
    refuse_unfit(limits, wire, method)
    over = measured_over(
        groove,
        reading,
        wire,
        method,
        line,
        reading_uncertainty=reading_uncertainty,
        wire_uncertainty=wire_uncertainty,
        flank_angle_uncertainty=flank_angle_uncertainty,
    )
    try:
        fix = correction(
            over.measured,
            least,
            greatest,
            side=limits.side,
            pitch=groove.pitch,
            unit=unit,
            aim=aim,
            diameter_per_radius=diameter_per_radius,
        )
    except Impossible as far:
        raise Impossible(*(of_reading(fault, reading) for fault in far.faults)) from None
    told = verdict(over.measured, least, greatest)
    notes = notes_on(groove, method, line) + shallow_root(limits, wire)
    return Inspection(over, told, fix, notes)


def table_for(
    limits: Sized,
    wire: float,
    method: Method,
    line: Line = "square to the axis",
    *,
    unit: Unit,
    aim: float | None = None,
    rows: int = 11,
    diameter_per_radius: float = 2.0,
) -> tuple[CorrectionRow, ...]:
    """Return the table of readings and radius offset changes that goes with a job.

    Refused as `inspection` is, and where the wire doesn't suit the thread.
    """
    groove = groove_of(limits.basic, limits.side)
    least, greatest = pitch_limits(limits)
    refuse_method(groove, method, line)
    refuse_unfit(limits, wire, method)
    return correction_table(
        groove,
        wire,
        least,
        greatest,
        unit=unit,
        method=method,
        line=line,
        aim=aim,
        rows=rows,
        diameter_per_radius=diameter_per_radius,
    )
