"""Taper threads: no straight blank under them, and what is measured where."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from flankwise_service.core.errors import BadInput, Impossible, Refusal
from flankwise_service.core.plan import taper
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    BossAsked,
    CutterAsked,
    HoleAsked,
    Job,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.pictures import picture
from flankwise_service.core.plan.sizes import Sizes, sizes
from support.jobs import adapter


def drain(**changes: object) -> Job:
    """A drain plug's hole, 1/2-14 NPT in 303."""
    job = Job(
        "in", ThreadAsked("1/2-14 NPT", 0.6, side="internal"), StockAsked("303", across_flats=1.25),
        hole=HoleAsked(1.1, drilled_diameter=0.5), name="drain hole",
    )  # fmt: skip
    return replace(job, **changes)  # type: ignore[arg-type]


def flange(**changes: object) -> Job:
    """A pump flange, 4-8 NPT on round bar of 316."""
    job = Job(
        "in", ThreadAsked("4-8 NPT", 1.3, side="external"), StockAsked("316", "round", diameter=5),
        boss=BossAsked(1.7, ready=True), name="pump flange",
    )  # fmt: skip
    return replace(job, **changes)  # type: ignore[arg-type]


def check(job: Job, code: str) -> Check:
    return next(one for one in work(job, "0").plan.checks if one.code == code)


def at(job: Job) -> Sizes:
    return sizes(job.thread, job.unit)


@pytest.mark.parametrize(
    ("job", "pointer", "code", "how"),
    [
        (drain(), "/hole/ready", "taper_hole", "bore or ream the taper first"),
        (drain(hole=HoleAsked(1.1, diameter=0.7245)), "/hole/ready", "taper_hole", "bore or ream"),
        (flange(boss=BossAsked(1.7)), "/boss/ready", "taper_boss", "turn the taper first"),
    ],
)
def test_a_taper_blank_is_never_milled_straight(
    job: Job, pointer: str, code: str, how: str
) -> None:
    with pytest.raises(Refusal) as caught:
        work(job, "0")
    (fault,) = [one for one in caught.value.faults if one.pointer == pointer]
    assert type(caught.value) is BadInput
    assert (fault.code, fault.value) == (code, False)
    assert how in fault.change
    assert f"{pointer[1:].replace('/', '.')} to true" in fault.change
    assert "as measured at the face" in fault.change
    assert "1:16" in fault.detail


def test_a_hole_not_described_is_told_with_its_taper() -> None:
    with pytest.raises(Refusal) as caught:
        work(drain(hole=None), "0")
    assert {one.pointer for one in caught.value.faults} == {"/hole", "/hole/ready"}


def test_a_hole_bored_to_the_taper_is_threaded_and_not_milled() -> None:
    found = work(drain(hole=HoleAsked(1.1, ready=True, diameter=0.7245)), "0").plan
    assert found.verdict != "refused"
    assert found.blank_path is None
    assert found.blank.end_mill is None


def test_the_blank_follows_the_pipes_own_pitch_line() -> None:
    """ASME B1.20.1, Table 2, 1/2-14 NPT: E0 0.75843 at the small end, E1 0.77843, L1 0.320."""
    hole = at(drain())
    assert taper.far_diameter(hole, 0.77843, 0.320) == pytest.approx(0.75843)
    pipe = at(drain(thread=ThreadAsked("1/2-14 NPT", 0.5, side="external")))
    assert taper.far_diameter(pipe, 0.75843, 0.320) == pytest.approx(0.77843)
    assert taper.far_diameter(at(adapter()), 0.872, 0.875) == 0.872


def test_both_ends_of_a_taper_blank_are_told() -> None:
    """The hole may be 0.7168 to 0.7322 at the face; 0.6 below it 0.6/16 = 0.0375 less."""
    job = drain(hole=HoleAsked(1.1, ready=True, diameter=0.7245))
    least, greatest = at(job).crest_diameter
    one = check(job, "blank_taper")
    assert one.state == "passed"
    assert one.figure == pytest.approx(0.7245 - 0.0375)
    assert "bored 1:16: 0.7245 in at the face, 0.687 in at the end of the thread" in one.detail
    assert f"{least - 0.0375:.5g} to {greatest - 0.0375:.5g} in" in one.change
    # Bored straight it leaves its limits where they have narrowed by what is left: 16 times that.
    down = 16 * (greatest - 0.7245)
    assert f"outside its limits from {down:.2g} in down" in one.change
    boss = check(flange(), "blank_taper")
    assert "turned 1:16: 4.4307 in at the face, 4.512 in at the end of the thread" in boss.detail
    wide = check(drain(hole=HoleAsked(1.1, ready=True, diameter=0.735)), "blank_taper")
    assert "from 0 in down" in wide.change
    short = replace(job, thread=replace(job.thread, length=0.05))
    assert "straight" not in check(short, "blank_taper").change
    codes = [one.code for one in work(adapter(), "0").plan.checks]
    assert "blank_taper" not in codes


def test_the_cutter_must_enter_the_narrow_end() -> None:
    ready = HoleAsked(1.1, ready=True, diameter=0.7245)
    with pytest.raises(Impossible) as caught:
        # Below 0.98 of 0.7245 at the face, above 0.98 of 0.687 at the far end.
        work(drain(hole=ready, cutter=CutterAsked(0.69, 4)), "0")
    assert [one.code for one in caught.value.faults] == ["cutter_enters_hole"]


def test_no_tooth_touches_the_narrow_end_on_its_way_in() -> None:
    """A long thread: straight as at the face, the hole would seem wider by 1.3/16 at its end."""
    job = Job(
        "in", ThreadAsked("4-8 NPT", 1.3, side="internal"), StockAsked("316", "round", diameter=6),
        hole=HoleAsked(2.0, ready=True),
    )  # fmt: skip
    made = work(job, "0")
    narrow = made.plan.blank.diameter - 1.3 / 16
    first = next(one for one in made.thread_segments if one.purpose == "lead_in")
    begin = (first.begin.x**2 + first.begin.y**2) ** 0.5
    assert begin + made.plan.cutter.diameter / 2 < narrow / 2


READY = HoleAsked(1.1, ready=True, diameter=0.7245)


def test_the_program_says_that_the_blank_tapers() -> None:
    made = work(flange(), "0").plan.program
    assert made is not None
    for line in (
        "Blank is a boss of 4.4307 in at the face, 1.7 deep",
        "Boss is turned 1 to 16 on the diameter before this program",
        "Boss measures 4.512 in at the end of the thread, 1.3 in down",
        "Gauge with a taper ring, hand tight, as the sheet says",
    ):
        assert f"(- {line})" in made.text
    hole = work(drain(hole=READY), "0").plan.program
    assert hole is not None
    assert "Hole is bored 1 to 16" in hole.text
    assert "taper plug" in hole.text
    straight = work(adapter(), "0").plan.program
    assert straight is not None
    assert "1 to 16" not in straight.text


def test_every_drawing_of_a_taper_part_says_so() -> None:
    job = drain(hole=READY)
    for view in ("path", "setup", "bar"):
        drawn = picture(work(job, "0"), view)  # type: ignore[arg-type]
        assert "ole 0.7245 in at the face, bored 1:16" in drawn, view
        assert "<polygon" in drawn
    assert "oss 4.4307 in at the face, turned 1:16" in picture(work(flange(), "0"), "setup")
    assert "1:16" not in picture(work(adapter(), "0"), "setup")


def test_the_gauging_names_the_gauge_and_its_source() -> None:
    found = work(flange(), "0").plan
    told = check(flange(), "gauging").detail
    assert "L1 taper thread ring gauge by ASME B1.20.1" in told
    assert "flush with the small end of the part within one turn large or small" in told
    assert "0.125 in along the axis, 0.00781 in on the diameter" in told  # 1/8, and a 16th of it
    assert "L1 ring and plug" in " ".join(one.place for one in found.sources)


def test_taper_words() -> None:
    assert taper.taper_words(at(adapter()).limits) == ""
    assert taper.taper_words(at(drain()).limits) == (
        "bored 1:16 on the diameter, this size at the face, the large end"
    )


@pytest.mark.parametrize(
    "job",
    [drain(hole=HoleAsked(1.1, ready=True, diameter=0.7245)), flange(), adapter()],
    ids=["hole", "boss", "straight"],
)
def test_the_path_is_measured_where_the_passes_are(job: Job) -> None:
    """The drawing's centre path has the diameter of the table's radius: of a taper, at the face."""
    done = work(job, "0")
    (said,) = re.findall(r">centre path diameter ([\d.]+) in([^<]*)<", picture(done, "path"))
    wanted = 2 * done.plan.passes[-1].centre_radius
    # What the path of a taper thread departs from the true spiral, and the last digit.
    assert float(said[0]) == pytest.approx(wanted, abs=0.00015)
    assert said[1] == (" at the face" if at(job).taper else "")
