"""Which standard bar to take: the smallest that cleans up, and the next ones up.

Source: geometry; each bar carries the source of its size and of its tolerance.
"""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.errors import BadInput, Faults, Impossible, plain
from flankwise_service.core.stock.bars import SHAPES, Bar, Shape, Wrench, bars, wrench
from flankwise_service.core.stock.hexagon import (
    FLATS_PER_CORNERS,
    GREATEST_LENGTH,
    LEAST_LENGTH,
    hexagon,
)
from flankwise_service.core.stock.mass import BarMass, circle_area, mass_per_length
from flankwise_service.core.units import Unit


@dataclass(frozen=True, slots=True)
class BarChoice:
    """A standard bar that cleans up, with what it leaves and weighs."""

    bar: Bar
    needed: float
    """Least across flats (hexagon) or diameter (round) that cleans up."""
    cut_per_side: float
    """Radial stock over the finished diameter at the flats (hexagon) or all round (round)."""
    least_cut_per_side: float
    """The same with the bar at the bottom of its size tolerance."""
    across_corners: float | None
    corner_stand_out: float | None
    """How far the corners stand out beyond the finished diameter; None for round bar."""
    wrench: Wrench | None
    mass: BarMass | None
    volume_removed_per_length: float
    """Area of section turned to chips beside the boss, in the unit squared."""


def needed_size(diameter: float, allowance: float, least_wall: float = 0.0) -> float:
    """Return the least bar that cleans up: diameter + 2 * (allowance + least_wall).

    `allowance` is radial, per side. For a boss give its diameter; for a threaded hole give the
    thread's greatest major diameter and the least wall wanted to the flats.

    >>> round(needed_size(0.8734, 0.03), 4)
    0.9334
    """
    faults = Faults()
    faults.within(
        "/diameter", diameter, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name="diameter"
    )
    faults.within("/allowance", allowance, least=0, greatest=GREATEST_LENGTH, name="allowance")
    faults.within("/least_wall", least_wall, least=0, greatest=GREATEST_LENGTH, name="least wall")
    faults.raise_any(BadInput)
    return float(diameter) + 2 * (float(allowance) + float(least_wall))


def round_for_hexagon(across_flats: float, allowance: float) -> float:
    """Return the least round bar a hexagon can be milled from: across corners + 2 * allowance.

    >>> round(round_for_hexagon(30.0, 0.5), 3)
    35.641
    """
    needed_size(across_flats, allowance)
    return float(across_flats) / FLATS_PER_CORNERS + 2 * float(allowance)


def bar_choices(
    diameter: float,
    allowance: float,
    unit: Unit,
    *,
    shapes: tuple[Shape, ...] = SHAPES,
    least_wall: float = 0.0,
    least_across_flats: float = 0.0,
    density_g_per_cm3: float | None = None,
    count: int = 3,
) -> tuple[BarChoice, ...]:
    """Return the smallest standard bars that clean up `diameter`, per shape, smallest first.

    A bar cleans up when its size less its size tolerance (h11 for metric bar; inch bar states
    none here, so put what your supplier allows into `allowance`) is at least
    `needed_size(diameter, allowance, least_wall)`. Hexagons also need `least_across_flats`.
    Nothing large enough: Impossible.

    >>> [c.bar.name for c in bar_choices(0.8734, 0.03, "in", shapes=("hexagon",), count=2)]
    ['15/16', '1']
    >>> [c.bar.name for c in bar_choices(26.0, 0.5, "mm", shapes=("hexagon",), count=1)]
    ['28']
    """
    needed = needed_size(diameter, allowance, least_wall)
    faults = Faults()
    faults.within(
        "/least_across_flats",
        least_across_flats,
        least=0,
        greatest=GREATEST_LENGTH,
        name="least across flats",
    )
    faults.within("/count", count, least=1, greatest=100, name="number of choices")
    faults.raise_any(BadInput)
    found: list[BarChoice] = []
    for shape in shapes:
        wanted = max(needed, float(least_across_flats)) if shape == "hexagon" else needed
        fitting = [bar for bar in bars(shape, unit) if _cleans_up(bar, needed, wanted)]
        faults.need(
            bool(fitting),
            "/diameter",
            "no_standard_bar",
            f"no standard {shape} bar of {plain(wanted)} {unit} or more is in the list",
            "order bar by its own size, or reduce the diameter, the allowance or the wall",
            float(diameter),
        )
        found += [_choice(bar, needed, diameter, density_g_per_cm3) for bar in fitting[:count]]
    if not found:
        faults.raise_any(Impossible)
    return tuple(found)


def _cleans_up(bar: Bar, needed: float, wanted: float) -> bool:
    slack = 1e-9 * bar.size
    return bar.size - (bar.undersize or 0.0) >= needed - slack and bar.size >= wanted - slack


def _choice(bar: Bar, needed: float, diameter: float, density: float | None) -> BarChoice:
    is_hexagon = bar.shape == "hexagon"
    whole = hexagon("across_flats", bar.size) if is_hexagon else None
    area = whole.area if whole else circle_area(bar.size)
    per_side = (bar.size - diameter) / 2
    return BarChoice(
        bar=bar,
        needed=needed,
        cut_per_side=per_side,
        least_cut_per_side=per_side - (bar.undersize or 0.0) / 2,
        across_corners=whole.across_corners if whole else None,
        corner_stand_out=(whole.across_corners - diameter) / 2 if whole else None,
        wrench=wrench(bar.size, bar.unit) if is_hexagon else None,
        mass=None if density is None else mass_per_length(area, density, bar.unit),
        volume_removed_per_length=area - circle_area(diameter),
    )
