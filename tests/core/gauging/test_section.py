"""Section formulas against plane geometry done another way."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.gauging import section
from flankwise_service.core.gauging.groove import Groove

FORMS = [(30.0, 30.0), (27.5, 27.5), (14.5, 14.5), (7.0, 45.0), (45.0, 7.0), (3.0, 30.0)]


def circle_in(groove: Groove, wire: float) -> tuple[float, float, float]:
    """Return (apex depth, centre height over the apex, contact heights' spread) by construction.

    The flanks are lines from an apex; a circle of the wire's radius lies on both: its centre is
    on the line from the apex that halves the angle between them.
    """
    upper, lower = math.radians(groove.flank_angle_upper), math.radians(groove.flank_angle_lower)
    depth = groove.pitch / 2 / (math.tan(upper) + math.tan(lower))
    half = (upper + lower) / 2
    from_apex = wire / 2 / math.sin(half)
    # The bisector leans away from the radial line by half the difference of the angles.
    height = from_apex * math.cos((upper - lower) / 2)
    along = wire / 2 / math.tan(half)
    return depth, height, along


@pytest.mark.parametrize("form", FORMS)
def test_reading_constants_are_a_circle_between_two_lines(form: tuple[float, float]) -> None:
    groove = Groove(0.1, 0.1, *form)
    depth, height, _ = circle_in(groove, 0.06)
    assert section.height_constant(groove) == pytest.approx(2 * depth, rel=1e-13)
    assert section.wire_constant(groove) * 0.06 == pytest.approx(2 * height, rel=1e-13)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("wire", [0.03, 0.06, 0.09])
def test_angle_sensitivity_is_the_slope_of_the_section_formula(
    form: tuple[float, float], wire: float
) -> None:
    def pitch_diameter(shift: float) -> float:
        groove = Groove(0.1, 0.1, form[0] + shift, form[1] + shift)
        return section.height_constant(groove) - section.wire_constant(groove) * wire

    slope = (pitch_diameter(1e-4) - pitch_diameter(-1e-4)) / 2e-4
    found = section.angle_sensitivity(Groove(0.1, 0.1, *form), wire)
    assert found == pytest.approx(slope, rel=1e-6, abs=1e-12)


@pytest.mark.parametrize("form", FORMS)
def test_best_wire_feels_no_error_common_to_both_angles(form: tuple[float, float]) -> None:
    groove = Groove(0.1, 0.1, *form)
    best = section.best_wire(groove)
    assert section.angle_sensitivity(groove, best) == pytest.approx(0.0, abs=1e-15)
    assert section.angle_sensitivity(groove, 1.1 * best) > 1e-6
    assert section.angle_sensitivity(groove, 0.9 * best) < -1e-6


@pytest.mark.parametrize("angle", [30.0, 27.5, 14.5])
def test_best_wire_of_equal_flanks_touches_at_the_pitch_line(angle: float) -> None:
    groove = Groove(0.1, 0.1, angle, angle)
    expected = 0.1 / 2 / math.cos(math.radians(angle))
    assert section.best_wire(groove) == pytest.approx(expected, rel=1e-13)


@pytest.mark.parametrize("side", ["external", "internal"])
@pytest.mark.parametrize("form", FORMS)
def test_least_and_greatest_wire_by_construction(form: tuple[float, float], side: str) -> None:
    groove = Groove(0.1, 0.1, *form, side)  # type: ignore[arg-type]
    sign = 1 if side == "external" else -1
    crest, root = 2.0 + sign * 0.05, 2.0 - sign * 0.04
    least = section.least_wire(groove, 2.0, crest)
    depth, height, _ = circle_in(groove, least)
    assert height + least / 2 - depth == pytest.approx(0.025, abs=1e-14)
    cosines = [math.cos(math.radians(angle)) for angle in form]
    greatest = section.greatest_wire(groove, 2.0, crest)
    depth, _, along = circle_in(groove, greatest)
    assert max(along * cosine for cosine in cosines) - depth == pytest.approx(0.025, abs=1e-14)
    touching = section.least_touching_wire(groove, 2.0, root)
    depth, _, along = circle_in(groove, touching)
    assert min(along * cosine for cosine in cosines) - depth == pytest.approx(-0.02, abs=1e-14)
    clear = section.clear_wire(groove, 2.0, root)
    depth, height, _ = circle_in(groove, clear)
    assert height - clear / 2 - depth == pytest.approx(-0.02, abs=1e-14)


def test_lead_term_is_the_handbooks() -> None:
    groove = Groove(0.2, 0.4, 14.5, 14.5)
    angle, helix = math.radians(14.5), math.atan(0.4 / (math.pi * 0.9))
    expected = 0.1033 / 2 * math.tan(helix) ** 2 * math.cos(angle) / math.tan(angle)
    assert section.lead_term(groove, 0.9, 0.1033) == pytest.approx(expected, rel=1e-13)
    assert section.lead_term(Groove(0.2, 0.4, 7.0, 45.0), 0.9, 0.1) is None


def test_a_crest_cut_below_the_pitch_line_takes_smaller_wires() -> None:
    for side, sign in (("external", 1), ("internal", -1)):
        groove = Groove(0.1, 0.1, 30.0, 30.0, side)  # type: ignore[arg-type]
        at_line = section.greatest_wire(groove, 2.0, 2.0)
        assert section.greatest_wire(groove, 2.0, 2.0 - sign * 0.01) < at_line
        assert section.greatest_wire(groove, 2.0, 2.0 + sign * 0.01) > at_line
        assert at_line == pytest.approx(section.best_wire(groove))
