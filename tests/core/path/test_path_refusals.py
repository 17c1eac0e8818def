"""What a thread path, a boss and a hole are refused for: code, pointer and limit."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.errors import BadInput, Impossible, Refusal
from flankwise_service.core.path import lengths
from flankwise_service.core.path.blank import bore_path, boss_path
from flankwise_service.core.path.blank_request import Bore, Boss, ramp_angle
from flankwise_service.core.path.check import check_helix, segments_at_most
from flankwise_service.core.path.request import Helix, RadialPass
from flankwise_service.core.path.segment import Point, same_place
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.path.values import MOST_TURNS
from support.path_jobs import CUTTER, EXTERNAL, INTERNAL, helices

BOSS = Boss(20.0, 15.0, 34.64, 16.0, 600.0, 5.0, 1.0, 5.0)
BORE = Bore(20.0, 10.0, 12.0, 600.0, 2.5, 1.0, 5.0)
HUGE = 10**400
TOO_GREAT = (1e308, HUGE, -1.0, math.nan, math.inf, 5e-324)


def refused(call: Any, asked: Any, kind: type[Refusal]) -> list[tuple[str, str]]:
    with pytest.raises(kind) as caught:
        call(asked)
    for fault in caught.value.faults:
        assert fault.change
        assert fault.detail
    return [(fault.pointer, fault.code) for fault in caught.value.faults]


LENGTHS = (
    "pitch", "length", "blank_diameter", "clearance", "clearance_height", "lead_arc_radius",
    "relief_width", "chord_tolerance", "radial_tolerance", "plunge_feed",
)  # fmt: skip


@pytest.mark.parametrize("name", LENGTHS)
@pytest.mark.parametrize("value", TOO_GREAT)
def test_a_length_out_of_range_is_refused_by_name(name: str, value: float) -> None:
    faults = refused(thread_path, replace(EXTERNAL, **{name: value}), BadInput)
    assert (f"/{name}", "out_of_range") in faults


@pytest.mark.parametrize(
    ("changes", "pointer", "code"),
    [
        ({"side": "inside"}, "/side", "not_a_choice"),
        ({"hand": "both"}, "/hand", "not_a_choice"),
        ({"milling": "up"}, "/milling", "not_a_choice"),
        ({"lead_in": "spiral"}, "/lead_in", "not_a_choice"),
        ({"lead_out": ""}, "/lead_out", "not_a_choice"),
        ({"greatest_sweep": 45}, "/greatest_sweep", "not_a_choice"),
        ({"centre": (HUGE, 0.0)}, "/centre/0", "out_of_range"),
        ({"centre": (0.0, -1e6)}, "/centre/1", "out_of_range"),
        ({"starts": 0}, "/starts", "out_of_range"),
        ({"starts": 1.5}, "/starts", "not_whole"),
        ({"starts": HUGE}, "/starts", "out_of_range"),
        ({"start_angle": 361.0}, "/start_angle", "out_of_range"),
        ({"overlap": -1.0}, "/overlap", "out_of_range"),
        ({"straight_lead": -1.0}, "/straight_lead", "out_of_range"),
        ({"taper": 0.6, "radial_tolerance": 0.01}, "/taper", "out_of_range"),
        ({"taper": 0.0625}, "/radial_tolerance", "needed"),
        ({"turns_below_length": -1.0}, "/turns_below_length", "out_of_range"),
        ({"turns_above_face": 1e6}, "/turns_above_face", "out_of_range"),
        ({"passes": ()}, "/passes", "number_of_passes"),
        ({"passes": (RadialPass(12.3, 1.0),) * 1001}, "/passes", "number_of_passes"),
        ({"passes": (RadialPass(0.0, 1.0),)}, "/passes/0/radius", "out_of_range"),
        ({"passes": (RadialPass(12.3, 0.0),)}, "/passes/0/feed", "out_of_range"),
        ({"passes": (RadialPass(12.3, 1.0, 0.0),)}, "/passes/0/lead_feed", "out_of_range"),
        ({"cutter": replace(CUTTER, diameter=HUGE)}, "/cutter/diameter", "out_of_range"),
        ({"cutter": replace(CUTTER, tip_to_tooth=-1.0)}, "/cutter/tip_to_tooth", "out_of_range"),
        ({"cutter": replace(CUTTER, rows=0)}, "/cutter/rows", "out_of_range"),
        ({"cutter": replace(CUTTER, rows=2.0, row_pitch=1.5)}, "/cutter/rows", "not_whole"),
        ({"cutter": replace(CUTTER, rows=3)}, "/cutter/row_pitch", "row_pitch"),
        ({"cutter": replace(CUTTER, rows=3, row_pitch=1.6)}, "/cutter/row_pitch", "row_pitch"),
        (
            {"cutter": replace(CUTTER, rows=3, row_pitch=1.5, row_taper=0.0625)},
            "/cutter/row_taper",
            "row_taper",
        ),
        (
            {"cutter": replace(CUTTER, tooth=replace(CUTTER.tooth, tip_width=-1.0))},
            "/cutter/tooth/tip_width",
            "out_of_range",
        ),
        (
            {"cutter": replace(CUTTER, tooth=replace(CUTTER.tooth, depth=0.0))},
            "/cutter/tooth/depth",
            "out_of_range",
        ),
        (
            {"cutter": replace(CUTTER, tooth=replace(CUTTER.tooth, flank_angle_upper=90.0))},
            "/cutter/tooth/flank_angle_upper",
            "out_of_range",
        ),
    ],
)
def test_a_value_that_cant_be_used(changes: dict[str, Any], pointer: str, code: str) -> None:
    assert refused(thread_path, replace(EXTERNAL, **changes), BadInput) == [(pointer, code)]


def test_all_faults_come_at_once() -> None:
    faults = refused(thread_path, replace(EXTERNAL, pitch=0.0, side="x", starts=0), BadInput)
    assert [pointer for pointer, _ in faults] == ["/side", "/pitch", "/starts"]


@pytest.mark.parametrize(
    ("job", "pointer", "code"),
    [
        (replace(EXTERNAL, passes=(RadialPass(2.9, 1.0),)), "/passes/0/radius", "crosses_axis"),
        (replace(EXTERNAL, passes=(RadialPass(13.0, 1.0),)), "/passes/0/radius", "cuts_air"),
        (replace(INTERNAL, passes=(RadialPass(0.3, 1.0),)), "/passes/0/radius", "cuts_air"),
        (replace(INTERNAL, blank_diameter=6.1), "/cutter/diameter", "does_not_enter"),
        (replace(EXTERNAL, relief_width=1.18), "/relief_width", "relief_too_narrow"),
        (replace(EXTERNAL, lead_arc_radius=0.2), "/lead_arc_radius", "lead_in_material"),
        (replace(INTERNAL, lead_in="quarter_arc"), "/lead_in", "lead_in_material"),
        (
            replace(INTERNAL, lead_out="quarter_arc", lead_arc_radius=0.55),
            "/lead_arc_radius",
            "lead_in_material",
        ),
        (replace(EXTERNAL, pitch=1e-4, length=20.0), "/length", "too_many_turns"),
        (
            replace(EXTERNAL, chord_tolerance=1e-7, passes=EXTERNAL.passes * 90),
            "/passes",
            "too_many_segments",
        ),
        (replace(EXTERNAL, blunt_start=True, length=1.4), "/length", "too_short_for_blunt_start"),
        (
            replace(
                EXTERNAL,
                blunt_start=True,
                cutter=replace(CUTTER, tooth=replace(CUTTER.tooth, tip_width=0.03)),
            ),
            "/cutter/tooth/tip_width",
            "tip_too_narrow",
        ),
    ],
)
def test_values_that_cant_be_cut_together(job: Helix, pointer: str, code: str) -> None:
    assert (pointer, code) in refused(thread_path, job, Impossible)


def test_the_limits_named_are_the_limits() -> None:
    """What a refusal says to change to, passes."""
    list(thread_path(replace(INTERNAL, blank_diameter=6.2)))
    half = 0.15 / 2 + 0.9 * math.tan(math.radians(30))
    list(thread_path(replace(EXTERNAL, relief_width=2 * half)))
    with pytest.raises(Impossible) as caught:
        thread_path(replace(EXTERNAL, pitch=1e-4, length=20.0))
    (fault,) = caught.value.faults
    assert fault.greatest is not None
    thread_path(replace(EXTERNAL, pitch=1e-4, length=0.9 * fault.greatest))
    assert str(MOST_TURNS) in fault.detail


def test_a_refusal_comes_at_the_call_not_at_the_first_segment() -> None:
    with pytest.raises(BadInput):
        thread_path(replace(EXTERNAL, pitch=0.0))


@pytest.mark.parametrize(
    "changes",
    [
        # the tolerance is for a taper's arcs; without one the pieces are those of greatest_sweep
        {"radial_tolerance": 0.01, "greatest_sweep": 90},
        # a taper whose tolerance asks for less than greatest_sweep does
        {"radial_tolerance": 0.01, "greatest_sweep": 90, "taper": 1 / 32},
        # a radius that grows fast with the turn: a taper of 1 in 16 and a lead of four pitches
        {"radial_tolerance": 1e-5, "taper": 1 / 16, "starts": 4, "length": 60.0},
    ],
)
def test_the_bound_on_segments_holds_with_a_tolerance(changes: dict[str, Any]) -> None:
    job = replace(EXTERNAL, lead_in="radial", lead_out="radial", **changes)
    assert sum(1 for _ in thread_path(job)) <= segments_at_most(job)


def test_the_bound_on_segments_is_close_on_a_long_thread() -> None:
    job = replace(EXTERNAL, length=600.0, passes=EXTERNAL.passes[:1], chord_tolerance=0.05)
    made = sum(1 for _ in thread_path(job))
    assert made <= segments_at_most(job) <= 1.005 * made


@settings(max_examples=80, deadline=None)
@given(helices(rows=None), st.sampled_from([None, 0.01]), st.booleans(), st.booleans())
def test_the_bound_on_segments_holds(
    job: Helix, share: float | None, taper: bool, blunt: bool
) -> None:
    if share is not None:
        job = replace(job, chord_tolerance=share * job.cutter.diameter)
    if taper and job.cutter.rows == 1:
        tolerance = 1e-4 * job.pitch
        job = replace(job, taper=0.02, radial_tolerance=max(2e-7, tolerance), lead_in="radial")
        job = replace(job, lead_out="radial")
    if blunt:
        job = replace(job, blunt_start=True)
    assert sum(1 for _ in thread_path(job)) <= segments_at_most(job)


@pytest.mark.parametrize(
    ("changes", "kind", "pointer", "code"),
    [
        ({"diameter": HUGE}, BadInput, "/diameter", "out_of_range"),
        ({"depth": 0.0}, BadInput, "/depth", "out_of_range"),
        ({"edge_feed": math.nan}, BadInput, "/edge_feed", "out_of_range"),
        ({"width_per_pass": -1.0}, BadInput, "/width_per_pass", "out_of_range"),
        ({"finish_allowance": -1.0}, BadInput, "/finish_allowance", "out_of_range"),
        ({"centre": (0.0, 1e9)}, BadInput, "/centre/1", "out_of_range"),
        ({"milling": "x"}, BadInput, "/milling", "not_a_choice"),
        ({"greatest_sweep": 1}, BadInput, "/greatest_sweep", "not_a_choice"),
        ({"width_per_pass": 20.0}, Impossible, "/width_per_pass", "leaves_material"),
        ({"width_per_pass": 0.001}, Impossible, "/width_per_pass", "too_many"),
    ],
)
@pytest.mark.parametrize(("call", "plain"), [(boss_path, BOSS), (bore_path, BORE)])
def test_a_blank_that_cant_be_milled(
    changes: dict[str, Any], kind: type[Refusal], pointer: str, code: str, call: Any, plain: Any
) -> None:
    assert refused(call, replace(plain, **changes), kind) == [(pointer, code)]


@pytest.mark.parametrize(
    ("job", "pointer", "code"),
    [
        (replace(BOSS, stock_diameter=20.0), "/stock_diameter", "no_stock"),
        (replace(BOSS, depth_per_level=0.001), "/depth", "too_many"),
        (
            replace(BOSS, depth_per_level=0.002, width_per_pass=0.0074),
            "/depth",
            "too_many_segments",
        ),
        (replace(BORE, cutter_diameter=20.0), "/cutter_diameter", "does_not_fit"),
        (replace(BORE, pilot_diameter=20.0), "/pilot_diameter", "no_stock"),
        (replace(BORE, clearance=6.0), "/clearance_height", "too_low"),
        (replace(BORE, greatest_ramp_angle=3.0), "/depth_per_turn", "too_steep"),
        (replace(BORE, chord_tolerance=1e-7, depth_per_turn=0.01), "/depth", "too_many_segments"),
        (replace(BOSS, chord_tolerance=1e-7, depth_per_level=0.01), "/depth", "too_many_segments"),
    ],
)
def test_a_boss_or_hole_that_cant_be_milled(job: Any, pointer: str, code: str) -> None:
    call = boss_path if isinstance(job, Boss) else bore_path
    assert refused(call, job, Impossible) == [(pointer, code)]


@pytest.mark.parametrize(
    ("job", "pointer"),
    [
        (replace(BOSS, motion="ramp"), "/motion"),
        (replace(BOSS, stock_diameter=HUGE), "/stock_diameter"),
        (replace(BOSS, depth_per_level=0.0), "/depth_per_level"),
        (replace(BORE, depth_per_turn=0.0), "/depth_per_turn"),
        (replace(BORE, pilot_diameter=-1.0), "/pilot_diameter"),
        (replace(BORE, greatest_ramp_angle=0.0), "/greatest_ramp_angle"),
    ],
)
def test_a_value_of_one_of_them(job: Any, pointer: str) -> None:
    call = boss_path if isinstance(job, Boss) else bore_path
    assert [at for at, _ in refused(call, job, BadInput)] == [pointer]


def test_the_ramp_told_in_the_refusal_is_allowed() -> None:
    with pytest.raises(Impossible) as caught:
        bore_path(replace(BORE, greatest_ramp_angle=3.0))
    step = caught.value.faults[0].greatest
    assert step is not None
    assert ramp_angle(replace(BORE, depth_per_turn=step)) == pytest.approx(3.0)


def test_the_cap_itself_passes() -> None:
    lengths.refuse_too_many(lengths.MOST_SEGMENTS, "/x")
    with pytest.raises(Impossible):
        lengths.refuse_too_many(lengths.MOST_SEGMENTS + 1, "/x")


@pytest.mark.parametrize(("job", "deeper"), [(INTERNAL, 0.05), (EXTERNAL, -0.05)])
def test_passes_go_deeper_each_time_or_stay(job: Helix, deeper: float) -> None:
    last = job.passes[-1]
    shallow = RadialPass(last.radius - deeper, last.feed)
    shallower = RadialPass(last.radius - 2 * deeper, last.feed)
    for order in ((shallower, shallow, last), (shallow, last, last)):
        assert list(thread_path(replace(job, passes=order)))
    with pytest.raises(Impossible) as told:
        thread_path(replace(job, passes=(shallow, last, shallower, shallow)))
    for index, fault in zip((2, 3), told.value.faults, strict=True):
        wrong = (shallower, shallow)[index - 2].radius
        assert (fault.pointer, fault.code) == (f"/passes/{index}/radius", "pass_backwards")
        assert fault.value == wrong
        assert (fault.least if deeper > 0 else fault.greatest) == last.radius
        assert (fault.greatest if deeper > 0 else fault.least) is None
        assert "from the shallowest to the deepest" in fault.change


@pytest.mark.parametrize("entry", ["half_arc", "quarter_arc"])
@pytest.mark.parametrize("straight", [0.0, 0.05, 0.12])
@pytest.mark.parametrize("job", [INTERNAL, EXTERNAL])
def test_the_lead_arcs_told_are_just_those_that_clear(
    job: Helix, straight: float, entry: Any
) -> None:
    asked = replace(job, lead_in=entry, lead_out=entry, straight_lead=straight)
    if job.side == "internal":  # a small cutter, so that there is room to go wrong
        asked = replace(
            asked,
            cutter=replace(CUTTER, diameter=3.0),
            clearance=0.02,
            passes=(RadialPass(1.9, 120.0), RadialPass(2.0, 120.0)),
        )
    with pytest.raises(Impossible) as told:
        thread_path(replace(asked, lead_arc_radius=1e-3))
    (fault,) = told.value.faults
    assert (fault.pointer, fault.value) == ("/lead_arc_radius", 1e-3)
    assert fault.least is not None
    assert clears(replace(asked, lead_arc_radius=fault.least + 1e-6))
    assert not clears(replace(asked, lead_arc_radius=fault.least - 1e-6))
    if job.side == "external":
        assert fault.greatest is None
        assert clears(replace(asked, lead_arc_radius=100 * fault.least))
    else:
        assert fault.greatest is not None
        assert clears(replace(asked, lead_arc_radius=fault.greatest - 1e-6))
        assert not clears(replace(asked, lead_arc_radius=fault.greatest + 1e-6))


def clears(job: Helix) -> bool:
    try:
        check_helix(job)
    except Impossible as refusal:
        return not any(fault.code == "lead_in_material" for fault in refusal.faults)
    return True


@pytest.mark.parametrize(
    "changes", [{"straight_lead": 2.0}, {"lead_in": "quarter_arc", "lead_out": "quarter_arc"}]
)
def test_no_lead_arc_is_offered_where_none_clears(changes: dict[str, Any]) -> None:
    with pytest.raises(Impossible) as told:
        thread_path(replace(INTERNAL, lead_arc_radius=0.5, **changes))
    (fault,) = told.value.faults
    assert (fault.pointer, fault.least, fault.greatest) == ("/lead_arc_radius", None, None)
    assert "a smaller cutter" in fault.change


@pytest.mark.parametrize(
    ("job", "greatest", "least"), [(INTERNAL, 1.225, None), (EXTERNAL, None, 12.1)]
)
def test_no_pass_is_deeper_than_the_tooth(
    job: Helix, greatest: float | None, least: float | None
) -> None:
    limit = greatest or least or 0.0
    beyond = 1e-6 if greatest else -1e-6
    assert list(thread_path(replace(job, passes=(RadialPass(limit, 120.0),))))
    deep = replace(job, passes=(job.passes[0], RadialPass(limit + beyond, 120.0)))
    with pytest.raises(Impossible) as told:
        thread_path(deep)
    (fault,) = told.value.faults
    assert (fault.pointer, fault.code) == ("/passes/1/radius", "deeper_than_tooth")
    assert fault.value == limit + beyond
    for told_limit, right in ((fault.greatest, greatest), (fault.least, least)):
        assert told_limit == (None if right is None else pytest.approx(right, abs=1e-12))
    assert list(thread_path(deep, body_may_trim=True))


def test_a_taper_hole_is_measured_against_the_tooth_at_its_face() -> None:
    # 10 long at 1:16: the hole is 6.65 at its far end and 7.275 at the face.
    taper = replace(INTERNAL, taper=0.0625, radial_tolerance=0.001, lead_in="radial")
    taper = replace(taper, lead_out="radial")
    greatest = 7.275 / 2 - 3.0 + 0.9
    assert list(thread_path(replace(taper, passes=(RadialPass(greatest - 1e-6, 120.0),))))
    with pytest.raises(Impossible, match="body would mill the crest"):
        thread_path(replace(taper, passes=(RadialPass(greatest + 1e-6, 120.0),)))


def test_a_taper_boss_is_measured_against_the_tooth_at_its_face() -> None:
    # 15 long at 1:16: the boss is 20 at its thick end and 19.0625 at the face.
    taper = replace(EXTERNAL, taper=0.0625, radial_tolerance=0.001, lead_in="radial")
    taper = replace(taper, lead_out="radial")
    least = 19.0625 / 2 + 3.0 - 0.9
    assert list(thread_path(replace(taper, passes=(RadialPass(least + 1e-6, 120.0),))))
    with pytest.raises(Impossible, match="body would mill the crest"):
        thread_path(replace(taper, passes=(RadialPass(least - 1e-6, 120.0),)))


def test_a_pass_that_runs_backwards_is_named_by_its_number() -> None:
    job = replace(EXTERNAL, passes=EXTERNAL.passes[::-1])
    with pytest.raises(Impossible) as caught:
        check_helix(job)
    (fault,) = [one for one in caught.value.faults if one.code == "pass_backwards"]
    assert fault.detail.startswith("pass 2 at radius 12.6 cuts less deep")


def test_places_far_from_zero_are_one_as_far_as_doubles_tell() -> None:
    far = Point(1e5, 0.0, 0.0)
    assert same_place(far, Point(1e5 + 1e-6, 0.0, 0.0), 1e-3)
    assert not same_place(Point(1.0, 0.0, 0.0), Point(1.0 + 1e-6, 0.0, 0.0), 1e-3)
