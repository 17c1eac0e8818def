"""Advice that names what is really wrong, in the words of the one who asked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.errors import BadInput, Fault, Refusal
from flankwise_service.core.plan.job import (
    BossAsked,
    CutterAsked,
    EndMill,
    HoleAsked,
    Job,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.unit_doubt import with_unit_doubt
from support.jobs import adapter, plan, port

ANY = Refusal(Fault("/thread", "any", "", ""))


def faults(job: Job) -> tuple[Fault, ...]:
    with pytest.raises(Refusal) as caught:
        plan(job)
    return caught.value.faults


def asked(job: Job) -> bool:
    return with_unit_doubt(job, ANY).faults[0].pointer == "/unit"


# ---- the unit


def test_a_job_in_inches_said_to_be_in_millimetres_is_asked_about_first() -> None:
    job = replace(adapter(), unit="mm")
    first, *more = faults(job)
    assert (first.pointer, first.code, first.near) == ("/unit", "unit_doubtful", ("in",))
    assert "7/8-14 UNF-2A is 22.225 mm in diameter" in first.detail
    assert "(bar 1.25, cutter 0.5, end mill 0.5) would suit it in inches" in first.detail
    assert more
    assert all(fault.pointer != "/unit" for fault in more)


def test_the_other_way_round_as_well() -> None:
    job = Job(
        "in", ThreadAsked("M5-6H", 8.0), StockAsked("6082", "round", diameter=12.0),
        hole=HoleAsked(12.0, drilled_diameter=3.5), cutter=CutterAsked(3.0, 3),
    )  # fmt: skip
    assert faults(job)[0].change == "set unit to mm, or correct the sizes"


@pytest.mark.parametrize(
    "job",
    [
        adapter(),
        port(),
        replace(adapter(), unit="mm", cutter=None, end_mill=None),  # one size tells nothing
        replace(adapter(), unit="mm", end_mill=EndMill(12.0, 4, 25.0)),  # one is sound as it is
        replace(adapter(), unit="mm", end_mill=EndMill(0.05, 4, 1.0)),  # one suits in neither
        replace(adapter(), unit="mm", thread=ThreadAsked("no thread", 1.0)),
        # A cutter and a bar much larger than a small screw are common.
        Job("mm", ThreadAsked("M2-6g", 4.0), StockAsked("6082", "round", diameter=12.0),
            boss=BossAsked(6.0), cutter=CutterAsked(10.0, 3)),
    ],
    ids=["inch", "metric", "one size", "one sound", "one absurd", "no thread", "small screw"],
)  # fmt: skip
def test_the_unit_is_not_asked_about_where_it_cannot_be_judged(job: Job) -> None:
    assert not asked(job)
    assert with_unit_doubt(job, ANY) is ANY


# ---- what to change


def test_a_drilled_hole_too_wide_is_left_out_not_set_to_nothing() -> None:
    """A drilled diameter of 0 can't be asked for."""
    (fault,) = faults(port(hole=HoleAsked(22, drilled_diameter=19.0)))
    assert fault.pointer == "/hole/drilled_diameter"
    assert fault.change.endswith("or leave it out for none")


@pytest.mark.parametrize(
    ("stock", "pointer"),
    [
        (StockAsked("6082", "round", diameter=18.0), "/stock/diameter"),
        (StockAsked("6082", across_flats=18.0), "/stock/across_flats"),
    ],
)
def test_a_bar_narrower_than_its_hole_asks_for_a_larger_bar(
    stock: StockAsked, pointer: str
) -> None:
    (fault,) = faults(port(stock=stock))
    assert (fault.pointer, fault.code) == (pointer, "wall_thickness")
    assert fault.change.startswith("take a bar at least 2")
    assert fault.least is not None
    assert fault.least > 20


@pytest.mark.parametrize(("shoulder", "what"), [(True, "shoulder"), (False, "bar below the boss")])
def test_what_stands_below_a_boss_is_called_what_it_is(shoulder: bool, what: str) -> None:
    told = plan(adapter(length=0.99, boss=BossAsked(1.0, shoulder=shoulder)))
    refused = [check.detail for check in told.checks if check.state == "refused"]
    assert any(f"would plough into the {what}" in detail for detail in refused)
    assert any(f"into the {what} at X" in detail for detail in refused)
    assert any("0.04 of the tool below its lowest tooth's middle" in one for one in refused)
    if not shoulder:
        assert not any("shoulder" in detail for detail in refused)


def test_a_straight_hole_for_a_tap_is_refused_with_its_reason() -> None:
    job = Job(
        "in", ThreadAsked("1/2-14 NPT", 0.5337, side="internal"),
        StockAsked("6061", "round", diameter=1.5), hole=HoleAsked(1.0, drilled_diameter=0.7),
    )  # fmt: skip
    with pytest.raises(BadInput, match="a tap cuts the crests too, a thread mill doesn't"):
        plan(job)
