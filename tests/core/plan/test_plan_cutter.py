"""The cutter of a plan: the tooth a thread asks for, the one proposed, and whether one suits."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.plan import tool_fit, tooling
from flankwise_service.core.plan.job import (
    CutterAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.sizes import sizes
from flankwise_service.core.plan.tooth import tip_for_root, tooth_for
from support.jobs import job_of, sizes_of
from support.refused import faults_of

TAN30 = math.tan(math.radians(30))


# -- the tooth a thread asks for


def test_tip_that_reaches_a_root_by_the_triangle() -> None:
    """tip = P/2 - height (tan u + tan l): from the pitch line down, the groove narrows."""
    at = sizes_of("M20x1.5-6H")
    middle = (19.026 + 19.216) / 2  # ISO 965-2
    assert tip_for_root(at, middle) == pytest.approx(0.75)
    assert tip_for_root(at, middle + 1.0) == pytest.approx(0.75 - 0.5 * 2 * TAN30)
    assert tip_for_root(at, middle - 1.0) == pytest.approx(0.75 - 0.5 * 2 * TAN30)


def test_an_external_metric_tooth_has_isos_least_root_radius() -> None:
    """0.125 P (ISO 965-1); the flat it replaces is 2 r tan(30), for flanks tangent to the arc."""
    at = sizes_of("M20x1.5-6g")
    tooth = tooth_for(at, 19.85)
    assert tooth.tip_radius == pytest.approx(0.125 * 1.5)
    assert tooth.tip_width == pytest.approx(2 * 0.125 * 1.5 * TAN30)
    middle = sum(at.pitch_diameter) / 2
    # Down to the point where the flat meets the flanks, and up to the crest; a tenth to spare.
    deep = (0.75 - tooth.tip_width) / (2 * TAN30) + (19.85 - middle) / 2
    assert tooth.depth == pytest.approx(1.1 * deep)
    assert (tooth.flank_angle_upper, tooth.flank_angle_lower) == (30.0, 30.0)


def test_an_internal_metric_tooth_is_flat_and_reaches_the_major_diameter() -> None:
    """P/8 by the basic profile, or narrower, so that the least major diameter is cut clear."""
    at = sizes_of("M20x1.5-6H")
    tooth = tooth_for(at, 18.526)
    assert tooth.tip_radius == 0.0
    assert tooth.tip_width == pytest.approx(min(1.5 / 8, tip_for_root(at, 20.0)))
    assert tooth.tip_width == pytest.approx(0.1875)
    middle = (19.026 + 19.216) / 2
    deep = (0.75 - 0.1875) / (2 * TAN30) + (middle - 18.526) / 2
    assert tooth.depth == pytest.approx(1.1 * deep)


def test_a_root_with_two_limits_is_met_in_the_middle() -> None:
    at = sizes_of("Tr 24x5-7e")
    least, greatest = at.root_diameter
    assert least is not None
    assert greatest is not None
    tooth = tooth_for(at, 24.0)
    assert tooth.tip_width == pytest.approx(tip_for_root(at, (least + greatest) / 2))
    assert tooth.tip_radius == 0.0


def test_a_whitworth_tooth_has_the_profiles_own_radius() -> None:
    """0.137329 P at root and crest (BS 84); a full round of 55 degrees: 2 r tan(45 - 27.5/2)."""
    at = sizes_of("G 1/2 A")
    bare = replace(at, root_diameter=(None, at.root_diameter[1]))
    tooth = tooth_for(bare, 20.8)
    assert tooth.tip_radius == pytest.approx(0.137329 * 25.4 / 14, rel=1e-3)
    wide = 2 * tooth.tip_radius * math.tan(math.radians(45 - 27.5 / 2))
    assert tooth.tip_width == pytest.approx(wide)


# -- the proposed cutter, by the rules of its own words


@pytest.mark.parametrize(
    ("designation", "unit", "length", "blank", "size", "flutes"),
    [
        # 0.7 of the hole, down to half millimetres, tenths below 4 mm; 4 flutes above 8 mm
        ("M20x1.5-6H", "mm", 16.0, 18.526, 12.5, 4),
        ("M12x1.5-6H", "mm", 16.0, 10.526, 7.0, 3),
        ("M3-6H", "mm", 4.5, 2.5, 1.7, 3),
        ("Tr 16x4-7H", "mm", 16.0, 12.1, 8.0, 3),  # so deep a tooth leaves four tenths as neck
        # 32nds, 128ths below 0.15 in
        ("7/8-14 UNF-2B", "in", 0.875, 0.804, 18 / 32, 4),
        ("#10-24 UNC-2B", "in", 0.3, 0.15, 13 / 128, 3),
    ],
)  # fmt: skip
def test_a_proposed_cutter_for_a_hole(
    designation: str, unit: str, length: float, blank: float, size: float, flutes: int
) -> None:
    at = sizes_of(designation, unit, length)
    made, words = tooling.proposed(job_of(designation, unit, length), at, blank)
    mm = 1.0 if unit == "mm" else 1 / 25.4
    assert made.diameter == pytest.approx(size, abs=1e-6)
    assert made.flutes == flutes
    assert made.reach == pytest.approx(length + 2.5 * at.pitch)
    assert made.overhang == pytest.approx(length + 2.5 * at.pitch + 5.0 * mm)
    assert made.shank_diameter == pytest.approx(max(made.diameter, 3.0 * mm))
    depth = tooth_for(at, blank).depth
    assert made.neck_diameter == pytest.approx(max(size - 2.3 * depth, 0.4 * size), abs=1e-6)
    assert f"{made.flutes} flutes" in words


@pytest.mark.parametrize(
    ("designation", "unit", "length", "blank", "rule"),
    [
        # half the boss; or 5.75 tooth depths; or a third of the reach, whichever is most
        ("M20x1.5-6g", "mm", 16.0, 19.85, "half"),
        ("M6-6g", "mm", 6.0, 5.9, "depth"),
        ("M12x1.5-6g", "mm", 60.0, 11.8, "reach"),
    ],
)  # fmt: skip
def test_a_proposed_cutter_for_a_boss(
    designation: str, unit: str, length: float, blank: float, rule: str
) -> None:
    at = sizes_of(designation, unit, length)
    made, _words = tooling.proposed(job_of(designation, unit, length), at, blank)
    depth = tooth_for(at, blank).depth
    by_rule = {"half": blank / 2, "depth": 5.75 * depth, "reach": (length + 2.5 * at.pitch) / 3}
    assert max(by_rule, key=lambda name: by_rule[name]) == rule
    step = 0.1 if by_rule[rule] < 4.0 else 0.5
    assert made.diameter == pytest.approx(math.floor(by_rule[rule] / step) * step)
    expected = max(made.diameter - 2 * 1.15 * depth, 0.4 * made.diameter)
    assert made.neck_diameter == pytest.approx(expected)


def test_a_taper_boss_asks_for_a_thinner_neck() -> None:
    """It grows by the taper along the thread: half of 0.55/16 in for each side."""
    at = sizes_of("1/2-14 NPT", "in", 0.55, side="external")
    made, _words = tooling.proposed(job_of("1/2-14 NPT", "in", 0.55), at, 0.8)
    depth = tooth_for(at, 0.8).depth
    assert made.neck_diameter == pytest.approx(
        made.diameter - 2 * (1.15 * depth + 0.55 / 16 / 2), abs=1e-6
    )


def test_a_taper_hole_is_judged_at_its_narrow_end() -> None:
    at = sizes_of("1/2-14 NPT", "in", 0.55, side="internal")
    made, _words = tooling.proposed(job_of("1/2-14 NPT", "in", 0.55), at, 0.75)
    most = 0.7 * (0.75 - 0.55 / 16)
    assert made.diameter == pytest.approx(math.floor(most * 32) / 32, abs=1e-6)


# -- does the cutter suit


def mill(**changes: object) -> Cutter:
    made = Cutter(12.0, 4, Tooth(30.0, 30.0, 0.15, 1.2), neck_diameter=9.0, reach=22.0)
    return replace(made, **changes)  # type: ignore[arg-type]


def states(cutter: Cutter, blank: float = 18.526, name: str = "M20x1.5-6H") -> dict[str, str]:
    return {one.code: one.state for one in tool_fit.cutter_checks(cutter, sizes_of(name), blank)}


@pytest.mark.parametrize(
    ("upper", "lower", "state"),
    [(30.09, 30.0, "passed"), (30.11, 30.0, "refused"), (30.0, 29.91, "passed"),
     (30.0, 29.89, "refused"), (29.89, 30.0, "refused"), (30.0, 30.11, "refused")],
)  # fmt: skip
def test_flank_angles_may_differ_by_a_tenth_of_a_degree(
    upper: float, lower: float, state: str
) -> None:
    assert states(mill(tooth=Tooth(upper, lower, 0.15, 1.2)))["flank_angle"] == state


def test_a_tip_may_be_half_a_pitch_wide() -> None:
    assert states(mill(tooth=Tooth(30.0, 30.0, 0.75, 1.2)))["tip_width"] == "passed"
    assert states(mill(tooth=Tooth(30.0, 30.0, 0.751, 1.2)))["tip_width"] == "refused"


def test_rows_may_be_out_of_pitch_by_a_hundredth() -> None:
    assert "row_pitch" not in states(mill())
    for row_pitch, state in [(1.5149, "passed"), (1.5151, "refused"), (1.4849, "refused")]:
        assert states(mill(rows=2, row_pitch=row_pitch))["row_pitch"] == state
    assert states(mill(rows=2))["row_pitch"] == "refused"


def test_a_cutter_is_made_for_a_range_of_pitches() -> None:
    assert "pitch_range" not in states(mill())
    assert states(mill(least_pitch=1.5))["pitch_range"] == "passed"
    assert states(mill(greatest_pitch=1.5))["pitch_range"] == "passed"
    assert states(mill(least_pitch=1.51))["pitch_range"] == "refused"
    assert states(mill(greatest_pitch=1.49))["pitch_range"] == "refused"


def test_a_cutter_enters_a_hole_up_to_98_hundredths_of_it() -> None:
    assert states(mill(diameter=9.8), 10.0)["cutter_enters_hole"] == "passed"
    (one,) = (
        check for check in tool_fit.cutter_checks(mill(diameter=9.81), sizes_of("M20x1.5-6H"), 10.0)
        if check.code == "cutter_enters_hole"
    )  # fmt: skip
    assert (one.state, one.limit) == ("refused", pytest.approx(9.8))
    assert one.change == "take a much smaller cutter: 7 mm is usual"
    assert "cutter_enters_hole" not in states(mill(), 19.8, "M20x1.5-6g")


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [({"tooth": Tooth(29.0, 30.0, 0.15, 1.2)}, "/cutter/tooth/flank_angle_upper"),
     ({"tooth": Tooth(30.0, 31.0, 0.15, 1.2)}, "/cutter/tooth/flank_angle_lower"),
     ({"tooth": Tooth(30.0, 30.0, 0.8, 1.2)}, "/cutter/tooth/tip_width"),
     ({"rows": 3}, "/cutter/row_pitch"), ({"rows": 3, "row_pitch": 1.25}, "/cutter/row_pitch"),
     ({"least_pitch": 2.0}, "/cutter/least_pitch"),
     ({"greatest_pitch": 1.0}, "/cutter/greatest_pitch"),
     ({"diameter": 18.4}, "/cutter/diameter")],
)  # fmt: skip
def test_what_no_path_can_be_made_with_is_told_at_its_place(
    changes: dict[str, object], pointer: str
) -> None:
    at, cutter = sizes_of("M20x1.5-6H"), mill(**changes)
    checks = tool_fit.cutter_checks(cutter, at, 18.526)
    (fault,) = faults_of(Impossible, tool_fit.refuse_unfit, checks, cutter, at)
    assert fault.pointer == pointer
    sent: object = cutter
    for name in pointer.split("/")[2:]:
        sent = getattr(sent, name)
    assert fault.value == sent
    if isinstance(sent, float):
        low = fault.least is not None and sent < fault.least
        assert low or (fault.greatest is not None and sent > fault.greatest)
        assert f"{sent:g}" in fault.detail
    tool_fit.refuse_unfit(tool_fit.cutter_checks(mill(), at, 18.526), mill(), at)


def test_a_pitch_range_is_told_by_the_end_that_does_not_suit() -> None:
    at = sizes_of("M8x1.25-6g")

    def told(**range_: float) -> tuple[str, str]:
        checks = tool_fit.cutter_checks(mill(**range_), at, 8.0)
        return next((one.state, one.detail) for one in checks if one.code == "pitch_range")

    assert told(least_pitch=1.5) == (
        "refused", "the cutter's finest pitch is 1.5 mm; the thread's is 1.25 mm",
    )  # fmt: skip
    assert told(least_pitch=0.5, greatest_pitch=1.0) == (
        "refused", "the cutter's coarsest pitch is 1 mm; the thread's is 1.25 mm",
    )  # fmt: skip
    assert told(least_pitch=1.25, greatest_pitch=1.25)[0] == "passed"
    assert told(greatest_pitch=1.5) == (
        "passed", "the cutter is made for pitches of at most 1.500 mm; the thread's is 1.25 mm",
    )  # fmt: skip


def contradicting(**lengths: float) -> list[tuple[str, object, float | None, float | None]]:
    asked = CutterAsked(0.375, 4, **lengths)
    at = sizes(ThreadAsked("1/2-13 UNC-2A", 0.75), "in")
    found = faults_of(BadInput, tooling.complete, asked, at, Tooth(30.0, 30.0, 0.008, 0.065))
    assert all(fault.change for fault in found)
    return [(fault.pointer, fault.value, fault.least, fault.greatest) for fault in found]


def test_lengths_of_one_tool_that_contradict_one_another_are_refused() -> None:
    """All are measured from the tip: tooth, then neck, then shank, then holder."""
    assert contradicting(reach=1.0, overhang=0.9) == [("/cutter/overhang", 0.9, 1.0, None)]
    assert contradicting(reach=1.0, tip_to_tooth=1.1) == [("/cutter/tip_to_tooth", 1.1, None, None)]
    assert contradicting(overhang=1.0, tip_to_tooth=1.0) == [
        ("/cutter/tip_to_tooth", 1.0, None, None)
    ]
    assert [one[0] for one in contradicting(reach=1.0, overhang=0.9, tip_to_tooth=1.1)] == [
        "/cutter/overhang", "/cutter/tip_to_tooth",
    ]  # fmt: skip
    half = 0.004 + 0.065 * TAN30
    assert contradicting(reach=0.04) == [("/cutter/reach", 0.04, pytest.approx(half), None)]
    assert contradicting(overhang=0.04) == [("/cutter/overhang", 0.04, pytest.approx(half), None)]
    fine = CutterAsked(0.375, 4, reach=1.0, overhang=1.0, tip_to_tooth=0.05)
    at = sizes(ThreadAsked("1/2-13 UNC-2A", 0.75), "in")
    assert tooling.complete(fine, at, Tooth(30.0, 30.0, 0.008, 0.065))[0].overhang == 1.0


def test_reach_is_told_as_it_was_sent() -> None:
    cutter = replace(mill(), reach=8.0, tip_to_tooth=0.7)
    short = tool_fit.reach_check(cutter, 10.0, "mm")
    assert (short.figure, short.limit) == (8.0, 10.7)
    assert short.detail == (
        "reach 8 mm, of which 0.7 mm lies below the tooth, is less than needed, 10.7 mm: 2.7 mm "
        "is missing"
    )
    assert "at least 10.7 mm" in short.change
    assert tool_fit.reach_check(cutter, 7.3, "mm").state == "passed"


def test_the_tip_may_stand_just_as_low_as_the_tooth_reaches() -> None:
    tooth = Tooth(30.0, 30.0, 0.15, 1.2)
    half = 0.075 + 1.2 * TAN30
    at = sizes_of("M20x1.5-6H")

    def asked(tip: float, own: Tooth | None) -> None:
        tooling.complete(CutterAsked(12.0, 4, tooth=own, tip_to_tooth=tip), at, tooth)

    asked(half, tooth)
    (fault,) = faults_of(BadInput, asked, half - 1e-5, tooth)
    assert fault.least == pytest.approx(half)
    # Of a tooth that was assumed, only what cuts counts: a tenth less deep.
    cuts = 0.075 + 1.2 / 1.1 * TAN30
    asked(cuts, None)
    (fault,) = faults_of(BadInput, asked, cuts - 1e-5, None)
    assert fault.least == pytest.approx(cuts)


def test_reach_counts_from_the_lowest_tooth() -> None:
    cutter = mill(tip_to_tooth=2.0, shank_diameter=12.0)
    assert tool_fit.reach_check(cutter, 20.0, "mm").state == "passed"
    short = tool_fit.reach_check(cutter, 20.001, "mm")
    assert (short.state, short.acceptable, short.figure) == ("refused", True, 22.0)
    assert not tool_fit.reach_check(mill(tip_to_tooth=2.0), 21.0, "mm").acceptable
    assert tool_fit.reach_check(mill(reach=None), 1.0, "mm").state == "caution"


def test_a_buttress_cutter_has_each_flank_on_its_own_side() -> None:
    """7 and 45 degrees (ASME B1.9); the groove's upper edge is the ridge's lower flank."""
    at = sizes_of("2-8 BUTT-2A", "in", 1.0, side="external")
    basic = at.limits.basic
    upper, lower = basic.flank_angle_lower, basic.flank_angle_upper
    assert {upper, lower} == {7.0, 45.0}
    right = mill(tooth=Tooth(upper, lower, 0.01, 0.1))
    turned = mill(tooth=Tooth(lower, upper, 0.01, 0.1))
    first, second = (
        next(one for one in tool_fit.cutter_checks(cutter, at, 2.0) if one.code == "flank_angle")
        for cutter in (right, turned)
    )
    assert first.state == "passed"
    assert (second.state, second.figure, second.limit) == ("refused", lower, upper)
    assert f"a cutter of {upper:g} and {lower:g} degrees" in second.change
    tooth = tooth_for(at, 2.0)
    assert (tooth.flank_angle_upper, tooth.flank_angle_lower) == (upper, lower)


def test_what_was_assumed_of_the_tooth_is_told_in_figures() -> None:
    at = sizes_of("2-8 BUTT-2A", "in", 1.0, side="external")
    tooth = tooth_for(at, 2.0)
    made, words = tooling.complete(CutterAsked(0.75, 4), at, tooth)
    told = f"{tooth.flank_angle_upper:g} and {tooth.flank_angle_lower:g} degrees"
    assert told in words[0]
    assert f"{tooth.depth:.4g} deep" in words[0]
    half = tooth.tip_width / 2 + tooth.depth * math.tan(math.radians(tooth.flank_angle_lower))
    assert made.tip_to_tooth == pytest.approx(half)
    assert f"{half:.4g} in" in words[1]
    own = Tooth(7.0, 45.0, 0.01, 0.1)
    stated, said = tooling.complete(CutterAsked(0.75, 4, tooth=own, tip_to_tooth=0.3), at, tooth)
    assert (stated.tooth, stated.tip_to_tooth, said) == (own, 0.3, ())
