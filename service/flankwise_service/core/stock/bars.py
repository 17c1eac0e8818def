"""Standard sizes of bright hexagon and round bar, inch and metric, with their size tolerance.

Metric sizes are those bright bar is commonly sold in (DIN 176 hexagon, EN 10278 round), recalled
from memory and checked only against ISO 272 widths across flats; a supplier's list governs.
Inch sizes follow common practice of US bar stock; there is no one standard for them.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Literal

from flankwise_service.core.errors import BadInput, Fault, Faults
from flankwise_service.core.stock.hexagon import GREATEST_LENGTH
from flankwise_service.core.threads.model import Source
from flankwise_service.core.units import Unit

Shape = Literal["hexagon", "round"]
SHAPES: tuple[Shape, ...] = ("hexagon", "round")

HEXAGON_METRIC = Source("DIN 176", "1972", "preferred sizes, bright steel hexagon", "memory")
ROUND_METRIC = Source("EN 10278", "1999", "sizes commonly drawn, bright steel round", "memory")
HEXAGON_INCH = Source("US bar stock", "", "cold drawn hexagon", "common practice, no source")
ROUND_INCH = Source("US bar stock", "", "cold finished round", "common practice, no source")
WIDTHS = Source("ISO 272", "1982", "widths across flats of hexagon products", "memory")
IT11 = Source("ISO 286-1", "2010", "Table 1, IT11", "memory")

_HEXAGON_MM = (
    3, 3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 24, 25,
    27, 28, 30, 32, 34, 36, 38, 41, 46, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100,
)  # fmt: skip
_ROUND_MM = (
    2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22,
    23, 24, 25, 26, 27, 28, 30, 32, 34, 35, 36, 38, 40, 42, 45, 48, 50, 52, 55, 58, 60, 63, 65, 70,
    75, 80, 85, 90, 95, 100, 110, 120, 130, 140, 150, 160, 180, 200,
)  # fmt: skip


def _steps(*runs: tuple[str, str, str]) -> tuple[Fraction, ...]:
    """Return sizes in runs of (first, last, step), without repeats."""
    sizes: list[Fraction] = []
    for first, last, step in runs:
        size = Fraction(first)
        while size <= Fraction(last):
            if size not in sizes:
                sizes.append(size)
            size += Fraction(step)
    return tuple(sizes)


_HEXAGON_IN = _steps(("1/8", "3/2", "1/16"), ("3/2", "3", "1/8"))
_ROUND_IN = _steps(("1/16", "2", "1/16"), ("2", "4", "1/8"), ("4", "8", "1/4"))

WRENCHES_MM = (
    3.2, 4, 5, 5.5, 7, 8, 10, 11, 13, 16, 18, 21, 24, 27, 30, 34, 36, 41, 46, 50, 55, 60, 65, 70,
    75, 80, 85, 90, 95, 100,
)  # fmt: skip
"""ISO 272 widths across flats (memory)."""

_IT11_MM: tuple[tuple[float, float], ...] = (
    (3, 0.060), (6, 0.075), (10, 0.090), (18, 0.110), (30, 0.130), (50, 0.160), (80, 0.190),
    (120, 0.220), (180, 0.250), (250, 0.290),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bar:
    """One standard size of bar. `size` is across flats of a hexagon, diameter of a round."""

    shape: Shape
    size: float
    name: str
    unit: Unit
    source: Source
    undersize: float | None
    """How much below `size` a bar may be and still pass (ISO h11); None where not stated."""
    undersize_source: Source | None


def fraction_name(size: Fraction) -> str:
    """Return an inch size as the trade writes it.

    >>> fraction_name(Fraction(5, 4)), fraction_name(Fraction(3)), fraction_name(Fraction(7, 16))
    ('1-1/4', '3', '7/16')
    """
    whole, rest = divmod(size, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)


def undersize_h11(size_mm: float) -> float:
    """Return the h11 tolerance of a bar of this size in mm: what it may be below its size.

    Steps of nominal size: over 0 to 3, over 3 to 6 … over 180 to 250 mm. Source: ISO 286-1:2010
    Table 1 (memory). Above 250 mm refused.

    >>> undersize_h11(30), undersize_h11(32)
    (0.13, 0.16)
    """
    faults = Faults()
    faults.within("/size_mm", size_mm, least=0, greatest=250, name="bar size", unit="mm")
    faults.raise_any(BadInput)
    return next(tolerance for greatest, tolerance in _IT11_MM if size_mm <= greatest)


@cache
def bars(shape: Shape, unit: Unit) -> tuple[Bar, ...]:
    """Return the standard bars of one shape in one unit, smallest first, each with its source.

    >>> [bar.name for bar in bars("hexagon", "in")][-3:]
    ['2-3/4', '2-7/8', '3']
    >>> [bar.name for bar in bars("hexagon", "mm") if 26 < bar.size < 33]
    ['27', '28', '30', '32']
    """
    if shape not in SHAPES:
        raise BadInput(
            Fault(
                "/shape",
                "unknown_shape",
                f"no standard bars of shape {shape!r}",
                "name hexagon or round",
                shape,
            )
        )
    if unit == "in":
        sizes = _HEXAGON_IN if shape == "hexagon" else _ROUND_IN
        source = HEXAGON_INCH if shape == "hexagon" else ROUND_INCH
        return tuple(
            Bar(shape, float(size), fraction_name(size), unit, source, None, None) for size in sizes
        )
    source = HEXAGON_METRIC if shape == "hexagon" else ROUND_METRIC
    return tuple(
        Bar(shape, float(size), f"{size:g}", unit, source, undersize_h11(size), IT11)
        for size in (_HEXAGON_MM if shape == "hexagon" else _ROUND_MM)
    )


@dataclass(frozen=True, slots=True)
class Wrench:
    """The wrench for a hexagon: the standard size it is, or the next one that goes over it."""

    size: float
    name: str
    unit: Unit
    exact: bool
    slack: float
    """Wrench size less the hexagon's across flats."""
    source: Source


@cache
def _wrenches(unit: Unit) -> tuple[tuple[float, str], ...]:
    if unit == "in":
        return tuple((bar.size, bar.name) for bar in bars("hexagon", "in"))
    return tuple((float(size), f"{size:g}") for size in WRENCHES_MM)


def wrench(across_flats: float, unit: Unit) -> Wrench | None:
    """Return the smallest standard wrench that goes over a hexagon, or None above the largest.

    Metric: ISO 272 widths across flats (memory). Inch: the bar sizes by sixteenths (common
    practice, no source). `exact` when within 0.2 % of the size.

    >>> wrench(30.0, "mm").name, wrench(26.9, "mm").name, wrench(1.25, "in").name
    ('30', '27', '1-1/4')
    >>> wrench(51.96, "mm").exact
    False
    """
    faults = Faults()
    faults.within(
        "/across_flats", across_flats, least=1e-6, greatest=GREATEST_LENGTH, name="across flats"
    )
    faults.raise_any(BadInput)
    least = across_flats * (1 - 1e-9)
    for size, name in _wrenches(unit):
        if size >= least:
            slack = max(0.0, size - float(across_flats))
            return Wrench(
                size,
                name,
                unit,
                slack <= 0.002 * size,
                slack,
                HEXAGON_INCH if unit == "in" else WIDTHS,
            )
    return None
