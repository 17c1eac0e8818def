"""Limits are made in decimal arithmetic; here the same figures in floats, by formulas of their own.

Source of the formulas: basic profile of ISO 68-1 and of ASME B1.1 (the same 60 degree triangle,
H = P sqrt(3)/2, pitch line at 3/8 H and minor diameter at 5/8 H below the major), known to
everyone in the trade (memory). Pitch diameter tolerance of Unified class 2A, ASME B1.1, section on
formulas (memory): 0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3), other classes in proportion.
"""

from __future__ import annotations

import math
from decimal import Decimal
from functools import cache

import pytest

from flankwise_service.core.errors import NoSource
from flankwise_service.core.threads import Limits, designations, limits, parse
from flankwise_service.core.threads.model import Side

SHARE = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}
LAST = {"in": 1e-4, "mm": 1e-3}


@cache
def named(family: str) -> tuple[str, ...]:
    return tuple(name for name in designations() if parse(name).family == family)


def stated(text: str, side: Side) -> Limits | None:
    try:
        return limits(text, side=side)
    except NoSource:
        return None


@pytest.mark.parametrize("family", ["unified", "iso_metric"])
def test_basic_sizes_agree_within_half_of_the_last_digit(family: str) -> None:
    compared = 0
    for name in named(family):
        thread = parse(name)
        if (found := stated(f"{name}-{'2B' if family == 'unified' else '6H'}", "internal")) is None:
            continue
        diameter, height = float(thread.diameter), float(thread.pitch) * math.sqrt(3) / 2
        half = 0.5 * LAST[thread.unit] * 1.001
        assert abs(float(found.basic.pitch_diameter) - (diameter - 0.75 * height)) <= half, name
        assert abs(float(found.basic.minor_diameter) - (diameter - 1.25 * height)) <= half, name
        compared += 1
    assert compared > 150


def test_tolerances_of_unified_threads_agree_within_half_of_a_hundredth_of_the_last_digit() -> None:
    compared = 0
    for name in named("unified"):
        thread = parse(name)
        # The length of engagement the standard reckons with: the diameter, or nine pitches.
        coarse_or_fine = thread.series in ("UNC", "UNF", "4-UN", "6-UN", "8-UN")
        for thread_class, share in SHARE.items():
            side: Side = "external" if thread_class.endswith("A") else "internal"
            found = stated(f"{name}-{thread_class}", side)
            if found is None or thread.engagement is not None or not coarse_or_fine:
                continue
            diameter, pitch = float(thread.diameter), float(thread.pitch)
            reckoned = share * (
                0.0015 * diameter ** (1 / 3)
                + 0.0015 * math.sqrt(diameter)
                + 0.015 * pitch ** (2 / 3)
            )
            tolerance = found.tolerances.pitch_diameter
            assert tolerance is not None
            assert abs(float(tolerance) - reckoned) <= 1.5e-6, (name, thread_class)
            compared += 1
    assert compared > 100


def test_no_figure_has_been_through_a_float() -> None:
    for name in [*named("unified")[::20], *named("iso_metric")[::20]]:
        thread = parse(name)
        found = stated(f"{name}-{'2A' if thread.unit == 'in' else '6g'}", "external")
        if found is None:
            continue
        digits = 4 if thread.unit == "in" else 3
        for span in (found.major_diameter, found.pitch_diameter):
            for limit in (span.min, span.max):
                assert type(limit) is Decimal
                assert limit == round(limit, digits), "more digits than its standard prints"
