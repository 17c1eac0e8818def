"""Series of ASME B1.1, entered a second time by size where the table goes by threads per inch.

Tables 1 to 3 of the standard were not at hand: both entries are from memory, made apart.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.threads.sizes import inch_size
from flankwise_service.core.threads.tables.asme_b1_1 import SERIES, UN, UNEF, UNF, UNS

# Selected combinations (UNS), by size.
SELECTED = """
10: 28 36 40 48 56 | 12: 36 40 48 56 | 1/4: 24 27 36 40 48 56 | 5/16: 27 36 40 48
3/8: 18 27 36 40 | 0.390: 27 | 7/16: 18 24 27 | 1/2: 12 14 18 24 27 | 9/16: 14 27 | 5/8: 14 27
3/4: 14 18 24 27 | 7/8: 10 18 24 27 | 1.0: 10 14 18 24 27 | 1 1/8: 10 14 24 | 1 1/4: 10 14 24
1 3/8: 10 14 24 | 1 1/2: 10 14 24 | 1 5/8: 10 14 24 | 1 3/4: 10 14 18 | 1 7/8: 10 14 18
2.0: 10 14 18 | 2 1/16: 16 | 2 3/16: 16 | 2 1/4: 10 14 18 | 2 5/16: 16 | 2 7/16: 16
2 1/2: 10 14 18 | 2 3/4: 10 14 18 | 3.0: 10 14 18 | 3 1/4: 10 14 18 | 3 1/2: 10 14 18
3 3/4: 10 14 18 | 4.0: 10 14 18 | 4 1/4: 10 14 | 4 1/2: 10 14 | 4 3/4: 10 14 | 5.0: 10 14
5 1/4: 10 14 | 5 1/2: 10 14 | 5 3/4: 10 14 | 6.0: 10 14
"""


def test_selected_combinations_by_size():
    expected = set()
    for line in SELECTED.strip().replace("\n", " | ").split(" | "):
        size, _, threads = line.partition(": ")
        expected |= {(inch_size(size), Decimal(n)) for n in threads.split()}
    assert expected == UNS


@pytest.mark.parametrize(
    ("threads", "least", "greatest", "count"),
    [
        # sixteenths up to 2 in, eighths beyond: (greatest - 2) * 8 of them
        (4, "2.5", "6", 29), (6, "1.375", "6", 11 + 32), (8, "1", "6", 17 + 32),
        (12, "0.5625", "6", 24 + 32), (16, "0.375", "6", 27 + 32), (20, "0.25", "3", 29 + 8),
        (28, "0.216", "1.5", 1 + 21), (32, "0.138", "1", 4 + 13),
    ],
)  # fmt: skip
def test_constant_pitch_series_run_from_size_to_size(threads, least, greatest, count):
    sizes = UN[threads]
    assert (min(sizes), max(sizes), len(sizes)) == (Decimal(least), Decimal(greatest), count)
    assert list(sizes) == sorted(set(sizes))
    for one in sizes:
        sixteenths = one * 16
        whole = abs(sixteenths - round(sixteenths)) < Decimal("0.001")
        assert whole == (one >= Decimal("0.25"))
        if one > 2:
            assert round(sixteenths) % 2 == 0


@pytest.mark.parametrize(
    ("diameter", "threads", "series"),
    [("0.25", "20", "UNC"), ("0.25", "28", "UNF"), ("0.25", "32", "UNEF"), ("1.5", "12", "UNF"),
     ("1.5", "18", "UNEF"), ("1.625", "12", "UN"), ("2", "4.5", "UNC"), ("1", "12", "UNF"),
     ("6", "4", "UN"), ("0.19", "32", "UNF"), ("0.216", "32", "UNEF")],
)  # fmt: skip
def test_a_pair_of_a_graded_series_is_named_by_it(diameter, threads, series):
    assert SERIES[Decimal(diameter), Decimal(threads)] == series


def test_fine_series_end_where_the_standard_says():
    assert (min(UNF), max(UNF)) == (Decimal("0.0600"), Decimal("1.5000"))
    assert (min(UNEF), max(UNEF)) == (Decimal("0.2160"), Decimal("1.6875"))
