"""Asks a function for each value at its documented limits and one step beyond."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

import pytest

from flankwise_service.core.errors import Fault, Refusal

Limits = Mapping[str, tuple[float, float]]
"""By name of an argument: the least and the greatest value it takes."""


def assert_limits_hold(
    call: Callable[..., Any], good: Mapping[str, Any], limits: Limits, prefix: str = "/"
) -> None:
    """Assert that each argument is taken at both its limits and refused a step beyond either.

    The step is the smallest that a float can make. A value at its limit may be refused for what it
    does together with the others, never for its own range.
    """
    assert not _out_of_range(call, good), "the good values are not good"
    for name, (least, greatest) in limits.items():
        for value in (least, greatest):
            found = _out_of_range(call, {**good, name: value})
            assert prefix + name not in found, f"{name} refuses its limit {value}"
        for value in (math.nextafter(least, -math.inf), math.nextafter(greatest, math.inf)):
            fault = _out_of_range(call, {**good, name: value}).get(prefix + name)
            assert fault is not None, f"{name} takes {value}"
            # told without the last bits of what was computed
            assert (fault.least, fault.greatest) == pytest.approx((least, greatest), rel=1e-12)
            assert fault.detail[0].isalpha(), "a fault begins with the name in words"


def _out_of_range(call: Callable[..., Any], given: Mapping[str, Any]) -> dict[str, Fault]:
    try:
        call(**given)
    except Refusal as refusal:
        return {one.pointer: one for one in refusal.faults if one.code == "out_of_range"}
    return {}
