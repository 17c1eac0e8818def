"""The program of the job: blank first, then the thread, with what the operator must know on top."""

from __future__ import annotations

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.errors import Refusal
from flankwise_service.core.path.segment import Segment
from flankwise_service.core.plan.check import Check, limits_said
from flankwise_service.core.plan.common import Defaults, placed
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.offset import correction_words, offset_cant_follow
from flankwise_service.core.plan.result import BlankPlan
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.taper import taper_remarks
from flankwise_service.core.program.program import Program, write_program
from flankwise_service.core.program.setup import Operation, Setup, Tool
from flankwise_service.core.threads import parse
from flankwise_service.core.units import written


def remarks(job: Job, sizes: Sizes, blank: BlankPlan, checks: tuple[Check, ...]) -> tuple[str, ...]:
    """Return the lines of the header: part, limits, stock, zero point, what was accepted.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> from flankwise_service.core.plan.compose import work
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> remarks(job, sizes(job.thread, job.unit), work(job, "1.0.0").plan.blank, ())[2]
    'Blank is a hole of 18.526 mm, 22 deep'
    """
    unit = job.unit
    face = " at the face" if sizes.taper else ""
    lines = [
        f"Part {job.name or 'not named'}, {job.stock.material}, quantity {job.quantity}",
        f"Pitch diameter {limits_said(*sizes.pitch_diameter, unit)}",
        f"Blank is a {blank.kind} of {written(blank.diameter, unit, 5)} {unit}{face}, "
        f"{written(blank.depth, unit)} deep",
        *taper_remarks(job, sizes, blank.diameter),
        f"Full thread over {written(job.thread.length, unit)} {unit}",
        "Zero is the face of the part, X and Y the axis of the bar",
    ]
    if job.cutting.radius_offset:
        lines.append(f"{correction_words(job)}, from a measured part".capitalize())
    lines += [
        f"ACCEPTED BY THE CALLER, CHECK {check.code}, {check.detail}"
        for check in checks
        if check.state == "accepted"
    ]
    return tuple(lines)


PLACES = {
    "/setup/safe_height": "/program/safe_height",
    "/setup/work_offset": "/program/work_offset",
    "/setup/unit_codes": "/program/unit_codes",
    "/setup/arc_form": "/program/arc_form",
    "/setup/line_number_step": "/program/line_numbers",
    "/setup/program_number": "/program/number",
}
"""Where the job document has what the program is asked by."""


def program_for(
    job: Job, sizes: Sizes, cutter: Cutter, blank: BlankPlan, speed: float,
    thread_segments: tuple[Segment, ...], blank_segments: tuple[Segment, ...],
    checks: tuple[Check, ...], used: Defaults, version: str,
) -> Program:  # fmt: skip
    """Return the program, read back and proved equal to the path. Errors below /program."""
    asked = job.program
    operations: list[Operation] = []
    if blank_segments and blank.end_mill is not None and blank.speed is not None:
        mill = blank.end_mill
        tool = Tool(
            mill.number, round(blank.speed.speed), mill.number, asked.coolant, 0.0,
            name=mill.name or "end mill",
        )  # fmt: skip
        operations.append(Operation(tool, blank_segments, f"Mill the {blank.kind}"))
    side = "left" if job.cutting.milling == "climb" else "right"
    tool = Tool(
        cutter.number, round(speed), cutter.number, asked.coolant, cutter.tip_to_tooth,
        radius_offset=asked.radius_offset, radius_side=side, name=cutter.name or "thread mill",  # type: ignore[arg-type]
    )  # fmt: skip
    operations.append(Operation(tool, thread_segments, "Mill the thread"))
    setup = Setup(
        unit=job.unit,
        safe_height=used.safe_height,
        work_offset=asked.work_offset,  # type: ignore[arg-type]
        unit_codes=asked.unit_codes,
        arc_form=asked.arc_form,
        helix_rise_words=asked.helix_rise_words,
        line_number_step=10 if asked.line_numbers else 0,
        program_number=asked.number,
        thread=parse(sizes.limits.designation),
        remarks=remarks(job, sizes, blank, checks),
        version=version,
    )
    try:
        return write_program(setup, operations)
    except Refusal as refusal:
        raise offset_cant_follow(job, placed(refusal, PLACES, "/program")) from refusal
