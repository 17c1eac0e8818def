"""The shop's rows of tests/published/data/shop.csv, each with its own source in the row."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import pytest

from flankwise_service.core.cutting.chip import chip_factor
from flankwise_service.core.cutting.engagement import engagement_straight
from flankwise_service.core.cutting.feed import centre_diameter, centre_feed
from flankwise_service.core.cutting.material_table import find_material
from flankwise_service.core.cutting.materials import force_figures, surface_speed_window
from flankwise_service.core.cutting.speed import spindle_speed
from flankwise_service.core.stock.bars import WRENCHES_MM
from flankwise_service.core.stock.drills import drills, percent_of_thread
from flankwise_service.core.stock.hexagon import across_corners
from support.published import rows

ROWS = rows("shop.csv")


def of_topic(topic: str) -> list[dict[str, str]]:
    found = [row for row in ROWS if row["topic"] == topic]
    assert found, topic
    return found


NUMBERED = {1: 0.073, 2: 0.086, 3: 0.099, 4: 0.112, 10: 0.190}
"""Number sizes: 0.060 + 0.013 n (ASME B1.1)."""


def size_of(name: str) -> tuple[float, float]:
    """Return major diameter and pitch of "4-40", "#10-24", "1/4-20" (in) or "M8-1.25" (mm)."""
    first, _, last = name.lstrip("#").partition("-")
    if first.startswith("M"):
        return float(first[1:]), float(last)
    major = float(Fraction(first)) if "/" in first else NUMBERED[int(first)]
    return major, 1 / int(last)


@pytest.mark.parametrize(
    "row", of_topic("percent_thread"), ids=lambda r: f"{r['item']} {r['input']}"
)
def test_percent_of_thread(row):
    drill = float(re.search(r"[\d.]+", row["input"]).group())
    major, pitch = size_of(row["item"])
    # The handbook prints whole percents; its own formula agrees within 0.6 (see the row's note).
    assert percent_of_thread(major, pitch, drill) == pytest.approx(float(row["value"]), abs=0.61)


@pytest.mark.parametrize("row", of_topic("tap_drill"), ids=lambda r: f"{r['item']} {r['input']}")
def test_tap_drills_are_in_our_lists_at_about_the_percent_said(row):
    metric = row["item"].startswith("M")
    unit = "mm" if metric else "in"
    listed = {one.name.removesuffix(" mm"): one.diameter for s in
              ("metric", "number", "letter", "fraction") for one in drills(s, unit)}  # fmt: skip
    major, pitch = size_of(row["item"])
    percent = percent_of_thread(major, pitch, listed[row["value"]])
    said = float(re.search(r"about (\d+)%", row["input"]).group(1))
    # "about": the nearest listed drill lies within a few percent of what is said.
    assert percent == pytest.approx(said, abs=6.5)


@pytest.mark.parametrize("row", of_topic("hex"), ids=lambda r: r["item"])
def test_hexagon_rows(row):
    if row["item"].startswith("across flats"):
        flats = float(re.search(r"[\d.]+", row["item"]).group())
        assert round(across_corners(flats), 4) == float(row["value"])
    elif "AC max" in row["input"]:
        flats, corners = map(float, row["value"].split("/"))
        # The tables round across corners to 0.01 in (BS 1083) or 0.001 in (IFI-111).
        digits = len(row["value"].rpartition(".")[2])
        assert across_corners(flats) == pytest.approx(corners, abs=0.51 * 10**-digits)
    else:
        assert float(row["value"]) in WRENCHES_MM


def test_circular_feed_rows():
    rule, twelve, fifty = of_topic("circular_feed")
    assert rule["value"] == "(D+d)/D"
    assert centre_feed(1.0, 20.0, 8.0, "external") == pytest.approx((20 + 8) / 20)
    assert centre_diameter(20.0, 8.0, "external") == 28.0
    assert centre_feed(300.0, 12.0, 9.9, "internal") == pytest.approx(
        float(twelve["value"]), abs=5e-4
    )
    assert centre_feed(800.0, 50.0, 20.0, "internal") == pytest.approx(
        float(fifty["value"]), abs=5e-4
    )


def test_chip_thinning_row():
    (row,) = of_topic("chip_thinning")
    assert row["item"] == "ae/D=0.1"
    assert chip_factor(engagement_straight(10.0, 1.0)) == pytest.approx(float(row["value"]))


def test_rpm_row():
    (row,) = of_topic("rpm")
    assert row["input"] == "SFM=300,D=0.5"
    assert round(spindle_speed(300, 0.5, "in").speed, 1) == float(row["value"])


@pytest.mark.parametrize("row", of_topic("kc1.1"), ids=lambda r: r["item"])
def test_specific_cutting_force_rows(row):
    kc11, mc = force_figures(find_material(row["item"]))
    assert kc11.value == float(row["value"])
    assert mc.value == float(row["input"].removeprefix("mc="))


@pytest.mark.parametrize(
    ("row", "designation"), list(zip(of_topic("cutting_speed"), ("1018", "304"), strict=True)),
    ids=["1018", "304"],
)  # fmt: skip
def test_cutting_speed_rows(row, designation):
    # From memory, low confidence, in the row itself: a plausibility band only.
    low, high = map(float, row["value"].split("-"))
    assert designation in row["item"]
    window = surface_speed_window(find_material(designation), "high speed steel", "in")
    assert window.least == pytest.approx(low, rel=0.05)
    assert window.greatest == pytest.approx(high, rel=0.05)


def test_shop_rule_for_rpm_is_close():
    # Common shop rule 3.82 V/D (see the rpm row's note): within 0.01 % of 12 V/(pi D).
    assert spindle_speed(300, 0.5, "in").speed == pytest.approx(3.82 * 300 / 0.5, rel=2e-4)
    assert math.isclose(12 / math.pi, 3.82, rel_tol=2e-4)
