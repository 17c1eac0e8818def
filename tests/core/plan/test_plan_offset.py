"""The correction from a measured part: judged by that part, told wherever it is used."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.core.form.pitchline import pitch_line
from flankwise_service.core.plan import compose, preparing
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    CuttingAsked,
    Job,
    Machine,
    MeasuredPart,
    ProgramAsked,
)
from flankwise_service.core.plan.result import Plan
from support.jobs import adapter, others, plan, port


def check(made: Plan, code: str) -> Check:
    return next(one for one in made.checks if one.code == code)


def corrected(offset: float, measured: float | None = None, then: float = 0.0) -> CuttingAsked:
    part = None if measured is None else MeasuredPart(measured, then)
    return CuttingAsked(radius_offset=offset, measured=part)


def fault(job: Job) -> Fault:
    with pytest.raises(Refusal) as caught:
        work(job, "0")
    (found,) = caught.value.faults
    return found


# The coolant port aims at 19.121 mm: M20x1.5-6H, pitch diameter 19.026 to 19.216 (ISO 965-1).


def test_a_correction_larger_than_the_tolerance_is_judged_by_the_part_it_corrects() -> None:
    """Cut 0.4 mm small, corrected by the tangent of the form: 2 x 0.2 mm on the radius, near."""
    alone = plan(port(cutting=corrected(-0.125)))
    assert alone.verdict == "refused"
    told = check(alone, "pitch_diameter_as_cut").change
    assert "state the measured part it answers in cutting.measured, or take it back" in told
    assert "aim" not in check(alone, "functional_diameter_as_cut").change
    made = plan(port(cutting=corrected(-0.125, 19.121 - 0.25)))
    assert made.program is not None
    assert check(made, "radius_offset").state == "passed"
    assert made.form.pitch_diameter == pytest.approx(19.121, abs=0.002)
    assert made.passes[-1].centre_radius == pytest.approx(alone.passes[-1].centre_radius)
    assert "(- The path is corrected by 0.125 mm on the radius, deeper into the part".upper() in (
        made.program.text.upper()
    )


@pytest.mark.parametrize("base", [adapter, port])
@pytest.mark.parametrize("error", [-0.002, 0.0015])
def test_a_machine_that_cuts_beside_its_path_is_brought_to_the_aim_in_two_parts(
    base: object, error: float
) -> None:
    """The machine is simulated: it cuts `error` deeper than the path, whatever the offset."""
    first: Job = base()  # type: ignore[operator]
    ready = preparing.prepared(first)
    ideal = compose.milled(ready).cut
    aim = plan(first).form.pitch_diameter

    def measured(offset: float) -> float:
        return 2 * pitch_line(ideal.moved(error - offset)).radius

    size = measured(0.0)
    off = (aim - size) / 2 * (-1 if ready.sizes.side == "internal" else 1)
    second = replace(first, cutting=corrected(off, size))
    made = plan(second)
    assert made.verdict == plan(first).verdict
    assert made.form.pitch_diameter == pytest.approx(measured(off), abs=1e-6)
    assert abs(made.form.pitch_diameter - aim) < 0.1 * abs(size - aim)
    third = plan(replace(first, cutting=corrected(off, measured(off), off)))
    assert third.form.pitch_diameter == pytest.approx(measured(off), abs=1e-6)


def test_a_correction_the_wrong_way_is_told_with_the_right_one() -> None:
    small = 19.121 - 0.10
    wrong = plan(port(cutting=corrected(0.05, small)))
    assert wrong.verdict == "refused"
    told = check(wrong, "pitch_diameter_as_cut").change
    assert told.startswith("with the part measured, cutting.radius_offset -0.0")
    right = float(told.split()[5])
    made = plan(port(cutting=corrected(right, small)))
    assert made.form.pitch_diameter == pytest.approx(19.121, abs=1e-3)
    assert check(made, "pitch_diameter_as_cut").state == "passed"


def test_a_measured_part_without_a_correction_is_told_the_one_it_asks_for() -> None:
    small = 19.121 - 0.2
    made = plan(port(cutting=corrected(0.0, small)))
    assert made.verdict == "refused"
    for code in ("pitch_diameter_as_cut", "functional_diameter_as_cut"):
        told = check(made, code).change
        assert told.startswith("with the part measured, cutting.radius_offset -0.1")
    right = float(told.split()[5])
    assert plan(port(cutting=corrected(right, small))).form.pitch_diameter == pytest.approx(
        19.121, abs=2e-3
    )


def test_a_correction_without_a_part_is_a_caution_and_one_too_large_refused() -> None:
    small = check(plan(port(cutting=corrected(-0.01))), "radius_offset")
    assert (small.state, small.figure) == ("caution", -0.01)
    assert "no part is stated" in small.detail
    large = check(plan(port(cutting=corrected(0.1501, 19.4))), "radius_offset")
    assert (large.state, large.figure, large.limit) == ("refused", 0.1501, pytest.approx(0.15))
    assert "farther off the part" in large.detail
    just = check(plan(port(cutting=corrected(0.15, 19.4))), "radius_offset")
    assert just.state == "passed"


def test_an_offset_in_the_path_and_one_at_the_control_are_told_apart() -> None:
    job = port(cutting=corrected(-0.01, 19.1), program=ProgramAsked(radius_offset=5))
    made = plan(job)
    both = check(made, "radius_offset")
    assert both.state == "caution"
    assert "radius offset D5 comes on top" in both.detail
    assert "set D5 to 0 before the first part" in both.change
    assert made.program is not None
    assert "THE PATH IS CORRECTED BY 0.01" in made.program.text.upper()
    plain = plan(port(program=ProgramAsked(radius_offset=5)))
    assert "radius_offset" not in {one.code for one in plain.checks}
    assert plain.program is not None
    assert "CORRECTED BY" not in plain.program.text.upper()


@pytest.mark.parametrize("size", [19.9, 18.3])
def test_a_part_that_no_wear_explains_is_refused(size: float) -> None:
    found = fault(port(cutting=corrected(-0.01, size)))
    assert (found.pointer, found.code, found.value) == (
        "/cutting/measured/pitch_diameter", "correction_absurd", size,
    )  # fmt: skip
    assert (found.least, found.greatest) == pytest.approx((19.121 - 0.3, 19.121 + 0.3), abs=1e-6)


def test_a_radius_offset_is_not_promised_where_it_is_never_switched_on() -> None:
    lines = Machine(helical_arcs=False)
    found = fault(port(machine=lines, program=ProgramAsked(radius_offset=6)))
    assert (found.pointer, found.code, found.value) == (
        "/program/radius_offset", "offset_needs_arcs", 6,
    )  # fmt: skip
    assert plan(port(machine=lines)).program is not None


def test_a_taper_that_an_offset_cannot_follow_is_told_once() -> None:
    job = others()["1/2-14 NPT internal"]
    found = fault(replace(job, program=ProgramAsked(radius_offset=5)))
    assert (found.pointer, found.code, found.value) == (
        "/program/radius_offset", "offset_cant_follow", 5,
    )  # fmt: skip
    assert "corners of up to 0." in found.detail
