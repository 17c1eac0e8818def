"""Measurement, uncertainty, verdict, narrowing, flank angle from two wires."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.gauging.groove import Groove
from flankwise_service.core.gauging.measure import (
    flank_angle_of_two,
    measured,
    measured_over,
    narrow,
    verdict,
)
from flankwise_service.core.gauging.over_wires import Method, pitch_diameter_from, reading_over

OUT = Groove(1 / 14, 1 / 14, 30.0, 30.0)
IN = Groove(1.5, 1.5, 30.0, 30.0, "internal")


@pytest.mark.parametrize(
    ("groove", "method", "size", "wire"),
    [
        (OUT, "three wires", 0.825, 0.045),
        (OUT, "over balls", 0.825, 0.038),
        (IN, "over balls", 19.1, 0.9),
        (IN, "between balls", 19.1, 0.8),
        (Groove(0.1, 0.1, 7.0, 45.0), "two wires", 1.0, 0.047),
    ],
)
def test_uncertainty_is_what_each_error_does_to_the_pitch_diameter(
    groove: Groove, method: Method, size: float, wire: float
) -> None:
    reading = reading_over(groove, size, wire, method).reading
    found = measured_over(
        groove, reading, wire, method,
        reading_uncertainty=2e-4, wire_uncertainty=1e-4, flank_angle_uncertainty=0.2,
    )  # fmt: skip
    assert found.measured.pitch_diameter == pytest.approx(size, rel=1e-13)

    def shifted(reading_by: float = 0, wire_by: float = 0, angle_by: float = 0) -> float:
        steeper = replace(
            groove,
            flank_angle_upper=groove.flank_angle_upper + angle_by,
            flank_angle_lower=groove.flank_angle_lower + angle_by,
        )
        other = pitch_diameter_from(steeper, reading + reading_by, wire + wire_by, method)
        return abs(other.pitch_diameter - size)

    # The handbook's coefficients against the exact thread: the lead makes up the small rest.
    assert found.from_reading == pytest.approx(shifted(reading_by=2e-4), rel=5e-3)
    assert found.from_wire == pytest.approx(shifted(wire_by=1e-4), rel=5e-3)
    assert found.from_flank_angle == pytest.approx(
        (shifted(angle_by=0.01) + shifted(angle_by=-0.01)) * 10, rel=3e-2
    )
    total = math.hypot(found.from_reading, found.from_wire, found.from_flank_angle)
    assert found.measured.uncertainty == pytest.approx(total, rel=1e-14)
    assert found.measured.least == found.measured.pitch_diameter - total
    assert found.measured.greatest == found.measured.pitch_diameter + total


def test_uncertainties_out_of_bounds_are_refused_together() -> None:
    with pytest.raises(BadInput) as caught:
        measured_over(
            OUT, 0.88, 0.04,
            reading_uncertainty=-1, wire_uncertainty=1.0, flank_angle_uncertainty=11.0,
        )  # fmt: skip
    assert [fault.pointer for fault in caught.value.faults] == [
        "/reading_uncertainty", "/wire_uncertainty", "/flank_angle_uncertainty",
    ]  # fmt: skip


@pytest.mark.parametrize("bad", [(0.0, 0.1), (10**400, 0.1), (1.0, -0.1), (1.0, float("nan"))])
def test_a_size_that_cannot_be_is_refused(bad: tuple[float, float]) -> None:
    with pytest.raises(BadInput):
        measured(*bad)


@pytest.mark.parametrize(
    ("size", "uncertainty", "standing", "doubt"),
    [
        (0.8243, 0.0002, "inside", None),
        (0.8216, 0.0, "inside", None),
        (0.8270, 0.0, "inside", None),
        (0.8217, 0.0002, "can't be told", "the least limit"),
        (0.8215, 0.0002, "can't be told", "the least limit"),
        (0.8269, 0.0002, "can't be told", "the greatest limit"),
        (0.82715, 0.0002, "can't be told", "the greatest limit"),
        (0.8243, 0.0050, "can't be told", "both limits"),
        (0.8213, 0.0002, "too small", None),
        (0.8273, 0.0002, "too large", None),
    ],
)
def test_a_verdict_is_sure_or_says_that_it_is_not(
    size: float, uncertainty: float, standing: str, doubt: str | None
) -> None:
    told = verdict(measured(size, uncertainty), 0.8216, 0.8270)
    assert (told.standing, told.doubt) == (standing, doubt)
    assert told.room_to_min == size - 0.8216
    assert told.room_to_max == 0.8270 - size
    assert (told.words.split()[-1] if doubt else standing.rsplit(maxsplit=1)[-1]) in told.words
    if doubt:
        assert doubt in told.words
        assert f"{uncertainty:.2g}" in told.words


def test_narrowing_keeps_what_all_measurements_allow() -> None:
    both = narrow([measured(0.8243, 0.0003), measured(0.8247, 0.0002), measured(0.8250, 0.01)])
    assert (both.least, both.greatest) == (0.8247 - 0.0002, 0.8243 + 0.0003)
    assert both.pitch_diameter == pytest.approx(0.82455)
    assert both.uncertainty == pytest.approx(0.00005)
    assert narrow([measured(0.8243, 0.0003)]).uncertainty == pytest.approx(0.0003)


def test_measurements_that_disagree_are_refused_not_averaged() -> None:
    with pytest.raises(Impossible) as caught:
        narrow([measured(0.8243, 0.0001), measured(0.8247, 0.0002)])
    assert caught.value.faults[0].code == "disagree"
    assert caught.value.faults[0].value == pytest.approx(0.0001)
    with pytest.raises(BadInput) as nothing:
        narrow([])
    assert nothing.value.faults[0].code == "none"


@pytest.mark.parametrize("angle", [3.2, 14.5, 27.5, 29.3, 30.0, 30.8, 45.0])
@pytest.mark.parametrize("starts", [1, 4])
@pytest.mark.parametrize(
    ("side", "method"),
    [("external", "three wires"), ("internal", "over balls"), ("internal", "between balls")],
)
def test_two_wires_tell_the_flank_angle(
    angle: float, starts: int, side: str, method: Method
) -> None:
    true = Groove(0.1, starts * 0.1, angle, angle, side)  # type: ignore[arg-type]
    wires = (0.05, 0.062)
    readings = tuple(reading_over(true, 2.0, wire, method).reading for wire in wires)
    supposed = replace(true, flank_angle_upper=30.0, flank_angle_lower=30.0)
    found, size = flank_angle_of_two(supposed, readings, wires, method)  # type: ignore[arg-type]
    assert found == pytest.approx(angle, abs=1e-7)
    assert size == pytest.approx(2.0, abs=1e-9)


def test_two_wires_that_tell_nothing_are_refused() -> None:
    with pytest.raises(BadInput) as caught:
        flank_angle_of_two(OUT, (0.88, 0.881), (0.04, 0.0405))
    assert caught.value.faults[0].code == "wires_alike"
    for second in (0.880, 0.90, 1.5):  # flatter than 58 degrees, or steeper than 3
        with pytest.raises(Impossible) as refused:
            flank_angle_of_two(OUT, (0.88, second), (0.04, 0.05))
        assert refused.value.faults[0].code == "no_angle"
    with pytest.raises(BadInput):
        flank_angle_of_two(IN, (18.0, 18.1), (0.8, 0.9), "three wires")


def test_readings_that_fit_in_the_section_but_not_on_the_helicoid_are_refused() -> None:
    steep = Groove(1.0, 16.0, 30.0, 30.0)
    with pytest.raises(Impossible) as refused:
        flank_angle_of_two(
            steep, (10.34453545, 13.35654914), (0.55697797, 1.93128193), "over balls"
        )
    assert refused.value.faults[0].code == "no_angle"


@pytest.mark.parametrize(
    ("angle", "fits"), [(2.9, False), (3.1, True), (57.9, True), (58.1, False)]
)
def test_flank_angles_are_looked_for_from_3_to_58_degrees(angle: float, fits: bool) -> None:
    # Next to no lead, so that the section formula tells the angle.
    true = Groove(0.1, 0.1, angle, angle)
    wires = (0.05, 0.062)
    readings = (reading_over(true, 500.0, 0.05).reading, reading_over(true, 500.0, 0.062).reading)
    if fits:
        assert flank_angle_of_two(true, readings, wires)[0] == pytest.approx(angle, abs=1e-5)
        return
    with pytest.raises(Impossible):
        flank_angle_of_two(true, readings, wires)
