"""Rows of thread data used in the shop (data/shop_threads.csv, each row its source)."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from flankwise_service.core.gauging.groove import lead_angle
from flankwise_service.core.threads import Limits, designations, limits, parse
from flankwise_service.core.threads.mating import percent_of_thread
from flankwise_service.core.threads.strength import tensile_stress_area

TEXT = (Path(__file__).parent / "data" / "shop_threads.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(TEXT.splitlines()))
NAMES = tuple(designations())


def rows(topic: str) -> list[dict[str, str]]:
    found = [row for row in ROWS if row["topic"] == topic]
    assert found
    return found


def name(row: dict[str, str]) -> str:
    return f"{row['item']} {row['input']}"


def thread_of(item: str) -> Limits:
    """Return the limits of class 2A or 6g, which areas and basic sizes don't depend on."""
    return limits(f"{item}-6g" if item.startswith("M") else f"{full_name(item)}-2A")


def full_name(item: str) -> str:
    """Return the designation of the only plain Unified series that has this size and pitch."""
    size = item.split(maxsplit=1)[0]
    plain = {f"{size} {series}" for series in ("UNC", "UNF", "UNS")}
    (full,) = [known for known in NAMES if known in plain] or [f"#{size} UNS"]
    return full


@pytest.mark.parametrize("row", rows("tensile_stress_area"), ids=name)
def test_tensile_stress_area_to_the_last_digit(row: dict[str, str]) -> None:
    thread = thread_of(row["item"])
    area, source = tensile_stress_area(thread, thread.thread.family)
    places = len(row["value"].partition(".")[2])
    assert round(area, places) == float(row["value"])
    assert source.standing == "memory"


@pytest.mark.parametrize("row", rows("lead_angle"), ids=name)
def test_lead_angle_to_the_minute(row: dict[str, str]) -> None:
    thread = thread_of(row["input"])
    degrees, minutes = (int(part) for part in row["value"].split())
    found = lead_angle(float(thread.basic.lead), float(thread.basic.pitch_diameter))
    assert round(60 * found) == 60 * degrees + minutes


@pytest.mark.parametrize("row", rows("unc_basic"), ids=name)
def test_basic_sizes_to_the_last_digit(row: dict[str, str]) -> None:
    basic = thread_of(row["item"]).basic
    pitch, _, minor = (float(size) for size in row["value"].split("/"))
    assert float(basic.pitch_diameter) == pitch
    assert float(basic.minor_diameter) == minor


@pytest.mark.parametrize("row", rows("nut_minor_limits"), ids=name)
def test_minor_limits_of_nuts(row: dict[str, str]) -> None:
    span = limits(f"{full_name(row['item'])}-2B", edition="ASME B1.1-1989").minor_diameter
    assert f"{span.min}/{span.max}" == row["value"]


@pytest.mark.parametrize("row", rows("percent_thread"), ids=name)
def test_percent_of_thread_as_the_handbook_rounds_it(row: dict[str, str]) -> None:
    thread = parse(full_name(row["item"]))
    hole = float(row["input"].split()[1])
    percent = percent_of_thread(float(thread.diameter), hole, float(thread.pitch))
    # The handbook rounds to whole percents; 37 of its 41 cells agree to 0.6.
    assert percent == pytest.approx(float(row["value"]), abs=0.6)
