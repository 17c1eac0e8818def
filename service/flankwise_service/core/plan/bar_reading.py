"""Does a hexagon's size read like a bar that is sold, or was one measure taken for another?

Across flats, across corners and the radius a drawing asks for are taken for each other; plane
geometry tells which (core/stock/hexagon.py).
"""

from __future__ import annotations

from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import StockAsked
from flankwise_service.core.plan.result import BarPlan
from flankwise_service.core.stock.bars import bars
from flankwise_service.core.stock.hexagon import FLATS_PER_CORNERS, wrong_turn
from flankwise_service.core.units import Unit, written


def hexagon_reading_check(stock: StockAsked, bar: BarPlan, unit: Unit) -> tuple[Check, ...]:
    """Return whether the hexagon's size reads like a bar that is sold, or like a wrong turn.

    Across flats, across corners and the radius of one drawing are taken for each other: a size
    that no bar has, but that a bar gives when it is read so, is a caution with both readings.

    >>> from flankwise_service.core.plan.result import BarPlan
    >>> bar = BarPlan("hexagon", 51.96, 60.0, False, None, 1.0, 1.0, "kg/m", ())
    >>> hexagon_reading_check(StockAsked("6082", across_flats=51.96), bar, "mm")[0].state
    'caution'
    """
    if bar.shape != "hexagon":
        return ()
    sold = [one.size for one in bars("hexagon", unit)]
    sizes = (
        f"{written(bar.size, unit)} {unit} across flats, "
        f"{written(bar.size / FLATS_PER_CORNERS, unit)} {unit} across corners"
    )
    if _near(bar.size, sold) is not None:
        return (Check("hexagon_reading", "passed", f"a hexagon {sizes} is sold"),)
    doubts = _doubts(stock, bar.size, sold, unit)
    if not doubts:
        return (Check("hexagon_reading", "passed", f"a hexagon {sizes}; none is listed"),)
    detail = f"no bar is sold {sizes}; " + "; or ".join(why for _, why, _ in doubts)
    change = "measure between parallel sides; " + "; ".join(
        f"if that is {written(meant, unit)}, {change}" for meant, _, change in doubts
    )
    return (Check("hexagon_reading", "caution", detail, bar.size, doubts[0][0], unit, change),)


def _doubts(
    stock: StockAsked, size: float, sold: list[float], unit: Unit
) -> list[tuple[float, str, str]]:
    """Return which bars were likely meant, why, and what to do; none where no reading gives one.

    One size may be read two ways: 1.25 * sqrt(3) is 1.875 * 2/sqrt(3), and both bars are sold.
    """
    corners = stock.across_corners
    if corners is not None and (meant := _near(corners, sold)) is not None:
        why = f"but one of {written(meant, unit)} across flats is"
        return [(meant, why, "give that as across flats")]
    found = []
    if (meant := _near(size * FLATS_PER_CORNERS, sold)) is not None:
        why = f"it is what a bar of {written(meant, unit)} across flats measures over its corners"
        found.append((meant, why, "give that as across flats"))
    for one in sold:
        turn = wrong_turn(one, size)
        if turn is not None:
            return [*found, (one, turn.detail, turn.change)]
    return found


def _near(size: float, sold: list[float]) -> float | None:
    """Return the size of a bar that is sold within a part in a thousand of `size`, else None."""
    return next((one for one in sold if abs(one - size) <= 1e-3 * one), None)
