"""The tooth a thread asks for, where the job leaves it to the plan."""

from __future__ import annotations

import math

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.sizes import Sizes, between

ROUND_TIP = 0.125
"""Tip radius over pitch for external 60 degree threads: ISO 965-1's least root radius."""
FLAT_TIP = 0.125
"""Tip flat over pitch for internal 60 degree threads: the basic profile's P/8 at the major."""
BEYOND_CREST = 1.1
"""The tooth's flanks reach a tenth deeper than the thread, so that they cut all of it."""


def is_assumed(job: Job) -> bool:
    """Return whether the tooth is a plan's own, taken from the thread, and no real cutter's.

    >>> from flankwise_service.core.plan.job import StockAsked, ThreadAsked
    >>> is_assumed(Job("mm", ThreadAsked("M8-6H", 9.0), StockAsked("303")))
    True
    """
    cutter = job.cutter
    return cutter is None or cutter.tooth is None or cutter.tooth_assumed


def tip_for_root(sizes: Sizes, root_diameter: float) -> float:
    """Return the tip width that reaches `root_diameter` when the pitch diameter is in the middle.

    tip = P/2 - (height from the pitch line to the root) * (tan upper + tan lower).

    >>> from flankwise_service.core.plan.job import ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> round(tip_for_root(sizes(ThreadAsked("M20x1.5-6H", 16.0), "mm"), 20.0), 4)
    0.2425
    """
    slope = sum(math.tan(math.radians(angle)) for angle in sizes.flank_slope_angles)
    height = abs(between(sizes.pitch_diameter, 0.5) - root_diameter) / 2
    return sizes.pitch / 2 - height * slope


def tooth_for(sizes: Sizes, blank_diameter: float) -> Tooth:
    """Return a tooth of the thread's own flank angles whose root lands inside its limits.

    Where the standard limits the root from both sides, the tip reaches the middle; otherwise the
    profile's own root radius, ISO's least radius P/8 (external 60 degrees), or the flat P/8.
    """
    upper, lower = sizes.flank_slope_angles
    radius = 0.0
    least, greatest = sizes.root_diameter
    if least is not None and greatest is not None:
        tip = tip_for_root(sizes, (least + greatest) / 2)
    else:
        basic = sizes.limits.basic
        external = sizes.side == "external"
        if basic.root_radius is not None:
            radius = basic.root_radius
        elif external and upper == lower == 30.0:
            radius = ROUND_TIP * sizes.pitch
        tip = _round_tip(radius, upper, lower) if radius else _flat_tip(sizes, external)
    tip = max(tip, 0.0)
    slope = math.tan(math.radians(upper)) + math.tan(math.radians(lower))
    height = sizes.pitch / 2 / slope - tip / slope
    crest = abs(blank_diameter - between(sizes.pitch_diameter, 0.5)) / 2
    return Tooth(upper, lower, tip, BEYOND_CREST * (height + crest), radius)


def _round_tip(radius: float, upper: float, lower: float) -> float:
    """Return the flat that a full round tip of this radius replaces."""
    return radius * sum(math.tan(math.radians(45.0 - angle / 2)) for angle in (upper, lower))


def _flat_tip(sizes: Sizes, external: bool) -> float:
    """Return the tip flat where the root is limited on the flank's side only."""
    least, greatest = sizes.root_diameter
    limit = greatest if external else least
    slope_limit = sizes.pitch * FLAT_TIP
    return slope_limit if limit is None else min(slope_limit, tip_for_root(sizes, limit))
