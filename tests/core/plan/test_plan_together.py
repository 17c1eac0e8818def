"""What is wrong with cutter and bar is told together, not one after the other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.errors import Fault, Impossible, Refusal
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import CutterAsked, Job, StockAsked
from support.jobs import adapter, plan, port

TOO_LARGE = CutterAsked(19, 4)
FLATS_PER_CORNERS = 3**0.5 / 2


def faults(job: Job, kind: type[Refusal] = Impossible) -> dict[str, Fault]:
    with pytest.raises(Refusal) as caught:
        work(job, "0")
    assert type(caught.value) is kind
    return {fault.pointer: fault for fault in caught.value.faults}


@pytest.mark.parametrize(
    ("place", "stock"),
    [
        ("diameter", StockAsked("6082", "round", diameter=19.0)),
        ("across_flats", StockAsked("6082", across_flats=19.0)),
        ("across_corners", StockAsked("6082", across_corners=22.0)),
    ],
)
def test_a_bar_too_small_is_told_beside_a_cutter_too_large(place: str, stock: StockAsked) -> None:
    """M20 in a hole: a wall of 2 mm is left from 24 mm on (0.1 of the diameter, no source)."""
    found = faults(port(cutter=TOO_LARGE, stock=stock))
    assert set(found) == {"/cutter/diameter", f"/stock/{place}"}
    bar = found[f"/stock/{place}"]
    per_size = 1 / FLATS_PER_CORNERS if place == "across_corners" else 1.0
    assert (bar.code, bar.value, bar.unit) == ("wall_thickness", getattr(stock, place), "mm")
    assert bar.least == pytest.approx(24.0 * per_size)
    enough = replace(stock, **{place: 24.0 * per_size * 1.0001})
    assert set(faults(port(cutter=TOO_LARGE, stock=enough))) == {"/cutter/diameter"}


def test_a_bar_that_does_not_clean_up_is_told_with_the_size_that_does() -> None:
    ranged = CutterAsked(0.5, 4, greatest_pitch=0.05)
    stock = StockAsked("303", across_flats=0.85)
    found = faults(adapter(cutter=ranged, stock=stock))
    assert set(found) == {"/cutter/greatest_pitch", "/stock/across_flats"}
    bar = found["/stock/across_flats"]
    assert bar.code == "bar_cleans_up"
    assert bar.least == pytest.approx(plan(adapter(stock=stock)).blank.diameter, abs=1e-9)


def test_a_thin_wall_that_was_accepted_is_not_told_again() -> None:
    stock = StockAsked("6082", across_flats=22.0)
    job = port(cutter=TOO_LARGE, stock=stock, accept=("wall_thickness",))
    assert set(faults(job)) == {"/cutter/diameter"}


def test_a_bar_that_no_list_holds_is_told_beside_the_cutter() -> None:
    stock = StockAsked("303", clean_up=20.0)
    found = faults(adapter(cutter=CutterAsked(0.5, 4, greatest_pitch=0.05), stock=stock))
    assert set(found) == {"/cutter/greatest_pitch", "/stock/across_flats"}
    assert found["/stock/across_flats"].code == "no_standard_bar"
    assert found["/stock/across_flats"].value is None
