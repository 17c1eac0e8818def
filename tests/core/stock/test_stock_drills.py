from __future__ import annotations

import math
import string

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.stock.drill_table import LETTERS, NUMBERS
from flankwise_service.core.stock.drills import (
    SERIES,
    drill_choices,
    drills,
    hole_for_percent,
    percent_of_thread,
)
from support.refused import told


def test_tables_are_whole_and_fall_with_the_number():
    assert sorted(map(int, NUMBERS), reverse=True) == list(range(97, 0, -1))
    assert list(LETTERS) == list(string.ascii_uppercase)
    sizes = [NUMBERS[str(number)] for number in range(97, 0, -1)]
    assert sizes == sorted(sizes)
    assert len(set(sizes)) == len(sizes)
    letters = list(LETTERS.values())
    assert letters == sorted(set(letters))
    assert letters[0] > sizes[-1]


@pytest.mark.parametrize(
    ("name", "diameter"),
    [("#97", 0.0059), ("#80", 0.0135), ("#53", 0.0595), ("#25", 0.1495), ("#7", 0.2010),
     ("#1", 0.2280)],
)  # fmt: skip
def test_number_drills(name, diameter):
    # Source: ANSI B94.11M-1993 (memory); 97 to 53 seen in CircuitousRoot's public-domain list, 2007.
    found = {one.name: one for one in drills("number", "in")}
    assert found[name].diameter == diameter
    assert found[name].source.standing == "memory"


@pytest.mark.parametrize(("name", "diameter"), [("A", 0.234), ("E", 0.25), ("Z", 0.413)])
def test_letter_drills(name, diameter):
    # Source: ANSI B94.11M-1993 (memory).
    assert {one.name: one.diameter for one in drills("letter", "in")}[name] == diameter


def test_fractions_by_64ths_then_32nds():
    found = list(drills("fraction", "in"))
    assert (found[0].name, found[0].diameter) == ("1/64", 1 / 64)
    assert [one.name for one in found[62:66]] == ["63/64", "1", "1-1/32", "1-1/16"]
    assert found[-1].diameter == 2.0


def test_metric_steps():
    # Source: ISO 235:1980 recommended series (memory).
    sizes = [one.diameter for one in drills("metric", "mm")]
    assert sizes == sorted(sizes)
    assert {0.2, 2.95, 3.0, 6.8, 13.9, 14.25, 31.75, 32.5, 50.5, 51.0, 100.0} <= set(sizes)
    assert not {3.05, 14.1, 32.25, 51.5} & set(sizes)
    assert next(one.name for one in drills("metric", "mm") if one.diameter == 6.8) == "6.8 mm"


@pytest.mark.parametrize("series", SERIES)
def test_lists_are_sorted_and_the_same_in_both_units(series):
    inch, metric = drills(series, "in"), drills(series, "mm")
    assert [one.name for one in inch] == [one.name for one in metric]
    for a, b in zip(inch, metric, strict=True):
        assert b.diameter == pytest.approx(a.diameter * 25.4, rel=1e-12)
        assert a.series == series
    assert [one.diameter for one in inch] == sorted(one.diameter for one in inch)


def test_percent_and_hole_are_each_others_reverse():
    hole = hole_for_percent(12.0, 1.75, 68.0)
    assert percent_of_thread(12.0, 1.75, hole) == pytest.approx(68.0)
    # 100 % takes 3/4 of the triangle's height H = P sqrt(3)/2 off each side.
    height = 1.75 * math.sqrt(3) / 2
    assert hole_for_percent(12.0, 1.75, 100) == pytest.approx(12.0 - 2 * 0.75 * height)
    assert percent_of_thread(12.0, 1.75, 12.5) < 0
    assert percent_of_thread(12.0, 1.75, 9.0) > 100


def test_best_drill_is_the_nearest_and_those_inside_limits_come_first():
    best, second = drill_choices(0.25, 0.05, "in", percent=75, series=("number",), count=2)
    assert (best.drill.name, second.drill.name) == ("#7", "#8")
    assert best.off_by == pytest.approx(best.percent - 75)
    assert best.inside_limits is None
    # within the limits of 60 to 65 percent only: the best for 75 is outside and comes later
    limited = drill_choices(
        0.25, 0.05, "in", percent=75, series=("number",), minor_limits=(0.2075, 0.2095), count=40
    )
    assert (limited[0].drill.name, limited[0].inside_limits) == ("#4", True)
    assert limited[1].drill.name == "#7"
    assert limited[1].inside_limits is False
    assert all(0 < one.percent <= 100 for one in limited)


def test_a_drill_of_the_major_diameter_leaves_no_thread_and_is_left_out():
    # letter E is 0.250 in, the major diameter itself
    found = drill_choices(0.25, 0.05, "in", percent=1, series=("letter",), count=50)
    assert "E" not in [one.drill.name for one in found]
    assert found[0].drill.name == "D"


def test_limits_count_as_inside():
    (edge,) = drill_choices(
        0.25, 0.05, "in", series=("number",), minor_limits=(0.2010, 0.2010), count=1
    )
    assert edge.inside_limits is True


def test_drill_refusals():
    assert told(BadInput, drills, "gauge", "in") == {("/series", "unknown_series")}
    assert told(BadInput, percent_of_thread, 0.0, math.nan, 1.0) == {
        ("/major_diameter", "out_of_range"),
        ("/pitch", "out_of_range"),
    }
    assert told(BadInput, percent_of_thread, 1.0, 0.1, 0.0) == {("/drill_diameter", "out_of_range")}
    assert told(BadInput, hole_for_percent, 8.0, 1.25, 101.0) == {("/percent", "out_of_range")}
    assert told(Impossible, hole_for_percent, 1.0, 2.0, 75.0) == {("/pitch", "pitch_too_coarse")}
    assert told(BadInput, drill_choices, 8.0, 1.25, "mm", minor_limits=(7.0, 6.0), count=0) == {
        ("/minor_limits", "limits_out_of_order"),
        ("/count", "out_of_range"),
    }
    assert told(Impossible, drill_choices, 300.0, 4.0, "mm") == {
        ("/major_diameter", "no_standard_drill")
    }
