"""The boss turned round and the hole bored: sizes, depth, feed, and where they begin and end."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.feed import centre_feed
from flankwise_service.core.path.blank import bore_path, boss_path
from flankwise_service.core.path.blank_request import Bore, Boss, bore_radii, boss_radii
from flankwise_service.core.path.lines import arc_radius, place_on
from flankwise_service.core.path.segment import Segment

ACROSS_CORNERS = 30.0 * 2 / math.sqrt(3)
BOSS = Boss(20.0, 15.0, ACROSS_CORNERS, 6.0, 600.0, 5.0, 1.0, 5.0)
BORE = Bore(40.0, 10.0, 12.0, 600.0, 2.5, 1.0, 5.0)

bosses = st.builds(
    Boss,
    diameter=st.floats(2, 50),
    depth=st.floats(0.5, 30),
    stock_diameter=st.floats(55, 90),
    cutter_diameter=st.floats(1, 30),
    edge_feed=st.floats(1, 1000),
    depth_per_level=st.floats(0.5, 10),
    clearance=st.floats(0.1, 3),
    clearance_height=st.floats(0.5, 10),
    motion=st.sampled_from(["helical", "level"]),
    milling=st.sampled_from(["climb", "conventional"]),
    finish_allowance=st.sampled_from([0.0, 0.3]),
    centre=st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
    greatest_sweep=st.sampled_from([90, 180, 360]),
    plunge_feed=st.sampled_from([None, 100.0]),
)
bores = st.builds(
    Bore,
    diameter=st.floats(32, 80),
    depth=st.floats(0.5, 30),
    cutter_diameter=st.floats(2, 30),
    edge_feed=st.floats(1, 1000),
    depth_per_turn=st.floats(0.5, 5),
    clearance=st.floats(0.1, 0.5),
    clearance_height=st.floats(0.5, 10),
    pilot_diameter=st.sampled_from([0.0, 3.0, 29.0]),
    milling=st.sampled_from(["climb", "conventional"]),
    finish_allowance=st.sampled_from([0.0, 0.3]),
    centre=st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
    greatest_sweep=st.sampled_from([90, 180, 360]),
    plunge_feed=st.sampled_from([None, 100.0]),
)
few = settings(max_examples=60, deadline=None)


def off(job: Boss | Bore, place: tuple[float, ...]) -> float:
    return math.hypot(place[0] - job.centre[0], place[1] - job.centre[1])


def joined(path: list[Segment]) -> bool:
    return all(math.dist(a.end, b.begin) < 1e-9 for a, b in pairwise(path))


@few
@given(bosses)
def test_a_boss_ends_at_its_size_and_depth_and_free_moves_stay_outside(job: Boss) -> None:
    path = list(boss_path(job))
    assert joined(path)
    assert path[0].begin.z == path[-1].end.z == job.clearance_height
    around = [s for s in path if s.purpose == "boss"]
    cutter = job.cutter_diameter / 2
    assert min(off(job, s.end) for s in around) - cutter == pytest.approx(job.diameter / 2)
    assert min(s.end.z for s in path) == -job.depth
    clear = job.stock_diameter / 2 + cutter + job.clearance
    for s in path:
        if s.purpose in ("plunge", "link", "retract"):
            for step in range(5):
                place = place_on(s, step / 4)
                over = place.z >= job.clearance_height - 1e-9
                assert off(job, place) >= clear - 1e-8 or over
            assert (s.kind == "rapid") == (s.purpose != "plunge" or job.plunge_feed is None)
        if s.kind == "arc":
            assert s.sweep <= job.greatest_sweep * (1 + 1e-9)
    senses = {s.sense for s in around}
    assert senses == {"clockwise" if job.milling == "climb" else "counterclockwise"}


def test_a_boss_is_begun_and_left_on_the_x_side_of_its_own_centre() -> None:
    path = list(boss_path(replace(BOSS, centre=(30.0, -7.0))))
    out = ACROSS_CORNERS / 2 + 3.0 + 1.0
    for place in (path[0].begin, path[-1].end):
        assert (place.x, place.y) == pytest.approx((30.0 + out, -7.0))


@few
@given(bores)
def test_a_hole_ends_at_its_size_and_depth_and_free_moves_stay_on_the_axis(job: Bore) -> None:
    path = list(bore_path(job))
    assert joined(path)
    assert path[0].begin.z == path[-1].end.z == job.clearance_height
    around = [s for s in path if s.purpose == "bore"]
    cutter = job.cutter_diameter / 2
    assert max(off(job, s.end) for s in around) + cutter == pytest.approx(job.diameter / 2)
    assert min(s.end.z for s in path) == pytest.approx(-job.depth)
    assert all(
        off(job, place) == 0
        for s in path
        if s.purpose in ("plunge", "link", "retract")
        for place in (s.begin, s.end)
    )
    # no post: each round reaches the axis, or the edge of the one before
    inner = job.pilot_diameter / 2
    for edge in bore_radii(job):
        assert edge - 2 * cutter <= inner + 1e-9
        inner = edge
    senses = {s.sense for s in around}
    assert senses == {"counterclockwise" if job.milling == "climb" else "clockwise"}


@few
@given(bosses)
def test_no_round_goes_deeper_or_wider_than_asked(job: Boss) -> None:
    radii = (job.stock_diameter / 2, *boss_radii(job))
    widths = [before - after for before, after in pairwise(radii)]
    assert max(widths) <= job.cutter_diameter / 2 + 1e-9
    assert min(widths) > 0
    for s in boss_path(job):
        if s.purpose == "boss" and s.rise:
            assert -s.rise * 360 / s.sweep <= job.depth_per_level + 1e-9
    if job.motion == "level" and not job.finish_allowance:
        depths = sorted({round(s.end.z, 9) for s in boss_path(job) if s.purpose == "boss"})
        steps = [b - a for a, b in pairwise([*depths, 0.0])]
        assert max(steps) <= job.depth_per_level + 1e-8


def test_each_blank_ends_with_a_level_turn_at_the_bottom() -> None:
    for path, depth in ((boss_path(BOSS), 15.0), (bore_path(BORE), 10.0)):
        around = [s for s in path if s.purpose in ("boss", "bore")]
        for number in {s.radial_pass for s in around}:
            level = [s for s in around if s.radial_pass == number and s.rise == 0]
            assert sum(s.sweep for s in level) == 360
            assert {s.end.z for s in level} == {-depth}


def test_level_motion_drops_straight_down_between_depths() -> None:
    path = list(boss_path(replace(BOSS, motion="level", width_per_pass=6.0)))
    assert {s.rise for s in path if s.purpose == "boss"} == {0}
    plunges = [s for s in path if s.purpose == "plunge"]
    first_round = [s for s in plunges if math.dist(s.begin[:2], plunges[0].begin[:2]) < 1e-9]
    assert [s.end.z for s in first_round][:3] == [-5.0, -10.0, -15.0]
    assert all(math.dist(s.begin[:2], s.end[:2]) < 1e-12 for s in plunges)


def test_the_finish_is_one_level_round_at_full_depth() -> None:
    path = list(boss_path(replace(BOSS, finish_allowance=0.2)))
    last = [s for s in path if s.radial_pass == 4 and s.purpose == "boss"]
    assert [(s.sweep, s.end.z) for s in last] == [(360.0, -15.0)]
    assert boss_radii(BOSS)[-1] == 10.0
    assert bore_radii(replace(BORE, finish_allowance=0.2))[-2:] == (19.8, 20.0)


def test_every_round_has_its_own_feed_at_the_centre() -> None:
    for s in boss_path(BOSS):
        if s.purpose == "boss":
            cut = 2 * (arc_radius(s) - 3.0)
            assert s.feed == pytest.approx(centre_feed(600.0, cut, 6.0, "external"))
            assert s.feed > 600
    for s in bore_path(BORE):
        if s.purpose == "bore":
            cut = 2 * (arc_radius(s) + 6.0)
            assert s.feed == pytest.approx(centre_feed(600.0, cut, 12.0, "internal"))
            assert s.feed < 600


def test_straight_lines_on_request() -> None:
    path = list(boss_path(replace(BOSS, chord_tolerance=0.01)))
    assert {s.kind for s in path} == {"line", "rapid"}
    assert joined(path)
    radii = [
        off(BOSS, place_on(s, 0.5)) for s in path if s.purpose == "boss" and s.radial_pass == 3
    ]
    assert 13.0 - 0.01 <= min(radii) <= max(radii) <= 13.0
    assert len(list(bore_path(replace(BORE, chord_tolerance=0.01)))) > 100


def test_a_pilot_hole_starts_the_rounds_at_its_edge() -> None:
    assert bore_radii(replace(BORE, pilot_diameter=30.0)) == pytest.approx((20.0,))
    assert bore_radii(replace(BORE, pilot_diameter=26.0))[0] == pytest.approx(19.0)
    assert bore_radii(replace(BORE, pilot_diameter=2.0))[0] == pytest.approx(7.5)
    assert bore_radii(replace(BORE, diameter=20.0)) == pytest.approx((10.0,))


def test_a_hole_that_is_there_is_opened_however_small() -> None:
    """In solid the first circle is 1.9 radii of the mill; in a hole at least 1.25, or one width."""
    bore = Bore(4.0, 3.0, 1.0, 100.0, 0.1, 0.5, 2.0)
    assert bore_radii(bore)[0] == pytest.approx(0.95)
    assert bore_radii(replace(bore, pilot_diameter=0.5))[0] == pytest.approx(0.75)
    assert bore_radii(replace(bore, pilot_diameter=0.2))[0] == pytest.approx(0.625)
