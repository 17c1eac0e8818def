"""The only place where inch meets millimetre.

1 in = 25.4 mm exactly (source: ISO 31-1 / the international inch of 1959; NIST SP 811, 2008,
Appendix B.8). Published limits stay in their standard's unit as `Decimal`; a conversion to
millimetres is exact, one to inches is a plain division, and neither is rounded.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

Unit = Literal["in", "mm"]

UNITS: tuple[Unit, ...] = ("in", "mm")
MM_PER_INCH = 25.4
MM_PER_INCH_EXACT = Decimal("25.4")
KG_PER_POUND = 0.45359237
"""Exact by definition (NIST SP 811, 2008, Appendix B.8)."""
FEET_PER_METRE = 1 / 0.3048


def convert(length: float, unit: Unit, to: Unit) -> float:
    """Return `length`, given in `unit`, expressed in `to`.

    >>> convert(1.0, "in", "mm")
    25.4
    >>> convert(25.4, "mm", "in")
    1.0
    >>> convert(0.1, "mm", "mm")
    0.1
    """
    if unit == to:
        return length
    return length * MM_PER_INCH if to == "mm" else length / MM_PER_INCH


def convert_exact(length: Decimal, unit: Unit, to: Unit) -> Decimal:
    """Return a published `length` expressed in `to`, never re-rounded to printed digits.

    To millimetres the result is exact; to inches it carries the 28 digits of the decimal context.

    >>> convert_exact(Decimal("0.8734"), "in", "mm")
    Decimal('22.18436')
    """
    if unit == to:
        return length
    return length * MM_PER_INCH_EXACT if to == "mm" else length / MM_PER_INCH_EXACT


def to_mm(length: float, unit: Unit) -> float:
    """Return `length`, given in `unit`, in millimetres.

    >>> to_mm(0.5, "in")
    12.7
    """
    return convert(length, unit, "mm")


def from_mm(length: float, unit: Unit) -> float:
    """Return `length`, given in millimetres, in `unit`.

    >>> from_mm(12.7, "in")
    0.5
    """
    return convert(length, "mm", unit)


def surface_speed_in_m_per_min(speed: float, unit: Unit) -> float:
    """Return a surface speed in m/min; `unit` "in" means the trade's ft/min.

    >>> round(surface_speed_in_m_per_min(300.0, "in"), 3)
    91.44
    """
    return speed / FEET_PER_METRE if unit == "in" else speed


def surface_speed_from_m_per_min(speed: float, unit: Unit) -> float:
    """Return a surface speed given in m/min as ft/min (`unit` "in") or m/min ("mm").

    >>> round(surface_speed_from_m_per_min(91.44, "in"), 9)
    300.0
    """
    return speed * FEET_PER_METRE if unit == "in" else speed
