from __future__ import annotations

import math
from dataclasses import replace

import pytest
from scipy.integrate import quad

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.cutting.deflection import (
    MODULUS,
    Section,
    bending_compliance,
    cutter_sections,
    deflect,
)
from flankwise_service.core.cutting.force import (
    Strip,
    pass_load,
    pass_strips,
    power_kw,
    specific_force,
    tangential_force,
    teeth_in_cut,
    wall_share,
)
from flankwise_service.core.cutting.passes import chip_area
from flankwise_service.core.cutting.tooth import flank_slope, reach_below_tooth, width_at
from flankwise_service.core.errors import BadInput
from support.refused import told

TOOTH = Tooth(30.0, 30.0, 0.15, 0.8)
MILL = Cutter(
    6.0, 3, TOOTH, neck_diameter=4.0, reach=20.0, shank_diameter=6.0, overhang=32.0,
    tip_to_tooth=0.5,
)  # fmt: skip
CUT = {
    "engagement": 50.0, "step_mm": 0.3, "feed_per_tooth_mm": 0.03, "cutter_diameter_mm": 6.0,
    "flutes": 3, "speed": 4000.0, "kc11": 2050.0, "mc": 0.21,
}  # fmt: skip


def test_specific_force_of_a_chip_1_mm_thick_is_kc11():
    assert specific_force(2050, 0.21, 1.0) == 2050.0
    assert specific_force(2050, 0.21, 0.05) == pytest.approx(2050 / 0.05**0.21)
    assert specific_force(2050, 0.21, 0.0) == specific_force(2050, 0.21, 1e-4)
    assert specific_force(2050, 0.0, 0.01) == 2050.0


@pytest.mark.parametrize("angles", [(30.0, 30.0), (7.0, 45.0), (0.0, 30.0)])
def test_strips_take_exactly_the_area_of_the_pass(angles):
    strips = pass_strips(0.3, 0.6, 0.15, *angles)
    assert sum(one.width_mm for one in strips) * 0.3 == pytest.approx(
        chip_area(0.3, 0.6, 0.15, *angles)
    )
    assert [one.flank_angle for one in strips] == [90.0, *angles]


def test_flanks_push_harder_than_their_width_says():
    tip = tangential_force((Strip(1.0, 90.0),), 0.05, 2050, 0.21)
    flank = tangential_force((Strip(1.0, 30.0),), 0.05, 2050, 0.21)
    assert tip == pytest.approx(2050 * 0.05 ** (1 - 0.21))
    assert flank / tip == pytest.approx(0.5**-0.21)
    both = tangential_force((Strip(1.0, 90.0), Strip(1.0, 30.0)), 0.05, 2050, 0.21, 1.3)
    assert both == pytest.approx(1.3 * (tip + flank))


@pytest.mark.parametrize("angle", [5.0, 40.0, 90.0, 150.0])
@pytest.mark.parametrize(("milling", "sign"), [("climb", 1), ("conventional", -1)])
def test_wall_share_against_the_two_components_integrated(angle, milling, sign):
    end = math.radians(angle)
    wall, _ = quad(lambda x: math.sin(x) * (0.4 * math.cos(x) + sign * math.sin(x)), 0, end)
    around, _ = quad(math.sin, 0, end)
    assert wall_share(angle, 0.4, milling) == pytest.approx(wall / around, rel=1e-9)


def test_wall_share_of_nearly_no_engagement_is_the_radial_ratio():
    assert wall_share(0.0, 0.4, "climb") == 0.4
    assert wall_share(0.02, 0.4, "climb") == pytest.approx(0.4, abs=1e-3)


def test_power_is_the_energy_of_the_chips():
    """Energy of a chip = kc * its volume; so many chips a second."""
    strips = (Strip(2.0, 90.0),)
    load = pass_load(strips, **CUT, wear_factor=1.0)
    volume_mm3 = 2.0 * 3.0 * math.radians(50) * load.mean_chip_mm
    watts = specific_force(2050, 0.21, load.mean_chip_mm) * volume_mm3 * 3 * 4000 / 60 / 1000
    assert load.power_kw == pytest.approx(watts / 1000)
    assert load.removal_cm3_per_min == pytest.approx(volume_mm3 * 3 * 4000 / 1000)
    assert load.torque_mean_nm * 2 * math.pi * 4000 / 60 / 1000 == pytest.approx(load.power_kw)


def test_load_tells_every_figure_of_the_pass():
    strips = pass_strips(0.3, 0.6, 0.15, 30.0, 30.0)
    load = pass_load(strips, **CUT)
    assert load.chip_area_mm2 == pytest.approx(chip_area(0.3, 0.6, 0.15, 30.0, 30.0))
    assert load.engagement == 50.0
    assert load.greatest_chip_mm == pytest.approx(0.03 * math.sin(math.radians(50)))
    assert load.tangential_mean_n == pytest.approx(
        tangential_force(strips, load.mean_chip_mm, 2050, 0.21, 1.3)
    )
    assert load.tangential_greatest_n == pytest.approx(
        tangential_force(strips, load.greatest_chip_mm, 2050, 0.21, 1.3)
    )
    assert load.teeth_in_cut == pytest.approx(3 * 50 / 360)
    assert load.wall_n == pytest.approx(load.tangential_mean_n * wall_share(50, 0.5, "climb"))
    assert load.torque_mean_nm == pytest.approx(load.tangential_mean_n * 3 * 50 / 360 * 3 / 1000)
    assert load.torque_greatest_nm == pytest.approx(load.tangential_greatest_n * 3 / 1000)


def test_rows_teeth_and_milling_change_the_load():
    strips = pass_strips(0.3, 0.6, 0.15, 30.0, 30.0)
    one, four = (pass_load(strips, **CUT, rows_in_cut=rows) for rows in (1, 4))
    for name in ("chip_area_mm2", "tangential_mean_n", "tangential_greatest_n", "wall_n",
                 "torque_mean_nm", "torque_greatest_nm", "power_kw", "removal_cm3_per_min"):  # fmt: skip
        assert getattr(four, name) == pytest.approx(4 * getattr(one, name)), name
    many = pass_load(strips, **{**CUT, "flutes": 16})
    assert many.teeth_in_cut == pytest.approx(16 * 50 / 360)
    assert many.wall_n == pytest.approx(one.wall_n * many.teeth_in_cut)
    assert many.torque_greatest_nm == pytest.approx(one.torque_greatest_nm * many.teeth_in_cut)
    against = pass_load(strips, **CUT, milling="conventional")
    assert against.wall_n < one.wall_n
    assert against.power_kw == one.power_kw


def test_a_spring_pass_over_nothing_asks_nothing():
    load = pass_load(
        pass_strips(0.6, 0.6, 0.15, 30, 30), **{**CUT, "engagement": 0.0, "step_mm": 0}
    )
    assert load.power_kw == load.wall_n == load.chip_area_mm2 == load.removal_cm3_per_min == 0.0


def test_teeth_and_power():
    assert teeth_in_cut(6, 120.0) == 2.0
    assert power_kw(100.0, 1000) == pytest.approx(10.472, abs=1e-3)


def test_force_refusals():
    assert told(BadInput, specific_force, 10, 1.0, -1) == {
        ("/kc11", "out_of_range"), ("/mc", "out_of_range"), ("/chip_mm", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, tangential_force, (), 0.1, 2000, 0.2, 6) == {
        ("/wear_factor", "out_of_range")
    }
    assert told(BadInput, pass_strips, 0.7, 0.6, 0.15, 30, 30) == {
        ("/depth_before", "out_of_range")
    }
    assert told(BadInput, teeth_in_cut, 0, 200) == {
        ("/flutes", "out_of_range"), ("/engagement", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, wall_share, 200, 3, "climb") == {
        ("/engagement", "out_of_range"), ("/radial_ratio", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, power_kw, -1, math.inf) == {
        ("/torque_nm", "out_of_range"), ("/speed", "out_of_range"),
    }  # fmt: skip
    bad = {**CUT, "step_mm": -1, "cutter_diameter_mm": 0, "speed": -1}
    assert told(BadInput, pass_load, (), **bad, rows_in_cut=-1) == {
        ("/step_mm", "out_of_range"), ("/cutter_diameter_mm", "out_of_range"),
        ("/speed", "out_of_range"), ("/rows_in_cut", "out_of_range"),
    }  # fmt: skip


def test_stepped_cantilever_against_the_integral_of_the_moment():
    """Unit load: deflection = integral of x^2/(E I(x)) over the beam."""
    sections = (Section(15.0, 4.0), Section(5.0, 5.0), Section(12.0, 6.0))

    def inertia(x: float) -> float:
        diameter = 4.0 if x < 15 else 5.0 if x < 20 else 6.0
        return math.pi * diameter**4 / 64

    expected, _ = quad(lambda x: x * x / (600_000 * inertia(x)), 0, 32, points=[15, 20])
    assert bending_compliance(sections, 600_000) == pytest.approx(expected, rel=1e-9)


def test_uniform_cantilever_is_the_textbook_one():
    # Source: any text on strength of materials, F L^3/(3 E I); Roark's Formulas, Table 8.1 (memory).
    inertia = math.pi * 8.0**4 / 64
    assert bending_compliance((Section(40.0, 8.0),), 210_000) == pytest.approx(
        40**3 / (3 * 210_000 * inertia)
    )


def test_sections_run_from_the_tooth_to_the_holder():
    assert cutter_sections(MILL, "mm") == (Section(19.5, 4.0), Section(12.0, 6.0))
    inch = cutter_sections(
        Cutter(0.5, 4, TOOTH, neck_diameter=0.3, reach=1.0, shank_diameter=0.5, overhang=2.0), "in"
    )
    assert inch == (Section(25.4, pytest.approx(7.62)), Section(25.4, 12.7))


def test_what_is_not_stated_errs_to_the_weak_side():
    no_shank = Cutter(6.0, 3, TOOTH, neck_diameter=4.0, reach=20.0, overhang=32.0)
    assert cutter_sections(no_shank, "mm") == (Section(20.0, 4.0), Section(12.0, 4.0))
    no_reach = Cutter(6.0, 3, TOOTH, neck_diameter=4.0, shank_diameter=6.0, overhang=32.0)
    assert cutter_sections(no_reach, "mm") == (Section(32.0, 4.0),)
    no_neck = Cutter(6.0, 3, TOOTH, reach=20.0, shank_diameter=6.0, overhang=32.0)
    assert cutter_sections(no_neck, "mm") == (Section(20.0, 6.0), Section(12.0, 6.0))
    deep_in_holder = Cutter(6.0, 3, TOOTH, neck_diameter=4.0, reach=40.0, overhang=32.0)
    assert cutter_sections(deep_in_holder, "mm") == (Section(32.0, 4.0),)


def test_sections_that_cannot_be_known_are_refused():
    assert told(BadInput, cutter_sections, Cutter(6.0, 3, TOOTH), "mm") == {
        ("/cutter/neck_diameter", "needed"), ("/cutter/overhang", "needed"),
    }  # fmt: skip
    upside_down = Cutter(6.0, 3, TOOTH, neck_diameter=4.0, overhang=5.0, tip_to_tooth=6.0)
    assert told(BadInput, cutter_sections, upside_down, "mm") == {
        ("/cutter/overhang", "out_of_order")
    }
    shank_first = Cutter(
        6.0, 3, TOOTH, neck_diameter=4.0, reach=5.0, overhang=30.0, tip_to_tooth=6.0
    )
    assert told(BadInput, cutter_sections, shank_first, "mm") == {
        ("/cutter/overhang", "out_of_order")
    }


@pytest.mark.parametrize("reach", [5.999, 6.0])
def test_a_shank_that_begins_a_hair_below_or_at_the_lowest_tooth_is_refused(reach):
    """The tooth has to stand below the shank, by however little."""
    made = Cutter(6.0, 3, TOOTH, neck_diameter=4.0, reach=reach, overhang=30.0, tip_to_tooth=6.0)
    assert told(BadInput, cutter_sections, made, "mm") == {("/cutter/overhang", "out_of_order")}
    (neck, shank) = cutter_sections(replace(made, reach=6.001, shank_diameter=6.0), "mm")
    assert neck.length_mm == pytest.approx(0.001)
    assert shank.length_mm == pytest.approx(23.999)


def test_a_cutter_pushed_off_leaves_a_hole_small_and_a_boss_large():
    sections = cutter_sections(MILL, "mm")
    inside = deflect(50.0, sections, "carbide", internal=True)
    outside = deflect(50.0, sections, "carbide", internal=False)
    assert inside.deflection_mm == pytest.approx(50 * bending_compliance(sections, 600_000))
    assert inside.pitch_diameter_error_mm == pytest.approx(-2 * inside.deflection_mm)
    assert outside.pitch_diameter_error_mm == pytest.approx(2 * outside.deflection_mm)
    assert inside.stiffness_n_per_mm == pytest.approx(50 / inside.deflection_mm)
    pulled = deflect(-50.0, sections, "carbide", internal=True)
    assert pulled.pitch_diameter_error_mm > 0


def test_high_speed_steel_bends_by_the_ratio_of_the_moduli():
    sections = cutter_sections(MILL, "mm")
    carbide = deflect(50.0, sections, "carbide", internal=True)
    steel = deflect(50.0, sections, "high speed steel", internal=True)
    assert steel.deflection_mm / carbide.deflection_mm == pytest.approx(600 / 210)
    assert steel.modulus_source == MODULUS["high speed steel"][1]
    assert steel.modulus_n_per_mm2 == 210_000
    assert steel.modulus_source.standing == "memory"


def test_deflection_refusals():
    assert told(BadInput, bending_compliance, (Section(-1.0, 0.0),), 1.0) == {
        ("/sections/0/length_mm", "out_of_range"), ("/sections/0/diameter_mm", "out_of_range"),
        ("/modulus_n_per_mm2", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, deflect, math.nan, (), "carbide", internal=True) == {
        ("/wall_n", "out_of_range")
    }
    assert told(BadInput, deflect, 1.0, (), "carbide", internal=True) == {("/sections", "needed")}


def test_tooth_widths():
    skew = Tooth(45.0, 7.0, 0.2, 1.0)
    slope = 1 + math.tan(math.radians(7))
    assert flank_slope(skew) == pytest.approx(slope)
    assert width_at(skew, 0.4) == pytest.approx(0.2 + 0.4 * slope)
    assert width_at(skew, 3.0) == pytest.approx(0.2 + slope)
    assert width_at(skew, -1.0) == 0.2


def test_reach_below_the_tooth_is_half_its_base_or_the_tip():
    # tip side of a 7 degree lower flank
    skew = Cutter(6.0, 3, Tooth(45.0, 7.0, 0.2, 1.0), tip_to_tooth=0.1)
    assert reach_below_tooth(skew) == pytest.approx(0.1 + math.tan(math.radians(7)))
    tipped = Cutter(6.0, 3, Tooth(45.0, 7.0, 0.2, 1.0), tip_to_tooth=1.5)
    assert reach_below_tooth(tipped) == 1.5
