"""Roots that the tolerance formulas of the standards take, to the digits of the decimal context.

BS 84 and ASME B1.9 take the cube root of the diameter for their effective and pitch diameters.
"""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

_THIRD = Decimal(1) / 3


@lru_cache(maxsize=512)
def cube_root(value: Decimal) -> Decimal:
    """Return the cube root of a positive length; kept, for it is slow to work out.

    >>> round(cube_root(Decimal(2)), 6)
    Decimal('1.259921')
    """
    return value**_THIRD
