from __future__ import annotations

from collections import Counter

import pytest

from flankwise_service.core.cutting.material_table import MATERIALS, find_material, list_materials
from flankwise_service.core.cutting.materials import (
    GROUPS,
    STATED,
    chip_load_window,
    cutting_window,
    force_figures,
    plain,
    surface_speed_window,
    with_stated,
)
from flankwise_service.core.errors import BadInput, NoSource
from support.refused import faults_of, told


def test_no_designation_names_two_materials():
    owners = Counter(name for found in MATERIALS for name in {plain(d) for d in found.designations})
    assert [name for name, count in owners.items() if count > 1] == []
    assert {found.group for found in MATERIALS} == set(GROUPS)
    assert len(MATERIALS) > 50


@pytest.mark.parametrize("found", MATERIALS, ids=lambda found: found.name)
def test_every_figure_is_a_trade_figure_with_its_source(found):
    assert found.name == found.designations[0]
    assert 0 < found.hardness.least < found.hardness.greatest
    assert 1.0 < found.density_g_per_cm3.value < 9.0
    for window in found.windows:
        speed, share = window.surface_speed_m_per_min, window.chip_share
        assert 1 < speed.least < speed.greatest <= 400
        assert 0.0005 < share.least < share.greatest <= 0.01
        assert speed.source.standing == share.source.standing == "common practice, no source"
    for figure in (found.kc11_n_per_mm2, found.mc, found.density_g_per_cm3):
        if figure is not None:
            assert figure.source.standing == "memory"
    if found.kc11_n_per_mm2 is not None and found.mc is not None:
        assert 350 < found.kc11_n_per_mm2.value < 5000
        assert found.kc11_n_per_mm2.spread in (0.15, 0.25)
        assert 0.1 < found.mc.value < 0.35
    speeds = {one.substance: one.surface_speed_m_per_min for one in found.windows}
    if "high speed steel" in speeds:
        assert speeds["high speed steel"].greatest < speeds["carbide"].greatest


@pytest.mark.parametrize(
    ("asked", "name"),
    [("303", "303"), ("1.4305", "303"), ("uns s30300", "303"), ("X8CrNiS18-9", "303"),
     ("EN AW-6082", "6082"), ("AISI 4140", "4140"), ("42crmo4", "4140"), ("C36000", "CW614N"),
     ("EN-GJL-250", "EN-GJL-250"), ("Ti 6Al 4V", "Ti-6Al-4V"), ("alloy 718", "Alloy 718"),
     ("h13", "H13"), ("1.2344", "H13"), ("H13 Hardened", "H13 hardened"), ("SAE 1018", "1018")],
)  # fmt: skip
def test_any_designation_finds_its_material(asked, name):
    assert find_material(asked).name == name


def test_unknown_material_names_those_that_look_alike():
    (fault,) = faults_of(NoSource, find_material, "1.4306")
    assert (fault.pointer, fault.code, fault.value) == ("/material", "unknown_material", "1.4306")
    assert "1.4305" in fault.near
    assert len(fault.near) <= 5
    (lost,) = faults_of(NoSource, find_material, "Z" * 500)
    assert lost.near == ()
    assert len(str(lost.value)) == 100
    assert told(NoSource, find_material, "") == {("/material", "unknown_material")}


def test_of_an_endless_designation_the_first_hundred_characters_are_read_and_told():
    assert find_material(" " * 94 + "1.4305").name == "303"
    assert find_material(" " * 94 + "1.4305" + "7").name == "303"
    (lost,) = faults_of(NoSource, find_material, "Y" + "Z" * 98 + "XWV")
    assert lost.value == "Y" + "Z" * 98 + "X"
    assert repr(lost.value) in lost.detail


def test_lists_by_group_and_by_part_of_a_designation():
    assert list_materials() == MATERIALS
    assert {found.group for found in list_materials(group="S")} == {"S"}
    assert [found.name for found in list_materials("4140")] == ["4140", "4140 HT", "4340 hardened"]
    assert [found.name for found in list_materials("Duplex")] == ["2205"]
    assert list_materials("303", "P") == ()
    assert list_materials("no such thing") == ()


def test_speed_window_in_both_units():
    found = find_material("304")
    metric = surface_speed_window(found, "high speed steel", "mm")
    inch = surface_speed_window(found, "high speed steel", "in")
    assert (metric.least, metric.greatest) == (18.0, 24.0)
    assert inch.least == pytest.approx(18 / 0.3048)
    assert inch.greatest == pytest.approx(24 / 0.3048)
    assert metric.at(0.5) == 21.0
    assert metric.at(1.0) == 24.0


def test_chip_load_follows_the_cutter_within_its_bounds():
    found = find_material("303")
    six = chip_load_window(found, "carbide", 6.0)
    assert (six.least, six.greatest) == (pytest.approx(0.018), pytest.approx(0.036))
    tiny, large = (chip_load_window(found, "carbide", d) for d in (1.0, 100.0))
    assert (tiny.least, tiny.greatest) == (0.004, pytest.approx(0.006))
    assert (large.least, large.greatest) == (0.15, 0.15)
    assert told(BadInput, chip_load_window, found, "carbide", 0.0) == {
        ("/cutter_diameter_mm", "out_of_range")
    }


def test_no_window_and_no_force_are_refused_not_guessed():
    assert told(NoSource, cutting_window, find_material("D2 hardened"), "high speed steel") == {
        ("/substance", "no_window")
    }
    assert told(NoSource, force_figures, find_material("PEEK")) == {
        ("/material", "no_cutting_force")
    }
    kc11, mc = force_figures(find_material("C45"))
    assert (kc11.value, mc.value) == (2220.0, 0.14)
    half = with_stated(find_material("PEEK"), kc11_n_per_mm2=200)
    assert told(NoSource, force_figures, half) == {("/material", "no_cutting_force")}


def test_stated_figures_replace_the_lists_and_say_so():
    listed = find_material("303")
    own = with_stated(listed, kc11_n_per_mm2=1900, mc=0.2, density_g_per_cm3=8.03)
    assert force_figures(own)[0].value == 1900.0
    assert own.mc is not None
    assert own.mc.value == 0.2
    assert own.density_g_per_cm3.value == 8.03
    assert {own.density_g_per_cm3.source, force_figures(own)[0].source} == {STATED}
    assert own.windows == listed.windows
    assert with_stated(listed) == listed


def test_stated_windows_replace_one_substance_only():
    listed = find_material("303")
    both = with_stated(
        listed, substance="carbide", surface_speed_m_per_min=(80, 90), chip_share=(0.002, 0.003)
    )
    window = cutting_window(both, "carbide")
    assert (window.surface_speed_m_per_min.least, window.chip_share.greatest) == (80.0, 0.003)
    assert window.chip_share.source == STATED
    steel = cutting_window(both, "high speed steel")
    assert steel == cutting_window(listed, "high speed steel")
    speed_only = with_stated(listed, substance="carbide", surface_speed_m_per_min=(80, 90))
    assert cutting_window(speed_only, "carbide").surface_speed_m_per_min.greatest == 90.0
    assert cutting_window(speed_only, "carbide").chip_share == listed.windows[0].chip_share
    share_only = with_stated(listed, substance="carbide", chip_share=(0.002, 0.003))
    kept = cutting_window(share_only, "carbide").surface_speed_m_per_min
    assert kept == listed.windows[0].surface_speed_m_per_min
    assert cutting_window(share_only, "carbide").chip_share.least == 0.002


def test_a_window_the_list_lacks_can_be_stated_whole():
    hard = find_material("D2 hardened")
    own = with_stated(
        hard,
        substance="high speed steel",
        surface_speed_m_per_min=(2, 3),
        chip_share=(0.001, 0.001),
    )
    assert cutting_window(own, "high speed steel").surface_speed_m_per_min.least == 2.0
    assert told(
        NoSource, with_stated, hard, substance="high speed steel", surface_speed_m_per_min=(2, 3)
    ) == {("/substance", "no_window")}


def test_stated_refusals():
    found = find_material("303")
    assert told(BadInput, with_stated, found, kc11_n_per_mm2=1, mc=2, density_g_per_cm3=0) == {
        ("/kc11_n_per_mm2", "out_of_range"), ("/mc", "out_of_range"),
        ("/density_g_per_cm3", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, with_stated, found, chip_share=(0.001, 0.002)) == {
        ("/substance", "needed")
    }
    assert told(
        BadInput, with_stated, found, substance="carbide", surface_speed_m_per_min=(90, 80)
    ) == {("/surface_speed_m_per_min", "out_of_range")}
    fast = {"substance": "carbide", "surface_speed_m_per_min": (90, 20_001)}
    assert told(BadInput, with_stated, found, **fast) == {
        ("/surface_speed_m_per_min", "out_of_range")
    }
    assert told(BadInput, with_stated, found, substance="carbide", chip_share=(0.1, 0.21)) == {
        ("/chip_share", "out_of_range")
    }
    assert told(BadInput, with_stated, found, substance="carbide", chip_share=(0, 0.1)) == {
        ("/chip_share", "out_of_range")
    }


@pytest.mark.parametrize("text", ["", "  ", " - "])
def test_an_empty_material_is_called_empty(text: str) -> None:
    with pytest.raises(NoSource) as caught:
        find_material(text)
    (fault,) = caught.value.faults
    assert (fault.code, fault.detail) == ("unknown_material", "the material is empty")


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("6O61", ("EN AW-6061", "A96061", "6061-T6", "O1")),  # O1 is a tool steel
        ("1.0503x", ("1.0503", "1.0050", "1.0038", "G10450", "EN-JS1050")),  # the last is cast iron
    ],
)
def test_grades_of_the_kind_meant_are_offered_first(typed: str, near: tuple[str, ...]) -> None:
    with pytest.raises(NoSource) as caught:
        find_material(typed)
    assert caught.value.faults[0].near == near
    groups = [find_material(one).group for one in near]
    assert groups == sorted(groups, key=lambda group: group != groups[0])
