"""What a threaded joint holds."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput, Impossible, NoSource
from flankwise_service.core.threads import limits
from flankwise_service.core.threads.model import Span
from flankwise_service.core.threads.strength import (
    external_shear_area,
    internal_shear_area,
    strength,
    tensile_stress_area,
)

BOLT, NUT = limits("1/2-13 UNC-2A"), limits("1/2-13 UNC-2B")


def joint(
    engagement: float = 0.5, screw: float = 120000.0, nut: float = 120000.0, **more: Any
) -> Any:
    made = {"external": BOLT, "internal": NUT, "unit": "in", **more}
    return strength(
        made["external"], made["internal"], engagement,
        unit=made["unit"], external_strength=screw, internal_strength=nut,
    )  # fmt: skip


def test_shear_areas_are_those_of_the_standard_as_printed() -> None:
    n, length = 13, 0.5
    es, ds = float(BOLT.pitch_diameter.min or 0), float(BOLT.major_diameter.min or 0)
    kn, en = float(NUT.minor_diameter.max or 0), float(NUT.pitch_diameter.max or 0)
    screw = 3.1416 * n * length * kn * (1 / (2 * n) + 0.57735 * (es - kn))
    nut = 3.1416 * n * length * ds * (1 / (2 * n) + 0.57735 * (ds - en))
    assert external_shear_area(BOLT, NUT, length) == pytest.approx(screw, rel=1e-5)
    assert internal_shear_area(BOLT, NUT, length) == pytest.approx(nut, rel=1e-5)


def test_a_shear_area_is_the_ridge_at_that_diameter_unrolled() -> None:
    # The ridge of the external thread at Kn: half a pitch at Es, wider below by both flanks.
    es, kn = float(BOLT.pitch_diameter.min or 0), float(NUT.minor_diameter.max or 0)
    width = 1 / 26 + 2 * (es - kn) / 2 * math.tan(math.radians(30))
    turns = 0.5 * 13
    assert external_shear_area(BOLT, NUT, 0.5) == pytest.approx(turns * math.pi * kn * width)


def test_least_engagement_is_where_breaking_and_stripping_meet() -> None:
    even = joint()
    # The standard's Le = 2 At / (pi n Kn (1/(2n) + 0.57735 (Es - Kn))), one material throughout.
    printed = 2 * even.tensile_stress_area / (even.external_shear_area / 0.5)
    assert even.least_engagement == pytest.approx(printed)
    assert even.weakest == "external part breaks"
    at_least = joint(even.least_engagement)
    assert at_least.breaking_load == pytest.approx(at_least.external_stripping_load)
    assert joint(even.least_engagement * 1.001).engagement_is_enough is True
    short = joint(even.least_engagement * 0.999)
    assert short.engagement_is_enough is False
    assert short.weakest == "external thread strips"


def test_a_weak_nut_needs_more_thread_by_q_times() -> None:
    even, weak = joint(), joint(nut=40000.0)
    j = even.external_shear_area * 120000 / (even.internal_shear_area * 40000)
    assert j > 1
    assert weak.least_engagement == pytest.approx(j * even.least_engagement)
    assert weak.weakest == "internal thread strips"
    assert "no warning" in weak.cautions[0]
    assert "no warning" not in even.cautions[0]


def test_loads_are_areas_times_strengths() -> None:
    told = joint(0.4, 100000.0, 50000.0)
    assert told.breaking_load == pytest.approx(told.tensile_stress_area * 100000)
    assert told.external_stripping_load == pytest.approx(told.external_shear_area * 50000)
    assert told.internal_stripping_load == pytest.approx(told.internal_shear_area * 25000)
    assert told.external_shear_area == external_shear_area(BOLT, NUT, 0.4)
    assert told.internal_shear_area == internal_shear_area(BOLT, NUT, 0.4)
    assert told.engagement == 0.4


def test_in_millimetres_areas_grow_by_the_square() -> None:
    inch, metric = joint(), joint(0.5 * 25.4, unit="mm")
    assert metric.tensile_stress_area == pytest.approx(inch.tensile_stress_area * 25.4**2)
    assert metric.external_shear_area == pytest.approx(inch.external_shear_area * 25.4**2)
    assert metric.internal_shear_area == pytest.approx(inch.internal_shear_area * 25.4**2)
    assert metric.least_engagement == pytest.approx(inch.least_engagement * 25.4)


def test_metric_area_is_by_the_mean_of_pitch_and_root_diameter() -> None:
    thread = limits("M10-6g")
    height = math.sqrt(3) / 2 * 1.5
    pitch_diameter, minor = 10 - 0.75 * height, 10 - 1.25 * height
    expected = math.pi / 4 * ((pitch_diameter + minor - height / 6) / 2) ** 2
    area, source = tensile_stress_area(thread, "iso_metric")
    assert area == pytest.approx(expected, rel=2e-5)
    assert source.document == "ISO 898-1"
    told = joint(10.0, external=thread, internal=limits("M10-6H"), unit="mm")
    assert told.sources[0].document == "ISO 898-1"


def test_families_without_an_area_are_refused() -> None:
    with pytest.raises(NoSource) as caught:
        joint(external=limits("G 1/2 A"), internal=limits("G 1/2", side="internal"), unit="mm",
              engagement=10.0)  # fmt: skip
    assert caught.value.faults[0].code == "no_stress_area"


def test_threads_that_do_not_mate_are_refused() -> None:
    with pytest.raises(Impossible):
        joint(external=limits("1/2-20 UNF-2A"))
    with pytest.raises(BadInput):
        joint(external=NUT)


def test_missing_limits_are_refused_where_they_are_needed() -> None:
    for side, name in (("external", "pitch_diameter"), ("internal", "minor_diameter")):
        bare = {"external": BOLT, "internal": NUT}
        bare[side] = replace(bare[side], **{name: Span(None, None)})  # type: ignore[arg-type]
        with pytest.raises(NoSource) as caught:
            joint(**bare)
        assert caught.value.faults[0].pointer == f"/{side}"


def test_figures_out_of_bounds_are_refused_together() -> None:
    with pytest.raises(BadInput) as caught:
        joint(0.05, 0.0, 10**400)  # less than one turn
    assert [one.pointer for one in caught.value.faults] == [
        "/engagement", "/external_strength", "/internal_strength",
    ]  # fmt: skip
    with pytest.raises(BadInput):
        joint(10.1)
