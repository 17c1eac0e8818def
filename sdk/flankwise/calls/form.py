"""Calls of the subject form."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from flankwise.asks import CutterAsk, OffsetMeasurementAsk, PassAsk, SpanAsk, ToothAsk
from flankwise.calls.base import Calls, Unit
from flankwise.results import (
    FormCorrectionReply,
    FormCuttersReply,
    FormOffsetReply,
    FormSectionReply,
)

Side = Literal["external", "internal"]


class FormCalls(Calls):
    """The groove really cut, the radius that lands it on size, cutters compared."""

    def form_section(
        self,
        *,
        unit: Unit,
        side: Side,
        pitch: float,
        cutter_diameter: float,
        tooth: ToothAsk,
        passes: Sequence[PassAsk],
        crest_diameter: float,
        starts: int = 1,
        taper: float = 0.0,
        flank_angle_upper: float | None = None,
        flank_angle_lower: float | None = None,
        pitch_diameter: SpanAsk | None = None,
        rows: int = 1,
        row_pitch: float | None = None,
        rows_through: int = 1,
        points: int = 200,
    ) -> FormSectionReply:
        """Return the axial section that `tooth` leaves, and its measures.

        `pitch_diameter` gives its limits; with them the reply tells shares of the tolerance.

        >>> asked = service.good_requests("form_section")[
        ...     "Acme, three starts, roughed then finished, in inches"
        ... ]
        >>> round(shop.form_section(**asked).section.pitch_diameter, 6)
        0.748296
        """
        return self._post(
            "/v1/form/section",
            FormSectionReply,
            unit=unit,
            side=side,
            pitch=pitch,
            cutter_diameter=cutter_diameter,
            tooth=tooth,
            passes=passes,
            crest_diameter=crest_diameter,
            starts=starts,
            taper=taper,
            flank_angle_upper=flank_angle_upper,
            flank_angle_lower=flank_angle_lower,
            pitch_diameter=pitch_diameter,
            rows=rows,
            row_pitch=row_pitch,
            rows_through=rows_through,
            points=points,
        )

    def form_correction(
        self,
        *,
        unit: Unit,
        designation: str,
        cutter: CutterAsk,
        side: Side | None = None,
        crest_diameter: float | None = None,
        aim: float = 0.5,
        runout: float = 0.0,
        radial_wear: float = 0.0,
    ) -> FormCorrectionReply:
        """Return the centre path that lands the pitch diameter on `aim`, from the form really cut.

        `aim` counts from 0, the least pitch diameter, to 1, the greatest.

        >>> round(
        ...     shop.form_correction(
        ...         unit="in",
        ...         designation="7/8-14 UNF-2A",
        ...         aim=0.333,
        ...         cutter={
        ...             "diameter": 0.5,
        ...             "flutes": 4,
        ...             "tooth": {
        ...                 "flank_angle_upper": 30,
        ...                 "flank_angle_lower": 30,
        ...                 "tip_width": 0.012,
        ...                 "depth": 0.06,
        ...             },
        ...         },
        ...     ).correction.centre_radius,
        ...     6,
        ... )
        0.641331
        """
        return self._post(
            "/v1/form/correction",
            FormCorrectionReply,
            unit=unit,
            designation=designation,
            cutter=cutter,
            side=side,
            crest_diameter=crest_diameter,
            aim=aim,
            runout=runout,
            radial_wear=radial_wear,
        )

    def form_cutters(
        self,
        *,
        unit: Unit,
        designation: str,
        cutters: Sequence[CutterAsk],
        side: Side | None = None,
        crest_diameter: float | None = None,
        aim: float = 0.5,
        share: float = 0.25,
        clearance: float = 0.0,
    ) -> FormCuttersReply:
        """Return the cutters at hand, best first, and the greatest there may be for a hole.

        >>> asked = service.good_requests("form_cutters")[
        ...     "An external thread has no hole to limit the cutter"
        ... ]
        >>> shop.form_cutters(**asked).crest_diameter
        7.866
        """
        return self._post(
            "/v1/form/cutters",
            FormCuttersReply,
            unit=unit,
            designation=designation,
            cutters=cutters,
            side=side,
            crest_diameter=crest_diameter,
            aim=aim,
            share=share,
            clearance=clearance,
        )

    def form_offset(
        self,
        *,
        unit: Unit,
        side: Side,
        pitch: float,
        aim: float,
        measurements: Sequence[OffsetMeasurementAsk],
        uncertainty: float,
        diameter_per_depth: float = 2.0,
    ) -> FormOffsetReply:
        """Return the radius offset to set next, from all sizes measured so far, oldest first.

        >>> round(
        ...     shop.form_offset(
        ...         unit="mm",
        ...         side="internal",
        ...         pitch=1.25,
        ...         aim=7.268,
        ...         uncertainty=0.002,
        ...         diameter_per_depth=1.92,
        ...         measurements=[{"size": 7.25}],
        ...     ).radius_offset,
        ...     6,
        ... )
        -0.009375
        """
        return self._post(
            "/v1/form/offset",
            FormOffsetReply,
            unit=unit,
            side=side,
            pitch=pitch,
            aim=aim,
            measurements=measurements,
            uncertainty=uncertainty,
            diameter_per_depth=diameter_per_depth,
        )
