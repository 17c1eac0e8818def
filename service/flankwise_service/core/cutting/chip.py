"""Chip thickness: what one tooth really takes, and the feed that holds it where it is wanted.

`feed_per_tooth` in this module is the advance of the cutter's AXIS per tooth; on a straight cut
that is the feed at the edge too, on a circle the two differ by `feed.centre_diameter`/D. With it,
h = feed_per_tooth * sin(angle) holds on circles as it does on straight walls, and the area a tooth
removes is exact: radius * (1 - cos(engagement)) * feed_per_tooth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from flankwise_service.core.cutting.engagement import engagement_on_circle
from flankwise_service.core.cutting.feed import centre_diameter
from flankwise_service.core.cutting.ranges import Range, refuse_outside
from flankwise_service.core.threads.model import Side

GREATEST_CAP = 10.0


@dataclass(frozen=True, slots=True)
class HeldChip:
    """The feed per tooth that gives a wanted greatest chip thickness, and what it then gives."""

    chip_wanted: float
    engagement: float
    """Degrees."""
    factor: float
    """Greatest chip thickness per feed per tooth of the axis: sin(engagement), 1 above 90."""
    feed_per_tooth: float
    """Of the cutter's axis."""
    feed_per_tooth_edge: float
    """At the diameter being cut."""
    greatest_chip: float
    mean_chip: float
    capped: bool
    """True where the cap held the feed below what would give the wanted thickness."""


def chip_factor(engagement: float) -> float:
    """Return greatest chip thickness over feed per tooth: sin(angle) to 90 degrees, then 1.

    On a straight wall this is 2 sqrt((ae/d)(1 - ae/d)).

    >>> round(chip_factor(36.8698976), 6)
    0.6
    """
    refuse_outside(engagement=_angle(engagement))
    return math.sin(math.radians(min(float(engagement), 90.0)))


def greatest_chip(feed_per_tooth: float, engagement: float) -> float:
    """Return the greatest chip thickness: feed_per_tooth * chip_factor(engagement).

    >>> round(greatest_chip(0.1, 30.0), 6)
    0.05
    """
    refuse_outside(feed_per_tooth=_advance(feed_per_tooth))
    return float(feed_per_tooth) * chip_factor(engagement)


def mean_chip(feed_per_tooth: float, engagement: float) -> float:
    """Return the mean chip thickness over the engagement: fz (1 - cos(angle))/angle.

    Source: mean of fz sin(angle); equals (360/(pi angle)) fz ae/d of the handbooks on a straight
    wall (Kienzle and Victor; memory).

    >>> round(mean_chip(0.1, 90.0), 5)
    0.06366
    >>> mean_chip(0.1, 0.0)
    0.0
    """
    refuse_outside(feed_per_tooth=_advance(feed_per_tooth), engagement=_angle(engagement))
    half_rad = math.radians(float(engagement)) / 2
    # (1 - cos a)/a written so that it doesn't cancel for small angles.
    return float(feed_per_tooth) * math.sin(half_rad) ** 2 / half_rad if half_rad else 0.0


def chip_on_flank(chip: float, flank_angle: float) -> float:
    """Return the thickness square to a flank of a thread tooth: chip * sin(flank angle).

    `flank_angle` in degrees from a plane square to the axis: 30 for 60 degree threads, so a
    flank takes half the chip thickness its tip does.

    >>> round(chip_on_flank(0.1, 30.0), 6)
    0.05
    """
    refuse_outside(chip=_advance(chip), flank_angle=(flank_angle, 0, 89, "degrees"))
    return float(chip) * math.sin(math.radians(float(flank_angle)))


def held_chip(
    chip_wanted: float,
    cutter_diameter: float,
    diameter_before: float,
    diameter_after: float,
    side: Side,
    *,
    greatest_factor: float = 2.0,
) -> HeldChip:
    """Return the feed per tooth that keeps the greatest chip thickness at `chip_wanted`.

    feed = chip_wanted/chip_factor, but neither the axis nor the edge advances more than
    `greatest_factor` times the wanted thickness for each tooth (2 is common practice, no source).
    A light pass would otherwise ask for a feed the teeth can't take; and in a hole the edge
    advances D/(D - d) times as far as the axis, which leaves facets on the wall and asks for a
    feed so small a circle can't hold. `capped` says that one of the two held the feed, and the
    chip is then thinner than wanted. With nothing to cut the caps set the feed.

    >>> held = held_chip(0.03, 6.0, 7.5, 8.0, "internal")
    >>> round(held.feed_per_tooth, 5), round(held.feed_per_tooth_edge, 5), held.capped
    (0.015, 0.06, True)
    >>> held_chip(0.03, 6.0, 16.0, 18.0, "internal").capped
    False
    """
    refuse_outside(
        chip_wanted=(chip_wanted, 1e-7, 1000, None),
        greatest_factor=(greatest_factor, 1, GREATEST_CAP, None),
    )
    angle = engagement_on_circle(cutter_diameter, diameter_before, diameter_after, side)
    factor = chip_factor(angle)
    to_edge = float(diameter_after) / centre_diameter(diameter_after, cutter_diameter, side)
    most = float(chip_wanted) * float(greatest_factor) / max(1.0, to_edge)
    capped = most * factor < float(chip_wanted)
    feed = most if capped else float(chip_wanted) / factor
    return HeldChip(
        chip_wanted=float(chip_wanted),
        engagement=angle,
        factor=factor,
        feed_per_tooth=feed,
        feed_per_tooth_edge=feed * to_edge,
        greatest_chip=greatest_chip(feed, angle),
        mean_chip=mean_chip(feed, angle),
        capped=capped,
    )


def _advance(value: float) -> Range:
    return (value, 0, 1e4, None)


def _angle(value: float) -> Range:
    return (value, 0, 180, "degrees")
