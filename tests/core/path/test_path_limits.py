"""Every documented limit of paths: taken at the limit, refused one step beyond."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.path import blank_check
from flankwise_service.core.path.blank import bore_path, boss_path
from flankwise_service.core.path.blank_check import check_bore, check_boss
from flankwise_service.core.path.blank_request import Bore, Boss, bore_radii, boss_radii, ramp_angle
from flankwise_service.core.path.check import check_helix
from flankwise_service.core.path.gouge import _peaks as peaks
from flankwise_service.core.path.lines import place_on
from flankwise_service.core.path.request import Helix, RadialPass
from flankwise_service.core.path.runs import blunt_offsets, run_count, shared_runs
from flankwise_service.core.path.spiral import count_pieces
from flankwise_service.core.path.stretch import stretches
from flankwise_service.core.path.taper import departure, taper_pieces
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.path.values import value_faults
from support.at_limits import assert_limits_hold
from support.path_jobs import CUTTER, EXTERNAL, INTERNAL, helices
from support.refused import faults_of, told

LENGTH = (1e-5, 1e5)
FINE = (1e-7, 1e5)
FROM_0 = (0.0, 1e5)
ANYWHERE = (-1e5, 1e5)
FEED = (1e-5, 1e6)
TURNS = (0, 100_000)

BOSS = Boss(20.0, 15.0, 34.64, 16.0, 600.0, 5.0, 1.0, 5.0)
BORE = Bore(20.0, 10.0, 12.0, 600.0, 2.5, 1.0, 5.0)


def helix_with(**changed: Any) -> None:
    for n, name in enumerate(("x", "y")):
        if name in changed:
            centre = list(INTERNAL.centre)
            centre[n] = changed.pop(name)
            changed["centre"] = tuple(centre)
    value_faults(replace(INTERNAL, **changed)).raise_any(BadInput)


def cutter_with(**changed: Any) -> None:
    helix_with(cutter=replace(CUTTER, **changed))


def tooth_with(**changed: Any) -> None:
    cutter_with(tooth=replace(CUTTER.tooth, **changed))


def pass_with(**changed: Any) -> None:
    helix_with(passes=(replace(INTERNAL.passes[0], lead_feed=100.0, **changed),))


def boss_with(**changed: Any) -> None:
    check_boss(replace(BOSS, **changed))


def bore_with(**changed: Any) -> None:
    check_bore(replace(BORE, **changed))


BLANK = {
    "diameter": LENGTH, "depth": LENGTH, "cutter_diameter": LENGTH, "edge_feed": FEED,
    "clearance": LENGTH, "clearance_height": LENGTH, "width_per_pass": LENGTH,
    "chord_tolerance": FINE, "plunge_feed": FEED, "finish_allowance": FROM_0,
}  # fmt: skip


@pytest.mark.parametrize(
    ("call", "bounds", "prefix"),
    [
        (
            helix_with,
            {
                "pitch": LENGTH, "length": LENGTH, "blank_diameter": LENGTH, "clearance": LENGTH,
                "clearance_height": LENGTH, "lead_arc_radius": FINE, "relief_width": FINE,
                "chord_tolerance": FINE, "radial_tolerance": FINE, "start_angle": (-360, 360),
                "straight_lead": FROM_0, "overlap": (0, 360), "taper": (0, 0.5),
                "turns_below_length": TURNS, "turns_above_face": TURNS, "plunge_feed": FEED,
                "starts": (1, 100),
            },
            "/",
        ),
        (cutter_with, {"diameter": LENGTH, "tip_to_tooth": FROM_0, "rows": (1, 200)}, "/cutter/"),
        (
            tooth_with,
            {
                "tip_width": FROM_0, "depth": LENGTH, "flank_angle_upper": (0, 80),
                "flank_angle_lower": (0, 80),
            },
            "/cutter/tooth/",
        ),
        (pass_with, {"radius": LENGTH, "feed": FEED}, "/passes/0/"),
        (boss_with, {**BLANK, "stock_diameter": LENGTH, "depth_per_level": LENGTH}, "/"),
        (
            bore_with,
            {
                **BLANK, "depth_per_turn": LENGTH, "pilot_diameter": FROM_0,
                "greatest_ramp_angle": (0.01, 90),
            },
            "/",
        ),
    ],
)  # fmt: skip
def test_taken_at_each_limit_and_refused_beyond(
    call: Any, bounds: dict[str, Any], prefix: str
) -> None:
    assert_limits_hold(call, {}, bounds, prefix)


@pytest.mark.parametrize("n", [0, 1])
def test_the_axis_may_stand_a_hundred_thousand_from_the_zero_point(n: int) -> None:
    for asked, call in ((INTERNAL, check_helix), (BOSS, check_boss), (BORE, check_bore)):
        for value in ANYWHERE:
            centre = [0.0, 0.0]
            centre[n] = value
            call(replace(asked, centre=tuple(centre)))  # type: ignore[arg-type,type-var]
            centre[n] = math.nextafter(value, 2 * value)
            found = told(BadInput, call, replace(asked, centre=tuple(centre)))  # type: ignore[type-var]
            assert found == {(f"/centre/{n}", "out_of_range")}


def test_lead_feed_has_the_limits_of_a_feed() -> None:
    for value, good in ((1e-5, True), (1e6, True), (0.999e-5, False), (1.001e6, False)):
        asked = replace(INTERNAL, passes=(RadialPass(1.0, 100.0, value),))
        assert (value_faults(asked).found == []) is good


def test_a_thousand_passes_are_made_and_no_more() -> None:
    many = replace(INTERNAL, passes=(RadialPass(1.0, 100.0),) * 1000)
    check_helix(many)
    more = replace(many, passes=(*many.passes, RadialPass(1.0, 100.0)))
    assert told(BadInput, check_helix, more) == {("/passes", "number_of_passes")}


def test_rows_a_hundredth_of_the_pitch_off_are_let_pass() -> None:
    """Pitch 100, rows 101 and 99 apart; a taper a millionth off."""
    coarse = replace(INTERNAL, pitch=100.0)
    for apart, good in ((101.0, True), (99.0, True), (101.01, False), (98.99, False)):
        asked = replace(coarse, cutter=replace(CUTTER, rows=2, row_pitch=apart))
        assert (value_faults(asked).found == []) is good
        alone = replace(coarse, cutter=replace(CUTTER, rows=1, row_pitch=apart, row_taper=0.4))
        assert value_faults(alone).found == []
    for off, good in ((0.9e-6, True), (-0.9e-6, True), (1.1e-6, False), (-1.1e-6, False)):
        rows = replace(CUTTER, rows=2, row_pitch=100.0, row_taper=0.1 + off)
        asked = replace(coarse, cutter=rows, taper=0.1, radial_tolerance=0.01)
        assert (value_faults(asked).found == []) is good


def test_a_hundred_thousand_turns_are_made_in_one_pass_and_no_more() -> None:
    """Binary fractions: a pitch of 1/64 over 1562 turns' length and the rest below it."""
    asked = replace(
        INTERNAL, pitch=1 / 64, length=1000.0, turns_above_face=0.0, greatest_sweep=360,
        passes=(RadialPass(1.0, 120.0),), turns_below_length=36_000.0,
    )  # fmt: skip
    check_helix(asked)
    check_helix(replace(asked, passes=asked.passes * 3))
    more = replace(asked, turns_below_length=36_000.001)
    assert told(Impossible, check_helix, more) == {("/length", "too_many_turns")}


def at_edge(job: Helix, changed: dict[str, Any]) -> set[str]:
    try:
        check_helix(replace(job, **changed))
    except Impossible as refusal:
        return {fault.code for fault in refusal.faults}
    return set()


def test_each_room_is_met_exactly() -> None:
    """Hole and cutter, relief and tooth, blunt start and tip, length and pitch."""
    hole = replace(
        INTERNAL, blank_diameter=6.5, clearance=0.25, lead_in="radial", lead_out="radial"
    )
    assert at_edge(hole, {}) == set()
    assert at_edge(hole, {"blank_diameter": 6.5 - 1e-8}) == {"does_not_enter"}
    boss = replace(EXTERNAL, blank_diameter=20.0)
    assert "does_not_enter" not in at_edge(boss, {"clearance": 20.0})
    square = replace(CUTTER, tooth=Tooth(0.0, 0.0, 0.5, 0.9))
    assert at_edge(EXTERNAL, {"cutter": square, "relief_width": 0.5}) == set()
    assert at_edge(EXTERNAL, {"cutter": square, "relief_width": 0.4999}) == {"relief_too_narrow"}
    blunt = {"blunt_start": True, "pitch": 1.5, "length": 1.5}
    narrow = replace(CUTTER, tooth=Tooth(30.0, 30.0, 0.0375, 0.9))
    assert at_edge(EXTERNAL, {**blunt, "cutter": narrow}) == set()
    assert at_edge(EXTERNAL, {**blunt, "length": 1.4999}) == {"too_short_for_blunt_start"}
    narrower = replace(CUTTER, tooth=Tooth(30.0, 30.0, 0.0374, 0.9))
    assert at_edge(EXTERNAL, {**blunt, "cutter": narrower}) == {"tip_too_narrow"}


@pytest.mark.parametrize(
    ("job", "radius", "good", "code"),
    [
        (EXTERNAL, 3.0, 3.0001, "crosses_axis"),
        (EXTERNAL, 13.0, 12.9999, "cuts_air"),
        (INTERNAL, 0.325, 0.3251, "cuts_air"),
    ],
)
def test_the_centre_path_reaches_the_blank_and_not_the_axis(
    job: Helix, radius: float, good: float, code: str
) -> None:
    """Boss of 20, hole of 6.65, cutter of 6."""
    deep = replace(CUTTER, tooth=replace(CUTTER.tooth, depth=12.0))
    clear = {"lead_in": "radial", "lead_out": "radial", "cutter": deep}
    assert at_edge(job, {**clear, "passes": (RadialPass(radius, 1.0),)}) == {code}
    assert at_edge(job, {**clear, "passes": (RadialPass(good, 1.0),)}) == set()


def test_each_room_of_a_blank_is_met_exactly() -> None:
    """Stock over boss and allowance, width and cutter, pilot and hole, height, counts, ramp."""
    allowance = replace(BOSS, finish_allowance=0.25, stock_diameter=20.5)
    assert told(Impossible, check_boss, allowance) == {("/stock_diameter", "no_stock")}
    check_boss(replace(allowance, stock_diameter=20.5001))
    for asked, call in ((BOSS, check_boss), (BORE, check_bore)):
        call(replace(asked, width_per_pass=asked.cutter_diameter))  # type: ignore[operator,type-var]
        wide = replace(asked, width_per_pass=asked.cutter_diameter + 1e-9)  # type: ignore[type-var]
        assert told(Impossible, call, wide) == {("/width_per_pass", "leaves_material")}
    hole = replace(BORE, finish_allowance=0.25)
    check_bore(replace(hole, pilot_diameter=19.4999, cutter_diameter=12.0))
    assert told(Impossible, check_bore, replace(hole, pilot_diameter=19.5)) == {
        ("/pilot_diameter", "no_stock")
    }
    assert told(Impossible, check_bore, replace(hole, cutter_diameter=19.5)) == {
        ("/cutter_diameter", "does_not_fit")
    }
    check_bore(replace(hole, cutter_diameter=19.4999))
    check_bore(replace(BORE, clearance=5.0))
    assert told(Impossible, check_bore, replace(BORE, clearance=5.0001)) == {
        ("/clearance_height", "too_low")
    }


def test_ten_thousand_levels_and_a_thousand_rounds_are_made_and_no_more() -> None:
    """In binary exact: 15.625 deep by 1/640 and so on."""
    deep = replace(BOSS, depth=10_000 / 64, depth_per_level=1 / 64, stock_diameter=20.5)
    check_boss(deep)
    assert told(Impossible, check_boss, replace(deep, depth=10_001 / 64)) == {
        ("/depth", "too_many")
    }
    wide = replace(BOSS, width_per_pass=1 / 64, stock_diameter=20 + 2000 / 64, depth_per_level=15.0)
    check_boss(wide)
    wider = replace(wide, stock_diameter=20 + 2002 / 64)
    assert told(Impossible, check_boss, wider) == {("/width_per_pass", "too_many")}
    turns = replace(BORE, depth=10_000 / 64 - 1.0, depth_per_turn=1 / 64)
    check_bore(turns)
    more = replace(turns, depth=10_001 / 64 - 1.0)
    assert told(Impossible, check_bore, more) == {("/depth", "too_many")}
    rounds = replace(BORE, diameter=2000 / 64, width_per_pass=1 / 64, depth_per_turn=10.0)
    check_bore(rounds)
    further = replace(rounds, diameter=2002 / 64)
    assert told(Impossible, check_bore, further) == {("/width_per_pass", "too_many")}


def test_rounds_are_half_the_cutter_wide_where_no_width_is_asked() -> None:
    fine = {"cutter_diameter": 1 / 32, "width_per_pass": None}
    boss: Boss = replace(BOSS, depth_per_level=15.0, **fine)  # type: ignore[arg-type]
    check_boss(replace(boss, stock_diameter=20 + 2000 / 64))
    wider = replace(boss, stock_diameter=20 + 2002 / 64)
    assert told(Impossible, check_boss, wider) == {("/width_per_pass", "too_many")}
    bore: Bore = replace(BORE, depth_per_turn=10.0, **fine)  # type: ignore[arg-type]
    check_bore(replace(bore, diameter=2000 / 64))
    further = replace(bore, diameter=2002 / 64)
    assert told(Impossible, check_bore, further) == {("/width_per_pass", "too_many")}


def test_the_steepest_way_down_is_allowed_and_none_steeper() -> None:
    angle = ramp_angle(BORE)
    check_bore(replace(BORE, greatest_ramp_angle=angle))
    steep = replace(BORE, greatest_ramp_angle=angle * (1 - 1e-9))
    (fault,) = faults_of(Impossible, check_bore, steep)
    assert (fault.pointer, fault.code) == ("/depth_per_turn", "too_steep")
    assert fault.greatest is not None
    check_bore(replace(steep, depth_per_turn=fault.greatest))
    check_bore(replace(steep, depth_per_turn=float(fault.change.split()[3])))


def bound_of(monkeypatch: pytest.MonkeyPatch, job: Any) -> float:
    """Return the number of segments that a blank is thought to take at most."""
    seen: list[float] = []
    monkeypatch.setattr(blank_check, "refuse_too_many", lambda most, _: seen.append(most))
    (check_boss if isinstance(job, Boss) else check_bore)(job)
    return seen[0]


@settings(max_examples=40, deadline=None)
@given(
    boss=st.booleans(),
    levels=st.floats(0.6, 8.0),
    width=st.floats(0.5, 8.0),
    allowance=st.sampled_from([0.0, 0.3]),
    sweep=st.sampled_from([90, 180, 360]),
    chord=st.sampled_from([None, 0.01, 0.2]),
)
def test_a_blank_takes_no_more_segments_than_was_counted_on(
    boss: bool, levels: float, width: float, allowance: float, sweep: Any, chord: float | None
) -> None:
    common: dict[str, Any] = {
        "width_per_pass": width, "finish_allowance": allowance, "greatest_sweep": sweep,
        "chord_tolerance": chord,
    }  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        if boss:
            job: Any = replace(BOSS, depth_per_level=15.0 / levels, **common)
            count = sum(1 for _ in boss_path(job))
        else:
            job = replace(BORE, depth_per_turn=10.0 / levels, **common)
            count = sum(1 for _ in bore_path(job))
        assert count <= bound_of(patch, job)


def test_half_a_turn_is_the_greatest_piece_of_a_taper_and_each_tolerance_is_met_exactly() -> None:
    """As many arcs as the tolerance takes: one more as soon as it is a millionth less."""
    assert [taper_pieces(1e-9, turns, 360, 1.0) for turns in (1.5, 1.502, 0.5)] == [3, 4, 1]
    assert taper_pieces(1e-9, 1.5, 170, 1.0) == 4
    growth = 0.0567 / (2 * math.pi)
    for pieces in (7, 8, 14, 15, 28, 29, 56, 57, 111, 112, 224):
        just = departure(growth, 3.3 * 360 / pieces)
        assert taper_pieces(0.0567, 3.3, 360, just * (1 + 1e-9)) == pieces
        assert taper_pieces(0.0567, 3.3, 360, just * (1 - 1e-9)) == pieces + 1


@settings(max_examples=60, deadline=None)
@given(job=helices(rows=None), chord=st.sampled_from([None, 0.05]), off=st.sampled_from([0.0, 0.7]))
def test_a_stretch_holds_all_its_segments(job: Helix, chord: float | None, off: float) -> None:
    """In order, each within the stretch's distances and heights; only a run about the axis is long."""
    if chord is not None:
        job = replace(job, chord_tolerance=chord * job.cutter.diameter)
    path = list(thread_path(job))
    axis = (job.centre[0] + off, job.centre[1])
    found = list(stretches(path, axis))
    assert [segment for stretch in found for segment in stretch.segments] == path
    slack = 1e-9 * (1 + abs(job.centre[0]) + abs(job.centre[1]) + job.blank_diameter)
    for stretch in found:
        ends = [z for one in stretch.segments for z in (one.begin.z, one.end.z)]
        assert (stretch.low, stretch.high) == (min(ends), max(ends))
        assert path[stretch.first] is stretch.segments[0]
        for one in stretch.segments:
            assert stretch.cutting == (one.purpose in ("lead_in", "thread", "lead_out"))
            for step in range(5):
                place = place_on(one, step / 4)
                away = math.dist(place[:2], axis)
                assert stretch.near - slack <= away <= stretch.far + slack
        if len(stretch.segments) > 1:
            assert {(one.purpose, one.centre) for one in stretch.segments} == {("thread", axis)}
    if chord is None and off == 0.0:
        threads = [one for one in found if one.segments[0].purpose == "thread"]
        assert len(threads) == run_count(job) * len(job.passes)


def test_the_count_of_a_large_blank_is_near_the_truth() -> None:
    """60 rounds of 60 levels about 200: counted on are 3 % more segments than there are."""
    job = Boss(
        200.0, 60.0, 206.0, 2.0, 600.0, 1.0, 1.0, 5.0, "level", width_per_pass=0.05,
        chord_tolerance=0.3,
    )  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        most = bound_of(patch, job)
    assert sum(1 for _ in boss_path(job)) <= most <= 177_000


def test_what_divides_evenly_takes_no_run_round_or_step_more() -> None:
    """5 and k times 5 deep in steps of 4 pitches; 8 in widths of 4; a pitch in 10 tips."""
    rows = replace(CUTTER, rows=4, row_pitch=1.25)
    for steps in (1, 2, 7):
        job = replace(INTERNAL, cutter=rows, length=5.0 + 5.0 * steps, turns_above_face=0.0)
        assert shared_runs(job) == steps
        assert shared_runs(replace(job, length=job.length + 1e-6)) == steps + 1
    boss = replace(BOSS, stock_diameter=36.0, width_per_pass=4.0)
    assert boss_radii(boss) == (14.0, 10.0)
    assert len(boss_radii(replace(boss, stock_diameter=36.00001))) == 3
    hole = replace(BORE, diameter=38.8, width_per_pass=4.0)  # opened to 11.4 first, 1.9 radii
    assert bore_radii(hole) == pytest.approx((11.4, 15.4, 19.4))
    assert len(bore_radii(replace(hole, diameter=38.80001))) == 4
    tip = replace(CUTTER, tooth=Tooth(30.0, 30.0, 0.15, 0.9))
    blunt = replace(EXTERNAL, cutter=tip, blunt_start=True)
    assert blunt_offsets(blunt) == pytest.approx([0.15 * n for n in range(1, 10)])
    assert len(blunt_offsets(replace(blunt, pitch=1.50001))) == 10
    assert [count_pieces(sweep, 90.0) for sweep in (90.0, 270.0, 270.0001, 1.0)] == [1, 3, 4, 1]


def test_the_peak_between_places_is_that_of_their_parabola_and_at_an_end_the_ends() -> None:
    """5 - (x - 2.3)^2 at 0 to 5; a row that only rises, and one that only falls."""
    at = np.arange(6.0)
    rows = np.stack((5 - (at - 2.3) ** 2, at, -at))
    assert peaks(rows).tolist() == pytest.approx([5.0, 5.0, 0.0], abs=1e-12)
