"""Floor servers: the least that any service on this framework must do for the same requests.

Each runs under the same gunicorn settings as the service. None checks more than its library does
by itself, none logs, counts, or names the request.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from typing import Any

import marshmallow
import orjson
from flask import Flask, Response, request
from marshmallow import fields, validate

from bench.asks import Ask, feed, helix, hexagon, limits

JSON = "application/json"
RANGE = validate.Range(0.001, 5000)


@cache
def reply_to(ask: Ask) -> bytes:
    """Return what the service itself replies."""
    from flankwise_service import create_app

    client = create_app().test_client()
    if ask.body is None:
        reply = client.get(ask.path)
    else:
        reply = client.post(ask.path, data=ask.body, content_type=JSON)
    if reply.status_code != 200:
        raise RuntimeError(f"{ask.path}: {reply.get_data(as_text=True)}")
    return reply.get_data()


def bare() -> Callable[..., Iterable[bytes]]:
    """Return the bare floor: constant bytes, with no framework at all."""
    body = reply_to(limits()[0])

    def answer(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        start_response("200 OK", [("Content-Type", JSON), ("Content-Length", str(len(body)))])
        return [body]

    return answer


class Feed(marshmallow.Schema):
    """The request for a feed, in the library's own fields."""

    unit = fields.Str(required=True, validate=validate.OneOf(["in", "mm"]))
    side = fields.Str(required=True, validate=validate.OneOf(["internal", "external"]))
    diameter_cut = fields.Float(required=True, validate=RANGE)
    cutter_diameter = fields.Float(required=True, validate=RANGE)
    speed = fields.Float(required=True, validate=RANGE)
    flutes = fields.Int(required=True, validate=RANGE)
    feed_per_tooth = fields.Float(required=True, validate=RANGE)
    lead = fields.Float(load_default=None, validate=RANGE)
    acceleration = fields.Float(load_default=None, validate=RANGE)
    greatest_feed = fields.Float(load_default=None, validate=RANGE)


class Hexagon(marshmallow.Schema):
    """The request for a hexagon, in the library's own fields."""

    unit = fields.Str(required=True, validate=validate.OneOf(["in", "mm"]))
    across_flats = fields.Float(load_default=None, validate=RANGE)
    across_corners = fields.Float(load_default=None, validate=RANGE)
    side = fields.Float(load_default=None, validate=RANGE)
    inscribed_radius = fields.Float(load_default=None, validate=RANGE)
    circumscribed_radius = fields.Float(load_default=None, validate=RANGE)
    drawn_across_flats = fields.Float(load_default=None, validate=RANGE)
    density_g_per_cm3 = fields.Float(load_default=None, validate=RANGE)
    diameter = fields.Float(load_default=None, validate=RANGE)


class Tooth(marshmallow.Schema):
    """A tooth, in the library's own fields."""

    flank_angle_upper = fields.Float(required=True, validate=RANGE)
    flank_angle_lower = fields.Float(required=True, validate=RANGE)
    tip_width = fields.Float(required=True, validate=RANGE)
    depth = fields.Float(required=True, validate=RANGE)
    tip_radius = fields.Float(load_default=None, validate=RANGE)


class Cutter(marshmallow.Schema):
    """A cutter, in the library's own fields."""

    diameter = fields.Float(required=True, validate=RANGE)
    flutes = fields.Int(required=True, validate=RANGE)
    tip_to_tooth = fields.Float(required=True, validate=RANGE)
    neck_diameter = fields.Float(required=True, validate=RANGE)
    reach = fields.Float(required=True, validate=RANGE)
    tooth = fields.Nested(Tooth, required=True)
    rows = fields.Int(load_default=1, validate=RANGE)
    row_pitch = fields.Float(load_default=None, validate=RANGE)


class Pass(marshmallow.Schema):
    """One pass, in the library's own fields."""

    radius = fields.Float(required=True, validate=RANGE)
    feed = fields.Float(required=True, validate=RANGE)
    lead_feed = fields.Float(load_default=None, validate=RANGE)


class Helix(marshmallow.Schema):
    """The request for a path, in the library's own fields."""

    unit = fields.Str(required=True, validate=validate.OneOf(["in", "mm"]))
    side = fields.Str(required=True, validate=validate.OneOf(["internal", "external"]))
    hand = fields.Str(load_default="right", validate=validate.OneOf(["right", "left"]))
    milling = fields.Str(load_default="climb", validate=validate.OneOf(["climb", "conventional"]))
    pitch = fields.Float(required=True, validate=RANGE)
    length = fields.Float(required=True, validate=RANGE)
    blank_diameter = fields.Float(required=True, validate=RANGE)
    greatest_sweep = fields.Float(load_default=360, validate=RANGE)
    cutter = fields.Nested(Cutter, required=True)
    passes = fields.List(fields.Nested(Pass), required=True)
    clearance = fields.Float(required=True, validate=RANGE)
    clearance_height = fields.Float(required=True, validate=RANGE)
    centre = fields.List(fields.Float(), load_default=[0, 0])
    start_angle = fields.Float(load_default=0, validate=validate.Range(0, 360))


def build() -> Flask:
    """Return the Flask floors: constant bytes, loads with a dumped dict, loads with bytes."""
    app = Flask("floor", static_folder=None)
    constant = reply_to(limits()[0])
    told_feed, told_hexagon = (orjson.loads(reply_to(asks()[0])) for asks in (feed, hexagon))
    path = reply_to(helix(HELIX_TURNS)[0])
    feeds, hexagons, threads = Feed(), Hexagon(), Helix()

    @app.get("/readyz")
    @app.get("/constant")
    def same() -> Response:
        return Response(constant, content_type=JSON)

    @app.post("/feed")
    def of_feed() -> Response:
        feeds.load(orjson.loads(request.get_data()))
        return Response(orjson.dumps(told_feed), content_type=JSON)

    @app.post("/hexagon")
    def of_hexagon() -> Response:
        hexagons.load(orjson.loads(request.get_data()))
        return Response(orjson.dumps(told_hexagon), content_type=JSON)

    @app.post("/helix")
    def of_helix() -> Response:
        threads.load(orjson.loads(request.get_data()))
        return Response(path, content_type=JSON)

    return app


HELIX_TURNS = 22.9
"""Gives 100 segments in quarter turns."""
