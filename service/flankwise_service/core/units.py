"""The only place where inch meets millimetre.

1 in = 25.4 mm exactly (source: ISO 31-1 / the international inch of 1959; NIST SP 811, 2008,
Appendix B.8). Published limits stay in their standard's unit as `Decimal`; a conversion to
millimetres is exact, one to inches is a plain division, and neither is rounded.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Literal

Unit = Literal["in", "mm"]

UNITS: tuple[Unit, ...] = ("in", "mm")
MM_PER_INCH = 25.4
MM_PER_INCH_EXACT = Decimal("25.4")
PLACES = {"in": 4, "mm": 3}
"""Digits after the point that tables of limits and drawings of the trade have at least."""
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


def limit_from_mm(limit: float, unit: Unit) -> float:
    """Return a limit of ours, given in millimetres, in `unit`: of four digits, as it is told.

    >>> limit_from_mm(2000.0, "in"), limit_from_mm(0.1, "in"), limit_from_mm(2000.0, "mm")
    (78.74, 0.003937, 2000.0)
    """
    return float(f"{from_mm(limit, unit):.4g}")


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


def written(length: float, unit: str, digits: int = 4) -> str:
    """Return a length in words: with `PLACES` of its unit, or so many digits where that is more.

    Figures that are no lengths (another `unit`) have `digits` alone. Zeros at the end stay out.

    >>> written(120.723, "mm"), written(12.34567, "in"), written(0.0812345, "in")
    ('120.723', '12.3457', '0.08123')
    >>> written(22.0, "mm"), written(0.0, "mm"), written(100000.0, "mm"), written(1234.56, "N")
    ('22', '0', '100000', '1235')
    >>> written(0.0714286, "in", 6)
    '0.0714286'
    """
    return _without_power(f"{length:.{_digits(length, unit, digits)}g}")


def written_up(length: float, unit: str, digits: int = 4) -> str:
    """Return a length of which at least so much is needed: rounded up, so that it is enough.

    >>> written_up(22.40049, "mm"), written_up(22.4, "mm"), written_up(0.0, "mm")
    ('22.401', '22.4', '0')
    >>> written_up(19 - 18.999, "mm")
    '0.001'
    """
    return _one_way(length, _digits(length, unit, digits), ROUND_CEILING)


def written_down(length: float, unit: str, digits: int = 4) -> str:
    """Return a length of which at most so much is allowed: rounded down.

    >>> written_down(15.9079, "mm"), written_down(0.0920699, "mm"), written_down(16.0, "mm")
    ('15.907', '0.09206', '16')
    """
    return _one_way(length, _digits(length, unit, digits), ROUND_FLOOR)


def _digits(length: float, unit: str, digits: int) -> int:
    whole = len(f"{abs(length):.0f}") if abs(length) >= 1 else 0
    return max(digits, whole + PLACES.get(unit, -whole))


def _one_way(length: float, digits: int, rounding: str) -> str:
    exact = Decimal(f"{length:.12f}")  # without its last bits, those of a difference
    step = Decimal(1).scaleb(exact.adjusted() - digits + 1)
    return _without_power(exact.quantize(step, rounding))


def _without_power(figure: str | Decimal) -> str:
    """Return a figure as a person writes it: no power of ten, no zeros at the end, no -0."""
    text = format(Decimal(figure), "f")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def limit_written(limit: float, unit: str) -> str:
    """Return a limit with the places a table prints, three of a mm or four of an inch, or more.

    >>> limit_written(120.723, "mm"), limit_written(7.16, "mm"), limit_written(0.70129, "in")
    ('120.723', '7.160', '0.70129')
    """
    own = len(f"{limit:.6f}".rstrip("0").partition(".")[2])
    return f"{limit:.{max(PLACES.get(unit, 3), own)}f}"
