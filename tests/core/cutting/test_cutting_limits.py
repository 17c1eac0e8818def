"""Every documented limit of cutting's public functions: taken at the limit, refused beyond."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.cutting.answers import radial_passes, speed_answer
from flankwise_service.core.cutting.chip import (
    chip_factor,
    chip_on_flank,
    greatest_chip,
    held_chip,
    mean_chip,
)
from flankwise_service.core.cutting.cost import batch_cost
from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.cutting.deflection import Section, bending_compliance, deflect
from flankwise_service.core.cutting.engagement import engagement_on_circle, engagement_straight
from flankwise_service.core.cutting.feed import (
    arc_feed,
    centre_diameter,
    centre_feed,
    edge_feed,
    helix_factor,
    ramped_feeds,
)
from flankwise_service.core.cutting.force import (
    Strip,
    pass_load,
    power_kw,
    specific_force,
    tangential_force,
    teeth_in_cut,
    wall_share,
)
from flankwise_service.core.cutting.load import ThreadCut, diameter_at_tip, stiff_thread_depths
from flankwise_service.core.cutting.material_table import find_material
from flankwise_service.core.cutting.materials import chip_load_window, with_stated
from flankwise_service.core.cutting.passes import (
    chip_area,
    depth_for_area,
    equal_area_depths,
    equal_step_depths,
    groove_area,
    passes_for_area,
    residual_deflection,
    stiff_depths,
    with_spring_passes,
)
from flankwise_service.core.cutting.speed import spindle_speed, surface_speed
from flankwise_service.core.cutting.time import Move, feed_held_on_radius, machining_time, moves_of
from support.at_limits import assert_limits_hold

# Any length, in any unit: a millionth to a million; where it may be missing, from 0.
SIZE = (1e-6, 1e6)
DEPTH = (0.0, 1e6)
RPM = (0, 500_000)
FEED = (0, 1e6)
TURN = (0, 180)
FLANK = (0, 80)

FORM = {"tip_width": 0.1, "flank_angle_upper": 30.0, "flank_angle_lower": 30.0}
FORMS = {"tip_width": DEPTH, "flank_angle_upper": FLANK, "flank_angle_lower": FLANK}
MILL = Cutter(
    6.0, 3, Tooth(30, 30, 0.15, 0.8), neck_diameter=4.2, overhang=30.0
)  # mm, an invented cutter
CUT = ThreadCut(MILL, "mm", "internal", 6.8, 1.25, 4000.0, 0.02, 700.0, 0.25)
TIP = (Strip(1.0, 90.0),)

LIMITS = [
    (engagement_straight, {"cutter_diameter": 6.0, "radial_depth": 1.0},
     {"cutter_diameter": SIZE, "radial_depth": DEPTH}),
    (engagement_on_circle,
     {"cutter_diameter": 6.0, "diameter_before": 7.5, "diameter_after": 8.0, "side": "internal"},
     {"cutter_diameter": SIZE, "diameter_before": DEPTH}),
    (engagement_on_circle,
     {"cutter_diameter": 6.0, "diameter_before": 8.0, "diameter_after": 7.5, "side": "external"},
     {"cutter_diameter": SIZE, "diameter_before": SIZE}),
    (spindle_speed,
     {"surface_speed": 100.0, "diameter": 6.0, "unit": "mm", "least": 10, "greatest": 9000},
     {"surface_speed": (1e-3, 20_000), "diameter": SIZE, "least": RPM,
      "greatest": (1e-3, 500_000)}),
    (surface_speed, {"speed": 1000.0, "diameter": 6.0, "unit": "mm"},
     {"speed": RPM, "diameter": SIZE}),
    (edge_feed, {"speed": 1000.0, "flutes": 3, "feed_per_tooth": 0.05},
     {"speed": RPM, "flutes": (1, 100), "feed_per_tooth": (0, 1000)}),
    (centre_diameter, {"diameter_cut": 8.0, "cutter_diameter": 6.0, "side": "internal"},
     {"diameter_cut": SIZE, "cutter_diameter": SIZE}),
    (centre_feed,
     {"edge_feed": 100.0, "diameter_cut": 8.0, "cutter_diameter": 6.0, "side": "external"},
     {"edge_feed": FEED}),
    (helix_factor, {"centre_diameter": 2.0, "lead": 1.25},
     {"centre_diameter": SIZE, "lead": DEPTH}),
    (arc_feed,
     {"edge_feed": 100.0, "diameter_cut": 8.0, "cutter_diameter": 6.0, "side": "external",
      "greatest_feed": 500.0},
     {"edge_feed": FEED, "greatest_feed": (1e-6, 1e6)}),
    (ramped_feeds, {"feed": 100.0, "pieces": 4, "share_at_begin": 0.5},
     {"feed": FEED, "pieces": (1, 1000), "share_at_begin": (0.01, 1)}),
    (chip_factor, {"engagement": 30.0}, {"engagement": TURN}),
    (greatest_chip, {"feed_per_tooth": 0.1, "engagement": 30.0},
     {"feed_per_tooth": (0, 1e4), "engagement": TURN}),
    (mean_chip, {"feed_per_tooth": 0.1, "engagement": 30.0},
     {"feed_per_tooth": (0, 1e4), "engagement": TURN}),
    (chip_on_flank, {"chip": 0.1, "flank_angle": 30.0},
     {"chip": (0, 1e4), "flank_angle": (0, 89)}),
    (held_chip,
     {"chip_wanted": 0.03, "cutter_diameter": 6.0, "diameter_before": 7.5, "diameter_after": 8.0,
      "side": "internal", "greatest_factor": 2.0},
     {"chip_wanted": (1e-7, 1000), "greatest_factor": (1, 10)}),
    (batch_cost,
     {"seconds_per_part": 90.0, "parts": 10, "hourly_rate": 80.0, "setup_minutes": 30.0,
      "cutter_price": 50.0, "cutter_life_minutes": 60.0, "cutting_seconds_per_part": 40.0,
      "material_per_part": 1.0},
     {"seconds_per_part": (0, 1e7), "parts": (1, 1e7), "hourly_rate": (0, 1e6),
      "setup_minutes": (0, 1e6), "cutter_price": (0, 1e6), "cutter_life_minutes": (0.01, 1e6),
      "cutting_seconds_per_part": (0, 1e7), "material_per_part": (0, 1e7)}),
    (bending_compliance, {"sections": (Section(30.0, 6.0),), "modulus_n_per_mm2": 6e5},
     {"modulus_n_per_mm2": (1000, 2e6)}),
    (deflect,
     {"wall_n": 10.0, "sections": (Section(30.0, 6.0),), "substance": "carbide", "internal": True},
     {"wall_n": (-1e6, 1e6)}),
    (specific_force, {"kc11": 2000.0, "mc": 0.25, "chip_mm": 0.1},
     {"kc11": (50, 20_000), "mc": (0, 0.9), "chip_mm": (0, 100)}),
    (tangential_force,
     {"strips": TIP, "chip_mm": 0.1, "kc11": 2000.0, "mc": 0.25, "wear_factor": 1.0},
     {"wear_factor": (0.5, 5)}),
    (teeth_in_cut, {"flutes": 4, "engagement": 45.0}, {"flutes": (1, 100), "engagement": TURN}),
    (wall_share, {"engagement": 60.0, "radial_ratio": 0.5, "milling": "climb"},
     {"engagement": TURN, "radial_ratio": (0, 2)}),
    (pass_load,
     {"strips": TIP, "engagement": 60.0, "step_mm": 2.5, "feed_per_tooth_mm": 0.1,
      "cutter_diameter_mm": 10.0, "flutes": 4, "speed": 3000, "kc11": 2000.0, "mc": 0.25,
      "rows_in_cut": 1.0},
     {"step_mm": (0, 1000), "cutter_diameter_mm": (1e-3, 1000), "speed": RPM,
      "rows_in_cut": (0, 200)}),
    (power_kw, {"torque_nm": 10.0, "speed": 1000}, {"torque_nm": (0, 1e9), "speed": RPM}),
    (groove_area, {"depth": 0.6, **FORM}, {"depth": DEPTH, **FORMS}),
    (chip_area, {"depth_before": 0.3, "depth_after": 0.6, **FORM},
     {"depth_before": (0, 0.6), **FORMS}),
    (depth_for_area, {"area": 0.3, **FORM}, {"area": (0, 1e12), **FORMS}),
    (equal_area_depths, {"depth": 0.6, "passes": 3, **FORM},
     {"depth": SIZE, "passes": (1, 100), **FORMS}),
    (passes_for_area, {"depth": 0.6, "greatest_area": 0.1, **FORM},
     {"depth": SIZE, "greatest_area": (1e-12, 1e12), **FORMS}),
    (equal_step_depths, {"depth": 0.6, "greatest_step": 0.2},
     {"depth": SIZE, "greatest_step": SIZE}),
    (stiff_depths,
     {"depth": 1.0, "deflection_of": lambda before, after: after - before, "greatest_final": 0.2,
      "greatest_rough": 0.4, "least_step": 0.01, "finish_share": 1.0},
     {"greatest_final": (1e-12, 1e6), "greatest_rough": (1e-12, 1e6),
      "least_step": (1e-9, 1.0), "finish_share": (1e-3, 1)}),
    (stiff_depths,
     {"depth": 1.0, "deflection_of": lambda before, after: 0.0, "greatest_final": 0.2,
      "greatest_rough": 0.4, "least_step": 1e-9}, {"depth": SIZE}),
    (with_spring_passes, {"depths": (0.3, 0.6), "springs": 2}, {"springs": (0, 10)}),
    (residual_deflection, {"rigid_deflection": 0.01, "step": 0.1, "springs": 1},
     {"rigid_deflection": (0, 1e6), "step": SIZE, "springs": (0, 10)}),
    (diameter_at_tip, {"cut": CUT, "depth": 0.5}, {"depth": DEPTH}),
    (stiff_thread_depths,
     {"cut": CUT, "depth": 0.65, "pitch_diameter_tolerance": 0.16, "final_share": 0.1,
      "rough_share": 0.5},
     {"pitch_diameter_tolerance": SIZE, "final_share": (1e-3, 10), "rough_share": (1e-3, 10)}),
    (chip_load_window,
     {"found": find_material("303"), "substance": "carbide", "cutter_diameter_mm": 6.0},
     {"cutter_diameter_mm": (0.1, 1000)}),
    (with_stated,
     {"found": find_material("303"), "kc11_n_per_mm2": 2000.0, "mc": 0.25,
      "density_g_per_cm3": 8.0},
     {"kc11_n_per_mm2": (50, 20_000), "mc": (0, 0.9), "density_g_per_cm3": (0.5, 25)}),
    (speed_answer, {"unit": "mm", "diameter": 6.0, "material": "303", "fraction": 0.5},
     {"fraction": (0, 1)}),
    (radial_passes,
     {"depth": 0.6, "form": (0.15, 30.0, 30.0), "method": "equal_step", "passes": 3},
     {"passes": (1, 100)}),
    (moves_of, {"pieces": (), "corner": 5.0}, {"corner": TURN}),
    (machining_time,
     {"moves": [Move(10.0, 600.0)], "rapid": 10_000.0, "acceleration": 1000.0, "tool_changes": 1,
      "tool_change_s": 5.0, "handling_s": 20.0},
     {"rapid": (1e-3, 1e7), "acceleration": (1e-3, 1e7), "tool_changes": (0, 1000),
      "tool_change_s": (0, 1e5), "handling_s": (0, 1e6)}),
    (feed_held_on_radius, {"radius": 1.0, "acceleration": 1000.0},
     {"radius": (0, 1e6), "acceleration": (1e-3, 1e7)}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("call", "good", "limits"), LIMITS, ids=[one[0].__name__ for one in LIMITS]
)
def test_each_limit_is_taken_and_a_step_beyond_it_is_not(call, good, limits):
    assert_limits_hold(call, good, limits)


@pytest.mark.parametrize("place", ["length", "feed", "radius"])
def test_limits_of_a_move(place):
    def timed(**given: float) -> None:
        machining_time(
            [Move(1.0, 1.0, 1.0), Move(**{"length": 1.0, "feed": 1.0, "radius": 1.0, **given})],
            rapid=1000.0, acceleration=1000.0,
        )  # fmt: skip

    assert_limits_hold(timed, {place: 1.0}, {place: (1e-9, 1e7)}, "/moves/1/")


@pytest.mark.parametrize(("place", "least"), [("length_mm", 1e-3), ("diameter_mm", 0.01)])
def test_limits_of_a_section_of_a_cutter(place, least):
    def bent(**given: float) -> None:
        second = Section(**{"length_mm": 10.0, "diameter_mm": 6.0, **given})
        bending_compliance((Section(30.0, 6.0), second), 6e5)

    assert_limits_hold(bent, {place: 5.0}, {place: (least, 5000)}, "/sections/1/")


@pytest.mark.parametrize(
    ("name", "least", "greatest"),
    [("surface_speed_m_per_min", 0.1, 20_000), ("chip_share", 1e-5, 0.2)],
)
@pytest.mark.parametrize("both", [True, False])
def test_limits_of_a_stated_window(name, least, greatest, both):
    """The window's own ends bound each other, so each end is asked at its own limit."""
    other = {"surface_speed_m_per_min": (10.0, 20.0), "chip_share": (0.001, 0.002)}

    def stated(low: float, high: float) -> None:
        given = {**(other if both else {}), name: (low, high)}
        with_stated(find_material("303"), substance="carbide", **given)

    def end(*, low: bool):
        return lambda **given: stated(given[name], greatest) if low else stated(least, given[name])

    assert_limits_hold(end(low=True), {name: least}, {name: (least, greatest)})
    assert_limits_hold(end(low=False), {name: greatest}, {name: (least, greatest)})


def test_the_blanks_own_diameter_is_held_too():
    def turned(**given: float) -> None:
        made = ThreadCut(MILL, "mm", "internal", given["blank_diameter"], 1, 1, 1, 700, 0.25)
        diameter_at_tip(made, 0.5)

    assert_limits_hold(turned, {"blank_diameter": 6.0}, {"blank_diameter": SIZE})
    assert math.isclose(diameter_at_tip(CUT, 0.5), 7.8)
