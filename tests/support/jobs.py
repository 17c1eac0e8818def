"""Jobs that tests plan. All are inventions."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    BossAsked,
    CutterAsked,
    EndMill,
    HoleAsked,
    Job,
    Machine,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.result import Plan
from flankwise_service.core.plan.sizes import Sizes, sizes


def plan(job: Job) -> Plan:
    """Return the plan of a job."""
    return work(job, "0").plan


ASSUMED_TOOTH = {"flank_angle"}
"""What doesn't pass in a plan whose job leaves the tooth to it and is right in all else."""


def not_passed(made: Plan) -> set[str]:
    """Return the codes of the checks that didn't pass."""
    return {one.code for one in made.checks if one.state != "passed"}


def sizes_of(designation: str, unit: str = "mm", length: float = 16.0, **more: object) -> Sizes:
    """Return the sizes of a thread."""
    return sizes(ThreadAsked(designation, length, **more), unit)  # type: ignore[arg-type]


def job_of(designation: str, unit: str = "mm", length: float = 16.0, **more: object) -> Job:
    """Return a job in aluminium, with the rest left to the plan."""
    return Job(unit, ThreadAsked(designation, length), StockAsked("6082"), **more)  # type: ignore[arg-type]


def adapter(length: float = 0.875, depth: float = 1.0, **changes: Any) -> Job:
    """The sensor adapter: 7/8-14 UNF-2A on 1-1/4 in hexagon of 303."""
    job = Job(
        "in",
        ThreadAsked("7/8-14 UNF-2A", length),
        StockAsked("303", across_flats=1.25),
        boss=BossAsked(depth),
        cutter=CutterAsked(
            0.5, 4, tip_to_tooth=0.04, neck_diameter=0.38, reach=1.1, shank_diameter=0.5,
            overhang=1.5, holder_diameter=1.6, number=3,
        ),
        end_mill=EndMill(0.5, 4, 1.125, number=2),
        machine=Machine(8000, 200, 5.5, rapid=600, acceleration=80, tool_change_seconds=8),
        name="sensor adapter",
        quantity=12,
    )  # fmt: skip
    return replace(job, **changes)


def port(**changes: Any) -> Job:
    """The coolant port: M20x1.5-6H in 30 mm hexagon of 6082."""
    job = Job(
        "mm",
        ThreadAsked("M20x1.5-6H", 16),
        StockAsked("6082", across_flats=30),
        hole=HoleAsked(22, drilled_diameter=16.0),
        cutter=CutterAsked(
            12, 4, tip_to_tooth=1.0, neck_diameter=9.0, reach=22, shank_diameter=12, overhang=35,
            holder_diameter=40, number=5,
        ),
        name="coolant port",
    )  # fmt: skip
    return replace(job, **changes)


def others() -> dict[str, Job]:
    """Eight further jobs, from a small internal to a large external thread."""
    return {
        "M3 internal": Job(
            "mm", ThreadAsked("M3-6H", 4.5), StockAsked("304", "round", diameter=12),
            hole=HoleAsked(9, ready=True),
        ),
        "3-4 UNC external": Job(
            "in", ThreadAsked("3-4 UNC-2A", 2.5), StockAsked("4140", "round"), boss=BossAsked(3.0)
        ),
        "1/2-14 NPT internal": Job(
            "in", ThreadAsked("1/2-14 NPT", 0.55, side="internal"),
            StockAsked("C36000", across_flats=1.25), hole=HoleAsked(1.0, ready=True),
        ),
        "G 1/2 A external": Job(
            "mm", ThreadAsked("G 1/2 A", 15), StockAsked("CW614N", across_flats=27),
            boss=BossAsked(18),
        ),
        "Tr 24x5 external": Job(
            "mm", ThreadAsked("Tr 24x5-7e", 36), StockAsked("C45", "round"), boss=BossAsked(50)
        ),
        "1-5 Acme internal": Job(
            "in", ThreadAsked("1-5 Acme-2G", 1.5, side="internal"),
            StockAsked("C93200", "round", diameter=2.0), hole=HoleAsked(1.5, through=True),
        ),
        "left-hand": Job(
            "mm", ThreadAsked("M12x1.5-6g-LH", 14), StockAsked("6082", across_flats=17),
            boss=BossAsked(20),
        ),
        "two-start": Job(
            "mm", ThreadAsked("M16xPh4P2-6g", 20), StockAsked("303", "round"), boss=BossAsked(30)
        ),
    }  # fmt: skip
