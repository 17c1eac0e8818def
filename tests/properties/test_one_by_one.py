"""Properties of the small functions that whole jobs use, each held against another way to say it.

`python tests/properties/reached.py` tells which functions of core no property test runs.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.cutting.engagement import engagement_straight
from flankwise_service.core.cutting.passes import groove_area, passes_for_area
from flankwise_service.core.cutting.speed import spindle_speed, surface_speed, surface_unit
from flankwise_service.core.cutting.time import piece_length
from flankwise_service.core.cutting.tooth import flank_slope, width_at
from flankwise_service.core.drawing.scene import Scene
from flankwise_service.core.errors import BadInput, Collision, Fault, Faults, Impossible
from flankwise_service.core.path.collision import Approach, refuse_collision
from flankwise_service.core.path.facts import checked_facts, helix_facts
from flankwise_service.core.path.gouge import refuse_gouge
from flankwise_service.core.path.lines import place_on
from flankwise_service.core.path.outline import Around, Disc, Hexagon, Move
from flankwise_service.core.path.reach import arc_radius_limits
from flankwise_service.core.path.request import Helix
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.path.totals import segment_length
from flankwise_service.core.plan.common import placed
from flankwise_service.core.program.moves import Arc, length_of
from flankwise_service.core.stock.blank import is_inside
from flankwise_service.core.stock.choice import round_for_hexagon
from flankwise_service.core.stock.hexagon import (
    MEASURES,
    across_corners,
    across_flats,
    hexagon,
    hexagon_from,
    wall_to_bore,
)
from support.path_jobs import helices

QUICK = settings(deadline=None, max_examples=60)
sizes = st.floats(0.5, 200.0)
angles = st.floats(0.0, 45.0)
near = st.floats(-30.0, 30.0)
places = st.builds(Point, near, near, near)


# -- cutting


@QUICK
@given(sizes, st.floats(0.0, 1.0))
def test_engagement_of_a_straight_cut_leaves_the_depth(diameter: float, share: float) -> None:
    angle_rad = math.radians(engagement_straight(diameter, share * diameter))
    assert diameter / 2 * (1 - math.cos(angle_rad)) == pytest.approx(
        share * diameter, abs=1e-12 * diameter
    )


@QUICK
@given(st.floats(0.05, 5.0), st.floats(0.02, 1.0), st.floats(0.0, 1.0), angles, angles)
def test_passes_for_an_area_are_the_fewest(
    depth: float, share: float, tip: float, upper: float, lower: float
) -> None:
    assume(tip + upper + lower > 0.01)
    area = groove_area(depth, tip, upper, lower)
    count = passes_for_area(depth, share * area, tip, upper, lower)
    assert area / count <= share * area * (1 + 1e-6)
    assert count == 1 or area / (count - 1) > share * area


@QUICK
@given(sizes, st.floats(10.0, 20_000.0), st.sampled_from(["in", "mm"]))
def test_surface_speed_gives_back_the_speed(diameter: float, rpm: float, unit: str) -> None:
    said = surface_speed(rpm, diameter, unit)  # type: ignore[arg-type]
    assume(1.0 < said < 10_000.0)
    assert spindle_speed(said, diameter, unit).speed == pytest.approx(rpm, rel=1e-9)  # type: ignore[arg-type]
    assert surface_unit(unit).startswith("ft" if unit == "in" else "m/")  # type: ignore[arg-type]


@QUICK
@given(st.floats(0.0, 1.0), st.floats(0.1, 5.0), angles, angles, st.floats(-1.0, 7.0))
def test_a_tooth_widens_evenly_from_its_tip_to_its_depth(
    tip: float, deep: float, upper: float, lower: float, depth: float
) -> None:
    tooth = Tooth(upper, lower, tip, deep)
    wide = width_at(tooth, depth)
    assert width_at(tooth, 0.0) == tip <= wide <= width_at(tooth, deep) == width_at(tooth, 9.0)
    if 0 <= depth <= deep:
        assert wide - tip == pytest.approx(depth * flank_slope(tooth))
    # the area of the groove is the integral of its width: exact by the trapezium
    assert groove_area(deep, tip, upper, lower) == pytest.approx(
        deep * (tip + width_at(tooth, deep)) / 2
    )


# -- stock


@QUICK
@given(sizes, st.floats(0.0, 5.0))
def test_across_flats_and_corners_undo_each_other(size: float, allowance: float) -> None:
    assert across_flats(across_corners(size)) == pytest.approx(size, rel=1e-14)
    corner = complex(across_corners(size) / 2)  # turned a sixth of a turn: the next corner
    turned = corner * complex(0.5, math.sqrt(0.75))
    assert abs(corner + turned) / 2 == pytest.approx(size / 2)  # the middle of a flat
    assert round_for_hexagon(size, allowance) == pytest.approx(2 * abs(corner) + 2 * allowance)


@QUICK
@given(st.sampled_from(MEASURES), sizes, st.sampled_from(MEASURES))
def test_a_hexagon_is_told_by_exactly_one_measure(first: str, size: float, second: str) -> None:
    assert hexagon_from(**{first: size}) == hexagon(first, size)  # type: ignore[arg-type]
    for given_ in ({}, {first: size, second: size} if first != second else {}):
        with pytest.raises(BadInput):
            hexagon_from(**given_)


@QUICK
@given(sizes, st.floats(0.0, 1.5), sizes, sizes)
def test_walls_and_limits(minor: float, share: float, low: float, high: float) -> None:
    bore = share * minor
    assert bore + 2 * wall_to_bore(minor, bore) == pytest.approx(minor)
    least, greatest = sorted((low, high))
    assert is_inside(minor, least, greatest) == (sorted((least, minor, greatest))[1] == minor)


@QUICK
@given(sizes, sizes, st.floats(0.0, 0.1), st.sampled_from(["external", "internal"]))
def test_the_far_end_of_a_taper(diameter: float, length: float, taper: float, side: str) -> None:
    scene = Scene("mm", side, diameter, length, taper=taper)  # type: ignore[arg-type]
    grown = scene.far_diameter - diameter if side == "external" else diameter - scene.far_diameter
    assert grown == pytest.approx(taper * length, abs=1e-9)


# -- refusals


@QUICK
@given(st.lists(st.tuples(st.sampled_from(["/a", "/b/0"]), st.sampled_from(["", "/c"]))))
def test_what_is_taken_of_refusals_keeps_order_and_place(told: list[tuple[str, str]]) -> None:
    faults = Faults()
    for pointer, prefix in told:
        faults.take(BadInput(Fault(pointer, "code", "detail", "change")), prefix)
    assert [fault.pointer for fault in faults.found] == [under + at for at, under in told]


@QUICK
@given(st.sampled_from(["/wire", "/wire/0", "/lead_in", "/blank_diameter", "/nothing"]))
def test_a_refusal_is_placed_where_a_job_has_the_value(pointer: str) -> None:
    refusal = Impossible(Fault(pointer, "code", "detail", "change"))
    (found,) = placed(refusal, {"/wire": "/gauging/wire_diameter"}, "/cutting").faults
    wire = pointer.startswith("/wire")
    assert found.pointer.startswith("/gauging/wire_diameter" if wire else "/cutting")
    assert found.pointer != "/cutting/nothing"


@QUICK
@given(st.lists(st.floats(-5.0, 5.0), max_size=6), st.floats(-1.0, 2.0))
def test_every_part_too_near_is_told_and_no_other(gaps: list[float], least: float) -> None:
    found = [
        Approach(gap, "shank", "shoulder", n, Point(gap, 0.0, 0.0)) for n, gap in enumerate(gaps)
    ]
    near_ones = [gap for gap in gaps if gap < least]
    if not near_ones:
        refuse_collision(found, least)
        return
    with pytest.raises(Collision) as caught:
        refuse_collision(found, least)
    assert [fault.value for fault in caught.value.faults] == near_ones
    codes = ["too_near" if gap >= 0 else "meets_stock" for gap in near_ones]
    assert [fault.code for fault in caught.value.faults] == codes


# -- paths


@QUICK
@given(places, places, near, near, st.floats(1.0, 360.0), st.booleans())
def test_a_segments_length_is_that_of_many_short_chords(
    begin: Point, end: Point, x: float, y: float, sweep: float, clockwise: bool
) -> None:
    sense = "clockwise" if clockwise else "counterclockwise"
    arc = Segment("arc", "thread", begin, end, (x, y), sense, sweep)  # type: ignore[arg-type]
    arc = arc._replace(end=place_on(arc, 1.0)._replace(z=end.z))
    line = Segment("line", "thread", begin, end)
    for segment in (arc, line):
        spots = [place_on(segment, n / 2000) for n in range(2001)]
        chords = sum(map(math.dist, spots, spots[1:]))
        assert segment_length(segment) == pytest.approx(chords, rel=1e-5, abs=1e-9)
        assert piece_length(segment) == pytest.approx(segment_length(segment), abs=1e-12)
    read = Arc((x, y), sense, sweep)  # type: ignore[arg-type]
    assert length_of(begin, arc.end, read, (0, 1, 2)) == pytest.approx(segment_length(arc))
    assert length_of(begin, end, None, (0, 1, 2)) == pytest.approx(segment_length(line))


@QUICK
@given(helices(), st.sampled_from(["half_arc", "quarter_arc"]))
def test_a_lead_arc_within_its_limits_begins_clear_and_one_outside_does_not(
    job: Helix, entry: str
) -> None:
    radius = job.passes[-1].radius
    least, greatest = arc_radius_limits(job, entry, radius)  # type: ignore[arg-type]
    assume(least < greatest)
    out = 1.0 if job.side == "external" else -1.0
    blank, cutter = job.blank_diameter / 2, job.cutter.diameter / 2
    clear = blank + out * (cutter + job.clearance)  # where the cutter's axis is clear

    def beyond(arc: float) -> float:
        """Return how far outside `clear` a lead with this arc begins, along the way out."""
        side = 2 * arc if entry == "half_arc" else arc
        across = job.straight_lead if entry == "half_arc" else arc
        along = side + (job.straight_lead if entry == "quarter_arc" else 0.0)
        return out * (math.hypot(radius + out * along, across) - clear)

    room = 1e-9 * cutter
    assert beyond(least) >= -room
    if math.isfinite(greatest):
        assert beyond(greatest) >= -room
    # with a straight piece before it the arc may be smaller than told, which is no harm
    assert job.straight_lead > 0 or beyond(0.99 * least) < room


@QUICK
@given(helices())
def test_facts_are_those_of_a_path_that_can_be_made(job: Helix) -> None:
    facts = helix_facts(job)
    assert facts == checked_facts(job)
    refuse_gouge(job)
    rising = {s.end.z > s.begin.z for s in thread_path(job) if s.purpose == "thread"}
    assert rising == {facts.motion == "upward"}


outlines = st.one_of(
    st.builds(Disc, near, near, st.floats(0.5, 20.0)),
    st.builds(Hexagon, near, near, st.floats(1.0, 40.0), st.floats(0.0, 60.0)),
    st.builds(
        lambda x, y, r, more: Around(Disc(x, y, r), Hexagon(x, y, 2 * r + more, 15.0)),
        near, near, st.floats(0.5, 10.0), st.floats(0.5, 9.0),
    ),
)  # fmt: skip


@QUICK
@given(outlines, near, near, near, near)
def test_distance_from_an_outline_never_changes_faster_than_the_place(
    outline: Disc | Hexagon | Around, x: float, y: float, by_x: float, by_y: float
) -> None:
    """A distance can't; and it lies within its bounds for places that far from the centre."""
    here, there = outline.signed(x, y), outline.signed(x + by_x, y + by_y)
    assert abs(there - here) <= math.hypot(by_x, by_y) * (1 + 1e-9) + 1e-9
    inner = outline.hole if isinstance(outline, Around) else outline
    far = math.hypot(x - inner.x, y - inner.y)
    least, greatest = outline.bounds(far, far)
    assert least - 1e-9 <= here <= greatest + 1e-9


@QUICK
@given(outlines, places, places, near, near, st.floats(1.0, 360.0), st.booleans())
def test_between_its_marks_the_distance_rises_or_falls_all_the_way(
    outline: Disc | Hexagon | Around,
    begin: Point,
    end: Point,
    x: float,
    y: float,
    sweep: float,
    is_arc: bool,
) -> None:
    segment = Segment("line", "thread", begin, end)
    if is_arc:
        segment = Segment("arc", "thread", begin, end, (x, y), "clockwise", sweep)
    move = Move(segment)
    marks = sorted({0.0, 1.0, *(mark for mark in outline.marks(move) if 0 < mark < 1)})
    scale = max(1.0, segment_length(segment))
    for low, high in pairwise(marks):
        spots = [move.at(low + (high - low) * n / 8) for n in range(9)]
        found = [outline.signed(spot.x, spot.y) for spot in spots]
        steps = [b - a for a, b in pairwise(found)]
        assert min(steps) >= -1e-7 * scale or max(steps) <= 1e-7 * scale
