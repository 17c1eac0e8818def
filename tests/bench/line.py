"""Straight lines through measurements, and how far from straight they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Line:
    """time = base + slope * size."""

    base: float
    slope: float
    exponent: float
    """Slope in a doubly logarithmic picture over the upper half of the sizes: 1 is proportional."""


def through(sizes: Sequence[float], times: Sequence[float]) -> Line:
    """Return the line with the least relative error (each point weighs by 1 / time squared)."""
    from math import log

    weights = [1 / (time * time) for time in times]
    total = sum(weights)
    mean_x = sum(w * x for w, x in zip(weights, sizes, strict=True)) / total
    mean_y = sum(w * y for w, y in zip(weights, times, strict=True)) / total
    over = sum(
        w * (x - mean_x) * (y - mean_y) for w, x, y in zip(weights, sizes, times, strict=True)
    )
    under = sum(w * (x - mean_x) ** 2 for w, x in zip(weights, sizes, strict=True))
    slope = over / under
    half = len(sizes) // 2
    exponent = log(times[-1] / times[half]) / log(sizes[-1] / sizes[half])
    return Line(mean_y - slope * mean_x, slope, exponent)
