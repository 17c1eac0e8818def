"""Cutting: materials, spindle speed, feed on arcs, passes, load, time and cost."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from flankwise_service.core.cutting.answers import (
    force_figures_for,
    loaded_passes,
    moves_from,
    radial_passes,
    speed_answer,
)
from flankwise_service.core.cutting.cost import batch_cost
from flankwise_service.core.cutting.feed import GREATEST_FEED, arc_feed, edge_feed
from flankwise_service.core.cutting.load import ThreadCut
from flankwise_service.core.cutting.material_table import list_materials
from flankwise_service.core.cutting.passes import groove_area
from flankwise_service.core.cutting.time import Move, feed_held_on_radius, machining_time
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas.cutting import (
    FeedAsk,
    FeedReply,
    LoadAsk,
    LoadReply,
    MaterialsQuery,
    MaterialsReply,
    PassesAsk,
    PassesReply,
    SpeedAsk,
    SpeedReply,
    TimeAsk,
    TimeReply,
)
from flankwise_service.web.tools import cutter_from, segment_from

blueprint = Blueprint("cutting", __name__)


@operation(
    blueprint,
    "GET",
    "/cutting/materials",
    id="cutting_materials",
    tag="cutting",
    asks=MaterialsQuery,
    replies=MaterialsReply,
    summary="Work materials",
)
def cutting_materials(asked: dict[str, Any]) -> object:
    """Work materials by ISO 513 group, by any standard number or name of theirs.

    Each figure carries its source; most are recalled or common practice, and a request may state
    its own in place of any.
    """
    found = list_materials(asked["search"], asked["group"])
    return {"total": len(found), "materials": found}


@operation(
    blueprint,
    "POST",
    "/cutting/speed",
    id="cutting_speed",
    tag="cutting",
    asks=SpeedAsk,
    replies=SpeedReply,
    summary="Spindle speed",
    pointers={"/least": "/least_speed", "/greatest": "/greatest_speed"},
)
def cutting_speed(asked: dict[str, Any]) -> object:
    """Spindle speed from a surface speed (ft/min or m/min), or from a material's window.

    The machine's limits cap it; the reply says which one did, and what surface speed is left.
    """
    return speed_answer(**asked)


@operation(
    blueprint,
    "POST",
    "/cutting/feed",
    id="cutting_feed",
    tag="cutting",
    asks=FeedAsk,
    replies=FeedReply,
    summary="Feed at the tool centre on an arc",
)
def cutting_feed(asked: dict[str, Any]) -> object:
    """Feed at the edge, at the tool centre and along the helix; the last is what a control is told.

    With an acceleration the reply also says what feed the machine can hold on so small a circle.
    """
    wanted = edge_feed(asked["speed"], asked["flutes"], asked["feed_per_tooth"])
    arc = arc_feed(
        wanted,
        asked["diameter_cut"],
        asked["cutter_diameter"],
        asked["side"],
        lead=asked["lead"],
        greatest_feed=asked["greatest_feed"] or GREATEST_FEED,
    )
    acceleration = asked["acceleration"]
    held = acceleration and feed_held_on_radius(arc.centre_diameter / 2, acceleration)
    return {"unit": asked["unit"], "arc": arc, "feed_held": held}


@operation(
    blueprint,
    "POST",
    "/cutting/passes",
    id="cutting_passes",
    tag="cutting",
    asks=PassesAsk,
    replies=PassesReply,
    summary="Radial passes of a groove",
)
def cutting_passes(asked: dict[str, Any]) -> object:
    """Radial passes by equal chip area or in equal steps, with spring passes where wanted.

    A V-groove widens as it deepens, so equal steps load the last passes most.
    """
    given = dict(asked)
    unit, depth, method = given.pop("unit"), given.pop("depth"), given.pop("method")
    form = tuple(
        given.pop(name) for name in ("tip_width", "flank_angle_upper", "flank_angle_lower")
    )
    return {
        "unit": unit,
        "groove_area": groove_area(depth, *form),
        "passes": radial_passes(depth, form, method, **given),
    }


@operation(
    blueprint,
    "POST",
    "/cutting/load",
    id="cutting_load",
    tag="cutting",
    asks=LoadAsk,
    replies=LoadReply,
    summary="Force, torque, power and deflection of a thread's passes",
    pointers={"/least_step": "/cutter"},
)
def cutting_load(asked: dict[str, Any]) -> object:
    """What each radial pass asks of cutter and spindle, and how far the cutter bends.

    Chip thickness is held at the chip load on the real engagement of the circle. Forces are
    estimates: published specific cutting forces differ by 10 to 20 %. With a pitch diameter
    tolerance and no number of passes, passes are chosen so that deflection stays within the
    shares of the tolerance; a cutter too weak for that is refused.
    """
    kc11, mc = force_figures_for(asked["material"], asked["kc11_n_per_mm2"], asked["mc"])
    cut = ThreadCut(
        cutter=cutter_from(asked["cutter"]),
        kc11_n_per_mm2=kc11.value,
        mc=mc.value,
        greatest_feed=asked["greatest_feed"] or GREATEST_FEED,
        **{name: asked[name] for name in _CONDITIONS},
    )
    done = loaded_passes(cut, asked["depth"], **{name: asked[name] for name in _PASSES})
    return {"unit": asked["unit"], "kc11_n_per_mm2": kc11, "mc": mc, "passes": done}


_CONDITIONS = (
    "unit", "side", "blank_diameter", "lead", "speed", "chip_load", "milling", "wear_factor",
    "radial_ratio",
)  # fmt: skip
_PASSES = (
    "passes", "spring_passes", "pitch_diameter_tolerance", "final_share", "rough_share",
)  # fmt: skip


@operation(
    blueprint,
    "POST",
    "/cutting/time",
    id="cutting_time",
    tag="cutting",
    asks=TimeAsk,
    replies=TimeReply,
    summary="Machining time and cost",
    pointers={"/seconds_per_part": "/moves", "/cutting_seconds_per_part": "/moves"},
)
def cutting_time(asked: dict[str, Any]) -> object:
    """Time of one part from moves, or from the segments of a path, with the machine's acceleration.

    On a small circle the feed held is at most sqrt(acceleration * radius); at a corner the machine
    is taken to stop. With rates the cost of a part and of the batch is stated too.
    """
    moves = moves_from(
        [Move(**move) for move in asked["moves"]],
        [segment_from(segment) for segment in asked["segments"]],
    )
    names = ("rapid", "acceleration", "tool_changes", "tool_change_s", "handling_s")
    time = machining_time(moves, **{name: asked[name] for name in names})
    batch = asked["batch"]
    cost = batch and batch_cost(time.total_s, **batch, cutting_seconds_per_part=time.cutting_s)
    return {"unit": asked["unit"], "time": time, "cost": cost}
