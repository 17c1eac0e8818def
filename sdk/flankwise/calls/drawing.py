"""Calls of the subject drawing. Every one returns an SVG as text that a notebook shows."""

from __future__ import annotations

from collections.abc import Sequence

from flankwise.asks import PathSegmentAsk, SectionCutAsk
from flankwise.calls.base import Calls, Unit
from flankwise.calls.threads import Side
from flankwise.documents import Drawing

SVG = "image/svg+xml"


class DrawingCalls(Calls):
    """Section, path, hexagon bar and setup, to scale."""

    def drawing_section(
        self,
        *,
        designation: str,
        unit: Unit,
        side: Side | None = None,
        edition: str | None = None,
        cut: SectionCutAsk | None = None,
        pitch_diameter_cut: float | None = None,
    ) -> Drawing:
        """Return the axial section of a thread with its limits and, if given, the groove as cut.

        >>> shop.drawing_section(designation="7/8-14 UNF-2A", unit="in")[:4]
        '<svg'
        """
        drawn = self._post_text(
            "/v1/drawing/section",
            SVG,
            designation=designation,
            unit=unit,
            side=side,
            edition=edition,
            cut=cut,
            pitch_diameter_cut=pitch_diameter_cut,
        )
        return Drawing(drawn)

    def drawing_path(
        self,
        *,
        unit: Unit,
        side: Side,
        diameter: float,
        length: float,
        segments: Sequence[PathSegmentAsk],
        cutter_diameter: float | None = None,
        across_flats: float | None = None,
        bar_diameter: float | None = None,
        depth: float | None = None,
        centre: Sequence[float] | None = None,
        name: str | None = None,
    ) -> Drawing:
        """Return the tool path from above and from the side.

        >>> asked = service.good_requests("drawing_path")["a thread in a hole"]
        >>> shop.drawing_path(**asked)[:4]
        '<svg'
        """
        drawn = self._post_text(
            "/v1/drawing/path",
            SVG,
            unit=unit,
            side=side,
            diameter=diameter,
            length=length,
            segments=segments,
            cutter_diameter=cutter_diameter,
            across_flats=across_flats,
            bar_diameter=bar_diameter,
            depth=depth,
            centre=centre,
            name=name,
        )
        return Drawing(drawn)

    def drawing_hexagon(
        self,
        *,
        unit: Unit,
        side: Side,
        diameter: float,
        length: float,
        across_flats: float,
        thread_diameter: float | None = None,
        cutter_diameter: float | None = None,
        depth: float | None = None,
        name: str | None = None,
    ) -> Drawing:
        """Return the hexagon bar with its boss or hole, from above and from the side.

        >>> shop.drawing_hexagon(
        ...     unit="in",
        ...     side="external",
        ...     diameter=0.872,
        ...     length=0.875,
        ...     depth=1.05,
        ...     across_flats=1.25,
        ...     thread_diameter=0.79,
        ...     name="7/8-14 UNF-2A",
        ... )[:4]
        '<svg'
        """
        drawn = self._post_text(
            "/v1/drawing/hexagon",
            SVG,
            unit=unit,
            side=side,
            diameter=diameter,
            length=length,
            across_flats=across_flats,
            thread_diameter=thread_diameter,
            cutter_diameter=cutter_diameter,
            depth=depth,
            name=name,
        )
        return Drawing(drawn)

    def drawing_setup(
        self,
        *,
        unit: Unit,
        side: Side,
        diameter: float,
        length: float,
        safe_height: float,
        clearance_height: float,
        work_offset: str | None = None,
        tip_to_tooth: float | None = None,
        tool_number: int | None = None,
        cutter_diameter: float | None = None,
        across_flats: float | None = None,
        bar_diameter: float | None = None,
        depth: float | None = None,
        centre: Sequence[float] | None = None,
        name: str | None = None,
    ) -> Drawing:
        """Return the setup at the machine: zero point, heights, tool and cautions.

        >>> shop.drawing_setup(
        ...     unit="in",
        ...     side="external",
        ...     diameter=0.872,
        ...     length=0.875,
        ...     depth=1.05,
        ...     across_flats=1.25,
        ...     cutter_diameter=0.37,
        ...     safe_height=1.0,
        ...     clearance_height=0.1,
        ...     tip_to_tooth=0.03,
        ...     name="7/8-14 UNF-2A",
        ... )[:4]
        '<svg'
        """
        drawn = self._post_text(
            "/v1/drawing/setup",
            SVG,
            unit=unit,
            side=side,
            diameter=diameter,
            length=length,
            safe_height=safe_height,
            clearance_height=clearance_height,
            work_offset=work_offset,
            tip_to_tooth=tip_to_tooth,
            tool_number=tool_number,
            cutter_diameter=cutter_diameter,
            across_flats=across_flats,
            bar_diameter=bar_diameter,
            depth=depth,
            centre=centre,
            name=name,
        )
        return Drawing(drawn)
