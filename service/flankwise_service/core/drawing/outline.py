"""The outline of a thread's axial section between given diameters, one pitch of it.

Coordinates are (z, r): z along the axis, the groove's middle at 0, r from the axis. At the pitch
line groove and ridge are each half a pitch wide.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from flankwise_service.core.threads.model import BasicProfile, Side, Span, StatedLimits

Place = tuple[float, float]


class Diameters(NamedTuple):
    """The three diameters of one outline; None for a root that its standard leaves open."""

    crest: float
    pitch: float
    root: float | None


class Material(NamedTuple):
    """The outlines of most and least material that the limits allow."""

    most: Diameters
    least: Diameters


def groove_edges(basic: BasicProfile, side: Side, pitch_radius: float, r: float) -> Place:
    """Return the z of the groove's two edges at radius `r`: lower, then upper.

    The lower edge is the flank that faces +Z. Outside a thread the groove widens with the radius,
    inside it narrows.

    >>> from flankwise_service.core.threads import limits
    >>> lower, upper = groove_edges(limits("M8-6g").basic, "external", 3.5, 3.5)
    >>> lower, upper
    (-0.3125, 0.3125)
    """
    way = 1.0 if side == "external" else -1.0
    quarter = float(basic.pitch) / 4
    out = way * (r - pitch_radius)
    lower = quarter + out * math.tan(math.radians(basic.flank_angle_upper))
    upper = quarter + out * math.tan(math.radians(basic.flank_angle_lower))
    return -lower, upper


def sharp_radius(basic: BasicProfile, side: Side, pitch_radius: float) -> float:
    """Return the radius where the flanks of the groove meet."""
    slopes = sum(math.tan(math.radians(angle)) for angle in
                 (basic.flank_angle_upper, basic.flank_angle_lower))  # fmt: skip
    way = 1.0 if side == "external" else -1.0
    return pitch_radius - way * float(basic.pitch) / 2 / slopes


def outline(basic: BasicProfile, side: Side, diameters: Diameters) -> list[Place]:
    """Return one pitch of the outline from crest middle to crest middle, six places.

    A root deeper than where the flanks meet, or one left open, is drawn sharp.
    """
    way = 1.0 if side == "external" else -1.0
    rp, half = diameters.pitch / 2, float(basic.pitch) / 2
    sharp = sharp_radius(basic, side, rp)
    root = sharp if diameters.root is None else way * max(way * diameters.root / 2, way * sharp)
    crest = diameters.crest / 2
    low, high = groove_edges(basic, side, rp, crest)
    in_low, in_high = groove_edges(basic, side, rp, root)
    return [
        (-half, crest), (max(low, -half), crest), (in_low, root), (in_high, root),
        (min(high, half), crest), (half, crest),
    ]  # fmt: skip


def material(limits: StatedLimits) -> Material:
    """Return the diameters of most and of least material.

    A limit the standard doesn't set is taken from the basic profile at the crest and left open
    at the root.
    """
    basic = limits.basic
    external = limits.side == "external"
    crest, root = (
        (limits.major_diameter, limits.minor_diameter) if external
        else (limits.minor_diameter, limits.major_diameter)
    )  # fmt: skip
    basic_crest = basic.major_diameter if external else basic.minor_diameter
    basic_root = basic.minor_diameter if external else basic.major_diameter
    most, least = ("max", "min") if external else ("min", "max")
    return Material(
        Diameters(
            _limit(crest, most, float(basic_crest)),
            _limit(limits.pitch_diameter, most, float(basic.pitch_diameter)),
            _limit(root, most, float(basic_root)),
        ),
        Diameters(
            _limit(crest, least, float(basic_crest)),
            _limit(limits.pitch_diameter, least, float(basic.pitch_diameter)),
            None if getattr(root, least) is None else float(getattr(root, least)),
        ),
    )


def _limit(span: Span, which: str, otherwise: float) -> float:
    """Return a limit, or what stands for it where there is none."""
    value = getattr(span, which)
    return otherwise if value is None else float(value)


def repeated(one_pitch: list[Place], pitch: float, times: range) -> list[Place]:
    """Return the outline of several pitches."""
    return [(z + k * pitch, r) for k in times for z, r in one_pitch]
