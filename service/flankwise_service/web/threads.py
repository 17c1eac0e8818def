"""Threads: limits of size, reading a designation, and the list of all there are."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from flankwise_service.core.threads import limits, limits_in, parse, read_in
from flankwise_service.core.threads.listing import page
from flankwise_service.core.threads.modified import crest_span
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas.threads import (
    LimitsQuery,
    LimitsReply,
    ReadQuery,
    ThreadPageReply,
    ThreadReply,
    ThreadsQuery,
)

blueprint = Blueprint("threads", __name__)


@operation(
    blueprint,
    "GET",
    "/threads/limits",
    id="threads_limits",
    tag="threads",
    asks=LimitsQuery,
    replies=LimitsReply,
    summary="Limits of size of a thread",
)
def threads_limits(asked: dict[str, Any]) -> object:
    """Every limit of size of one thread, exactly as its standard prints it.

    Null stands where the standard sets no limit. `minor_diameter.max` of an external thread is
    that of the form asked for: flat root for UN, rounded root for UNR. Asked in the other unit,
    each printed figure is converted and never rounded again; `rounded_in` names the unit the
    standard rounds in. A metric thread without a class stands for its standard's own default,
    once `side` says which; a Unified thread needs its class. A Unified thread with modified crests
    (MOD) takes the crest's limits from `crest_least` and `crest_greatest`.
    """
    thread, unit = parse(asked["designation"]), asked["unit"]
    crest = crest_span(thread, asked["crest_least"], asked["crest_greatest"], unit)
    found = limits(thread, side=asked["side"], edition=asked["edition"], crest=crest)
    return limits_in(found, unit)


@operation(
    blueprint,
    "GET",
    "/threads/read",
    id="threads_read",
    tag="threads",
    asks=ReadQuery,
    replies=ThreadReply,
    summary="A thread designation, read",
)
def threads_read(asked: dict[str, Any]) -> object:
    """What a designation says: size, pitch, lead, hand, starts, class, and the classes there are.

    One that can't be read, or isn't in its series, is refused with the nearest that exist.
    """
    return read_in(asked["designation"], asked["unit"])


@operation(
    blueprint,
    "GET",
    "/threads",
    id="threads_list",
    tag="threads",
    asks=ThreadsQuery,
    replies=ThreadPageReply,
    summary="The list of all thread designations",
    pointers={"/count": "/limit"},
)
def threads_list(asked: dict[str, Any]) -> object:
    """All sizes of all series held, searchable, in pages, in an order that never changes.

    Each line is in the unit of its own standard. Search by words that must all stand in the
    designation, as `7/8 un` or `M20`. Nothing found: the nearest in spelling are named.
    """
    return page(
        asked["search"], family=asked["family"], offset=asked["offset"], count=asked["limit"]
    )
