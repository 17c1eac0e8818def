"""Lists of bar, wrenches and drills against a second entry of each, written in another form.

The standards themselves were not at hand: both entries are from memory, made apart from each other,
so that a slip in either shows.
"""

from __future__ import annotations

import itertools
import math

import pytest

from flankwise_service.core.stock.bars import WRENCHES_MM, bars, undersize_h11
from flankwise_service.core.stock.drills import drills
from support.published import rows


def by(first: float, last: float, step: float) -> list[float]:
    """Return the sizes from first to last, both of them in."""
    return [first + step * place for place in range(round((last - first) / step) + 1)]


def test_metric_hexagon_bar():
    """Sizes of DIN 176 (memory): halves, whole millimetres, widths across flats, then fives."""
    expected = [
        *by(3, 6, 0.5), *by(7, 22, 1), 24, 25, 27, 28, 30, 32, 34, 36, 38, 41, 46, *by(50, 100, 5),
    ]  # fmt: skip
    assert [one.size for one in bars("hexagon", "mm")] == expected


def test_metric_round_bar():
    """Sizes commonly drawn after EN 10278 (memory)."""
    expected = [
        *by(2, 6, 0.5), *by(7, 28, 1), *by(30, 36, 2), 35, 38, 40, 42, 45, 48, 50, 52, 55, 58, 60,
        63, *by(65, 100, 5), *by(110, 160, 10), 180, 200,
    ]  # fmt: skip
    assert [one.size for one in bars("round", "mm")] == sorted(expected)


def test_inch_bar():
    """Sixteenths, then eighths, then quarters (common practice of US bar stock, no source)."""
    hexagon = [*by(1 / 8, 1.5, 1 / 16), *by(1.625, 3, 1 / 8)]
    assert [one.size for one in bars("hexagon", "in")] == hexagon
    rounds = [*by(1 / 16, 2, 1 / 16), *by(2.125, 4, 1 / 8), *by(4.25, 8, 1 / 4)]
    assert [one.size for one in bars("round", "in")] == rounds


def test_widths_across_flats():
    """ISO 272:1982 (memory), with the smaller sizes of set screws and socket keys."""
    expected = [
        3.2, 4, 5, 5.5, 7, 8, 10, 11, 13, 16, 18, 21, 24, 27, 30, 34, 36, 41, 46, *by(50, 100, 5),
    ]  # fmt: skip
    assert list(WRENCHES_MM) == expected


# ISO 286-1:2010 Table 1, IT11 in micrometres over the steps of nominal size (memory).
IT11 = [
    (3, 60), (6, 75), (10, 90), (18, 110), (30, 130), (50, 160), (80, 190), (120, 220), (180, 250),
    (250, 290),
]  # fmt: skip


@pytest.mark.parametrize(("last", "micrometres"), IT11)
def test_it11_to_the_end_of_each_step(last, micrometres):
    assert undersize_h11(last) == micrometres / 1000


@pytest.mark.parametrize(("ended", "next_step"), list(itertools.pairwise(IT11)))
def test_it11_of_the_next_step_begins_just_beyond(ended, next_step):
    assert undersize_h11(math.nextafter(ended[0], math.inf)) == next_step[1] / 1000


@pytest.mark.parametrize("series", ["number", "letter"])
def test_number_and_letter_drills(series):
    expected = {row["name"]: float(row["inch"]) for row in rows("drills.csv")
                if row["series"] == series}  # fmt: skip
    assert {one.name: one.diameter for one in drills(series, "in")} == expected


def test_metric_drills():
    """ISO 235:1980, recommended series as drills are sold (memory)."""
    expected = [
        *by(0.2, 2.95, 0.05), *by(3, 13.9, 0.1), *by(14, 31.75, 0.25), *by(32, 50.5, 0.5),
        *by(51, 100, 1),
    ]  # fmt: skip
    assert [one.diameter for one in drills("metric", "mm")] == pytest.approx(expected, rel=1e-12)


def test_fraction_drills():
    """64ths to an inch, 32nds to two inches (common practice, no source)."""
    expected = [*by(1 / 64, 1, 1 / 64), *by(33 / 32, 2, 1 / 32)]
    assert [one.diameter for one in drills("fraction", "in")] == expected
