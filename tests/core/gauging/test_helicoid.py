"""The exact rest of a ball or wire, against general-purpose minimisers that know only surfaces."""

from __future__ import annotations

import math

import pytest
from scipy.optimize import minimize, minimize_scalar

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.gauging import helicoid, section
from flankwise_service.core.gauging.groove import Groove

CASES = [
    (Groove(1 / 14, 1 / 14, 30.0, 30.0), 0.827, 0.0412),
    (Groove(0.2, 0.6, 14.5, 14.5), 1.0, 0.1033),
    (Groove(0.1, 0.4, 30.0, 30.0), 0.5, 0.0577),
    (Groove(0.1, 0.1, 7.0, 45.0), 1.0, 0.054),
    (Groove(0.1, 0.8, 7.0, 45.0), 1.0, 0.054),
    (Groove(1.5, 1.5, 30.0, 30.0, "internal"), 19.026, 0.866),
    (Groove(2.0, 8.0, 15.0, 15.0, "internal"), 15.0, 1.1),
    (Groove(3.0, 9.0, 45.0, 7.0, "internal"), 27.0, 1.7),
]


def flank(groove: Groove, upper: bool, pitch_diameter: float, r: float, theta: float) -> float:
    """Return the height of a flank of the groove whose pitch line is at z = 0 at theta = 0."""
    angle = groove.flank_angle_upper if upper else groove.flank_angle_lower
    sign = 1 if groove.side == "external" else -1
    half = groove.pitch / 4 + sign * (r - pitch_diameter / 2) * math.tan(math.radians(angle))
    return (half if upper else -half) + groove.lead * theta / (2 * math.pi)


def distance(
    groove: Groove, upper: bool, size: float, centre: tuple[float, float], start: float
) -> float:
    """Return the distance of a point (r, z) of the half plane theta = 0 from a flank, by search."""

    def squared(place: tuple[float, float]) -> float:
        r, theta = place
        z = flank(groove, upper, size, r, theta)
        x, y = r * math.cos(theta) - centre[0], r * math.sin(theta)
        return 1e6 * (x * x + y * y + (z - centre[1]) ** 2)

    options = {"xatol": 1e-12, "fatol": 1e-16, "maxiter": 4000, "maxfev": 8000}
    found = minimize(squared, (start, 0.0), method="Nelder-Mead", options=options)
    return math.sqrt(found.fun / 1e6)


@pytest.mark.parametrize(("groove", "size", "wire"), CASES)
def test_the_ball_is_as_far_from_both_flanks_as_its_radius(
    groove: Groove, size: float, wire: float
) -> None:
    lies = helicoid.rest(groove, size, wire)
    # Where along the axis the ball lies between unequal flanks: a search for equal distances.
    low, high = -groove.pitch / 4, groove.pitch / 4

    def unevenness(z: float) -> float:
        upper = distance(groove, True, size, (lies.centre_radius, z), size / 2)
        return upper - distance(groove, False, size, (lies.centre_radius, z), size / 2)

    if groove.is_symmetric:
        z = 0.0
    else:
        for _ in range(40):
            z = (low + high) / 2
            low, high = (z, high) if unevenness(z) > 0 else (low, z)
    for upper in (True, False):
        gap = distance(groove, upper, size, (lies.centre_radius, z), size / 2)
        assert gap == pytest.approx(wire / 2, rel=2e-8)


def pitch_diameter_of_tilted_wire(groove: Groove, wire: float, axis: float, tilt: float) -> float:
    """Return the pitch diameter that a wire at given radius and tilt just fits, by search.

    For each flank: the highest point of z - s r tan(angle) - h theta over the wire's surface.
    """
    sign = 1 if groove.side == "external" else -1
    h, b, offsets = groove.lead / (2 * math.pi), wire / 2, 0.0
    for way, degrees in ((1, groove.flank_angle_upper), (-1, groove.flank_angle_lower)):
        slope = math.tan(math.radians(degrees))

        def minus_height(place: tuple[float, float], way: int = way, slope: float = slope) -> float:
            u, around = place
            u *= b
            x = axis + b * math.cos(around)
            y = u * math.cos(tilt) - b * math.sin(around) * math.sin(tilt)
            z = u * math.sin(tilt) + b * math.sin(around) * math.cos(tilt)
            height = way * z - sign * math.hypot(x, y) * slope - way * h * math.atan2(y, x)
            return -height / b

        middle = way * (math.pi / 2 + sign * math.radians(degrees))
        options = {"xatol": 1e-10, "fatol": 1e-15, "maxiter": 4000, "maxfev": 8000}
        found = minimize(
            minus_height,
            (0.0, middle),
            method="Nelder-Mead",
            options=options,
            bounds=[(-3.0, 3.0), (middle - 1.0, middle + 1.0)],
        )
        offsets -= b * found.fun
    slopes = sum(
        math.tan(math.radians(a)) for a in (groove.flank_angle_upper, groove.flank_angle_lower)
    )
    return sign * (groove.pitch - 2 * offsets) / slopes


@pytest.mark.parametrize(("groove", "size", "wire"), CASES[:5])
def test_a_wire_rests_as_a_ball_does_and_every_other_tilt_lifts_it(
    groove: Groove, size: float, wire: float
) -> None:
    lies = helicoid.rest(groove, size, wire)
    tilt = math.radians(lies.tilt)

    def room(angle: float) -> float:
        return -pitch_diameter_of_tilted_wire(groove, wire, lies.centre_radius, angle)

    found = minimize_scalar(room, bounds=(0.8 * tilt, 1.2 * tilt), method="bounded")
    assert -found.fun == pytest.approx(size, rel=1e-9)
    assert found.x == pytest.approx(tilt, rel=2e-3)
    assert -room(tilt) == pytest.approx(size, rel=1e-9)
    assert -room(1.1 * tilt) < size - 1e-9
    assert -room(0.9 * tilt) < size - 1e-9


@pytest.mark.parametrize(("groove", "size", "wire"), CASES)
def test_working_back_gives_the_same_pitch_diameter(
    groove: Groove, size: float, wire: float
) -> None:
    lies = helicoid.rest(groove, size, wire)
    back = helicoid.pitch_diameter_at_rest(groove, wire, lies.centre_radius)
    assert back == pytest.approx(size, rel=1e-13)


@pytest.mark.parametrize(
    ("groove", "size", "wire"), [case for case in CASES if case[0].is_symmetric]
)
def test_the_contact_lies_on_the_flank_at_its_diameter(
    groove: Groove, size: float, wire: float
) -> None:
    lies = helicoid.rest(groove, size, wire)
    again = helicoid.diameter_touching_at(groove, size, lies.contact_diameter_upper)
    assert lies.contact_diameter_upper == lies.contact_diameter_lower
    assert again == pytest.approx(wire, rel=1e-12)


def test_with_next_to_no_lead_the_section_formula_is_exact() -> None:
    groove = Groove(0.1, 0.1, 30.0, 30.0)
    lies = helicoid.rest(groove, 5000.0, 0.06)
    flat = 5000.0 + section.wire_constant(groove) * 0.06 - section.height_constant(groove)
    assert 2 * lies.centre_radius == pytest.approx(flat, abs=2e-12 * 5000)
    unequal = Groove(0.1, 0.1, 7.0, 45.0, "internal")
    lies = helicoid.rest(unequal, 5000.0, 0.06)
    flat = 5000.0 - section.wire_constant(unequal) * 0.06 + section.height_constant(unequal)
    assert 2 * lies.centre_radius == pytest.approx(flat, abs=2e-12 * 5000)


def test_a_ball_of_three_pitches_rests_far_outside() -> None:
    """Its middle further from the axis than the pitch diameter: the search goes that far."""
    groove = Groove(3.0, 3.0, 14.5, 14.5)
    lies = helicoid.rest(groove, 20.0, 9.0)
    flat = 20.0 + section.wire_constant(groove) * 9.0 - section.height_constant(groove)
    assert 2 * lies.centre_radius == pytest.approx(flat, rel=2e-3)
    back = helicoid.pitch_diameter_at_rest(groove, 9.0, lies.centre_radius)
    assert back == pytest.approx(20.0, rel=1e-13)
    again = helicoid.diameter_touching_at(groove, 20.0, lies.contact_diameter_upper)
    assert again == pytest.approx(9.0, rel=1e-12)


def test_a_ball_in_a_hole_rests_nearer_to_the_axis_than_its_own_diameter() -> None:
    groove = Groove(2.0, 2.0, 30.0, 30.0, "internal")
    lies = helicoid.rest(groove, 10.0, 3.0)
    flat = 10.0 - section.wire_constant(groove) * 3.0 + section.height_constant(groove)
    assert 2 * lies.centre_radius == pytest.approx(flat, rel=7e-3)
    assert 1.5 < lies.centre_radius < 3.0
    again = helicoid.diameter_touching_at(groove, 10.0, lies.contact_diameter_upper)
    assert again == pytest.approx(3.0, rel=1e-12)


def test_unequal_flanks_touch_each_at_its_own_diameter() -> None:
    lies = helicoid.rest(Groove(0.1, 0.1, 7.0, 45.0), 1.0, 0.054)
    assert lies.contact_diameter_upper > 1.0 > lies.contact_diameter_lower
    turned = helicoid.rest(Groove(0.1, 0.1, 45.0, 7.0), 1.0, 0.054)
    assert turned.contact_diameter_lower == pytest.approx(lies.contact_diameter_upper, rel=1e-13)
    assert turned.centre_radius == pytest.approx(lies.centre_radius, rel=1e-13)


def test_the_lead_lifts_a_wire_outside_and_sinks_a_ball_inside() -> None:
    for side, sign in (("external", 1), ("internal", -1)):
        one = helicoid.rest(Groove(0.1, 0.1, 30.0, 30.0, side), 1.0, 0.06)  # type: ignore[arg-type]
        four = helicoid.rest(Groove(0.1, 0.4, 30.0, 30.0, side), 1.0, 0.06)  # type: ignore[arg-type]
        assert sign * (four.centre_radius - one.centre_radius) > 1e-5


def test_what_cannot_rest_is_refused() -> None:
    with pytest.raises(Impossible) as caught:
        helicoid.rest(Groove(1.0, 1.0, 30.0, 30.0, "internal"), 2.0, 1.4)
    assert [fault.code for fault in caught.value.faults] == ["no_rest"]
    steep = Groove(8.0, 64.0, 10.0, 3.0, "internal")  # the search leaves the hole, still 10 mm off
    with pytest.raises(Impossible, match="finds no resting place in this groove") as caught:
        helicoid.rest(steep, 46.0, 5.6)
    assert [fault.value for fault in caught.value.faults] == [5.6]
    with pytest.raises(Impossible):
        helicoid.touch(1.0, 0.2, 30.0, 3.0, -1)
    with pytest.raises(Impossible):
        helicoid.touch(1.0, 0.0, 30.0, 0.0, 1)
    with pytest.raises(BadInput):
        helicoid.rest(Groove(1.0, 1.0, 30.0, 30.0), 20.0, -1.0)
    with pytest.raises(BadInput):
        helicoid.diameter_touching_at(Groove(1.0, 1.0, 30.0, 30.0), 20.0, -20.0)
