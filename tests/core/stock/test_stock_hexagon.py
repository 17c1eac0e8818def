from __future__ import annotations

import math

import pytest

from flankwise_service.core.errors import BadInput
from flankwise_service.core.stock import hexagon as subject
from flankwise_service.core.stock.hexagon import (
    MEASURES,
    across_corners,
    across_flats,
    corner_stand_out,
    hexagon,
    hexagon_from,
    hexagon_readings,
    one_measure,
    wall_to_bore,
    wall_to_flats,
    wrong_turn,
)
from support.refused import faults_of, told


def drawn(radius: float) -> dict[str, float]:
    """Measure a hexagon drawn as six points, by the shoelace formula and point to line."""
    points = [
        (radius * math.cos(math.radians(60 * k)), radius * math.sin(math.radians(60 * k)))
        for k in range(6)
    ]
    pairs = list(zip(points, points[1:] + points[:1], strict=True))
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2
    middle = [(a[0] + b[0]) / 2 for a, b in pairs], [(a[1] + b[1]) / 2 for a, b in pairs]
    return {
        "across_corners": math.dist(points[0], points[3]),
        "across_flats": math.dist((middle[0][0], middle[1][0]), (middle[0][3], middle[1][3])),
        "side": math.dist(*pairs[0]),
        "inscribed_radius": math.hypot(middle[0][0], middle[1][0]),
        "circumscribed_radius": radius,
        "area": area,
        "perimeter": sum(math.dist(a, b) for a, b in pairs),
    }


@pytest.mark.parametrize("measure", MEASURES)
@pytest.mark.parametrize("radius", [0.3, 1.0, 30.0])
def test_every_measure_leads_to_the_hexagon_that_six_points_draw(measure, radius):
    expected = drawn(radius)
    found = hexagon(measure, expected[measure])
    for name, value in expected.items():
        assert getattr(found, name) == pytest.approx(value, rel=1e-12), name


def test_two_inches_across_corners_is_1_7321_across_flats():
    # Source: geometry, AF = AC sqrt(3)/2; the case named in the project's own issue.
    assert round(hexagon("across_corners", 2.0).across_flats, 4) == 1.7321
    assert round(across_flats(2.0), 4) == 1.7321
    assert across_corners(across_flats(2.0)) == pytest.approx(2.0, rel=1e-15)


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf, 1e308, 10**400, 5e-324])
def test_a_hexagon_of_no_real_size_is_refused(value):
    assert told(BadInput, hexagon, "side", value) == {("/value", "out_of_range")}
    assert told(BadInput, across_corners, value) == {("/across_flats", "out_of_range")}
    assert told(BadInput, across_flats, value) == {("/across_corners", "out_of_range")}
    assert told(BadInput, hexagon_from, side=value) == {("/side", "out_of_range")}


def test_unknown_measure_and_size_are_told_together():
    assert told(BadInput, hexagon, "diagonal", -1.0) == {
        ("/measure", "unknown_measure"),
        ("/value", "out_of_range"),
    }


def test_exactly_one_measure_is_taken():
    assert hexagon_from(across_flats=30.0, side=None) == hexagon("across_flats", 30.0)
    assert told(BadInput, one_measure, {}) == {("/across_flats", "one_measure")}
    assert told(BadInput, one_measure, {"side": 1.0, "across_flats": 2.0}) == {
        ("/across_flats", "one_measure")
    }
    assert told(BadInput, hexagon_from, diagonal=3.0, side=1.0) == {
        ("/diagonal", "unknown_measure")
    }


def test_readings_show_the_wrong_turn_in_figures():
    found = {one.measure: one for one in hexagon_readings(30.0)}
    assert set(found) == set(MEASURES)
    assert [m for m, one in found.items() if one.intended] == ["across_flats"]
    drawn_wrong = found["circumscribed_radius"].hexagon
    assert round(drawn_wrong.across_corners, 2) == 60.00
    assert round(drawn_wrong.across_flats, 2) == 51.96
    assert hexagon_readings(30.0, "side")[0].measure == "side"


def test_a_drawing_with_the_radius_taken_for_the_flats_is_found():
    turn = wrong_turn(30.0, 51.96)
    assert turn is not None
    assert turn.drawn_with == "circumscribed_radius"
    assert turn.too_large_across_flats == pytest.approx(21.96)
    assert turn.wanted.across_corners == pytest.approx(34.641, abs=5e-4)
    assert "circumscribed radius" in turn.detail
    assert "34.641" in turn.change
    assert "17.321" in turn.change


@pytest.mark.parametrize(
    ("drawn_flats", "measure"),
    [(60.0, "inscribed_radius"), (25.981, "across_corners"), (51.9615, "circumscribed_radius")],
)
def test_other_wrong_turns_are_told_apart(drawn_flats, measure):
    turn = wrong_turn(30.0, drawn_flats)
    assert turn is not None
    assert turn.drawn_with == measure
    assert turn.too_large_across_flats == pytest.approx(drawn_flats - 30.0)


def test_a_right_drawing_and_an_unexplained_one_are_no_wrong_turn():
    assert wrong_turn(30.0, 30.0) is None
    assert wrong_turn(30.0, 51.7) is None
    assert wrong_turn(30.0, 51.7, tolerance=0.01) is not None


def test_wrong_turn_refuses_what_is_out_of_range_all_at_once():
    assert told(BadInput, wrong_turn, 0.0, math.nan, 0.06) == {
        ("/wanted_across_flats", "out_of_range"),
        ("/drawn_across_flats", "out_of_range"),
        ("/tolerance", "out_of_range"),
    }


def test_corner_stand_out_and_walls():
    assert corner_stand_out(34.641, 20.0) == pytest.approx(7.3205)
    assert corner_stand_out(20.0, 24.0) == pytest.approx(-2.0)
    assert wall_to_flats(27.0, 20.0) == pytest.approx(3.5)
    assert wall_to_flats(18.0, 20.0) == pytest.approx(-1.0)
    assert wall_to_bore(17.0, 10.0) == pytest.approx(3.5)
    assert wall_to_bore(17.0, 0) == pytest.approx(8.5)


def test_walls_refuse_by_name():
    assert told(BadInput, corner_stand_out, 0.0, -1.0) == {
        ("/across_corners", "out_of_range"),
        ("/boss_diameter", "out_of_range"),
    }
    assert told(BadInput, wall_to_flats, 1.0, 0.0) == {("/diameter", "out_of_range")}
    assert told(BadInput, wall_to_bore, 0.0, -0.1) == {
        ("/minor_diameter", "out_of_range"),
        ("/bore_diameter", "out_of_range"),
    }
    (fault,) = faults_of(BadInput, wall_to_flats, 1.0, 2e6)
    assert fault.greatest == subject.GREATEST_LENGTH
    assert "diameter" in fault.change
