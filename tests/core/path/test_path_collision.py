"""Clearances of the tool from the stock: by hand, against small steps, and refused."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import BadInput, Collision, Impossible
from flankwise_service.core.path import collision, stretch
from flankwise_service.core.path.blank import boss_path
from flankwise_service.core.path.blank_request import Boss
from flankwise_service.core.path.collision import (
    MILLED,
    closest_approaches,
    distance,
    nearest,
    refuse_collision,
)
from flankwise_service.core.path.lines import place_on
from flankwise_service.core.path.outline import Around, Disc, Hexagon, Move
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.solids import (
    Cylinder,
    Prism,
    Stock,
    stock_prisms,
    tool_stack,
)
from flankwise_service.core.path.stretch import stretches
from flankwise_service.core.path.thread import thread_path
from support.path_jobs import CUTTER, EXTERNAL, INTERNAL

MILL = replace(
    CUTTER, neck_diameter=4.0, reach=24.0, shank_diameter=8.0, overhang=40.0, holder_diameter=25.0
)
coordinate = st.floats(-8, 8)
outlines = st.one_of(
    st.builds(Disc, st.floats(-1, 1), st.just(-0.7), st.floats(1, 6)),
    st.builds(Hexagon, st.floats(-1, 1), st.just(0.3), st.floats(2, 12), st.floats(0, 60)),
    st.just(Around(Disc(0.2, 0, 2.0), Hexagon(0, 0, 8, 10))),
    st.just(Around(Disc(0.2, 0, 2.0), Disc(0, 0, 6))),
    st.just(Around(Disc(0, 0, 3.0))),
)
points = st.builds(Point, coordinate, coordinate, coordinate)


@st.composite
def moves(draw: st.DrawFn) -> Segment:
    begin = draw(points)
    if draw(st.booleans()):
        return Segment("line", "link", begin, draw(points))
    centre = draw(st.sampled_from([(0.0, 0.0), (0.2, 0.0), (2.5, -3.0)]))
    sense = draw(st.sampled_from(["clockwise", "counterclockwise"]))
    sweep = draw(st.sampled_from([90.0, 180.0, 360.0, 37.5]))
    arc = Segment("arc", "link", begin, begin, centre, sense, sweep)
    return arc._replace(end=place_on(arc, 1.0)._replace(z=draw(coordinate)))


@settings(max_examples=80, deadline=None)
@given(
    moves(),
    outlines,
    st.floats(0.2, 3.0),
    st.floats(-2, 1),
    st.sampled_from([0.5, 3.0, math.inf]),
    st.sampled_from([-math.inf, -4.0]),
    st.floats(-1, 1),
)
def test_no_small_step_comes_nearer_than_the_least_clearance(
    segment: Segment,
    outline: Disc | Hexagon | Around,
    radius: float,
    low: float,
    height: float,
    bottom: float,
    top: float,
) -> None:
    tool = Cylinder("neck", low, low + height, radius)
    prism = Prism("boss", bottom, top, outline)
    move = Move(segment)
    found, place = nearest(tool, prism, move)
    assert found == distance(tool, prism, place)
    steps = [distance(tool, prism, move.at(step / 300)) for step in range(301)]
    assert found <= min(steps) + 1e-9
    at = steps.index(min(steps)) / 300
    finer = min(distance(tool, prism, move.at(at + k / 30000)) for k in range(-100, 101))
    assert found >= finer - 2 * move.reach() / 10_000 - 1e-9


@settings(max_examples=60, deadline=None)
@given(moves(), st.floats(2, 12), st.floats(0, 60), st.floats(-1, 1))
def test_hexagon_distance_agrees_with_its_edges(
    segment: Segment, flats: float, angle: float, x: float
) -> None:
    hexagon = Hexagon(x, 0.3, flats, angle)
    corners = hexagon.corners()
    for place in (segment.begin, segment.end):
        edges = zip(corners, (*corners[1:], corners[0]), strict=True)
        plain = min(to_edge(place, one, other) for one, other in edges)
        inside = all(
            (place.x - x) * n[0] + (place.y - 0.3) * n[1] <= flats / 2 for n in hexagon.normals()
        )
        assert hexagon.signed(place.x, place.y) == pytest.approx(
            -plain if inside else plain, abs=1e-9
        )


def to_edge(place: Point, one: tuple[float, float], other: tuple[float, float]) -> float:
    ex, ey = other[0] - one[0], other[1] - one[1]
    share = ((place.x - one[0]) * ex + (place.y - one[1]) * ey) / (ex * ex + ey * ey)
    share = min(1.0, max(0.0, share))
    return math.hypot(place.x - one[0] - share * ex, place.y - one[1] - share * ey)


def by_pair(path: list[Segment], cutter: Cutter, stock: Stock) -> dict[tuple[str, str], float]:
    found = closest_approaches(path, tool_stack(cutter), stock)
    assert [a.clearance for a in found] == sorted(a.clearance for a in found)
    return {(a.tool, a.stock): a.clearance for a in found}


def test_an_external_thread_over_a_hexagon_shoulder_by_hand() -> None:
    path = list(thread_path(EXTERNAL))
    stock = Stock("external", 20.0, 18.0, across_flats=30.0)
    found = by_pair(path, MILL, stock)
    lowest = min(min(s.begin.z, s.end.z) for s in path)
    assert found["neck", "boss"] == pytest.approx(12.3 - 2.0 - 10.0)
    # the teeth's lowest edge is half a tooth under the mid-plane, more than tip_to_tooth here
    half = 0.15 / 2 + 0.9 * math.tan(math.radians(30))
    assert found["teeth", "shoulder"] == pytest.approx(18.0 + lowest - half)
    # the shank, 24 - 0.5 above the mid-plane, passes over the face while over the boss
    assert found["shank", "boss"] == pytest.approx(24.0 - 0.5 + lowest)
    assert found["holder", "boss"] == pytest.approx(40.0 - 0.5 + lowest)
    # going down beside the boss the teeth keep the clearance asked for
    assert found["teeth", "boss"] == pytest.approx(EXTERNAL.clearance)


def test_a_thread_too_deep_for_the_reach_is_refused_with_place_and_parts() -> None:
    path = list(thread_path(EXTERNAL))
    short = replace(MILL, reach=10.0, neck_diameter=5.0)
    found = closest_approaches(path, tool_stack(short), Stock("external", 20.0, 15.2))
    with pytest.raises(Collision) as caught:
        refuse_collision(found, 0.05)
    faults = {(f.code, f.detail.split(" comes")[0]) for f in caught.value.faults}
    assert ("meets_stock", "the shank") in faults
    assert all("segment" in fault.detail for fault in caught.value.faults)
    wanted = [a for a in found if a.clearance < 0.05]
    assert len(caught.value.faults) == len(wanted)
    refuse_collision([a for a in found if a.clearance >= 0.05], 0.05)


def test_near_but_clear_is_told_apart_from_a_collision() -> None:
    near = closest_approaches(
        [Segment("rapid", "link", Point(13.5, 0, 1), Point(13.5, 0, -1))],
        (Cylinder("neck", 0, 5, 3.0),), Stock("external", 20.0),
    )  # fmt: skip
    with pytest.raises(Collision) as caught:
        refuse_collision(near, 1.0)
    (fault,) = caught.value.faults
    assert fault.code == "too_near"
    refuse_collision(near, near[0].clearance)  # as clear as wanted is clear enough
    assert fault.value == pytest.approx(0.5)


def test_a_hole_its_wall_bottom_and_the_holder_over_the_hexagon_face() -> None:
    path = list(thread_path(INTERNAL))
    low = replace(MILL, neck_diameter=4.0, overhang=14.0, reach=12.0)
    stock = Stock("internal", 6.65, 12.0, across_flats=20.0)
    found = by_pair(path, low, stock)
    lowest = min(min(s.begin.z, s.end.z) for s in path)
    assert found["neck", "hole wall"] == pytest.approx(6.65 / 2 - 1.0 - 2.0)
    assert found["holder", "hole wall"] == pytest.approx(14.0 - 0.5 + lowest)
    half = 0.15 / 2 + 0.9 * math.tan(math.radians(30))
    assert found["teeth", "hole bottom"] == pytest.approx(12.0 + lowest - half)


def test_the_holder_clears_a_hexagon_beside_which_it_goes_down() -> None:
    """The holder's edge passes a corner at a distance of the plane only."""
    down = Segment("rapid", "plunge", Point(0.0, 20.0, 5.0), Point(0.0, 20.0, -30.0))
    tool = (Cylinder("holder", 10.0, math.inf, 4.0),)
    flats_along_x = Stock("external", 10.0, 5.0, across_flats=17.320508075688775)
    (_, shoulder) = sorted(closest_approaches([down], tool, flats_along_x), key=lambda a: a.stock)
    assert shoulder.stock == "shoulder"
    assert shoulder.clearance == pytest.approx(20.0 - 10.0 - 4.0)  # the corner stands at y = 10
    turned = replace(flats_along_x, flat_angle=30.0)
    (_, shoulder) = sorted(closest_approaches([down], tool, turned), key=lambda a: a.stock)
    assert shoulder.clearance == pytest.approx(20.0 - 8.660254037844387 - 4.0)


def test_both_gaps_open_on_a_slanting_move() -> None:
    """From (6, 0, 0) to (0, 0, 6) past an edge at x = 2, z = 1: nearest where it is square."""
    slant = Segment("line", "link", Point(7.0, 0.0, 1.0), Point(2.0, 0.0, 6.0))
    tool = (Cylinder("neck", 0.0, 1.0, 1.0),)
    (near,) = closest_approaches([slant], tool, Stock("external", 4.0))
    # the tool's lower edge runs along (x - 1, z) from (6, 1) to (1, 6); from (2, 0): 5 / sqrt(2)
    assert near.clearance == pytest.approx(5 / math.sqrt(2), abs=1e-9)


def test_a_disc_is_round_about_its_own_centre() -> None:
    assert Disc(1.0, -2.0, 3.0).signed(4.0, 2.0) == 2.0
    assert Around(Disc(1.0, -2.0, 3.0)).signed(4.0, 2.0) == -2.0


def test_a_part_that_is_not_given_is_left_out() -> None:
    bare = Cutter(6.0, 3, Tooth(30, 30, 0.15, 0.9))
    assert [part.name for part in tool_stack(bare)] == ["teeth"]
    assert [part.name for part in tool_stack(replace(bare, shank_diameter=6.0))] == [
        "teeth",
        "shank",
    ]
    neck = tool_stack(replace(bare, neck_diameter=4.0))[1]
    assert neck.high == math.inf
    no_reach = tool_stack(replace(bare, neck_diameter=4.0, overhang=30.0, holder_diameter=20.0))
    assert [(part.name, part.high) for part in no_reach[1:]] == [
        ("neck", 30.0),
        ("holder", math.inf),
    ]
    assert tool_stack(replace(bare, holder_diameter=20.0)) == tool_stack(bare)


def test_rows_make_the_teeth_taller() -> None:
    one = tool_stack(CUTTER)[0]
    five = tool_stack(replace(CUTTER, rows=5, row_pitch=1.25))[0]
    assert five.high - one.high == pytest.approx(5.0)
    assert five.low == one.low


@pytest.mark.parametrize(
    ("stock", "names"),
    [
        (Stock("external", 20.0), ["boss"]),
        (Stock("external", 20.0, 15.0), ["boss", "shoulder"]),
        (Stock("internal", 20.0), ["hole wall"]),
        (Stock("internal", 20.0, 15.0, outside_diameter=30.0), ["hole wall", "hole bottom"]),
    ],
)
def test_the_parts_of_the_stock(stock: Stock, names: list[str]) -> None:
    assert [part.name for part in stock_prisms(stock)] == names


def test_beyond_the_outside_of_a_round_bar_there_is_no_wall() -> None:
    beside = Segment("rapid", "link", Point(20.0, 0.0, -5.0), Point(20.0, 0.0, -6.0))
    tool = (Cylinder("teeth", 0.0, 1.0, 2.0),)
    (near,) = closest_approaches([beside], tool, Stock("internal", 10.0, outside_diameter=30.0))
    assert near.clearance == pytest.approx(3.0)
    (near,) = closest_approaches([beside], tool, Stock("internal", 10.0))
    assert near.clearance < 0


def test_the_teeth_are_measured_against_what_they_cut_only_on_free_moves() -> None:
    path = list(thread_path(INTERNAL))
    found = by_pair(path, CUTTER, Stock("internal", 6.65))
    assert found["teeth", "hole wall"] == pytest.approx(6.65 / 2 - 3.0)
    cutting_only = [s for s in path if s.purpose == "thread"]
    assert closest_approaches(cutting_only, tool_stack(CUTTER), Stock("internal", 6.65)) == ()


def test_milling_a_boss_down_to_its_shoulder_is_no_collision_but_a_low_holder_is() -> None:
    boss = Boss(20.0, 15.0, 30 * 2 / math.sqrt(3), 16.0, 600.0, 5.0, 1.0, 5.0)
    stock = Stock("external", 20.0, 15.0, across_flats=30.0)
    mill = (Cylinder("teeth", 0.0, 20.0, 8.0), Cylinder("holder", 40.0, math.inf, 20.0))
    found = closest_approaches(boss_path(boss), mill, stock, MILLED)
    refuse_collision(found)
    low = (mill[0], Cylinder("holder", 14.0, math.inf, 20.0))
    with pytest.raises(Collision):
        refuse_collision(closest_approaches(boss_path(boss), low, stock, MILLED))


def test_the_segment_and_place_named_are_where_it_is() -> None:
    path = list(thread_path(EXTERNAL))
    stock = Stock("external", 20.0, 18.0, across_flats=30.0)
    prisms = {prism.name: prism for prism in stock_prisms(stock)}
    parts = {part.name: part for part in tool_stack(MILL)}
    for near in closest_approaches(path, tool_stack(MILL), stock):
        again = distance(parts[near.tool], prisms[near.stock], near.place)
        assert again == pytest.approx(near.clearance, abs=1e-12)
        segment = path[near.segment]
        assert min(segment.begin.z, segment.end.z) - 1e-9 <= near.place.z
        assert near.place.z <= max(segment.begin.z, segment.end.z) + 1e-9


@pytest.mark.parametrize("name", ["diameter", "reach", "shank_diameter", "overhang", "row_pitch"])
@pytest.mark.parametrize("value", [0.0, math.nan, 10**400])
def test_a_cutter_that_cant_be_is_refused(name: str, value: float) -> None:
    with pytest.raises(BadInput) as caught:
        tool_stack(replace(MILL, **{name: value}))
    assert [f.pointer for f in caught.value.faults] == [f"/cutter/{name}"]


def test_flank_angles_up_to_80_degrees_are_taken() -> None:
    tool_stack(replace(MILL, tooth=Tooth(80.0, 79.5, 0.1, 0.1)))
    with pytest.raises(BadInput):
        tool_stack(replace(MILL, tooth=Tooth(80.5, 30.0, 0.1, 0.1)))


def test_all_faults_of_a_cutter_come_at_once() -> None:
    tooth = Tooth(81.0, -1.0, -1.0, -1.0)
    with pytest.raises(BadInput) as caught:
        tool_stack(replace(MILL, tooth=tooth, rows=0, tip_to_tooth=-1.0, neck_diameter=-1.0))
    assert [f.pointer.removeprefix("/cutter/") for f in caught.value.faults] == [
        "tip_to_tooth", "neck_diameter", "rows", "tooth/tip_width", "tooth/depth",
        "tooth/flank_angle_upper", "tooth/flank_angle_lower",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("stock", "pointer"),
    [
        (Stock("inside", 20.0), "/stock/side"),  # type: ignore[arg-type]
        (Stock("external", 0.0), "/stock/diameter"),
        (Stock("external", 20.0, -1.0), "/stock/depth"),
        (Stock("external", 20.0, 5.0, across_flats=math.nan), "/stock/across_flats"),
        (Stock("external", 20.0, 5.0, outside_diameter=1e308), "/stock/outside_diameter"),
        (Stock("external", 20.0, flat_angle=1e9), "/stock/flat_angle"),
        (Stock("external", 20.0, centre=(0.0, -1e9)), "/stock/centre/1"),
    ],
)
def test_stock_that_cant_be_is_refused(stock: Stock, pointer: str) -> None:
    with pytest.raises(BadInput) as caught:
        stock_prisms(stock)
    assert [f.pointer for f in caught.value.faults] == [pointer]


@pytest.mark.parametrize("outside", [{"across_flats": 20.0}, {"outside_diameter": 19.0}])
def test_a_hole_as_wide_as_the_bar_is_refused(outside: dict[str, float]) -> None:
    with pytest.raises(Impossible) as caught:
        stock_prisms(Stock("internal", 20.0, **outside))  # type: ignore[arg-type]
    assert [f.code for f in caught.value.faults] == ["no_wall"]


def test_an_arc_of_no_radius_is_a_move_along_z() -> None:
    arc = Segment("arc", "link", Point(6, 0, 5), Point(6, 0, -5), (6.0, 0.0), "clockwise", 360.0)
    tool = (Cylinder("neck", 0.0, 1.0, 1.0),)
    (near,) = closest_approaches([arc], tool, Stock("external", 4.0))
    assert near.clearance == pytest.approx(3.0)


def test_the_holder_round_a_hexagon_by_many_moves_against_small_steps() -> None:
    """Rapids and arcs beside and over a hexagon: the least over all, and which move it is on."""
    corners = [(24.0, -20.0, 2.0), (24.0, 20.0, -1.0), (19.0, 21.0, -3.0), (-18.0, 19.0, -4.0)]
    places = [Point(*corner) for corner in corners]
    path = [Segment("rapid", "link", one, other) for one, other in pairwise(places)]
    arc = Segment(
        "arc", "link", places[-1], places[-1], (-20.0, 5.0), "counterclockwise", 200.0
    )  # fmt: skip
    path.append(arc._replace(end=place_on(arc, 1.0)))
    path += path  # once more the same way comes no nearer
    tool = (Cylinder("holder", 1.0, math.inf, 6.0), Cylinder("neck", -5.0, 1.0, 2.0))
    for angle in (0.0, 11.0, 30.0):
        stock = Stock("external", 10.0, 5.0, across_flats=24.0, flat_angle=angle)
        prisms = stock_prisms(stock)
        for near in closest_approaches(path, tool, stock):
            part = next(one for one in tool if one.name == near.tool)
            prism = next(one for one in prisms if one.name == near.stock)
            steps = [
                (distance(part, prism, place_on(s, k / 500)), n)
                for n, s in enumerate(path)
                for k in range(501)
            ]
            least = min(steps)[0]
            assert least - 0.05 <= near.clearance <= least + 1e-12
            assert distance(part, prism, near.place) == pytest.approx(near.clearance, abs=1e-12)
            on_it = min(
                distance(part, prism, place_on(path[near.segment], k / 500)) for k in range(501)
            )
            assert on_it - near.clearance < 0.05


def test_a_stretch_knows_the_segment_at_a_height() -> None:
    thread = [s for s in thread_path(EXTERNAL) if s.purpose == "thread" and s.radial_pass == 1]
    (held,) = stretches(thread, EXTERNAL.centre)
    assert (held.near, held.far) == (12.6, 12.6)
    assert (held.low, held.high) == (thread[-1].end.z, thread[0].begin.z)
    for z in (held.low, -7.0, held.high):
        index, place = held.at_height(z)
        assert place.z == pytest.approx(z)
        assert (
            math.dist(
                place_on(thread[index], (z - thread[index].begin.z) / thread[index].rise), place
            )
            == 0
        )
    level = Segment("rapid", "link", Point(0, 0, 1.0), Point(5, 0, 1.0))
    (held,) = stretches([level], (0.0, 0.0))
    assert held.at_height(1.0) == (0, level.begin)
    assert held.at_height(2.0) == (0, level.begin)


def test_a_run_too_long_to_be_searched_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stretch, "MOST_SEARCHED", 3)
    with pytest.raises(Impossible) as caught:
        closest_approaches(thread_path(EXTERNAL), tool_stack(MILL), Stock("external", 20.0))
    assert caught.value.faults[0].code == "too_many_segments"


def test_a_path_of_too_many_pieces_is_refused_and_a_long_run_of_arcs_is_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(collision, "MOST_STRETCHES", 40)
    stock = Stock("external", 20.0)
    closest_approaches(thread_path(EXTERNAL), tool_stack(MILL), stock)
    lines = thread_path(replace(EXTERNAL, chord_tolerance=0.5))
    with pytest.raises(Impossible) as caught:
        closest_approaches(lines, tool_stack(MILL), stock)
    (fault,) = caught.value.faults
    assert (fault.code, fault.greatest) == ("too_many_segments", 40)


def test_a_slim_neck_beside_a_small_hexagon_shoulder_over_the_whole_thread() -> None:
    """The corners pass under the neck once a turn: each move of the run is searched, or let go."""
    path = list(thread_path(replace(EXTERNAL, passes=EXTERNAL.passes[-1:], greatest_sweep=90)))
    tool = (Cylinder("neck", -0.6, 30.0, 1.0),)
    stock = Stock("external", 20.0, 15.3, across_flats=21.5, flat_angle=7.0)
    (_, shoulder) = stock_prisms(stock)
    near = {a.stock: a for a in closest_approaches(path, tool, stock)}["shoulder"]
    least = min(distance(tool[0], shoulder, place_on(s, k / 400)) for s in path for k in range(401))
    assert least - 0.01 <= near.clearance <= least + 1e-12
    assert path[near.segment].purpose == "thread"


def test_a_move_whose_two_gaps_are_less_but_not_its_distance_is_not_the_nearest() -> None:
    """0.9 aside and 0.9 above are 1.27 away: farther than 1.0 aside, level with the boss."""
    beside = Segment("rapid", "plunge", Point(13.0, 0.0, 5.0), Point(13.0, 0.0, -9.0))
    over = Segment("rapid", "retract", Point(12.9, 0.0, 0.9), Point(12.9, 0.0, 9.0))
    tool = (Cylinder("teeth", 0.0, 1.0, 2.0),)
    found = closest_approaches([beside, over], tool, Stock("external", 20.0))
    assert [(near.clearance, near.segment) for near in found] == [(1.0, 0)]
