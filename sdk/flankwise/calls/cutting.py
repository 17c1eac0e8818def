"""Calls of the subject cutting."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from flankwise.asks import BatchAsk, CutterAsk, MoveAsk, TimedSegmentAsk
from flankwise.calls.base import Calls, Unit
from flankwise.results import (
    FeedReply,
    LoadReply,
    MaterialsReply,
    PassesReply,
    SegmentReply,
    SpeedReply,
    TimeReply,
)

Side = Literal["external", "internal"]
Substance = Literal["carbide", "high speed steel"]
Milling = Literal["climb", "conventional"]
Method = Literal["equal_area", "equal_step"]
Group = Literal["P", "M", "K", "N", "S", "H"]


class CuttingCalls(Calls):
    """Materials, spindle speed, feed on arcs, passes, load, time and cost."""

    def cutting_materials(self, search: str = "", *, group: Group | None = None) -> MaterialsReply:
        """Return the work materials that a search finds, each figure with its source.

        >>> shop.cutting_materials("1.4305").total
        1
        """
        return self._get("/v1/cutting/materials", MaterialsReply, search=search, group=group)

    def cutting_speed(
        self,
        *,
        unit: Unit,
        diameter: float,
        surface_speed: float | None = None,
        material: str | None = None,
        substance: Substance = "carbide",
        fraction: float = 0.5,
        least_speed: float = 0.0,
        greatest_speed: float = 200_000.0,
    ) -> SpeedReply:
        """Return the spindle speed for a surface speed (ft/min or m/min), or for a material.

        >>> round(
        ...     shop.cutting_speed(unit="in", diameter=0.5, surface_speed=300).spindle.wanted, 6
        ... )
        2291.831181
        """
        return self._post(
            "/v1/cutting/speed",
            SpeedReply,
            unit=unit,
            diameter=diameter,
            surface_speed=surface_speed,
            material=material,
            substance=substance,
            fraction=fraction,
            least_speed=least_speed,
            greatest_speed=greatest_speed,
        )

    def cutting_feed(
        self,
        *,
        unit: Unit,
        side: Side,
        diameter_cut: float,
        cutter_diameter: float,
        speed: float,
        flutes: int,
        feed_per_tooth: float,
        lead: float = 0.0,
        greatest_feed: float | None = None,
        acceleration: float | None = None,
    ) -> FeedReply:
        """Return the feed at edge, tool centre and along the helix; `path_feed` is programmed.

        >>> round(
        ...     shop.cutting_feed(
        ...         unit="mm",
        ...         side="internal",
        ...         diameter_cut=50,
        ...         cutter_diameter=20,
        ...         speed=2000,
        ...         flutes=4,
        ...         feed_per_tooth=0.1,
        ...         lead=1.5,
        ...         acceleration=2000,
        ...     ).arc.path_feed,
        ...     6,
        ... )
        480.060789
        """
        return self._post(
            "/v1/cutting/feed",
            FeedReply,
            unit=unit,
            side=side,
            diameter_cut=diameter_cut,
            cutter_diameter=cutter_diameter,
            speed=speed,
            flutes=flutes,
            feed_per_tooth=feed_per_tooth,
            lead=lead,
            greatest_feed=greatest_feed,
            acceleration=acceleration,
        )

    def cutting_passes(
        self,
        *,
        unit: Unit,
        depth: float,
        tip_width: float,
        flank_angle_upper: float = 30.0,
        flank_angle_lower: float = 30.0,
        method: Method = "equal_area",
        passes: int | None = None,
        greatest_step: float | None = None,
        greatest_area: float | None = None,
        spring_passes: int = 0,
    ) -> PassesReply:
        """Return the radial passes of a groove, by equal chip area or in equal steps.

        >>> round(
        ...     shop.cutting_passes(
        ...         unit="mm", depth=0.65, tip_width=0.15, passes=3, spring_passes=1
        ...     ).groove_area,
        ...     6,
        ... )
        0.34143
        """
        return self._post(
            "/v1/cutting/passes",
            PassesReply,
            unit=unit,
            depth=depth,
            tip_width=tip_width,
            flank_angle_upper=flank_angle_upper,
            flank_angle_lower=flank_angle_lower,
            method=method,
            passes=passes,
            greatest_step=greatest_step,
            greatest_area=greatest_area,
            spring_passes=spring_passes,
        )

    def cutting_load(
        self,
        *,
        unit: Unit,
        side: Side,
        cutter: CutterAsk,
        blank_diameter: float,
        depth: float,
        lead: float,
        speed: float,
        chip_load: float,
        material: str | None = None,
        kc11_n_per_mm2: float | None = None,
        mc: float | None = None,
        milling: Milling = "climb",
        passes: int | None = None,
        spring_passes: int = 0,
        pitch_diameter_tolerance: float | None = None,
        final_share: float = 0.1,
        rough_share: float = 0.5,
        wear_factor: float = 1.3,
        radial_ratio: float = 0.5,
        greatest_feed: float | None = None,
    ) -> LoadReply:
        """Return force, torque, power and deflection of each pass of a thread.

        The material by designation, or `kc11_n_per_mm2` and `mc`. With a pitch diameter tolerance
        and no `passes`, the passes follow from the stiffness of the cutter.

        >>> asked = service.good_requests("cutting_load")["passes by stiffness"]
        >>> shop.cutting_load(**asked).kc11_n_per_mm2.value
        700.0
        """
        return self._post(
            "/v1/cutting/load",
            LoadReply,
            unit=unit,
            side=side,
            cutter=cutter,
            blank_diameter=blank_diameter,
            depth=depth,
            lead=lead,
            speed=speed,
            chip_load=chip_load,
            material=material,
            kc11_n_per_mm2=kc11_n_per_mm2,
            mc=mc,
            milling=milling,
            passes=passes,
            spring_passes=spring_passes,
            pitch_diameter_tolerance=pitch_diameter_tolerance,
            final_share=final_share,
            rough_share=rough_share,
            wear_factor=wear_factor,
            radial_ratio=radial_ratio,
            greatest_feed=greatest_feed,
        )

    def cutting_time(
        self,
        *,
        unit: Unit,
        rapid: float,
        acceleration: float,
        moves: Sequence[MoveAsk] | None = None,
        segments: Sequence[TimedSegmentAsk | SegmentReply] | None = None,
        tool_changes: int = 0,
        tool_change_s: float = 0.0,
        handling_s: float = 0.0,
        batch: BatchAsk | None = None,
    ) -> TimeReply:
        """Return the time of one part from moves, or from segments of a path, and its cost.

        The segments of a path's reply go in as they came.

        >>> asked = service.good_requests("cutting_time")["moves and a batch"]
        >>> round(shop.cutting_time(**asked).time.cutting_s, 6)
        4.001667
        """
        return self._post(
            "/v1/cutting/time",
            TimeReply,
            unit=unit,
            rapid=rapid,
            acceleration=acceleration,
            moves=moves,
            segments=segments,
            tool_changes=tool_changes,
            tool_change_s=tool_change_s,
            handling_s=handling_s,
            batch=batch,
        )
