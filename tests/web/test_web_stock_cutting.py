"""The subjects stock and cutting over HTTP: figures, pointers, and each wrong turn refused."""

from __future__ import annotations

from typing import Any

import pytest
from flask.testing import FlaskClient

from flankwise_service.config import Settings
from flankwise_service.web.app import build_app

MILL = {
    "diameter": 6, "flutes": 3, "neck_diameter": 4.2, "reach": 20, "shank_diameter": 6,
    "overhang": 30, "tip_to_tooth": 0.5,
    "tooth": {"flank_angle_upper": 30, "flank_angle_lower": 30, "tip_width": 0.15, "depth": 0.8},
}  # fmt: skip
LOAD = {
    "unit": "mm", "side": "internal", "cutter": MILL, "blank_diameter": 6.8, "depth": 0.65,
    "lead": 1.25, "speed": 4000, "chip_load": 0.02, "material": "6082",
}  # fmt: skip
DEPTH = {"thread_length": 0.875, "half_tooth": 0.045, "clearance": 0.02, "blank_depth": 0.75}


@pytest.fixture(scope="module")
def web() -> FlaskClient:
    return build_app(Settings(access_log=False), ("stock", "cutting")).test_client()


def post(web: FlaskClient, path: str, body: dict[str, Any], status: int = 200) -> dict[str, Any]:
    reply = web.post(f"/v1{path}", json=body)
    assert reply.status_code == status, reply.get_data(as_text=True)
    found: dict[str, Any] = reply.get_json()
    return found


def refused(web: FlaskClient, path: str, body: dict[str, Any]) -> set[tuple[str, str]]:
    problem = post(web, path, body, 422)
    return {(fault["pointer"], fault["code"]) for fault in problem["faults"]}


def test_thirty_millimetre_hexagon_drawn_with_the_radius_is_caught(web: FlaskClient) -> None:
    found = post(
        web, "/stock/hexagon", {"unit": "mm", "across_flats": 30, "drawn_across_flats": 51.96}
    )
    assert found["wrong_turn"]["drawn_with"] == "circumscribed_radius"
    readings = {one["measure"]: one["hexagon"] for one in found["readings"]}
    assert round(readings["circumscribed_radius"]["across_corners"], 2) == 60.0
    assert round(readings["circumscribed_radius"]["across_flats"], 2) == 51.96
    assert round(found["hexagon"]["across_corners"], 3) == 34.641
    assert found["wrench"]["name"] == "30"
    assert found["mass"] is found["corner_stand_out"] is None


def test_two_inches_across_corners(web: FlaskClient) -> None:
    body = {"unit": "in", "across_corners": 2, "density_g_per_cm3": 7.85, "diameter": 1}
    found = post(web, "/stock/hexagon", body)
    assert round(found["hexagon"]["across_flats"], 4) == 1.7321
    assert found["corner_stand_out"] == 0.5
    assert found["wall_to_flats"] == pytest.approx(0.366, abs=1e-4)
    assert found["mass"]["pounds_per_foot"] == pytest.approx(8.84, abs=0.01)
    assert found["unit"] == "in"


def test_a_hexagon_needs_exactly_one_measure(web: FlaskClient) -> None:
    for more in ({}, {"side": 1, "across_flats": 2}):
        assert refused(web, "/stock/hexagon", {"unit": "mm", **more}) == {
            ("/across_flats", "one_measure")
        }
    assert refused(web, "/stock/hexagon", {"side": "1"}) == {
        ("/unit", "missing"), ("/side", "not_a_number"),
    }  # fmt: skip


def test_bars_are_listed_with_their_source(web: FlaskClient) -> None:
    reply = web.get("/v1/stock/bars?unit=in&shape=hexagon")
    found = reply.get_json()
    assert "1-1/4" in [bar["name"] for bar in found["bars"]]
    assert found["bars"][0]["source"]["standing"] == "common practice, no source"
    assert (found["unit"], found["shape"]) == ("in", "hexagon")


def test_choice_by_material_and_by_density(web: FlaskClient) -> None:
    body = {"unit": "in", "diameter": 0.8734, "allowance": 0.03, "shapes": ["hexagon", "hexagon"]}
    by_name = post(web, "/stock/choice", {**body, "material": "1.4305"})["choices"]
    by_density = post(web, "/stock/choice", {**body, "density_g_per_cm3": 7.9})["choices"]
    assert by_name == by_density
    assert [one["bar"]["name"] for one in by_name] == ["15/16", "1", "1-1/16"]
    both = {**body, "material": "303", "density_g_per_cm3": 2.7}
    stated = post(web, "/stock/choice", both)["choices"]
    assert stated[0]["mass"]["density_g_per_cm3"] == 2.7
    bare = post(web, "/stock/choice", {"unit": "in", "diameter": 0.8734, "allowance": 0.03})
    assert {one["bar"]["shape"] for one in bare["choices"]} == {"hexagon", "round"}
    assert bare["choices"][0]["mass"] is None
    assert refused(web, "/stock/choice", {**body, "material": "unobtainium"}) == {
        ("/material", "unknown_material")
    }


def test_a_blank_too_shallow_for_its_thread_is_refused_in_figures(web: FlaskClient) -> None:
    body = {"unit": "in", "designation": "7/8-14 UNF-2A", "depth": DEPTH}
    problem = post(web, "/stock/blank", body, 422)
    (fault,) = problem["faults"]
    assert (fault["pointer"], fault["code"]) == ("/depth/blank_depth", "blank_too_shallow")
    assert "0.19 is missing" in fault["detail"]
    assert fault["least"] == pytest.approx(0.94)
    deep = post(web, "/stock/blank", {**body, "depth": {**DEPTH, "blank_depth": 1.0}})
    assert deep["depth"]["spare"] == pytest.approx(0.06)
    assert deep["aim"]["diameter"] == pytest.approx(0.86825)


def test_blank_by_limits_or_in_the_other_unit(web: FlaskClient) -> None:
    stated = post(web, "/stock/blank", {"unit": "mm", "least": 10, "greatest": 11, "fraction": 0.2})
    assert stated["aim"]["diameter"] == pytest.approx(10.2)
    assert stated["depth"] is None
    metric = post(web, "/stock/blank", {"unit": "in", "designation": "M20x1.5", "side": "internal"})
    assert metric["aim"]["greatest"] == pytest.approx(18.676 / 25.4)
    assert refused(web, "/stock/blank", {"unit": "mm", "designation": "M8-6g", "least": 7}) == {
        ("/designation", "one_way")
    }


def test_drills_for_a_thread(web: FlaskClient) -> None:
    found = post(web, "/stock/drill", {"unit": "in", "designation": "1/4-20 UNC-2B", "count": 2})
    assert found["choices"][0]["drill"]["name"] == "#7"
    assert found["choices"][0]["inside_limits"] is True
    assert (found["minor_least"], found["minor_greatest"]) == (0.196, 0.207)
    assert found["hole"] == pytest.approx(0.25 - 0.75 * 1.299038 / 20, abs=1e-6)
    plain = {"unit": "mm", "major_diameter": 8, "pitch": 1.25, "series": ["metric", "metric"]}
    metric = post(web, "/stock/drill", {**plain, "count": 1})
    assert [one["drill"]["name"] for one in metric["choices"]] == ["6.8 mm"]
    assert metric["minor_least"] is None
    assert refused(web, "/stock/drill", {**plain, "designation": "M8-6H"}) == {
        ("/designation", "one_way")
    }


def test_materials_by_number_group_and_all(web: FlaskClient) -> None:
    found = web.get("/v1/cutting/materials?search=S30300").get_json()
    assert [one["name"] for one in found["materials"]] == ["303"]
    assert found["materials"][0]["kc11_n_per_mm2"]["source"]["standing"] == "memory"
    every = web.get("/v1/cutting/materials").get_json()
    nickel = web.get("/v1/cutting/materials?group=S").get_json()
    assert every["total"] == len(every["materials"]) > nickel["total"] > 3
    assert {one["group"] for one in nickel["materials"]} == {"S"}


def test_speed_by_surface_speed_and_by_material(web: FlaskClient) -> None:
    found = post(web, "/cutting/speed", {"unit": "in", "diameter": 0.5, "surface_speed": 300})
    assert round(found["spindle"]["speed"], 1) == 2291.8
    assert found["surface_speed_window"] is None
    body = {"unit": "mm", "diameter": 6, "material": "6082", "greatest_speed": 8000, "fraction": 1}
    capped = post(web, "/cutting/speed", body)
    assert (capped["spindle"]["speed"], capped["spindle"]["capped"]) == (8000.0, "machine_greatest")
    assert capped["spindle"]["surface_speed_wanted"] == 350.0
    assert capped["chip_load_window"]["least"] == pytest.approx(0.03)
    assert refused(web, "/cutting/speed", {"unit": "mm", "diameter": 6}) == {
        ("/surface_speed", "needed")
    }
    slow = {**body, "least_speed": 9000}
    assert refused(web, "/cutting/speed", slow) == {("/least_speed", "limits_out_of_order")}


def test_feed_is_what_the_control_is_told(web: FlaskClient) -> None:
    body = {
        "unit": "mm", "side": "internal", "diameter_cut": 50, "cutter_diameter": 20, "speed": 2000,
        "flutes": 4, "feed_per_tooth": 0.1, "lead": 1.5,
    }  # fmt: skip
    found = post(web, "/cutting/feed", body)
    assert found["arc"]["edge_feed"] == 800.0
    assert found["arc"]["centre_feed"] == pytest.approx(480.0)
    assert found["arc"]["path_feed"] > found["arc"]["centre_feed"]
    assert found["feed_held"] is None
    held = post(web, "/cutting/feed", {**body, "acceleration": 600, "greatest_feed": 400})
    assert held["feed_held"] == pytest.approx(60 * (600 * 15) ** 0.5)
    assert held["arc"]["path_feed"] == pytest.approx(400.0)
    assert held["arc"]["capped"] is True
    assert refused(web, "/cutting/feed", {**body, "cutter_diameter": 50}) == {
        ("/cutter_diameter", "cutter_too_large")
    }


def test_passes_of_equal_area_and_equal_step(web: FlaskClient) -> None:
    body = {"unit": "mm", "depth": 0.6, "tip_width": 0.15}
    equal = post(web, "/cutting/passes", {**body, "passes": 3, "spring_passes": 1})
    areas = [one["chip_area"] for one in equal["passes"]]
    assert areas[:3] == pytest.approx([equal["groove_area"] / 3] * 3)
    assert areas[3] == equal["passes"][3]["step"] == 0.0
    steps = post(web, "/cutting/passes", {**body, "method": "equal_step", "greatest_step": 0.25})
    assert [one["depth"] for one in steps["passes"]] == pytest.approx([0.2, 0.4, 0.6])
    assert refused(web, "/cutting/passes", body) == {("/passes", "one_way")}


def test_load_of_stated_passes_and_by_stiffness(web: FlaskClient) -> None:
    one = post(web, "/cutting/load", LOAD)
    assert len(one["passes"]) == 1
    assert one["passes"][0]["share_of_tolerance"] is None
    assert one["kc11_n_per_mm2"]["value"] == 700.0
    stiff = post(web, "/cutting/load", {**LOAD, "pitch_diameter_tolerance": 0.05})
    last = stiff["passes"][-1]
    assert len(stiff["passes"]) > 1
    assert last["share_of_tolerance"] == pytest.approx(0.1, rel=1e-5)
    assert last["depth_after"] == 0.65
    assert last["deflection"]["pitch_diameter_error_mm"] == pytest.approx(-0.005, rel=1e-5)
    own = {**LOAD, "kc11_n_per_mm2": 1400, "passes": 1, "greatest_feed": 10}
    doubled = post(web, "/cutting/load", own)
    assert doubled["kc11_n_per_mm2"]["source"]["standing"] == "stated by the caller"
    assert doubled["passes"][0]["feed"]["capped"] is True


def test_load_refusals_point_into_the_request(web: FlaskClient) -> None:
    tight = {**LOAD, "pitch_diameter_tolerance": 0.001}
    assert refused(web, "/cutting/load", tight) == {("/cutter", "cutter_too_weak")}
    bare = {**LOAD, "cutter": {k: MILL[k] for k in ("diameter", "flutes", "tooth")}}
    unknown = post(web, "/cutting/load", bare)
    assert unknown["passes"][0]["deflection"] is None
    assert refused(web, "/cutting/load", {**bare, "pitch_diameter_tolerance": 0.16}) == {
        ("/cutter/neck_diameter", "needed"), ("/cutter/overhang", "needed"),
    }  # fmt: skip
    assert refused(web, "/cutting/load", {**LOAD, "material": "POM"}) == {
        ("/material", "no_cutting_force")
    }
    nameless = {k: v for k, v in LOAD.items() if k != "material"}
    assert refused(web, "/cutting/load", nameless) == {("/material", "needed")}
    outside = {**LOAD, "side": "external", "blank_diameter": 1.2}
    assert refused(web, "/cutting/load", outside) == {("/depth", "through_the_axis")}


def test_time_of_moves_segments_and_a_batch(web: FlaskClient) -> None:
    machine = {"unit": "mm", "rapid": 10000, "acceleration": 100}
    moves = {**machine, "moves": [{"length": 100, "feed": 600}]}
    assert post(web, "/cutting/time", moves)["time"]["cutting_s"] == pytest.approx(10.1)
    point = {"x": 2, "y": 0, "z": -1}
    turn = {
        "kind": "arc", "begin": point, "end": {**point, "z": 0}, "centre": [0, 0],
        "sense": "counterclockwise", "sweep": 360, "feed": 300, "purpose": "thread",
        "radial_pass": 1, "start": 1,
    }  # fmt: skip
    batch = {"parts": 10, "hourly_rate": 90}
    timed = post(web, "/cutting/time", {**machine, "segments": [turn], "batch": batch})
    assert timed["time"]["cutting_length"] == pytest.approx(12.606, abs=1e-3)
    assert timed["cost"]["per_part"] == pytest.approx(timed["time"]["total_s"] / 40)
    rapid = {"kind": "rapid", "begin": point, "end": {**point, "z": 9}}
    flown = post(web, "/cutting/time", {**machine, "segments": [rapid]})
    assert flown["time"]["rapid_length"] == 10.0
    assert flown["cost"] is None
    no_centre = {k: v for k, v in turn.items() if k != "centre"}
    assert refused(web, "/cutting/time", {**machine, "segments": [no_centre]}) == {
        ("/segments/0/centre", "not_an_arc")
    }
    assert refused(web, "/cutting/time", machine) == {("/moves", "one_way")}
