"""Calls of the subject gauging."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from flankwise.calls.base import Calls, Unit
from flankwise.calls.threads import Side
from flankwise.results import (
    FlankAngleReply,
    GaugesReply,
    MeasuredOverReply,
    OverReadingReply,
    OverWiresReply,
    WiresReply,
)

Method = Literal["three wires", "two wires", "over balls", "between balls"]
Line = Literal["square to the axis", "through both centres"]


class GaugingCalls(Calls):
    """Over wires and balls, gauges, and the correction from a measurement."""

    def gauging_wires(
        self, designation: str, *, unit: Unit, side: Side | None = None
    ) -> WiresReply:
        """Return the best, least and greatest wire (or ball) for a thread.

        >>> round(shop.gauging_wires("M20x1.5-6H", unit="mm").best, 6)
        0.866025
        """
        return self._get(
            "/v1/gauging/wires", WiresReply, designation=designation, unit=unit, side=side
        )

    def gauging_over_wires(
        self,
        designation: str,
        *,
        unit: Unit,
        wires: Sequence[float],
        method: Method,
        side: Side | None = None,
        line: Line = "square to the axis",
    ) -> OverWiresReply:
        """Return the best of the wires at hand and the limits of the reading over it. Exact.

        >>> round(
        ...     shop.gauging_over_wires(
        ...         "M20x1.5-6H", unit="mm", wires=[0.866], method="between balls"
        ...     ).limits.max.reading,
        ...     6,
        ... )
        17.916628
        """
        return self._post(
            "/v1/gauging/over-wires",
            OverWiresReply,
            designation=designation,
            unit=unit,
            side=side,
            wires=wires,
            method=method,
            line=line,
        )

    def gauging_reading(
        self,
        *,
        unit: Unit,
        pitch: float,
        flank_angle_upper: float,
        flank_angle_lower: float,
        side: Side,
        pitch_diameter: float,
        wire: float,
        method: Method,
        starts: int = 1,
        line: Line = "square to the axis",
    ) -> OverReadingReply:
        """Return what a gauge reads in a groove of given size, exact and by the handbook.

        >>> round(
        ...     shop.gauging_reading(
        ...         unit="mm",
        ...         pitch=3,
        ...         flank_angle_upper=7,
        ...         flank_angle_lower=45,
        ...         side="external",
        ...         wire=1.6,
        ...         method="three wires",
        ...         pitch_diameter=30,
        ...     ).reading,
        ...     6,
        ... )
        32.380285
        """
        return self._post(
            "/v1/gauging/reading",
            OverReadingReply,
            unit=unit,
            pitch=pitch,
            starts=starts,
            flank_angle_upper=flank_angle_upper,
            flank_angle_lower=flank_angle_lower,
            side=side,
            pitch_diameter=pitch_diameter,
            wire=wire,
            method=method,
            line=line,
        )

    def gauging_pitch_diameter(
        self,
        *,
        unit: Unit,
        pitch: float,
        flank_angle_upper: float,
        flank_angle_lower: float,
        side: Side,
        reading: float,
        wire: float,
        method: Method,
        reading_uncertainty: float,
        wire_uncertainty: float = 0.0,
        flank_angle_uncertainty: float = 0.0,
        starts: int = 1,
        line: Line = "square to the axis",
    ) -> MeasuredOverReply:
        """Return the pitch diameter a reading stands for, with its uncertainty.

        >>> round(
        ...     shop.gauging_pitch_diameter(
        ...         unit="in",
        ...         pitch=0.2,
        ...         starts=2,
        ...         flank_angle_upper=14.5,
        ...         flank_angle_lower=14.5,
        ...         side="external",
        ...         wire=0.1033,
        ...         method="three wires",
        ...         reading=1.0298,
        ...         reading_uncertainty=0.0001,
        ...         wire_uncertainty=2e-05,
        ...     ).measured.pitch_diameter,
        ...     6,
        ... )
        0.89686
        """
        return self._post(
            "/v1/gauging/pitch-diameter",
            MeasuredOverReply,
            unit=unit,
            pitch=pitch,
            starts=starts,
            flank_angle_upper=flank_angle_upper,
            flank_angle_lower=flank_angle_lower,
            side=side,
            reading=reading,
            wire=wire,
            method=method,
            line=line,
            reading_uncertainty=reading_uncertainty,
            wire_uncertainty=wire_uncertainty,
            flank_angle_uncertainty=flank_angle_uncertainty,
        )

    def gauging_flank_angle(
        self,
        *,
        unit: Unit,
        pitch: float,
        side: Side,
        method: Method,
        readings: Sequence[float],
        wires: Sequence[float],
        starts: int = 1,
    ) -> FlankAngleReply:
        """Return the flank angle at which readings over two sizes of wire agree.

        >>> round(
        ...     shop.gauging_flank_angle(
        ...         unit="in",
        ...         pitch=0.07142857142857142,
        ...         side="external",
        ...         method="three wires",
        ...         readings=[0.874, 0.9044],
        ...         wires=[0.037, 0.047],
        ...     ).flank_angle,
        ...     6,
        ... )
        29.360881
        """
        return self._post(
            "/v1/gauging/flank-angle",
            FlankAngleReply,
            unit=unit,
            pitch=pitch,
            starts=starts,
            side=side,
            method=method,
            readings=readings,
            wires=wires,
        )

    def gauging_gauges(
        self, designation: str, *, unit: Unit, side: Side | None = None
    ) -> GaugesReply:
        """Return go and no-go gauges of a thread, without the gauge maker's tolerance.

        >>> shop.gauging_gauges("M20x1.5-6H", unit="mm").gauges[0].pitch_diameter
        19.026
        """
        return self._get(
            "/v1/gauging/gauges", GaugesReply, designation=designation, unit=unit, side=side
        )
