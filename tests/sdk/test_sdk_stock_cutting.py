"""The client's calls of the subjects stock and cutting, against a real service."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest

import flankwise
from flankwise.asks import CutterAsk
from support.server import ROOT, Server

MILL: CutterAsk = {
    "diameter": 0.5, "flutes": 4, "neck_diameter": 0.36, "reach": 1.1, "shank_diameter": 0.5,
    "overhang": 1.6, "tip_to_tooth": 0.04,
    "tooth": {"flank_angle_upper": 30, "flank_angle_lower": 30, "tip_width": 0.0075, "depth": 0.06},
}  # fmt: skip


@pytest.fixture
def shop(server: Server) -> Iterator[flankwise.Client]:
    with flankwise.Client(server.url) as client:
        yield client


def test_stock(shop: flankwise.Client) -> None:
    found = shop.stock_hexagon(unit="in", across_corners=2.0)
    assert round(found.hexagon.across_flats, 4) == 1.7321
    assert next(bar.name for bar in shop.stock_bars(unit="in", shape="hexagon").bars) == "1/8"
    choice = shop.stock_choice(
        unit="in", diameter=0.8734, allowance=0.03, shapes=["hexagon"], material="303", count=1
    )
    assert choice.choices[0].bar.name == "15/16"
    drills = shop.stock_drill(unit="mm", major_diameter=8.0, pitch=1.25, series=["metric"])
    assert drills.choices[0].drill.name == "6.8 mm"
    blank = shop.stock_blank(unit="in", designation="7/8-14 UNF-2A", fraction=1.0)
    assert blank.aim.diameter == pytest.approx(0.8734)


def test_a_blank_too_shallow_is_refused_with_the_missing_length(shop: flankwise.Client) -> None:
    with pytest.raises(flankwise.Refused) as caught:
        shop.stock_blank(
            unit="in",
            designation="7/8-14 UNF-2A",
            depth={
                "thread_length": 0.875, "half_tooth": 0.045, "clearance": 0.02, "blank_depth": 0.75,
            },
        )  # fmt: skip
    assert caught.value.pointers == ("/depth/blank_depth",)
    assert "0.19 is missing" in str(caught.value)


def test_cutting(shop: flankwise.Client) -> None:
    assert [one.name for one in shop.cutting_materials("1.4305").materials] == ["303"]
    speed = shop.cutting_speed(unit="in", diameter=0.5, surface_speed=300.0)
    assert round(speed.spindle.speed, 1) == 2291.8
    feed = shop.cutting_feed(
        unit="mm", side="internal", diameter_cut=50.0, cutter_diameter=20.0, speed=2000.0,
        flutes=4, feed_per_tooth=0.1,
    )  # fmt: skip
    assert feed.arc.centre_feed == pytest.approx(480.0)
    passes = shop.cutting_passes(unit="mm", depth=0.6, tip_width=0.15, passes=2)
    assert len(passes.passes) == 2
    load = shop.cutting_load(
        unit="in", side="external", cutter=MILL, blank_diameter=0.868, depth=0.0438, lead=1 / 14,
        speed=2500, chip_load=0.001, material="303", passes=2, pitch_diameter_tolerance=0.0048,
    )  # fmt: skip
    assert load.passes[1].share_of_tolerance is not None
    assert 0 < load.passes[1].share_of_tolerance < 0.2
    spent = shop.cutting_time(
        unit="mm", moves=[{"length": 100.0, "feed": 600.0}], rapid=10_000, acceleration=100,
        batch={"parts": 10, "hourly_rate": 90.0},
    )  # fmt: skip
    assert spent.time.cutting_s == pytest.approx(10.1)
    assert spent.cost is not None
    assert spent.cost.per_part == pytest.approx(10.1 / 40)


def test_a_path_goes_into_the_clock_as_it_came(shop: flankwise.Client) -> None:
    example = json.loads((ROOT / "openapi/examples/path_helix.json").read_text("utf-8"))[0]
    path = shop.path_helix(**example["request"])
    unit = path.unit
    spent = shop.cutting_time(unit=unit, segments=path.segments, rapid=400, acceleration=40)
    # Two modules measure the same way: the path's own totals and the clock.
    assert spent.time.cutting_length == pytest.approx(path.totals.cutting_length)
    assert spent.time.rapid_length == pytest.approx(path.totals.rapid_length)
    at_feed = sum(one.feed is not None for one in path.segments)
    assert at_feed > 0
    assert spent.time.cutting_s > 0
