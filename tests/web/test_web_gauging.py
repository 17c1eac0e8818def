"""Gauging and the uses of threads over HTTP: what a reply holds, where a refusal points."""

from __future__ import annotations

from typing import Any

import pytest
from flask.testing import FlaskClient

from flankwise_service.config import Settings
from flankwise_service.core.gauging.limits_over import choose_wire
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.web.app import build_app

BOLT: dict[str, Any] = {"designation": "7/8-14 UNF-2A", "unit": "in"}
GROOVE: dict[str, Any] = {
    "unit": "in", "pitch": 0.2, "starts": 2, "flank_angle_upper": 14.5, "flank_angle_lower": 14.5,
    "side": "external", "wire": 0.1033, "method": "three wires",
}  # fmt: skip


@pytest.fixture(scope="module")
def service() -> FlaskClient:
    return build_app(Settings(access_log=False), ("gauging", "threads_uses")).test_client()


def post(service: FlaskClient, path: str, body: dict[str, Any], status: int = 200) -> Any:
    reply = service.post(f"/v1/gauging/{path}", json=body)
    assert reply.status_code == status, reply.text
    return reply.json


def get(service: FlaskClient, path: str, query: dict[str, Any], status: int = 200) -> Any:
    reply = service.get(f"/v1/{path}", query_string=query)
    assert reply.status_code == status, reply.text
    return reply.json


def places(problem: Any) -> list[str]:
    return [fault["pointer"] for fault in problem["faults"]]


def test_limits_over_the_wires_at_hand(service: FlaskClient) -> None:
    body = {**BOLT, "wires": [0.08, 0.04], "method": "three wires"}
    told = post(service, "over-wires", body)
    core = choose_wire(limits("7/8-14 UNF-2A"), [0.08, 0.04])
    assert told["limits"]["max"]["reading"] == core.limits.max.reading
    assert told["unfit"][0]["wire"] == 0.08
    metric = post(service, "over-wires", {**body, "unit": "mm", "wires": [1.016]})
    stated = limits_in(limits("7/8-14 UNF-2A"), "mm")
    assert metric["limits"]["min"]["reading"] == choose_wire(stated, [1.016]).limits.min.reading


def test_a_groove_of_ones_own_both_ways(service: FlaskClient) -> None:
    read = post(service, "reading", {**GROOVE, "pitch_diameter": 0.9})
    back = post(
        service, "pitch-diameter",
        {**GROOVE, "reading": read["reading"], "reading_uncertainty": 0.0001},
    )  # fmt: skip
    assert back["measured"]["pitch_diameter"] == pytest.approx(0.9, rel=1e-12)
    assert read["lead_angle"] > 8


def test_from_a_reading_to_the_offset(service: FlaskClient) -> None:
    body = {**BOLT, "wire": 0.04, "method": "three wires", "reading_uncertainty": 0.0001}
    told = post(service, "inspection", {**body, "reading": 0.8877})
    assert told["verdict"]["standing"] == "too large"
    assert told["correction"]["words"] == "make the radius offset smaller by 0.0026 in"
    assert told["correction"]["rework"] is True
    slip = post(service, "inspection", {**body, "reading": 0.92}, 422)
    assert (slip["code"], places(slip)) == ("impossible", ["/reading"])


def test_the_table_and_the_correction_agree(service: FlaskClient) -> None:
    table = post(
        service, "correction-table", {**BOLT, "wire": 0.04, "method": "three wires", "rows": 5}
    )
    assert (table["designation"], table["unit"], len(table["rows"])) == ("7/8-14 UNF-2A", "in", 5)
    for row in table["rows"]:
        size = {"pitch_diameter": row["pitch_diameter"], "uncertainty": 0}
        told = post(service, "correction", {**BOLT, **size})
        assert told["radius_offset_change"] == row["radius_offset_change"]
        assert told["words"] == row["words"]


def test_two_measurements(service: FlaskClient) -> None:
    before, after = ({"pitch_diameter": size, "uncertainty": 0.0001} for size in (0.829, 0.826))
    told = post(
        service, "response", {**BOLT, "before": before, "after": after, "changed_by": -0.0018}
    )
    assert told["diameter_per_radius"] == pytest.approx(0.003 / 0.0018)
    still = post(
        service, "response", {**BOLT, "before": before, "after": before, "changed_by": 0.0018}, 422
    )
    assert places(still) == ["/after"]
    near = {"pitch_diameter": 0.8291, "uncertainty": 0.0001}
    both = post(service, "narrow", {**BOLT, "measurements": [before, near]})
    assert both["measured"]["pitch_diameter"] == pytest.approx(0.82905)
    assert both["verdict"]["standing"] == "too large"


def test_the_flank_angle_from_two_wires(service: FlaskClient) -> None:
    made = {**GROOVE, "flank_angle_upper": 15.2, "flank_angle_lower": 15.2, "pitch_diameter": 0.9}
    wires = [0.1, 0.115]
    readings = [post(service, "reading", {**made, "wire": wire})["reading"] for wire in wires]
    asked = {name: GROOVE[name] for name in ("unit", "pitch", "starts", "side", "method")}
    told = post(service, "flank-angle", {**asked, "readings": readings, "wires": wires})
    assert told["flank_angle"] == pytest.approx(15.2)
    assert told["pitch_diameter"] == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("path", "body", "expected"),
    [
        ("over-wires", {**BOLT, "wires": [0.01], "method": "three wires"}, {"/wires"}),
        ("over-wires", {**BOLT, "wires": [0.04], "method": "between balls"}, {"/method"}),
        ("reading", {**GROOVE, "pitch_diameter": 0.9, "starts": 40}, {"/pitch_diameter"}),
        ("reading", {**GROOVE, "pitch_diameter": 0.9, "flank_angle_upper": 0, "flank_angle_lower": 1},
         {"/flank_angle_upper"}),
        ("correction", {**BOLT, "pitch_diameter": 0.8, "uncertainty": 0}, {"/pitch_diameter"}),
        ("correction", {**BOLT, "pitch_diameter": 0.826, "uncertainty": 0, "aim": 0.9}, {"/aim"}),
        ("correction", {"designation": "R 1/2", "unit": "mm", "pitch_diameter": 19, "uncertainty": 0,
                        "side": "internal"}, {"/side"}),
        ("narrow", {**BOLT, "measurements": []}, {"/measurements"}),
        ("inspection", {"unit": "in"}, {"/designation", "/reading", "/wire", "/method",
                                        "/reading_uncertainty"}),
    ],
)  # fmt: skip
def test_refusals_point_into_the_request(
    service: FlaskClient, path: str, body: dict[str, Any], expected: set[str]
) -> None:
    assert set(places(post(service, path, body, 422))) == expected


def test_lookups_by_designation(service: FlaskClient) -> None:
    wires = get(service, "gauging/wires", BOLT)
    assert wires["least"] < wires["best_exact"] < wires["best"] < wires["greatest"]
    rings = get(service, "gauging/gauges", BOLT)
    assert [one["duty"] for one in rings["gauges"]] == ["go", "no-go", "go", "no-go"]
    assert rings["gauges"][0]["pitch_diameter"] == 0.827
    taper = {"designation": "1/2-14 NPT", "unit": "in", "side": "external"}
    for path in ("gauging/wires", "gauging/gauges"):
        assert places(get(service, path, taper, 422)) == ["/designation"]


def test_identify(service: FlaskClient) -> None:
    asked = {
        "crest_diameter": 0.87, "side": "external", "unit": "in", "threads_per_inch": 14,
        "diameter_uncertainty": 0.001, "pitch_uncertainty": 0.0005, "most": 3,
    }  # fmt: skip
    found = get(service, "threads/identify", asked)["candidates"]
    assert found[0]["designation"] == "7/8-14 UNF"
    assert len(found) <= 3
    twice = get(service, "threads/identify", {**asked, "pitch": 0.07}, 422)
    assert places(twice) == ["/pitch"]


def test_mating_points_at_the_thread_that_is_wrong(service: FlaskClient) -> None:
    asked = {"external": "7/8-14 UNF-2A", "internal": "7/8-14 UNF-2B", "unit": "in"}
    assert get(service, "threads/mating", asked)["pitch_diameter"]["least"] == 0.0016
    wrong = get(service, "threads/mating", {**asked, "internal": "7/8-15 UNF-2B"}, 422)
    assert (wrong["code"], places(wrong)) == ("unknown_thread", ["/internal"])
    same = get(service, "threads/mating", {**asked, "external": "7/8-14 UNF-2B"}, 422)
    assert places(same) == ["/external"]
    pairs = get(service, "threads/class-pairs", {"designation": "7/8-14 UNF", "unit": "mm"})[
        "pairs"
    ]
    assert len(pairs) == 9
    assert pairs[4]["least"] == pytest.approx(0.0016 * 25.4)


def test_plating(service: FlaskClient) -> None:
    coat = {"least_thickness": 0.005, "greatest_thickness": 0.008}
    asked = {"designation": "M10-6g", "unit": "mm", **coat}
    told = get(service, "threads/plating", asked)
    assert told["fits_uncut"] is True
    assert told["before"]["pitch_diameter"]["max"] == pytest.approx(8.994)
    strict = get(service, "threads/plating", {**asked, "ceiling": "class limits"})
    assert strict["before"]["pitch_diameter"]["max"] == pytest.approx(8.994 - 0.032)
    thick = get(service, "threads/plating", {**asked, "greatest_thickness": 0.06}, 422)
    assert places(thick) == ["/greatest_thickness"]


def test_strength(service: FlaskClient) -> None:
    asked = {
        "external": "M10-6g", "internal": "M10-6H", "unit": "mm", "engagement": 15,
        "external_strength": 800, "internal_strength": 310,
    }  # fmt: skip
    told = get(service, "threads/strength", asked)
    assert told["weakest"] == "external part breaks"
    assert told["engagement_is_enough"] is True
    short = get(service, "threads/strength", {**asked, "engagement": 1}, 422)
    assert places(short) == ["/engagement"]
    unlike = get(service, "threads/strength", {**asked, "internal": "M10x1-6H"}, 422)
    assert places(unlike) == ["/internal"]
