"""Passes, speeds, feeds and their checks in a plan, each step by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace

import pytest

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.cutting.load import ThreadCut, thread_passes
from flankwise_service.core.cutting.material_table import find_material
from flankwise_service.core.plan import milling
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.compare import compared
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import CuttingAsked, Job, Machine
from flankwise_service.core.plan.sizes import sizes
from support.jobs import adapter, port

MILL = Cutter(
    12.0, 4, Tooth(30.0, 30.0, 0.19, 1.1), tip_to_tooth=1.0, neck_diameter=9.0, reach=22,
    shank_diameter=12, overhang=35,
)  # fmt: skip
STEEL = find_material("4140")


def cut_of(job: Job, **changes: object) -> ThreadCut:
    return milling.thread_cut(
        job, sizes(job.thread, job.unit), replace(MILL, **changes), STEEL, 18.526, 3000.0  # type: ignore[arg-type]
    )  # fmt: skip


def test_speed_and_chip_are_the_middle_of_the_materials_window() -> None:
    """4140 with carbide: 60 to 100 m/min, chip 0.004 to 0.008 of the diameter, at least 0.004."""
    job = port()
    assert milling.surface_speed_for(job, MILL, STEEL) == 80.0
    assert milling.speed_for(job, MILL, STEEL).speed == pytest.approx(80_000 / (math.pi * 12))
    assert milling.chip_load_for(job, MILL, STEEL) == pytest.approx(0.006 * 12)
    inch = adapter()
    half = replace(MILL, diameter=0.5)
    assert milling.chip_load_for(inch, half, STEEL) == pytest.approx(0.006 * 0.5)
    assert milling.surface_speed_for(inch, half, STEEL) == pytest.approx(80 / 0.3048)
    own = port(cutting=CuttingAsked(surface_speed=50.0, chip_load=0.01))
    assert milling.surface_speed_for(own, MILL, STEEL) == 50.0
    assert milling.chip_load_for(own, MILL, STEEL) == 0.01


def test_a_machine_of_which_nothing_is_said_holds_nothing() -> None:
    tiny = replace(MILL, diameter=0.1)
    assert milling.speed_for(port(), tiny, STEEL).speed == 200_000.0
    assert milling.speed_for(port(machine=Machine(9000)), tiny, STEEL).speed == 9000
    assert cut_of(port()).greatest_feed == 100_000.0
    assert milling.thread_cut(
        adapter(machine=Machine()), sizes(adapter().thread, "in"), MILL, STEEL, 0.868, 3000.0
    ).greatest_feed == pytest.approx(100_000 / 25.4)
    assert cut_of(port(machine=Machine(greatest_feed=700))).greatest_feed == 700


def test_the_usual_passes_come_first_then_more_then_spring_passes() -> None:
    """1.5 mm: 2 passes; up to 3 more against deflection, then one spring pass, then two."""
    job = port()
    at, cut = sizes(job.thread, "mm"), cut_of(job)
    depth = 0.8

    def found(share: float, **asked: object) -> tuple[float, ...]:
        cutting = CuttingAsked(deflection_share=share, **asked)  # type: ignore[arg-type]
        return milling.depths(replace(job, cutting=cutting), at, cut, depth)

    tolerance = 19.216 - 19.026  # ISO 965-2

    def effect(count: int, springs: int) -> float:
        asked = found(1e9, passes=count, spring_passes=springs)
        last = thread_passes(cut, asked[:count])[-1]
        left = milling.pitch_effect(last, springs, "mm")
        assert left is not None
        return left / tolerance

    assert len(found(1e9)) == 2
    for count in (2, 3, 4, 5):
        just = effect(count, 0) * (1 + 1e-9)
        assert len(found(just)) == count
    with_spring = found(effect(2, 1) * (1 + 1e-9))
    assert len(with_spring) == 3
    assert with_spring[-1] == with_spring[-2] == depth
    twice = found(effect(2, 2) * (1 + 1e-9))
    assert twice[-3:] == (depth, depth, depth)
    assert len(twice) == 4
    none_will_do = found(1e-12)
    assert (len(none_will_do), none_will_do[-3:]) == (7, (depth, depth, depth))


def test_stiff_passes_rough_at_five_times_the_last_ones_share() -> None:
    job = port(cutting=CuttingAsked(pass_method="stiffness", deflection_share=0.1, chip_load=0.006))
    at, cut = sizes(job.thread, "mm"), cut_of(job, neck_diameter=2.4)
    found = milling.depths(job, at, cut, 0.8)
    works = thread_passes(replace(cut, milling="climb"), found)
    errors = [abs(one.deflection.pitch_diameter_error_mm) / 0.19 for one in works if one.deflection]
    assert errors[-1] == pytest.approx(0.1, rel=1e-6)
    assert max(errors[1:-1]) == pytest.approx(0.5, rel=1e-6)
    assert len(found) == len(set(found))
    spring = replace(job, cutting=replace(job.cutting, spring_passes=2))
    assert milling.depths(spring, at, cut, 0.8) == (*found, 0.8, 0.8)


def test_what_deflection_leaves_on_the_pitch_diameter() -> None:
    """Twice what stays uncut: step q^(n+1), q = rigid/(step + rigid), by two springs in line."""
    (work,) = thread_passes(cut_of(port()), (0.8,))
    assert work.deflection is not None
    rigid = work.deflection.deflection_mm
    ratio = rigid / (0.8 + rigid)
    for springs in (0, 1, 2):
        left = milling.pitch_effect(work, springs, "mm")
        assert left == pytest.approx(2 * 0.8 * ratio ** (springs + 1))
    inch = milling.pitch_effect(replace(work, depth_after=0.8 / 25.4), 0, "in")
    assert inch == pytest.approx(2 * 0.8 * ratio / 25.4)
    assert milling.pitch_effect(replace(work, depth_before=0.8), 0, "mm") == 0.0
    assert milling.pitch_effect(replace(work, deflection=None), 0, "mm") is None


def test_passes_end_at_the_centre_path_and_count_their_spring_passes() -> None:
    cut = cut_of(port())
    plans = milling.pass_plans(cut, (0.5, 0.8, 0.8, 0.8), 4.0, 1.0)
    assert [one.number for one in plans] == [1, 2, 3, 4]
    assert [one.centre_radius for one in plans] == pytest.approx([3.7, 4.0, 4.0, 4.0])
    assert [one.spring for one in plans] == [False, False, True, True]
    boss = milling.pass_plans(cut, (0.5, 0.8), 16.0, -1.0)
    assert [one.centre_radius for one in boss] == pytest.approx([16.3, 16.0])
    work = plans[1].work
    for springs, one in enumerate(plans[1:]):
        assert one.pitch_diameter_effect == milling.pitch_effect(work, springs, "mm")
        assert one.tooth_depth == 1.1


def checks(job: Job, power: float = 1.0, feed: float = 100.0, **more: object) -> dict[str, Check]:
    """Return the milling checks of two passes of known power, feed and depth."""
    given = {"effect": 0.01, "tooth": 1.0, "depth": 1.0, **more}
    passes = tuple(
        SimpleNamespace(
            work=SimpleNamespace(
                force=SimpleNamespace(power_kw=power * share),
                feed=SimpleNamespace(path_feed=feed * share, edge_feed=2 * feed),
                depth_after=given["depth"],
            ),
            tooth_depth=given["tooth"],
            pitch_diameter_effect=given["effect"],
        )
        for share in (1.0, 0.5)
    )
    found = milling.milling_checks(job, sizes(job.thread, job.unit), passes)  # type: ignore[arg-type]
    return {one.code: one for one in found}


@pytest.mark.parametrize(
    ("power", "state"), [(0.64, "passed"), (0.641, "caution"), (0.8, "caution"), (0.801, "refused")]
)
def test_power_of_the_motor_by_a_drive_of_eight_tenths(power: float, state: str) -> None:
    """0.8 kW at the cutter are 1 kW of the motor; from eight tenths of it on it is a caution."""
    one = checks(port(machine=Machine(spindle_power_kw=1.0)), power=power)["spindle_power"]
    assert (one.state, one.figure) == (state, pytest.approx(power / 0.8))
    assert one.acceptable == (state != "passed")


def test_a_tooth_as_deep_as_the_thread_is_deep_enough() -> None:
    assert checks(port(), tooth=0.8, depth=0.8)["tooth_depth"].state == "passed"
    assert checks(port(), tooth=0.8, depth=0.801)["tooth_depth"].state == "caution"


def test_deflection_may_take_a_quarter_of_the_tolerance() -> None:
    tolerance = sizes(port().thread, "mm").pitch_diameter_tolerance
    assert tolerance == pytest.approx(0.19)
    for share, state in [(0.2499, "passed"), (0.2501, "refused")]:
        one = checks(port(), effect=share * tolerance)["deflection"]
        assert (one.state, one.figure) == (state, pytest.approx(share))
    assert checks(port(), effect=0.26 * tolerance)["deflection"].acceptable
    assert checks(port(), effect=None)["deflection"].state == "caution"


def test_the_feed_at_the_edge_is_told_beside_the_paths() -> None:
    one = checks(port())["feed_at_edge"]
    assert (one.state, one.figure, one.unit) == ("passed", 50.0, "mm/min")
    assert "200 mm/min at the cutting edge" in one.detail


def test_a_cutter_is_judged_by_its_last_pass() -> None:
    asked = port(cutting=CuttingAsked(passes=5, spring_passes=0))
    (one,) = compared(asked, [asked.cutter], "0")  # type: ignore[list-item]
    passes = work(asked, "0").plan.passes
    powers = [f"{each.work.force.power_kw:.3f} kW at the last pass" for each in passes]
    assert powers[-1] not in powers[:2]
    assert powers[-1] in one.reasons[-1]
    assert one.pitch_diameter_effect == passes[-1].pitch_diameter_effect
    assert one.passes == 5
