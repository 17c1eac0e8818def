"""Calls of the subject path."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import Literal

from flankwise.asks import (
    BoreMillingAsk,
    BossMillingAsk,
    CutterAsk,
    HelixPartAsk,
    PathSegmentAsk,
    PathStockAsk,
    RadialPassAsk,
)
from flankwise.calls.base import Calls, Progress, Unit, composed
from flankwise.errors import Unreachable
from flankwise.results import BlankPathReply, HelixReply, PathCollisionReply, SegmentReply

Side = Literal["external", "internal"]
Hand = Literal["right", "left"]
Milling = Literal["climb", "conventional"]
Entry = Literal["quarter_arc", "half_arc", "radial"]
TOLD_EVERY = 1000


class PathCalls(Calls):
    """The thread's helix, the blank's rounds, and clearances of the tool from the stock."""

    def path_helix(
        self,
        *,
        unit: Unit,
        side: Side,
        pitch: float,
        length: float,
        blank_diameter: float,
        cutter: CutterAsk,
        passes: Sequence[RadialPassAsk],
        clearance: float,
        clearance_height: float,
        hand: Hand = "right",
        milling: Milling = "climb",
        starts: int = 1,
        centre: Sequence[float] = (0.0, 0.0),
        start_angle: float = 0.0,
        turns_above_face: float | None = None,
        turns_below_length: float = 0.0,
        relief_width: float | None = None,
        lead_in: Entry = "half_arc",
        lead_out: Entry = "half_arc",
        lead_arc_radius: float | None = None,
        straight_lead: float = 0.0,
        greatest_sweep: int = 360,
        overlap: float = 10.0,
        taper: float = 0.0,
        radial_tolerance: float | None = None,
        chord_tolerance: float | None = None,
        plunge_feed: float | None = None,
        blunt_start: bool = False,
    ) -> HelixReply:
        """Return the whole path of a thread, with turns, direction and totals.

        For very long paths see `path_helix_segments`, which never holds more than a line.

        >>> asked = service.good_requests("path_helix")["one turn for each block of rows"]
        >>> shop.path_helix(**asked).thread_turns
        12.0
        """
        return self._post(
            "/v1/path/helix",
            HelixReply,
            unit=unit,
            side=side,
            pitch=pitch,
            length=length,
            blank_diameter=blank_diameter,
            cutter=cutter,
            passes=passes,
            clearance=clearance,
            clearance_height=clearance_height,
            hand=hand,
            milling=milling,
            starts=starts,
            centre=centre,
            start_angle=start_angle,
            turns_above_face=turns_above_face,
            turns_below_length=turns_below_length,
            relief_width=relief_width,
            lead_in=lead_in,
            lead_out=lead_out,
            lead_arc_radius=lead_arc_radius,
            straight_lead=straight_lead,
            greatest_sweep=greatest_sweep,
            overlap=overlap,
            taper=taper,
            radial_tolerance=radial_tolerance,
            chord_tolerance=chord_tolerance,
            plunge_feed=plunge_feed,
            blunt_start=blunt_start,
        )

    @composed
    def path_helix_segments(
        self,
        *,
        unit: Unit,
        side: Side,
        pitch: float,
        length: float,
        blank_diameter: float,
        cutter: CutterAsk,
        passes: Sequence[RadialPassAsk],
        clearance: float,
        clearance_height: float,
        hand: Hand = "right",
        milling: Milling = "climb",
        starts: int = 1,
        centre: Sequence[float] = (0.0, 0.0),
        start_angle: float = 0.0,
        turns_above_face: float | None = None,
        turns_below_length: float = 0.0,
        relief_width: float | None = None,
        lead_in: Entry = "half_arc",
        lead_out: Entry = "half_arc",
        lead_arc_radius: float | None = None,
        straight_lead: float = 0.0,
        greatest_sweep: int = 360,
        overlap: float = 10.0,
        taper: float = 0.0,
        radial_tolerance: float | None = None,
        chord_tolerance: float | None = None,
        plunge_feed: float | None = None,
        blunt_start: bool = False,
        progress: Progress | None = None,
    ) -> Iterator[SegmentReply]:
        """Yield the segments of a thread's path as they arrive, however many there are.

        Takes what `path_helix` takes. `progress` is called with the number so far, now and then.
        Raises `Unreachable` where the path ends before its totals: then a part of it is missing.
        """
        count, totals = 0, None
        lines = self._stream(
            "/v1/path/helix",
            "application/x-ndjson",
            unit=unit,
            side=side,
            pitch=pitch,
            length=length,
            blank_diameter=blank_diameter,
            cutter=cutter,
            passes=passes,
            clearance=clearance,
            clearance_height=clearance_height,
            hand=hand,
            milling=milling,
            starts=starts,
            centre=centre,
            start_angle=start_angle,
            turns_above_face=turns_above_face,
            turns_below_length=turns_below_length,
            relief_width=relief_width,
            lead_in=lead_in,
            lead_out=lead_out,
            lead_arc_radius=lead_arc_radius,
            straight_lead=straight_lead,
            greatest_sweep=greatest_sweep,
            overlap=overlap,
            taper=taper,
            radial_tolerance=radial_tolerance,
            chord_tolerance=chord_tolerance,
            plunge_feed=plunge_feed,
            blunt_start=blunt_start,
        )
        for line in lines:
            piece = json.loads(line)
            totals = piece.get("totals")
            if totals is None:
                yield SegmentReply.of(piece)
                count += 1
                if progress is not None and count % TOLD_EVERY == 0:
                    progress(count)
        if totals is None:
            raise Unreachable(f"the path was cut after {count} segments")
        if progress is not None:
            progress(count)

    def path_blank(
        self,
        *,
        unit: Unit,
        boss: BossMillingAsk | None = None,
        bore: BoreMillingAsk | None = None,
    ) -> BlankPathReply:
        """Return the path that mills a boss or bores a hole; give one of them.

        >>> round(
        ...     shop.path_blank(
        ...         unit="mm",
        ...         bore={
        ...             "diameter": 18.45,
        ...             "depth": 5,
        ...             "cutter_diameter": 10,
        ...             "edge_feed": 600,
        ...             "depth_per_turn": 1,
        ...             "clearance": 0.5,
        ...             "clearance_height": 5,
        ...             "greatest_ramp_angle": 5,
        ...         },
        ...     ).ramp_angle,
        ...     6,
        ... )
        2.157301
        """
        return self._post("/v1/path/blank", BlankPathReply, unit=unit, boss=boss, bore=bore)

    def path_collision(
        self,
        *,
        unit: Unit,
        stock: PathStockAsk,
        helix: HelixPartAsk | None = None,
        segments: Sequence[PathSegmentAsk] | None = None,
        cutter: CutterAsk | None = None,
        cut: Literal["thread", "blank"] = "thread",
        least_clearance: float = 0.0,
    ) -> PathCollisionReply:
        """Return how near the tool comes to the stock: for a thread, or for segments and cutter.

        >>> asked = service.good_requests("path_collision")["one move beside the bar"]
        >>> shop.path_collision(**asked).clear
        True
        """
        return self._post(
            "/v1/path/collision",
            PathCollisionReply,
            unit=unit,
            stock=stock,
            helix=helix,
            segments=segments,
            cutter=cutter,
            cut=cut,
            least_clearance=least_clearance,
        )
