"""Where the groove is half a pitch wide: the pitch line of the form really cut.

Groove = ridge is what wires, gauges and the standards' definition of pitch diameter go by.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from flankwise_service.core.errors import Fault, Impossible, plain
from flankwise_service.core.form.envelope import cone_reaches
from flankwise_service.core.form.model import LEAST_LENGTH, Cut
from flankwise_service.core.form.overcut import pitch_diameter_change_first_order
from flankwise_service.core.form.profile import Array

MOST_ROUNDS = 24
LEAST_ANGLE = 0.1
"""Degrees below which a flank counts as square to the axis, where first order says nothing."""
ABREAST = 9
"""Places worked out at once in each round; more cost no more time, arrays being this short."""
STEPS = np.arange(float(ABREAST))
NARROW = 1e-4
"""Share of the pitch below which a bracket's interpolation is exact to the last digits."""
JUMP = 1e-3
"""Share of the pitch beyond which the width, across so narrow a step, jumps."""


def flank_angles_of(cut: Cut) -> tuple[float, float]:
    """Return the tooth's flank angles, upper then lower, degrees."""
    return cut.tooth.flank_angle_upper, cut.tooth.flank_angle_lower


def triangle_pitch_radius(cut: Cut) -> float:
    """Return the pitch radius, at Z = 0, that the tooth alone would leave, without the helix.

    From tip width + depth * sum of flank tangents = pitch / 2, the depth taken from the root; on a
    taper each flank is met where the thread's cone crosses it.
    """
    total, slopes = 0.0, 0.0
    for sign, angle in zip((1, -1), flank_angles_of(cut), strict=True):
        lean = cut.outward * math.tan(math.radians(angle))
        cone = 1 + sign * cut.taper / 2 * lean
        total += (cut.tooth.tip_width / 2 + lean * cut.root_radius) / cone
        slopes += lean / cone
    return (total - cut.pitch / 2) / slopes


class PitchLine(NamedTuple):
    """Where the groove is half a pitch wide, and how far it reaches there above and below."""

    radius: float
    upper_reach: float
    lower_reach: float


def pitch_line(cut: Cut) -> PitchLine:
    """Return the radius at Z = 0 where the groove that `cut` leaves is half a pitch wide.

    Raises Impossible when it is so nowhere.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> round(pitch_line(cut).radius, 5), round(triangle_pitch_radius(cut), 5)
    (3.6377, 3.59405)
    """
    triangle = triangle_pitch_radius(cut)
    first = triangle + cut.outward * _shift(cut, triangle, cut.deepest.centre_radius)
    still = np.zeros(ABREAST)

    def reach(inward: Array) -> Array:
        return cone_reaches(cut, np.maximum(first - cut.outward * inward, 1e-12), still)

    inward, upper, lower = _where_rising(reach, cut)
    return PitchLine(first - cut.outward * inward, upper, lower)


def depth_for(cut: Cut, radius: float) -> float:
    """Return how much deeper every pass must go to put the pitch line at `radius`, at Z = 0.

    The groove at a fixed radius widens steadily with depth. Raises Impossible when no depth does.
    """
    by_triangle = cut.outward * (radius - triangle_pitch_radius(cut))
    centre = cut.deepest.centre_radius + cut.outward * by_triangle
    first = by_triangle - _shift(cut, radius, centre)
    at = np.full(ABREAST, radius)

    def reach(deeper: Array) -> Array:
        return cone_reaches(cut, at, first + deeper)

    return first + _where_rising(reach, cut)[0]


def overcut_effect_first_order(cut: Cut) -> float | None:
    """Return, to first order, by how much the overcut moves the pitch diameter; signed.

    `cut` as checked. None where a flank is square to the axis: first order then says nothing.
    """
    radius = triangle_pitch_radius(cut)
    if min(flank_angles_of(cut)) < LEAST_ANGLE or radius < LEAST_LENGTH:
        return None
    angles = flank_angles_of(cut)
    centre = cut.deepest.centre_radius
    return cut.outward * pitch_diameter_change_first_order(radius, centre, cut.lead, *angles)


def _shift(cut: Cut, radius: float, centre: float) -> float:
    """Return the first-order move of the pitch line; 0 where first order says nothing."""
    upper, lower = flank_angles_of(cut)
    if min(upper, lower) < LEAST_ANGLE or min(centre, radius) < LEAST_LENGTH:
        return 0.0
    change = pitch_diameter_change_first_order(radius, centre, cut.lead, upper, lower) / 2
    return min(change, cut.pitch / 4)


def _where_rising(reach: Callable[[Array], Array], cut: Cut) -> tuple[float, float, float]:
    """Return the place, near 0, where both reaches make up half the pitch, and each of them.

    A bracket is divided into eight, all worked out at once, and narrowed by interpolation. Where
    that misses (the width has a kink where corner hands over to flank) the bracket known before is
    taken again. A width that jumps past half the pitch equals it nowhere: Impossible.
    """
    half, room = cut.pitch / 2, 0.05 * cut.pitch
    low, high = -room, room
    below, above = -math.inf, math.inf
    for _ in range(MOST_ROUNDS):
        place = low + STEPS * ((high - low) / (ABREAST - 1))
        place[-1] = high
        both = reach(place)
        miss = np.maximum(both[0] + both[1], 0.0) - half
        if miss[0] > 0:
            above = low
            low, high = max(below, low - 4 * (high - low)), low
        elif miss[-1] < 0:
            below = high
            low, high = high, min(above, high + 4 * (high - low))
        else:
            n = max(int(np.argmax(miss >= 0)), 1)
            below, above = float(place[n - 1]), float(place[n])
            best = _interpolated(place, miss, n)
            if high - low <= NARROW * cut.pitch and miss[n] - miss[n - 1] < JUMP * cut.pitch:
                upper, lower = (float(np.interp(best, place, row)) for row in both)
                return best, upper, lower
            margin = 2e-3 * (above - below)
            low, high = max(best - margin, below), min(best + margin, above)
    raise Impossible(_no_pitch_line(cut))


def _interpolated(place: Array, miss: Array, n: int) -> float:
    """Return where `miss` is 0 between places n-1 and n, by inverse cubic interpolation."""
    first = min(max(n - 2, 0), ABREAST - 4)
    x, y = place[first : first + 4].tolist(), miss[first : first + 4].tolist()
    if min(b - a for a, b in pairwise(y)) <= 0:
        return float(np.interp(0.0, miss[n - 1 : n + 1], place[n - 1 : n + 1]))
    for step in (1, 2, 3):
        x = [(x[i] * y[i + step] - x[i + 1] * y[i]) / (y[i + step] - y[i]) for i in range(4 - step)]
    return float(x[0])


def _no_pitch_line(cut: Cut) -> Fault:
    return Fault(
        "/passes",
        "no_pitch_line",
        f"nowhere, or at no depth, is the groove half the pitch wide, {plain(cut.pitch / 2, 5)}",
        "cut to another depth, or use a tooth whose tip and flank angle suit the pitch",
        cut.deepest.centre_radius,
    )
