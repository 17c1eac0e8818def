"""Inch and millimetre: 25.4 exactly (NIST SP 811, 2008, Appendix B.8), and nothing rounded."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core import units
from flankwise_service.core.units import Unit

LENGTHS = st.floats(1e-6, 1e6)
PUBLISHED = st.decimals("0.00001", "9999", places=5)


def test_the_figures_are_those_of_nist_sp_811() -> None:
    """Appendix B.8: 1 in = 25.4 mm, 1 ft = 0.3048 m and 1 lb = 0.453 592 37 kg, all exact."""
    assert units.UNITS == ("in", "mm")
    assert (25.4, Decimal("25.4")) == (units.MM_PER_INCH, units.MM_PER_INCH_EXACT)
    assert units.KG_PER_POUND == 0.45359237
    assert pytest.approx(0.3048, rel=1e-15) == 1.0 / units.FEET_PER_METRE


@settings(deadline=None)
@given(PUBLISHED)
def test_published_limits_convert_exactly_to_mm(length: Decimal) -> None:
    assert Fraction(units.convert_exact(length, "in", "mm")) == Fraction(length) * Fraction(254, 10)
    assert units.convert_exact(length, "mm", "mm") is length
    assert units.convert_exact(length, "in", "in") is length


@settings(deadline=None)
@given(PUBLISHED)
def test_to_inches_the_whole_decimal_context_is_carried(length: Decimal) -> None:
    inches = Fraction(units.convert_exact(length, "mm", "in"))
    exact = Fraction(length) * Fraction(10, 254)
    assert abs(inches - exact) <= exact * Fraction(1, 10**27)


@settings(deadline=None)
@given(PUBLISHED, st.sampled_from(units.UNITS), st.sampled_from(units.UNITS))
def test_decimals_and_floats_agree_to_the_last_bits(length: Decimal, unit: Unit, to: Unit) -> None:
    exact = float(units.convert_exact(length, unit, to))
    assert units.convert(float(length), unit, to) == pytest.approx(exact, rel=4e-16)


@settings(deadline=None)
@given(LENGTHS, st.sampled_from(units.UNITS))
def test_to_mm_and_from_mm_undo_each_other(length: float, unit: Unit) -> None:
    assert units.from_mm(units.to_mm(length, unit), unit) == pytest.approx(length, rel=1e-15)
    assert units.to_mm(length, "mm") == length
    assert units.to_mm(length, "in") == length * 25.4
    assert units.from_mm(length, "in") == length / 25.4


@settings(deadline=None)
@given(LENGTHS)
def test_surface_speeds_are_feet_or_metres_a_minute(speed: float) -> None:
    assert units.surface_speed_in_m_per_min(speed, "in") == pytest.approx(speed * 0.3048, rel=1e-15)
    assert units.surface_speed_from_m_per_min(speed, "in") == pytest.approx(
        speed / 0.3048, rel=1e-15
    )
    assert units.surface_speed_in_m_per_min(speed, "mm") == speed
    assert units.surface_speed_from_m_per_min(speed, "mm") == speed
