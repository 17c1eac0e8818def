"""A tooth's outline as arrays, both sides at once."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.cutting.cutter import Tooth

Array = NDArray[np.float64]

LEAST_SLOPE = 1e-9


class Profile(NamedTuple):
    """Both sides of a tooth as arrays of shape (2, 1, 1): upper, then lower."""

    slope: Array
    """Tangent of the flank angle."""
    half_tip: float | Array
    tip_radius: float
    cutter_radius: float | Array
    arc_height: Array
    """Height of the tip arc's centre over the tooth's mid-plane."""
    junction: Array
    """Distance from the cutter's axis to where flank and tip arc, or flank and tip, meet."""


@lru_cache(maxsize=64)  # every solving of a pitch line asks for the same again
def profile_of(tooth: Tooth, cutter_radius: float) -> Profile:
    """Return the profile of `tooth` on a cutter of `cutter_radius`."""
    angles_rad = [math.radians(a) for a in (tooth.flank_angle_upper, tooth.flank_angle_lower)]
    q, half_tip = float(tooth.tip_radius), tooth.tip_width / 2
    slope = [max(math.tan(a), LEAST_SLOPE) for a in angles_rad]
    centre = [half_tip - q * math.tan(math.pi / 4 - a / 2) for a in angles_rad]
    junction = [cutter_radius - q + q * math.sin(a) for a in angles_rad]
    table = np.array((slope, centre, junction)).reshape(3, 2, 1, 1)
    table.flags.writeable = False
    return Profile(table[0], half_tip, q, float(cutter_radius), table[1], table[2])


def half_width(rho: Array, profile: Profile) -> Array:
    """Return the tooth's half widths at distance `rho` from its axis; shape (2, ..., n).

    >>> profile = profile_of(Tooth(30.0, 30.0, 0.2, 0.9), 3.0)
    >>> half_width(np.array([[3.0, 2.5]]), profile).round(4).tolist()
    [[[0.1, 0.3887]], [[0.1, 0.3887]]]
    """
    straight = profile.half_tip + (profile.cutter_radius - rho) * profile.slope
    if profile.tip_radius == 0.0:
        return straight
    on_flank = rho <= profile.junction
    if on_flank.all():
        return straight
    q = profile.tip_radius
    inside = rho - (profile.cutter_radius - q)
    arc = profile.arc_height + np.sqrt(np.maximum(q * q - inside * inside, 0.0))
    return np.where(on_flank, straight, arc)
