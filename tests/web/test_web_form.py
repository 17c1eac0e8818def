"""The subject form over HTTP: figures of core in the reply, pointers into the request."""

from __future__ import annotations

from typing import Any

import pytest
from flask.testing import FlaskClient

TOOTH = {"flank_angle_upper": 30, "flank_angle_lower": 30, "tip_width": 0.15625, "depth": 0.75}
SECTION: dict[str, Any] = {
    "unit": "mm",
    "side": "internal",
    "pitch": 1.25,
    "cutter_diameter": 6,
    "tooth": TOOTH,
    "passes": [{"centre_radius": 1.0}],
    "crest_diameter": 6.75,
}
CUTTER = {
    "diameter": 4.8,
    "flutes": 3,
    "tooth": {**TOOTH, "tip_width": 0.1, "depth": 0.85},
    "neck_diameter": 2.9,
    "name": "four point eight",
}


def test_section_of_the_design(web: FlaskClient) -> None:
    """Half groove width 0.33758 at r = 3.594: design figure, also from a mesh of 720 facets."""
    reply = web.post("/v1/form/section", json={**SECTION, "points": 5000})
    assert reply.status_code == 200
    told = reply.get_json()
    found = told["section"]
    n = min(range(5000), key=lambda i: abs(found["radius"][i] - 3.5940505919760444))
    assert found["upper_edge"][n] == pytest.approx(0.33758, abs=3e-4)
    assert found["lower_edge"][n] == -found["upper_edge"][n]
    assert told["overcut_effect_first_order"] == pytest.approx(found["overcut_effect"], rel=0.03)
    assert told["diameter_per_depth"] == pytest.approx(1.886, abs=0.001)
    assert found["tolerance_use"] is None


def test_section_with_limits_rows_and_own_flank_angles(web: FlaskClient) -> None:
    asked = {
        **SECTION,
        "pitch_diameter": {"min": 7.188, "max": 7.348},
        "rows": 5,
        "row_pitch": 1.2525,
        "flank_angle_lower": 29.5,
    }
    told = web.post("/v1/form/section", json=asked).get_json()
    assert told["pitch_spread"] == pytest.approx(0.010)
    assert told["section"]["tolerance_use"]["tolerance"] == pytest.approx(0.16)
    assert told["section"]["upper_flank"]["nominal_angle"] == 30
    assert told["section"]["lower_flank"]["nominal_angle"] == 29.5


def test_section_in_inches_is_the_same_groove(web: FlaskClient) -> None:
    inches = {
        **SECTION,
        "unit": "in",
        "pitch": 1.25 / 25.4,
        "cutter_diameter": 6 / 25.4,
        "tooth": {**TOOTH, "tip_width": 0.15625 / 25.4, "depth": 0.75 / 25.4},
        "passes": [{"centre_radius": 1.0 / 25.4}],
        "crest_diameter": 6.75 / 25.4,
    }
    millimetres = web.post("/v1/form/section", json=SECTION).get_json()["section"]
    found = web.post("/v1/form/section", json=inches).get_json()["section"]
    assert found["pitch_diameter"] * 25.4 == pytest.approx(millimetres["pitch_diameter"], rel=1e-12)


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"crest_diameter": 5.0}, "/crest_diameter"),
        ({"passes": [{"centre_radius": 0.2}]}, "/passes"),
        ({"tooth": {**TOOTH, "tip_radius": 0.5}}, "/tooth/tip_radius"),
        ({"tooth": {**TOOTH, "depth": 3.5}}, "/tooth/depth"),
        ({"pitch_diameter": {"min": 7.3, "max": 7.2}}, "/pitch_diameter"),
        ({"rows_through": 2}, "/rows_through"),
        ({"points": 15}, "/points"),
        ({"taper": 0.0625, "starts": 5}, "/taper"),
    ],
)
def test_section_refusals_point_into_the_request(
    web: FlaskClient, change: dict[str, Any], pointer: str
) -> None:
    reply = web.post("/v1/form/section", json={**SECTION, **change})
    assert reply.status_code == 422
    assert pointer in [fault["pointer"] for fault in reply.get_json()["faults"]]


def test_correction_lands_the_pitch_diameter(web: FlaskClient) -> None:
    asked = {"unit": "mm", "designation": "M8-6H", "cutter": CUTTER, "aim": 0.25, "runout": 0.01}
    told = web.post("/v1/form/correction", json=asked).get_json()
    assert told["designation"] == "M8-6H"
    assert told["correction"]["aim"] == pytest.approx(7.228)
    assert told["section"]["pitch_diameter"] == pytest.approx(7.228, abs=1e-9)
    assert told["condition"]["by_runout_greatest"] == pytest.approx(0.01, abs=2e-4)
    assert told["condition"]["by_wear"] == 0
    assert told["tilt"]["cost_of_no_tilt"] == pytest.approx(
        told["correction"]["error_without"], rel=0.15
    )


def test_correction_of_a_taper_thread_tells_no_tilt(web: FlaskClient) -> None:
    cutter = {
        "diameter": 0.45,
        "flutes": 4,
        "tooth": {
            "flank_angle_upper": 30,
            "flank_angle_lower": 30,
            "tip_width": 0.002,
            "depth": 0.07,
        },
    }
    asked = {"unit": "in", "designation": "1/2-14 NPT", "side": "internal", "cutter": cutter}
    reply = web.post("/v1/form/correction", json=asked)
    told = reply.get_json()
    assert reply.status_code == 200
    assert told["tilt"] is None
    assert told["section"]["taper"] == pytest.approx(0.0625)
    straight = {"designation": "M8-6H", "unit": "mm", "cutter": CUTTER, "aim": 0.25}
    assert web.post("/v1/form/correction", json=straight).get_json()["tilt"] is not None


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"designation": "M8-6Z"}, "/designation"),
        ({"cutter": {**CUTTER, "diameter": 7.0}}, "/crest_diameter"),
        ({"cutter": {**CUTTER, "tooth": {**TOOTH, "depth": 0.2}}}, "/cutter/tooth/depth"),
        ({"radial_wear": 0.9}, "/radial_wear"),
    ],
)
def test_correction_refusals_point_into_the_request(
    web: FlaskClient, change: dict[str, Any], pointer: str
) -> None:
    asked = {"unit": "mm", "designation": "M8-6H", "cutter": CUTTER, **change}
    reply = web.post("/v1/form/correction", json=asked)
    assert reply.status_code == 422
    assert pointer in [fault["pointer"] for fault in reply.get_json()["faults"]]


def test_cutters_ranked_with_the_greatest_and_its_trend(web: FlaskClient) -> None:
    larger = {**CUTTER, "diameter": 6.5, "neck_diameter": 4.6, "name": "too large"}
    asked = {"unit": "mm", "designation": "M8-6H", "cutters": [larger, CUTTER], "clearance": 0.05}
    told = web.post("/v1/form/cutters", json=asked).get_json()
    assert [one["name"] for one in told["ranking"]] == ["four point eight", "too large"]
    assert [one["cutter_index"] for one in told["ranking"]] == [1, 0]
    assert [one["will_do"] for one in told["ranking"]] == [True, False]
    assert 4.8 < told["largest"]["diameter"] < 6.5
    assert told["largest"]["limited_by"] == "overcut"
    assert len(told["trend"]) > 20


def test_external_thread_has_no_greatest_cutter(web: FlaskClient) -> None:
    asked = {"unit": "mm", "designation": "M8-6g", "cutters": [{**CUTTER, "diameter": 10}]}
    told = web.post("/v1/form/cutters", json=asked).get_json()
    assert told["largest"] is None
    assert told["trend"] == []


def test_offset_narrows_with_each_measurement(web: FlaskClient) -> None:
    asked: dict[str, Any] = {
        "unit": "mm", "side": "internal", "pitch": 1.25, "aim": 7.268, "uncertainty": 0.001,
        "measurements": [{"size": 7.24}],
    }  # fmt: skip
    first = web.post("/v1/form/offset", json=asked).get_json()
    assert first["change"] == pytest.approx(-0.014)
    asked["measurements"].append({"size": 7.262, "radius_offset": -0.014})
    second = web.post("/v1/form/offset", json=asked).get_json()
    assert second["uncertainty"] < first["uncertainty"]
    assert second["gain"] < 1
    assert second["words"].startswith("make the radius offset smaller by 0.004 mm")
    asked["measurements"][1]["size"] = 7.2
    assert web.post("/v1/form/offset", json=asked).get_json()["faults"][0]["code"] == "odd_answer"
