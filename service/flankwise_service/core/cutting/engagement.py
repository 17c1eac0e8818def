"""Engagement angle: how much of the cutter's circle is in the material, exactly.

The angle runs from the point that touches the finished wall (0 degrees) to where the edge leaves
the material still to be cut. On a straight wall cos(angle) = 1 - 2 ae/d. On a circle the old wall
is curved, so the cutter wraps into it inside a hole and away from it on a boss: the exact angle is
where two circles meet. Source: plane geometry (law of cosines). Lengths in one unit.
"""

from __future__ import annotations

import math

from flankwise_service.core.cutting.feed import centre_diameter
from flankwise_service.core.cutting.ranges import length, refuse_outside
from flankwise_service.core.errors import BadInput, Fault, plain
from flankwise_service.core.threads.model import Side


def engagement_straight(cutter_diameter: float, radial_depth: float) -> float:
    """Return the engagement angle of a straight cut: acos(1 - 2 ae/d), 180 degrees for a slot.

    >>> round(engagement_straight(10.0, 5.0), 6), engagement_straight(10.0, 10.0)
    (90.0, 180.0)
    """
    refuse_outside(cutter_diameter=length(cutter_diameter), radial_depth=length(radial_depth, 0.0))
    return _angle(1 - 2 * float(radial_depth) / float(cutter_diameter))


def engagement_on_circle(
    cutter_diameter: float, diameter_before: float, diameter_after: float, side: Side
) -> float:
    """Return the engagement angle on a circle, in degrees, 0 (nothing to cut) to 180.

    Internal: cos = (Ra^2 - c^2 - r^2)/(2 c r), c = Rb - r. External: cos = (c^2 + r^2 - Ra^2)/
    (2 c r), c = Rb + r; Ra radius before, Rb after the pass, r cutter radius, c radius of the
    centre path. An internal `diameter_before` of 0 is solid material. Refused: cutter too large
    for the hole, diameters that go the wrong way.

    >>> round(engagement_on_circle(6.0, 7.5, 8.0, "internal"), 3)
    47.384
    >>> round(engagement_on_circle(6.0, 8.0, 7.5, "external"), 3)
    17.794
    """
    before = length(diameter_before, 0.0 if side == "internal" else 1e-6)
    refuse_outside(diameter_before=before)
    centre = centre_diameter(diameter_after, cutter_diameter, side) / 2
    deeper = diameter_after >= diameter_before
    if diameter_after != diameter_before and deeper != (side == "internal"):
        raise BadInput(
            Fault(
                "/diameter_after",
                "wrong_way",
                f"an {side} cut from {plain(diameter_before)} to {plain(diameter_after)} adds "
                "material",
                "an internal cut grows the diameter, an external cut shrinks it",
                float(diameter_after),
            )
        )
    radius = float(cutter_diameter) / 2
    old = float(diameter_before) / 2
    across = (old * old - centre * centre - radius * radius) / (2 * centre * radius)
    return _angle(across if side == "internal" else -across)


def _angle(cosine: float) -> float:
    return math.degrees(math.acos(min(1.0, max(-1.0, cosine))))
