"""Spindle speed from surface speed and back, inside the machine's limits."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.cutting.ranges import length, refuse_outside
from flankwise_service.core.errors import BadInput, Fault, plain
from flankwise_service.core.units import Unit

Cap = Literal["none", "machine_greatest", "machine_least"]

GREATEST_RPM = 500_000.0
GREATEST_SURFACE_SPEED = 20_000.0

_UNITS_OF_SPEED: dict[Unit, float] = {"in": 12.0, "mm": 1000.0}
"""How many of the length unit make the unit of surface speed: 12 in in a foot, 1000 mm in a m."""


def surface_unit(unit: Unit) -> str:
    """Return the unit of surface speed that goes with a length unit.

    >>> surface_unit("in"), surface_unit("mm")
    ('ft/min', 'm/min')
    """
    return "ft/min" if unit == "in" else "m/min"


@dataclass(frozen=True, slots=True)
class SpindleSpeed:
    """Spindle speed in turns per minute and the surface speed it gives."""

    wanted: float
    """From the surface speed asked for, before the machine's limits."""
    speed: float
    capped: Cap
    surface_speed: float
    """As the cutter then runs: ft/min for "in", m/min for "mm"."""
    surface_speed_wanted: float
    unit: Unit


def spindle_speed(
    surface_speed: float,
    diameter: float,
    unit: Unit,
    *,
    least: float = 0.0,
    greatest: float = GREATEST_RPM,
) -> SpindleSpeed:
    """Return the spindle speed for a surface speed: N = 12 V/(pi D) or 1000 V/(pi D).

    V in ft/min with D in inches, V in m/min with D in mm. `least` and `greatest` are the
    machine's; the result says which one capped it and what surface speed is left.
    Source: definition of cutting speed, ISO 3002-1:1982 (memory).

    >>> found = spindle_speed(300.0, 0.5, "in")
    >>> round(found.speed, 1), found.capped
    (2291.8, 'none')
    >>> slow = spindle_speed(100.0, 6.0, "mm", greatest=4000)
    >>> slow.capped, round(slow.surface_speed, 1)
    ('machine_greatest', 75.4)
    """
    refuse_outside(
        surface_speed=(surface_speed, 1e-3, GREATEST_SURFACE_SPEED, None),
        diameter=length(diameter),
        least=(least, 0, GREATEST_RPM, "rpm"),
        greatest=(greatest, 1e-3, GREATEST_RPM, "rpm"),
    )
    if least > greatest:
        raise BadInput(
            Fault(
                "/least",
                "limits_out_of_order",
                f"the machine's least speed {plain(least)} rpm is above its greatest "
                f"{plain(greatest)} rpm",
                "give the smaller speed as the least",
                float(least),
            )
        )
    wanted = _UNITS_OF_SPEED[unit] * float(surface_speed) / (math.pi * float(diameter))
    speed = min(max(wanted, float(least)), float(greatest))
    capped: Cap = "none"
    if speed < wanted:
        capped = "machine_greatest"
    elif speed > wanted:
        capped = "machine_least"
    got = speed * math.pi * float(diameter) / _UNITS_OF_SPEED[unit]
    return SpindleSpeed(wanted, speed, capped, got, float(surface_speed), unit)


def surface_speed(speed: float, diameter: float, unit: Unit) -> float:
    """Return the surface speed of a cutter: V = pi D N/12 (ft/min) or pi D N/1000 (m/min).

    >>> round(surface_speed(1000.0, 10.0, "mm"), 3)
    31.416
    """
    refuse_outside(speed=(speed, 0, GREATEST_RPM, "rpm"), diameter=length(diameter))
    return math.pi * float(diameter) * float(speed) / _UNITS_OF_SPEED[unit]
