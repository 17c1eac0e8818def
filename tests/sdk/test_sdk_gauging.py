"""The client's calls of gauging and of the uses of threads, against a real service."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

import flankwise
from flankwise_service.core.gauging import correction as core
from flankwise_service.core.gauging.groove import Groove
from flankwise_service.core.gauging.limits_over import limits_over, wire_sizes
from flankwise_service.core.gauging.measure import measured
from flankwise_service.core.gauging.over_wires import reading_over
from flankwise_service.core.threads import limits
from flankwise_service.core.threads.strength import strength
from support.server import Server

BOLT = "7/8-14 UNF-2A"


@pytest.fixture
def shop(server: Server) -> Iterator[flankwise.Client]:
    with flankwise.Client(server.url) as client:
        yield client


def test_wires_and_limits_over_them(shop: flankwise.Client) -> None:
    sizes = shop.gauging_wires(BOLT, unit="in")
    assert sizes.best == wire_sizes(limits(BOLT)).best
    over = shop.gauging_over_wires(BOLT, unit="in", wires=[0.05, 0.04], method="three wires")
    assert over.limits.max.reading == limits_over(limits(BOLT), 0.04).max.reading
    assert over.others == (0.05,)
    ball = shop.gauging_over_wires(
        "M20x1.5", unit="mm", side="internal", wires=[0.9], method="between balls",
        line="through both centres",
    )  # fmt: skip
    assert ball.limits.line == "through both centres"


def test_a_groove_of_ones_own(shop: flankwise.Client) -> None:
    read = shop.gauging_reading(
        unit="in", pitch=0.2, starts=2, flank_angle_upper=14.5, flank_angle_lower=14.5,
        side="external", pitch_diameter=0.9, wire=0.1033, method="three wires",
    )  # fmt: skip
    assert read.reading == reading_over(Groove(0.2, 0.4, 14.5, 14.5), 0.9, 0.1033).reading
    back = shop.gauging_pitch_diameter(
        unit="in", pitch=0.2, starts=2, flank_angle_upper=14.5, flank_angle_lower=14.5,
        side="external", reading=read.reading, wire=0.1033, method="three wires",
        reading_uncertainty=0.0001, wire_uncertainty=0.00002, flank_angle_uncertainty=0.1,
    )  # fmt: skip
    assert back.measured.pitch_diameter == pytest.approx(0.9, rel=1e-12)
    assert back.from_flank_angle > 0
    second = shop.gauging_reading(
        unit="in", pitch=0.2, starts=2, flank_angle_upper=14.5, flank_angle_lower=14.5,
        side="external", pitch_diameter=0.9, wire=0.115, method="three wires",
    )  # fmt: skip
    told = shop.gauging_flank_angle(
        unit="in", pitch=0.2, starts=2, side="external", method="three wires",
        readings=[read.reading, second.reading], wires=[0.1033, 0.115],
    )  # fmt: skip
    assert told.flank_angle == pytest.approx(14.5)


def test_corrections(shop: flankwise.Client) -> None:
    told = shop.gauging_inspection(
        BOLT, unit="in", reading=0.8877, wire=0.04, method="three wires", reading_uncertainty=0.0001,
        aim=0.825, diameter_per_radius=1.8,
    )  # fmt: skip
    size = told.over.measured.pitch_diameter
    assert told.correction.radius_offset_change == pytest.approx((0.825 - size) / 1.8)
    fix = shop.gauging_correction(BOLT, unit="in", pitch_diameter=0.8286, uncertainty=0.0001)
    expected = core.correction(
        measured(0.8286, 0.0001), 0.8216, 0.8270, side="external", pitch=1 / 14, unit="in"
    )
    assert fix.words == expected.words
    table = shop.gauging_correction_table(
        BOLT, unit="in", wire=0.04, method="three wires", aim=0.825, rows=5
    )
    assert len(table.rows) == 5
    next_one = shop.gauging_response(
        BOLT, unit="in", aim=0.825, changed_by=-0.0018,
        before={"pitch_diameter": 0.829, "uncertainty": 0.0001},
        after={"pitch_diameter": 0.826, "uncertainty": 0.0001},
    )  # fmt: skip
    assert next_one.correction.aim == 0.825
    both = shop.gauging_narrow(
        BOLT, unit="in",
        measurements=[{"pitch_diameter": size, "uncertainty": 0.0002} for size in (0.8243, 0.8245)],
    )  # fmt: skip
    assert both.measured.uncertainty == pytest.approx(0.0001)
    with pytest.raises(flankwise.Refused) as caught:
        shop.gauging_correction(BOLT, unit="in", pitch_diameter=0.79, uncertainty=0.0001)
    assert caught.value.pointers == ("/pitch_diameter",)


def test_gauges(shop: flankwise.Client) -> None:
    plugs = shop.gauging_gauges("M20x1.5", unit="mm", side="internal")
    assert [one.kind for one in plugs.gauges] == ["thread plug"] * 2 + ["plain plug"] * 2


def test_uses_of_threads(shop: flankwise.Client) -> None:
    found = shop.threads_identify(
        crest_diameter=0.87, side="external", unit="in", threads_per_inch=14,
        diameter_uncertainty=0.001, pitch_uncertainty=0.0005, most=2,
    )  # fmt: skip
    assert found.candidates[0].designation == "7/8-14 UNF"
    by_pitch = shop.threads_identify(
        crest_diameter=6.7, side="internal", unit="mm", pitch=1.25,
        diameter_uncertainty=0.05, pitch_uncertainty=0.02,
    )  # fmt: skip
    assert by_pitch.candidates[0].designation == "M8"
    pair = shop.threads_mating(external=BOLT, internal="7/8-14 UNF-2B", unit="in")
    assert (pair.mates, pair.pitch_diameter.least) == (True, 0.0016)
    pairs = shop.threads_class_pairs("7/8-14 UNF", unit="in")
    assert len(pairs.pairs) == 9
    coat = shop.threads_plating(
        "M10", unit="mm", side="external", least_thickness=0.005, greatest_thickness=0.008,
        ceiling="class limits",
    )  # fmt: skip
    assert coat.fits_uncut is False
    joint = shop.threads_strength(
        external="M10-6g", internal="M10-6H", unit="mm", engagement=15,
        external_strength=800, internal_strength=310,
    )  # fmt: skip
    expected = strength(
        limits("M10-6g"), limits("M10-6H"), 15, unit="mm", external_strength=800,
        internal_strength=310,
    )  # fmt: skip
    assert joint.least_engagement == expected.least_engagement
