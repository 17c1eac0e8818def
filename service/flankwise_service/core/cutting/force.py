"""Cutting force, torque and power of one pass of a thread tooth, by specific cutting force.

Kienzle: kc = kc1.1 * h^-mc with h in mm, F = kc * b * h (source: Kienzle, VDI-Z 94, 1952; Victor's
tables; the symbols follow ISO 3002-4:1984; memory). A thread tooth cuts at its tip with the full
chip thickness and on its flanks with thickness * sin(flank angle) only, so the flanks' kc is
higher. Forces are estimates: published kc differ by 10 to 20 %, worn teeth need 30 to 50 % more.
Everything here is in mm, N, N/mm2, Nm and kW.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

from flankwise_service.core.cutting.chip import chip_on_flank, greatest_chip, mean_chip
from flankwise_service.core.cutting.passes import chip_area
from flankwise_service.core.cutting.ranges import Range, refuse_outside
from flankwise_service.core.cutting.speed import GREATEST_RPM

Milling = Literal["climb", "conventional"]

LEAST_CHIP_MM = 1e-4
"""Below this the formula is used as if the chip were this thick: it has no meaning for thinner."""


class Strip(NamedTuple):
    """A part of the cutting edge: its axial width and the angle that thins its chip."""

    width_mm: float
    flank_angle: float
    """Degrees from a plane square to the axis; 90 for the tip, which takes the full thickness."""


@dataclass(frozen=True, slots=True)
class PassLoad:
    """What one radial pass asks of the cutter and of the spindle."""

    chip_area_mm2: float
    """Axial section removed, over all rows in cut."""
    engagement: float
    mean_chip_mm: float
    greatest_chip_mm: float
    tangential_mean_n: float
    """Mean over the time a tooth is in cut, per tooth."""
    tangential_greatest_n: float
    wall_n: float
    """Mean force square to the wall while cutting; positive pushes the cutter off the wall."""
    teeth_in_cut: float
    """On average; below 1 the cut is interrupted."""
    torque_mean_nm: float
    torque_greatest_nm: float
    power_kw: float
    """At the cutter; divide by the drive's efficiency for the motor."""
    removal_cm3_per_min: float


def specific_force(kc11: float, mc: float, chip_mm: float) -> float:
    """Return the specific cutting force kc = kc1.1 * h^-mc in N/mm2, h the chip thickness in mm.

    Thinner than 0.0001 mm counts as 0.0001 mm.

    >>> round(specific_force(2000.0, 0.25, 0.1), 1)
    3556.6
    """
    refuse_outside(
        kc11=(kc11, 50, 20_000, "N/mm2"), mc=(mc, 0, 0.9, None), chip_mm=(chip_mm, 0, 100, "mm")
    )
    return float(kc11) * math.pow(max(float(chip_mm), LEAST_CHIP_MM), -float(mc))


def pass_strips(
    depth_before_mm: float,
    depth_after_mm: float,
    tip_width_mm: float,
    flank_angle_upper: float,
    flank_angle_lower: float,
) -> tuple[Strip, ...]:
    """Return tip, upper and lower flank of a pass as strips that all take its full step.

    A flank's strip is tan(angle) * (before + after)/2 wide: its chip area over the step, so the
    strips together take exactly `passes.chip_area`.

    >>> [round(s.width_mm, 4) for s in pass_strips(0.3, 0.6, 0.15, 30.0, 30.0)]
    [0.15, 0.2598, 0.2598]
    """
    chip_area(depth_before_mm, depth_after_mm, tip_width_mm, flank_angle_upper, flank_angle_lower)
    middle = (float(depth_before_mm) + float(depth_after_mm)) / 2
    return (
        Strip(float(tip_width_mm), 90.0),
        *(
            Strip(middle * math.tan(math.radians(angle)), float(angle))
            for angle in (flank_angle_upper, flank_angle_lower)
        ),
    )


def tangential_force(
    strips: tuple[Strip, ...], chip_mm: float, kc11: float, mc: float, wear_factor: float = 1.0
) -> float:
    """Return the tangential force on one tooth in N at a chip thickness: sum of kc b h.

    >>> round(tangential_force((Strip(1.0, 90.0),), 0.1, 2000.0, 0.25), 2)
    355.66
    """
    refuse_outside(wear_factor=(wear_factor, 0.5, 5, None))
    return float(wear_factor) * sum(
        specific_force(kc11, mc, _square_to_edge(chip_mm, strip)) * strip.width_mm * float(chip_mm)
        for strip in strips
    )


def teeth_in_cut(flutes: int, engagement: float) -> float:
    """Return how many teeth cut at once on average: flutes * engagement/360.

    >>> teeth_in_cut(4, 45.0)
    0.5
    """
    refuse_outside(flutes=(flutes, 1, 100, None), engagement=(engagement, 0, 180, "degrees"))
    return float(flutes) * float(engagement) / 360


def wall_share(engagement: float, radial_ratio: float, milling: Milling) -> float:
    """Return the mean force square to the wall over the mean tangential force of a tooth in cut.

    With h = fz sin(x) over 0..a: (ratio sin(a)^2/2 +- (a/2 - sin(2a)/4))/(1 - cos(a)), plus for
    climb milling (pushes the cutter off the wall: undercut), minus for conventional (may pull it
    in). `radial_ratio` is radial over tangential force of a tooth. Source: integral of the two
    components with constant kc.

    >>> round(wall_share(60.0, 0.5, "climb"), 4), round(wall_share(60.0, 0.5, "conventional"), 4)
    (0.9892, -0.2392)
    """
    refuse_outside(engagement=(engagement, 0, 180, "degrees"), radial_ratio=_ratio(radial_ratio))
    angle_rad = math.radians(float(engagement))
    if angle_rad < 1e-4:
        return float(radial_ratio)
    along = math.sin(angle_rad) ** 2 / 2
    across = angle_rad / 2 - math.sin(2 * angle_rad) / 4
    sign = 1.0 if milling == "climb" else -1.0
    return (float(radial_ratio) * along + sign * across) / (2 * math.sin(angle_rad / 2) ** 2)


def pass_load(
    strips: tuple[Strip, ...],
    *,
    engagement: float,
    step_mm: float,
    feed_per_tooth_mm: float,
    cutter_diameter_mm: float,
    flutes: int,
    speed: float,
    kc11: float,
    mc: float,
    milling: Milling = "climb",
    rows_in_cut: float = 1.0,
    wear_factor: float = 1.3,
    radial_ratio: float = 0.5,
) -> PassLoad:
    """Return force, torque and power of one pass.

    `engagement` of `engagement.engagement_on_circle`, `feed_per_tooth_mm` of the cutter's axis
    (`chip.held_chip`), `step_mm` the radial step. Power = torque * 2 pi n, mean torque =
    mean tangential force * teeth in cut * rows * radius. `wear_factor` 1.3 and `radial_ratio` 0.5
    are common practice, no source. All strips are taken at the tip's engagement.

    >>> load = pass_load((Strip(1.0, 90.0),), engagement=60.0, step_mm=2.5, feed_per_tooth_mm=0.1,
    ...     cutter_diameter_mm=10.0, flutes=4, speed=3000, kc11=2000.0, mc=0.25, wear_factor=1.0)
    >>> round(load.power_kw, 3), round(load.removal_cm3_per_min, 3)
    (0.214, 3.0)
    """
    refuse_outside(
        step_mm=(step_mm, 0, 1000, "mm"),
        cutter_diameter_mm=(cutter_diameter_mm, 1e-3, 1000, "mm"),
        speed=(speed, 0, GREATEST_RPM, "rpm"),
        rows_in_cut=(rows_in_cut, 0, 200, None),
    )
    mean_mm = mean_chip(feed_per_tooth_mm, engagement)
    greatest_mm = greatest_chip(feed_per_tooth_mm, engagement)
    mean_n = tangential_force(strips, mean_mm, kc11, mc, wear_factor)
    greatest_n = tangential_force(strips, greatest_mm, kc11, mc, wear_factor)
    teeth = teeth_in_cut(flutes, engagement)
    rows, radius_mm = float(rows_in_cut), float(cutter_diameter_mm) / 2
    torque = mean_n * teeth * rows * radius_mm / 1000
    width = sum(strip.width_mm for strip in strips) * rows
    share = wall_share(engagement, radial_ratio, milling)
    per_tooth_mm3 = width * radius_mm * math.radians(float(engagement)) * mean_mm
    return PassLoad(
        chip_area_mm2=width * float(step_mm),
        engagement=float(engagement),
        mean_chip_mm=mean_mm,
        greatest_chip_mm=greatest_mm,
        tangential_mean_n=mean_n * rows,
        tangential_greatest_n=greatest_n * rows,
        wall_n=mean_n * rows * share * max(1.0, teeth),
        teeth_in_cut=teeth,
        torque_mean_nm=torque,
        torque_greatest_nm=greatest_n * rows * max(1.0, teeth) * radius_mm / 1000,
        power_kw=power_kw(torque, speed),
        removal_cm3_per_min=per_tooth_mm3 * float(flutes) * float(speed) / 1000,
    )


def power_kw(torque_nm: float, speed: float) -> float:
    """Return power in kW from torque in Nm and turns per minute: M 2 pi n/60000.

    >>> round(power_kw(9.549, 1000), 3)
    1.0
    """
    refuse_outside(torque_nm=(torque_nm, 0, 1e9, "Nm"), speed=(speed, 0, GREATEST_RPM, "rpm"))
    return float(torque_nm) * float(speed) * math.pi / 30_000


def _square_to_edge(chip_mm: float, strip: Strip) -> float:
    tip = strip.flank_angle == 90.0
    return float(chip_mm) if tip else chip_on_flank(chip_mm, strip.flank_angle)


def _ratio(value: float) -> Range:
    return (value, 0, 2, None)
