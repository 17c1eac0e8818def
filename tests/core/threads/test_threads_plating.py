"""Limits before plating."""

from __future__ import annotations

import math
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput, Impossible, NoSource
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.plating import (
    Range,
    Sizes,
    coated,
    pitch_diameter_factor,
    plated,
)

BOLT, NUT = limits("7/8-14 UNF-2A"), limits("7/8-14 UNF-2B")


@pytest.mark.parametrize(
    "form", [(30.0, 30.0), (27.5, 27.5), (14.5, 14.5), (7.0, 45.0), (3.0, 30.0)]
)
def test_the_factor_is_the_pitch_line_of_flanks_moved_square_to_themselves(
    form: tuple[float, float],
) -> None:
    # A ridge of two straight flanks about r = 0, a quarter pitch wide each side; both are moved
    # outward by t along their normals; the radius where it is half a pitch wide again, by bisection.
    pitch, t = 1.0, 0.01
    lines = []
    for degrees in form:
        angle = math.radians(degrees)
        point, normal = (pitch / 4, 0.0), (math.cos(angle), math.sin(angle))
        lines.append((point[0] + t * normal[0], point[1] + t * normal[1], math.tan(angle)))

    def width(r: float) -> float:
        return sum(z - (r - at) * slope for z, at, slope in lines)

    low, high = -1.0, 1.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if width(middle) > pitch / 2 else (low, middle)
    assert pitch_diameter_factor(*form) * t == pytest.approx(2 * low, rel=1e-12)


def test_four_times_at_60_degrees_and_two_over_sine_in_general() -> None:
    assert pitch_diameter_factor(30.0, 30.0) == pytest.approx(4.0, rel=1e-14)
    for angle in (14.5, 27.5, 45.0):
        expected = 2 / math.sin(math.radians(angle))
        assert pitch_diameter_factor(angle, angle) == pytest.approx(expected, rel=1e-13)
    assert pitch_diameter_factor(7.0, 45.0) == pitch_diameter_factor(45.0, 7.0)


@pytest.mark.parametrize(
    "angles", [(0.0, 0.0), (0.99, 1.0), (60.1, 30.0), (-1.0, 30.0), (10**400, 1)]
)
def test_angles_without_a_factor_are_refused(angles: tuple[float, float]) -> None:
    with pytest.raises(BadInput):
        pitch_diameter_factor(*angles)


@pytest.mark.parametrize("ceiling", ["basic size", "class limits"])
@pytest.mark.parametrize(
    "thread", [BOLT, NUT, limits("M10-6g"), limits("M10-6G"), limits("Tr 40x7-7e")]
)
def test_every_part_cut_to_the_limits_is_inside_after_every_coat(thread: Any, ceiling: Any) -> None:
    thin, thick = 0.05 / 25.4 * 0.1, 0.05 / 25.4 * 0.2
    told = plated(thread, thin, thick, ceiling)
    for name in ("major_diameter", "pitch_diameter", "minor_diameter"):
        before, after = getattr(told.before, name), getattr(told.after, name)
        ends = []
        for size in (before.min, before.max):
            for coat in (thin, thick):
                if size is not None:
                    one = Range(size, size)
                    made = coated(Sizes(one, one, one), told.pitch_diameter_factor, coat, told.side)
                    ends.append(getattr(made, name).min)
        if after.max is not None:
            assert max(ends) == pytest.approx(after.max, abs=1e-12)
        if after.min is not None:
            assert min(ends) == pytest.approx(after.min, abs=1e-12)


def test_the_allowance_may_be_used_up_by_the_coat() -> None:
    told = plated(BOLT, 0.0002, 0.0004, "basic size")
    # Basic pitch diameter 0.8286; 4 x 0.0004 below it is the class's own greatest, 0.8270.
    assert told.after.pitch_diameter == Range(0.8216, 0.8270 + 0.0016)
    assert told.before.pitch_diameter.max == pytest.approx(0.8270)
    assert told.before.pitch_diameter.min == pytest.approx(0.8216 - 0.0008)
    assert told.before.major_diameter.max == pytest.approx(0.8734 + 0.0016 - 0.0008)
    assert told.after.minor_diameter.min is told.before.minor_diameter.min is None
    assert told.greatest_thickness_uncut == pytest.approx(0.0004)
    assert told.fits_uncut is True
    assert plated(BOLT, 0.0002, 0.000401, "basic size").fits_uncut is False
    assert told.pitch_tolerance_left == pytest.approx(0.0054 + 0.0016 - 4 * 0.0002)


@pytest.mark.parametrize("name", ["1/2-10 ACME-2G", "Tr 24x5-7e"])
def test_an_allowance_on_the_pitch_diameter_alone_gives_the_crest_nothing(name: str) -> None:
    """ASME B1.5 and ISO 2904: greatest major diameter is basic, so no coat may stand above it."""
    thread = limits(name, side="external")
    told = plated(thread, 0.0, 0.0002, "basic size")
    major, pitch = thread.major_diameter.max, thread.pitch_diameter.max
    assert major is not None
    assert pitch is not None
    assert told.after.major_diameter.max == float(major) == float(thread.basic.major_diameter)
    assert told.after.minor_diameter.max == float(thread.minor_diameter.max or 0)
    assert told.before.major_diameter.max == pytest.approx(float(major) - 0.0004)
    assert told.after.pitch_diameter.max == pytest.approx(float(pitch + thread.allowance))
    assert told.greatest_thickness_uncut == 0
    assert told.fits_uncut is False


def test_sizes_carry_no_binary_dust() -> None:
    told = plated(limits("1/2-13 UNC-2A"), 0.0002, 0.0003, "basic size")
    assert told.before.major_diameter == Range(0.4872, 0.4994)
    assert told.before.pitch_diameter == Range(0.4427, 0.4488)


def test_by_class_limits_nothing_is_given_away() -> None:
    told = plated(BOLT, 0.0002, 0.0004, "class limits")
    assert told.after.pitch_diameter == Range(0.8216, 0.8270)
    assert told.before.pitch_diameter.max == pytest.approx(0.8270 - 0.0016)
    assert told.greatest_thickness_uncut == 0
    assert told.fits_uncut is False
    assert plated(BOLT, 0.0, 0.0, "class limits").fits_uncut is True


def test_a_hole_is_cut_larger() -> None:
    told = plated(limits("M10-6G"), 0.005, 0.008, "basic size")
    size = limits("M10-6G").pitch_diameter
    assert size.min is not None
    assert told.after.pitch_diameter.min == pytest.approx(float(size.min) - 0.032)
    assert told.before.pitch_diameter.min == pytest.approx(float(size.min))
    assert told.before.minor_diameter.max == pytest.approx(told.after.minor_diameter.max + 0.01)  # type: ignore[operator]
    assert told.before.major_diameter.max is None


def test_a_coat_that_eats_the_tolerance_is_refused() -> None:
    with pytest.raises(Impossible) as caught:
        plated(BOLT, 0.0, 0.0018, "basic size")
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.code) == ("/greatest_thickness", "coat_varies_too_much")
    assert fault.value == pytest.approx(0.0072)
    plated(BOLT, 0.0, 0.0017, "basic size")


def test_thicknesses_out_of_bounds_are_refused_together() -> None:
    with pytest.raises(BadInput) as caught:
        plated(BOLT, -0.1, 10**400, "basic size")
    assert [fault.pointer for fault in caught.value.faults] == [
        "/least_thickness", "/greatest_thickness",
    ]  # fmt: skip
    with pytest.raises(BadInput) as caught:
        plated(BOLT, 0.0003, 0.0002, "basic size")
    assert [fault.code for fault in caught.value.faults] == ["turned_round"]


def test_in_millimetres_it_is_the_same_thread() -> None:
    inch = plated(BOLT, 0.0002, 0.0004, "basic size")
    metric = plated(limits_in(BOLT, "mm"), 0.0002 * 25.4, 0.0004 * 25.4, "basic size")
    assert metric.before.pitch_diameter.max == pytest.approx(25.4 * inch.before.pitch_diameter.max)  # type: ignore[operator]


def test_a_thread_without_pitch_limits_has_no_source() -> None:
    from dataclasses import replace

    from flankwise_service.core.threads.model import Span

    with pytest.raises(NoSource):
        plated(replace(BOLT, pitch_diameter=Span(None, None)), 0.0, 0.0001, "basic size")


def test_the_refusal_says_how_much_the_coat_eats() -> None:
    with pytest.raises(Impossible) as caught:
        plated(BOLT, 0.0001, 0.0020, "basic size")
    detail, change = caught.value.faults[0].detail, caught.value.faults[0].change
    # Tolerance with the allowance: 0.8286 - 0.8216; the coat varies by 4 x 0.0019.
    assert "0.007 is needed" in detail
    assert "takes 0.0076" in detail
    assert "within 0.00175" in change
