"""Every limit of what can be written: taken at the limit, refused a step beyond."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.core.path.segment import Segment
from flankwise_service.core.program import asked as asked_module
from flankwise_service.core.program.asked import check_asked
from flankwise_service.core.program.setup import Operation, Setup, Tool
from support.at_limits import assert_limits_hold
from support.program_jobs import MILL, MM, arc, line

INCH = Setup("in", 1.0)
# A cut that stays between the face and any safe height, in either unit.
PATH = [line((0, 0, 0), (1, 0, 0)), line((1, 0, 0), (0, 0, 0))]
REACH = {"mm": 2500.0, "in": 98.43}
"""In inches with four digits, as the contract tells it."""


@pytest.fixture(autouse=True, params=["at a glance", "one by one"])
def way_of_looking(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each limit hold where a path is seen at once, and where its pieces are looked at."""
    if request.param == "one by one":
        monkeypatch.setattr(asked_module, "sound", lambda *_: False)


def found(setup: Setup, *operations: Operation) -> list[Fault]:
    """Return the faults of a program; none where it can be written."""
    try:
        check_asked(setup, operations)
    except Refusal as refusal:
        return list(refusal.faults)
    return []


def codes(*path: Segment, setup: Setup = MM, tool: Tool = MILL) -> set[str]:
    return {fault.code for fault in found(setup, Operation(tool, list(path)))}


@pytest.mark.parametrize(
    ("setup", "limits"),
    [
        (replace(MM, program_number=1, line_number_step=0, decimals=3),
         {"program_number": (1, 9999), "line_number_step": (0, 1000), "decimals": (3, 5),
          "safe_height": (0, 2500)}),
        (replace(INCH, decimals=4), {"decimals": (4, 6), "safe_height": (0, 98.43)}),
    ],
    ids=["mm", "in"],
)  # fmt: skip
def test_numbers_of_the_setup(setup: Setup, limits: dict[str, Any]) -> None:
    def asked(**given: Any) -> None:
        check_asked(replace(setup, **given), [Operation(MILL, PATH)])

    good = {name: getattr(setup, name) for name in limits}
    assert_limits_hold(asked, good, limits, "/setup/")


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_numbers_of_a_tool(unit: Any) -> None:
    def asked(**given: Any) -> None:
        setup = Setup(unit, REACH[unit])
        check_asked(setup, [Operation(replace(MILL, **given), PATH)])

    limits = {
        "number": (1, 9999), "length_offset": (1, 9999), "radius_offset": (1, 9999),
        "spindle_speed": (1, 200_000), "tip_to_tooth": (0, REACH[unit]),
    }  # fmt: skip
    good = {"number": 1, "length_offset": 1, "spindle_speed": 100.0, "tip_to_tooth": 0.0}
    for name, pair in limits.items():
        assert_limits_hold(asked, {**good, name: pair[0]}, {name: pair}, "/operations/0/tool/")


class Long(list[Segment]):
    """A path that says it has so many segments; what is looked at of it are only a few."""

    def __init__(self, length: int) -> None:
        super().__init__(PATH)
        self.length = length

    def __len__(self) -> int:
        return self.length


def test_counts_of_operations_and_segments() -> None:
    one = Operation(MILL, PATH)
    assert found(MM, *[one] * 20) == []
    assert [fault.pointer for fault in found(MM, *[one] * 21)] == ["/operations"]
    assert found(MM, Operation(MILL, Long(200_000))) == []
    (fault,) = found(MM, Operation(MILL, Long(200_001)))
    assert (fault.pointer, fault.value) == ("/operations/0/segments", 200_001)


def test_no_more_than_fifty_faults_are_told() -> None:
    bad = line((0, 0, 0), (9999.0, 0, 0))
    assert len(found(MM, Operation(MILL, [bad] * 49))) == 49
    assert len(found(MM, Operation(MILL, [bad] * 60))) == 50


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize("setup", [MM, INCH], ids=["mm", "in"])
def test_places_within_reach(setup: Setup, axis: int, sign: int) -> None:
    reach = REACH[setup.unit]
    for size, taken in [(reach, True), (math.nextafter(reach, math.inf), False)]:
        place = [0.0, 0.0, 0.0]
        place[axis] = sign * size
        there = [line((0, 0, 0), tuple(place)), line(tuple(place), (0, 0, 0))]
        assert codes(*there, setup=setup) == (set() if taken else {"out_of_range"})


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize("at_end", [False, True], ids=["begin", "end"])
@pytest.mark.parametrize("setup", [MM, INCH], ids=["mm", "in"])
def test_one_end_alone_out_of_reach_is_told_with_the_reach(
    setup: Setup, at_end: bool, axis: int, sign: int
) -> None:
    place = [0.0, 0.0, 0.0]
    place[axis] = sign * 1.5 * REACH[setup.unit]
    ends = (tuple(place), (0.0, 0.0, 0.0))
    piece = line(*reversed(ends)) if at_end else line(*ends)
    (fault,) = found(setup, Operation(MILL, [piece]))
    assert (fault.pointer, fault.code) == ("/operations/0/segments/0", "out_of_range")
    assert (fault.least, fault.greatest) == (-REACH[setup.unit], REACH[setup.unit])


@pytest.mark.parametrize(
    ("setup", "least", "greatest"),
    [(MM, 0.1, 100_000.0), (INCH, 0.01, 3937.0)], ids=["mm", "in"],
)  # fmt: skip
def test_feeds_that_can_be_printed(setup: Setup, least: float, greatest: float) -> None:
    """The last digit of a feed is a tenth of a mm or a hundredth of an inch a minute."""
    for feed, taken in [(least * 1.000001, True), (least * 0.999999, False),
                        (greatest * 0.999999, True), (greatest * 1.000001, False)]:  # fmt: skip
        there = [line((0, 0, 0), (1, 0, 0), feed), line((1, 0, 0), (0, 0, 0), None)]
        assert codes(*there, setup=setup) == (set() if taken else {"out_of_range"})


@pytest.mark.parametrize(("sweep", "taken"), [(360.0, True), (360.001, False), (0.001, True)])
def test_an_arc_turns_once_at_most(sweep: float, taken: bool) -> None:
    turn = arc((400.0, 0, 0), (0, 0), sweep)
    there = [line((0, 0, 0), (400, 0, 0)), turn, line(turn.end, (0, 0, 0))]
    assert codes(*there) == (set() if taken else {"out_of_range"})


@pytest.mark.parametrize(("sweep", "taken"), [(165.0, True), (165.01, False)])
def test_arcs_by_radius_turn_by_165_degrees_at_most(sweep: float, taken: bool) -> None:
    """NISTIR 6556, 3.5.3.1 (memory)."""
    turn = arc((4.0, 0, 0), (0, 0), sweep)
    there = [line((0, 0, 0), (4, 0, 0)), turn, line(turn.end, (0, 0, 0))]
    expected = set() if taken else {"sweep_too_wide_for_radius"}
    by_radius = replace(MM, arc_form="radius")
    assert codes(*there, setup=by_radius) == expected
    assert codes(*there) == set()
    for fault in found(by_radius, Operation(MILL, there)):
        assert (fault.value, fault.least, fault.greatest, fault.unit) == (sweep, 0, 165, "degree")


@pytest.mark.parametrize(("setup", "digit"), [(MM, 0.001), (INCH, 0.0001)], ids=["mm", "in"])
def test_arcs_are_ten_counts_and_of_one_radius(setup: Setup, digit: float) -> None:
    for radius, taken in [(10.01 * digit, True), (9.99 * digit, False)]:
        there = [line((0, 0, 0), (radius, 0, 0)), arc((radius, 0, 0), (0, 0), 360),
                 line((radius, 0, 0), (0, 0, 0))]  # fmt: skip
        assert codes(*there, setup=setup) == (set() if taken else {"arc_too_small"})
    for off, taken in [(0.49 * digit, True), (0.51 * digit, False)]:
        quarter = arc((0.5, 0, 0), (0, 0), 90)
        wide = quarter._replace(end=quarter.end._replace(y=0.5 + off))
        there = [line((0, 0, 0), (0.5, 0, 0)), wide, line(wide.end, (0, 0, 0))]
        assert codes(*there, setup=setup) == (set() if taken else {"radius_changes"})


@pytest.mark.parametrize(("setup", "digit"), [(MM, 0.001), (INCH, 0.0001)], ids=["mm", "in"])
@pytest.mark.parametrize("axis", [0, 1, 2])
def test_a_path_may_break_by_half_a_count(setup: Setup, digit: float, axis: int) -> None:
    for gap, taken in [(0.49 * digit, True), (0.51 * digit, False)]:
        begin = [1.0, 0.0, 0.0]
        begin[axis] += gap
        there = [PATH[0], line(tuple(begin), (0, 0, 0))]
        assert codes(*there, setup=setup) == (set() if taken else {"path_breaks"})


@pytest.mark.parametrize(("broken", "piece"), [(0, 2), (1, 1)])
def test_a_break_beside_the_change_of_tools_is_told(broken: int, piece: int) -> None:
    """The second path begins where the first ends: between the two there is no break."""
    whole = [line((0, 0, 0), (1, 0, 0)), line((1, 0, 0), (0, 0, 0)), line((0, 0, 0), (0, 0, 1))]
    paths = [list(whole), [one._replace(begin=one.end, end=one.begin) for one in reversed(whole)]]
    assert found(MM, *(Operation(MILL, path) for path in paths)) == []
    first = paths[broken][piece]
    paths[broken][piece] = first._replace(begin=first.begin._replace(y=0.01))
    faults = found(MM, *(Operation(MILL, path) for path in paths))
    assert [(fault.pointer, fault.code) for fault in faults] == [
        (f"/operations/{broken}/segments/{piece}/begin", "path_breaks")
    ]


def test_an_arcs_centre_may_lie_ten_reaches_away() -> None:
    for centre, taken in [(24_999.0, True), (25_001.0, False), (-24_999.0, True),
                          (-25_001.0, False)]:  # fmt: skip
        flat = arc((0.0, 0, 0), (0, centre), 0.001)
        there = [flat, line(flat.end, (0, 0, 0))]
        assert codes(*there) == (set() if taken else {"out_of_range"})
        side = arc((0.0, 0, 0), (centre, 0), 0.001)
        assert codes(side, line(side.end, (0, 0, 0))) == (set() if taken else {"out_of_range"})


def test_a_path_begins_and_ends_between_face_and_safe_height() -> None:
    """Of the tool's tip; a count above the safe height is what rounding may add."""
    tool = replace(MILL, tip_to_tooth=2.0)
    for height, taken in [(2.0, True), (1.999, False), (32.0, True), (32.0005, True),
                          (32.0015, False)]:  # fmt: skip
        there = [line((0, 0, height), (0, 0, 5.0)), line((0, 0, 5.0), (0, 0, height))]
        assert codes(*there, tool=tool) == (set() if taken else {"rapid_inside"})
        up = [line((0, 0, 5.0), (0, 0, height))]
        (fault,) = found(MM, Operation(tool, up)) or [None]
        assert (fault is None) == taken
        if fault is not None:
            assert fault.pointer == "/operations/0/segments/0/end/z"
            assert (fault.least, fault.greatest) == (2.0, 32.0)
            assert fault.value == height
