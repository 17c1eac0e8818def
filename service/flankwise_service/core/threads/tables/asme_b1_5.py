"""ASME B1.5-1997 (R2014) and B1.8-1988 (R2021): Acme and Stub Acme screw threads.

Sizes, classes, allowances and tolerances; inches. Limits follow from formulas (see `acme_limits`);
what governs as a table is here: the standard sizes, the standard pitches, the diameter ranges whose
middle decides the allowance, and the diameters at which the tolerance is tabulated.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from flankwise_service.core.threads.model import Source

GENERAL = Source(
    "ASME B1.5", "1997 (R2014)", "general purpose: formulas of allowance, tolerance, limits"
)
ALLOWANCE_RANGES = Source(
    "Machinery's Handbook 27, p. 1841, Table 10",
    "ASME/ANSI B1.5-1988",
    "pitch diameter allowance by nominal size range, from the middle of the range",
    "seen",
)
CENTRALIZING = Source(
    "Machinery's Handbook 27, p. 1837, Table 8a",
    "ASME/ANSI B1.5-1988",
    "formulas for determining diameters, classes 2C, 3C, 4C",
    "seen",
)
CENTRALIZING_MAJOR = Source(
    "ASME B1.5", "1997 (R2014)", "tolerance and allowance of the centralizing major", "memory"
)
TOLERANCE_DIAMETERS = Source(
    "ASME B1.5",
    "1997 (R2014)",
    "pitch diameter tolerance: an intermediate diameter takes the next larger increment",
    "memory",
)
STUB = Source(
    "Machinery's Handbook 27, p. 1844, Table 13",
    "ASME/ANSI B1.8-1988 (R2001)",
    "Stub Acme basic dimensions",
    "seen",
)
STUB_LIMITS = Source(
    "ASME/ANSI B1.8", "1988 (R2021)", "formulas for determining diameters, class 2G", "memory"
)

_SIZES = (
    "1/4-16 5/16-14 3/8-12 7/16-12 1/2-10 5/8-8 3/4-6 7/8-6 1-5 9/8-5 5/4-5 11/8-4 3/2-4 7/4-4 2-4 "
    "9/4-3 5/2-3 11/4-3 3-2 7/2-2 4-2 9/2-2 5-2"
)
_ALLOWANCE_RANGE_ENDS = (
    "3/16 5/16 7/16 9/16 11/16 13/16 15/16 17/16 19/16 21/16 23/16 25/16 15/8 17/8 19/8 21/8 23/8 "
    "13/4 15/4 17/4 19/4 11/2"
)


def _exact(text: str) -> Decimal:
    value = Fraction(text)
    return Decimal(value.numerator) / Decimal(value.denominator)


def _size(text: str) -> tuple[Decimal, Decimal]:
    diameter, threads = text.split("-")
    return _exact(diameter), Decimal(threads)


SIZES: dict[Decimal, Decimal] = dict(_size(text) for text in _SIZES.split())
"""Threads per inch of each standard diameter."""
SMALLEST, LARGEST = Decimal("0.25"), Decimal(5)
SMALLEST_CENTRALIZING = Decimal("0.5")
_WHOLE_AND_HALF = "16 14 12 10 9 8 7 6 5 4 3.5 3 2.5 2 1.5"
THREADS_PER_INCH: tuple[Decimal, ...] = (
    *(Decimal(n) for n in _WHOLE_AND_HALF.split()),
    Decimal(4) / 3,
    Decimal(1),
)
ALLOWANCE_RANGE_ENDS: tuple[Decimal, ...] = tuple(
    _exact(text) for text in _ALLOWANCE_RANGE_ENDS.split()
)

ALLOWANCE = {"2": Decimal("0.008"), "3": Decimal("0.006"), "4": Decimal("0.004")}
"""Pitch diameter allowance of each class over the square root of the diameter."""
TOLERANCE = {
    "2": (Decimal("0.006"), Decimal("0.030")),
    "3": (Decimal("0.0028"), Decimal("0.014")),
    "4": (Decimal("0.002"), Decimal("0.010")),
}
"""Pitch diameter tolerance: over the square roots of the diameter and of the pitch."""
MAJOR_CLEARANCE_CENTRALIZING = Decimal("0.0010")
MAJOR_TOLERANCE_CENTRALIZING = {
    "2": (Decimal("0.0035"), Decimal("0.0035")),
    "3": (Decimal("0.0015"), Decimal("0.0035")),
    "4": (Decimal("0.0010"), Decimal("0.0020")),
}
"""External and internal, over the square root of the diameter."""
