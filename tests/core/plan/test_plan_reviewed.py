"""What a hostile review of whole plans found, each so that it can't come back.

The program text is read here by a few lines of our own, not by the project's interpreter.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import (
    BossAsked,
    EndMill,
    HoleAsked,
    Job,
    Machine,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.result import Plan
from support.jobs import ASSUMED_TOOTH, adapter, not_passed, plan, port


def check(found: Plan, code: str) -> Check:
    return next(one for one in found.checks if one.code == code)


def text_of(found: Plan) -> str:
    assert found.program is not None
    return found.program.text


def blocks_of_tool(text: str, number: int) -> list[dict[str, float]]:
    """Return the words of each block of one tool's part of a program."""
    part = text.split(f"T{number} M06\n")[1].split(" M06\n", maxsplit=1)[0]
    return [
        {letter: float(value) for letter, value in re.findall(r"([A-Z])(-?\d+\.?\d*)", line)}
        for line in part.splitlines()
        if line[0] in "GXYZ"
    ]


def steepest(found: Plan) -> float:
    """Return the steepest way down of the end mill while it bores, degrees, from the text."""
    assert found.blank.end_mill is not None
    x = y = z = worst = 0.0
    for words in blocks_of_tool(text_of(found), found.blank.end_mill.number):
        to = (words.get("X", x), words.get("Y", y), words.get("Z", z))
        if "I" in words:
            cx, cy = x + words["I"], y + words["J"]
            turned_rad = math.atan2(to[1] - cy, to[0] - cx) - math.atan2(y - cy, x - cx)
            way = math.hypot(words["I"], words["J"]) * (turned_rad % math.tau)
            worst = max(worst, math.degrees(math.atan2(z - to[2], way)))
        x, y, z = to
    return worst


def test_two_tools_never_share_a_number() -> None:
    assert adapter().cutter is not None
    mine = replace(adapter().cutter, number=2)  # type: ignore[type-var]
    found = plan(adapter(cutter=mine, end_mill=None))
    changes = re.findall(r"^T(\d+) M06$", text_of(found), re.MULTILINE)
    assert len(changes) == len(set(changes)) == 2
    assert any("tool number 3" in line for line in found.assumed)
    with pytest.raises(BadInput) as caught:
        plan(adapter(cutter=mine))
    assert [fault.pointer for fault in caught.value.faults] == ["/end_mill/number"]
    # A boss that is ready needs no end mill, so its number doesn't matter.
    ready = plan(adapter(cutter=mine, boss=BossAsked(1.0, ready=True, diameter=0.868)))
    assert text_of(ready).count("M06") == 1


@pytest.mark.parametrize("drilled", [None, 9.0])
def test_a_tight_hole_is_not_rammed(drilled: float | None) -> None:
    # 9.5 in 10.376: at a quarter of the diameter per turn the way down would be 31 degrees.
    job = port(
        thread=ThreadAsked("M12x1.5-6H", 12), cutter=None, end_mill=EndMill(9.5, 3, 25),
        hole=HoleAsked(18, drilled_diameter=drilled),
    )  # fmt: skip
    # 6 degrees: common practice, no source; the text is rounded to 0.001 mm.
    assert 5.5 < steepest(plan(job)) < 6.05


def test_a_roomy_hole_keeps_a_quarter_of_the_diameter_per_turn() -> None:
    found = plan(port(end_mill=EndMill(10, 4, 25)))
    assert steepest(found) < 6.0
    assert found.blank_path is not None


@pytest.mark.parametrize("size", [6.0, 8.0, 10.0])
def test_a_boss_far_below_its_bar_is_milled_in_rounds(size: float) -> None:
    # Rounds begin above one another but for the last bit, which was refused as a slanted rapid.
    job = Job(
        "mm", ThreadAsked("M16-6g", 20), StockAsked("304", across_flats=60), boss=BossAsked(28),
        end_mill=EndMill(size, 4, 32),
    )  # fmt: skip
    found = plan(job)
    assert not_passed(found) == ASSUMED_TOOTH
    tool = blocks_of_tool(text_of(found), 2)
    rapids = [words for words in tool if words.get("G") == 0]
    assert rapids
    assert not [words for words in rapids if "Z" in words and ("X" in words or "Y" in words)]


def test_a_milled_boss_ends_where_the_bar_goes_on() -> None:
    # No shoulder said; still half a tooth would plough into the bar below the boss.
    found = plan(adapter(boss=BossAsked(0.9, shoulder=False)))
    assert found.verdict == "refused"
    assert check(found, "axial_budget").state == "refused"
    assert not_passed(plan(adapter(boss=BossAsked(1.0, shoulder=False)))) == ASSUMED_TOOTH


def test_the_end_mills_holder_stays_off_the_face() -> None:
    mill = adapter().end_mill
    assert mill is not None
    short = plan(adapter(end_mill=replace(mill, overhang=0.9)))
    assert short.verdict == "refused"
    one = check(short, "end_mill_overhang")
    assert (one.state, one.acceptable) == ("refused", False)
    assert not_passed(plan(adapter(end_mill=replace(mill, overhang=1.2)))) == ASSUMED_TOOTH


def lines(chord: float, **changes: Any) -> Plan:
    return plan(port(machine=Machine(helical_arcs=False, chord_tolerance=chord), **changes))


def test_chords_count_against_the_limits() -> None:
    # The middle of 6H is 0.095 above the least pitch diameter: a chord of 0.05 takes 0.1 of it.
    coarse, fine = lines(0.05), lines(0.01)
    one = check(coarse, "chord_tolerance")
    assert one.state == "refused"
    assert one.figure == pytest.approx(0.1)
    assert coarse.program is None
    assert check(fine, "chord_tolerance").state == "passed"
    # The root's own play is the smallest here: 20.0679 mm of major diameter against 20.
    assert check(fine, "chord_tolerance").limit == pytest.approx(
        fine.form.major_diameter - 20.0, abs=1e-9
    )
    assert not [c for c in plan(port()).checks if c.code == "chord_tolerance"]


def test_what_is_taken_for_granted_of_a_blank_is_said() -> None:
    def words(hole: HoleAsked) -> str:
        return " ".join(plan(port(hole=hole)).assumed)

    assert "not measured" in words(HoleAsked(22, ready=True))
    assert "not measured" not in words(HoleAsked(22, ready=True, diameter=18.5))
    drilled = plan(port(hole=HoleAsked(22, drilled_diameter=16)))
    assert "22 mm deep at its full diameter" in check(drilled, "drilled_hole").change
    solid = plan(port(hole=HoleAsked(22)))
    assert "drilled_hole" not in [one.code for one in solid.checks]


def test_room_below_a_through_hole_is_asked_for() -> None:
    found = plan(port(hole=HoleAsked(16, through=True)))
    lowest = min(words["Z"] for words in blocks_of_tool(text_of(found), 5) if "Z" in words)
    one = check(found, "axial_budget")
    assert one.state == "passed"
    assert f"leave more than {-lowest - 16:.4g} mm free below the part" in one.change
    assert one.change in found.advice
    assert check(plan(port(hole=HoleAsked(30, through=True))), "axial_budget").change == ""


def test_a_gauge_of_two_balls_is_to_be_held_square() -> None:
    # Between balls in opposite grooves half a pitch apart, the straight way is longer than the
    # way square to the axis: sqrt(c^2 + (P/2)^2) against c, 0.015 mm here. Geometry.
    found = plan(port())
    assert found.gauging is not None
    apart = found.gauging.aimed_reading + found.gauging.wire
    assert math.hypot(apart, 0.75) - apart == pytest.approx(0.015, abs=5e-4)
    assert "square to the axis: opposite grooves lie 0.75 mm" in check(found, "gauging").change
    assert check(plan(adapter()), "gauging").change == ""
    even = plan(port(thread=ThreadAsked("M20xPh3P1.5-6H", 16)))
    assert check(even, "gauging").change == ""


def test_chords_make_a_boss_smaller_too() -> None:
    # 7/8-14 UNF-2A in the middle: 0.00515 of major diameter, 0.0027 of pitch diameter to spare.
    job = adapter(machine=Machine(helical_arcs=False, chord_tolerance=0.001))
    one = check(plan(job), "chord_tolerance")
    assert one.limit == pytest.approx((0.8270 - 0.8216) / 2, abs=1e-7)
    assert one.state == "passed"
    sharp = replace(job, machine=Machine(helical_arcs=False, chord_tolerance=0.0014))
    assert plan(sharp).verdict == "refused"


def test_a_bore_that_cannot_be_made_is_told_at_the_jobs_own_place() -> None:
    with pytest.raises(Impossible) as caught:
        plan(port(hole=HoleAsked(22, drilled_diameter=19.0)))
    assert [fault.pointer for fault in caught.value.faults] == ["/hole/drilled_diameter"]
