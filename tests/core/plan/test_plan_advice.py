"""What a plan advises where the form is outside its limits: each figure is tried out again here."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import Fault, Impossible
from flankwise_service.core.plan import compose, preparing, shape
from flankwise_service.core.plan.advice import Tried, advised
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    BossAsked,
    CutterAsked,
    CuttingAsked,
    HoleAsked,
    Job,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.result import Work
from flankwise_service.core.plan.sizes import sizes


def check(job: Job, code: str) -> Check:
    return next(one for one in work(job, "0").plan.checks if one.code == code)


def gland(aim: float = 0.5, tooth: Tooth | None = None, diameter: float = 6.0) -> Job:
    """M8x1.25-6H with a 6 mm cutter: the tip P/8 doesn't reach the major diameter as it cuts."""
    return Job(
        "mm", ThreadAsked("M8x1.25-6H", 10.0, pitch_diameter_aim=aim),
        StockAsked("1.4305", across_flats=17.0), hole=HoleAsked(14.0, drilled_diameter=5.0),
        cutter=CutterAsked(diameter, 3, neck_diameter=diameter - 2, reach=15.0, tooth=tooth),
    )  # fmt: skip


def figure(words: str, told: str) -> float:
    found = re.search(words + r" (\d+\.?\d*)", told)
    assert found is not None, told
    return float(found[1])


def test_a_root_not_cut_deep_enough_is_told_with_tip_aim_and_cutter_that_do() -> None:
    told = check(gland(), "major_diameter_as_cut")
    assert told.detail.endswith("outside its limits, at least 8.000 mm")
    assert told.change.startswith("the tooth's tip was assumed: state your cutter's own")
    assert "narrower, so that it cuts deeper" in told.change
    aim = figure("pitch_diameter_aim to", told.change)
    diameter = figure("of the same tooth of at most", told.change)
    tip = figure("at most", told.change)
    tooth = work(gland(), "0").plan.cutter.tooth
    assert diameter < 6.0
    assert tip < tooth.tip_width
    for job in (gland(aim), gland(tooth=replace(tooth, tip_width=tip)),
                gland(diameter=diameter, tooth=tooth)):  # fmt: skip
        assert check(job, "major_diameter_as_cut").state == "passed"
    wider = replace(tooth, tip_width=tip + 0.002)
    assert check(gland(tooth=wider), "major_diameter_as_cut").state == "refused"


def test_a_stated_tip_is_not_called_assumed() -> None:
    told = check(gland(tooth=Tooth(30.0, 30.0, 0.16, 0.9)), "major_diameter_as_cut")
    assert told.change.startswith("take a cutter whose tip is narrower")


def stud(designation: str, tooth: Tooth, unit: str = "mm", aim: float = 0.5) -> Job:
    size = 1.0 if unit == "mm" else 1 / 25.4
    return Job(
        unit, ThreadAsked(designation, 20.0 * size, pitch_diameter_aim=aim),  # type: ignore[arg-type]
        StockAsked("C45", "round"), boss=BossAsked(28.0 * size),
        cutter=CutterAsked(16.0 * size, 3, reach=30.0 * size, tooth=tooth),
    )  # fmt: skip


def test_a_root_cut_too_deep_asks_for_a_wider_tip() -> None:
    """Tr20x4-7e: the minor diameter has both limits (ISO 2904)."""
    told = check(stud("Tr20x4-7e", Tooth(15.0, 15.0, 0.6, 2.9)), "minor_diameter_as_cut")
    tip = figure("at least", told.change)
    assert "wider, so that it cuts less deep" in told.change
    right = stud("Tr20x4-7e", Tooth(15.0, 15.0, tip, 2.9))
    assert check(right, "minor_diameter_as_cut").state == "passed"


def test_an_external_root_too_shallow_asks_for_a_narrower_tip() -> None:
    """1/2-13 UNC-2A, minor diameter at most 0.4152 in."""
    told = check(stud("1/2-13 UNC-2A", Tooth(30.0, 30.0, 0.03, 0.06), "in"),
                 "minor_diameter_as_cut")  # fmt: skip
    tip = figure("at most", told.change)
    assert tip == round(tip, 4)
    right = stud("1/2-13 UNC-2A", Tooth(30.0, 30.0, tip, 0.06), "in")
    assert check(right, "minor_diameter_as_cut").state == "passed"


def multistart() -> Job:
    return Job(
        "mm", ThreadAsked("Tr20x8(P4)LH-7e", 20.0), StockAsked("C45", "round", diameter=30.0),
        boss=BossAsked(28.0),
    )  # fmt: skip


def test_a_lead_that_bends_the_flanks_too_far_is_told_as_what_it_is() -> None:
    """No aim and no cutter diameter brings it inside: tried out here, every one of them."""
    told = check(multistart(), "functional_diameter_as_cut")
    bent = figure("bends the flanks by", told.change)
    assert bent > 100
    for words in ("no aim", "ground for this lead", "wider class", "turn the thread"):
        assert words in told.change
    assert "pitch_diameter_aim" not in told.change
    for aim in (0.0, 0.5, 1.0):
        for diameter in (8.0, 16.0, 40.0):
            job = multistart()
            cutter = CutterAsked(diameter, 3, reach=30.0)
            job = replace(job, cutter=cutter, thread=replace(job.thread, pitch_diameter_aim=aim))
            assert check(job, "functional_diameter_as_cut").state == "refused"


def test_an_aim_that_keeps_bent_flanks_inside_is_offered() -> None:
    tooth = Tooth(30.0, 30.0, 0.15, 0.9)
    told = check(stud("M8-6g", tooth, aim=1.0), "functional_diameter_as_cut")
    assert told.state == "refused"
    aim = figure("pitch_diameter_aim to", told.change)
    assert check(stud("M8-6g", tooth, aim=aim), "functional_diameter_as_cut").state == "passed"


def told_again(job: Job, found: Work, code: str, rows: int) -> str:
    at, plan = sizes(job.thread, job.unit), found.plan
    cutter = replace(plan.cutter, rows=rows, row_pitch=at.pitch * 1.005)
    tried = Tried(job, at, cutter, plan.blank.diameter)
    checks = advised(tried, found.section, shape.form_checks(at, found.section))
    return next(one.change for one in checks if one.code == code)


def test_nothing_is_offered_that_was_not_seen_to_work(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where every try is refused, only the direction is told, and the bend as it is."""
    job = gland(tooth=Tooth(30.0, 30.0, 0.16, 0.9))
    found, other = work(job, "0"), work(multistart(), "0")

    def refuse(*_: object) -> None:
        raise Impossible(Fault("/x", "x", "x", "x"))

    monkeypatch.setattr(shape, "correction", refuse)
    root = told_again(job, found, "major_diameter_as_cut", rows=1)
    assert root == "take a cutter whose tip is narrower, so that it cuts deeper"
    bent = told_again(multistart(), other, "functional_diameter_as_cut", rows=1)
    assert bent.startswith("the lead bends the flanks by 97 %")
    rows = told_again(multistart(), other, "functional_diameter_as_cut", rows=2)
    assert rows.startswith("the lead, and rows off the pitch, bend the flanks by 97 %")


@pytest.mark.parametrize(
    ("diameter", "words"),
    [
        (7.7, "metal is missing, and no cutter puts it back: the part is scrap for M8-6g"),
        (8.1, "metal is left: turn the boss down to 7.866 mm (7.760 to 7.972 mm)"),
    ],
)
def test_a_boss_off_size_is_told_by_what_can_be_done_about_it(diameter: float, words: str) -> None:
    job = stud("M8-6g", Tooth(30.0, 30.0, 0.15, 0.9))
    job = replace(job, boss=BossAsked(28.0, ready=True, diameter=diameter))
    assert check(job, "blank_inside_limits").change.startswith(words)
    crest = check(job, "major_diameter_as_cut").change
    assert "blank" in crest
    assert "flanks" not in crest


@pytest.mark.parametrize(
    ("diameter", "words"),
    [
        (7.2, "metal is missing, and no cutter puts it back: the part is scrap for M8-6H"),
        (6.3, "metal is left: bore the hole on to 6.7795 mm (6.647 to 6.912 mm)"),
    ],
)
def test_a_hole_off_size_is_told_by_what_can_be_done_about_it(diameter: float, words: str) -> None:
    job = replace(gland(diameter=5.0), hole=HoleAsked(14.0, ready=True, diameter=diameter))
    assert check(job, "blank_inside_limits").change.startswith(words)
    assert "flanks" not in check(job, "minor_diameter_as_cut").change


def test_flanks_that_meet_below_the_crest_are_told_as_that() -> None:
    """Cut a quarter of a mm too deep, the ridge comes to a point below the blank's surface."""
    job = stud("M8-6g", Tooth(30.0, 30.0, 0.15, 1.4))
    deep = preparing.prepared(replace(job, cutting=CuttingAsked(radius_offset=-0.25)))
    found = compose.milled(deep).section
    checks = advised(
        Tried(job, deep.sizes, deep.cutter, deep.blank.diameter), found,
        shape.form_checks(deep.sizes, found),
    )  # fmt: skip
    told = next(one for one in checks if one.code == "major_diameter_as_cut")
    assert told.state == "refused"
    assert "the flanks meet below the crest" in told.change
