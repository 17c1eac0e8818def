"""The first-order formula against the exact form: right where it should be, and only there."""

from __future__ import annotations

import math

import numpy as np
import pytest

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import BadInput
from flankwise_service.core.form.envelope import edges
from flankwise_service.core.form.model import single
from flankwise_service.core.form.overcut import (
    overcut_first_order,
    pitch_diameter_change_first_order,
)
from flankwise_service.core.form.pitchline import (
    overcut_effect_first_order,
    pitch_line,
    triangle_pitch_radius,
)
from flankwise_service.core.threads.model import Side


@pytest.mark.parametrize("side", ["internal", "external"])
@pytest.mark.parametrize("angle", [14.5, 27.5, 30.0, 45.0])
def test_overcut_tends_to_first_order_as_the_square_of_the_lead(side: Side, angle: float) -> None:
    """What is left after first order falls with the fourth power of the lead."""
    centre = 1.0 if side == "internal" else 7.0
    radius = 3.7 if side == "internal" else 4.3
    errors = []
    for lead in (0.4, 0.2):
        cut = single(Tooth(angle, angle, 0.1, 0.9), 3.0, side, lead, centre)
        tooth = 0.05 + (3.0 - abs(radius - centre)) * math.tan(math.radians(angle))
        exact = float(edges(cut, np.array([radius]))[0, 0]) - tooth
        first = overcut_first_order(radius, centre, lead, angle)
        assert exact == pytest.approx(first, rel=0.03)
        errors.append(abs(exact - first))
    assert errors[0] / errors[1] == pytest.approx(16, rel=0.1)


def test_overcut_by_hand() -> None:
    """(1/(2 pi))^2 * 1 / (2 tan 45 * 2 * 1) with lead 1, r 2, Rc 1: 0.00633257."""
    assert overcut_first_order(2.0, 1.0, 1.0, 45.0) == pytest.approx(
        1 / (16 * math.pi**2), rel=1e-14
    )


def test_pitch_diameter_change_by_hand() -> None:
    """Twice the overcut over the tangent, for equal flanks: (L/2 pi)^2 rho / (tan^2 r Rc)."""
    change = pitch_diameter_change_first_order(3.6, 1.0, 1.25, 30.0, 30.0)
    assert change == pytest.approx((1.25 / (2 * math.pi)) ** 2 * 2.6 * 3 / 3.6, rel=1e-14)
    unequal = pitch_diameter_change_first_order(3.6, 1.0, 1.25, 45.0, 7.0)
    h2 = (1.25 / (2 * math.pi)) ** 2 * 2.6 / (2 * 3.6)
    t = math.tan(math.radians(7.0))
    assert unequal == pytest.approx(2 * h2 * (1 + 1 / t) / (1 + t), rel=1e-14)


@pytest.mark.parametrize(("side", "sign"), [("internal", 1), ("external", -1)])
def test_effect_is_signed_and_close(side: Side, sign: int) -> None:
    cut = single(Tooth(30.0, 30.0, 0.15, 0.9), 2.0, side, 1.25, 6.0)
    first = overcut_effect_first_order(cut)
    assert first is not None
    exact = 2 * (pitch_line(cut).radius - triangle_pitch_radius(cut))
    assert sign * first > 0
    assert exact == pytest.approx(first, rel=0.02)


def test_first_order_says_nothing_of_a_square_flank() -> None:
    cut = single(Tooth(45.0, 0.0, 0.15, 0.9), 2.0, "internal", 1.25, 2.0)
    assert overcut_effect_first_order(cut) is None
    assert pitch_line(cut).radius > triangle_pitch_radius(cut)


@pytest.mark.parametrize(
    ("radius", "centre", "lead", "angle", "pointer"),
    [
        (0.0, 1.0, 1.0, 30.0, "/radius"),
        (1.0, 0.0, 1.0, 30.0, "/centre_radius"),
        (1.0, 1.0, -1.0, 30.0, "/lead"),
        (1.0, 1.0, 1.0, 0.0, "/flank_angle"),
        (1.0, 1.0, 1.0, 90.0, "/flank_angle"),
        (10**400, 1.0, 1.0, 30.0, "/radius"),
    ],
)
def test_first_order_refuses_what_it_cannot_use(
    radius: float, centre: float, lead: float, angle: float, pointer: str
) -> None:
    with pytest.raises(BadInput) as refused:
        overcut_first_order(radius, centre, lead, angle)
    assert [fault.pointer for fault in refused.value.faults] == [pointer]
