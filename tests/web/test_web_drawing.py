"""The subject drawing over HTTP: SVG that is whole and safe, whatever is written into it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.config import Settings
from flankwise_service.web.app import build_app
from support.svg import parsed, words

EXAMPLES = Path(__file__).resolve().parents[2] / "openapi" / "examples"
SVG = "image/svg+xml"
web_client = build_app(Settings(access_log=False), ("drawing",)).test_client()


@pytest.fixture(scope="module")
def web() -> FlaskClient:
    return web_client


def stored(operation: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads((EXAMPLES / f"{operation}.json").read_text("utf-8"))
    return found


def drawn(web: FlaskClient, path: str, body: dict[str, Any]) -> str:
    reply = web.post(f"/v1/drawing/{path}", json=body)
    assert reply.status_code == 200, reply.get_data(as_text=True)
    assert reply.content_type == SVG
    return reply.get_data(as_text=True)


@pytest.mark.parametrize("path", ["section", "path", "hexagon", "setup"])
def test_every_example_draws_whole(web: FlaskClient, path: str) -> None:
    good = [one["request"] for one in stored(f"drawing_{path}") if one["status"] == 200]
    assert good
    for asked in good:
        root = parsed(drawn(web, path, asked))
        named = asked.get("name") or asked.get("designation")
        assert named is None or named[:2] in words(root)


def test_only_svg_is_given(web: FlaskClient) -> None:
    asked = stored("drawing_hexagon")[0]["request"]
    for accept, status in (("application/json", 406), ("image/*", 200), (SVG, 200)):
        reply = web.post("/v1/drawing/hexagon", json=asked, headers={"Accept": accept})
        assert reply.status_code == status


def test_a_section_in_the_unit_of_the_request(web: FlaskClient) -> None:
    inch = drawn(web, "section", {"designation": "M8-6g", "unit": "in"})
    assert "pitch diameter max 0.28189" in words(parsed(inch))
    flat = drawn(web, "section", {"designation": "M8", "unit": "mm", "side": "internal"})
    assert "internal thread" in words(parsed(flat))


@given(st.sampled_from(["hexagon", "setup", "path"]), st.text(max_size=60))
@settings(deadline=None, max_examples=80)
def test_no_name_gets_out_of_its_text(path: str, name: str) -> None:
    asked = stored(f"drawing_{path}")[0]["request"] | {"name": name}
    reply = web_client.post(f"/v1/drawing/{path}", json=asked)
    if reply.status_code == 422:
        assert reply.get_json()["faults"][0]["pointer"] == "/name"
    else:
        parsed(reply.get_data(as_text=True))


def test_markup_in_a_name_is_shown_as_it_stands(web: FlaskClient) -> None:
    name = "<script>alert('x')</script>&amp;\"/><image href=x>"
    text = drawn(web, "hexagon", stored("drawing_hexagon")[0]["request"] | {"name": name})
    assert "<script" not in text
    assert "<image" not in text
    assert name in words(parsed(text))


@pytest.mark.parametrize(
    ("path", "changes", "pointer"),
    [
        ("hexagon", {"across_flats": None}, "/across_flats"),
        ("hexagon", {"diameter": 1e9}, "/diameter"),
        ("hexagon", {"across_flats": 0.5}, "/diameter"),
        ("setup", {"clearance_height": 5.0}, "/clearance_height"),
        ("path", {"centre": [1.0]}, "/centre"),
        ("path", {"segments": []}, "/segments"),
    ],
)
def test_faults_point_into_the_request(
    web: FlaskClient, path: str, changes: dict[str, Any], pointer: str
) -> None:
    asked = stored(f"drawing_{path}")[0]["request"] | changes
    reply = web.post(f"/v1/drawing/{path}", json=asked)
    assert reply.status_code == 422
    assert pointer in {fault["pointer"] for fault in reply.get_json()["faults"]}
