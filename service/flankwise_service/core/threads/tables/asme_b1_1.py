"""ASME B1.1-2003, unchanged in 2019: which diameters stand in which Unified series.

Standing: memory of Table 1 (sizes), Table 2 (standard series) and Table 3 (selected
combinations); single pairs are confirmed by the published rows under tests/published/data.
"""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.threads.common import to_places
from flankwise_service.core.threads.model import Source
from flankwise_service.core.threads.sizes import inch_size

SERIES_SOURCE = Source("ASME B1.1", "2003, unchanged 2019", "Tables 1 to 3, series", "memory")

# "1." is one inch, "1" is No. 1.
_UNC = (
    "1-64 2-56 3-48 4-40 5-40 6-32 8-32 10-24 12-24 1/4-20 5/16-18 3/8-16 7/16-14 1/2-13 9/16-12 "
    "5/8-11 3/4-10 7/8-9 1.0-8 1_1/8-7 1_1/4-7 1_3/8-6 1_1/2-6 1_3/4-5 2.0-4.5 2_1/4-4.5 2_1/2-4 "
    "2_3/4-4 3.0-4 3_1/4-4 3_1/2-4 3_3/4-4 4.0-4"
)
_UNF = (
    "0-80 1-72 2-64 3-56 4-48 5-44 6-40 8-36 10-32 12-28 1/4-28 5/16-24 3/8-24 7/16-20 1/2-20 "
    "9/16-18 5/8-18 3/4-16 7/8-14 1.0-12 1_1/8-12 1_1/4-12 1_3/8-12 1_1/2-12"
)
_UNEF = (
    "12-32 1/4-32 5/16-32 3/8-32 7/16-28 1/2-28 9/16-24 5/8-24 11/16-24 3/4-20 13/16-20 7/8-20 "
    "15/16-20 1.0-20 1_1/16-18 1_1/8-18 1_3/16-18 1_1/4-18 1_5/16-18 1_3/8-18 1_7/16-18 1_1/2-18 "
    "1_9/16-18 1_5/8-18 1_11/16-18"
)
_UNS = {
    10: "1.0 1_1/8 1_1/4 1_3/8 1_1/2 1_5/8 1_3/4 1_7/8 2.0 2_1/4 2_1/2 2_3/4 3.0 3_1/4 3_1/2 3_3/4 "
    "4.0 4_1/4 4_1/2 4_3/4 5.0 5_1/4 5_1/2 5_3/4 6.0 7/8",
    12: "1/2",
    14: "1/2 9/16 5/8 3/4 1.0 1_1/8 1_1/4 1_3/8 1_1/2 1_5/8 1_3/4 1_7/8 2.0 2_1/4 2_1/2 2_3/4 3.0 "
    "3_1/4 3_1/2 3_3/4 4.0 4_1/4 4_1/2 4_3/4 5.0 5_1/4 5_1/2 5_3/4 6.0",
    16: "2_1/16 2_3/16 2_5/16 2_7/16",
    18: "3/8 7/16 1/2 3/4 7/8 1.0 1_3/4 1_7/8 2.0 2_1/4 2_1/2 2_3/4 3.0 3_1/4 3_1/2 3_3/4 4.0",
    24: "1/4 7/16 1/2 3/4 7/8 1.0 1_1/8 1_1/4 1_3/8 1_1/2 1_5/8",
    27: "1/4 5/16 3/8 0.390 7/16 1/2 9/16 5/8 3/4 7/8 1.0",
    28: "10",
    36: "10 12 1/4 5/16 3/8",
    40: "10 12 1/4 5/16 3/8",
    48: "10 12 1/4 5/16",
    56: "10 12 1/4",
}


def _pairs(text: str) -> dict[Decimal, Decimal]:
    found = {}
    for pair in text.split():
        size, threads = pair.rsplit("-", 1)
        found[_diameter(size)] = Decimal(threads)
    return found


def _diameter(size: str) -> Decimal:
    diameter = inch_size(size.replace("_", " "))
    assert diameter is not None, size
    return diameter


def _range(first: str, last: str, sixteenths: int) -> tuple[Decimal, ...]:
    """Return diameters from first to last in steps of so many sixteenths of an inch."""
    step = Decimal(sixteenths) / 16
    at, end = Decimal(first), Decimal(last)
    found = []
    while at <= end:
        found.append(to_places(at, 4))
        at += step
    return tuple(found)


UNC = _pairs(_UNC)
UNF = _pairs(_UNF)
UNEF = _pairs(_UNEF)
_SIXTEENTHS_TO_2 = _range("0.4375", "2", 1)
_EIGHTHS = _range("2.125", "6", 2)
UN: dict[int, tuple[Decimal, ...]] = {
    4: _range("2.5", "6", 2),
    6: _range("1.375", "2", 1) + _EIGHTHS,
    8: _range("1", "2", 1) + _EIGHTHS,
    12: _range("0.5625", "2", 1) + _EIGHTHS,
    16: _range("0.375", "2", 1) + _EIGHTHS,
    20: _range("0.25", "2", 1) + _range("2.125", "3", 2),
    28: (_diameter("12"), *_range("0.25", "1.5", 1)),
    32: (*(_diameter(n) for n in ("6", "8", "10", "12")), *_range("0.25", "1", 1)),
}
"""The constant-pitch series; a pairing also in UNC, UNF or UNEF goes by that name."""
UNS: frozenset[tuple[Decimal, Decimal]] = frozenset(
    (_diameter(size), Decimal(threads)) for threads, row in _UNS.items() for size in row.split()
)
"""Selected combinations that Table 3 lists; a UNS thread may have any other pairing too."""


def _series_of_pairs() -> dict[tuple[Decimal, Decimal], str]:
    found: dict[tuple[Decimal, Decimal], str] = {}
    for name, pairs in (("UNC", UNC), ("UNF", UNF), ("UNEF", UNEF)):
        found.update(dict.fromkeys(pairs.items(), name))
    for threads, diameters in UN.items():
        for diameter in diameters:
            found.setdefault((diameter, Decimal(threads)), "UN")
    return found


SERIES: dict[tuple[Decimal, Decimal], str] = _series_of_pairs()
"""Series of each standard (diameter, threads per inch)."""
PAIRS: tuple[tuple[Decimal, Decimal, str], ...] = tuple(
    sorted([(*pair, name) for pair, name in SERIES.items()] + [(*pair, "UNS") for pair in UNS])
)
"""All tabulated pairings with their series, by diameter, then threads per inch."""
