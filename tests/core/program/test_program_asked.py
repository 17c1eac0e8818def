"""What can't be written as a program is refused, every fault at once, in the asker's own places."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput, Fault
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.program.asked import MOST_FAULTS, check_asked
from flankwise_service.core.program.offset_spans import GREATEST_CORNER
from flankwise_service.core.program.setup import Operation, Setup
from support.program_jobs import MILL, MM, arc, hole, line

UP = line((0, 0, 1), (0, 0, 2), None)
DOWN = line((0, 0, 2), (0, 0, 1))
GOOD = [
    DOWN,
    line((0, 0, 1), (4, 0, 1)),
    arc((4, 0, 1), (0, 0), 360, 1.0),
    line((4, 0, 2), (0, 0, 2)),
]


def faults(setup: Setup, *operations: Operation) -> list[Fault]:
    with pytest.raises(BadInput) as refused:
        check_asked(setup, operations)
    for fault in refused.value.faults:
        assert fault.change
        assert fault.detail
    return list(refused.value.faults)


def of_path(*segments: Segment, setup: Setup = MM) -> list[tuple[str, str]]:
    found = faults(setup, Operation(MILL, list(segments)))
    return [(fault.pointer.removeprefix("/operations/0"), fault.code) for fault in found]


def test_a_good_job_passes() -> None:
    check_asked(MM, [Operation(MILL, GOOD)])


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"unit": "ft"}, "/setup/unit"),
        ({"work_offset": "G53"}, "/setup/work_offset"),
        ({"unit_codes": "G22"}, "/setup/unit_codes"),
        ({"arc_form": "J"}, "/setup/arc_form"),
        ({"end": "M00"}, "/setup/end"),
        ({"program_number": 0}, "/setup/program_number"),
        ({"program_number": 10000}, "/setup/program_number"),
        ({"line_number_step": -1}, "/setup/line_number_step"),
        ({"line_number_step": 1001}, "/setup/line_number_step"),
        ({"decimals": 2}, "/setup/decimals"), ({"decimals": 6}, "/setup/decimals"),
        ({"unit": "in", "decimals": 3}, "/setup/decimals"),
        ({"unit": "in", "decimals": 7}, "/setup/decimals"),
        ({"safe_height": -1.0}, "/setup/safe_height"),
        ({"safe_height": math.nan}, "/setup/safe_height"),
        ({"safe_height": 1e308}, "/setup/safe_height"),
    ],
)  # fmt: skip
def test_the_setup_is_checked(changes: dict[str, Any], pointer: str) -> None:
    (found,) = faults(replace(MM, **changes), Operation(MILL, GOOD))
    assert found.pointer == pointer


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"number": 0}, "number"), ({"number": 10**5000}, "number"),
        ({"length_offset": 0}, "length_offset"), ({"radius_offset": -3}, "radius_offset"),
        ({"coolant": "beer"}, "coolant"), ({"radius_side": "up"}, "radius_side"),
        ({"spindle_speed": 0.0}, "spindle_speed"), ({"spindle_speed": math.inf}, "spindle_speed"),
        ({"tip_to_tooth": -0.1}, "tip_to_tooth"),
    ],
)  # fmt: skip
def test_the_tool_is_checked(changes: dict[str, Any], name: str) -> None:
    found = faults(MM, Operation(MILL, GOOD), Operation(replace(MILL, **changes), GOOD))
    assert [fault.pointer for fault in found] == [f"/operations/1/tool/{name}"]


def test_a_program_has_one_to_twenty_operations_with_segments() -> None:
    assert [f.pointer for f in faults(MM)] == ["/operations"]
    many = [Operation(MILL, GOOD)] * 21
    assert [f.pointer for f in faults(MM, *many)] == ["/operations"]
    assert of_path() == [("/segments", "segments")]


@pytest.mark.parametrize(
    ("segment", "pointer", "code"),
    [
        (line((0, 0, 2), (math.nan, 0, 2)), "", "out_of_range"),
        (line((math.inf, 0, 2), (1, 0, 2)), "", "out_of_range"),
        (line((0, 0, 2), (0, 2501, 2)), "", "out_of_range"),
        (line((0, 0, 2), (1, 0, 2), 0.04), "/feed", "out_of_range"),
        (line((0, 0, 2), (1, 0, 2), 1e6), "/feed", "out_of_range"),
        (line((0, 0, 2), (1, 0, 2), math.nan), "/feed", "out_of_range"),
        (line((0, 0, 2), (1, 0, 2))._replace(feed=None), "/feed", "out_of_range"),
        (line((0, 0, 2), (1, 0, 2), None)._replace(feed=5.0), "/feed", "rapid_with_feed"),
        (line((0, 0, 2), (1, 0, 3), None), "/end", "slanted_rapid"),
        (line((0, 0, 2), (1, 0, 2))._replace(kind="spline"), "/kind", "unknown_choice"),
        (line((0, 0, 2), (1, 0, 2), None)._replace(kind="spline"), "/feed", "out_of_range"),
        (arc((4, 0, 2), (0, 0), 90)._replace(centre=None), "/centre", "arc_without_centre"),
        (arc((4, 0, 2), (0, 0), 90)._replace(sense=None), "/centre", "arc_without_centre"),
        (arc((4, 0, 2), (0, 0), 361), "/sweep", "out_of_range"),
        (arc((4, 0, 2), (0, 0), 0), "/sweep", "out_of_range"),
        (arc((4, 0, 2), (0, 0), 90)._replace(sweep=math.nan), "/sweep", "out_of_range"),
        (arc((4, 0, 2), (0, 0), 90)._replace(centre=(0.0, 1e9)), "/centre", "out_of_range"),
        (arc((4, 0, 2), (0, 0), 90)._replace(centre=(math.nan, 0.0)), "/centre", "out_of_range"),
        (arc((4, 0, 2), (0, 0), 90)._replace(end=Point(0, 4.1, 2)), "/end", "radius_changes"),
        (arc((0.009, 0, 2), (0, 0), 90), "/centre", "arc_too_small"),
    ],
)  # fmt: skip
def test_each_segment_is_checked(segment: Segment, pointer: str, code: str) -> None:
    assert of_path(segment) == [(f"/segments/0{pointer}", code)]


def test_how_far_a_centre_may_lie_is_told_in_both_units() -> None:
    far = arc((4, 0, 2), (0, 0), 90)._replace(centre=(0.0, 1e9))
    for setup, reach in ((MM, 2500.0), (replace(MM, unit="in"), 98.43)):
        (fault,) = faults(setup, Operation(MILL, [far]))
        assert (fault.least, fault.greatest) == pytest.approx((-10 * reach, 10 * reach))


def test_wide_arcs_by_radius_are_refused() -> None:
    """RS274/NGC: arcs by radius are good up to 165 degrees (NISTIR 6556, 3.5.3.1, memory)."""
    by_radius = replace(MM, arc_form="radius")
    wide = arc((4, 0, 2), (0, 0), 165.5)
    assert of_path(wide, setup=by_radius) == [("/segments/0/sweep", "sweep_too_wide_for_radius")]
    check_asked(by_radius, [Operation(MILL, [arc((4, 0, 2), (0, 0), 165)])])


def test_a_broken_path_is_refused_where_it_breaks() -> None:
    moved = line((0.001, 0, 1), (4, 0, 1))
    assert of_path(DOWN, moved, UP) == [
        ("/segments/1/begin", "path_breaks"), ("/segments/2/begin", "path_breaks")
    ]  # fmt: skip
    check_asked(MM, [Operation(MILL, [DOWN, line((0.0004, 0, 1), (0, 0, 1)), UP])])


def test_a_path_begins_and_ends_between_face_and_safe_height() -> None:
    below = line((0, 0, -0.1), (0, 0, 1))
    assert of_path(below) == [("/segments/0/begin/z", "rapid_inside")]
    high = line((0, 0, 1), (0, 0, 30.01))
    assert of_path(high) == [("/segments/0/end/z", "rapid_inside")]
    long_tip = replace(MILL, tip_to_tooth=1.5)
    found = faults(MM, Operation(long_tip, [DOWN, UP, line((0, 0, 2), (0, 0, 1))]))
    assert [fault.pointer for fault in found] == ["/operations/0/segments/2/end/z"]


def test_all_faults_come_at_once_but_not_without_end() -> None:
    bad = line((0, 0, 2), (1, 0, 2), 0.0)
    found = faults(replace(MM, end="M99"), Operation(replace(MILL, number=0), [bad] * 200))  # type: ignore[arg-type]
    assert {fault.pointer for fault in found} >= {"/setup/end", "/operations/0/tool/number"}
    assert len(found) == MOST_FAULTS


def test_a_radius_offset_needs_straight_leads_and_no_corners() -> None:
    tool = replace(MILL, radius_offset=1)
    check_asked(MM, [Operation(tool, hole(lead_in="radial", lead_out="radial"))])
    (never,) = faults(MM, Operation(tool, [DOWN, UP]))
    assert (never.pointer, never.code) == ("/operations/0/tool/radius_offset", "never_switched_on")
    assert never.value == 1
    round_leads = faults(MM, Operation(tool, hole()))
    assert {fault.code for fault in round_leads} == {"no_straight_lead"}
    assert len(round_leads) == 2
    path = [
        DOWN, line((0, 0, 1), (4, 0, 1)), arc((4, 0, 1), (0, 0), 90),
        line((0, 4, 1), (0, 8, 1)), line((0, 8, 1), (1, 8, 1)), line((1, 8, 1), (1, 8, 2), None),
    ]  # fmt: skip
    (corner,) = faults(MM, Operation(tool, path))
    assert (corner.pointer, corner.code) == ("/operations/0/segments/3", "corner_under_offset")
    assert corner.value == pytest.approx(90)
    assert (corner.least, corner.greatest, corner.unit) == (0.0, GREATEST_CORNER, "degree")


def test_the_piece_that_switches_the_offset_is_ten_counts_long() -> None:
    tool = replace(MILL, radius_offset=1)

    def path(straight: float) -> list[Segment]:
        far = 4 + straight
        return [DOWN, line((0, 0, 1), (straight, 0, 1)), arc((straight, 0, 1), (-4, 0), 90),
                line((-4, far, 1), (-4, 0, 1)), line((-4, 0, 1), (-4, 0, 2), None)]  # fmt: skip

    check_asked(MM, [Operation(tool, path(0.01))])
    (short,) = faults(MM, Operation(tool, path(0.0099)))
    assert short.pointer == "/operations/0/segments/1"


@pytest.mark.parametrize("sense", ["clockwise", "counterclockwise"])
@pytest.mark.parametrize("sweep", [30.0, 90.0, 200.0, 359.0, 360.0])
def test_a_sweep_leads_from_begin_to_end(sense: Any, sweep: float) -> None:
    """By plain trigonometry: the end is where the sweep turns the begin to, about the centre."""
    right = arc((4, 0, 2), (0, 0), sweep, sense=sense)
    check_asked(MM, [Operation(MILL, [right])])
    for wrong in (10.0, 120.0, 300.0):
        assert of_path(right._replace(sweep=wrong)) == [("/segments/0/sweep", "sweep_elsewhere")]
    assert of_path(arc((4, 0, 2), (0, 0), 0.5, sense=sense)._replace(sweep=360.0)) == [
        ("/segments/0/sweep", "sweep_elsewhere")
    ]


def test_a_sweep_is_held_to_three_counts_at_the_arcs_middle() -> None:
    """The middle turns by half of what the sweep is off: 0.003 mm at a radius of 4 mm."""
    right = arc((4, 0, 2), (0, 0), 90.0)
    off = math.degrees(4 * math.asin(0.003 / 8))
    check_asked(MM, [Operation(MILL, [right._replace(sweep=90.0 + 0.98 * off)])])
    check_asked(MM, [Operation(MILL, [right._replace(sweep=90.0 + 0.999 * off)])])
    assert of_path(right._replace(sweep=90.0 + 1.001 * off)) != []


def test_a_sweep_is_told_with_the_one_that_leads_to_the_end() -> None:
    (told,) = faults(MM, Operation(MILL, [arc((4, 0, 2), (0, 0), 293.4)._replace(sweep=30.0)]))
    assert told.detail == "30 degrees counterclockwise don't lead from begin to end (293.4 do)"
    assert told.value == 30.0


def test_every_wrong_piece_is_told_at_once_and_a_safe_height_too_low_as_well() -> None:
    path = [
        arc((4, 0, 2), (0, 0), 90)._replace(sweep=30.0),
        arc((0, 4, 2), (0, 0), 90),
        arc((-4, 0, 2), (0, 0), 90)._replace(centre=(3.0, 2.0)),
    ]
    found = faults(replace(MM, safe_height=1.0), Operation(MILL, path))
    assert [fault.pointer.removeprefix("/operations/0/segments/") for fault in found] == [
        "0/sweep", "2/end", "0/begin/z", "2/end/z",
    ]  # fmt: skip
