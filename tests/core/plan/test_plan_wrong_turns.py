"""Each wrong turn of doing the job by hand, taken as a user would, and how it is caught.

One test for each way the usual path goes wrong: from the name of the thread to the next part.
The jobs are inventions; each test goes in by the service's own door.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

EXAMPLES = Path(__file__).resolve().parents[3] / "sdk" / "examples"


def job(name: str, **changes: Any) -> dict[str, Any]:
    """Return an example job with changes; `thread__length=1` reaches into a part, None removes."""
    document: dict[str, Any] = json.loads((EXAMPLES / f"{name}.json").read_text("utf-8"))
    for place, value in changes.items():
        *parts, last = place.split("__")
        inside = document
        for part in parts:
            inside = inside.setdefault(part, {})
        if value is None:
            inside.pop(last, None)
        else:
            inside[last] = value
    return document


def adapter(**changes: Any) -> dict[str, Any]:
    return job("sensor-adapter", **changes)


def port(**changes: Any) -> dict[str, Any]:
    return job("coolant-port", **changes)


def planned(web: FlaskClient, asked: dict[str, Any]) -> dict[str, Any]:
    reply = web.post("/v1/plan", json=asked)
    assert reply.status_code == 200, reply.text
    return dict(reply.get_json())


def refused(web: FlaskClient, asked: dict[str, Any]) -> list[dict[str, Any]]:
    reply = web.post("/v1/plan", json=asked)
    assert reply.status_code == 422
    return list(reply.get_json()["faults"])


def check(plan: dict[str, Any], code: str) -> dict[str, Any]:
    return next(one for one in plan["checks"] if one["code"] == code)


# -- the name of the thread


def test_the_wrong_series_is_refused_and_those_there_are_get_named(web: FlaskClient) -> None:
    (fault,) = refused(web, adapter(thread__designation="7/8-14 UNC-2A"))
    assert fault["pointer"] == "/thread/designation"
    assert fault["near"] == ["7/8-9 UNC", "7/8-12 UN", "7/8-14 UNF"]


def test_the_wrong_class_is_refused_and_those_there_are_get_named(web: FlaskClient) -> None:
    (fault,) = refused(web, adapter(thread__designation="7/8-14 UNF-2C"))
    assert fault["code"] == "unknown_class"
    assert "1A, 2A, 3A" in fault["change"]


def test_a_class_left_out_is_never_assumed(web: FlaskClient) -> None:
    (fault,) = refused(web, adapter(thread__designation="7/8-14 UNF"))
    assert "7/8-14 UNF-2A" in fault["near"]


def test_the_class_of_the_other_side_is_refused_on_this_blank(web: FlaskClient) -> None:
    faults = refused(web, adapter(thread__designation="7/8-14 UNF-2B"))
    assert {fault["pointer"] for fault in faults} == {"/boss", "/hole"}


def test_the_row_of_another_pitch_is_told_apart_by_a_measured_pitch(web: FlaskClient) -> None:
    """7/8-14 UNF-2A and 7/8-12 UN-2A differ by 0.0006 in on the major diameter: the pitch tells."""
    near = [
        web.get("/v1/threads/limits", query_string={"designation": name, "unit": "in"}).get_json()
        for name in ("7/8-14 UNF-2A", "7/8-12 UN-2A")
    ]
    off = abs(near[0]["major_diameter"]["max"] - near[1]["major_diameter"]["max"])
    assert 0 < off < 0.0005
    asked = {
        "crest_diameter": 0.868, "side": "external", "unit": "in", "pitch": 0.0714,
        "diameter_uncertainty": 0.001, "pitch_uncertainty": 0.0005,
    }  # fmt: skip
    reply = web.get("/v1/threads/identify", query_string=asked)
    assert reply.status_code == 200, reply.text
    text = reply.text
    assert "7/8-14 UNF" in text
    assert "7/8-12" not in text
    assert "7/8-9" not in text


def test_a_cutter_for_another_pitch_is_refused(web: FlaskClient) -> None:
    (fault,) = refused(web, adapter(cutter__rows=3, cutter__row_pitch=1 / 16))
    assert fault["pointer"] == "/cutter/row_pitch"
    assert "0.0714286" in fault["change"]


# -- limits of size


def test_a_right_major_diameter_does_not_hide_a_wrong_pitch_diameter(web: FlaskClient) -> None:
    plan = planned(web, adapter(cutting__radius_offset=0.0016))
    assert check(plan, "blank_inside_limits")["state"] == "passed"
    assert check(plan, "major_diameter_as_cut")["state"] == "passed"
    told = check(plan, "pitch_diameter_as_cut")
    assert told["state"] == "refused"
    assert told["figure"] > 0.8270  # ASME B1.1-2003, table 2: greatest pitch diameter
    assert plan["program"] is None


# -- bar stock


def test_a_hexagon_drawn_by_its_radius_shows_both_readings(web: FlaskClient) -> None:
    """30 mm drawn with a 30 mm radius is 51.96 mm across flats, 60 mm across corners: geometry."""
    asked = {"unit": "mm", "across_flats": 30, "drawn_across_flats": 51.96}
    reply = web.post("/v1/stock/hexagon", json=asked).get_json()
    assert reply["wrong_turn"]["drawn_with"] == "circumscribed_radius"
    assert reply["wrong_turn"]["drawn"]["across_corners"] == pytest.approx(60.0, abs=0.01)
    assert reply["hexagon"]["across_corners"] == pytest.approx(60 / math.sqrt(3))
    right = web.post("/v1/stock/hexagon", json={**asked, "drawn_across_flats": 30}).get_json()
    assert right["wrong_turn"] is None


def test_a_plan_doubts_a_bar_that_only_a_wrong_turn_gives(web: FlaskClient) -> None:
    told = check(planned(web, port(stock__across_flats=51.96)), "hexagon_reading")
    assert told["state"] == "caution"
    assert (
        "51.96 across flats is what 30 gives when it is taken as the circumscribed"
        in (told["detail"])
    )
    assert "draw the hexagon 30 across flats, that is 34.641 across corners" in told["change"]


def test_across_corners_given_as_flats_is_doubted(web: FlaskClient) -> None:
    told = check(planned(web, port(stock__across_flats=34.64)), "hexagon_reading")
    assert told["state"] == "caution"
    assert "what a bar of 30 across flats measures over its corners" in told["detail"]
    assert "if that is 30, give that as across flats" in told["change"]


def test_a_size_that_reads_two_ways_is_told_both(web: FlaskClient) -> None:
    """1.25 in drawn with its radius is as wide as a 1.875 in bar is over its corners: geometry."""
    told = check(planned(web, adapter(stock__across_flats=2.165)), "hexagon_reading")
    assert "a bar of 1.875 across flats measures over its corners" in told["detail"]
    assert "2.165 across flats is what 1.25 gives" in told["detail"]
    assert "if that is 1.875, give that" in told["change"]
    assert "if that is 1.25, draw the hexagon 1.25 across flats" in told["change"]


def test_a_bar_that_is_sold_is_not_doubted(web: FlaskClient) -> None:
    told = check(planned(web, port()), "hexagon_reading")
    assert told["state"] == "passed"
    assert "30 mm across flats, 34.641 mm across corners is sold" in told["detail"]


def test_across_flats_measured_as_corners_is_doubted(web: FlaskClient) -> None:
    plan = planned(web, adapter(stock__across_flats=None, stock__across_corners=1.25))
    told = check(plan, "hexagon_reading")
    assert told["state"] == "caution"
    assert "1.0825 in across flats" in told["detail"]
    assert "if that is 1.25, give that as across flats" in told["change"]


def test_a_size_nobody_lists_is_taken_as_it_is(web: FlaskClient) -> None:
    told = check(planned(web, port(stock__across_flats=31.3)), "hexagon_reading")
    assert told["state"] == "passed"
    assert "none is listed" in told["detail"]


def test_corners_of_a_bar_that_is_sold_are_right(web: FlaskClient) -> None:
    found = planned(web, port(stock__across_flats=None, stock__across_corners=34.641))
    assert check(found, "hexagon_reading")["state"] == "passed"
    assert found["bar"]["size"] == pytest.approx(30.0, abs=1e-4)


def test_flats_and_corners_given_at_once_are_refused(web: FlaskClient) -> None:
    (fault,) = refused(web, adapter(stock__across_corners=1.4434))
    assert fault["code"] == "said_twice"


# -- blank


def test_a_boss_turned_to_the_basic_size_is_refused(web: FlaskClient) -> None:
    plan = planned(web, adapter(boss__ready=True, boss__diameter=0.875))
    told = check(plan, "blank_inside_limits")
    assert told["state"] == "refused"
    assert not told["acceptable"]
    assert "0.86825" in told["change"]  # middle of 0.8631 to 0.8734, ASME B1.1-2003, table 2
    assert plan["program"] is None


def test_a_hole_bored_to_the_tap_drill_of_another_thread_is_refused(web: FlaskClient) -> None:
    """18 mm is the minor of M20x2; M20x1.5-6H begins at 18.376 (ISO 965-2)."""
    plan = planned(web, port(hole__ready=True, hole__diameter=18.0, hole__drilled_diameter=None))
    assert check(plan, "blank_inside_limits")["state"] == "refused"


def test_a_blank_no_deeper_than_its_thread_is_refused_with_what_is_missing(
    web: FlaskClient,
) -> None:
    plan = planned(web, adapter(boss__depth=0.875))
    told = check(plan, "axial_budget")
    assert told["state"] == "refused"
    assert not told["acceptable"]
    # 0.875 thread + 0.04 half a tooth + 0.5 mm clearance: the sum is the check's own words.
    assert told["limit"] - told["figure"] == pytest.approx(0.04 + 0.5 / 25.4, abs=1e-5)
    assert "shoulder" in told["detail"]
    assert check(plan, "clearance_teeth_shoulder")["state"] == "refused"
    (fault,) = refused(web, adapter(boss__depth=0.875, accept=["axial_budget"]))
    assert (fault["pointer"], fault["code"]) == ("/accept/0", "not_acceptable")


# -- turns


def test_turns_are_never_asked_for(web: FlaskClient) -> None:
    for place in ("turns", "thread__turns", "cutting__turns"):
        (fault,) = refused(web, adapter(**{place: 14}))
        assert fault["code"] == "unknown_field"


def test_turns_follow_from_length_and_lead(web: FlaskClient) -> None:
    # length * threads per inch (common practice, no source); two starts: by the lead.
    assert planned(web, adapter())["motion"]["turns"] == pytest.approx(0.875 * 14)
    two = adapter(
        thread__designation="7/8-14 UNF-2A", thread__length=0.75
    )  # another length, another count
    assert planned(web, two)["motion"]["turns"] == pytest.approx(0.75 * 14)


# -- cutter


def test_a_cutter_larger_than_the_hole_is_refused(web: FlaskClient) -> None:
    (fault,) = refused(web, port(cutter__diameter=18.5))
    assert (fault["pointer"], fault["code"]) == ("/cutter/diameter", "cutter_enters_hole")


def test_a_cutter_that_fills_the_hole_is_refused(web: FlaskClient) -> None:
    (fault,) = refused(web, port(cutter__diameter=18, cutter__shank_diameter=18))
    assert fault["pointer"] == "/cutter/diameter"
    assert f"take a cutter of at most {fault['greatest']:g} mm" in fault["change"]
    most = port(cutter__diameter=fault["greatest"], cutter__shank_diameter=fault["greatest"])
    assert planned(web, most)["verdict"].startswith("ready")


def test_a_cutter_that_is_too_short_meets_the_part(web: FlaskClient) -> None:
    plan = planned(web, adapter(cutter__reach=0.5, cutter__overhang=0.8))
    assert plan["verdict"] == "refused"
    assert check(plan, "reach")["state"] == "refused"


def test_no_cutter_at_all_is_proposed_with_what_was_assumed(web: FlaskClient) -> None:
    plan = planned(web, port(cutter=None))
    assert plan["cutter"]["diameter"] < 18.376
    assert any("thread mill" in line for line in plan["assumed"])


# -- speed and feed


@pytest.mark.parametrize(("asked", "sign"), [(adapter(), 1), (port(), -1)])
def test_the_feed_is_told_for_the_arc_and_not_for_a_straight_line(
    web: FlaskClient, asked: dict[str, Any], sign: int
) -> None:
    """Centre feed: vf (D + d)/D outside, vf (D - d)/D inside (geometry of a circle)."""
    plan = planned(web, asked)
    cutter = plan["cutter"]["diameter"]
    for one in plan["passes"]:
        feed = one["work"]["feed"]
        cut = 2 * (one["centre_radius"] - sign * cutter / 2)  # diameter the tooth's tip cuts
        assert feed["centre_feed"] / feed["edge_feed"] == pytest.approx((cut + sign * cutter) / cut)


def test_nice_and_slow_is_held_against_the_material(web: FlaskClient) -> None:
    fast = planned(web, adapter(cutting__surface_speed=1500, machine__greatest_spindle_speed=3000))
    told = check(fast, "spindle_speed")
    assert told["state"] == "caution"
    assert fast["speed"]["speed"] == 3000


def test_an_unknown_material_is_refused_not_taken_for_the_nearest(web: FlaskClient) -> None:
    (fault,) = refused(web, adapter(stock__material="30x"))
    assert fault["pointer"] == "/stock/material"


# -- passes


def test_one_pass_of_a_slender_cutter_is_caught_by_its_deflection(web: FlaskClient) -> None:
    slender = {
        "cutter__overhang": 4.0, "cutter__reach": 3.0, "cutter__neck_diameter": 0.25,
        "cutter__holder_diameter": 1.6,
    }  # fmt: skip
    one = planned(web, adapter(cutting__passes=1, **slender))
    told = check(one, "deflection")
    assert told["state"] == "refused"
    assert one["program"] is None
    chosen = planned(web, adapter(**slender))
    assert len(chosen["passes"]) > 1
    assert check(chosen, "deflection")["figure"] < told["figure"]


# -- hand and direction


@pytest.mark.parametrize(
    ("side", "hand", "milling", "sense", "motion"),
    [
        # A right-hand cutter turning clockwise: geometry, drawn out in docs of core/path/direction.
        ("internal", "", "climb", "counterclockwise", "upward"),
        ("internal", "", "conventional", "clockwise", "downward"),
        ("internal", "-LH", "climb", "counterclockwise", "downward"),
        ("internal", "-LH", "conventional", "clockwise", "upward"),
        ("external", "", "climb", "clockwise", "downward"),
        ("external", "", "conventional", "counterclockwise", "upward"),
        ("external", "-LH", "climb", "clockwise", "upward"),
        ("external", "-LH", "conventional", "counterclockwise", "downward"),
    ],
)
def test_hand_and_direction_come_from_a_table_and_not_from_a_picture(
    web: FlaskClient, side: str, hand: str, milling: str, sense: str, motion: str
) -> None:
    if side == "external":
        asked = adapter(thread__designation=f"7/8-14 UNF-2A{hand}", cutting__milling=milling)
    else:
        asked = port(thread__designation=f"M20x1.5-6H{hand}", cutting__milling=milling)
    plan = planned(web, asked)
    assert (plan["motion"]["sense"], plan["motion"]["motion"]) == (sense, motion)
    assert plan["limits"]["hand"] == ("left" if hand else "right")
    assert plan["program"] is not None
    arcs = {"G2", "G02"} if sense == "clockwise" else {"G3", "G03"}
    thread = plan["program"]["text"].rpartition("(MILL THE THREAD")[2] or plan["program"]["text"]
    words = set(thread.replace("\n", " ").split())
    assert words & arcs


# -- verification


def test_a_tooth_of_another_form_is_refused(web: FlaskClient) -> None:
    tooth = {
        "flank_angle_upper": 27.5, "flank_angle_lower": 27.5, "tip_width": 0.006, "depth": 0.06
    }  # fmt: skip
    (fault,) = refused(web, adapter(cutter__tooth=tooth))
    assert fault["code"] == "flank_angle"


def test_what_the_helix_widens_is_corrected_before_it_is_cut(web: FlaskClient) -> None:
    """A path by the tooth's shape alone would be off by the helix's overcut; the plan's isn't."""
    plan = planned(web, port(cutter__diameter=15, cutter__shank_diameter=15))
    form = plan["form"]
    assert form["overcut_effect"] > 0.005  # mm on the pitch diameter: a cutter large for its hole
    assert form["pitch_diameter"] == pytest.approx((19.026 + 19.216) / 2, abs=1e-5)  # ISO 965-2
    assert abs(form["correction"]["change"]) > 0.001


# -- program


def test_a_program_changed_by_one_digit_no_longer_passes_for_the_path(web: FlaskClient) -> None:
    text = planned(web, adapter())["program"]["text"]
    lines = text.splitlines()
    at = [number for number, line in enumerate(lines) if "Z-" in line and " I" in line][3]
    place = lines[at].index("Z-") + 4  # the first digit after the point, or one beside it
    lines[at] = (
        lines[at][:place] + ("1" if lines[at][place] != "1" else "2") + lines[at][place + 1 :]
    )
    asked = {"unit": "in", "text": text}
    right = web.post("/v1/program/replay", json=asked).get_json()
    wrong = web.post("/v1/program/replay", json={**asked, "text": "\n".join(lines) + "\n"})
    assert wrong.status_code == 422 or wrong.get_json()["motions"] != right["motions"]


def test_every_program_was_read_back_before_it_was_given(web: FlaskClient) -> None:
    for asked in (adapter(), port()):
        plan = planned(web, asked)
        told = check(plan, "program_replay")
        assert told["state"] == "passed"
        assert told["figure"] <= told["limit"]
        assert plan["program"]["replay"]["equal"]


# -- gauging


def test_wires_that_cannot_touch_the_flanks_are_refused(web: FlaskClient) -> None:
    faults = refused(web, adapter(gauging__wire_diameter=0.025))
    assert {fault["pointer"] for fault in faults} == {"/gauging/wire_diameter"}
    assert {fault["code"] for fault in faults} == {"below_crest", "bottoms_in_root"}


def test_a_measured_part_becomes_an_offset_and_a_slip_in_reading_does_not(
    web: FlaskClient,
) -> None:
    plan = planned(web, adapter())
    asked = {
        "designation": "7/8-14 UNF-2A", "unit": "in", "method": plan["gauging"]["method"],
        "wire": plan["gauging"]["wire"], "reading": plan["gauging"]["greatest_reading"] + 0.002,
        "reading_uncertainty": 0.0001,
    }  # fmt: skip
    told = web.post("/v1/gauging/inspection", json=asked).get_json()
    assert told["correction"]["words"].startswith("make the radius offset smaller by 0.002")
    assert told["correction"]["rework"] is True
    slip = web.post("/v1/gauging/inspection", json={**asked, "reading": 0.96})
    assert slip.status_code == 422
    assert slip.get_json()["faults"][0]["pointer"] == "/reading"


# -- the next one


def test_the_job_document_makes_the_same_plan_again(web: FlaskClient) -> None:
    for asked in (adapter(), port()):
        first, again = (web.post("/v1/plan", json=asked).data for _ in range(2))
        assert first == again
