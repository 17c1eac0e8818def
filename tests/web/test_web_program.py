"""The subject program over HTTP: text, replay, comparison; nothing gets out of a comment."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service import __version__
from flankwise_service.config import Settings
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.web.app import build_app
from support.contract import complaints, reply_schema
from support.program_jobs import texts

EXAMPLES = Path(__file__).resolve().parents[2] / "openapi" / "examples"
PLAIN = {"Accept": "text/plain"}


def request_named(operation: str, name: str) -> dict[str, Any]:
    stored = json.loads((EXAMPLES / f"{operation}.json").read_text("utf-8"))
    found: dict[str, Any] = next(one["request"] for one in stored if one["name"] == name)
    return found


ASK = request_named("program", "internal metric thread with a radius offset")
web_client = build_app(Settings(access_log=False), ("program", "path")).test_client()


@pytest.fixture(scope="module")
def web() -> FlaskClient:
    return web_client


def changed(path: str, value: object) -> dict[str, Any]:
    """Return the request with one value changed, or taken out when it is `...`."""
    asked = copy.deepcopy(ASK)
    inner: Any = asked
    *above, last = [int(key) if key.isdigit() else key for key in path.split("/")]
    for key in above:
        inner = inner[key]
    if value is ...:
        del inner[last]
    else:
        inner[last] = value
    return asked


def refused(web: FlaskClient, path: str, body: dict[str, Any]) -> set[tuple[str, str]]:
    reply = web.post(f"/v1{path}", json=body)
    assert reply.status_code == 422, reply.get_data(as_text=True)
    return {(fault["pointer"], fault["code"]) for fault in reply.get_json()["faults"]}


def test_a_program_comes_with_its_proof(web: FlaskClient) -> None:
    reply = web.post("/v1/program", json=ASK)
    found = reply.get_json()
    assert reply.status_code == 200
    assert not complaints(found, reply_schema("program", 200, "application/json"))
    assert found["replay"]["equal"] is True
    assert found["bytes"] == len(found["text"])
    assert f"MADE BY FLANKWISE {__version__}" in found["text"]
    assert read_program(found["text"]).faults == ()


def test_the_text_alone_is_the_same_text(web: FlaskClient) -> None:
    plain = web.post("/v1/program", json=ASK, headers=PLAIN)
    assert plain.content_type == "text/plain; charset=utf-8"
    assert plain.get_data(as_text=True) == web.post("/v1/program", json=ASK).get_json()["text"]


@pytest.mark.parametrize(
    ("path", "value", "fault"),
    [
        ("unit", ..., ("/unit", "missing")),
        ("setup/safe_height", "25", ("/setup/safe_height", "not_a_number")),
        ("setup/safe_height", 1e999, None),
        ("setup/decimals", 6, ("/setup/decimals", "out_of_range")),
        ("setup/designation", "M20x1.5-6Q", ("/setup/designation", "unknown_class")),
        ("setup/remarks", ["a\nb"], ("/setup/remarks/0", "hidden_character")),
        ("setup/remarks", ["a\u202eb"], ("/setup/remarks/0", "hidden_character")),
        ("setup/brand", "x", ("/setup/brand", "unknown_field")),
        ("operations", [], ("/operations", "wrong_count")),
        ("operations/0/tool/length_offset", ..., ("/operations/0/tool/length_offset", "missing")),
        ("operations/0/tool/number", True, ("/operations/0/tool/number", "not_a_number")),
        ("operations/0/segments/1/feed", 5.0, ("/operations/0/segments/1/feed", "rapid_with_feed")),
        ("operations/0/tool/tip_to_tooth", 9.0, ("/operations/0/segments/0/begin/z", "rapid_inside")),
        ("unit", "in", ("/operations/0/segments/3/feed", None)),
    ],
)  # fmt: skip
def test_faults_point_into_the_request(
    web: FlaskClient, path: str, value: object, fault: tuple[str, str] | None
) -> None:
    asked = changed(path, value)
    if fault is None:
        reply = web.post("/v1/program", data=json.dumps(asked), content_type="application/json")
        assert reply.status_code in (400, 422)
        return
    if path == "unit" and value == "in":
        asked["operations"][0]["segments"][3]["feed"] = 1e5
        fault = ("/operations/0/segments/3/feed", "out_of_range")
    assert fault in refused(web, "/program", asked)


def test_a_program_compared_with_its_path(web: FlaskClient) -> None:
    text = web.post("/v1/program", json=ASK, headers=PLAIN).get_data(as_text=True)
    same = web.post("/v1/program/compare", json=ASK | {"text": text})
    assert same.status_code == 200
    assert not complaints(same.get_json(), reply_schema("program_compare", 200, "application/json"))
    other = ASK | {"text": text.replace("D23", "D24")}
    assert refused(web, "/program/compare", other) == {("/text", "replay_differs")}
    broken = ASK | {"text": "(open\n"}
    assert ("/text", "open_comment") in refused(web, "/program/compare", broken)


def test_a_program_read(web: FlaskClient) -> None:
    text = web.post("/v1/program", json=ASK, headers=PLAIN).get_data(as_text=True)
    asked = {"unit": "mm", "text": text}
    whole = web.post("/v1/program/replay", json=asked).get_json()
    assert not complaints(whole, reply_schema("program_replay", 200, "application/json"))
    assert whole["motion_count"] == len(whole["motions"]) == 13
    assert whole["faults"] == []
    few = web.post("/v1/program/replay", json=asked | {"most_motions": 2}).get_json()
    assert few["motions"] == whole["motions"][:2]
    assert few["motion_count"] == 13
    stored = [{"number": 23, "value": 1.0}]
    moved = web.post("/v1/program/replay", json=asked | {"radius_offsets": stored}).get_json()
    inch = {"unit": "in", "radius_offsets": [{"number": 23, "value": 1 / 25.4}]}
    same = web.post("/v1/program/replay", json=asked | inch).get_json()
    arcs = [(a, b, c) for a, b, c in zip(whole["motions"], moved["motions"], same["motions"],
                                        strict=True) if a["kind"] == "arc"]  # fmt: skip
    assert arcs
    for plain, shifted, again in arcs:
        radii = [sum((p - q) ** 2 for p, q in zip(one["end"], one["centre"], strict=False)) ** 0.5
                 for one in (plain, shifted, again)]  # fmt: skip
        assert radii[0] - radii[1] == pytest.approx(1.0, abs=1e-6)
        assert radii[2] == pytest.approx(radii[1], abs=1e-9)


def test_a_bad_program_is_read_as_far_as_it_goes(web: FlaskClient) -> None:
    text = "G21 G90\nG0 X1 Y1 Z1\nG0 X2\n\x00\u202e\nQ5\n"
    found = web.post("/v1/program/replay", json={"unit": "mm", "text": text}).get_json()
    assert not complaints(found, reply_schema("program_replay", 200, "application/json"))
    assert [fault["line"] for fault in found["faults"]] == [4, 5]
    assert found["motion_count"] == 2
    assert found["ended"] is False


def test_a_megabyte_of_program_is_answered_in_one_piece(web: FlaskClient) -> None:
    head = "G21 G17 G90 G94\nS9 M3\nG0 X0 Y0 Z0\nF9.\n"
    text = head + "G1 X1.\nG1 X2.\n" * 60_000 + "M30\n"
    reply = web.post("/v1/program/replay", json={"unit": "mm", "text": text})
    found = reply.get_json()
    assert found["motion_count"] == 120_001
    assert len(found["motions"]) == 2000
    too_long = web.post("/v1/program/replay", json={"unit": "mm", "text": "x" * 1_000_001})
    assert too_long.status_code == 422


PLACES = ("setup/remarks/0", "operations/0/tool/name", "operations/0/title")


@given(st.sampled_from(PLACES), texts)
@settings(deadline=None, max_examples=150)
def test_no_request_moves_the_machine_through_a_comment(path: str, text: str) -> None:
    """Whatever text a request carries, the blocks are the same and its comments hold no word."""
    plain = web_client.post("/v1/program", json=ASK).get_json()["text"]
    reply = web_client.post("/v1/program", json=changed(path, text[:40]))
    if reply.status_code == 422:
        assert {fault["code"] for fault in reply.get_json()["faults"]} <= {
            "hidden_character", "wrong_length"
        }  # fmt: skip
        return
    found = reply.get_json()["text"]
    assert found.isascii()
    assert [line for line in found.splitlines() if line[0] != "("] == [
        line for line in plain.splitlines() if line[0] != "("
    ]
    assert read_program(found).motions == read_program(plain).motions
    for line in found.splitlines():
        assert line.count("(") == line.count(")") == (line[0] == "(")
        assert ";" not in line


def test_a_path_of_the_service_goes_straight_into_a_program(web: FlaskClient) -> None:
    helix = json.loads((EXAMPLES / "path_helix.json").read_text("utf-8"))[0]["request"]
    path = web.post("/v1/path/helix", json=helix).get_json()
    tool = {"number": 5, "spindle_speed": 4000, "length_offset": 5, "coolant": "mist",
            "tip_to_tooth": helix["cutter"].get("tip_to_tooth", 0.0)}  # fmt: skip
    safe = 2.0 if helix["unit"] == "in" else 50.0
    asked = {"unit": helix["unit"], "setup": {"safe_height": safe},
             "operations": [{"tool": tool, "segments": path["segments"]}]}  # fmt: skip
    reply = web.post("/v1/program", json=asked)
    assert reply.status_code == 200, reply.get_json()
    assert reply.get_json()["replay"]["equal"]
