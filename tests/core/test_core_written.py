"""Lengths in words keep the places of the trade, however large the thread."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import BossAsked, Job, StockAsked, ThreadAsked
from flankwise_service.core.units import PLACES, Unit, limit_written, written


@given(st.floats(1e-3, 1e4), st.sampled_from(["in", "mm"]))
def test_a_length_in_words_is_within_half_its_last_place(length: float, unit: Unit) -> None:
    assert abs(float(written(length, unit)) - length) <= 0.5000001 * 10.0 ** -PLACES[unit]
    assert "e" not in written(length, unit)


@given(st.integers(1, 10**7))
def test_a_limit_of_a_table_is_printed_whole(count: int) -> None:
    assert limit_written(count / 1000, "mm") == f"{count // 1000}.{count % 1000:03d}"
    assert limit_written(count / 10000, "in") == f"{count // 10000}.{count % 10000:04d}"
    assert float(limit_written(count / 100000, "in")) == count / 100000


@pytest.mark.parametrize(
    ("job", "remark"),
    [
        # ISO 965-1 (from memory): 121.103 basic, es -80 and Td2 300 micrometres.
        (Job("mm", ThreadAsked("M125x6-6g", 20.0), StockAsked("C45", "round", diameter=150.0),
             boss=BossAsked(60.0, ready=True)), "Pitch diameter 120.723 to 121.023 mm"),
        # The same in inches: 120.723 / 25.4 and 121.023 / 25.4.
        (Job("in", ThreadAsked("M125x6-6g", 0.8), StockAsked("C45", "round", diameter=5.9),
             boss=BossAsked(2.4, ready=True)), "Pitch diameter 4.752874 to 4.764685 in"),
    ],
)  # fmt: skip
def test_limits_of_a_large_thread_keep_their_decimals(job: Job, remark: str) -> None:
    program = work(job, "1.0.0").plan.program
    assert program is not None
    assert remark in program.text
