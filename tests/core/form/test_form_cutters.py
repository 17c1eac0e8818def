"""The greatest cutter and the ranking: each limit against the exact form on either side of it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import BadInput
from flankwise_service.core.form.correction import radius_correction
from flankwise_service.core.form.job import Job, hole_for, job_for, start_of
from flankwise_service.core.form.landed import landed
from flankwise_service.core.form.largest import LEAST_SHARE_OF_HOLE, Hole, largest_cutter, trend
from flankwise_service.core.form.model import checked, single
from flankwise_service.core.form.pitchline import pitch_line, triangle_pitch_radius
from flankwise_service.core.form.ranking import rank_cutters
from flankwise_service.core.threads import limits
from flankwise_service.core.threads.model import Side

TAN30 = math.tan(math.radians(30))
M8 = Hole(6.647, 7.188, 7.348, 8.0, 1.25, 1.25 / 16)
JOB = Job("internal", 1.25, 6.647, (7.188, 7.348), 8.0, clearance=0.05)


def cutter(diameter: float, tip: float = 0.1, depth: float = 0.85, **rest: object) -> Cutter:
    neck = max(diameter - 2 * depth, 0.0)
    tooth = Tooth(30.0, 30.0, tip, depth)
    return Cutter(diameter, 3, tooth, neck_diameter=neck, **rest)  # type: ignore[arg-type]


def overcut_effect(diameter: float) -> float:
    """Of the triangle's path, whose pitch line the tooth alone would put on the aim."""
    tooth = Tooth(30.0, 30.0, M8.tip_width, 0.9)
    root = 7.268 / 2 + (0.625 - M8.tip_width) / (2 * TAN30)
    return (
        2 * pitch_line(single(tooth, diameter / 2, "internal", 1.25, root - diameter / 2)).radius
        - 7.268
    )


@pytest.mark.parametrize("share", [0.1, 0.25, 0.5])
def test_largest_by_overcut_takes_just_its_share(share: float) -> None:
    found = largest_cutter(M8, share)
    assert found.limited_by == "overcut"
    assert overcut_effect(found.diameter) == pytest.approx(share * 0.16, abs=1e-8)
    assert found.diameter == found.by_overcut
    assert found.share_of_hole == found.diameter / 6.647


def test_largest_by_major_diameter_just_cuts_it() -> None:
    blunt = M8._replace(tip_width=1.25 / 8)
    found = largest_cutter(blunt, 1.0)
    assert found.limited_by == "major diameter"
    tooth = Tooth(30.0, 30.0, 1.25 / 8, 0.9)
    radius = found.diameter / 2
    landed_there = radius_correction(single(tooth, radius, "internal", 1.25, 4.0 - radius), 7.268)
    assert landed_there.root_diameter == pytest.approx(8.0, abs=1e-8)


def test_largest_by_hole_leaves_the_clearance() -> None:
    found = largest_cutter(M8, 1.0, 0.4)
    assert (found.diameter, found.limited_by) == (pytest.approx(5.847), "hole")
    assert found.by_overcut == found.by_major_diameter == found.by_hole
    for clearance in (3.0, 3.24):
        hole = 6.647 - 2 * clearance
        assert largest_cutter(M8, clearance=clearance).diameter == pytest.approx(hole)


def test_no_cutter_at_all_is_nought() -> None:
    """A tip so wide that its root can't reach the major diameter at the pitch diameter's aim."""
    found = largest_cutter(M8._replace(tip_width=0.45))
    assert (found.diameter, found.limited_by) == (0.0, "major diameter")


def test_trend_moves_as_it_should() -> None:
    rows = trend(M8, diameter_factors=(1.0, 2.0), pitch_factors=(0.5, 1.0))
    assert [(row.pitch, row.pitch_diameter) for row in rows] == [
        (0.625, 7.188), (0.625, 14.376), (1.25, 7.188), (1.25, 14.376),
    ]  # fmt: skip
    same = largest_cutter(M8)
    assert rows[2].diameter == same.diameter
    assert rows[2].limited_by == same.limited_by
    assert rows[3].diameter > rows[2].diameter
    assert rows[0].share_of_hole > rows[2].share_of_hole
    assert rows[1].pitch_diameter_tolerance == pytest.approx(0.16 * 0.5**0.4 * 2**0.1)


def test_trend_row_is_the_greatest_cutter_of_the_scaled_thread() -> None:
    """Heights, tip and pitch halved, pitch diameter doubled; limited by the hole's major diameter."""
    blunt = M8._replace(tip_width=1.25 / 8)
    (row,) = trend(blunt, 1.0, 0.01, diameter_factors=(2.0,), pitch_factors=(0.5,))
    tolerance = 0.16 * 0.5**0.4 * 2**0.1
    scaled = Hole(
        14.376 - 0.541 / 2, 14.376, 14.376 + tolerance, 14.376 + 0.812 / 2, 0.625, 1.25 / 16
    )
    by_hand = largest_cutter(scaled, 1.0, 0.01)
    assert row.diameter == pytest.approx(by_hand.diameter, rel=1e-9)
    assert row.share_of_hole == pytest.approx(by_hand.share_of_hole, rel=1e-9)
    assert row.limited_by == by_hand.limited_by == "major diameter"


def test_trend_leaves_out_what_makes_no_thread() -> None:
    assert trend(M8, diameter_factors=(0.1,), pitch_factors=(1.0,)) == ()


@pytest.mark.parametrize(
    ("hole", "rest", "pointer"),
    [
        (M8._replace(pitch=0.0), {}, "/hole/pitch"),
        (M8._replace(starts=0), {}, "/hole/starts"),
        (M8._replace(flank_angle_upper=0.0), {}, "/hole/flank_angle_upper"),
        (M8._replace(pitch_diameter_least=7.4), {}, "/hole/pitch_diameter_least"),
        (M8._replace(tip_width=0.7), {}, "/hole/tip_width"),
        (M8, {"share": 0.0}, "/share"),
        (M8, {"fraction": 2.0}, "/fraction"),
        (M8, {"clearance": -1.0}, "/clearance"),
        (M8, {"clearance": 3.4}, "/clearance"),
        (M8, {"clearance": M8.minor_diameter * (1 - LEAST_SHARE_OF_HOLE) / 2}, "/clearance"),
    ],
)
def test_largest_refuses(hole: Hole, rest: dict[str, float], pointer: str) -> None:
    with pytest.raises(BadInput) as refused:
        largest_cutter(hole, **rest)
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


def test_ranking_puts_the_stiffest_that_will_do_first() -> None:
    found = rank_cutters(JOB, [cutter(4.0), cutter(6.4), cutter(4.8), cutter(7.0)])
    assert [one.cutter.diameter for one in found] == [4.8, 4.0, 6.4, 7.0]
    assert [one.place for one in found] == [1, 2, 3, 4]
    assert [one.index for one in found] == [2, 0, 1, 3]
    assert [one.will_do for one in found] == [True, True, False, False]
    assert found[0].against == ()
    assert found[0].correction is not None
    error = 100 * abs(found[0].correction.error_without) / 0.16
    assert found[0].used_by_overcut == pytest.approx(error)
    assert found[0].used_by_form is not None
    assert 0 < found[0].used_by_form < 5


@pytest.mark.parametrize(
    ("job", "one", "words"),
    [
        (JOB, cutter(6.6), "doesn't enter the hole"),
        (JOB, cutter(6.4), "of the tolerance"),
        (JOB, replace(cutter(4.0), tooth=Tooth(27.5, 30.0, 0.1, 0.85)), "upper flank"),
        (JOB, cutter(4.0, least_pitch=1.5), "finer than its range"),
        (JOB, cutter(4.0, greatest_pitch=1.0), "coarser than its range"),
        (JOB, cutter(4.0, rows=3, row_pitch=1.5), "rows stand 1.5 apart"),
        (replace(JOB, root_diameter_limit=8.2), cutter(4.0), "must reach 8.2"),
        (JOB, replace(cutter(4.0), neck_diameter=2.5), "neck clears the crest"),
        (JOB, cutter(4.0, depth=0.6), "tooth body"),
        (JOB, cutter(4.0, tip=0.7), "nowhere, or at no depth"),
        (
            replace(JOB, pitch_diameter_limits=(7.265, 7.268), fraction=0.0, share=10.0),
            cutter(4.0),
            "a perfect mating thread still meets",
        ),
    ],
)
def test_ranking_tells_what_is_against_a_cutter(job: Job, one: Cutter, words: str) -> None:
    (found,) = rank_cutters(job, [one])
    assert not found.will_do
    assert any(words in line for line in found.against)


def test_rows_at_the_pitch_and_a_range_that_holds_it_are_fine() -> None:
    (found,) = rank_cutters(
        JOB, [cutter(4.0, rows=3, row_pitch=1.25, least_pitch=1.25, greatest_pitch=1.25)]
    )
    assert found.will_do
    assert rank_cutters(JOB, [cutter(4.0, rows=3)])[0].will_do


def against(job: Job, one: Cutter, word: str) -> bool:
    """Whether a cutter is refused for the reason that holds `word`."""
    (found,) = rank_cutters(job, [one])
    return any(word in line for line in found.against)


def test_each_limit_of_the_ranking_is_met_exactly() -> None:
    """Taken where it is just met, refused a step beyond: hole, flank, range, rows."""
    room = 6.647 - 2 * 0.05
    assert not against(JOB, cutter(room), "doesn't enter")
    assert against(JOB, cutter(math.nextafter(room, 7.0)), "doesn't enter")
    for angle, refused in ((30.0499, False), (29.9501, False), (30.051, True), (29.949, True)):
        upper = replace(cutter(4.0), tooth=Tooth(angle, 30.0, 0.1, 0.85))
        lower = replace(cutter(4.0), tooth=Tooth(30.0, angle, 0.1, 0.85))
        assert against(JOB, upper, "upper flank") is refused
        assert against(JOB, lower, "lower flank") is refused
    assert against(JOB, cutter(4.0, least_pitch=1.25 * (1 + 2e-9)), "finer")
    assert against(JOB, cutter(4.0, greatest_pitch=1.25 * (1 - 2e-9)), "coarser")
    for off, refused in ((0.00124, False), (-0.00124, False), (0.00126, True), (-0.00126, True)):
        assert against(JOB, cutter(4.0, rows=2, row_pitch=1.25 + off), "rows stand") is refused
        assert not against(JOB, cutter(4.0, rows=1, row_pitch=1.25 + off), "rows stand")


@pytest.mark.parametrize("side", ["internal", "external"])
def test_each_limit_of_the_form_is_met_exactly(side: Side) -> None:
    """Overcut's share, root and neck: the figure that the form itself gives is just allowed."""
    job, one = (
        (JOB, cutter(4.0))
        if side == "internal"
        else (Job("external", 1.25, 7.866, (7.042, 7.16), 6.6, clearance=0.1), cutter(6.0, 0.2))
    )
    (found,) = rank_cutters(job, [one])
    assert found.will_do
    assert found.used_by_overcut is not None
    share = found.used_by_overcut / 100
    assert not against(replace(job, share=share * (1 + 1e-12)), one, "of the tolerance")
    assert against(replace(job, share=share * (1 - 1e-12)), one, "of the tolerance")
    assert found.correction is not None
    root, sign = found.correction.root_diameter, 1 if side == "internal" else -1
    for beyond, refused in ((0.0, False), (5e-10, False), (2e-9, True)):
        limit = root * (1 + sign * beyond)
        assert against(replace(job, root_diameter_limit=limit), one, "must reach") is refused
    clear = sign * (job.crest_diameter / 2 - found.correction.centre_radius) - one.neck_diameter / 2
    assert not against(replace(job, clearance=clear * (1 - 1e-12)), one, "neck")
    assert against(replace(job, clearance=clear * (1 + 1e-12)), one, "neck")
    assert not against(replace(job, clearance=0.0), replace(one, neck_diameter=0.0), "neck")


def test_external_thread_takes_any_size_that_clears() -> None:
    job = Job("external", 1.25, 7.866, (7.042, 7.16), 6.6, clearance=0.1)
    found = rank_cutters(job, [cutter(6.0, 0.2), cutter(16.0, 0.2), cutter(6.0, 0.45)])
    assert [one.cutter.diameter for one in found] == [16.0, 6.0, 6.0]
    assert [one.will_do for one in found] == [True, True, False]
    assert "must reach 6.6" in found[2].against[0]


@pytest.mark.parametrize(
    ("job", "count", "pointer"),
    [
        (replace(JOB, pitch=0.0), 1, "/pitch"),
        (replace(JOB, crest_diameter=-1.0), 1, "/crest_diameter"),
        (replace(JOB, share=0.0), 1, "/share"),
        (replace(JOB, fraction=1.5), 1, "/fraction"),
        (replace(JOB, clearance=-0.1), 1, "/clearance"),
        (replace(JOB, flank_angles=(30.0, 0.0)), 1, "/flank_angles/1"),
        (JOB, 0, "/cutters"),
        (JOB, 201, "/cutters"),
    ],
)
def test_ranking_refuses(job: Job, count: int, pointer: str) -> None:
    with pytest.raises(BadInput) as refused:
        rank_cutters(job, [cutter(4.0)] * count)
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


def test_ranking_refuses_a_cutter_of_no_size() -> None:
    with pytest.raises(BadInput) as refused:
        rank_cutters(JOB, [cutter(4.0), Cutter(0.0, 3, Tooth(30.0, 30.0, 0.1, 0.5))])
    assert [fault.pointer for fault in refused.value.faults] == ["/cutters/1/diameter"]


def test_job_of_an_internal_standard_thread() -> None:
    job = job_for(limits("M8-6H"), fraction=0.3, share=0.2, clearance=0.05)
    assert job.pitch_diameter_limits == (7.188, 7.348)
    assert job.root_diameter_limit == 8.0
    assert job.crest_diameter == pytest.approx((6.647 + 6.912) / 2)
    assert (job.pitch, job.starts, job.taper, job.flank_angles) == (1.25, 1, 0.0, (30.0, 30.0))
    assert (job.fraction, job.share, job.clearance) == (0.3, 0.2, 0.05)
    assert job_for(limits("M8-6H"), crest_diameter=6.8).crest_diameter == 6.8


def test_job_of_an_external_standard_thread() -> None:
    job = job_for(limits("M8-6g"))
    assert job.side == "external"
    assert job.crest_diameter == pytest.approx((7.972 + 7.76) / 2)
    assert job.root_diameter_limit is not None
    assert job.root_diameter_limit < 6.7
    assert job.taper == 0.0
    assert math.copysign(1.0, job.taper) == 1.0


@pytest.mark.parametrize(
    ("designation", "side", "taper"),
    [
        ("1/2-14 NPT", "external", -1 / 16),
        ("1/2-14 NPT", "internal", 1 / 16),
        ("R 1/2", None, -1 / 16),
        ("Rc 1/2", None, 1 / 16),
        ("G 1/2 A", None, 0.0),
    ],
)
def test_pipe_narrows_toward_its_free_end_and_a_hole_widens(
    designation: str, side: Side | None, taper: float
) -> None:
    """1 in 16 on the diameter: ASME B1.20.1-1983, 2.1; ISO 7-1:1994, 3 (both from memory)."""
    assert job_for(limits(designation, side=side)).taper == taper


@pytest.mark.parametrize("side", ["internal", "external"])
def test_start_is_where_the_triangle_puts_the_middle_of_the_limits(side: Side) -> None:
    job = Job(side, 1.25, 6.647, (7.1, 7.3), None, flank_angles=(30.0, 20.0), starts=2)
    tooth = Tooth(30.0, 20.0, 0.1, 0.85)
    start = start_of(job, replace(cutter(4.0), tooth=tooth))
    assert 2 * triangle_pitch_radius(start) == pytest.approx(7.2, abs=1e-13)
    assert (start.cutter_radius, start.side, start.lead) == (2.0, side, 2.5)


def test_landed_puts_the_pitch_diameter_on_its_aim() -> None:
    job = job_for(limits("M8-6H"), fraction=0.25)
    found = landed(job, cutter(4.8))
    assert found.section.pitch_diameter == pytest.approx(7.188 + 0.25 * 0.16, abs=1e-9)
    assert found.cut.passes[0].centre_radius == found.correction.centre_radius
    assert found.section.tolerance_use is not None
    assert found.section.tolerance_use.position == pytest.approx(25, abs=1e-6)


def test_start_is_a_path_that_can_be_run() -> None:
    """In a hole never across the axis, on a shaft never through it, however odd cutter and job."""
    assert start_of(JOB, cutter(12.0)).passes[0].centre_radius == pytest.approx(0.006)
    job = Job("external", 1.25, 2.0, (0.8, 0.9))
    shaft = start_of(job, cutter(6.0, tip=0.0))
    assert shaft.passes[0].centre_radius == pytest.approx(3.0, abs=1e-8)
    assert checked(shaft) == shaft


def test_hole_of_a_job() -> None:
    hole = hole_for(JOB, 0.1)
    assert hole == Hole(6.647, 7.188, 7.348, 8.0, 1.25, 0.1, 1, 30.0, 30.0)
    open_root = hole_for(replace(JOB, root_diameter_limit=None), 0.1)
    assert open_root.major_diameter_least == 7.348
