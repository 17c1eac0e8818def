"""Calls of the subject stock."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from flankwise.asks import BlankDepthAsk
from flankwise.calls.base import Calls, Unit
from flankwise.results import BarsReply, BlankReply, DrillReply, HexagonFactsReply, StockChoiceReply

Shape = Literal["hexagon", "round"]
Series = Literal["fraction", "number", "letter", "metric"]
Side = Literal["external", "internal"]


class StockCalls(Calls):
    """Hexagon and round bar, the blank before threading, drills for the hole."""

    def stock_hexagon(
        self,
        *,
        unit: Unit,
        across_flats: float | None = None,
        across_corners: float | None = None,
        side: float | None = None,
        inscribed_radius: float | None = None,
        circumscribed_radius: float | None = None,
        density_g_per_cm3: float | None = None,
        diameter: float | None = None,
        drawn_across_flats: float | None = None,
    ) -> HexagonFactsReply:
        """Return every measure of a hexagon from exactly one of its five, with wrench and mass.

        `diameter` is that of a boss turned from it; `drawn_across_flats`, as measured in a
        drawing, finds the wrong turn from radius to flats.

        >>> round(shop.stock_hexagon(unit="in", across_corners=2).hexagon.across_flats, 6)
        1.732051
        """
        return self._post(
            "/v1/stock/hexagon",
            HexagonFactsReply,
            unit=unit,
            across_flats=across_flats,
            across_corners=across_corners,
            side=side,
            inscribed_radius=inscribed_radius,
            circumscribed_radius=circumscribed_radius,
            density_g_per_cm3=density_g_per_cm3,
            diameter=diameter,
            drawn_across_flats=drawn_across_flats,
        )

    def stock_bars(self, *, unit: Unit, shape: Shape) -> BarsReply:
        """Return the standard sizes of hexagon or round bar, inch or metric.

        >>> shop.stock_bars(unit="mm", shape="hexagon").bars[0].size
        3.0
        """
        return self._get("/v1/stock/bars", BarsReply, unit=unit, shape=shape)

    def stock_choice(
        self,
        *,
        unit: Unit,
        diameter: float,
        allowance: float,
        least_wall: float = 0.0,
        least_across_flats: float = 0.0,
        shapes: Sequence[Shape] | None = None,
        density_g_per_cm3: float | None = None,
        material: str | None = None,
        count: int = 3,
    ) -> StockChoiceReply:
        """Return the smallest standard bars from which `diameter` cleans up.

        `allowance` is radial, for each side; `least_wall` is that between a thread within the bar
        and its outside. Refused where no standard bar is large enough.

        >>> shop.stock_choice(
        ...     unit="in", diameter=0.8734, allowance=0.03, shapes=["hexagon"], material="303"
        ... ).choices[0].needed
        0.9334
        """
        return self._post(
            "/v1/stock/choice",
            StockChoiceReply,
            unit=unit,
            diameter=diameter,
            allowance=allowance,
            least_wall=least_wall,
            least_across_flats=least_across_flats,
            shapes=shapes,
            density_g_per_cm3=density_g_per_cm3,
            material=material,
            count=count,
        )

    def stock_blank(
        self,
        *,
        unit: Unit,
        designation: str | None = None,
        side: Side | None = None,
        least: float | None = None,
        greatest: float | None = None,
        fraction: float = 0.5,
        depth: BlankDepthAsk | None = None,
    ) -> BlankReply:
        """Return the diameter to turn a boss or bore a hole to, and the budget of its depth.

        By `designation`, or by `least` and `greatest`. A blank that lacks depth is refused with
        the missing length.

        >>> shop.stock_blank(
        ...     unit="mm", least=18.376, greatest=18.676, fraction=0.6
        ... ).aim.diameter
        18.556
        """
        return self._post(
            "/v1/stock/blank",
            BlankReply,
            unit=unit,
            designation=designation,
            side=side,
            least=least,
            greatest=greatest,
            fraction=fraction,
            depth=depth,
        )

    def stock_drill(
        self,
        *,
        unit: Unit,
        designation: str | None = None,
        side: Side | None = None,
        major_diameter: float | None = None,
        pitch: float | None = None,
        percent: float = 75.0,
        series: Sequence[Series] | None = None,
        count: int = 5,
    ) -> DrillReply:
        """Return the standard drills nearest to the percent of thread wanted, best first.

        By `designation` of an internal 60 degree thread, or by `major_diameter` and `pitch`.

        >>> round(shop.stock_drill(unit="in", designation="1/4-20 UNC-2B", count=3).hole, 6)
        0.201286
        """
        return self._post(
            "/v1/stock/drill",
            DrillReply,
            unit=unit,
            designation=designation,
            side=side,
            major_diameter=major_diameter,
            pitch=pitch,
            percent=percent,
            series=series,
            count=count,
        )
