"""The register: one entry for all families, limits in either unit, the list."""

from __future__ import annotations

from dataclasses import fields
from decimal import Decimal
from itertools import islice

import pytest

from flankwise_service.core.errors import BadInput, UnknownThread
from flankwise_service.core.threads import (
    classes,
    designations,
    find,
    limits,
    limits_in,
    parse,
    read_in,
)
from flankwise_service.core.threads.families import BY_FAMILY, MODULES
from flankwise_service.core.threads.listing import LONGEST_PAGE, page, whole_list
from flankwise_service.core.threads.model import Limits, StatedLimits
from flankwise_service.core.threads.register import classes_of


def test_each_family_is_answered_for_once() -> None:
    named = [family for module in MODULES for family in module.FAMILIES]
    assert len(named) == len(set(named))
    assert set(BY_FAMILY) == set(named)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.FAMILIES[0])
def test_module_keeps_the_contract(module: object) -> None:
    module = next(each for each in MODULES if each is module)
    assert module.EDITIONS
    for example in module.EXAMPLES:
        thread = parse(example)
        assert thread.family in module.FAMILIES
        side = thread.side or "internal"
        assert limits(thread, side=side).side == side
    names = list(module.designations())
    assert names
    assert len(names) == len(set(names))
    assert list(module.designations()) == names
    for name in islice(names, 0, None, 17):
        assert set(classes(parse(name))) <= {"external", "internal"}


def test_every_designation_in_the_list_reads_as_itself() -> None:
    names = list(designations())
    assert len(names) == len(set(names)) > 1700
    wrong = [name for name in names if parse(name).designation != name]
    assert wrong == []
    assert [line.designation for line in whole_list()] == names


def test_text_of_no_family_is_refused_with_examples_and_the_nearest() -> None:
    with pytest.raises(UnknownThread, match="not a thread designation of any standard") as caught:
        parse("hello")
    [fault] = caught.value.faults
    assert "7/8-14 UNF-2A" in fault.change
    assert fault.near == ()
    with pytest.raises(UnknownThread) as typo:
        parse("N20x1.5")
    assert "M20x1.5" in typo.value.faults[0].near
    assert "nearest in spelling: M20x1.5" in typo.value.faults[0].change


def test_limits_take_a_thread_or_its_designation() -> None:
    assert limits(parse("M8-6g")) == limits("M8-6g") == limits(" m8-6g ")
    assert isinstance(limits("M8-6g"), Limits)


def test_limits_in_their_own_unit_keep_the_printed_digits() -> None:
    found = limits("7/8-14 UNF-2A")
    stated = limits_in(found, "in")
    assert stated.rounded_in == stated.unit == "in"
    for name in ("major_diameter", "pitch_diameter", "minor_diameter", "allowance", "basic"):
        assert getattr(stated, name) == getattr(found, name)
    assert stated.tolerances == found.tolerances
    assert stated.extra == found.extra
    assert stated.source == found.sources


def test_limits_in_the_other_unit_are_the_printed_figures_converted() -> None:
    found = limits("7/8-14 UNRF-2A LE 3")
    stated = limits_in(found, "mm")
    mm = Decimal("25.4")
    assert (stated.unit, stated.rounded_in) == ("mm", "in")
    assert stated.diameter == Decimal("22.225")
    assert stated.pitch == found.thread.pitch * mm
    assert stated.lead == found.thread.lead * mm
    assert stated.engagement == Decimal("76.2")
    assert stated.allowance == found.allowance * mm
    assert stated.major_diameter.min == (found.major_diameter.min or 0) * mm
    assert stated.pitch_diameter.max == (found.pitch_diameter.max or 0) * mm
    assert stated.minor_diameter.min is None
    assert stated.tolerances.pitch_diameter == (found.tolerances.pitch_diameter or 0) * mm
    assert stated.tolerances.minor_diameter is None
    assert (
        stated.extra["minor_diameter_flat_max"]
        == (found.extra["minor_diameter_flat_max"] or 0) * mm
    )
    assert stated.basic.major_diameter == found.basic.major_diameter * mm
    assert stated.basic.lead == found.basic.lead * mm
    assert stated.basic.thread_height == pytest.approx(found.basic.thread_height * 25.4, rel=1e-15)
    assert stated.basic.root_radius == pytest.approx(
        (found.basic.root_radius or 0) * 25.4, rel=1e-15
    )
    assert stated.basic.flank_angle_upper == 30.0
    assert stated.threads_per_inch == 14
    assert limits_in(limits("M8-6g"), "in").basic.root_radius is None
    assert limits_in(limits("M8-6g"), "in").engagement is None


def test_stated_limits_hold_all_that_limits_hold() -> None:
    kept = {field.name for field in fields(StatedLimits)}
    assert {
        "allowance",
        "major_diameter",
        "pitch_diameter",
        "minor_diameter",
        "basic",
        "tolerances",
        "extra",
        "notes",
        "side",
    } <= kept


def test_unit_must_be_one_of_two() -> None:
    with pytest.raises(BadInput) as caught:
        limits_in(limits("M8-6g"), "cm")  # type: ignore[arg-type]
    assert caught.value.faults[0].pointer == "/unit"
    with pytest.raises(BadInput):
        read_in("M8", "")  # type: ignore[arg-type]


def test_read_in() -> None:
    read = read_in("7/8-14 unf-2a-lh le 1", "mm")
    assert read.designation == "7/8-14 UNF-2A-LH LE 1"
    assert (read.diameter, read.engagement) == (Decimal("22.225"), Decimal("25.4"))
    assert (read.hand, read.side, read.thread_class) == ("left", "external", "2A")
    assert read.classes.external == ("1A", "2A", "3A")
    assert read.editions[0] == "ASME B1.1-2019"
    assert read_in("M8", "mm").engagement is None
    assert classes_of(parse("7/8-14 UNRF")).internal == ()


def test_find_holds_every_word_in_the_order_of_the_list() -> None:
    found = find("unf 7/8")
    assert "7/8-14 UNF" in found
    assert all("UNF" in name and "7/8" in name for name in found)
    names = list(designations())
    assert [names.index(name) for name in found] == sorted(names.index(name) for name in found)
    assert find("") == tuple(names)
    assert all("1 7/8" not in name for name in found)
    assert {name.split("-")[0] for name in find("1 7/8 un")} == {"1 7/8"}
    assert find("1-7/8 un") == find("1 7/8 UN")
    assert all("11/16" not in name for name in find("1/16"))
    assert find("7/8-14") == tuple(name for name in find("7/8") if "7/8-14" in name)
    assert find("M20x1.5 ") == ("M20x1.5",)
    assert find("(") == find("[") == ()
    assert find("no such thread") == ()


def test_pages_join_to_the_whole_list() -> None:
    everything = page(count=LONGEST_PAGE)
    assert everything.total == len(everything.threads) == len(list(designations()))
    joined: list[object] = []
    while len(joined) < everything.total:
        joined += page(offset=len(joined), count=500).threads
    assert tuple(joined) == everything.threads
    assert page(offset=everything.total).threads == ()
    assert page(offset=1, count=1).threads == everything.threads[1:2]


def test_page_of_one_family_and_of_nothing() -> None:
    metric = page(family="iso_metric", count=LONGEST_PAGE)
    assert {line.family for line in metric.threads} == {"iso_metric"}
    assert metric.total == len(metric.threads)
    assert metric.near == ()
    nothing = page("M8x1.1")
    assert (nothing.total, nothing.threads) == (0, ())
    assert "M8x1" in nothing.near


def test_page_refuses_every_wrong_figure_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        page("x" * 61, offset=-1, count=0)
    assert [fault.pointer for fault in caught.value.faults] == ["/offset", "/count", "/search"]
    with pytest.raises(BadInput):
        page(count=LONGEST_PAGE + 1)
    assert page("x" * 60).total == 0


@pytest.mark.parametrize(
    "hostile",
    ["1e308", "NaN", "Infinity", "M" + "9" * 59, "9" * 60, "#" * 60, "-" * 60, "1/" * 30, "M8x" + "1" * 50, "((((", "UN" * 30, "7/8-14 UNF-2A" * 4, "7/8-14 UNF" + " " * 20 + "-2A-LH" * 5, "M-8", "M8x-1", "0", "-1-20 UNC", "1/4-0 UNC", "M1e3", "0x10-20 UN"],
)  # fmt: skip
def test_hostile_text_is_refused_and_nothing_else_comes_out(hostile: str) -> None:
    with pytest.raises(UnknownThread) as caught:
        parse(hostile)
    assert caught.value.faults[0].pointer == "/designation"


@pytest.mark.parametrize(
    ("said", "meant"),
    [("NPT 1/2", "1/2-14 NPT"), ("NPT 3/4", "3/4-14 NPT"), ("UNC 1/4-20", "1/4-20 UNC")],
)
def test_a_series_said_before_its_size_is_understood_as_a_suggestion(said: str, meant: str) -> None:
    with pytest.raises(UnknownThread) as told:
        parse(said)
    (fault,) = told.value.faults
    assert fault.near[0] == meant
    assert len(fault.near) == len(set(fault.near)) == 3
    assert f"nearest in spelling: {meant}" in fault.change


@pytest.mark.parametrize("said", ["NPT", "NPT banana", "UNC 1/4-99", "1/2- banana"])
def test_a_series_before_no_size_of_it_suggests_nothing_turned_round(said: str) -> None:
    with pytest.raises(UnknownThread):
        parse(said)
