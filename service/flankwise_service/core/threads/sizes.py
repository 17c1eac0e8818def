"""Inch sizes as the trade writes them: numbers, fractions, decimals.

Number sizes: No. n is 0.060 + 0.013 n in (ASME B1.1-2003, Table 1; memory).
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from flankwise_service.core.threads.common import plain, to_places

NUMBERS = (0, 1, 2, 3, 4, 5, 6, 8, 10, 12)
SIZE = r"(?:#\d{1,2}|\d{1,2}[ -]\d{1,2}/\d{1,3}|\d{1,3}/\d{1,3}|\d{0,2}\.\d{1,6}|\d{1,2})"
"""Pattern of an inch size; "10" may be No. 10 or ten inches, the reader decides."""
_FRACTION = re.compile(r"(?:(\d{1,2})[ -])?(\d{1,3})/(\d{1,3})")
_DECIMAL = re.compile(r"\d{0,2}\.\d{1,6}|\d{1,2}")
_FINEST_DENOMINATOR = 64


def number_diameter(number: int) -> Decimal | None:
    """Return the diameter of a number size in inches, or None when there is none.

    >>> number_diameter(10)
    Decimal('0.1900')
    """
    if number not in NUMBERS:
        return None
    return Decimal("0.0600") + Decimal("0.0130") * number


def inch_diameter(text: str) -> Decimal | None:
    """Return the diameter, to the 4 decimals of ASME B1.1, that a size names; None if none.

    A bare whole number is read as inches here; "#10" as a number size.

    >>> [str(inch_diameter(size)) for size in ("#10", "7/8", "1-1/4", "1 1/4", ".875", "2")]
    ['0.1900', '0.8750', '1.2500', '1.2500', '0.8750', '2.0000']
    """
    if text.startswith("#"):
        return number_diameter(int(text[1:]))
    if match := _FRACTION.fullmatch(text):
        whole, above, below = (int(part or 0) for part in match.groups())
        if not 0 < above < below or below & (below - 1) or below > _FINEST_DENOMINATOR:
            return None
        return to_places(Decimal(whole) + Decimal(above) / Decimal(below), 4)
    if _DECIMAL.fullmatch(text):
        return to_places(Decimal(text), 4)
    return None


def inch_size(text: str) -> Decimal | None:
    """Return the diameter of a size, a bare 6, 8, 10 or 12 and the like being a number size.

    >>> inch_size("10"), inch_size("7/8")
    (Decimal('0.1900'), Decimal('0.8750'))
    """
    if text.isdigit() and (number := number_diameter(int(text))) is not None:
        return number
    return inch_diameter(text)


def _named_numbers() -> dict[Decimal, str]:
    return {Decimal("0.0600") + Decimal("0.0130") * n: f"#{n}" for n in NUMBERS}


_NUMBER_OF = _named_numbers()


def size_name(diameter: Decimal) -> str:
    """Return the trade's name of an inch diameter: #10, 7/8, 1 1/4, 2, or 4 decimals.

    >>> [size_name(Decimal(d)) for d in ("0.19", "0.875", "1.25", "2", "0.2969", "0.3900")]
    ['#10', '7/8', '1 1/4', '2', '19/64', '0.3900']
    """
    if diameter in _NUMBER_OF:
        return _NUMBER_OF[diameter]
    nearest = Fraction(round(diameter * _FINEST_DENOMINATOR), _FINEST_DENOMINATOR)
    exact = Decimal(nearest.numerator) / Decimal(nearest.denominator)
    if nearest == 0 or to_places(exact, 4) != diameter:
        return str(to_places(diameter, 4))
    whole, rest = divmod(nearest, 1)
    if rest == 0:
        return plain(Decimal(whole))
    return f"{whole} {rest}" if whole else str(rest)
