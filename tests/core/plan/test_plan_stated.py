"""What a job states is used, or told, or refused: never thrown away in silence."""

from __future__ import annotations

import ast
from dataclasses import replace
from pathlib import Path

import pytest

import flankwise_service.core.plan as folder
from flankwise_service.core.errors import BadInput, Fault, Refusal
from flankwise_service.core.plan.asked import ACCEPTABLE
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    BossAsked,
    EndMill,
    HoleAsked,
    Job,
    Machine,
    ProgramAsked,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.result import Plan
from flankwise_service.core.stock.bars import bars
from support.jobs import ASSUMED_TOOTH, adapter, not_passed, plan, port


def check(made: Plan, code: str) -> Check:
    return next(one for one in made.checks if one.code == code)


def fault(job: Job, pointer: str) -> Fault:
    with pytest.raises(Refusal) as caught:
        work(job, "0")
    assert type(caught.value) is BadInput
    (found,) = [one for one in caught.value.faults if one.pointer == pointer]
    return found


# -- a blank's stated size (ISO 965-1, M20x1.5-6H: minor diameter 18.376 to 18.676)


def test_a_hole_wider_than_it_would_be_bored_is_refused() -> None:
    found = fault(port(hole=HoleAsked(22, diameter=19.9)), "/hole/diameter")
    assert (found.code, found.value, found.greatest, found.least) == (
        "past_size", 19.9, pytest.approx(18.526), None,
    )  # fmt: skip
    assert "the hole is 19.9 mm already, larger than the 18.526 mm it would be bored to" in (
        found.detail
    )
    assert "set hole.ready to true (it must be 18.376 to 18.676 mm)" in found.change
    assert "leave hole.diameter out" in found.change
    # Also where it is inside its limits: it is finished then, or it would be bored to less.
    assert fault(port(hole=HoleAsked(22, diameter=18.6)), "/hole/diameter").code == "past_size"
    aimed = ThreadAsked("M20x1.5-6H", 16, crest_aim=1.0)
    assert not_passed(plan(port(thread=aimed, hole=HoleAsked(22, diameter=18.6)))) == ASSUMED_TOOTH


def test_a_boss_thinner_than_it_would_be_milled_is_refused() -> None:
    found = fault(adapter(boss=BossAsked(1.0, diameter=0.86)), "/boss/diameter")
    assert (found.code, found.least, found.greatest) == ("past_size", pytest.approx(0.86825), None)
    assert "smaller than the 0.86825 in it would be milled to: no cutter makes it thicker" in (
        found.detail
    )
    assert "set boss.ready to true (it must be 0.8631 to 0.8734 in)" in found.change


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (port(hole=HoleAsked(22, diameter=18.0)),
         "hole: the 18 mm stated is no finished size (hole.ready isn't set); it is bored from "
         "solid metal to 18.526 mm"),
        (port(hole=HoleAsked(22, diameter=18.526, drilled_diameter=16)),
         "hole: the 18.526 mm stated is no finished size (hole.ready isn't set); it is bored from "
         "the drilled 16 mm to 18.526 mm"),
        (adapter(boss=BossAsked(1.0, diameter=1.0)),
         "boss: the 1 in stated is no finished size (boss.ready isn't set); it is milled from "
         "the bar to 0.86825 in"),
    ],
)  # fmt: skip
def test_a_size_stated_of_an_unfinished_blank_is_told(job: Job, words: str) -> None:
    made = plan(job)
    assert words in made.assumed
    assert made.blank_path is not None


def test_nothing_is_told_where_nothing_is_stated() -> None:
    for job in (port(), adapter(), port(hole=HoleAsked(22, ready=True, diameter=18.5))):
        assert not any(line.startswith(("hole:", "boss:")) for line in plan(job).assumed)


def test_a_missing_blank_is_told_as_that() -> None:
    assert fault(port(hole=None), "/hole").code == "missing"


# -- the machine


def machine_line(job: Job) -> str:
    (line,) = [one for one in plan(job).assumed if one.startswith("machine:")] or [""]
    return line


def test_a_machine_not_stated_is_told_with_what_is_asked_of_it() -> None:
    """M3 with a small cutter in 7075: more revolutions than most spindles have."""
    job = Job(
        "mm", ThreadAsked("M3-6H", 3.0), StockAsked("7075", "round", diameter=20),
        hole=HoleAsked(6.0, ready=True, diameter=2.52),
    )  # fmt: skip
    made = plan(job)
    speed, feed = made.speed.speed, max(one.work.feed.path_feed for one in made.passes)
    assert speed > 10_000
    line = machine_line(job)
    assert line.startswith(
        "machine: greatest spindle speed, greatest feed and spindle power not stated, so not "
        f"checked; {speed:.0f} rev/min, {feed:.4g} mm/min and "
    )
    assert line.endswith(" kW are asked")
    one = check(made, "spindle_speed")
    assert (one.state, one.figure, one.limit) == ("caution", speed, 10_000)
    assert f"S{speed:.0f}" in (made.program.text if made.program else "")
    assert made.verdict == "ready with cautions"


def test_what_is_stated_of_the_machine_is_not_told_again() -> None:
    assert machine_line(adapter()) == ""
    one = machine_line(adapter(machine=Machine(greatest_spindle_speed=8000, greatest_feed=200)))
    assert one.startswith("machine: spindle power not stated, so not checked; ")
    assert one.endswith(" kW is asked")
    two = machine_line(adapter(machine=Machine(greatest_feed=200)))
    assert two.startswith("machine: greatest spindle speed and spindle power not stated")


def test_the_end_mills_speed_counts_too() -> None:
    """A 3 mm end mill in 6082 turns faster than the 12 mm thread mill."""
    made = plan(port(end_mill=EndMill(3.0, 3, 25.0)))
    assert made.blank.speed is not None
    fast = made.blank.speed.speed
    assert fast > 10_000 > made.speed.speed
    assert check(made, "spindle_speed").figure == fast
    slow = plan(port(end_mill=EndMill(3.0, 3, 25.0), machine=Machine(8000)))
    assert check(slow, "spindle_speed").limit != 10_000
    assert "spindle_speed" not in {one.code for one in plan(port()).checks}


# -- what is accepted


def test_only_what_can_be_accepted_may_be_named() -> None:
    job = adapter(accept=("bananas", "deflection", "major_diameter_as_cut"))
    found = fault(job, "/accept/0")
    assert (found.code, found.value, found.near) == ("not_acceptable", "bananas", ACCEPTABLE)
    assert "wall_thickness" in found.change
    assert fault(job, "/accept/2").value == "major_diameter_as_cut"
    assert not_passed(plan(adapter(accept=ACCEPTABLE))) == ASSUMED_TOOTH


def test_the_list_names_every_check_that_can_be_accepted() -> None:
    """Read from the source: each call that sets `acceptable`, with its code."""
    found = set()
    for path in Path(folder.__file__).parent.glob("*.py"):
        for call in ast.walk(ast.parse(path.read_text("utf-8"))):
            named = isinstance(call, ast.Call) and any(
                word.arg == "acceptable" for word in call.keywords
            )
            if named and isinstance(call.args[0], ast.Constant):  # type: ignore[attr-defined]
                found.add(call.args[0].value)  # type: ignore[attr-defined]
    assert found == set(ACCEPTABLE)


# -- heights


@pytest.mark.parametrize(
    ("asked", "code", "least", "words"),
    [
        (ProgramAsked(clearance_height=2.0, safe_height=1.0), "below_clearance", 2.0,
         "is below the clearance height, 2 mm"),
        (ProgramAsked(safe_height=1.9), "below_clearance", 2.0, "is below the clearance"),
        (ProgramAsked(clearance_height=0.2, safe_height=0.99), "too_low", 1.0,
         "leaves less than 1 mm over the face"),
        (ProgramAsked(clearance_height=0.2, safe_height=0.1), "below_clearance", 1.0, "is below"),
    ],
)  # fmt: skip
def test_a_safe_height_must_be_safe(
    asked: ProgramAsked, code: str, least: float, words: str
) -> None:
    found = fault(port(program=asked), "/program/safe_height")
    assert (found.code, found.least, found.value) == (code, least, asked.safe_height)
    assert words in found.detail
    assert f"at least {least:g} mm" in found.change


def test_a_safe_height_at_its_least_will_do() -> None:
    assert plan(port(program=ProgramAsked(clearance_height=1.0, safe_height=1.0))).program
    assert plan(port(program=ProgramAsked(clearance_height=30.0))).program


# -- the bar's skin (0.25 mm a side: common practice, no source)


def test_hardly_anything_left_to_clean_up_is_a_caution() -> None:
    """1/2 in bar for a 1/2-20 UNF boss of 0.49305: 0.0035 a side."""
    job = Job(
        "in", ThreadAsked("1/2-20 UNF-2A", 0.5), StockAsked("303", "round", diameter=0.5),
        boss=BossAsked(0.75), machine=Machine(12_000, 200, 5.5),
    )  # fmt: skip
    one = check(plan(job), "bar_cleans_up")
    assert one.state == "caution"
    assert one.figure == pytest.approx((0.5 - 0.49445) / 2, abs=0.001)
    assert one.limit == pytest.approx(0.25 / 25.4)
    assert "a side is left to clean up" in one.detail
    assert "take a larger one: the smallest standard bar that cleans up is 9/16 in" in one.change


def test_enough_to_clean_up_or_none_to_is_no_caution() -> None:
    def state(across: float, **changes: object) -> str:
        job = adapter(stock=StockAsked("303", across_flats=across), **changes)
        return next((c.state for c in plan(job).checks if c.code == "bar_cleans_up"), "")

    boss = plan(adapter()).blank.diameter
    skin = 2 * 0.25 / 25.4
    assert state(boss + skin + 1e-6) == "passed"
    assert state(boss + skin - 1e-6) == "caution"
    assert state(boss - 1e-6) == "refused"
    assert state(boss + 1e-3, boss=BossAsked(1.0, ready=True)) == ""


# -- a blank that is ready and wasn't measured


@pytest.mark.parametrize(
    ("job", "kind", "said", "span"),
    [(port(hole=HoleAsked(22, ready=True)), "hole", "hole (minor diameter)", "18.376 to 18.676 mm"),
     (adapter(boss=BossAsked(1.0, ready=True)), "boss", "boss (major diameter)",
      "0.8631 to 0.8734 in")],
)  # fmt: skip
def test_a_finished_blank_that_nobody_measured_is_a_caution(
    job: Job, kind: str, said: str, span: str
) -> None:
    made = plan(job)
    one = check(made, "blank_inside_limits")
    assert (one.state, one.figure) == ("caution", made.blank.diameter)
    assert one.detail.startswith(f"{said} isn't measured: ")
    assert one.detail.endswith(f"is taken, its limits are {span}")
    assert one.change == f"measure it before threading: {span}; and state it as {kind}.diameter"
    assert made.verdict == "ready with cautions"
    again = plan(made.job)
    assert check(again, "blank_inside_limits") == one


def test_a_finished_blank_that_was_measured_is_judged_by_that() -> None:
    for diameter, state in ((18.5, "passed"), (18.68, "refused")):
        made = plan(port(hole=HoleAsked(22, ready=True, diameter=diameter)))
        assert check(made, "blank_inside_limits").state == state
    assert check(plan(port()), "blank_inside_limits").state == "passed"


# -- the height between passes


@pytest.mark.parametrize(("job", "least"), [(port(), 0.5), (adapter(), 0.5 / 25.4)])
def test_a_clearance_height_of_nearly_nothing_is_refused(job: Job, least: float) -> None:
    for share, refused in ((0.999, True), (1.0, False), (1.5, False)):
        asked = replace(job, program=ProgramAsked(clearance_height=share * least))
        if refused:
            found = fault(asked, "/program/clearance_height")
            assert (found.code, found.least, found.unit) == ("too_low", least, job.unit)
            assert "the tool moves across the part there" in found.detail
            assert found.change.startswith("give a clearance height of at least 0.")
        else:
            assert plan(asked).program is not None


# -- the bar that is proposed


@pytest.mark.parametrize(
    ("job", "size", "left"),
    # 1.1175 in of boss: 1-1/8 would leave 0.00375 in a side, 1-3/16 leaves 0.035
    [(adapter(thread=ThreadAsked("1 1/8-8 UNR-3A", 0.5), stock=StockAsked("4140"),
              cutter=None, end_mill=None), 1.1875, 0.035),
     (adapter(thread=ThreadAsked("1 1/8-8 UNR-3A", 0.5), stock=StockAsked("4140", "round"),
              cutter=None, end_mill=None), 1.1875, 0.035)],
)  # fmt: skip
def test_a_proposed_bar_keeps_the_least_skin(job: Job, size: float, left: float) -> None:
    made = plan(job)
    assert (made.bar.proposed, made.bar.size) == (True, size)
    one = check(made, "bar_cleans_up")
    assert one.state == "passed"
    assert one.detail.endswith(
        "; the bar is taken at its full nominal size, for no undersize of inch bar is held"
    )
    assert any(line.endswith(f"cleans up, with {left:g} in a side") for line in made.assumed)
    again = plan(made.job)
    assert check(again, "bar_cleans_up") == one


def test_a_clean_up_that_the_job_states_is_all_that_is_kept() -> None:
    job = adapter(
        thread=ThreadAsked("1 1/8-8 UNR-3A", 0.5), stock=StockAsked("4140", clean_up=0.002),
        cutter=None, end_mill=None,
    )  # fmt: skip
    made = plan(job)
    assert made.bar.size == 1.125
    one = check(made, "bar_cleans_up")
    assert one.state == "caution"
    assert "full nominal size" in one.detail


def test_where_no_bar_keeps_the_skin_the_largest_that_cleans_up_is_proposed() -> None:
    """Hexagon of the list ends at 3 in: 3-4 UNC-2A is less than the least skin below that."""
    greatest = bars("hexagon", "in")[-1].size
    job = Job("in", ThreadAsked("3-4 UNC-2A", 0.5), StockAsked("1018"), boss=BossAsked(1.0))
    assert greatest == 3.0
    made = plan(job)
    assert made.bar.size == greatest
    assert check(made, "bar_cleans_up").state == "caution"
