"""Cutters compared for one job; the caller's own figures of a material."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.errors import BadInput, NoSource
from flankwise_service.core.plan.compare import compared
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import Costs, CutterAsked, EndMill, StockAsked
from support.jobs import adapter, port


def twelve() -> CutterAsked:
    found = port().cutter
    assert found is not None
    return replace(found, name="twelve")


def test_the_faster_of_two_that_do_comes_first_and_misfits_last() -> None:
    small = replace(twelve(), name="eight", diameter=8.0, neck_diameter=5.5)
    large = replace(twelve(), name="nineteen", diameter=19.0)
    fine = replace(twelve(), name="fine", greatest_pitch=1.0)
    weak = replace(twelve(), name="weak", neck_diameter=3.0, shank_diameter=3.0, overhang=90.0)
    ranked = compared(port(costs=Costs(60.0)), [large, small, weak, twelve(), fine], "0")
    assert [one.place for one in ranked] == [1, 2, 3, 4, 5]
    assert [one.index for one in ranked[2:]] == [2, 0, 4]
    first, second = ranked[:2]
    assert first.verdict == second.verdict == "ready with cautions"  # the tooth is assumed
    assert (first.seconds_per_part or 0) <= (second.seconds_per_part or 0)
    assert first.cost_per_part == pytest.approx((first.seconds_per_part or 0) / 60)
    assert ranked[2].verdict == "refused"
    assert ranked[2].pitch_diameter_effect is not None
    assert any("deflection" in reason for reason in ranked[2].reasons)
    for one in ranked[3:]:
        assert one.verdict is one.passes is one.seconds_per_part is None
        assert one.reasons


def test_a_job_at_fault_is_refused_not_blamed_on_the_cutters() -> None:
    with pytest.raises(NoSource):
        compared(port(stock=StockAsked("cheese")), [twelve()], "0")
    for count in (0, 21):
        with pytest.raises(BadInput) as caught:
            compared(port(), [twelve()] * count, "0")
        assert caught.value.faults[0].pointer == "/cutters"


def test_what_stands_in_the_way_of_one_cutter_is_not_the_end_of_the_others() -> None:
    """A bar too small is told beside a cutter too large, and a cutter may bear the mill's number."""
    thin = StockAsked("6082", across_flats=22.0)
    large = replace(twelve(), diameter=19.5)
    good, bad = compared(port(stock=thin, accept=("wall_thickness",)), [twelve(), large], "0")
    assert (good.index, bad.index) == (0, 1)
    assert good.verdict
    same = replace(twelve(), number=4)
    job = port(end_mill=EndMill(10.0, 3, 25.0, number=4))
    good, bad = compared(job, [same, replace(twelve(), number=7)], "0")
    assert (good.index, bad.index) == (1, 0)
    assert "both tool 4" in bad.reasons[0]
    soft = replace(twelve(), neck_diameter=0.02, reach=30.0, overhang=40.0)
    good, bad = compared(port(), [soft, twelve()], "0")
    assert (good.index, bad.verdict) == (1, None)


def test_own_material_figures_take_the_lists_place() -> None:
    listed = work(adapter(), "0").plan
    own = StockAsked("303", across_flats=1.25, kc11_n_per_mm2=4000.0, mc=0.2, density_g_per_cm3=4.0)
    stated = work(adapter(stock=own), "0").plan
    assert stated.passes[0].work.force.power_kw > 1.5 * listed.passes[0].work.force.power_kw
    assert stated.bar.mass_per_length < 0.6 * listed.bar.mass_per_length
    assert "stated by the caller" in {source.standing for source in stated.sources}
