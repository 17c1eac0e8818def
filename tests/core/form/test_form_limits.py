"""Every documented limit of the form: taken at the limit, refused one step beyond."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.form.condition import condition_effect, highest_tooth
from flankwise_service.core.form.correction import aimed, radius_correction
from flankwise_service.core.form.job import Job
from flankwise_service.core.form.largest import Hole, checked_hole
from flankwise_service.core.form.model import Cut, Pass, checked, single
from flankwise_service.core.form.offset import Measurement, next_offset
from flankwise_service.core.form.overcut import overcut_first_order
from flankwise_service.core.form.ranking import rank_cutters
from flankwise_service.core.form.rows import rows_effect
from flankwise_service.core.form.section import section
from flankwise_service.core.form.tilt import lead_angle, tilt_effect
from support.at_limits import assert_limits_hold
from support.refused import told

# A ten-thousandth of a tenth to a hundred thousand, in any unit; where it may be nothing, from 0.
LENGTH = (1e-5, 1e5)
FROM_0 = (0.0, 1e5)

TOOTH = Tooth(30.0, 30.0, 0.15, 0.85)
CUT = single(TOOTH, 3.0, "internal", 1.25, 1.0)
JOB = Job("internal", 1.25, 6.647, (7.188, 7.348), 8.0, clearance=0.05)
HOLE = Hole(6.647, 7.188, 7.348, 8.0, 1.25, 1.25 / 16)
CUTTER = Cutter(4.0, 3, TOOTH, neck_diameter=2.3)


def cut_with(**changed: Any) -> Cut:
    shift = changed.pop("shift", 0.0)
    centre = changed.pop("centre_radius", 1.0)
    return checked(replace(CUT, passes=(Pass(centre, shift),), **changed))


def tooth_with(**changed: Any) -> Cut:
    return checked(replace(CUT, tooth=replace(TOOTH, **changed)))


def job_with(**changed: Any) -> object:
    diameter = changed.pop("diameter", 4.0)
    return rank_cutters(replace(JOB, **changed), [replace(CUTTER, diameter=diameter)])


def hole_with(**changed: Any) -> None:
    rest = [changed.pop(name, good) for name, good in SHARES.items()]
    checked_hole(HOLE._replace(**changed), *rest)


def section_with(**changed: Any) -> object:
    return section(CUT, **{"crest_radius": 3.375, **changed})


def offset_with(size: float = 7.25, radius_offset: float = 0.0, **rest: Any) -> object:
    given = {"aim": 7.268, "pitch": 1.25, "uncertainty": 0.002, **rest}
    return next_offset([Measurement(size, radius_offset)], side="internal", unit="mm", **given)


SHARES = {"share": 0.25, "clearance": 0.0, "fraction": 0.5}


@pytest.mark.parametrize(
    ("call", "good", "limits", "prefix"),
    [
        (
            cut_with,
            {},
            {"cutter_radius": LENGTH, "pitch": LENGTH, "starts": (1, 100), "taper": (-0.5, 0.5)},
            "/",
        ),
        (cut_with, {}, {"centre_radius": LENGTH, "shift": (-1e5, 1e5)}, "/passes/0/"),
        (
            tooth_with,
            {},
            {
                "flank_angle_upper": (0.0, 80.0),
                "flank_angle_lower": (0.0, 80.0),
                "tip_width": FROM_0,
                "tip_radius": FROM_0,
                "depth": LENGTH,
            },
            "/tooth/",
        ),
        (aimed, {"limits": (7.188, 7.348)}, {"fraction": (0.0, 1.0)}, "/"),
        (radius_correction, {"cut": CUT, "aim": 7.268}, {"aim": LENGTH}, "/"),
        (
            section_with,
            {},
            {"crest_radius": LENGTH, "points": (16, 20_000), "pitch_spread": FROM_0},
            "/",
        ),
        (
            overcut_first_order,
            {"radius": 3.6, "centre_radius": 1.0, "lead": 1.25, "flank_angle": 30.0},
            {
                "radius": (1e-5, 1e7),
                "centre_radius": (1e-5, 1e7),
                "lead": (0.0, 1e7),
                "flank_angle": (0.01, 89.0),
            },
            "/",
        ),
        (highest_tooth, {"runout": 0.02, "flutes": 3}, {"runout": FROM_0, "flutes": (1, 100)}, "/"),
        (
            condition_effect,
            {"cut": CUT, "flutes": 3},
            {"runout": (0.0, 0.85), "radial_wear": (0.0, 0.425), "flutes": (1, 100)},
            "/",
        ),
        (
            rows_effect,
            {"cut": CUT, "rows": 3, "row_pitch": 1.25},
            {"rows": (1, 200), "row_pitch": (1.25 * 0.98, 1.25 * 1.02), "rows_through": (1, 3)},
            "/",
        ),
        (
            lead_angle,
            {"lead": 1.25, "diameter": 7.188},
            {"lead": (0.0, 1e7), "diameter": (1e-6, 1e6)},
            "/",
        ),
        (tilt_effect, {"cut": CUT}, {"tilt": (-30.0, 30.0)}, "/"),
        (
            job_with,
            {},
            {
                "pitch": LENGTH,
                "crest_diameter": LENGTH,
                "share": (0.001, 10.0),
                "fraction": (0.0, 1.0),
                "clearance": FROM_0,
            },
            "/",
        ),
        (job_with, {}, {"diameter": LENGTH}, "/cutters/0/"),
        (
            hole_with,
            {},
            {
                "minor_diameter": LENGTH,
                "pitch_diameter_least": LENGTH,
                "pitch_diameter_greatest": LENGTH,
                "major_diameter_least": LENGTH,
                "pitch": LENGTH,
                "starts": (1, 100),
                "flank_angle_upper": (0.5, 80.0),
                "flank_angle_lower": (0.5, 80.0),
                "tip_width": (0.0, 0.625 * (1 - 1e-9)),
            },
            "/hole/",
        ),
        (
            hole_with,
            {},
            {"share": (0.001, 1.0), "fraction": (0.0, 1.0), "clearance": FROM_0},
            "/",
        ),
        (
            offset_with,
            {},
            {
                "aim": LENGTH,
                "pitch": LENGTH,
                "uncertainty": (1e-9, 1e3),
                "per_depth": (0.5, 3.0),
            },
            "/",
        ),
        (offset_with, {}, {"size": LENGTH, "radius_offset": (-1e5, 1e5)}, "/measurements/0/"),
    ],
)
def test_taken_at_each_limit_and_refused_beyond(
    call: Any, good: dict[str, Any], limits: dict[str, Any], prefix: str
) -> None:
    assert_limits_hold(call, good, limits, prefix)


@pytest.mark.parametrize("n", [0, 1])
@pytest.mark.parametrize("value", [1e-5, 1e5])
def test_limits_of_pitch_diameter_are_lengths(n: int, value: float) -> None:
    pair = [2e-5, 5e4]
    pair[n] = value
    beyond = math.nextafter(value, -math.inf if value < 1 else math.inf)
    if (n == 0) == (value < 1):
        assert aimed((pair[0], pair[1]), float(n)) == pytest.approx(value)
    pair[n] = beyond
    assert (f"/pitch_diameter_limits/{n}", "out_of_range") in told(BadInput, aimed, tuple(pair))
    equal = ("/pitch_diameter_limits", "limits_crossed")
    assert told(BadInput, aimed, (7.2, 7.2)) == {equal}


@pytest.mark.parametrize("n", [0, 1])
@pytest.mark.parametrize(("least", "name"), [(0.5, "job"), (0.0, "section")])
def test_flank_angles_asked_for(n: int, least: float, name: str) -> None:
    def at(angle: float) -> set[tuple[str, str]]:
        angles = (30.0, angle) if n else (angle, 30.0)
        try:
            if name == "job":
                job_with(flank_angles=angles)
            else:
                section_with(flank_angles=angles)
        except (BadInput, Impossible) as refusal:
            return {(fault.pointer, fault.code) for fault in refusal.faults}
        return set()

    beyond = {(f"/flank_angles/{n}", "out_of_range")}
    assert at(least) == at(80.0) == set()
    assert at(math.nextafter(least, -1.0)) == at(math.nextafter(80.0, 90.0)) == beyond


def test_counts_of_passes_measurements_and_cutters() -> None:
    many = checked(replace(CUT, passes=(Pass(1.0),) * 2000))
    assert len(many.passes) == 2000
    assert told(BadInput, checked, replace(CUT, passes=(Pass(1.0),) * 2001)) == {
        ("/passes", "passes")
    }
    given = {"side": "internal", "pitch": 1.25, "unit": "mm", "uncertainty": 0.002}
    hundred = next_offset([Measurement(7.25)] * 100, 7.268, **given)  # type: ignore[arg-type]
    assert hundred.radius_offset == pytest.approx(-0.009)
    for count in (0, 101):
        assert told(BadInput, next_offset, [Measurement(7.25)] * count, 7.268, **given) == {
            ("/measurements", "measurements")
        }


def test_hundred_rows_through_one_groove_is_what_the_rows_allow() -> None:
    """Of 11 rows on a thread of 2 starts every second passes through a groove: 6 at most."""
    double = replace(CUT, starts=2)
    assert len(rows_effect(double, rows=11, row_pitch=1.251, rows_through=6).cut.passes) == 6
    assert told(BadInput, rows_effect, double, rows=11, row_pitch=1.251, rows_through=7) == {
        ("/rows_through", "out_of_range")
    }


def test_tooth_as_deep_as_its_cutter_and_no_deeper() -> None:
    assert checked(replace(CUT, tooth=replace(TOOTH, depth=3.0))).tooth.depth == 3.0
    deeper = replace(CUT, tooth=replace(TOOTH, depth=math.nextafter(3.0, 4.0)))
    assert told(BadInput, checked, deeper) == {("/tooth/depth", "tooth_deeper_than_cutter")}


@pytest.mark.parametrize("angles", [(0.1, 0.0), (0.0, 0.1)])
def test_one_flank_of_a_tenth_of_a_degree_is_enough(angles: tuple[float, float]) -> None:
    assert checked(replace(CUT, tooth=Tooth(*angles, 0.15, 0.85))).tooth.tip_width == 0.15
    upper, lower = (math.nextafter(a, 0.0) for a in angles)
    flat = replace(CUT, tooth=Tooth(upper, lower, 0.15, 0.85))
    assert told(BadInput, checked, flat) == {("/tooth/flank_angle_upper", "square_tooth")}


@pytest.mark.parametrize("sign", [1.0, -1.0])
@pytest.mark.parametrize("upper", [True, False])
def test_a_cone_may_lean_half_as_much_as_its_flank_and_no_more(upper: bool, sign: float) -> None:
    """Half the taper times the tangent of the steeper flank: 0.2 * 2.5 = 0.5."""
    steepest = math.degrees(math.atan(2.5))

    def at(angle: float) -> Cut:
        tooth = Tooth(angle, 20.0, 0.1, 0.5) if upper else Tooth(20.0, angle, 0.1, 0.5)
        return single(tooth, 3.0, "internal", 0.1, 1.0, 1, sign * 0.4)

    assert checked(at(steepest - 1e-9)).taper == sign * 0.4
    assert told(BadInput, checked, at(steepest + 1e-9)) == {("/taper", "taper_steeper_than_flank")}


@pytest.mark.parametrize(
    ("side", "centre", "nearest"), [("internal", 1.0, 1.0), ("external", 4.0, 1.0)]
)
def test_on_a_taper_the_base_circle_stays_within_the_centre_path(
    side: Any, centre: float, nearest: float
) -> None:
    """lead / (2 pi tan 20) is at most 0.8 of the centre path's radius, or of the root's."""
    lead = 0.8 * nearest * 2 * math.pi * math.tan(math.radians(20))
    tooth = Tooth(30.0, 20.0, 0.1, 0.5)
    below = single(tooth, 3.0, side, lead * (1 - 1e-9), centre, 1, 1 / 16)
    above = single(tooth, 3.0, side, lead * (1 + 1e-9), centre, 1, 1 / 16)
    assert checked(below).pitch < lead
    assert told(BadInput, checked, above) == {("/taper", "lead_too_coarse_for_taper")}
    assert checked(replace(above, taper=0.0)).pitch > lead


def test_outside_a_centre_path_only_just_larger_than_the_cutter_will_do() -> None:
    near = single(TOOTH, 3.0, "external", 1.25, math.nextafter(3.0, 4.0))
    assert checked(near).root_radius > 0
    assert checked(single(TOOTH, 3.0, "internal", 1.25, 0.5)).passes[0].centre_radius == 0.5


def test_a_hole_as_wide_as_the_cutter_will_do_and_no_narrower() -> None:
    found = section(single(TOOTH, 3.2, "internal", 1.25, 0.8), 3.2)
    assert found.crest_left_by == "blank"
    assert ("/crest_radius", "hole_smaller_than_cutter") in told(
        Impossible,
        section,
        single(TOOTH, 3.2, "internal", 1.25, 0.8),
        math.nextafter(3.2, 0.0),
    )


def test_two_hundred_cutters_are_compared() -> None:
    """With a hole too small for all of them, so that each is told by its drawing at once."""
    shallow = replace(CUTTER, tooth=Tooth(30.0, 30.0, 0.7, 0.85))
    assert len(rank_cutters(JOB, [shallow] * 200)) == 200
