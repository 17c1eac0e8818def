"""From measurements to the radius offset: signs, words, narrowing, guards."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.form.model import single
from flankwise_service.core.form.offset import (
    GAIN_SPREAD,
    Measurement,
    NextOffset,
    _absurd,
    _refuse_odd_answer,
    diameter_per_depth,
    in_words,
    next_offset,
)
from flankwise_service.core.form.pitchline import pitch_line
from flankwise_service.core.threads.model import Side


def told(
    *measurements: tuple[float, float], aim: float = 7.268, side: Side = "internal", **rest: float
) -> NextOffset:
    asked = {"pitch": 1.25, "uncertainty": 0.002, **rest}
    return next_offset([Measurement(*m) for m in measurements], aim, side=side, unit="mm", **asked)


def test_a_small_hole_wants_a_smaller_offset() -> None:
    found = told((7.248, 0.0))
    assert found.change == pytest.approx(-0.010, abs=1e-12)
    assert found.radius_offset == found.change
    assert found.diameter_offset_change == pytest.approx(-0.020, abs=1e-12)
    assert found.size_expected == pytest.approx(7.268)
    assert found.words == (
        "make the radius offset smaller by 0.010 mm: the cutter runs deeper, the thread gets larger"
    )


def test_a_large_hole_wants_a_larger_offset() -> None:
    found = told((7.288, 0.0))
    assert found.change == pytest.approx(0.010, abs=1e-12)
    assert found.words == (
        "make the radius offset larger by 0.010 mm: the cutter keeps off, the thread gets smaller"
    )


def test_a_large_screw_wants_a_smaller_offset() -> None:
    found = told((7.12, 0.05), aim=7.10, side="external")
    assert found.change == pytest.approx(-0.010, abs=1e-12)
    assert found.radius_offset == pytest.approx(0.040, abs=1e-12)
    assert found.words.endswith("the cutter runs deeper, the thread gets smaller")


def test_a_small_screw_wants_a_larger_offset() -> None:
    found = told((7.08, 0.0), aim=7.10, side="external")
    assert found.change == pytest.approx(0.010, abs=1e-12)
    assert found.words.endswith("the cutter keeps off, the thread gets larger")


def test_nothing_to_change_says_so() -> None:
    assert told((7.268, 0.03)).words == "leave the radius offset as it is"
    assert in_words(-0.00004, "internal", "in") == "leave the radius offset as it is"
    assert "0.0001 in" in in_words(-0.00006, "internal", "in")


def test_the_forms_own_answer_is_used() -> None:
    assert told((7.248, 0.0), per_depth=1.6).change == pytest.approx(-0.0125, abs=1e-12)


def test_one_measurement_takes_the_machine_as_ideal() -> None:
    found = told((7.248, 0.0))
    assert found.gain == 1.0
    assert found.gain_uncertainty == pytest.approx(GAIN_SPREAD)
    assert found.uncertainty == pytest.approx(math.hypot(0.002, GAIN_SPREAD * 0.02))


@given(
    gain=st.floats(0.6, 1.5),
    start=st.floats(7.20, 7.25),
    side=st.sampled_from(["internal", "external"]),
)
@settings(max_examples=80, deadline=None)
def test_measurements_of_a_true_gauge_close_in(gain: float, start: float, side: Side) -> None:
    """A machine that turns `gain` of each change into size: each round the error shrinks."""
    sign = -2.0 if side == "internal" else 2.0
    offset, errors = 0.0, []
    history: list[tuple[float, float]] = []
    for _ in range(4):
        size = start + gain * sign * offset
        errors.append(abs(size - 7.268))
        history.append((size, offset))
        found = told(*history, side=side, uncertainty=1e-5)
        offset = found.radius_offset
    assume(errors[0] > 1e-3)
    assert errors[1] <= abs(1 - gain) * errors[0] + 1e-9
    assert errors[2] < 0.01 * errors[0]
    assert errors[3] < 1e-4 * errors[0] + 1e-9
    assert found.gain == pytest.approx(gain, abs=0.01)


def test_a_doubtful_second_measurement_hardly_moves_the_gain() -> None:
    doubtful = told((7.250, 0.0), (7.262, -0.009), uncertainty=0.02)
    sure = told((7.250, 0.0), (7.262, -0.009), uncertainty=0.0002)
    assert abs(doubtful.gain - 1.0) < 0.1
    assert sure.gain == pytest.approx(12 / 18, abs=0.01)
    assert sure.gain_uncertainty < 0.02 < doubtful.gain_uncertainty


def test_gain_by_hand() -> None:
    """Two sizes, predicted move 0.018, seen 0.012, u 0.002: (44.44 + 0.5*0.018*0.012/u^2)/(44.44 + 0.5*0.018^2/u^2)."""
    found = told((7.250, 0.0), (7.262, -0.009))
    prior, square = 0.15**-2, 0.018**2 / 2 / 0.002**2
    gain = (prior + 0.018 * 0.012 / 2 / 0.002**2) / (prior + square)
    assert found.gain == pytest.approx(gain, abs=1e-12)
    assert found.gain_uncertainty == pytest.approx((prior + square) ** -0.5, abs=1e-12)
    moved = 0.009 + (7.268 - 7.256) / gain
    assert found.radius_offset == pytest.approx(-moved / 2, abs=1e-12)
    assert found.change == pytest.approx(found.radius_offset + 0.009, abs=1e-12)
    doubt = math.hypot(0.002 / math.sqrt(2), found.gain_uncertainty * (7.268 - 7.256) / gain)
    assert found.uncertainty == pytest.approx(doubt, abs=1e-12)


def test_measurements_at_one_offset_average_out() -> None:
    found = told((7.250, 0.01), (7.254, 0.01), (7.252, 0.01))
    assert found.change == pytest.approx(-0.008, abs=1e-12)
    assert found.uncertainty < told((7.252, 0.01)).uncertainty
    assert found.gain == 1.0


def test_a_tenth_of_the_pitch_is_told_to_four_digits() -> None:
    """11.5 threads to the inch: P = 2.208696 mm."""
    assert "a tenth of the pitch, 0.2209 mm" in _absurd(0.3, 25.4 / 11.5, "mm").detail


def test_an_absurd_change_is_refused() -> None:
    with pytest.raises(Impossible) as refused:
        told((7.0, 0.0))
    (fault,) = refused.value.faults
    assert fault.code == "correction_absurd"
    assert fault.value == pytest.approx(-0.134)
    assert fault.greatest == pytest.approx(0.125)
    assert told((7.02, 0.0)).change == pytest.approx(-0.124)


@pytest.mark.parametrize("second", [(7.24, -0.02), (7.35, -0.02)])
def test_an_odd_answer_is_refused(second: tuple[float, float]) -> None:
    with pytest.raises(Impossible) as refused:
        told((7.25, 0.0), second)
    (fault,) = refused.value.faults
    assert fault.code == "odd_answer"
    assert fault.value == pytest.approx((second[0] - 7.25) / 0.04)


@pytest.mark.parametrize("end", [0.5, 1.6])
def test_an_answer_is_odd_beyond_three_standard_deviations(end: float) -> None:
    way = 1 if end > 1 else -1
    _refuse_odd_answer(end + way * 2.9 * 0.1, 0.1)
    with pytest.raises(Impossible):
        _refuse_odd_answer(end + way * 3.1 * 0.1, 0.1)


def test_an_odd_answer_within_the_gauges_doubt_is_chance() -> None:
    assert told((7.25, 0.0), (7.248, -0.001)).gain < 1.0


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"measurements": []}, "/measurements"),
        ({"measurements": [Measurement(7.2)] * 101}, "/measurements"),
        ({"measurements": [Measurement(0.0)]}, "/measurements/0/size"),
        (
            {"measurements": [Measurement(7.2), Measurement(7.2, 1e308)]},
            "/measurements/1/radius_offset",
        ),
        ({"aim": math.inf}, "/aim"),
        ({"pitch": 0.0}, "/pitch"),
        ({"uncertainty": 0.0}, "/uncertainty"),
        ({"per_depth": 0.0}, "/per_depth"),
    ],
)
def test_next_offset_refuses(change: dict[str, object], pointer: str) -> None:
    asked: dict[str, object] = {
        "measurements": [Measurement(7.25)], "aim": 7.268, "side": "internal", "pitch": 1.25,
        "unit": "mm", "uncertainty": 0.002, **change,
    }  # fmt: skip
    with pytest.raises(BadInput) as refused:
        next_offset(**asked)  # type: ignore[arg-type]
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


@pytest.mark.parametrize(("side", "centre"), [("internal", 1.0), ("external", 6.3)])
def test_diameter_per_depth_is_the_slope_of_the_form(side: Side, centre: float) -> None:
    cut = single(Tooth(30.0, 30.0, 0.15, 0.85), 3.0, side, 1.25, centre)
    lines = [2 * pitch_line(cut.moved(d)).radius for d in (-0.01, 0.01)]
    slope = abs(lines[1] - lines[0]) / 0.02
    assert diameter_per_depth(cut) == pytest.approx(slope, rel=1e-3)
    assert abs(2 - diameter_per_depth(cut)) > 1e-3
