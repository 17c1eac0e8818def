"""Lead-ins and lead-outs: their geometry, their feed, and that they don't cut a flank."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from flankwise_service.core.cutting.feed import centre_feed
from flankwise_service.core.errors import Impossible
from flankwise_service.core.path import gouge
from flankwise_service.core.path.check import check_helix
from flankwise_service.core.path.entry import Contact, Lead, lead, lead_arc_radius, lead_feed
from flankwise_service.core.path.gouge import lead_gouge
from flankwise_service.core.path.lines import arc_radius, place_on
from flankwise_service.core.path.request import Helix, RadialPass
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.thread import thread_path
from support.path_jobs import CUTTER, EXTERNAL, INTERNAL, from_axis, helices

WIDE = replace(INTERNAL, blank_diameter=30.0, pitch=1.5, passes=(RadialPass(12.9, 100.0),))


def leads(job: Helix) -> list[Segment]:
    return [s for s in thread_path(job) if s.purpose in ("lead_in", "lead_out")]


def test_an_internal_half_arc_begins_on_the_axis_and_z_follows_the_angle_from_the_axis() -> None:
    for segment in leads(INTERNAL):
        begin, end = segment.begin, segment.end
        axis_end, curve_end = (begin, end) if segment.purpose == "lead_in" else (end, begin)
        assert (axis_end.x, axis_end.y) == INTERNAL.centre
        assert segment.sweep == 180
        assert abs(segment.rise) == pytest.approx(INTERNAL.lead / 4)
        for step in range(1, 20):
            place = place_on(segment, step / 20)
            turned = math.atan2(curve_end.y, curve_end.x) - math.atan2(place.y, place.x)
            groove = curve_end.z - INTERNAL.lead * math.remainder(turned, math.tau) / math.tau
            assert place.z == pytest.approx(groove, abs=1e-12)


@pytest.mark.parametrize("centre", [(0.0, 87654.3), (87654.3, 0.0), (4321.7, 0.0)])
@pytest.mark.parametrize("start", [0.0, 17.3, 73.1])
def test_far_from_the_zero_point_a_lead_still_begins_on_the_axis_itself(
    centre: tuple[float, float], start: float
) -> None:
    """Rounding leaves it a hundred-thousand-millionth off there, and a move besides."""
    job = replace(INTERNAL, centre=centre, start_angle=start)
    for segment in leads(job):
        axis_end = segment.begin if segment.purpose == "lead_in" else segment.end
        assert (axis_end.x, axis_end.y) == centre


def test_an_external_half_arc_ends_just_clear_of_the_blank() -> None:
    for segment in leads(EXTERNAL):
        far = segment.begin if segment.purpose == "lead_in" else segment.end
        assert from_axis(EXTERNAL, far) == pytest.approx(10.0 + 3.0 + EXTERNAL.clearance)


@pytest.mark.parametrize("entry", ["quarter_arc", "half_arc"])
def test_default_arcs_are_the_least_that_clear_a_boss(entry: str) -> None:
    job = replace(EXTERNAL, lead_in=entry, lead_out=entry)
    arc = arc_radius(leads(job)[0])
    list(thread_path(replace(job, lead_arc_radius=arc * 1.5, passes=job.passes[:1])))
    with pytest.raises(Impossible):
        thread_path(replace(job, lead_arc_radius=arc * 0.98, passes=job.passes[:1]))


def test_an_internal_quarter_arc_turns_a_quarter_and_clears_a_wide_hole() -> None:
    job = replace(WIDE, lead_in="quarter_arc", lead_out="quarter_arc")
    for segment in leads(job):
        far = segment.begin if segment.purpose == "lead_in" else segment.end
        assert segment.sweep == 90
        assert from_axis(job, far) == pytest.approx(12.9 / math.sqrt(2))
    assert lead_arc_radius("quarter_arc", "internal", 12.9, 1.0) == 6.45


def test_radial_leads_are_level_and_straight_along_a_radius() -> None:
    job = replace(WIDE, lead_in="radial", lead_out="radial")
    for segment in leads(job):
        assert segment.kind == "line"
        assert segment.rise == 0
        cross = segment.begin.x * segment.end.y - segment.begin.y * segment.end.x
        assert cross == pytest.approx(0, abs=1e-9)
        assert segment.feed == job.passes[0].feed


def test_a_lead_arc_holds_the_feed_at_the_cutting_edge() -> None:
    """By the trade's formula vf (D - d)/D on the lead arc's own circle, and the thread's."""
    edge, cutter_diameter = 300.0, 6.0
    on_thread = centre_feed(edge, 8.0, cutter_diameter, "internal")
    on_arc = centre_feed(edge, 2 * (0.5 + 3.0), cutter_diameter, "internal")
    assert lead_feed(on_thread, "internal", 1.0, 3.0, 0.5) == pytest.approx(on_arc)
    on_thread = centre_feed(edge, 2 * (12.3 - 3.0), cutter_diameter, "external")
    assert lead_feed(on_thread, "external", 12.3, 3.0, 0.5) == pytest.approx(on_arc)
    (first, *_) = leads(EXTERNAL)
    arc = arc_radius(first)
    assert first.feed == pytest.approx(lead_feed(200.0, "external", 12.6, 3.0, arc))


def test_a_lead_feed_that_is_given_is_used() -> None:
    job = replace(EXTERNAL, passes=(RadialPass(12.3, 200.0, 55.0),))
    assert {s.feed for s in leads(job)} == {55.0}
    radial = replace(job, lead_in="radial", lead_out="radial")
    assert {s.feed for s in leads(radial)} == {55.0}


@settings(max_examples=60, deadline=None)
@given(helices())
def test_no_default_lead_cuts_a_flank(job: Helix) -> None:
    check_helix(job)
    for entry in (job.lead_in, job.lead_out):
        assert lead_gouge(job, entry) <= 2e-4 * job.pitch


def naive(entry: str, side: str, contact: Contact, arc: float, off: float, entering: bool) -> Lead:
    """A lead that rises by the thread's lead times its own angle, as is often done."""
    plain = lead(entry, side, contact, arc, off, entering)  # type: ignore[arg-type]
    slope = contact.slope * contact.radius  # rise for each radian about the axis
    rise = slope * math.radians(plain.sweep) * (-1 if entering else 1)
    return plain._replace(far=Point(plain.far.x, plain.far.y, contact.place.z + rise))


@pytest.mark.parametrize(
    ("job", "depth"), [(INTERNAL, 0.0371), (EXTERNAL, 0.1607)], ids=["hole", "boss"]
)
def test_turning_by_the_lead_times_the_arcs_own_angle_would_cut_a_flank(
    job: Helix, depth: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Why the slope is kept and not that: an M8x1.25 hole would lose 0.037 mm of a flank."""
    assert lead_gouge(job, "half_arc", 1) == 0
    monkeypatch.setattr(gouge, "lead", naive)
    assert lead_gouge(job, "half_arc", 1) == pytest.approx(depth, rel=0.01)
    with pytest.raises(Impossible) as caught:
        thread_path(job)
    assert [(f.pointer, f.code) for f in caught.value.faults] == [
        ("/lead_in", "gouges_flank"),
        ("/lead_out", "gouges_flank"),
    ]
    assert caught.value.faults[0].greatest is None, "a depth is no way in"
    assert f"{0.001 * job.pitch:.4g} is allowed" in caught.value.faults[0].detail
    arc = job.passes[-1].radius / 2 if job.side == "internal" else 1.0
    with pytest.raises(Impossible) as caught:
        thread_path(replace(job, lead_arc_radius=arc))
    assert [(f.pointer, f.value, f.greatest) for f in caught.value.faults] == [
        ("/lead_arc_radius", arc, None)
    ]


def test_a_depth_beyond_the_cutter_is_no_gouge_of_nothing() -> None:
    """No groove is left to stay inside of: that mustn't look like a lead that cuts nothing."""
    job = replace(EXTERNAL, blank_diameter=25.1, passes=(RadialPass(9.4, 100.0),),
                  cutter=replace(CUTTER, diameter=6.0))  # fmt: skip
    assert lead_gouge(job, "radial") == math.inf


@pytest.mark.parametrize(("blank", "radius", "cutter"), [(5.0, 3.0, 2.5), (10.0, 14.0, 4.5)])
def test_the_cutter_meets_the_blank_within_the_angle_that_is_looked_at(
    blank: float, radius: float, cutter: float
) -> None:
    """Where both circles meet, a tenth of that angle more is looked at."""
    angle = (gouge._touching_angle(blank, radius, cutter) - 1e-6) / 1.1
    meeting = (blank * math.cos(angle), blank * math.sin(angle))
    assert math.dist(meeting, (radius, 0.0)) == pytest.approx(cutter, abs=1e-9)


def test_gouge_against_a_plain_count_of_points(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same figure from a cloud of material points, by the definition alone."""
    monkeypatch.setattr(gouge, "lead", naive)
    found = lead_gouge(INTERNAL, "half_arc", 1)
    per_rad = INTERNAL.lead / math.tau
    way = gouge._lead_from_angle_zero(INTERNAL, "half_arc", 1)
    turns = np.linspace(-2.5, 2.5, 4001)
    worst = 0.0
    for radius in (3.325, 3.5, 3.8):
        edge = per_rad * turns + half(np.sqrt(radius**2 + 1 - 2 * radius * np.cos(turns)))
        groove = edge.max()
        for share in np.linspace(0, 1, 101):
            x, y, z = place_on(way, share)
            for angle in np.linspace(-1.5, 1.5, 301):
                rho = math.hypot(radius * math.cos(angle) - x, radius * math.sin(angle) - y)
                top = z + half(np.array([rho]))[0] - per_rad * angle
                bottom = z - half(np.array([rho]))[0] - per_rad * angle
                worst = max(worst, top - groove, -groove - bottom)
    assert worst == pytest.approx(found, rel=0.02)


def test_each_flank_of_an_uneven_tooth_is_measured_by_its_own_angle(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A thread of the other hand is the mirror image, its tooth turned over."""
    monkeypatch.setattr(gouge, "lead", naive)

    def found(hand: str, upper: float, lower: float) -> float:
        tooth = replace(CUTTER.tooth, flank_angle_upper=upper, flank_angle_lower=lower)
        cutter = replace(CUTTER, tooth=tooth)
        return lead_gouge(replace(INTERNAL, hand=hand, cutter=cutter), "half_arc", 1)

    one, other = found("right", 45.0, 7.0), found("right", 7.0, 45.0)
    assert found("left", 7.0, 45.0) == pytest.approx(one)
    assert found("left", 45.0, 7.0) == pytest.approx(other)
    assert one != pytest.approx(other, rel=0.01)


def half(rho: np.ndarray) -> np.ndarray:
    tooth = CUTTER.tooth
    width = tooth.tip_width / 2 + (3.0 - rho) * math.tan(math.radians(30))
    return np.where(rho <= 3.0, width, -np.inf)


def test_only_what_the_deepest_pass_leaves_is_a_gouge() -> None:
    """What a lead of a pass before cuts too much, a later pass takes away anyway."""
    job = replace(INTERNAL, lead_in="quarter_arc", lead_out="quarter_arc", lead_arc_radius=1.0)
    assert lead_gouge(job, "quarter_arc", 0) > 0.1
    assert lead_gouge(job, "quarter_arc", 1) == 0
    gouge.refuse_gouge(job)
    gouge.refuse_gouge(replace(job, passes=job.passes[::-1]))
    with pytest.raises(Impossible, match="into a flank"):
        gouge.refuse_gouge(replace(job, passes=job.passes[:1]))


def test_what_to_do_about_a_gouge_names_the_arc_only_where_one_was_given() -> None:
    job = replace(INTERNAL, lead_in="half_arc", lead_out="half_arc", lead_arc_radius=1.5)
    with pytest.raises(Impossible) as caught:
        gouge.refuse_gouge(job)
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.value) == ("/lead_arc_radius", 1.5)
    assert fault.change.startswith("leave lead_arc_radius out")
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(gouge, "lead_gouge", lambda *_: 1.0)
        with pytest.raises(Impossible) as caught:
            gouge.refuse_gouge(replace(job, lead_arc_radius=None))
    assert [f.pointer for f in caught.value.faults] == ["/lead_in", "/lead_out"]
    assert {f.change for f in caught.value.faults} == {"use another lead"}


def test_spring_passes_are_passes_of_equal_radius() -> None:
    job = replace(EXTERNAL, passes=(*EXTERNAL.passes, EXTERNAL.passes[-1]))
    radii = {
        s.radial_pass: from_axis(job, s.end) for s in thread_path(job) if s.purpose == "thread"
    }
    assert radii[2] == pytest.approx(radii[3], abs=1e-12)


def test_passes_of_a_boss_follow_without_lifting_where_they_meet() -> None:
    """15 mm and 1.5 turns over the face: whole turns, so the way down begins where it ended."""
    job = replace(EXTERNAL, turns_above_face=1.0)
    links = [s for s in thread_path(job) if s.purpose in ("link", "plunge")]
    assert [s.purpose for s in links] == ["plunge", "link"]
    assert math.dist(links[1].begin[:2], links[1].end[:2]) < 1e-12


@pytest.mark.parametrize("entry", ["half_arc", "quarter_arc"])
@pytest.mark.parametrize("job", [EXTERNAL, WIDE, replace(WIDE, hand="left")])
def test_a_straight_lead_is_level_tangent_and_clear(job: Helix, entry: str) -> None:
    job = replace(job, straight_lead=1.25, lead_in=entry, lead_out=entry, greatest_sweep=90)
    path = list(thread_path(job))
    for at, segment in enumerate(path):
        before, after = path[at - 1].purpose, path[(at + 1) % len(path)].purpose
        first = segment.purpose == "lead_in" and before != "lead_in"
        last = segment.purpose == "lead_out" and after != "lead_out"
        if not first and not last:
            continue
        assert segment.kind == "line"
        assert segment.rise == 0
        assert math.dist(segment.begin, segment.end) == pytest.approx(1.25)
        arc = path[at + 1] if first else path[at - 1]
        assert segment.feed == arc.feed
        join = segment.end if first else segment.begin
        assert arc.centre is not None
        spoke = (join.x - arc.centre[0], join.y - arc.centre[1])
        along = (segment.end.x - segment.begin.x, segment.end.y - segment.begin.y)
        assert spoke[0] * along[0] + spoke[1] * along[1] == pytest.approx(0, abs=1e-9)
        side = spoke[0] * along[1] - spoke[1] * along[0]
        assert (side > 0) == (arc.sense == "counterclockwise")  # on with the arc's own sense
        out = 1 if job.side == "external" else -1
        for step in range(11):
            off = from_axis(job, place_on(segment, step / 10)) - job.blank_diameter / 2
            assert out * off >= 3.0 + job.clearance - 1e-9


def test_a_straight_lead_without_room_in_the_hole_is_refused() -> None:
    room = 6.65 / 2 - 3.0 - 0.1
    list(thread_path(replace(INTERNAL, straight_lead=room)))
    with pytest.raises(Impossible) as caught:
        thread_path(replace(INTERNAL, straight_lead=room + 0.01))
    assert {(f.pointer, f.code) for f in caught.value.faults} == {
        ("/straight_lead", "lead_in_material"),
    }
    assert "straight" in caught.value.faults[0].detail


def test_a_radial_lead_is_straight_already() -> None:
    job = replace(EXTERNAL, lead_in="radial", lead_out="radial")
    assert list(thread_path(job)) == list(thread_path(replace(job, straight_lead=2.0)))
