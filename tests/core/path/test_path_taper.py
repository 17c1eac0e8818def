"""The taper thread's arcs: within their tolerance of the cone, in the fewest pieces."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from flankwise_service.core.errors import Impossible
from flankwise_service.core.path import taper
from flankwise_service.core.path.lines import arc_radius, place_on
from flankwise_service.core.path.request import Helix, RadialPass
from flankwise_service.core.path.runs import curve_of, runs
from flankwise_service.core.path.spiral import Spiral
from flankwise_service.core.path.taper import arc_through, departure, taper_arcs, taper_pieces
from flankwise_service.core.path.thread import thread_path
from support.path_jobs import CUTTER, EXTERNAL, INTERNAL, from_axis

DEEP = replace(CUTTER, tooth=replace(CUTTER.tooth, depth=2.0))
# 1/2-14 NPT sizes, roughly: taper 1 in 16 on diameter (ASME B1.20.1), pitch 25.4/14 mm
NPT = replace(
    EXTERNAL, pitch=25.4 / 14, length=13.0, blank_diameter=21.34, taper=0.0625,
    cutter=DEEP, passes=(RadialPass(12.0, 200.0),), radial_tolerance=0.001,
)  # fmt: skip
NPT_INSIDE = replace(
    INTERNAL, pitch=25.4 / 14, length=12.0, blank_diameter=17.0, taper=0.0625,
    cutter=replace(DEEP, diameter=12.0), passes=(RadialPass(4.0, 200.0),),
    radial_tolerance=0.0005, lead_in="radial", lead_out="radial",
)  # fmt: skip


def cone(job: Helix, z: float) -> float:
    """The true radius of the centre path, from the definition of the taper."""
    wider_below = 1 if job.side == "external" else -1
    return job.passes[0].radius + wider_below * job.taper / 2 * -z


def worst_off(job: Helix, path: list[object]) -> float:
    worst = 0.0
    for segment in path:
        if segment.purpose == "thread":  # type: ignore[attr-defined]
            for step in range(41):
                place = place_on(segment, step / 40)  # type: ignore[arg-type]
                worst = max(worst, abs(from_axis(job, place) - cone(job, place.z)))
    return worst


@pytest.mark.parametrize("job", [NPT, NPT_INSIDE, replace(NPT, hand="left")])
@pytest.mark.parametrize("tolerance", [0.01, 0.001, 0.0001, 0.00001])
def test_arcs_stay_within_the_radial_tolerance_and_no_fewer_would(
    job: Helix, tolerance: float
) -> None:
    job = replace(job, radial_tolerance=tolerance)
    path = [s for s in thread_path(job) if s.purpose == "thread"]
    assert worst_off(job, path) <= tolerance
    curve = curve_of(job, job.passes[0], next(runs(job)))
    fewer = spread(curve, len(path) - 1)
    if curve.sweep / (len(path) - 1) <= taper.GREATEST_PIECE:
        assert fewer > tolerance * 0.998


def spread(curve: Spiral, pieces: int) -> float:
    """The worst radial departure of `pieces` equal arcs through true places of the curve."""
    each = curve.sweep / pieces
    begin, middle, end = (curve.point_at(share * each) for share in (0, 0.5, 1))
    (cx, cy), sweep = arc_through(begin, middle, end)
    radius = math.hypot(begin.x - cx, begin.y - cy)
    from_rad = math.atan2(begin.y - cy, begin.x - cx)
    worst = 0.0
    for step in range(401):
        at_rad = from_rad + curve.turn * math.radians(sweep) * step / 400
        x, y = cx + radius * math.cos(at_rad), cy + radius * math.sin(at_rad)
        cone = curve.radius + curve.growth * each * step / 400
        worst = max(worst, abs(math.hypot(x - curve.x, y - curve.y) - cone))
    return worst


@pytest.mark.parametrize("piece", [20.0, 90.0, 130.0, 180.0])
def test_departure_is_that_of_the_arc(piece: float) -> None:
    curve = Spiral(0, 0, 12.0, 0.0, 0.0, 1, -25.4 / 14 / 360, 25.4 / 14 / 32 / 360, piece)
    growth = math.degrees(curve.growth)
    assert spread(curve, 1) == pytest.approx(departure(growth, piece), rel=0.03)


def test_departure_joins_its_series_without_a_step() -> None:
    at = math.degrees(2e-3)
    below, above = departure(1.0, at * (1 - 1e-9)), departure(1.0, at * (1 + 1e-9))
    assert below == pytest.approx(above, rel=2e-3)
    assert departure(1.0, at) == pytest.approx(1e-9 / (9 * math.sqrt(3)), rel=2e-3)


def test_the_ends_of_the_arcs_join_and_lie_on_the_cone() -> None:
    path = [s for s in thread_path(NPT) if s.purpose == "thread"]
    for one, following in pairwise(path):
        assert one.end == following.begin
        assert from_axis(NPT, one.end) == pytest.approx(cone(NPT, one.end.z), abs=1e-9)
        assert math.dist(place_on(one, 1.0), one.end) < 1e-9
    assert path[0].begin.z > path[-1].end.z  # external right-hand climb sinks
    assert from_axis(NPT, path[-1].end) > from_axis(NPT, path[0].begin)


def test_an_internal_taper_narrows_with_depth() -> None:
    path = [s for s in thread_path(NPT_INSIDE) if s.purpose == "thread"]
    assert path[0].begin.z < path[-1].end.z
    assert from_axis(NPT_INSIDE, path[0].begin) < from_axis(NPT_INSIDE, path[-1].end)


def test_lead_is_kept_on_every_taper_arc_seen_from_the_axis() -> None:
    for segment in thread_path(NPT):
        if segment.purpose == "thread":
            angles = [
                math.degrees(math.atan2(place.y, place.x)) for place in (segment.begin, segment.end)
            ]
            turned = (angles[0] - angles[1]) % 360
            assert -segment.rise == pytest.approx(NPT.lead * turned / 360, abs=1e-9)


def test_along_an_arc_z_strays_less_than_the_radius_does() -> None:
    """z goes with the arc's own angle, not the axis's; told here: under 0.2 micrometre."""
    worst = 0.0
    for segment in thread_path(NPT):
        if segment.purpose == "thread":
            for step in range(1, 20):
                place = place_on(segment, step / 20)
                turned = math.degrees(
                    math.atan2(segment.begin.y, segment.begin.x) - math.atan2(place.y, place.x)
                )
                true = segment.begin.z - NPT.lead * (turned % 360) / 360
                worst = max(worst, abs(place.z - true))
    assert worst < 0.0002


def test_greatest_sweep_still_binds() -> None:
    path = list(thread_path(replace(NPT, greatest_sweep=90)))
    assert max(s.sweep for s in path if s.purpose == "thread") <= 90.001


def test_lines_lie_on_the_cone() -> None:
    job = replace(NPT, chord_tolerance=0.002, radial_tolerance=None)
    path = list(thread_path(job))
    assert {s.kind for s in path} == {"line", "rapid"}
    ends = [s.end for s in path if s.purpose == "thread"]
    assert max(abs(from_axis(job, end) - cone(job, end.z)) for end in ends) < 1e-9
    assert worst_off(job, path) <= 0.002  # type: ignore[arg-type]


def test_no_taper_in_the_arcs_of_a_straight_thread() -> None:
    assert all(
        s.centre in (None, (0.0, 0.0)) for s in thread_path(EXTERNAL) if s.purpose == "thread"
    )


def test_fewest_pieces_by_trying_them_all() -> None:
    for tolerance in (1e-2, 1e-3, 1e-4, 1e-6):
        found = taper_pieces(0.0567, 3.3, 360, tolerance)
        growth = 0.0567 / (2 * math.pi)
        tried = next(
            n for n in range(1, 10_000)
            if 3.3 * 360 / n <= 180 and departure(growth, 3.3 * 360 / n) <= tolerance
        )  # fmt: skip
        assert found == tried


def test_departure_of_a_short_arc_keeps_its_digits() -> None:
    """Where sin(h)/h is 1 but for its last bits, the series' first term is what is left."""
    for piece in (0.11, 0.02, 0.001):
        half_rad = math.radians(piece) / 2
        assert departure(1.0, piece) == pytest.approx(half_rad**3 / (9 * math.sqrt(3)), rel=1e-5)


def test_a_clockwise_spiral_gives_the_mirror_of_a_counter_clockwise_one() -> None:
    one = Spiral(0, 0, 10, 0, 0, 1, 0.005, 0.0002, 720)
    other = one._replace(turn=-1)
    for left, right in zip(taper_arcs(one, 360, 1e-3), taper_arcs(other, 360, 1e-3), strict=True):
        assert left[0].y == pytest.approx(-right[0].y)
        assert left[2] == pytest.approx(right[2])


def test_arc_radius_of_a_taper_arc_is_near_the_cone() -> None:
    arcs = [s for s in thread_path(NPT) if s.purpose == "thread"]
    assert all(abs(arc_radius(s) - from_axis(NPT, s.begin)) < 0.05 for s in arcs)


def test_reach_is_judged_where_the_taper_cuts_deepest() -> None:
    """Above the face an external taper's path is nearer to the axis, by 1/32 of the height."""
    limit = 21.34 / 2 + 3.0
    high = 0.15 / 2 + 2.0 * math.tan(math.radians(30))
    just = RadialPass(limit + high / 32 - 1e-4, 200.0)
    list(thread_path(replace(NPT, passes=(just,))))
    over = replace(just, radius=just.radius + 2e-4)
    with pytest.raises(Impossible) as caught:
        thread_path(replace(NPT, passes=(over,)))
    assert [fault.code for fault in caught.value.faults] == ["cuts_air"]
