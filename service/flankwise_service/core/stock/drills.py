"""Standard drills, and which of them leaves the percent of thread wanted.

Percent of thread = 100 * (D - drill) / (1.299038 P): the height of 100 % thread is 0.649519 P on
the radius (3/4 of the sharp triangle, ASME B1.1 basic profile). Machinery's Handbook, 31st ed.,
p. 2155 Table 2 prints whole percents of the same formula with 0.01299 per thread per inch.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Literal

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible, plain
from flankwise_service.core.stock.bars import fraction_name
from flankwise_service.core.stock.drill_table import (
    FRACTIONS,
    LETTERS,
    LETTERS_SOURCE,
    METRIC_RUNS,
    METRIC_SOURCE,
    NUMBERS,
    NUMBERS_SOURCE,
)
from flankwise_service.core.stock.hexagon import GREATEST_LENGTH, LEAST_LENGTH
from flankwise_service.core.threads.model import Source
from flankwise_service.core.units import Unit, convert

Series = Literal["fraction", "number", "letter", "metric"]
SERIES: tuple[Series, ...] = ("fraction", "number", "letter", "metric")

HEIGHT_PER_PITCH = 0.75 * math.sqrt(3)
"""What 100 % thread takes off the diameter, per pitch: twice 3/4 of the triangle's height H."""


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill of a standard list. `diameter` in the unit asked for."""

    name: str
    diameter: float
    series: Series
    source: Source


@dataclass(frozen=True, slots=True)
class DrillChoice:
    """A drill for a thread, with the percent of thread it leaves."""

    drill: Drill
    percent: float
    off_by: float
    """Percent left less percent wanted."""
    inside_limits: bool | None
    """Whether the drilled diameter lies inside the minor limits given; None when none were."""


def percent_of_thread(major_diameter: float, pitch: float, drill_diameter: float) -> float:
    """Return the percent of thread a hole leaves: 100 (D - drill)/(1.299038 P).

    Above 100 or below 0 is returned as it is: the caller sees a hole too small or too large.
    Source: Machinery's Handbook, 31st ed., p. 2155 (seen). 60 degree threads.

    >>> round(percent_of_thread(0.073, 1 / 72, 0.0595))
    75
    """
    _check(major_diameter, pitch)
    faults = Faults()
    faults.within(
        "/drill_diameter",
        drill_diameter,
        least=LEAST_LENGTH,
        greatest=GREATEST_LENGTH,
        name="drill diameter",
    )
    faults.raise_any(BadInput)
    depth = float(major_diameter) - float(drill_diameter)
    return 100 * depth / (HEIGHT_PER_PITCH * float(pitch))


def hole_for_percent(major_diameter: float, pitch: float, percent: float) -> float:
    """Return the hole diameter that leaves a percent of thread: D - 1.299038 P percent/100.

    >>> round(hole_for_percent(8.0, 1.25, 75), 3)
    6.782
    """
    _check(major_diameter, pitch)
    faults = Faults()
    faults.within("/percent", percent, least=1, greatest=100, name="percent of thread", unit="%")
    faults.raise_any(BadInput)
    hole = float(major_diameter) - HEIGHT_PER_PITCH * float(pitch) * float(percent) / 100
    if hole <= 0:
        raise Impossible(
            Fault(
                "/pitch",
                "pitch_too_coarse",
                f"a pitch of {plain(pitch)} leaves no hole in a thread of "
                f"{plain(major_diameter)} diameter",
                "check diameter and pitch: they are in one unit, pitch is 1/threads per inch",
                float(pitch),
            )
        )
    return hole


@cache
def drills(series: Series, unit: Unit) -> tuple[Drill, ...]:
    """Return one standard list of drills, smallest first, diameters in `unit`.

    fraction: 1/64 to 1 by 64ths, then to 2 by 32nds. number: 97 to 1, letter: A to Z
    (ANSI B94.11M). metric: steps of ISO 235.

    >>> [(d.name, d.diameter) for d in drills("letter", "in")][:2]
    [('A', 0.234), ('B', 0.238)]
    """
    if series not in SERIES:
        raise BadInput(
            Fault(
                "/series",
                "unknown_series",
                f"no drills of series {series!r}",
                "name one of " + ", ".join(SERIES),
                series,
            )
        )
    if series == "metric":
        return tuple(
            Drill(f"{size / 100:g} mm", convert(size / 100, "mm", unit), series, METRIC_SOURCE)
            for first, last, step in METRIC_RUNS
            for size in range(first, last + 1, step)
        )
    if series == "fraction":
        source = Source("US drill sizes", "", "64ths of an inch", "common practice, no source")
        sizes = (Fraction(size, 64) for first, last, step in FRACTIONS
                 for size in range(first, last + 1, step))  # fmt: skip
        return tuple(
            Drill(fraction_name(size), convert(float(size), "in", unit), series, source)
            for size in sizes
        )
    table, source, mark = (
        (NUMBERS, NUMBERS_SOURCE, "#") if series == "number" else (LETTERS, LETTERS_SOURCE, "")
    )
    rows = ((f"{mark}{name}", convert(size / 10000, "in", unit)) for name, size in table.items())
    return tuple(
        Drill(name, diameter, series, source) for name, diameter in sorted(rows, key=lambda r: r[1])
    )


def drill_choices(
    major_diameter: float,
    pitch: float,
    unit: Unit,
    *,
    percent: float = 75.0,
    series: tuple[Series, ...] = SERIES,
    minor_limits: tuple[float, float] | None = None,
    count: int = 5,
) -> tuple[DrillChoice, ...]:
    """Return the drills nearest to the percent of thread wanted, best first.

    Drills inside `minor_limits` (least, greatest minor diameter) come before those outside.
    A drill cuts larger than itself; the figures are of the drill's own diameter (how much larger
    depends on machine and grind, common practice, no source). 60 degree threads.

    >>> best = drill_choices(0.25, 0.05, "in", percent=75, series=("number",))[0]
    >>> best.drill.name, round(best.percent, 1)
    ('#7', 75.4)
    """
    hole = hole_for_percent(major_diameter, pitch, percent)
    faults = Faults()
    faults.within("/count", count, least=1, greatest=200, name="number of choices")
    if minor_limits is not None:
        faults.need(
            minor_limits[0] <= minor_limits[1],
            "/minor_limits",
            "limits_out_of_order",
            "the least minor diameter is above the greatest",
            "give the smaller limit first",
        )
    faults.raise_any(BadInput)
    listed = [drill for one in series for drill in drills(one, unit)]
    ranked = sorted(
        (_drill_choice(drill, major_diameter, pitch, percent, minor_limits) for drill in listed),
        key=lambda one: (one.inside_limits is False, abs(one.drill.diameter - hole)),
    )
    near = [one for one in ranked if 0 < one.percent <= 100]
    if not near:
        raise Impossible(
            Fault(
                "/major_diameter",
                "no_standard_drill",
                f"no drill of the lists asked for leaves a thread of {plain(major_diameter)} "
                f"{unit}",
                "bore the hole, or ask for another list of drills",
                float(major_diameter),
            )
        )
    return tuple(near[:count])


def _drill_choice(
    drill: Drill,
    major_diameter: float,
    pitch: float,
    wanted: float,
    limits: tuple[float, float] | None,
) -> DrillChoice:
    left = percent_of_thread(major_diameter, pitch, drill.diameter)
    inside = None if limits is None else limits[0] <= drill.diameter <= limits[1]
    return DrillChoice(drill, left, left - float(wanted), inside)


def _check(major_diameter: float, pitch: float) -> None:
    faults = Faults()
    for pointer, value, name in (
        ("/major_diameter", major_diameter, "major diameter"),
        ("/pitch", pitch, "pitch"),
    ):
        faults.within(pointer, value, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name=name)
    faults.raise_any(BadInput)
