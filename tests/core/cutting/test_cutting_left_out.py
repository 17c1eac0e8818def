"""What may be left out: the documented value stands in for it, and another one would differ."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.cutting.answers import (
    force_figures_for,
    loaded_passes,
    radial_passes,
    speed_answer,
)
from flankwise_service.core.cutting.chip import held_chip
from flankwise_service.core.cutting.cost import batch_cost
from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.cutting.deflection import cutter_sections
from flankwise_service.core.cutting.feed import arc_feed, ramped_feeds
from flankwise_service.core.cutting.force import Strip, pass_load, tangential_force
from flankwise_service.core.cutting.load import ThreadCut, stiff_thread_depths, thread_pass
from flankwise_service.core.cutting.passes import stiff_depths
from flankwise_service.core.cutting.speed import spindle_speed
from flankwise_service.core.cutting.time import Move, machining_time, moves_of
from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.path.segment import Point, Segment
from support.left_out import assert_documented, case_id
from support.refused import faults_of, told

TOOTH = Tooth(30.0, 30.0, 0.15, 0.8)
MILL = Cutter(6.0, 3, TOOTH, neck_diameter=4.2, reach=20.0, shank_diameter=6.0, overhang=30.0)
CUT = ThreadCut(MILL, "mm", "external", 8.0, 1.25, 4000.0, 0.02, 2050.0, 0.25)
TIP = (Strip(1.0, 90.0),)
PASS = {
    "engagement": 60.0, "step_mm": 2.5, "feed_per_tooth_mm": 0.1, "cutter_diameter_mm": 10.0,
    "flutes": 4, "speed": 3000, "kc11": 2000.0, "mc": 0.25,
}  # fmt: skip
STRIPS = {"strips": TIP, "chip_mm": 0.1, "kc11": 2000.0, "mc": 0.25}
BEND = {
    "depth": 1.0, "deflection_of": lambda before, after: after - before, "greatest_final": 0.2,
    "greatest_rough": 0.4, "least_step": 0.01,
}  # fmt: skip
STIFF = {"cut": CUT, "depth": 0.7, "pitch_diameter_tolerance": 0.112}
GROOVE = {"depth": 0.6, "form": (0.15, 30.0, 30.0), "method": "equal_step", "passes": 2}
BEND_OF_15 = [
    Segment("line", "link", Point(0, 0, 0), Point(5.0, 0, 0), feed=300.0),
    Segment("line", "link", Point(5.0, 0, 0), Point(10.0, 0.43, 0), feed=300.0),
]  # about 4.9 degrees

# function, what is given, what is left out and its documented value, another value
LEFT_OUT = [
    (held_chip, {"chip_wanted": 0.02, "cutter_diameter": 6.0, "diameter_before": 8.0,
                 "diameter_after": 7.9, "side": "external"}, "greatest_factor", 2.0, 1.5),
    (batch_cost, {"seconds_per_part": 60.0, "parts": 2, "hourly_rate": 60.0},
     "setup_minutes", 0.0, 1.0),
    (batch_cost, {"seconds_per_part": 60.0, "parts": 2, "hourly_rate": 60.0,
                  "cutter_life_minutes": 5.0}, "cutter_price", 0.0, 1.0),
    (batch_cost, {"seconds_per_part": 60.0, "parts": 2, "hourly_rate": 60.0},
     "material_per_part", 0.0, 1.0),
    (arc_feed, {"edge_feed": 100.0, "diameter_cut": 8.0, "cutter_diameter": 6.0,
                "side": "external"}, "lead", 0.0, 1.0),
    (arc_feed, {"edge_feed": 1e6, "diameter_cut": 8.0, "cutter_diameter": 6.0,
                "side": "external"}, "greatest_feed", 1e6, 999_999.0),
    (ramped_feeds, {"feed": 100.0, "pieces": 4}, "share_at_begin", 0.5, 0.6),
    (tangential_force, STRIPS, "wear_factor", 1.0, 1.1),
    (pass_load, {"strips": TIP, **PASS}, "milling", "climb", "conventional"),
    (pass_load, {"strips": TIP, **PASS}, "rows_in_cut", 1.0, 2.0),
    (pass_load, {"strips": TIP, **PASS}, "wear_factor", 1.3, 1.2),
    (pass_load, {"strips": TIP, **PASS}, "radial_ratio", 0.5, 0.4),
    (stiff_depths, BEND, "finish_share", 1.0, 0.1),
    (stiff_thread_depths, STIFF, "final_share", 0.1, 0.2),
    (stiff_thread_depths, STIFF, "rough_share", 0.5, 0.2),
    (loaded_passes, {"cut": CUT, "depth": 0.7, "passes": 2}, "spring_passes", 0, 1),
    (loaded_passes, {"cut": CUT, "depth": 0.7, "pitch_diameter_tolerance": 0.112},
     "final_share", 0.1, 0.2),
    (loaded_passes, {"cut": CUT, "depth": 0.7, "pitch_diameter_tolerance": 0.112},
     "rough_share", 0.5, 0.2),
    (radial_passes, GROOVE, "spring_passes", 0, 1),
    (speed_answer, {"unit": "mm", "diameter": 10.0, "material": "303"}, "fraction", 0.5, 0.6),
    (speed_answer, {"unit": "mm", "diameter": 10.0, "material": "303"},
     "substance", "carbide", "high speed steel"),
    (speed_answer, {"unit": "mm", "diameter": 1.0, "surface_speed": 1.0},
     "least_speed", 0.0, 1000.0),
    (speed_answer, {"unit": "mm", "diameter": 0.001, "surface_speed": 20_000.0},
     "greatest_speed", 500_000.0, 499_999.0),
    (spindle_speed, {"surface_speed": 1.0, "diameter": 100.0, "unit": "mm"}, "least", 0.0, 10.0),
    (spindle_speed, {"surface_speed": 1000.0, "diameter": 0.01, "unit": "mm"},
     "greatest", 500_000.0, 499_999.0),
    (moves_of, {"pieces": BEND_OF_15}, "corner", 5.0, 4.5),
    (machining_time, {"moves": [Move(1.0, 60.0)], "rapid": 600.0, "acceleration": 100.0,
                      "tool_change_s": 5.0}, "tool_changes", 0, 1),
    (machining_time, {"moves": [Move(1.0, 60.0)], "rapid": 600.0, "acceleration": 100.0,
                      "tool_changes": 2}, "tool_change_s", 0.0, 1.0),
    (machining_time, {"moves": [Move(1.0, 60.0)], "rapid": 600.0, "acceleration": 100.0},
     "handling_s", 0.0, 1.0),
]  # fmt: skip


@pytest.mark.parametrize("case", LEFT_OUT, ids=case_id)
def test_what_is_left_out_has_its_documented_value(case):
    assert_documented(case)


@pytest.mark.parametrize(
    ("name", "documented", "other"),
    [("milling", "climb", "conventional"), ("wear_factor", 1.3, 1.2), ("radial_ratio", 0.5, 0.4),
     ("greatest_factor", 2.0, 1.0), ("greatest_feed", 1e6, 10.0)],
)  # fmt: skip
def test_conditions_of_a_cut_that_are_left_out(name, documented, other):
    light = replace(CUT, chip_load=0.05)  # a light pass, so that thinning reaches its bound
    done = thread_pass(light, 0.68, 0.7)
    assert done == thread_pass(replace(light, **{name: documented}), 0.68, 0.7)
    assert done != thread_pass(replace(light, **{name: other}), 0.68, 0.7)


def test_the_least_step_is_half_the_chip_load():
    """It decides what the thinnest pass bends a cutter that is too weak for its tolerance."""
    weak = {"cut": replace(CUT, kc11_n_per_mm2=4000.0), "depth": 0.7,
            "pitch_diameter_tolerance": 0.112}  # fmt: skip
    (left_out,) = faults_of(Impossible, stiff_thread_depths, **weak)
    (stated,) = faults_of(Impossible, stiff_thread_depths, **weak, least_step=0.02 / 2)
    (other,) = faults_of(Impossible, stiff_thread_depths, **weak, least_step=0.012)
    assert left_out == stated
    assert left_out.value < other.value


def test_a_cutter_of_which_nothing_is_said_has_one_sharp_row_flush_with_its_tip():
    bare = Cutter(6.0, 3, Tooth(30.0, 30.0, 0.15, 0.8))
    assert (bare.rows, bare.tip_to_tooth, bare.neck_diameter, bare.row_taper) == (1, 0.0, 0.0, 0.0)
    assert (bare.substance, bare.number, bare.tooth.tip_radius) == ("carbide", 1, 0.0)


def test_no_overhang_is_not_some_overhang():
    none = replace(MILL, overhang=0.0)
    assert told(BadInput, cutter_sections, none, "mm") == {("/cutter/overhang", "out_of_order")}


def test_a_depth_off_by_what_binary_sums_are_off_is_still_the_tooths_own():
    (just,) = loaded_passes(CUT, 0.8 * (1 + 5e-10))
    assert just.depth_after == 0.8 * (1 + 5e-10)
    assert told(Impossible, loaded_passes, CUT, 0.8 * (1 + 2e-9)) == {
        ("/depth", "tooth_too_shallow")
    }


def test_a_stated_figure_has_no_spread():
    assert [figure.spread for figure in force_figures_for(None, 2000.0, 0.25)] == [0.0, 0.0]
