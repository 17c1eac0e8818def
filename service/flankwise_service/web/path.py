"""Path: the thread's helix, the blank's rounds, and how near the tool comes to the stock."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Blueprint

from flankwise_service.core.errors import BadInput, Fault, Refusal
from flankwise_service.core.path.blank import bore_path, boss_path
from flankwise_service.core.path.blank_request import (
    Bore,
    Boss,
    bore_radii,
    boss_radii,
    ramp_angle,
)
from flankwise_service.core.path.collision import MILLED, THREADED, closest_approaches
from flankwise_service.core.path.facts import checked_facts
from flankwise_service.core.path.request import Helix, RadialPass
from flankwise_service.core.path.solids import Stock, tool_stack
from flankwise_service.core.path.thread import thread_path
from flankwise_service.web.dump import in_unit
from flankwise_service.web.operation import operation
from flankwise_service.web.path_stream import RENDERS, PathReply
from flankwise_service.web.schemas import path as schemas
from flankwise_service.web.tools import cutter_from, segment_from

blueprint = Blueprint("path", __name__)


def _helix(asked: Mapping[str, Any]) -> Helix:
    words = {name: value for name, value in asked.items() if name != "unit"}
    words["cutter"] = cutter_from(words["cutter"])
    words["passes"] = tuple(RadialPass(**one) for one in words["passes"])
    words["centre"] = tuple(words["centre"])
    return Helix(**words)


def _one_of(asked: Mapping[str, Any], first: str, second: str) -> str:
    """Return which of two is given; refuse both and neither."""
    if (asked[first] is None) == (asked[second] is None):
        found = "neither" if asked[first] is None else "both"
        raise BadInput(
            Fault(
                f"/{second}",
                "one_of_two",
                f"{found} of {first} and {second} is given",
                f"give {first} or {second}, one of them",
            )
        )
    return first if asked[first] is not None else second


@operation(
    blueprint, "POST", "/path/helix", id="path_helix", tag="path", heavy=True,
    asks=schemas.HelixAsk, replies=schemas.HelixReply, summary="Path of a thread", renders=RENDERS,
)  # fmt: skip
def path_helix(asked: dict[str, Any]) -> object:
    """Every segment of the path that mills a thread: down, in, round, out, on, and away.

    Turns come from length and lead. Lead-ins and lead-outs are tangent and keep the thread's slope,
    and none that would cut a flank is let through. Free motion and both ends of each lead are
    clear of the blank. Taper threads are cut in the fewest arcs within a radial tolerance.

    The reply is streamed, so a million segments are no trouble. As `text/csv` and
    `application/x-ndjson` one segment takes one line; the last line of the latter holds the unit
    and the totals, and each row of the former its unit.
    Places are of the cutter axis at the middle of the lowest tooth.
    """
    helix = _helix(asked)
    segments = thread_path(helix)  # refuses all that can't be cut, so it comes before the facts
    return PathReply(in_unit(asked["unit"], checked_facts(helix)), segments)


@operation(
    blueprint, "POST", "/path/blank", id="path_blank", tag="path", heavy=True,
    asks=schemas.BlankPathAsk, replies=schemas.BlankPathReply, renders=RENDERS,
    summary="Path that mills the blank",
)  # fmt: skip
def path_blank(asked: dict[str, Any]) -> object:
    """A boss turned round out of bar, or a hole bored by a helix of the end mill.

    Each round has its own feed at the tool centre. A boss is met from outside the circle around the
    stock, at a hexagon outside its corners; a hole is opened without leaving a post, and a
    way down too steep for the end mill is refused. Media types as for path_helix.
    """
    kind = _one_of(asked, "boss", "bore")
    words = {**asked[kind], "centre": tuple(asked[kind]["centre"])}
    head: dict[str, Any] = {"unit": asked["unit"]}
    try:
        if kind == "boss":
            boss = Boss(**words)
            segments = boss_path(boss)
            head.update(radii=boss_radii(boss), ramp_angle=None)
        else:
            bore = Bore(**words)
            segments = bore_path(bore)
            head.update(radii=bore_radii(bore), ramp_angle=ramp_angle(bore))
    except Refusal as refusal:
        raise refusal.under(f"/{kind}") from refusal
    return PathReply(head, segments)


@operation(
    blueprint, "POST", "/path/collision", id="path_collision", heavy=True, tag="path",
    asks=schemas.PathCollisionAsk, replies=schemas.PathCollisionReply,
    summary="How near the tool comes to the stock",
)  # fmt: skip
def path_collision(asked: dict[str, Any]) -> object:
    """The least clearance of teeth, neck, shank and holder from the stock, over the whole path.

    The tool is a stack of cylinders, the stock a boss over a shoulder or a hole with wall and
    bottom, in round or hexagon bar; the figures are exact for these shapes. Each pair is told with
    the segment and the place where it comes nearest. While cutting, the teeth aren't measured
    against what they cut. Parts of the tool whose size isn't given are named, not guessed.
    """
    _one_of(asked, "cutter", "helix")
    if _one_of(asked, "helix", "segments") == "helix":
        segments, cutter = _helix_path(asked)
    else:
        cutter = cutter_from(asked["cutter"])
        segments = [segment_from(piece) for piece in asked["segments"]]
    tool = tool_stack(cutter)
    stock = Stock(**{**asked["stock"], "centre": tuple(asked["stock"]["centre"])})
    cut = THREADED if asked["cut"] == "thread" else MILLED
    found = closest_approaches(segments, tool, stock, cut)
    least = asked["least_clearance"]
    present = {part.name for part in tool}
    return {
        "unit": asked["unit"],
        "clear": all(near.clearance >= least for near in found),
        "least_clearance": least,
        "approaches": found,
        "left_out": [name for name in schemas.TOOL_PARTS if name not in present],
    }


def _helix_path(asked: Mapping[str, Any]) -> tuple[Any, Any]:
    helix = _helix(asked["helix"])
    try:
        return thread_path(helix), helix.cutter
    except Refusal as refusal:
        raise refusal.under("/helix") from refusal
