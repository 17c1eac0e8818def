"""Time, cost, order of cutters, wires and the program's head of a plan, by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.cutting.time import machining_time, moves_of
from flankwise_service.core.errors import BadInput
from flankwise_service.core.plan.compare import compared
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    BossAsked,
    Costs,
    GaugingAsked,
    HoleAsked,
    Job,
    Machine,
    ProgramAsked,
    StockAsked,
)
from flankwise_service.core.plan.pictures import VIEWS, picture, scene, views_of
from support.jobs import adapter, others, plan, port
from support.refused import faults_of


def test_two_tools_are_changed_where_the_blank_is_milled_and_one_where_it_is_ready() -> None:
    machine = Machine(rapid=9000, acceleration=1500, tool_change_seconds=7)
    both = plan(port(machine=machine))
    ready = plan(port(machine=machine, hole=HoleAsked(22, ready=True)))
    assert (both.time.tool_change_s, ready.time.tool_change_s) == (14, 7)
    assert ready.blank_path is None
    assert both.blank_path is not None


def test_time_is_that_of_both_paths_at_the_machines_own_figures() -> None:
    job = port(machine=Machine(rapid=9000, acceleration=1500, tool_change_seconds=7))
    found = work(job, "0")
    moves = moves_of((*found.blank_segments, *found.thread_segments))
    expected = machining_time(moves, rapid=9000, acceleration=1500, tool_changes=2, tool_change_s=7)
    assert found.plan.time == expected


def test_cost_is_of_the_whole_time_and_a_share_of_the_setup() -> None:
    found = plan(port(costs=Costs(90.0, 20.0), quantity=4))
    assert found.cost is not None
    assert found.cost.machine_per_part == pytest.approx(90 * found.time.total_s / 3600)
    assert found.cost.setup_per_part == pytest.approx(90 * 20 / 60 / 4)
    assert found.cost.batch == pytest.approx(4 * found.cost.per_part)
    assert plan(port(costs=Costs(0.0, 20.0))).cost is None
    assert plan(port(costs=Costs(0.5))).cost is not None


def test_one_to_twenty_cutters_are_compared() -> None:
    job = adapter(boss=BossAsked(1.0, ready=True))
    bad = replace(job.cutter, diameter=0.001)  # type: ignore[type-var]
    assert len(compared(job, [bad] * 20, "0")) == 20
    (fault,) = faults_of(BadInput, compared, job, [bad] * 21, "0")
    assert (fault.value, fault.least, fault.greatest) == (21, 1, 20)
    (fault,) = faults_of(BadInput, compared, job, [], "0")
    assert fault.value == 0


def test_equal_cutters_keep_their_order_and_count_from_one() -> None:
    job = port()
    found = compared(job, [job.cutter, job.cutter], "0")  # type: ignore[list-item]
    assert [(one.place, one.index) for one in found] == [(1, 0), (2, 1)]
    assert found[0].seconds_per_part == plan(job).time.total_s
    assert found[0].cost_per_part is None
    assert found[0].centre_radius_change == plan(job).form.correction.change


@pytest.mark.parametrize(("job", "places"), [(adapter(), 5), (port(), 4)], ids=["in", "mm"])
def test_the_wire_is_the_best_one_to_the_digits_of_a_micrometer(job: Job, places: int) -> None:
    found = plan(job).gauging
    assert found is not None
    assert found.wire == round(found.best_wire, places)
    assert abs(found.wire - found.best_wire) <= 0.5 * 10**-places
    own = plan(replace(job, gauging=GaugingAsked(wire_diameter=found.wire * 1.01))).gauging
    assert own is not None
    assert own.wire == found.wire * 1.01


def test_lines_are_numbered_in_tens_where_asked() -> None:
    program = plan(port(program=ProgramAsked(line_numbers=True))).program
    assert program is not None
    numbered = [line.split()[0] for line in program.text.splitlines() if line[0] == "N"]
    assert numbered[:4] == ["N10", "N20", "N30", "N40"]
    bare = plan(port()).program
    assert bare is not None
    assert not [line for line in bare.text.splitlines() if line[0] == "N"]


def test_tools_run_at_whole_turns_and_with_their_own_offsets() -> None:
    found = plan(port(program=ProgramAsked(radius_offset=7)))
    assert found.program is not None
    assert found.blank.speed is not None
    text = found.program.text
    assert f"S{round(found.blank.speed.speed)} M03" in text
    assert f"S{round(found.speed.speed)} M03" in text
    assert text.index("T2 M06") < text.index("T5 M06")
    assert "G43 H2 " in text
    assert "G43 H5 " in text
    assert "G41 D7" in text.split("T5 M06")[1]
    assert "G41" not in text.split("T5 M06")[0]


@pytest.mark.parametrize(
    ("stock", "words"),
    [
        # 0.86825 in and nothing to clean up: the next sixteenth is 7/8
        (StockAsked("303", across_flats=0.75), "7/8 in across flats"),
        (StockAsked("303", "round", diameter=0.75), "7/8 in diameter"),
        (StockAsked("303", "round", diameter=0.75, clean_up=0.05), "1 in diameter"),
    ],
)
def test_a_bar_too_small_is_told_the_smallest_that_would_do(stock: StockAsked, words: str) -> None:
    found = plan(adapter(stock=stock))
    one = next(check for check in found.checks if check.code == "bar_cleans_up")
    assert one.state == "refused"
    assert one.change == f"the smallest standard bar that cleans up is {words}"


def test_a_proposed_bar_is_the_first_and_the_others_are_shown() -> None:
    found = plan(adapter(stock=StockAsked("303")))
    assert (found.bar.proposed, found.bar.size) == (True, 0.9375)
    assert [one.bar.name for one in found.bar.others] == ["1", "1-1/16"]
    assert found.job.stock.across_flats == 0.9375
    given = plan(adapter())
    assert (given.bar.proposed, given.bar.others) == (False, ())


@pytest.mark.parametrize(
    ("job", "views"),
    [(port(), {"section", "path", "setup", "bar"}),
     (port(stock=StockAsked("6082", "round", diameter=40)), {"section", "path", "setup"}),
     (others()["1/2-14 NPT internal"], {"path", "setup", "bar"})],
    ids=["hexagon", "round", "taper"],
)  # fmt: skip
def test_the_views_there_are(job: Job, views: set[str]) -> None:
    made = work(job, "0")
    assert set(views_of(made)) == views
    for view in VIEWS:
        if view in views:
            assert picture(made, view).startswith("<svg")
        else:
            (fault,) = faults_of(BadInput, picture, made, view)
            assert set(fault.near) == views


def test_the_scene_is_as_deep_as_blank_or_thread() -> None:
    for depth, deep in [(22.0, 22.0), (10.0, 16.0)]:
        made = work(port(hole=HoleAsked(depth, through=True)), "0")
        assert scene(made).depth == deep
    named = scene(work(port(), "0"))
    assert named.name == "coolant port M20x1.5-6H"
    assert (named.across_flats, named.bar_diameter) == (30, None)
    bar = scene(work(port(stock=StockAsked("6082", "round", diameter=40)), "0"))
    assert (bar.across_flats, bar.bar_diameter) == (None, 40)


def test_the_size_of_a_blank_that_is_not_measured_is_told() -> None:
    hole = plan(port(hole=HoleAsked(22, ready=True)))
    assert "hole: 18.526 mm, not measured; measure it before threading" in hole.assumed
    boss = plan(adapter(boss=BossAsked(1.0, ready=True)))
    assert "boss: 0.86825 in, not measured; measure it before threading" in boss.assumed
