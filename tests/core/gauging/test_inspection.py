"""One reading taken all the way."""

from __future__ import annotations

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.gauging.correction import correction, correction_table
from flankwise_service.core.gauging.groove import groove_of
from flankwise_service.core.gauging.inspection import inspection, table_for
from flankwise_service.core.gauging.measure import measured_over, verdict
from flankwise_service.core.gauging.over_wires import notes_on
from flankwise_service.core.threads import limits

BOLT = limits("7/8-14 UNF-2A")
GROOVE = groove_of(BOLT.basic, "external")


def test_an_inspection_is_its_three_steps() -> None:
    told = inspection(
        BOLT, 0.8877, 0.04, "two wires", unit="in",
        reading_uncertainty=0.0001, wire_uncertainty=0.00002, flank_angle_uncertainty=0.1,
        aim=0.825, diameter_per_radius=1.8,
    )  # fmt: skip
    over = measured_over(
        GROOVE, 0.8877, 0.04, "two wires",
        reading_uncertainty=0.0001, wire_uncertainty=0.00002, flank_angle_uncertainty=0.1,
    )  # fmt: skip
    assert told.over == over
    assert told.verdict == verdict(over.measured, 0.8216, 0.8270)
    assert told.verdict.standing == "too large"
    assert told.notes == notes_on(GROOVE, "two wires", "square to the axis")
    assert told.correction == correction(
        over.measured, 0.8216, 0.8270, side="external", pitch=GROOVE.pitch, unit="in",
        aim=0.825, diameter_per_radius=1.8,
    )  # fmt: skip


def test_a_table_is_the_corrections_own() -> None:
    rows = table_for(
        BOLT, 0.04, "three wires", unit="in", aim=0.825, rows=5, diameter_per_radius=1.8
    )
    assert rows == correction_table(
        GROOVE, 0.04, 0.8216, 0.8270, unit="in", aim=0.825, rows=5, diameter_per_radius=1.8
    )


def test_a_wire_that_does_not_fit_is_told_before_its_reading_is_believed() -> None:
    for run in (
        lambda: inspection(BOLT, 0.98, 0.08, "three wires", unit="in", reading_uncertainty=0.0),
        lambda: table_for(BOLT, 0.08, "three wires", unit="in"),
    ):
        with pytest.raises(Impossible) as caught:
            run()
        assert [fault.code for fault in caught.value.faults] == ["rides_on_crest"]
    with pytest.raises(BadInput):
        inspection(BOLT, 0.88, 0.04, "between balls", unit="in", reading_uncertainty=0.0)
    with pytest.raises(BadInput):
        table_for(BOLT, 0.04, "between balls", unit="in")


def test_a_wire_that_fits_one_end_of_the_tolerance_only_is_refused() -> None:
    # 0.0655 rides on the deepest cut crest when the groove is shallow, at the greatest diameter.
    with pytest.raises(Impossible):
        inspection(BOLT, 0.96, 0.0655, "three wires", unit="in", reading_uncertainty=0.0)


def test_left_out_the_aim_is_the_middle_and_the_machine_rigid() -> None:
    told = inspection(BOLT, 0.8877, 0.04, "three wires", unit="in", reading_uncertainty=0.0001)
    assert told.over == measured_over(GROOVE, 0.8877, 0.04, reading_uncertainty=0.0001)
    size = told.over.measured.pitch_diameter
    assert told.correction.radius_offset_change == pytest.approx((0.8243 - size) / 2)
    rows = table_for(BOLT, 0.04, "three wires", unit="in")
    assert len(rows) == 11
    assert rows[0].radius_offset_change == pytest.approx((0.8243 - rows[0].pitch_diameter) / 2)
