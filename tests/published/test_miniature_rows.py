"""The stored table of Unified miniature threads against the standard's formulas.

Machinery's Handbook 31, Table 5 (ASME B1.10M), is stored row by row; the formulas of ASME B1.10M
(memory) are independent of it: Td = 0.12 P + 0.006, Td2 = 0.08 P + 0.008, and so on, in mm.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.threads.model import Span
from flankwise_service.core.threads.tables.asme_b1_10 import ROWS, Row
from flankwise_service.core.threads.tables.iso_261 import COARSE, FINE
from flankwise_service.core.threads.tables.iso_965_1_engagement import NORMAL, normal_length

ONE_DIGIT = 0.00101
"""The table rounds each limit on its own, and its inputs are rounded too."""


def by_formula(size: float, pitch: float) -> Row:
    external_pitch = size - 0.64952 * pitch
    external_minor, internal_minor = size - 1.2 * pitch, size - 1.04 * pitch
    internal_major = size + 0.072 * pitch

    def span(start: float, width: float) -> Span:
        low, high = sorted((start, start + width))
        return Span(Decimal(low), Decimal(high))

    return Row(
        Decimal(pitch),
        span(size, -(0.12 * pitch + 0.006)),
        span(external_pitch, -(0.08 * pitch + 0.008)),
        span(external_minor, -(0.16 * pitch + 0.008)),
        span(internal_minor, 0.32 * pitch + 0.012),
        span(external_pitch, 0.08 * pitch + 0.008),
        span(internal_major, 0.168 * pitch + 0.008),
    )


@pytest.mark.parametrize("size", ROWS, ids=str)
def test_row(size: Decimal) -> None:
    row = ROWS[size]
    formula = by_formula(float(size), float(row.pitch))
    for held, expected in zip(row[1:], formula[1:], strict=True):
        assert isinstance(held, Span)
        assert isinstance(expected, Span)
        assert held.min is not None
        assert held.max is not None
        assert float(held.min) == pytest.approx(float(expected.min or 0), abs=ONE_DIGIT)
        assert float(held.max) == pytest.approx(float(expected.max or 0), abs=ONE_DIGIT)


def test_sizes_and_pitches() -> None:
    """The fourteen sizes of ASME B1.10M, Table 1, seen in the same handbook table."""
    assert [(str(size), str(row.pitch)) for size, row in ROWS.items()] == [
        ("0.30", "0.080"), ("0.35", "0.090"), ("0.40", "0.100"), ("0.45", "0.100"),
        ("0.50", "0.125"), ("0.55", "0.125"), ("0.60", "0.150"), ("0.70", "0.175"),
        ("0.80", "0.200"), ("0.90", "0.225"), ("1.00", "0.250"), ("1.10", "0.250"),
        ("1.20", "0.250"), ("1.40", "0.300"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("size", "over", "up_to"),
    [("1", "0.6", "1.7"), ("1.2", "0.6", "1.7"), ("1.4", "0.7", "2"), ("1.6", "0.8", "2.6"), ("1.8", "0.8", "2.6"), ("2", "1", "3"), ("2.5", "1.3", "3.8"), ("3", "1.5", "4.5"), ("3.5", "1.7", "5"), ("4", "2", "6"), ("5", "2.5", "7.5"), ("6", "3", "9")],
)  # fmt: skip
def test_normal_engagement_of_coarse_threads(size: str, over: str, up_to: str) -> None:
    """A published chart of 6g limits after ISO 965, lengths of engagement column (seen)."""
    diameter = Decimal(size)
    assert normal_length(diameter, COARSE[diameter]) == Span(Decimal(over), Decimal(up_to))


def test_normal_engagement_lies_near_the_formula_it_was_smoothed_from() -> None:
    """2.24 P d^0.2 and 6.7 P d^0.2, d the least diameter of the range with that pitch (memory)."""
    least_of = {Decimal(e): Decimal(s) for e, s in (("1.4", "0.99"), ("2.8", "1.4"), ("5.6", "2.8"), ("11.2", "5.6"), ("22.4", "11.2"), ("45", "22.4"), ("90", "45"), ("180", "90"), ("355", "180"))}  # fmt: skip
    for (end, pitch), normal in NORMAL.items():
        start = least_of[end]
        with_pitch = [
            d for d in FINE if start < d <= end and (pitch in FINE[d] or COARSE.get(d) == pitch)
        ]
        factor = float(pitch) * float(min(with_pitch, default=end)) ** 0.2
        assert float(normal.min or 0) == pytest.approx(2.24 * factor, rel=0.12), (end, pitch)
        assert float(normal.max or 0) == pytest.approx(6.7 * factor, rel=0.09), (end, pitch)
