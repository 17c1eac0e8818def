"""The subject path over HTTP: the streams say the same, pointers lead into the request."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from flankwise_service.config import Settings
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.totals import totals
from flankwise_service.web import path_stream
from flankwise_service.web.app import build_app
from flankwise_service.web.dump import segments, to_json
from flankwise_service.web.tools import segment_from
from support.contract import complaints, reply_schema

EXAMPLES = Path(__file__).resolve().parents[2] / "openapi" / "examples"
LINES, CSV = "application/x-ndjson", "text/csv"


def request_named(operation: str, name: str) -> dict[str, Any]:
    stored = json.loads((EXAMPLES / f"{operation}.json").read_text("utf-8"))
    found: dict[str, Any] = next(one["request"] for one in stored if one["name"] == name)
    return found


HELIX = request_named("path_helix", "external thread, two passes")
BOSS = request_named("path_blank", "boss out of hexagon bar")
BORE = request_named("path_blank", "hole out of the solid")
OVER = request_named("path_collision", "thread over a hexagon shoulder")


@pytest.fixture(scope="module")
def web() -> FlaskClient:
    return build_app(Settings(access_log=False), ("path",)).test_client()


def ask(web: FlaskClient, path: str, body: dict[str, Any], accept: str | None = None) -> Any:
    return web.post(f"/v1{path}", json=body, headers={"Accept": accept} if accept else {})


def refused(web: FlaskClient, path: str, body: dict[str, Any]) -> set[tuple[str, str]]:
    reply = ask(web, path, body)
    assert reply.status_code == 422, reply.get_data(as_text=True)
    return {(fault["pointer"], fault["code"]) for fault in reply.get_json()["faults"]}


@pytest.mark.parametrize(
    ("path", "operation", "body"),
    [("/path/helix", "path_helix", HELIX), ("/path/blank", "path_blank", BOSS)],
)
def test_json_lines_and_csv_hold_the_same_path(
    web: FlaskClient, path: str, operation: str, body: dict[str, Any]
) -> None:
    plain = ask(web, path, body)
    assert plain.content_type == "application/json"
    found = plain.get_json()
    assert complaints(found, reply_schema(operation, 200, "application/json") or {}) == []
    lined = ask(web, path, body, LINES)
    assert lined.content_type == LINES
    rows = [json.loads(line) for line in lined.get_data(as_text=True).splitlines()]
    assert rows[:-1] == found["segments"]
    assert rows[-1] == {"unit": body["unit"], "totals": found["totals"]}
    tabled = ask(web, path, body, CSV)
    assert tabled.content_type == "text/csv; charset=utf-8"
    table = list(csv.DictReader(io.StringIO(tabled.get_data(as_text=True))))
    for row, segment in zip(table, found["segments"], strict=True):
        assert row["kind"] == segment["kind"]
        assert row["unit"] == body["unit"]
        assert float(row["end_z"]) == segment["end"]["z"]
        assert (row["centre_x"] == "") == (segment["centre"] is None)
        assert row["feed"] == ("" if segment["feed"] is None else str(segment["feed"]))
    assert {reply.headers["Vary"] for reply in (plain, lined, tabled)} == {"Accept"}


def test_the_totals_are_those_of_the_segments(web: FlaskClient) -> None:
    found = ask(web, "/path/helix", {**HELIX, "length": 0.8, "pitch": 0.0625}).get_json()
    assert round(found["thread_turns"], 9) == 12.8
    again = totals(segment_from(one) for one in found["segments"])
    assert found["totals"]["cutting_length"] == again.cutting_length
    assert found["totals"]["segments"] == len(found["segments"])
    assert found["totals"]["arc_turns"] == pytest.approx(found["total_turns"])


def test_a_path_that_jumps_keeps_each_place() -> None:
    low, high, away = Point(0.0, 0.0, 0.0), Point(0.0, 0.0, 2.0), Point(5.0, 1.0, 2.0)
    pieces = [
        Segment("line", "thread", low, high),
        Segment("line", "thread", high, low),  # begins where the last one ended
        Segment("rapid", "link", away, high),  # and this one elsewhere
    ]
    told = [(one["begin"], one["end"]) for one in segments(pieces)]
    assert told == [(one.begin._asdict(), one.end._asdict()) for one in pieces]
    assert to_json(pieces) == to_json(segments(pieces))


def test_a_great_path_streams_in_pieces(web: FlaskClient) -> None:
    body = {**HELIX, "pitch": 0.0005, "length": 1.0, "greatest_sweep": 90}
    reply = web.post("/v1/path/helix", json=body, buffered=False)
    pieces = list(reply.iter_encoded())
    assert len(pieces) > 16_000 / path_stream.BATCH
    assert max(map(len, pieces)) < 400 * path_stream.BATCH
    found = json.loads(b"".join(pieces))
    assert len(found["segments"]) == found["totals"]["segments"] > 16_000


def test_a_refusal_is_told_before_anything_is_streamed(web: FlaskClient) -> None:
    for accept in (None, LINES, CSV):
        reply = ask(web, "/path/helix", {**HELIX, "passes": [{"radius": 0.9, "feed": 9}]}, accept)
        assert reply.status_code == 422
        assert reply.content_type == "application/problem+json"


def test_pointers_lead_to_the_place_in_the_request(web: FlaskClient) -> None:
    air = {**HELIX, "passes": [{"radius": 0.9, "feed": 9}, *HELIX["passes"]]}
    assert refused(web, "/path/helix", air) == {("/passes/0/radius", "cuts_air")}
    assert refused(web, "/path/helix", {**HELIX, "greatest_sweep": 100}) == {
        ("/greatest_sweep", "not_a_choice")
    }
    part = {name: value for name, value in air.items() if name != "unit"}
    assert refused(web, "/path/collision", {**OVER, "helix": part}) == {
        ("/helix/passes/0/radius", "cuts_air")
    }
    small = {"unit": "in", "boss": {**BOSS["boss"], "stock_diameter": 0.5}}
    assert refused(web, "/path/blank", small) == {("/boss/stock_diameter", "no_stock")}
    steep = {"unit": "mm", "bore": {**BORE["bore"], "depth_per_turn": 9}}
    assert refused(web, "/path/blank", steep) == {("/bore/depth_per_turn", "too_steep")}


def test_one_of_two_is_asked_for(web: FlaskClient) -> None:
    both = {"unit": "in", "boss": BOSS["boss"], "bore": {**BORE["bore"]}}
    assert ("/bore", "one_of_two") in refused(web, "/path/blank", both)
    assert refused(web, "/path/blank", {"unit": "in"}) == {("/bore", "one_of_two")}
    twice = {**OVER, "cutter": OVER["helix"]["cutter"]}
    assert refused(web, "/path/collision", twice) == {("/helix", "one_of_two")}


def test_a_blank_tells_its_rounds(web: FlaskClient) -> None:
    boss = ask(web, "/path/blank", BOSS).get_json()
    assert boss["radii"][-1] == BOSS["boss"]["diameter"] / 2
    assert boss["ramp_angle"] is None
    bore = ask(web, "/path/blank", BORE).get_json()
    assert bore["radii"][-1] == BORE["bore"]["diameter"] / 2
    assert 0 < bore["ramp_angle"] < 5
    assert bore["totals"]["least"]["z"] == -BORE["bore"]["depth"]


def test_a_path_of_segments_is_looked_at_as_the_thread_itself(web: FlaskClient) -> None:
    by_thread = ask(web, "/path/collision", OVER).get_json()
    assert by_thread["clear"] is True
    assert by_thread["left_out"] == []
    path = ask(web, "/path/helix", {"unit": "in", **OVER["helix"]}).get_json()["segments"]
    body = {name: value for name, value in OVER.items() if name != "helix"}
    body.update(segments=path, cutter=OVER["helix"]["cutter"])
    assert ask(web, "/path/collision", body).get_json() == by_thread
    nearest = by_thread["approaches"][0]["clearance"]
    wanted = {**OVER, "least_clearance": nearest + 0.001}
    assert ask(web, "/path/collision", wanted).get_json()["clear"] is False


def test_parts_that_are_not_given_are_named(web: FlaskClient) -> None:
    bare = {
        k: v for k, v in OVER["helix"]["cutter"].items() if k in ("diameter", "flutes", "tooth")
    }
    body = {**OVER, "helix": {**OVER["helix"], "cutter": bare}, "cut": "blank"}
    found = ask(web, "/path/collision", body).get_json()
    assert found["left_out"] == ["neck", "shank", "holder"]
    # what the teeth cut is no collision; on their free moves they are still looked at
    assert {one["tool"] for one in found["approaches"]} == {"teeth"}
