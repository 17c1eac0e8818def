"""Facts of every thread path, over side, hand, milling, starts, rows, entries, sweep and unit."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import fields, replace
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.path.direction import advance, direction, turn
from flankwise_service.core.path.lines import arc_radius, place_on
from flankwise_service.core.path.request import Helix, RadialPass, tooth_half_width
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.path.totals import totals
from support.path_jobs import from_axis, helices

few = settings(max_examples=30, deadline=None)


def near(one: float, other: float, scale: float = 1.0) -> bool:
    return abs(one - other) <= 1e-9 * max(1.0, scale)


@few
@given(helices(rows=None))
def test_segments_join_and_the_path_begins_and_ends_at_the_clearance_height(job: Helix) -> None:
    path = list(thread_path(job))
    for one, following in pairwise(path):
        assert math.dist(one.end, following.begin) <= 1e-9
        assert one.begin != one.end or one.sweep == 360
    clear = job.clearance_height + job.cutter.tip_to_tooth
    assert near(path[0].begin.z, clear)
    assert near(path[-1].end.z, clear)


@few
@given(helices(rows=None))
def test_every_arc_of_the_thread_keeps_lead_radius_and_sweep(job: Helix) -> None:
    sense, motion = direction(job.side, job.hand, job.milling)
    for segment in thread_path(job):
        if segment.kind == "arc":
            assert 0 < segment.sweep <= job.greatest_sweep * (1 + 1e-9)
        if segment.purpose != "thread":
            continue
        assert segment.kind == "arc"
        assert segment.sense == sense
        rise = advance(job.hand) * turn(sense) * job.lead * segment.sweep / 360
        assert near(segment.rise, rise, job.lead)
        assert (segment.rise > 0) == (motion == "upward")
        radius = job.passes[segment.radial_pass - 1].radius
        assert segment.centre == job.centre
        assert near(from_axis(job, segment.begin), radius, 100)
        assert near(from_axis(job, segment.end), radius, 100)
        assert math.dist(place_on(segment, 1.0), segment.end) < 1e-8


@few
@given(helices())
def test_every_place_of_the_thread_lies_on_the_groove_of_its_start(job: Helix) -> None:
    for segment in thread_path(job):
        if segment.purpose != "thread":
            continue
        dx, dy = segment.end.x - job.centre[0], segment.end.y - job.centre[1]
        angle = math.degrees(math.atan2(dy, dx))
        groove = job.start_angle + 360 * (segment.start - 1) / job.starts
        groove += advance(job.hand) * 360 * segment.end.z / job.lead
        assert abs(math.remainder(angle - groove, 360)) < 1e-4


@few
@given(helices(rows=None))
def test_free_motion_and_both_ends_of_each_lead_are_outside_the_blank(job: Helix) -> None:
    out = 1.0 if job.side == "external" else -1.0
    cutter_radius, blank_radius = job.cutter.diameter / 2, job.blank_diameter / 2
    clear = job.clearance_height + job.cutter.tip_to_tooth

    def gap(place: Point) -> float:
        return out * (from_axis(job, place) - blank_radius) - cutter_radius

    before = None
    for segment in thread_path(job):
        if segment.purpose == "lead_in" and before != "lead_in":
            assert gap(segment.begin) >= job.clearance - 1e-8
        if before == "lead_out" and segment.purpose != "lead_out":
            assert gap(segment.begin) >= job.clearance - 1e-8
        before = segment.purpose
        if segment.purpose in ("plunge", "approach", "link", "retract"):
            for step in range(9):
                place = place_on(segment, step / 8)
                assert gap(place) >= job.clearance - 1e-8 or place.z >= clear - 1e-9


@few
@given(helices())
def test_leads_are_tangent_and_keep_the_slope_of_the_thread(job: Helix) -> None:
    path = [s for s in thread_path(job) if s.purpose in ("lead_in", "thread", "lead_out")]
    for one, following in pairwise(path):
        kinds = {one.purpose, following.purpose}
        if len(kinds) == 1 or kinds == {"lead_in", "lead_out"}:
            continue
        lead = one if one.purpose == "lead_in" else following
        thread = following if lead is one else one
        if lead.kind == "line":
            assert lead.rise == 0
            continue
        slopes = [s.rise / (arc_radius(s) * math.radians(s.sweep)) for s in (lead, thread)]
        assert math.isclose(slopes[0], slopes[1], rel_tol=1e-6)
        place = following.begin
        first, last = heading(one, place), heading(following, place)
        assert math.dist(first, last) < 1e-6


def heading(arc: Segment, place: Point) -> tuple[float, float]:
    """Return the direction of motion of an arc at a place on it."""
    assert arc.centre is not None
    assert arc.sense is not None
    dx, dy = place.x - arc.centre[0], place.y - arc.centre[1]
    size, sign = math.hypot(dx, dy), turn(arc.sense)
    return -sign * dy / size, sign * dx / size


@few
@given(helices(rows=None))
def test_left_hand_is_the_mirror_image_of_right_hand_milled_the_other_way(job: Helix) -> None:
    # three starts and more follow in the other order; their places are proved above
    job = replace(job, starts=min(2, job.starts))
    mirrored = replace(
        job,
        hand="left" if job.hand == "right" else "right",
        milling="conventional" if job.milling == "climb" else "climb",
        start_angle=-job.start_angle,
        centre=(job.centre[0], -job.centre[1]),
    )
    for one, other in zip(thread_path(job), thread_path(mirrored), strict=True):
        assert one.kind == other.kind
        assert math.dist((one.end.x, -one.end.y, one.end.z), other.end) < 1e-8
        assert (one.sense == other.sense) is (one.sense is None)


def scaled(value: object, by: float) -> object:
    """Return a request with every length and feed of it multiplied."""
    if isinstance(value, (Helix, RadialPass, Cutter)):
        keep = {
            "starts", "start_angle", "greatest_sweep", "overlap", "turns_above_face",
            "turns_below_length", "taper", "rows", "flutes", "number", "row_taper",
            "flank_angle_upper", "flank_angle_lower",
        }  # fmt: skip
        changes = {
            f.name: scaled(getattr(value, f.name), by) for f in fields(value) if f.name not in keep
        }
        return replace(value, **changes)  # type: ignore[arg-type]
    if isinstance(value, tuple):
        return tuple(scaled(one, by) for one in value)
    if isinstance(value, float):
        return value * by
    if hasattr(value, "tip_width"):
        return replace(value, tip_width=value.tip_width * by, depth=value.depth * by)  # type: ignore[type-var,attr-defined]
    return value


@few
@given(helices(rows=None))
def test_a_path_in_inches_is_the_path_in_millimetres_divided_by_25_4(job: Helix) -> None:
    in_mm = scaled(job, 25.4)
    assert isinstance(in_mm, Helix)
    for inch, mm in zip(thread_path(job), thread_path(in_mm), strict=True):
        assert math.dist(mm.end, [25.4 * value for value in inch.end]) < 1e-7
        assert (inch.kind, inch.sense, inch.purpose) == (mm.kind, mm.sense, mm.purpose)
        assert math.isclose(inch.sweep, mm.sweep, rel_tol=1e-9)
        if inch.feed is not None and mm.feed is not None:
            assert math.isclose(inch.feed * 25.4, mm.feed, rel_tol=1e-9)


@few
@given(helices(rows=None))
def test_the_rows_of_the_cutter_cover_every_groove_over_the_whole_length(job: Helix) -> None:
    covered: dict[tuple[int, int], list[tuple[float, float]]] = defaultdict(list)
    for segment in thread_path(job):
        if segment.purpose == "thread":
            ends = sorted((segment.begin.z, segment.end.z))
            for row in range(job.cutter.rows):
                groove = (segment.start - 1 - advance(job.hand) * row) % job.starts
                up = row * job.pitch
                covered[segment.radial_pass, groove].append((ends[0] + up, ends[1] + up))
    above = job.turns_above_face
    top = tooth_half_width(job.cutter.tooth) if above is None else above * job.lead
    bottom = -job.length - job.turns_below_length * job.lead
    for radial_pass in range(1, len(job.passes) + 1):
        for groove in range(job.starts):
            reached = bottom
            spans = sorted(covered[radial_pass, groove])
            for low, high in spans:
                assert low <= reached + 1e-9 * max(1, job.length)
                reached = max(reached, high)
            assert reached >= top - 1e-9 * max(1, job.length)
    assert min(low for spans in covered.values() for low, _ in spans) >= bottom - 1e-9


@few
@given(helices(), st.floats(1e-4, 0.1))
def test_straight_lines_stay_within_the_chord_tolerance_and_keep_the_lead(
    job: Helix, share: float
) -> None:
    tolerance = share * job.cutter.diameter / 2
    job = replace(job, chord_tolerance=tolerance, length=2 * job.pitch)
    for segment in thread_path(job):
        assert segment.kind != "arc"
        if segment.purpose == "thread":
            radius = job.passes[segment.radial_pass - 1].radius
            for step in (0.0, 0.25, 0.5, 1.0):
                off = radius - from_axis(job, place_on(segment, step))
                assert -1e-9 <= off <= tolerance * (1 + 1e-6) + 1e-9
            assert near(from_axis(job, segment.end), radius)


@few
@given(helices(rows=None))
def test_totals_agree_with_a_path_walked_in_small_steps(job: Helix) -> None:
    path = list(thread_path(job))
    found = totals(path)
    places = [place_on(segment, step / 60) for segment in path for step in range(61)]
    for axis in range(3):
        values = [place[axis] for place in places]
        size = max(arc_radius(s) for s in path)
        slack = size * (1 - math.cos(math.pi / 60)) + 1e-9
        assert found.least[axis] <= min(values) + 1e-9
        assert found.least[axis] >= min(values) - slack
        assert max(values) - 1e-9 <= found.greatest[axis] <= max(values) + slack
    walked = sum(
        math.dist(place_on(s, k / 60), place_on(s, (k + 1) / 60))
        for s in path
        if s.kind != "rapid"
        for k in range(60)
    )
    assert math.isclose(walked, found.cutting_length, rel_tol=2e-3)
    assert found.segments == len(path) == found.arcs + found.lines + found.rapids
