"""Speed, feed, chip thickness, force and power against handbooks, each source beside its check."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.cutting.chip import chip_factor, greatest_chip, mean_chip
from flankwise_service.core.cutting.engagement import engagement_straight
from flankwise_service.core.cutting.feed import edge_feed
from flankwise_service.core.cutting.force import Strip, pass_load, specific_force
from flankwise_service.core.cutting.material_table import find_material
from flankwise_service.core.cutting.materials import force_figures
from flankwise_service.core.cutting.speed import spindle_speed
from flankwise_service.core.cutting.time import Move, machining_time
from support.published import rows

FEEDS = {
    "kc_016": 0.16,
    "kc_025": 0.25,
    "kc_040": 0.40,
    "kc_063": 0.63,
    "kc_100": 1.00,
    "kc_160": 1.60,
}


@pytest.mark.parametrize("column", FEEDS)
@pytest.mark.parametrize("row", rows("rn_1391_table_2.csv"), ids=lambda r: r["material"])
def test_specific_force_over_chip_thickness(row, column):
    """Source: works standard RN 1391, "Reference speed and clamping force calculation", Table 2,
    specific cutting force over feed at a setting angle of 45 degrees (seen; the page's text
    interleaves its columns, rows assigned by their order): h = feed * sin 45.
    """
    kc11, mc = force_figures(find_material(row["material_here"]))
    thickness = FEEDS[column] * math.sin(math.radians(45))
    ours = specific_force(kc11.value, mc.value, thickness) / 1000
    # The table prints steps of 0.05 kN/mm2; E335 shares its row with two other steels.
    assert ours == pytest.approx(float(row[column]), rel=0.03)


def test_a_whole_worked_example_of_peripheral_milling():
    """Source: Groover, Fundamentals of Modern Manufacturing, problems of the chapter on machining
    operations, a peripheral milling cut (memory of problem and solution): 300 mm long, 100 mm
    wide, cutter 75 mm, four teeth, 80 m/min, 0.2 mm/tooth, 7 mm deep. Printed: 339.5 rev/min,
    271.6 mm/min, approach 21.8 mm, 1.18 min, 190,148 mm3/min.
    """
    speed = spindle_speed(80.0, 75.0, "mm").speed
    assert round(speed, 1) == 339.5
    feed = edge_feed(speed, 4, 0.2)
    assert round(feed, 1) == 271.6
    approach = 75 / 2 * math.sin(math.radians(engagement_straight(75.0, 7.0)))
    assert round(approach, 1) == 21.8
    spent = machining_time([Move(300 + approach, feed)], rapid=10_000, acceleration=1e6)
    assert round(spent.cutting_s / 60, 2) == 1.18
    load = pass_load(
        (Strip(100.0, 90.0),), engagement=engagement_straight(75.0, 7.0), step_mm=7.0,
        feed_per_tooth_mm=0.2, cutter_diameter_mm=75.0, flutes=4, speed=speed,
        kc11=2000, mc=0.25, wear_factor=1.0,
    )  # fmt: skip
    # The book carries the rounded feed on: 7 * 100 * 271.64.
    assert load.removal_cm3_per_min * 1000 == pytest.approx(190_148, rel=1e-4)


def test_power_of_a_slab_cut_by_specific_energy():
    """Source: Kalpakjian and Schmid, Manufacturing Engineering and Technology, problem to Fig. 24.6
    (problem seen): 150 mm cutter, eight teeth, 300 rpm, 0.125 mm/tooth, 3 mm deep, 75 % of the
    diameter engaged, 5 W s/mm3. Width 112.5 mm and feed 300 mm/min give 101,250 mm3/min and
    8.4 kW by the problem's own formula (removal rate times specific energy).
    """
    feed = edge_feed(300, 8, 0.125)
    assert feed == 300.0
    # Peripheral cut of the same area and feed: 3 mm step on 112.5 mm of edge, energy 5000 N/mm2.
    load = pass_load(
        (Strip(112.5, 90.0),), engagement=engagement_straight(150.0, 3.0), step_mm=3.0,
        feed_per_tooth_mm=0.125, cutter_diameter_mm=150.0, flutes=8, speed=300,
        kc11=5000, mc=0.0, wear_factor=1.0,
    )  # fmt: skip
    assert load.removal_cm3_per_min == pytest.approx(101.25)
    assert round(load.power_kw, 1) == 8.4


@pytest.mark.parametrize(
    ("share", "angle"), [(0.05, 25.84), (0.10, 36.87), (0.25, 60.0), (0.5, 90.0)]
)
def test_mean_chip_thickness_of_the_handbooks(share, angle):
    """Source: VDI/DIN practice after Victor, hm = (114.6/angle) fz (ae/D) sin(kappa) (memory);
    114.6 = 360/pi.
    """
    found = engagement_straight(100.0, 100 * share)
    assert round(found, 2) == angle
    assert mean_chip(0.1, found) == pytest.approx(114.592 / found * 0.1 * share, rel=1e-5)


@pytest.mark.parametrize(
    ("share", "factor"), [(0.05, 2.294), (0.10, 1.667), (0.20, 1.250), (0.30, 1.091), (0.5, 1.0)]
)
def test_radial_chip_thinning_factor(share, factor):
    """Source: Machinery's Handbook, radial chip thinning 1/sqrt(1 - (1 - 2 ae/D)^2) (memory)."""
    assert 1 / chip_factor(engagement_straight(1.0, share)) == pytest.approx(factor, abs=6e-4)


def test_greatest_chip_thickness_of_shallow_cuts():
    """Source: El-Hofy, Fundamentals of Machining Processes, 2nd ed., p. 174 (formula seen), also in
    Kalpakjian: h = 2 fz sqrt(d/D) for a depth small beside the diameter.
    """
    depth, diameter, feed = 0.05, 100.0, 0.2
    found = greatest_chip(feed, engagement_straight(diameter, depth))
    assert found == pytest.approx(2 * feed * math.sqrt(depth / diameter), rel=1e-3)


@pytest.mark.parametrize(
    ("designation", "kp"),
    [("1018", 0.80), ("4140", 0.95), ("304", 0.80), ("EN-GJL-250", 0.70), ("6061", 0.30),
     ("CW614N", 0.35)],
)  # fmt: skip
def test_power_constants_are_of_the_same_size(designation, kp):
    """Source: Machinery's Handbook, power constants Kp in hp for 1 in3/min (memory, sharp tools,
    chip about 0.3 mm): 1 hp min/in3 = 2730 N/mm2. Published values differ: a band only.
    """
    kc11, mc = force_figures(find_material(designation))
    ours = specific_force(kc11.value, mc.value, 0.3) / 2730
    assert ours == pytest.approx(kp, rel=0.35)
