"""What a tooth reaches and how wide the groove is that it cuts.

Source: geometry of the tooth's trapezium (`cutter.Tooth`).
"""

from __future__ import annotations

import math

from flankwise_service.core.cutting.cutter import Cutter, Tooth


def width_at(tooth: Tooth, depth: float) -> float:
    """Return the axial width of a tooth at `depth` from its tip: tip + depth (tan u + tan l).

    Beyond the tooth's own depth the width stays what it is there. Rounded tips are taken as the
    flat they replace.

    >>> round(width_at(Tooth(30.0, 30.0, 0.1, 1.0), 0.5), 4)
    0.6774
    """
    return tooth.tip_width + min(max(depth, 0.0), tooth.depth) * flank_slope(tooth)


def flank_slope(tooth: Tooth) -> float:
    """Return how fast the groove widens with depth: tan(upper) + tan(lower).

    >>> round(flank_slope(Tooth(30.0, 30.0, 0.1, 1.0)), 5)
    1.1547
    """
    return sum(
        math.tan(math.radians(angle))
        for angle in (tooth.flank_angle_upper, tooth.flank_angle_lower)
    )


def reach_below_tooth(cutter: Cutter) -> float:
    """Return how far the cutter reaches below the mid-plane of its lowest tooth.

    The larger of half that tooth's width (tip side, at its base) and `tip_to_tooth`: what the
    axial budget of a blank calls half a tooth.

    >>> cutter = Cutter(8.0, 4, Tooth(30.0, 30.0, 0.2, 0.6), tip_to_tooth=0.3)
    >>> round(reach_below_tooth(cutter), 4)
    0.4464
    """
    tooth = cutter.tooth
    lower = math.tan(math.radians(tooth.flank_angle_lower))
    return max(tooth.tip_width / 2 + tooth.depth * lower, cutter.tip_to_tooth)
