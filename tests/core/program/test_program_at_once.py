"""Many plain lines read, and many motions compared, at once: where that has to stop and look."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.path.segment import Point, Segment, Sense
from flankwise_service.core.program import asked, path_blocks
from flankwise_service.core.program.alike import Pair, apart
from flankwise_service.core.program.blocks import (
    FEWEST,
    LONGEST_BLOCK,
    Block,
    Stretch,
    blocks,
    pieces,
)
from flankwise_service.core.program.columns import columns
from flankwise_service.core.program.control import Control
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.plain import shapes, table
from flankwise_service.core.program.program import write_program
from flankwise_service.core.program.replay import replay_equals_path
from flankwise_service.core.program.setup import Operation
from flankwise_service.core.program.stretch import carried_out
from support.program_jobs import MILL, MM, arc, line

HEAD = "G21 G17 G90 G94\nS900 M03\nG00 X5. Y0 Z0\n"
BEGIN = HEAD.count("\n")
ARCS = [
    "G03 X0 Y5. I-5. J0 F9.",
    "G03 X-5. Y0 I0 J-5.",
    "G03 X0 Y-5. I5. J0",
    "G03 X5. Y0 I0 J5.",
] * 6


def faults(lines: list[str]) -> list[tuple[int, str]]:
    """Return line, of those given, and code of each fault."""
    found = read_program(HEAD + "\n".join(lines) + "\nM30\n").faults
    return [(fault.line - BEGIN - 1, fault.code) for fault in found]


def control_at_the_begin() -> Control:
    control = Control()
    for groups, values in (
        ({"unit": 21.0, "plane": 17.0, "distance": 90.0}, {}),
        ({"spindle": 3.0}, {"S": 900.0}),
        ({"motion": 0.0}, {"X": 5.0, "Y": 0.0, "Z": 0.0}),
    ):
        control.carry_out(1, groups, values)
    return control


def test_arcs_are_taken_at_once() -> None:
    (stretch,) = pieces("\n".join(ARCS))
    assert isinstance(stretch, Stretch)
    control = control_at_the_begin()
    assert carried_out(control, stretch)
    assert len(control.track) == 1 + len(ARCS)
    assert (control.place, control.motion, control.feed) == ((5.0, 0.0, 0.0), 3.0, 9.0)
    assert faults(ARCS) == []


def test_a_long_stretch_is_taken_apart_line_by_line_where_asked() -> None:
    found = list(blocks("\n".join(ARCS)))
    assert all(isinstance(block, Block) for block in found)
    assert [block.line for block in found] == list(range(1, len(ARCS) + 1))
    short = list(pieces("\n".join(ARCS[: FEWEST - 1])))
    assert not any(isinstance(piece, Stretch) for piece in short)
    assert [type(piece) for piece in pieces("\n".join(ARCS[:FEWEST]))] == [Stretch]


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ("G03 X-5. Y0 I0 J-5. F0", "feed"),
        ("G00 X0 Y5. F0", "feed"),
        ("G01 X-5. Y0 I0", "word_without_use"),
        ("G00 X-5. Y0 J1.", "word_without_use"),
        ("G03 Z-5. I0 J-5.", "arc_without_end"),
        ("G03 X-5. Y0", "arc_without_centre"),
        ("G03 X-5. Y0 I0 J0", "arc_impossible"),
        ("G03 X-5.01 Y0 I0 J-5.", "arc_radius"),
        ("G02 X-5. Y0 I0 J-5.003", "arc_radius"),
        ("G80 X-5. Y0", "no_motion_word"),
        ("G04 X-5. Y0", "dwell"),
        ("G04 X-5. Y0 I0 J-5.", "dwell"),
        ("G05 X-5. Y0 I0 J-5.", "unknown_code"),
        ("N100000 G01 X-5. Y0", "line_number"),
        ("G01 X-5. X0", "letter_twice"),
    ],
)  # fmt: skip
def test_one_wrong_line_among_many_is_told_by_its_line(wrong: str, code: str) -> None:
    assert faults([*ARCS[:9], wrong, *ARCS[10:]])[0] == (9, code)


@pytest.mark.parametrize(
    ("wrong", "code"),
    [("G03 Z-5. I0 J-5.", "arc_without_end"), ("G03 X0 Y5. I0 J0", "arc_impossible"),
     ("G00 X0 Y5. F0", "feed")],
)  # fmt: skip
def test_a_last_line_that_leads_where_the_tool_is_has_to_be_right_too(
    wrong: str, code: str
) -> None:
    assert faults([*ARCS[:17], wrong]) == [(17, code)]


@pytest.mark.parametrize(
    ("before", "code"),
    [
        ("M05", "spindle_stopped"), ("G18", "arc_radius"), ("T2 M06", "place_unknown"),
        ("G55", "place_unknown"), ("M30", "after_end"), ("G80", None), ("G91", "arc_radius"),
    ],
)  # fmt: skip
def test_lines_under_an_unusual_state_mean_what_they_mean_one_by_one(
    before: str, code: str | None
) -> None:
    found = faults([before, *ARCS])
    assert (found[0] if found else (1, None)) == (1, code)


def test_feed_modes_and_a_second_unit_are_regarded() -> None:
    per_turn = read_program(HEAD + "G95\n" + "\n".join(ARCS) + "\nM30\n").motions
    assert per_turn[-1].feed == 8100.0
    timed = [text.removesuffix(" F9.") + " F9." for text in ARCS]
    quarters = read_program(HEAD + "G93\n" + "\n".join(timed) + "\nM30\n").motions
    assert quarters[-1].feed == pytest.approx(9 * 2.5 * math.pi)
    inch = read_program(HEAD + "G20\n" + "\n".join(["G01 X1. F2.", "X2."] * 9) + "\nM30\n").motions
    assert [motion.end[0] for motion in inch[-2:]] == [25.4, 50.8]
    assert {motion.centre for motion in inch} == {None}


@pytest.mark.parametrize("count", [1, 2 * FEWEST])
def test_a_turn_that_ends_where_it_began_but_for_the_last_bits_is_a_full_one(count: int) -> None:
    """Y 0.1 and then 0.2 more lead to 0.30000000000000004: without care a turn of nothing."""
    lines = ["G91 G00 Y0.1", "G00 Y0.2", "G90", *["G02 X5. Y0.3 I-5. J0 F9."] * count]
    reading = read_program(HEAD + "\n".join(lines) + "\nM30\n")
    assert reading.faults == ()
    assert [motion.sweep for motion in reading.motions[-count:]] == [360.0] * count
    assert reading.motions[-count].begin[1] != 0.3


def test_an_end_straight_beyond_the_begin_is_a_full_turn_away() -> None:
    """A thousandth farther out, as a control has to take: the same angle, not no turn at all."""
    lines = ["G02 X5.001 Y0 I-5. J0 F9.", "G02 X5. Y0 I-5.001 J0"] * FEWEST
    reading = read_program(HEAD + "\n".join(lines) + "\nM30\n")
    assert reading.faults == ()
    assert {motion.sweep for motion in reading.motions[1:]} == {360.0}


def test_rapids_without_a_feed_leave_none() -> None:
    rapids = ["G00 X1.", "Y2.", "Z3."] * 8
    reading = read_program(HEAD + "\n".join(rapids) + "\nM30\n")
    assert reading.motions[-1].end == (1.0, 2.0, 3.0)
    assert {motion.feed for motion in reading.motions} == {None}
    assert {motion.centre for motion in reading.motions} == {None}
    assert faults([*rapids, "G01 X5."]) == [(len(rapids), "no_feed")]
    assert faults([*rapids, "G01 X5."] + ["X6."] * FEWEST)[0] == (len(rapids), "no_feed")


def test_words_are_those_that_python_reads() -> None:
    lines = [
        "N5 G01 X-0.0001 Y12345678.1234567 Z-0 F0.3",
        "X.5",
        "G02 X1. Y-7.000 I0.1 J-99.9999999",
    ]
    forms = shapes("\n".join(lines))
    assert [form is None for form in forms] == [False, True, False]
    words = table([lines[0], lines[2]], [forms[0], forms[2]])
    by_letter = dict(zip("GXYZFIJN", words.T.tolist()[0], strict=True))
    assert by_letter["X"] == float("-0.0001")
    assert by_letter["Y"] == float("12345678.1234567")
    assert math.copysign(1.0, by_letter["Z"]) == -1.0
    assert (by_letter["G"], by_letter["N"], by_letter["F"]) == (1.0, 5.0, 0.3)
    assert math.isnan(by_letter["I"])
    assert words[6, 1] == -99.9999999


@pytest.mark.parametrize(
    "text",
    ["G01 X1", "x1", "G01  X1", "G01 X+1", "G01 X1 ", "G01 X1 Y", "G1.0 X1", "G-1 X1", "G001 X1",
     "X1 N5", "F5", "G01", "G01 X1 A2", "G01 X123456789", "G01 X1.12345678", "G01 X\u0661", ""],
)  # fmt: skip
def test_only_plain_lines_are_plain(text: str) -> None:
    (form,) = shapes(text)
    assert (form is not None) == (text == "G01 X1")


def round_path(count: int) -> list[Segment]:
    path = [line((5, 0, 2), (5, 0, 0))]
    for _ in range(count):
        path.append(arc(path[-1].end, (0, 0), 90.0, -0.01))
    end = path[-1].end
    return [*path, line(end, (*end[:2], 2.0), None)]


def test_every_measure_of_the_comparison_counts() -> None:
    path = round_path(24)
    operation = Operation(MILL, path)
    text = write_program(MM, [operation]).text
    for wrong, says in (
        ({"end": Point(path[9].end.x, path[9].end.y, path[9].end.z + 0.0016)}, "its end is"),
        ({"feed": 100.2}, "feed 100.0 instead of 100.2"),
        ({"feed": 100.052}, "feed 100.0 instead of 100.052"),  # half a count of one decimal is room
        (
            {"sweep": 90.1},
            r"the arc's middle is 4\.[3-9]\d? of the last digit away",
        ),  # 5 x 0.05 degree
        ({"sense": "clockwise"}, "the arc turns the other way"),
        ({"kind": "line"}, "arc instead of line"),
    ):
        changed = [*path[:9], path[9]._replace(**wrong), *path[10:]]  # type: ignore[arg-type]
        with pytest.raises(Impossible, match=says):
            replay_equals_path(text, MM, [Operation(MILL, changed)])


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [("M08\n", "", r"coolant is \(\)"), ("S3200", "S3199", "spindle speed is 3199"),
     ("T3 M06", "T5 M06", "tool is 5"), ("H3", "H4", "length offset is 4")],
)  # fmt: skip
def test_cuts_taken_at_once_run_under_the_state_asked_for(old: str, new: str, says: str) -> None:
    """No rapid among them: of those the coolant isn't asked."""
    path = round_path(24)
    path[-1] = line(path[-1].begin, path[-1].end)
    operation = Operation(MILL, path)
    text = write_program(MM, [operation]).text
    assert old in text
    with pytest.raises(Impossible, match=says):
        replay_equals_path(text.replace(old, new), MM, [operation])


def test_an_arc_without_a_centre_is_far_from_everything() -> None:
    path = round_path(24)[1:-1]
    lines = ["G03 X0 Y5. Z-0.01 I-5. J0 F100."] + ["G03 X0 Y5. I0 J-5."] * (FEWEST - 1)
    rows = read_program(HEAD + "\n".join(lines)).track.rows(1, 1)
    assert rows is not None
    found = apart([Pair(rows, path[:1], 0.0)])
    assert found is not None
    assert max(found) < 1e-12
    nowhere = apart([Pair(rows, [path[0]._replace(centre=None)], 0.0)])
    assert nowhere is not None
    assert math.isnan(nowhere.middle)


def test_a_stretch_that_begins_with_its_place_is_taken_at_once_from_there() -> None:
    lines = ["S900 M03", "G00 X5. Y0", "G00 Z2.", "G00 Z0", *ARCS, "M30"]
    reading = read_program("G21 G17 G90 G94\n" + "\n".join(lines))
    assert reading.faults == ()
    assert reading.blocks == 1 + len(lines)
    rows = reading.track.rows(2, 999)
    assert rows is not None
    assert len(rows.code) == 1 + len(ARCS)
    assert reading.motions[2].begin == (5.0, 0.0, 2.0)
    assert reading.track[3] == reading.motions[3]


def test_a_feed_that_is_no_number_is_not_the_same_as_none() -> None:
    cut = line((0, 0, 0), (1, 0, 0), 5.0)
    feeds = columns([cut, cut._replace(feed=None), cut._replace(feed=math.nan)]).feed.tolist()
    assert feeds[0] == 5.0
    assert math.isnan(feeds[1])
    assert feeds[2] == math.inf


def test_a_path_that_vanishes_in_rounding_has_a_program_without_cuts() -> None:
    path = [line((0, 0, 3), (0.0003, 0, 3))]
    text = write_program(MM, [Operation(MILL, path)]).text
    assert "G01" not in text
    assert text.endswith("M30\n%\n")


def test_a_long_path_whose_first_part_vanishes_is_written_like_its_rest(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    places = [(1e-8 * k, 0.0, 3.0) for k in range(24)]
    creeping = [line(a, b) for a, b in pairwise(places)]
    rest = [line(places[-1], (5, 0, 3)), line((5, 0, 3), (5, 7, 3))]
    whole = write_program(MM, [Operation(MILL, creeping + rest)]).text
    monkeypatch.setattr(path_blocks, "AT_ONCE", 8)
    monkeypatch.setattr(asked, "AT_ONCE", 8)
    assert write_program(MM, [Operation(MILL, creeping + rest)]).text == whole
    assert whole.count("G01 X5.000") == 1


def test_a_sweep_says_nothing_of_a_straight_piece() -> None:
    across = line((0, 0, 2), (5, 0, 2))
    plain, odd = (
        write_program(MM, [Operation(MILL, [first, *round_path(24)])]).text
        for first in (across, across._replace(sweep=360.0))
    )
    assert "G01 X5.000" in plain
    assert odd == plain


@pytest.mark.parametrize(
    ("change", "says"),
    [("G43 H4", "place that isn.t known"), ("M09", r"coolant is \(\)"), ("S900 M03", "speed is 900"),
     ("G55", "place that isn.t known")],
)  # fmt: skip
def test_a_state_that_changes_midway_is_noticed_by_the_cuts_after_it(
    change: str, says: str
) -> None:
    """So far on that cuts before and after the change are taken at once."""
    path = round_path(4 * FEWEST)
    operation = Operation(MILL, path)
    lines = write_program(MM, [operation]).text.split("\n")
    cuts = [at for at, one in enumerate(lines) if one.startswith("G03")]
    middle = cuts[len(cuts) // 2]
    with pytest.raises(Impossible, match=says):
        replay_equals_path("\n".join([*lines[:middle], change, *lines[middle:]]), MM, [operation])


def test_the_last_arc_of_a_stretch_tells_what_a_bare_block_after_it_means() -> None:
    back = "G02 X5. Y0 I5. J0"  # a full circle's worth of G03 before it, then once the other way
    lines = [*ARCS, "G03 X0 Y5. I-5. J0", "G03 X-5. Y0 I0 J-5.", back, "N7 X0 Y-5. I-5. J0"]
    motions = read_program(HEAD + "\n".join(lines) + "\nM30\n").motions
    assert [one.sense for one in motions[-3:]] == ["counterclockwise", "clockwise", "clockwise"]
    assert motions[-1].sweep == pytest.approx(90.0)


def test_a_comment_longer_than_a_block_may_be_is_refused() -> None:
    fits, beyond = (f"({'A' * (LONGEST_BLOCK - 2 + more)})" for more in (0, 1))
    assert faults([fits]) == []
    assert [code for _, code in faults([beyond])] == ["block_too_long"]


@pytest.mark.parametrize("sense", [None, "clockwise"])
def test_an_arc_among_many_has_to_say_which_way_it_turns(sense: Sense | None) -> None:
    path = round_path(24)
    path[9] = path[9]._replace(sense=sense)
    if sense is None:
        with pytest.raises(BadInput) as caught:
            asked.check_asked(MM, [Operation(MILL, path)])
        assert [one.pointer.split("/")[4] for one in caught.value.faults] == ["9"]
    else:  # 90 degrees the other way don't lead to its end, but 270 do
        path[9] = path[9]._replace(sweep=270.0)
        asked.check_asked(MM, [Operation(MILL, path)])
