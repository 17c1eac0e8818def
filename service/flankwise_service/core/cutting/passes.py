"""Radial passes of a V-groove: how deep each goes, by equal chip area, equal step or stiffness.

A depth is measured from the blank's surface to the tooth's tip. The groove a tooth has cut at
depth t has the area b t + (tan u + tan l) t^2/2: each further step takes more than the one before,
so equal steps load the last passes most and equal areas load all alike. Lengths in one unit.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from flankwise_service.core.cutting.ranges import Range, length, refuse_outside
from flankwise_service.core.errors import Fault, Impossible, plain

GREATEST_PASSES = 100
GREATEST_SPRINGS = 10
HALVINGS = 40
"""Of a step that is searched for: down to a million-millionth of the depth."""
SLACK = 1e-9
"""Relative; without it what the search leaves would call for one more, needless pass."""


def groove_area(
    depth: float, tip_width: float, flank_angle_upper: float, flank_angle_lower: float
) -> float:
    """Return the axial section of the groove at `depth`: b t + (tan u + tan l) t^2/2.

    Angles in degrees from a plane square to the axis. Source: area of a trapezium.

    >>> round(groove_area(0.6, 0.15, 30.0, 30.0), 5)
    0.29785
    """
    slope = _checked_slope(depth, tip_width, flank_angle_upper, flank_angle_lower)
    return float(depth) * (float(tip_width) + slope * float(depth) / 2)


def chip_area(
    depth_before: float,
    depth_after: float,
    tip_width: float,
    flank_angle_upper: float,
    flank_angle_lower: float,
) -> float:
    """Return the axial section a pass takes away: groove_area after less groove_area before.

    >>> round(chip_area(0.3, 0.6, 0.15, 30.0, 30.0), 5)
    0.20088
    """
    slope = _checked_slope(depth_after, tip_width, flank_angle_upper, flank_angle_lower)
    refuse_outside(depth_before=(depth_before, 0, depth_after, None))
    step = float(depth_after) - float(depth_before)
    return step * (float(tip_width) + slope * (float(depth_after) + float(depth_before)) / 2)


def depth_for_area(
    area: float, tip_width: float, flank_angle_upper: float, flank_angle_lower: float
) -> float:
    """Return the depth at which the groove has this area: groove_area turned round.

    >>> round(depth_for_area(0.297846, 0.15, 30.0, 30.0), 5)
    0.6
    """
    slope = _checked_slope(0.0, tip_width, flank_angle_upper, flank_angle_lower)
    refuse_outside(area=(area, 0, 1e12, None))
    # Written as 2A/(b + sqrt(..)): it neither cancels nor divides by a slope of 0.
    root = float(tip_width) + math.sqrt(float(tip_width) ** 2 + 2 * slope * float(area))
    if root == 0:
        return 0.0
    return 2 * float(area) / root


def equal_area_depths(
    depth: float,
    passes: int,
    tip_width: float,
    flank_angle_upper: float,
    flank_angle_lower: float,
) -> tuple[float, ...]:
    """Return the depth after each pass when every pass takes the same chip area.

    With a sharp tip these are depth * sqrt(i/n), the square-root infeed of thread turning. The
    last is `depth` itself.

    >>> [round(t, 4) for t in equal_area_depths(1.0, 4, 0.0, 30.0, 30.0)]
    [0.5, 0.7071, 0.866, 1.0]
    """
    refuse_outside(passes=(passes, 1, GREATEST_PASSES, None), depth=length(depth))
    form = (tip_width, flank_angle_upper, flank_angle_lower)
    whole = groove_area(depth, *form)
    return (
        *(depth_for_area(whole * done / passes, *form) for done in range(1, int(passes))),
        float(depth),
    )


def passes_for_area(
    depth: float,
    greatest_area: float,
    tip_width: float,
    flank_angle_upper: float,
    flank_angle_lower: float,
) -> int:
    """Return the number of equal-area passes that keeps each at or below `greatest_area`.

    More than 100 is refused.

    >>> passes_for_area(0.6, 0.1, 0.15, 30.0, 30.0)
    3
    """
    refuse_outside(greatest_area=(greatest_area, 1e-12, 1e12, None), depth=length(depth))
    whole = groove_area(depth, tip_width, flank_angle_upper, flank_angle_lower)
    return _counted(whole / float(greatest_area), "/greatest_area", greatest_area)


def equal_step_depths(depth: float, greatest_step: float) -> tuple[float, ...]:
    """Return the depth after each pass in the fewest equal steps of at most `greatest_step`.

    >>> [round(t, 3) for t in equal_step_depths(0.6, 0.25)]
    [0.2, 0.4, 0.6]
    """
    refuse_outside(depth=length(depth), greatest_step=length(greatest_step))
    count = _counted(float(depth) / float(greatest_step), "/greatest_step", greatest_step)
    return (*(float(depth) * done / count for done in range(1, count)), float(depth))


def stiff_depths(
    depth: float,
    deflection_of: Callable[[float, float], float],
    *,
    greatest_final: float,
    greatest_rough: float,
    least_step: float,
    finish_share: float = 1.0,
) -> tuple[float, ...]:
    """Return depths so that no pass bends the cutter more than allowed, fewest passes first.

    `deflection_of(depth_before, depth_after)` gives the deflection of one pass and grows with the
    step. Built from the bottom up: the final pass is the greatest step that keeps within
    `greatest_final` (and within `finish_share` of the depth), those before it within
    `greatest_rough`. A step that would fall below `least_step` (rubbing instead of cutting) is
    refused: the cutter is too weak for the tolerance. More than 100 passes are refused.

    >>> [round(t, 3) for t in stiff_depths(1.0, lambda a, b: b - a, greatest_final=0.2,
    ...     greatest_rough=0.4, least_step=0.01)]
    [0.4, 0.8, 1.0]
    """
    refuse_outside(
        depth=length(depth),
        greatest_final=(greatest_final, 1e-12, 1e6, None),
        greatest_rough=(greatest_rough, 1e-12, 1e6, None),
        least_step=(least_step, 1e-9, depth, None),
        finish_share=(finish_share, 1e-3, 1, None),
    )
    below = float(depth)
    found = [below]
    allowed, reach = float(greatest_final), float(finish_share) * float(depth)
    while below > 0 and len(found) <= GREATEST_PASSES:
        above = _deepest_start(below, max(0.0, below - reach), deflection_of, allowed)
        if below - above < min(float(least_step), below) * (1 - 1e-9):
            raise _too_weak(deflection_of(below - min(least_step, below), below), allowed)
        # No first pass thinner than the least step: the one after it gives way, and bends less.
        below = min(float(least_step), below / 2) if 0 < above < least_step else above
        if below > 0:
            found.append(below)
        allowed, reach = float(greatest_rough), float(depth)
    if below > 0:
        raise _too_many("/greatest_rough", greatest_rough)
    return tuple(reversed(found))


def with_spring_passes(depths: tuple[float, ...], springs: int) -> tuple[float, ...]:
    """Return the depths with the last repeated `springs` times, 0 to 10.

    >>> with_spring_passes((0.3, 0.6), 2)
    (0.3, 0.6, 0.6, 0.6)
    """
    refuse_outside(springs=(springs, 0, GREATEST_SPRINGS, None))
    return depths + depths[-1:] * int(springs)


def residual_deflection(rigid_deflection: float, step: float, springs: int) -> float:
    """Return what stays uncut after a pass and its spring passes: step * q^(springs + 1).

    `rigid_deflection` is the deflection the force of the full step would give; a real cutter
    gives way and takes less, so q = rigid/(step + rigid) of the step stays. Each spring pass
    leaves q of what was left. Source: linear model of cutter and cut as two springs.

    >>> round(residual_deflection(0.01, 0.10, 0), 6), round(residual_deflection(0.01, 0.10, 1), 6)
    (0.009091, 0.000826)
    """
    refuse_outside(
        rigid_deflection=(rigid_deflection, 0, 1e6, None),
        step=length(step),
        springs=(springs, 0, GREATEST_SPRINGS, None),
    )
    ratio = float(rigid_deflection) / (float(step) + float(rigid_deflection))
    return float(step) * ratio ** (int(springs) + 1)


def _deepest_start(
    below: float, highest: float, deflection_of: Callable[[float, float], float], allowed: float
) -> float:
    """Return the least depth from which a pass to `below` keeps within `allowed`."""
    allowed *= 1 + SLACK
    if deflection_of(highest, below) <= allowed:
        return highest
    low, high = highest, below
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if deflection_of(middle, below) <= allowed:
            high = middle
        else:
            low = middle
    return high


def _too_weak(least_deflection: float, allowed: float) -> Impossible:
    return Impossible(
        Fault(
            "/least_step",
            "cutter_too_weak",
            f"even the thinnest pass bends the cutter {plain(least_deflection, 3)}; "
            f"{plain(allowed, 3)} "
            f"is allowed",
            "take a thicker neck, less overhang, a lower chip load, or allow more deflection",
            least_deflection,
        )
    )


def _counted(ratio: float, pointer: str, value: float) -> int:
    if ratio > GREATEST_PASSES:
        raise _too_many(pointer, value)
    return max(1, math.ceil(ratio - 1e-9))


def _too_many(pointer: str, value: float) -> Impossible:
    return Impossible(
        Fault(
            pointer,
            "too_many_passes",
            f"{pointer[1:].replace('_', ' ')} {plain(value)} makes more than {GREATEST_PASSES} "
            "passes",
            f"allow more for each pass; {GREATEST_PASSES} passes are the most planned",
            float(value),
        )
    )


def _checked_slope(depth: float, tip_width: float, upper: float, lower: float) -> float:
    refuse_outside(
        depth=length(depth, 0.0),
        tip_width=length(tip_width, 0.0),
        flank_angle_upper=_flank(upper),
        flank_angle_lower=_flank(lower),
    )
    return math.tan(math.radians(float(upper))) + math.tan(math.radians(float(lower)))


def _flank(angle: float) -> Range:
    return (angle, 0, 80, "degrees")
