"""Drawing: section, path, hexagon bar and setup as SVG, to scale, with a text alternative."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from flankwise_service.core.drawing.hexagon_views import hexagon_drawing
from flankwise_service.core.drawing.path_views import path_drawing
from flankwise_service.core.drawing.scene import Scene
from flankwise_service.core.drawing.section import EdgePoint, section_drawing
from flankwise_service.core.drawing.setup_sketch import Heights, setup_drawing
from flankwise_service.core.errors import BadInput, Fault
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas import drawing as schemas
from flankwise_service.web.tools import segment_from

blueprint = Blueprint("drawing", __name__)
SVG = "image/svg+xml"
HEIGHTS = ("safe_height", "clearance_height", "work_offset", "tip_to_tooth", "tool_number")


def _same(drawn: str) -> str:
    return drawn


def _edges(cut: dict[str, Any] | None) -> list[EdgePoint]:
    """Return the groove as points; the three lists must go together."""
    if cut is None:
        return []
    counts = {len(edge) for edge in cut.values()}
    if len(counts) > 1:
        raise BadInput(Fault(
            "/cut", "uneven_lists", "radius, lower_edge and upper_edge aren't equally long",
            "give one edge of each kind for each radius",
        ))  # fmt: skip
    columns = (cut["radius"], cut["lower_edge"], cut["upper_edge"])
    return [EdgePoint(*point) for point in zip(*columns, strict=True)]


def _scene(asked: dict[str, Any]) -> Scene:
    """Return the scene of a request that holds nothing else."""
    if "centre" in asked:
        asked["centre"] = tuple(asked["centre"])
    return Scene(**asked)


@operation(
    blueprint, "POST", "/drawing/section", id="drawing_section", tag="drawing",
    asks=schemas.DrawingSectionAsk, replies=None, summary="Section of a thread with its limits",
    renders={SVG: _same},
)  # fmt: skip
def drawing_section(asked: dict[str, Any]) -> object:
    """Draw the axial section: part, tolerance from most to least material, basic profile, the cut.

    To one scale, with a flank at the pitch line magnified. Taper threads are refused.
    """
    found = limits(asked["designation"], side=asked["side"], edition=asked["edition"])
    stated = limits_in(found, asked["unit"])
    return section_drawing(stated, _edges(asked["cut"]), asked["pitch_diameter_cut"])


@operation(
    blueprint, "POST", "/drawing/path", id="drawing_path", tag="drawing",
    asks=schemas.DrawingPathAsk, replies=None, summary="Tool path from above and from the side",
    renders={SVG: _same},
)  # fmt: skip
def drawing_path(asked: dict[str, Any]) -> object:
    """Draw the way of the cutter's axis with part and cutter, to one scale, with dimensions."""
    segments = [segment_from(piece) for piece in asked.pop("segments")]
    return path_drawing(_scene(asked), segments)


@operation(
    blueprint, "POST", "/drawing/hexagon", id="drawing_hexagon", tag="drawing",
    asks=schemas.DrawingHexagonAsk, replies=None, summary="Hexagon bar with its boss or hole",
    renders={SVG: _same},
)  # fmt: skip
def drawing_hexagon(asked: dict[str, Any]) -> object:
    """Draw the hexagon bar from above and from the side, with across flats and across corners."""
    thread_diameter = asked.pop("thread_diameter")
    return hexagon_drawing(_scene(asked), thread_diameter)


@operation(
    blueprint, "POST", "/drawing/setup", id="drawing_setup", tag="drawing",
    asks=schemas.DrawingSetupAsk, replies=None, summary="Setup at the machine",
    renders={SVG: _same},
)  # fmt: skip
def drawing_setup(asked: dict[str, Any]) -> object:
    """Draw where zero is, which heights are safe and where the tool waits, with the cautions."""
    heights = Heights(**{name: asked.pop(name) for name in HEIGHTS})
    return setup_drawing(_scene(asked), heights)
