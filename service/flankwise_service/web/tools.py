"""From the loaded request to core's own tool types."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.path.segment import Point, Segment


def tooth_from(asked: Mapping[str, Any]) -> Tooth:
    """Return core's tooth from a loaded ToothAsk."""
    return Tooth(**asked)


def cutter_from(asked: Mapping[str, Any]) -> Cutter:
    """Return core's cutter from a loaded CutterAsk."""
    return Cutter(**{**asked, "tooth": tooth_from(asked["tooth"])})


def segment_from(asked: Mapping[str, Any]) -> Segment:
    """Return core's segment from a loaded segment of a path."""
    points = {name: Point(**asked[name]) for name in ("begin", "end")}
    centre = asked["centre"]
    return Segment(**{**asked, **points, "centre": None if centre is None else tuple(centre)})
