"""A subject made only for tests of the web layer: it computes nothing of the trade."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from flask import Blueprint

from flankwise_service.core.errors import Fault, Impossible
from flankwise_service.web import fields
from flankwise_service.web.operation import operation

blueprint = Blueprint("echo", __name__)


class Part(fields.Schema):
    width = fields.Length("Width of the part")


class EchoQuery(fields.Schema):
    name = fields.Text("A name", longest=20)
    unit = fields.Unit()
    turns = fields.Number("How often", default=1.0, greatest=10)
    deep = fields.Flag("Whether it is deep", default=False)


class EchoBody(fields.Schema):
    unit = fields.Unit()
    length = fields.Length("A length")
    angle = fields.Angle("An angle", default=90.0)
    count = fields.Count("A count", least=1, greatest=9, default=1)
    speed = fields.Speed("Surface speed", default=None)
    part = fields.Nested(Part, "A part", default=None)
    parts = fields.ListOf(fields.Nested(Part, "One part"), "Parts", most=3, default=list)
    hand = fields.OneOf("Hand of the thread", ("right", "left"), default="right")


class EchoReply(fields.Schema):
    asked = fields.Text("What was asked")


@operation(
    blueprint, "GET", "/echo/name", id="echo_name", tag="echo",
    asks=EchoQuery, replies=EchoReply, summary="Echo a name",
    renders={"text/plain": lambda result: f"{result['asked']}\n"},
)  # fmt: skip
def echo_name(asked: dict[str, Any]) -> object:
    """Echo what the query asked."""
    return {"asked": repr(asked)}


def _lines(result: Any) -> Iterator[bytes]:
    yield b"first\n"
    yield result["asked"].encode() + b"\n"


@operation(
    blueprint, "POST", "/echo/body", id="echo_body", tag="echo",
    asks=EchoBody, replies=EchoReply, summary="Echo a body",
    renders={"application/x-ndjson": _lines}, pointers={"/size": "/part/width"},
)  # fmt: skip
def echo_body(asked: dict[str, Any]) -> object:
    """Echo what the body asked."""
    if asked["length"] == 13:
        raise Impossible(Fault("/size", "unlucky", "13 can't be cut", "choose another", 13.0))
    if asked["length"] == 14:
        raise RuntimeError("secret inside")
    return {"asked": repr(asked)}
