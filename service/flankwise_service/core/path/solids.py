"""Tool and stock as stacks of simple solids."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.errors import BadInput, Faults, Impossible, plain
from flankwise_service.core.path.lengths import GREATEST_LENGTH, LEAST_LENGTH, choose
from flankwise_service.core.path.outline import Around, Disc, Hexagon
from flankwise_service.core.path.request import tooth_half_width
from flankwise_service.core.threads.model import Side

ToolPart = Literal["teeth", "neck", "shank", "holder"]
StockPart = Literal["boss", "shoulder", "hole wall", "hole bottom"]


class Cylinder(NamedTuple):
    """One step of the tool, its heights counted from the mid-plane of the lowest tooth."""

    name: ToolPart
    low: float
    high: float
    radius: float


class Prism(NamedTuple):
    """One part of the stock, between two heights."""

    name: StockPart
    low: float
    high: float
    outline: Disc | Hexagon | Around


@dataclass(frozen=True, slots=True)
class Stock:
    """The stock around the thread. Lengths in one unit, the face at z = 0.

    Give `across_flats` for hexagon bar or `outside_diameter` for round; neither: without end.
    """

    side: Side
    diameter: float
    """Of the boss, or of the hole, before threading."""
    depth: float | None = None
    """Down to the shoulder or the hole's bottom; None: there is none."""
    across_flats: float | None = None
    flat_angle: float = 0.0
    """Direction square to a flat, in degrees."""
    outside_diameter: float | None = None
    centre: tuple[float, float] = (0.0, 0.0)


def tool_stack(cutter: Cutter) -> tuple[Cylinder, ...]:
    """Return a thread mill as stacked cylinders. A part whose size isn't given is left out.

    Raises:
        BadInput: a size is outside its range.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> mill = Cutter(6.0, 3, Tooth(0, 0, 0.5, 1.0), neck_diameter=4.0, reach=20.0)
    >>> tool_stack(mill)[1]
    Cylinder(name='neck', low=0.25, high=20.0, radius=2.0)
    """
    _check_cutter(cutter)
    half, tip = tooth_half_width(cutter.tooth), cutter.tip_to_tooth
    top = (cutter.rows - 1) * (cutter.row_pitch or 0.0) + half
    reach = max(top, cutter.reach - tip) if cutter.reach is not None else None
    end = max(top, cutter.overhang - tip) if cutter.overhang is not None else math.inf
    parts = [Cylinder("teeth", -max(tip, half), top, cutter.diameter / 2)]
    if cutter.neck_diameter > 0:
        parts.append(
            Cylinder("neck", top, end if reach is None else reach, cutter.neck_diameter / 2)
        )
    if cutter.shank_diameter is not None:
        parts.append(
            Cylinder("shank", top if reach is None else reach, end, cutter.shank_diameter / 2)
        )
    if cutter.holder_diameter is not None and cutter.overhang is not None:
        parts.append(Cylinder("holder", end, math.inf, cutter.holder_diameter / 2))
    return tuple(parts)


def stock_prisms(stock: Stock) -> tuple[Prism, ...]:
    """Return the stock as prisms: boss and shoulder, or hole wall and hole bottom.

    Raises:
        BadInput: a size is outside its range.
        Impossible: the hole is as wide as the bar.

    >>> [part.name for part in stock_prisms(Stock("external", 20.0, 15.0, across_flats=30.0))]
    ['boss', 'shoulder']
    """
    _check_stock(stock)
    x, y = stock.centre
    core = Disc(x, y, stock.diameter / 2)
    outside: Disc | Hexagon = Disc(x, y, math.inf)
    if stock.across_flats is not None:
        outside = Hexagon(x, y, stock.across_flats, stock.flat_angle)
    elif stock.outside_diameter is not None:
        outside = Disc(x, y, stock.outside_diameter / 2)
    bottom = -math.inf if stock.depth is None else -stock.depth
    if stock.side == "external":
        parts = [Prism("boss", bottom, 0.0, core), Prism("shoulder", -math.inf, bottom, outside)]
    else:
        bounded = isinstance(outside, Hexagon) or math.isfinite(outside.radius)
        wall = Around(core, outside if bounded else None)
        parts = [
            Prism("hole wall", -math.inf, 0.0, wall),
            Prism("hole bottom", -math.inf, bottom, core),
        ]
    return tuple(parts if stock.depth is not None else parts[:1])


def _sizes(faults: Faults, of: Cutter | Stock, under: str, names: tuple[str, ...]) -> None:
    for name in names:
        value = getattr(of, name)
        if value is not None:
            faults.within(
                f"{under}/{name}",
                value,
                least=LEAST_LENGTH,
                greatest=GREATEST_LENGTH,
                name=name.replace("_", " "),
            )


def _check_cutter(cutter: Cutter) -> None:
    faults = Faults()
    _sizes(
        faults, cutter, "/cutter",
        ("diameter", "reach", "shank_diameter", "overhang", "holder_diameter", "row_pitch"),
    )  # fmt: skip
    for name in ("tip_to_tooth", "neck_diameter"):
        faults.within(
            f"/cutter/{name}", getattr(cutter, name), least=0, greatest=GREATEST_LENGTH,
            name=name.replace("_", " "),
        )  # fmt: skip
    faults.within("/cutter/rows", cutter.rows, least=1, greatest=200, name="rows")
    tooth = cutter.tooth
    for name, value in (("tip_width", tooth.tip_width), ("depth", tooth.depth)):
        faults.within(
            f"/cutter/tooth/{name}", value, least=0, greatest=GREATEST_LENGTH,
            name=name.replace("_", " "),
        )  # fmt: skip
    for name in ("flank_angle_upper", "flank_angle_lower"):
        faults.within(
            f"/cutter/tooth/{name}", getattr(tooth, name), least=0, greatest=80,
            name=name.replace("_", " "),
        )  # fmt: skip
    faults.raise_any(BadInput)


def _check_stock(stock: Stock) -> None:
    faults = Faults()
    choose(faults, "stock/side", stock.side, ("external", "internal"))
    names = ("diameter", "depth", "across_flats", "outside_diameter")
    _sizes(faults, stock, "/stock", names)
    faults.within("/stock/flat_angle", stock.flat_angle, least=-360, greatest=360, name="angle")
    for index in (0, 1):
        faults.within(
            f"/stock/centre/{index}", stock.centre[index], least=-GREATEST_LENGTH,
            greatest=GREATEST_LENGTH, name="centre",
        )  # fmt: skip
    faults.raise_any(BadInput)
    outside = stock.across_flats if stock.across_flats is not None else stock.outside_diameter
    faults.need(
        stock.side == "external" or outside is None or stock.diameter < outside,
        "/stock/diameter",
        "no_wall",
        f"a hole of {plain(stock.diameter)} leaves no wall in bar of {plain(outside or 0)}",
        f"take a bar larger than {plain(stock.diameter)}, or a hole smaller than "
        f"{plain(outside or 0)}",
        stock.diameter,
    )
    faults.raise_any(Impossible)
