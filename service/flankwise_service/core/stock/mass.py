"""Mass of bar per length, from its section and a stated density."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flankwise_service.core.errors import BadInput, Faults
from flankwise_service.core.stock.hexagon import GREATEST_LENGTH
from flankwise_service.core.units import KG_PER_POUND, Unit, to_mm

LEAST_DENSITY = 0.5
GREATEST_DENSITY = 25.0
"""g/cm3; magnesium is about 1.7, tungsten about 19.3."""

INCHES_PER_FOOT = 12


@dataclass(frozen=True, slots=True)
class BarMass:
    """Mass of bar per length; the figures of the other unit system are None."""

    density_g_per_cm3: float
    pounds_per_inch: float | None = None
    pounds_per_foot: float | None = None
    kilograms_per_metre: float | None = None


def circle_area(diameter: float) -> float:
    """Return the area of a round section, pi d^2/4, in the unit squared.

    >>> round(circle_area(2.0), 6)
    3.141593
    """
    faults = Faults()
    faults.within("/diameter", diameter, least=0, greatest=GREATEST_LENGTH, name="diameter")
    faults.raise_any(BadInput)
    return math.pi * float(diameter) ** 2 / 4


def mass_per_length(area: float, density_g_per_cm3: float, unit: Unit) -> BarMass:
    """Return the mass of bar per length: area * density.

    `area` in `unit` squared; lb/in and lb/ft for "in", kg/m for "mm".
    1 mm2 of 1 g/cm3 is 0.001 kg/m. Pound: NIST SP 811, 2008, Appendix B.8.

    >>> round(mass_per_length(661.95, 8.0, "mm").kilograms_per_metre, 3)
    5.296
    """
    faults = Faults()
    faults.within("/area", area, least=0, greatest=GREATEST_LENGTH**2, name="area of section")
    faults.within(
        "/density_g_per_cm3",
        density_g_per_cm3,
        least=LEAST_DENSITY,
        greatest=GREATEST_DENSITY,
        name="density",
        unit="g/cm3",
    )
    faults.raise_any(BadInput)
    density = float(density_g_per_cm3)
    side_mm = to_mm(1.0, unit)
    kilograms_per_mm = float(area) * side_mm**2 * density * 1e-6
    if unit == "mm":
        return BarMass(density, kilograms_per_metre=kilograms_per_mm * 1000)
    per_inch = kilograms_per_mm * side_mm / KG_PER_POUND
    return BarMass(density, per_inch, per_inch * INCHES_PER_FOOT)
