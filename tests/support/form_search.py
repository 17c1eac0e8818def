"""The section found by plain search: the place of the highest reach, sampled and sampled again.

Knows the definition only: a point is cut when it lies within the tooth at some turn.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.form.model import Cut


def half_width(cut: Cut, row: int, rho: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the tooth's half width by its drawing; minus infinity beyond its tip."""
    tooth, big, q = cut.tooth, cut.cutter_radius, cut.tooth.tip_radius
    a = math.radians((tooth.flank_angle_upper, tooth.flank_angle_lower)[row])
    width = tooth.tip_width / 2 + (big - rho) * math.tan(a)
    if q > 0:
        middle = tooth.tip_width / 2 - q * math.tan(math.pi / 4 - a / 2)
        inside = np.clip(rho - (big - q), -q, q)
        arc = middle + np.sqrt(q * q - inside * inside)
        width = np.where(rho > big - q + q * math.sin(a), arc, width)
    return np.where(rho <= big, width, -np.inf)


def reach(cut: Cut, row: int, radius: float, levels: int = 6) -> float:
    """Return how far the groove reaches above (row 0) or below (row 1) its middle at `radius`."""
    sign = 1.0 if row == 0 else -1.0
    rise = cut.lead / (2 * math.pi)
    best = -math.inf
    for one in cut.passes:
        low, high = -math.pi, math.pi
        for _ in range(levels):
            t = np.linspace(low, high, 4001)
            centre = one.centre_radius + sign * rise * cut.taper / 2 * t
            rho = np.sqrt((radius - centre) ** 2 + 4 * radius * centre * np.sin(t / 2) ** 2)
            height = rise * t + half_width(cut, row, rho)
            n = int(np.argmax(height))
            step = t[1] - t[0]
            low, high = t[n] - 2 * step, t[n] + 2 * step
            best = max(best, float(height[n]) + sign * one.shift)
    return best


def tilted_reach(cut: Cut, row: int, radius: float, tilt: float, levels: int = 4) -> float:
    """Return the same with the tooth's axis tilted about the radius through its middle, degrees.

    The point (radius, 0, z) is turned back by t and seen from the tilted tooth: s along its axis,
    rho from it. At each turn the highest z still inside is halved down to; then the best turn.
    """
    sign = 1.0 if row == 0 else -1.0
    rise, centre = cut.lead / (2 * math.pi), cut.deepest.centre_radius
    sine, cosine = math.sin(math.radians(tilt)), math.cos(math.radians(tilt))
    span, best = 0.9, -math.inf
    middle = 0.0
    for _ in range(levels):
        t = np.linspace(middle - span, middle + span, 2001)
        x, y = radius * np.cos(t) - centre, -radius * np.sin(t)
        low = np.full(t.shape, -cut.pitch)
        high = np.full(t.shape, 2 * cut.pitch)

        def outside(z: NDArray[np.float64]) -> NDArray[np.bool_]:
            up = sign * z - rise * t  # noqa: B023
            along = -y * sine + up * cosine  # noqa: B023
            rho = np.hypot(x, y * cosine + up * sine)  # noqa: B023
            width: NDArray[np.bool_] = sign * along > half_width(cut, row, rho)
            return width

        for _ in range(50):
            half = (low + high) / 2
            out = outside(half)
            low, high = np.where(out, low, half), np.where(out, half, high)
        n = int(np.argmax(low))
        best, middle, span = max(best, float(low[n])), float(t[n]), span / 500
    return best
