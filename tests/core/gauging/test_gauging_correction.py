"""From measurement to radius offset: sense, size, words, guards."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.gauging.correction import (
    GREATEST_SHARE_OF_PITCH,
    NO_CORRECTION,
    correction,
    correction_table,
    fate_of,
    in_words,
    offset_change,
)
from flankwise_service.core.gauging.groove import Groove
from flankwise_service.core.gauging.measure import measured
from flankwise_service.core.gauging.over_wires import pitch_diameter_from, reading_over
from flankwise_service.core.gauging.response import response
from flankwise_service.core.threads.model import Side

LOW, HIGH, PITCH = 0.8216, 0.8270, 1 / 14


def fix(size: float, uncertainty: float = 0.0001, side: Side = "external", **more: Any) -> Any:
    return correction(
        measured(size, uncertainty), LOW, HIGH, side=side, pitch=PITCH, unit="in", **more
    )


def cut(offset: float, side: Side, programmed: float) -> float:
    """Return the diameter a cutter cuts when its centre is kept `offset` from the contour.

    By the machine's own logic: the programmed contour is the wanted surface; the centre path lies
    outside it for an external thread and inside for an internal one; the true cutter radius is 0.2.
    """
    true = 0.2
    if side == "external":
        return 2 * (programmed / 2 + offset - true)
    return 2 * (programmed / 2 - offset + true)


@pytest.mark.parametrize("side", ["external", "internal"])
@pytest.mark.parametrize("size", [0.8205, 0.8250, 0.8243, 0.8285])
def test_the_changed_offset_cuts_the_aim(side: Side, size: float) -> None:
    programmed = 0.8243
    old = 0.2 + (size - programmed) / 2 * (1 if side == "external" else -1)
    assert cut(old, side, programmed) == pytest.approx(size, abs=1e-12)
    told = fix(size, side=side)
    new = old + told.radius_offset_change
    assert cut(new, side, programmed) == pytest.approx(told.aim, abs=1e-12)
    assert told.diameter_offset_change == 2 * told.radius_offset_change
    assert told.pitch_diameter_change == told.aim - size


def test_the_aim_is_the_middle_or_as_asked() -> None:
    assert fix(0.8286).aim == (LOW + HIGH) / 2
    asked = fix(0.8286, aim=0.8220)
    assert asked.aim == 0.8220
    assert asked.radius_offset_change == pytest.approx(-0.0033)
    assert fix(0.8250, aim=HIGH).aim == HIGH


def test_another_response_changes_the_change() -> None:
    assert offset_change(0.8286, 0.8270, "external", 1.6) == pytest.approx(-0.001)
    told = fix(0.8286, diameter_per_radius=1.6)
    assert told.radius_offset_change == pytest.approx(fix(0.8286).radius_offset_change * 2 / 1.6)


@pytest.mark.parametrize(
    ("change", "unit", "words"),
    [
        (-0.0008, "in", "make the radius offset smaller by 0.0008 in"),
        (0.00084, "in", "make the radius offset larger by 0.0008 in"),
        (0.0154, "mm", "make the radius offset larger by 0.015 mm"),
        (-0.0004, "mm", "leave the radius offset as it is"),
        (0.0, "in", "leave the radius offset as it is"),
    ],
)
def test_the_sense_is_said_in_words(change: float, unit: Any, words: str) -> None:
    assert in_words(change, unit) == words


def test_whether_the_part_can_be_reworked() -> None:
    assert fix(0.8286).rework is True
    assert fix(0.8205).rework is False
    assert fix(0.8205, side="internal").rework is True
    assert fix(0.8286, side="internal").rework is False
    assert fix(0.8250).rework is None
    assert fix(0.82695).rework is True
    assert fix(0.82165).rework is None


def test_cautions_say_what_to_mind() -> None:
    assert fix(0.8250).cautions == ()
    assert len(fix(0.82695).cautions) == 1
    assert "uncertainty" in fix(0.82695).cautions[0]
    assert "metal is missing" in fix(0.8205).cautions[0]
    far = fix(0.8243 + 2 * (HIGH - LOW) + 0.0002).cautions
    assert any("twice the tolerance" in caution for caution in far)
    near = fix(0.8243 + 2 * (HIGH - LOW) - 0.0002).cautions
    assert not any("twice the tolerance" in caution for caution in near)
    assert any("noise" in caution for caution in fix(0.8243 + 0.0009, 0.001).cautions)
    assert not any("noise" in caution for caution in fix(0.8243 + 0.0011, 0.001).cautions)
    assert not any("noise" in caution for caution in fix((LOW + HIGH) / 2, 0.001).cautions)


def test_an_absurd_change_is_refused_with_figures() -> None:
    aim = (LOW + HIGH) / 2
    edge = 2 * GREATEST_SHARE_OF_PITCH * PITCH
    fix(aim + edge - 1e-6)
    fix(aim - edge + 1e-6)
    for size in (aim + edge + 1e-6, aim - edge - 1e-6):
        with pytest.raises(Impossible) as caught:
            fix(size)
        (fault,) = caught.value.faults
        assert (fault.pointer, fault.code, fault.unit) == (
            "/pitch_diameter", "absurd_correction", "in",
        )  # fmt: skip
        assert fault.least is not None
        assert fault.greatest is not None
        for told in (fault.least, fault.greatest):
            fix(told)
        assert fault.least == pytest.approx(aim - edge)
        assert fault.greatest == pytest.approx(aim + edge)
        assert "0.00714 in" in fault.detail


@pytest.mark.parametrize(
    ("more", "pointer"),
    [
        ({"aim": LOW - 1e-4}, "/aim"),
        ({"aim": HIGH + 1e-4}, "/aim"),
        ({"aim": float("nan")}, "/aim"),
        ({"diameter_per_radius": 0.9}, "/diameter_per_radius"),
        ({"diameter_per_radius": 3.6}, "/diameter_per_radius"),
    ],
)
def test_aims_outside_the_limits_and_odd_responses_are_refused(
    more: dict[str, Any], pointer: str
) -> None:
    with pytest.raises(BadInput) as caught:
        fix(0.8250, **more)
    assert [fault.pointer for fault in caught.value.faults] == [pointer]


def test_bad_limits_and_pitch_are_refused() -> None:
    size = measured(0.825, 0.0001)
    with pytest.raises(BadInput) as caught:
        correction(size, -1, 10**400, side="external", pitch=PITCH, unit="in")
    assert [fault.pointer for fault in caught.value.faults] == ["/least", "/greatest"]
    with pytest.raises(BadInput) as caught:
        correction(size, LOW, HIGH, side="external", pitch=0.0, unit="in")
    assert [fault.pointer for fault in caught.value.faults] == ["/pitch"]


OUT = Groove(PITCH, PITCH, 30.0, 30.0)


def test_the_table_runs_from_a_tolerance_below_to_one_above() -> None:
    rows = correction_table(OUT, 0.04, LOW, HIGH, unit="in", rows=13)
    assert len(rows) == 13
    tolerance = HIGH - LOW
    first = reading_over(OUT, LOW - tolerance, 0.04).reading
    last = reading_over(OUT, HIGH + tolerance, 0.04).reading
    assert rows[0].reading == pytest.approx(first, abs=0.00005)
    assert rows[-1].reading == pytest.approx(last, abs=0.00005)
    for row in rows:
        assert row.reading == round(row.reading, 4)
        size = pitch_diameter_from(OUT, row.reading, 0.04).pitch_diameter
        assert row.pitch_diameter == size
        assert row.radius_offset_change == offset_change(size, (LOW + HIGH) / 2, "external")
        assert row.words == in_words(offset_change(size, (LOW + HIGH) / 2, "external"), "in")
        inside = LOW <= size <= HIGH
        assert row.standing == ("inside" if inside else "too small" if size < LOW else "too large")
        assert row.part == ("good" if inside else "scrap" if size < LOW else "rework")
    for one, other in pairwise(rows):
        assert one.reading < other.reading
        assert one.radius_offset_change is not None
        assert other.radius_offset_change is not None
        assert one.radius_offset_change > other.radius_offset_change


def test_a_row_that_no_correction_mends_has_no_number() -> None:
    """What `correction` refuses, a table must not tell to dial in."""
    rows = correction_table(OUT, 0.04, LOW, LOW + 0.014, unit="in", rows=41)
    assert {row.radius_offset_change is None for row in rows} == {True, False}
    for row in rows:
        found = measured(row.pitch_diameter, 0.0)
        if row.radius_offset_change is None:
            assert row.words == NO_CORRECTION
            with pytest.raises(Impossible):
                correction(found, LOW, LOW + 0.014, side="external", pitch=OUT.pitch, unit="in")
            continue
        told = correction(found, LOW, LOW + 0.014, side="external", pitch=OUT.pitch, unit="in")
        assert (told.radius_offset_change, told.words) == (row.radius_offset_change, row.words)


@pytest.mark.parametrize(("side", "small"), [("external", "scrap"), ("internal", "rework")])
def test_what_becomes_of_a_part_is_what_its_correction_says(side: Side, small: str) -> None:
    for size, standing in ((0.815, "too small"), (0.824, "inside"), (0.829, "too large")):
        told = correction(measured(size, 0.0), LOW, HIGH, side=side, pitch=1 / 14, unit="in")
        fate = fate_of(standing, side)
        assert told.verdict.standing == standing
        assert told.rework == {"good": None, "rework": True, "scrap": False}[fate]
    assert fate_of("too small", side) == small


def test_a_table_inside_rises_the_other_way_and_takes_an_aim() -> None:
    groove = Groove(1.5, 1.5, 30.0, 30.0, "internal")
    rows = correction_table(
        groove, 0.866, 19.026, 19.216, unit="mm", method="between balls", aim=19.1, rows=3,
        diameter_per_radius=1.9,
    )  # fmt: skip
    assert [row.standing for row in rows] == ["too small", "inside", "too large"]
    assert [row.part for row in rows] == ["rework", "good", "scrap"]
    for row in rows:
        assert row.reading == round(row.reading, 3)
        change = (row.pitch_diameter - 19.1) / 1.9
        past = abs(change) > 0.15  # a tenth of the pitch
        assert row.radius_offset_change == (None if past else pytest.approx(change))
    assert rows[0].words.startswith("make the radius offset smaller by 0.1")
    assert rows[-1].words == NO_CORRECTION


def test_rows_a_gauge_cannot_tell_apart_are_given_once() -> None:
    rows = correction_table(OUT, 0.04, 0.8240, 0.8241, unit="in", rows=201)
    assert len(rows) == len({row.reading for row in rows}) == 4


@pytest.mark.parametrize("rows", [2, 202, 10**400])
def test_too_few_or_too_many_rows_are_refused(rows: int) -> None:
    with pytest.raises(BadInput) as caught:
        correction_table(OUT, 0.04, LOW, HIGH, unit="in", rows=rows)
    assert [fault.pointer for fault in caught.value.faults] == ["/rows"]


def test_a_table_with_an_aim_outside_is_refused() -> None:
    with pytest.raises(BadInput):
        correction_table(OUT, 0.04, LOW, HIGH, unit="in", aim=HIGH + 0.001)


def answer(before: float, after: float, by: float, side: Side = "external", **more: Any) -> Any:
    sizes = [measured(before, 0.0001), measured(after, 0.0001)]
    return response(sizes, by, LOW, HIGH, side=side, pitch=PITCH, unit="in", **more)


def test_the_second_correction_uses_the_answer_to_the_first() -> None:
    told = answer(0.8290, 0.8260, -0.002)
    assert told.diameter_per_radius == pytest.approx(1.5)
    assert told.correction.radius_offset_change == pytest.approx((0.8243 - 0.8260) / 1.5)
    inside = answer(0.8200, 0.8230, -0.0015, "internal", aim=0.8240)
    assert inside.diameter_per_radius == pytest.approx(2.0)
    assert inside.correction.radius_offset_change == pytest.approx(-0.0005)


@pytest.mark.parametrize(
    ("before", "after", "by"),
    [
        (0.8290, 0.8290, -0.002),
        (0.8290, 0.8310, -0.002),
        (0.8290, 0.8271, -0.002),
        (0.8290, 0.8219, -0.002),
    ],
)
def test_a_thread_that_did_not_answer_is_refused(before: float, after: float, by: float) -> None:
    with pytest.raises(Impossible) as caught:
        answer(before, after, by)
    assert caught.value.faults[0].code == "no_answer"
    assert "-0 times" not in caught.value.faults[0].detail


def test_a_change_lost_in_the_uncertainty_is_refused() -> None:
    for by in (0.0, 0.0002, -0.0002, float("nan"), 10**400):
        with pytest.raises(BadInput) as caught:
            answer(0.8290, 0.8260, by)
        assert [fault.pointer for fault in caught.value.faults] == ["/changed_by"]
    answer(0.8290, 0.82855, -0.000201)
    with pytest.raises(BadInput) as caught:
        response([measured(0.825, 0.0)], 0.001, LOW, HIGH, side="external", pitch=PITCH, unit="in")
    assert caught.value.faults[0].code == "two_sizes"
    assert not math.isnan(answer(0.8290, 0.8250, -0.002).diameter_per_radius)
