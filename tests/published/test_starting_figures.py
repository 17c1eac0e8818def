"""The materials' figures: against handbooks where there is one, else against a second entry.

Speeds, hardness as delivered and chip loads are common practice without a source: nothing outside
tells which figure is right, so data/starting_speeds.csv holds them a second time. A figure changes
only where somebody means it to, in both places.
"""

from __future__ import annotations

import pytest

from flankwise_service.core.cutting.material_table import MATERIALS, find_material
from flankwise_service.core.cutting.materials import GREATEST_CHIP_MM, LEAST_CHIP_MM, Window
from support.published import rows

SPEEDS = {row["material"]: row for row in rows("starting_speeds.csv")}

# Chip load per tooth over the cutter's diameter, by ISO 513 group (common practice, no source):
# the tougher or harder the work, the thinner the chip.
CHIP_SHARE = {
    "P": (0.004, 0.008), "M": (0.003, 0.006), "K": (0.004, 0.009), "N": (0.005, 0.010),
    "S": (0.002, 0.004), "H": (0.001, 0.0025),
}  # fmt: skip

# g/cm3: stainless steels EN 10088-1 Annex A; aluminium EN 573 and data sheets of the alloys; copper
# alloys as CDA data; titanium and nickel as their makers' data sheets (all from memory).
DENSITY = {
    "1018": 7.87, "1045": 7.87, "4140": 7.85, "52100": 7.83, "D2": 7.70, "H13": 7.80,
    "430F": 7.7, "416": 7.7, "420": 7.7, "431": 7.7, "440C": 7.7, "17-4PH": 7.8, "303": 7.9,
    "304": 7.9, "316": 8.0, "321": 7.9, "2205": 7.8, "EN-GJL-250": 7.20, "EN-GJL-200": 7.15,
    "EN-GJS-400-15": 7.1, "EN-GJS-500-7": 7.1, "EN-GJS-700-2": 7.2, "6082": 2.70, "6061": 2.70,
    "7075": 2.81, "2024": 2.78, "2011": 2.83, "5083": 2.66, "A356": 2.68, "AlSi10Mg": 2.65,
    "CW614N": 8.47, "CW508L": 8.44, "C11000": 8.94, "C17200": 8.25, "CW453K": 8.80, "C95400": 7.6,
    "AZ91": 1.81, "POM": 1.41, "PEEK": 1.31, "PA66": 1.14, "Ti-6Al-4V": 4.43, "Ti grade 2": 4.51,
    "Alloy 718": 8.19, "Alloy 625": 8.44, "Alloy 400": 8.80, "A286": 7.94, "D2 hardened": 7.70,
    "H13 hardened": 7.80,
}  # fmt: skip

# kc1.1 in N/mm2 and mc, Kienzle and Victor as handbooks repeat them (memory).
KIENZLE = {
    "S235JR": (1780, 0.17), "E295": (1990, 0.26), "E335": (2110, 0.17), "1045": (2220, 0.14),
    "1060": (2130, 0.18), "16MnCr5": (2100, 0.26), "18CrNi8": (2260, 0.30), "4140": (2500, 0.26),
    "50CrV4": (2220, 0.26), "EN-GJL-250": (1160, 0.26),
}  # fmt: skip


def ends(window: Window | None) -> str:
    return f"{window.least:g}-{window.greatest:g}" if window else ""


@pytest.mark.parametrize("found", MATERIALS, ids=lambda found: found.name)
def test_windows_are_those_entered_twice(found):
    row = SPEEDS[found.name]
    speeds = {one.substance: one.surface_speed_m_per_min for one in found.windows}
    assert (found.group, found.hardness_scale) == (row["group"], row["scale"])
    assert ends(found.hardness) == row["hardness"]
    assert ends(speeds["carbide"]) == row["carbide_m_per_min"]
    assert ends(speeds.get("high speed steel")) == row["steel_m_per_min"]
    for one in found.windows:
        assert (one.chip_share.least, one.chip_share.greatest) == CHIP_SHARE[found.group]


def test_every_material_is_entered_twice():
    assert [found.name for found in MATERIALS] == list(SPEEDS)


@pytest.mark.parametrize("found", MATERIALS, ids=lambda found: found.name)
def test_density_is_the_handbooks(found):
    """Plain and low alloy steel is 7.85, the others as listed; printed values differ by half a percent."""
    expected = DENSITY.get(found.name, 7.85)
    assert found.density_g_per_cm3.value == pytest.approx(expected, rel=0.006)


@pytest.mark.parametrize("found", MATERIALS, ids=lambda found: found.name)
def test_specific_force_is_kienzles_or_a_round_figure(found):
    """A group's value is known to a quarter: told in tens, mc in hundredths, and called so."""
    if found.kc11_n_per_mm2 is None:
        assert found.mc is None
        return
    known = KIENZLE.get(found.name)
    assert found.kc11_n_per_mm2.spread == (0.15 if known else 0.25)
    assert found.kc11_n_per_mm2.source.document.startswith("Kienzle") == bool(known)
    assert found.kc11_n_per_mm2.value % 10 == 0
    if known:
        assert (found.kc11_n_per_mm2.value, found.mc.value) == known
    assert 0.1 < found.mc.value <= 0.3
    assert found.mc.value == round(found.mc.value, 2)


def test_harder_and_tougher_work_asks_for_more_force():
    """Order of the specific force at one chip thickness, as every list of kc has it (memory)."""
    order = ["AZ91", "6082", "EN-GJL-250", "1018", "4140 HT", "4340 hardened", "D2 hardened"]
    forces = [find_material(name).kc11_n_per_mm2.value for name in order]
    assert forces == sorted(set(forces))


def test_chip_loads_of_thread_mills_are_kept_within_hundredths():
    """0.004 to 0.15 mm (common practice, no source)."""
    assert (LEAST_CHIP_MM, GREATEST_CHIP_MM) == (0.004, 0.15)
