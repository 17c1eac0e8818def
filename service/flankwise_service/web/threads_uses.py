"""Uses of threads: which one is it, do two mate, cut before plating, what does a joint hold."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from flask import Blueprint

from flankwise_service.core.errors import Refusal
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.identify import identify
from flankwise_service.core.threads.mating import class_pairs, fit
from flankwise_service.core.threads.model import Limits, Side
from flankwise_service.core.threads.plating import plated
from flankwise_service.core.threads.strength import strength
from flankwise_service.web.dump import in_unit
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas import threads_uses as schemas

blueprint = Blueprint("threads_uses", __name__)


def _limits_of(asked: dict[str, Any], side: Side) -> Limits:
    """Return the limits of the thread named at `side`; whatever is wrong points there."""
    try:
        return limits(asked[side], side=side)
    except Refusal as refusal:
        faults = (replace(fault, pointer=f"/{side}") for fault in refusal.faults)
        raise type(refusal)(*faults) from refusal


@operation(
    blueprint,
    "GET",
    "/threads/identify",
    id="threads_identify",
    tag="threads",
    asks=schemas.IdentifyQuery,
    replies=schemas.IdentifyReply,
    summary="Which thread is it?",
)
def threads_identify(asked: dict[str, Any]) -> object:
    """Candidates over all families from a measured crest diameter and pitch, likeliest first.

    Each says what would tell it from the first: flank angle, taper, pitch over ten threads.
    Candidates that agree within the uncertainties come first; near misses follow.
    """
    return {"unit": asked["unit"], "candidates": identify(**asked)}


@operation(
    blueprint,
    "GET",
    "/threads/mating",
    id="threads_mating",
    tag="threads",
    asks=schemas.MatingQuery,
    replies=schemas.MatingReply,
    summary="Two threads put together",
)
def threads_mating(asked: dict[str, Any]) -> object:
    """Least and greatest clearance at pitch, major and minor diameter, and the flanks' overlap.

    Threads of other pitch, form, lead or hand don't mate, and the reply says which it is.
    Taper threads are compared at the plane their limits are stated at.
    """
    external, internal = _limits_of(asked, "external"), _limits_of(asked, "internal")
    return fit(external, internal, asked["unit"])


@operation(
    blueprint,
    "GET",
    "/threads/class-pairs",
    id="threads_class_pairs",
    tag="threads",
    asks=schemas.ClassPairsQuery,
    replies=schemas.ClassPairsReply,
    summary="Clearance of every pair of classes",
)
def threads_class_pairs(asked: dict[str, Any]) -> object:
    """Least and greatest clearance on the pitch diameter for every pair of classes of one size."""
    return {"unit": asked["unit"], "pairs": class_pairs(**asked)}


@operation(
    blueprint,
    "GET",
    "/threads/plating",
    id="threads_plating",
    tag="threads",
    asks=schemas.PlatingQuery,
    replies=schemas.PlatingReply,
    summary="Limits before plating",
    pointers={"/limits": "/designation"},
)
def threads_plating(asked: dict[str, Any]) -> object:
    """What to cut before a coat of given thickness per side, so that the coated thread is right.

    A coat changes the pitch diameter four times its thickness at 60 degrees, and by 2/sin(flank
    angle) in general. A coat that varies so much that no tolerance is left is refused.
    """
    found = limits(asked.pop("designation"), side=asked.pop("side"))
    unit = asked.pop("unit")
    return in_unit(unit, plated(limits_in(found, unit), **asked))


@operation(
    blueprint,
    "GET",
    "/threads/strength",
    id="threads_strength",
    tag="threads",
    asks=schemas.StrengthQuery,
    replies=schemas.StrengthReply,
    summary="What a threaded joint holds",
)
def threads_strength(asked: dict[str, Any]) -> object:
    """Tensile stress area, shear areas, what gives way first, and the least engagement.

    Geometric figures for static load. A joint that lives hang on needs a qualified engineer.
    """
    external, internal = _limits_of(asked, "external"), _limits_of(asked, "internal")
    del asked["external"], asked["internal"]
    return in_unit(asked["unit"], strength(external, internal, **asked))
