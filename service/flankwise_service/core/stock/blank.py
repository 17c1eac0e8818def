"""The blank before threading: the diameter a boss is turned to, or a hole is bored to, and depth.

A blank is aimed inside its limits, not at the basic size: the basic major diameter of an external
thread is above the greatest major diameter whenever the class has an allowance.
Lengths go in and come out in one unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    Impossible,
    at_least,
    plain,
    plain_greatest,
    plain_least,
)
from flankwise_service.core.stock.hexagon import GREATEST_LENGTH, LEAST_LENGTH

Size = TypeVar("Size", float, NDArray[np.float64])


@dataclass(frozen=True, slots=True)
class Aim:
    """A size to cut to, between its limits."""

    diameter: float
    least: float
    greatest: float
    fraction: float
    """0 at the least limit, 1 at the greatest."""
    room_below: float
    room_above: float


@dataclass(frozen=True, slots=True)
class DepthBudget:
    """Where the depth of a blank goes, seen from the face of the part."""

    thread_length: float
    half_tooth: float
    clearance: float
    needed: float
    available: float
    spare: float
    """What is left; negative when depth is missing."""
    missing: float


def diameter_aim(least: float, greatest: float, fraction: float = 0.5) -> Aim:
    """Return the diameter to cut to: least + fraction * (greatest - least).

    `fraction` 0.5 is mid-tolerance. Boss before an external thread: give the limits of the major
    diameter. Hole before an internal thread: give the limits of the minor diameter. Where tools
    wear during a batch, aim a boss below the middle and a hole above it (common practice, no
    source). Refused: limits out of order, fraction outside 0..1.

    >>> round(diameter_aim(0.8631, 0.8734, 0.4).diameter, 5)
    0.86722
    """
    faults = Faults()
    for pointer, value in (("/least", least), ("/greatest", greatest)):
        faults.within(
            pointer, value, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name="limit of size"
        )
    faults.within("/fraction", fraction, least=0, greatest=1, name="fraction of the tolerance")
    faults.raise_any(BadInput)
    if least > greatest:
        raise BadInput(
            Fault(
                "/least",
                "limits_out_of_order",
                f"the least limit {plain(least)} is above the greatest limit {plain(greatest)}",
                "give the smaller limit as the least",
                float(least),
            )
        )
    low, high = float(least), float(greatest)
    size = at_fraction(low, high, fraction)
    return Aim(size, low, high, float(fraction), size - low, high - size)


def at_fraction(least: Size, greatest: Size, fraction: float) -> Size:
    """Return least + fraction * (greatest - least): at 0 and at 1 a limit to its last bit.

    >>> at_fraction(0.8216, 0.827, 0.5), at_fraction(7.042, 7.16, 1.0)
    (0.8243, 7.16)
    """
    return greatest if fraction == 1 else least + fraction * (greatest - least)


def is_inside(diameter: float, least: float, greatest: float) -> bool:
    """Return whether a measured blank lies inside its limits, the limits included.

    >>> is_inside(0.8750, 0.8631, 0.8734)
    False
    """
    return least <= diameter <= greatest


def blank_depth_needed(thread_length: float, half_tooth: float, clearance: float) -> float:
    """Return the least depth of a blank down to a shoulder or a hole bottom.

    needed = thread_length + half_tooth + clearance, where `half_tooth` is what the cutter reaches
    below the mid-plane of its lowest tooth (`cutting.tooth.reach_below_tooth`) and `clearance` is
    the air wanted between cutter and shoulder. Lengths 0 or more; thread length above 0.

    >>> round(blank_depth_needed(0.875, 0.04, 0.02), 3)
    0.935
    """
    _check_depths(thread_length, half_tooth, clearance)
    return float(thread_length) + float(half_tooth) + float(clearance)


def missing_depth(blank_depth: float, needed: float) -> float:
    """Return how much deeper the blank has to be; 0 when it is deep enough.

    >>> round(missing_depth(0.750, 0.935), 3)
    0.185
    """
    faults = Faults()
    faults.within(
        "/blank_depth", blank_depth, least=0, greatest=GREATEST_LENGTH, name="blank depth"
    )
    faults.within("/needed", needed, least=0, greatest=3 * GREATEST_LENGTH, name="depth needed")
    faults.raise_any(BadInput)
    lack = float(needed) - float(blank_depth)
    # A sum of decimal inches is off by a few 1e-17: that isn't a missing depth.
    return lack if lack > 1e-9 * float(needed) else 0.0


def deepest_thread(blank_depth: float, half_tooth: float, clearance: float) -> float:
    """Return the longest full thread a blank of this depth allows; 0 when it allows none.

    >>> round(deepest_thread(0.750, 0.04, 0.02), 3)
    0.69
    """
    _check_depths(LEAST_LENGTH, half_tooth, clearance)
    missing_depth(blank_depth, 0)
    return max(0.0, float(blank_depth) - float(half_tooth) - float(clearance))


def depth_budget(
    blank_depth: float, thread_length: float, half_tooth: float, clearance: float
) -> DepthBudget:
    """Return where the depth of the blank goes and what is spare or missing.

    >>> round(depth_budget(1.0, 0.875, 0.04, 0.02).spare, 3)
    0.065
    """
    needed = blank_depth_needed(thread_length, half_tooth, clearance)
    missing = missing_depth(blank_depth, needed)
    return DepthBudget(
        float(thread_length),
        float(half_tooth),
        float(clearance),
        needed,
        float(blank_depth),
        float(blank_depth) - needed,
        missing,
    )


def check_blank_depth(
    blank_depth: float, thread_length: float, half_tooth: float, clearance: float
) -> DepthBudget:
    """Return the depth budget, or refuse with the missing length in figures.

    >>> check_blank_depth(0.750, 0.875, 0.040, 0.020)
    Traceback (most recent call last):
    flankwise_service.core.errors.Impossible: 0.875 of full thread needs a blank 0.935 deep \
(0.875 thread + 0.04 half a tooth + 0.02 clearance); this one is 0.75, 0.185 is missing
    """
    budget = depth_budget(blank_depth, thread_length, half_tooth, clearance)
    if not at_least(blank_depth, budget.needed):
        allowed = deepest_thread(blank_depth, half_tooth, clearance)
        raise Impossible(
            Fault(
                "/blank_depth",
                "blank_too_shallow",
                f"{plain(thread_length)} of full thread needs a blank {plain(budget.needed)} deep "
                f"({plain(thread_length)} thread + {plain(half_tooth)} half a tooth + "
                f"{plain(clearance)} clearance); this one is {plain(blank_depth)}, "
                f"{plain(budget.missing)} is missing",
                f"mill the blank {plain_least(budget.missing)} deeper, or thread no longer than "
                f"{plain_greatest(allowed)}",
                float(blank_depth),
                least=budget.needed,
            )
        )
    return budget


def _check_depths(thread_length: float, half_tooth: float, clearance: float) -> None:
    faults = Faults()
    faults.within(
        "/thread_length",
        thread_length,
        least=LEAST_LENGTH,
        greatest=GREATEST_LENGTH,
        name="thread length",
    )
    faults.within("/half_tooth", half_tooth, least=0, greatest=GREATEST_LENGTH, name="half a tooth")
    faults.within("/clearance", clearance, least=0, greatest=GREATEST_LENGTH, name="clearance")
    faults.raise_any(BadInput)
