"""Calls of the subject gauging that end in what to change at the control."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from flankwise.asks import MeasuredSizeAsk
from flankwise.calls.base import Calls, Unit
from flankwise.calls.threads import Side
from flankwise.results import (
    CorrectionTableReply,
    InspectionReply,
    NarrowReply,
    OffsetCorrectionReply,
    OffsetResponseReply,
)

Method = Literal["three wires", "two wires", "over balls", "between balls"]
Line = Literal["square to the axis", "through both centres"]


class GaugingCorrectionCalls(Calls):
    """From a measured part to the radius offset of the next."""

    def gauging_inspection(
        self,
        designation: str,
        *,
        unit: Unit,
        reading: float,
        wire: float,
        method: Method,
        reading_uncertainty: float,
        wire_uncertainty: float = 0.0,
        flank_angle_uncertainty: float = 0.0,
        side: Side | None = None,
        line: Line = "square to the axis",
        aim: float | None = None,
        diameter_per_radius: float = 2.0,
    ) -> InspectionReply:
        """Return pitch diameter, verdict and radius offset change from one reading.

        A reading so far off that it must be a wrong wire, thread or tool is `Refused`.

        >>> shop.gauging_inspection(
        ...     "7/8-14 UNF-2A",
        ...     unit="in",
        ...     wire=0.04,
        ...     method="three wires",
        ...     reading_uncertainty=0.0001,
        ...     reading=0.8877,
        ... ).correction.words
        'make the radius offset smaller by 0.0026 in'
        """
        return self._post(
            "/v1/gauging/inspection",
            InspectionReply,
            designation=designation,
            unit=unit,
            side=side,
            reading=reading,
            wire=wire,
            method=method,
            line=line,
            reading_uncertainty=reading_uncertainty,
            wire_uncertainty=wire_uncertainty,
            flank_angle_uncertainty=flank_angle_uncertainty,
            aim=aim,
            diameter_per_radius=diameter_per_radius,
        )

    def gauging_correction(
        self,
        designation: str,
        *,
        unit: Unit,
        pitch_diameter: float,
        uncertainty: float,
        side: Side | None = None,
        aim: float | None = None,
        diameter_per_radius: float = 2.0,
    ) -> OffsetCorrectionReply:
        """Return the radius offset change that brings a measured pitch diameter to its aim.

        >>> shop.gauging_correction(
        ...     "M20x1.5-6H", unit="mm", pitch_diameter=19.0, uncertainty=0.005
        ... ).words
        'make the radius offset smaller by 0.061 mm'
        """
        return self._post(
            "/v1/gauging/correction",
            OffsetCorrectionReply,
            designation=designation,
            unit=unit,
            side=side,
            pitch_diameter=pitch_diameter,
            uncertainty=uncertainty,
            aim=aim,
            diameter_per_radius=diameter_per_radius,
        )

    def gauging_response(
        self,
        designation: str,
        *,
        unit: Unit,
        before: MeasuredSizeAsk,
        after: MeasuredSizeAsk,
        changed_by: float,
        side: Side | None = None,
        aim: float | None = None,
    ) -> OffsetResponseReply:
        """Return how the thread answered a change of the radius offset, and the next change.

        >>> round(
        ...     shop.gauging_response(
        ...         "7/8-14 UNF-2A",
        ...         unit="in",
        ...         before={"pitch_diameter": 0.829, "uncertainty": 0.0001},
        ...         after={"pitch_diameter": 0.826, "uncertainty": 0.0001},
        ...         changed_by=-0.0018,
        ...     ).diameter_per_radius,
        ...     6,
        ... )
        1.666667
        """
        return self._post(
            "/v1/gauging/response",
            OffsetResponseReply,
            designation=designation,
            unit=unit,
            side=side,
            before=before,
            after=after,
            changed_by=changed_by,
            aim=aim,
        )

    def gauging_correction_table(
        self,
        designation: str,
        *,
        unit: Unit,
        wire: float,
        method: Method,
        side: Side | None = None,
        line: Line = "square to the axis",
        aim: float | None = None,
        rows: int = 11,
        diameter_per_radius: float = 2.0,
    ) -> CorrectionTableReply:
        """Return the table of readings and offset changes to lay beside the machine.

        >>> shop.gauging_correction_table(
        ...     "7/8-14 UNF-2A", unit="in", wire=0.04, method="three wires", rows=7
        ... ).wire
        0.04
        """
        return self._post(
            "/v1/gauging/correction-table",
            CorrectionTableReply,
            designation=designation,
            unit=unit,
            side=side,
            wire=wire,
            method=method,
            line=line,
            aim=aim,
            rows=rows,
            diameter_per_radius=diameter_per_radius,
        )

    def gauging_narrow(
        self,
        designation: str,
        *,
        unit: Unit,
        measurements: Sequence[MeasuredSizeAsk],
        side: Side | None = None,
    ) -> NarrowReply:
        """Return where the pitch diameter lies when every measurement of it holds.

        >>> shop.gauging_narrow(
        ...     "7/8-14 UNF-2A",
        ...     unit="in",
        ...     measurements=[
        ...         {"pitch_diameter": 0.8243, "uncertainty": 0.0003},
        ...         {"pitch_diameter": 0.8247, "uncertainty": 0.0002},
        ...     ],
        ... ).measured.pitch_diameter
        0.82455
        """
        return self._post(
            "/v1/gauging/narrow",
            NarrowReply,
            designation=designation,
            unit=unit,
            side=side,
            measurements=measurements,
        )
