"""ASME B1.9-1973 (R2017): buttress inch screw threads, 7 and 45 degrees; inches, or pitches.

Form factors and the tables of tolerance and allowance: Machinery's Handbook 27, pages 1853 to 1855
(Tables 3, 4, 5). The diameter increment of tolerance comes from the middle of each diameter range.
"""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.threads.model import Source

FORM = Source(
    "Machinery's Handbook 27, p. 1853, Table 3",
    "ANSI B1.9-1973 (R1992)",
    "symbols and form",
    "seen",
)
TOLERANCES = Source(
    "Machinery's Handbook 27, p. 1854, Table 4",
    "ANSI B1.9-1973 (R1992)",
    "tolerances of classes 2 and 3; pitch increment 0.0173 sqrt(p)",
    "seen",
)
CLASS_3 = Source(
    "ASME B1.9", "1973 (R2017)", "section 6: class 3 is two thirds of class 2", "memory"
)
ALLOWANCES = Source(
    "Machinery's Handbook 27, p. 1855",
    "ANSI B1.9-1973 (R1992)",
    "allowance equal to the class 3 pitch diameter tolerance",
    "seen",
)
SIZES_SOURCE = Source("ASME B1.9", "1973 (R2017)", "Table 1, diameter-pitch pairs", "memory")

FUNDAMENTAL = Decimal("0.89064")
ENGAGEMENT = Decimal("0.6")
"""Basic height of thread engagement, h."""
HEIGHT = Decimal("0.66271")
ROOT_RADIUS = Decimal("0.07141")
CREST_WIDTH = Decimal("0.16316")
ROOT_FLAT = Decimal("0.0928")
ROOT_EXTRA = Decimal("0.12542")
"""Internal major less basic major."""
MINOR_HEIGHTS = Decimal("1.32542")
"""Basic major less external minor before the allowance."""
ROOT_FROM_PITCH = Decimal("0.80803")
"""From the pitch diameter to the farthest root: greatest internal major, least external minor."""
PITCH_INCREMENT = Decimal("0.0173")
DIAMETER_INCREMENT = Decimal("0.002")
"""Over the cube root of the middle of the diameter range."""

_RANGES = """
0.5 0.7:20,16,12
0.7 1.0:16,12,10
1.0 1.5:16,12,10,8,6
1.5 2.5:16,12,10,8,6,5,4
2.5 4:16,12,10,8,6,5,4
4 6:12,10,8,6,5,4,3
6 10:10,8,6,5,4,3,2.5,2
10 16:10,8,6,5,4,3,2.5,2,1.5,1.25
16 24:8,6,5,4,3,2.5,2,1.5,1.25,1
"""


def _range(line: str) -> tuple[Decimal, Decimal, tuple[Decimal, ...]]:
    ends, threads = line.split(":")
    low, high = ends.split()
    return Decimal(low), Decimal(high), tuple(Decimal(n) for n in threads.split(","))


RANGES = tuple(_range(line) for line in _RANGES.strip().split("\n"))
"""Diameter over and through, and the threads per inch that go with it."""
_PREFERRED = (
    "0.5 0.625 0.6875 0.75 0.875 1 1.25 1.375 1.5 1.75 2 2.25 2.5 2.75 3 3.5 4 4.5 5 5.5 6 7 8 "
    "9 10 11 12 14 16 18 20 22 24"
)
PREFERRED: tuple[Decimal, ...] = tuple(Decimal(d) for d in _PREFERRED.split())
SMALLEST, LARGEST = PREFERRED[0], PREFERRED[-1]


def range_of(diameter: Decimal) -> tuple[Decimal, Decimal, tuple[Decimal, ...]]:
    """Return the diameter range that holds a diameter, 0.5 to 24 in.

    >>> range_of(Decimal("0.75"))[:2]
    (Decimal('0.7'), Decimal('1.0'))
    """
    return next(row for row in RANGES if diameter <= row[1])
