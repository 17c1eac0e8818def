"""A plan's own job document: planned again, it gives the same plan."""

from __future__ import annotations

from dataclasses import fields, replace

import orjson
import pytest

from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import CutterAsked, Job, Machine, StockAsked
from flankwise_service.core.plan.result import Plan
from flankwise_service.web.dump import to_json
from flankwise_service.web.load import load
from flankwise_service.web.plan import job_from
from flankwise_service.web.schemas.plan import JobAsk
from support.jobs import adapter, others, port

FLUSH = CutterAsked(0.5, 4, tip_to_tooth=0.032, neck_diameter=0.38, reach=1.1)
JOBS = {
    "adapter": adapter(),
    "port": port(),
    "all proposed": adapter(cutter=None, end_mill=None, stock=StockAsked("303"), machine=Machine()),
    "port, all proposed": port(cutter=None, stock=StockAsked("6082")),
    "tip inside the whole tooth": adapter(cutter=FLUSH),
    "1989 edition": adapter(thread=replace(adapter().thread, edition="ASME B1.1-1989")),
    **others(),
}


def sent_again(job: Job) -> Job:
    """The job as it comes back over HTTP: as JSON, strictly loaded."""
    return job_from(load(JobAsk(), orjson.loads(to_json(job))))


def differing(one: Plan, other: Plan) -> set[str]:
    names = (field.name for field in fields(one))
    return {name for name in names if getattr(one, name) != getattr(other, name)}


@pytest.mark.parametrize("name", JOBS)
def test_the_document_of_a_plan_gives_that_plan(name: str) -> None:
    first = work(JOBS[name], "7.1").plan
    again = work(sent_again(first.job), "7.1").plan
    # What was proposed is now given: nothing more is assumed of it, and no other bar is named.
    assert differing(first, again) <= {"assumed", "bar"}
    assert (again.bar.size, again.bar.wall) == (first.bar.size, first.bar.wall)
    assert again.program == first.program
    assert len(again.assumed) <= len(first.assumed)
    third = work(sent_again(again.job), "7.1").plan
    assert differing(again, third) == set()


@pytest.mark.parametrize("name", ["all proposed", "port, all proposed"])
def test_nothing_that_the_plan_chose_is_left_open(name: str) -> None:
    found = work(JOBS[name], "7.1").plan.job
    assert found.made_by == "flankwise 7.1"
    assert found.stock.across_flats is not None
    assert found.thread.side is not None
    assert found.thread.edition
    assert found.cutter is not None
    assert found.cutter.tooth is not None
    assert found.end_mill is not None
    left = {
        f"{part}.{field.name}"
        for part in ("cutting", "gauging", "program", "machine")
        for field in fields(getattr(found, part))
        if getattr(getattr(found, part), field.name) is None
    }
    # What only limits a check, or is left out of the program, stays unsaid.
    assert left == {
        "program.number", "program.radius_offset", "machine.greatest_spindle_speed",
        "machine.greatest_feed", "machine.spindle_power_kw", "cutting.measured",
    }  # fmt: skip
    (line,) = work(found, "7.1").plan.assumed
    assert line.startswith("machine: greatest spindle speed, greatest feed and spindle power not")


def test_what_the_job_said_stays_said() -> None:
    job = adapter(accept=("deflection",), name="adapter", quantity=9)
    found = work(job, "7.1").plan.job
    assert (found.name, found.quantity, found.accept) == ("adapter", 9, ("deflection",))
    assert (found.boss, found.end_mill, found.costs) == (job.boss, job.end_mill, job.costs)
    assert found.machine.greatest_feed == job.machine.greatest_feed
    older = work(JOBS["1989 edition"], "7.1").plan.job
    assert (older.thread.edition, found.thread.edition) == (
        "ASME B1.1-1989",
        "ASME B1.1-2019",
    )


def test_a_tooth_that_the_tip_would_cut_off_stays_open() -> None:
    assert work(JOBS["tip inside the whole tooth"], "7.1").plan.job.cutter == replace(
        FLUSH, tooth=None
    )
