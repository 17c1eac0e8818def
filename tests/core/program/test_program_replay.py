"""The replay proves a program equal to its path, and sees every change made to it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from flankwise_service.core.errors import Impossible
from flankwise_service.core.program.program import write_program
from flankwise_service.core.program.replay import Replay, replay_equals_path
from flankwise_service.core.program.setup import Operation
from support.program_jobs import MILL, MM, arc, hole, line

TOOL = replace(MILL, tip_to_tooth=1.0, radius_offset=8)
OPERATION = Operation(TOOL, hole(lead_in="radial", lead_out="radial"))
TEXT = write_program(MM, [OPERATION]).text


def refusal(text: str) -> str:
    with pytest.raises(Impossible) as refused:
        replay_equals_path(text, MM, [OPERATION])
    assert {fault.pointer for fault in refused.value.faults} == {"/text"}
    return str(refused.value)


def changed(old: str, new: str, count: int = 1) -> str:
    assert old in TEXT
    return TEXT.replace(old, new, count)


def test_figures_of_a_good_replay() -> None:
    replay = replay_equals_path(TEXT, MM, [OPERATION])
    assert isinstance(replay, Replay)
    assert replay.equal
    assert replay.last_digit == 0.001
    assert replay.position_error <= 0.0005 + 1e-12
    assert 0 < replay.arc_middle_error < 0.0025
    assert replay.arc_radius_error <= 0.0015
    assert replay.feed_error <= 0.05
    assert replay.motions == len(re.findall(r"G0[0-3]", TEXT))


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("G54", "G55", "work offset is G55"),
        ("T3 M06", "T4 M06", "tool is 4"),
        ("S3200 M03", "S3200 M04", "spindle is counterclockwise"),
        ("S3200", "S3201", "spindle speed is 3201"),
        ("H3", "H4", "length offset is 4"),
        ("G43 H3 ", "", "length offset is None"),
        ("M08\n", "", "coolant is ()"),
        ("M08", "M07", "coolant is ('mist',)"),
        ("F200.0", "F200.1", "feed 200.1"),
        ("G41 D8", "G42 D8", "radius side is right"),
        ("G41 D8", "G41 D9", "radius offset is 9"),
        ("G41 D8 ", "", "radius side is None"),
        ("G03", "G02", "the other way"),
        ("Z30.000", "Z28.000", "approach or retract"),
        ("Z2.000", "Z1.000", "approach or retract"),
        ("M09\n", "M09\nG00 X5.\n", "a motion the path doesn't have"),
        ("G94\n", "G94 G91\n", "two words"),
        ("M30\n", "", "doesn't say its end"),
    ],
)  # fmt: skip
def test_a_change_to_the_text_is_seen(old: str, new: str, says: str) -> None:
    assert says in refusal(changed(old, new))


def test_the_way_to_a_tool_change_is_compared_too() -> None:
    other = replace(MILL, number=4, length_offset=4, spindle_speed=800.0)
    there = [line((9.0, 1.0, 2.0), (9.0, 1.0, 1.0)), line((9.0, 1.0, 1.0), (9.0, 1.0, 2.0), None)]
    operations = [OPERATION, Operation(other, there)]
    text = write_program(MM, operations).text
    move = "G00 X9.000 Y1.000\nM05\n"
    assert text.count(move) == 1
    for wrong in ("M05\n", move.replace("X9.", "X8."), move.replace("G00", "G01"),
                  "M05\n" + move.replace("\nM05", ""), "G49\n" + move):  # fmt: skip
        with pytest.raises(Impossible):
            replay_equals_path(text.replace(move, wrong), MM, operations)
    assert replay_equals_path(text, MM, operations).equal


def test_any_printed_digit_changed_by_two_is_seen() -> None:
    words = list(re.finditer(r"[XYZIJ]-?\d+\.\d{3}", TEXT))
    assert len(words) > 20
    for found in words:
        letter, value = found[0][0], float(found[0][1:])
        for off in (0.004, -0.004):
            text = TEXT[: found.start()] + f"{letter}{value + off:.3f}" + TEXT[found.end() :]
            refusal(text)


def test_any_block_left_out_is_seen() -> None:
    lines = TEXT.splitlines()
    first = next(i for i, text in enumerate(lines) if text.startswith("T3"))
    for index in range(first, len(lines) - 1):
        if lines[index].startswith("(") or lines[index] in ("M05", "M09", "G00 Z2.000"):
            continue
        refusal("\n".join(lines[:index] + lines[index + 1 :]))


def test_a_block_written_twice_is_seen_where_it_moves() -> None:
    lines = TEXT.splitlines()
    for index, text in enumerate(lines):
        if text.startswith("G03"):
            refusal("\n".join([*lines[:index], text, *lines[index:]]))


def test_a_circle_is_not_a_piece_too_short_to_print() -> None:
    """It ends where it began, as a piece that rounding takes away does; its way doesn't."""
    path = [
        line((5, 0, 2), (5, 0, 1)),
        arc((5, 0, 1), (0, 0), 360),
        line((5, 0, 1), (5, 0, 2), None),
    ]
    text = write_program(MM, [Operation(MILL, path)]).text
    (round_,) = [one for one in text.splitlines() if one.startswith("G03")]
    with pytest.raises(Impossible, match="line instead of arc"):
        replay_equals_path(text.replace(round_, "G01 X5.000"), MM, [Operation(MILL, path)])


def test_a_text_that_ends_early_misses_motions() -> None:
    head = TEXT[: TEXT.index("G40 G01")] + "G40\nM30\n"
    assert "line 0: a motion is missing" in refusal(head)
    assert "approach or retract" in refusal("G21 G90\nM30\n")


def test_a_path_changed_after_writing_is_seen() -> None:
    deeper = [segment._replace(end=segment.end._replace(z=segment.end.z - 0.01))
              for segment in OPERATION.segments]  # fmt: skip
    with pytest.raises(Impossible):
        replay_equals_path(TEXT, MM, [replace(OPERATION, segments=deeper)])


def test_another_kind_of_motion_is_seen() -> None:
    found = re.search(r"G40 G01 X\S+ Y\S+", TEXT)
    assert found
    assert "rapid instead of line" in refusal(
        TEXT.replace(found[0], found[0].replace("G01", "G00"))
    )


STRAIGHT = Operation(MILL, [
    line((4, 0, 2), (4, 0, 1)), line((4, 0, 1), (0, 0, 1)), line((0, 0, 1), (0, 0, 2), None)
])  # fmt: skip
LINES = write_program(MM, [STRAIGHT]).text


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("G00 Z30.000\nM09", "G02 X0.000 Y0.000 Z30. I1. J0\nM09", "approach or retract"),
        ("G00 Z2.000\nG00 Z30.000\nM09", "G02 X0 Y0 Z2. I1. J0\nG0 Z30.\nM09", "arc instead of rapid"),
        ("G00 Z30.000\nM09", "G49\nG00 Z30.000\nM09", "length offset is None"),
        ("G01 X0.000", "G03 X0.000 I-2. J0", "arc instead of line"),
        ("G01 X0.000", "G00 X0.000", "rapid instead of line"),
        ("G21", "G20", "unit is in"),
        ("G17", "G18", "plane is ZX"),
        ("G94", "G95", "feed mode is per revolution"),
        ("G01 Z1.000 F100.0", "G93 G01 Z1.000 F100.0\nG94 F100.", "feed mode is inverse time"),
        ("G90", "G91", "place not known"),
        ("G00 X4.000 Y0.000", "G91 G00 X4.000 Y0.000", "place not known"),
        ("G01 X0.000", "G91 G01 X-4.000", "distance is incremental"),
    ],
)  # fmt: skip
def test_a_change_of_mode_or_kind_is_seen(old: str, new: str, says: str) -> None:
    assert old in LINES
    with pytest.raises(Impossible) as refused:
        replay_equals_path(LINES.replace(old, new, 1), MM, [STRAIGHT])
    assert says in str(refused.value)


def test_a_path_that_rests_at_the_safe_height_needs_no_approach_and_no_retract() -> None:
    operation = Operation(MILL, [line((4, 0, 30), (4, 0, 1)), line((4, 0, 1), (4, 0, 30), None)])
    program = write_program(MM, [operation])
    assert program.replay.motions == 4
    with pytest.raises(Impossible, match="a motion is missing"):
        replay_equals_path(program.text.replace("G00 Z30.000\nM09", "M09"), MM, [operation])


def test_an_arc_the_other_way_round_its_far_side_is_seen() -> None:
    found = re.search(r"G03 (X\S+ Y\S+ Z\S+) I(\S+) J(\S+)", TEXT)
    assert found
    far = f"G03 {found[1]} I{2 * float(found[2]):.3f} J{2 * float(found[3]):.3f}"
    with pytest.raises(Impossible):
        replay_equals_path(TEXT.replace(found[0], far), MM, [OPERATION])


def test_a_centre_moved_along_the_bisector_is_seen_by_the_middle() -> None:
    path = [
        line((4, 0, 2), (4, 0, 1)), arc((4, 0, 1), (0, 0), 180.0), line((-4, 0, 1), (-4, 0, 2), None)
    ]  # fmt: skip
    operation = Operation(MILL, path)
    text = write_program(MM, [operation]).text
    assert "I-4.000 J0.000" in text
    with pytest.raises(Impossible, match="the arc's middle is"):
        replay_equals_path(text.replace("J0.000", "J0.005"), MM, [operation])


def test_a_feed_is_equal_within_half_its_last_digit() -> None:
    path = [line((4, 0, 2), (4, 0, 1), 100.04), line((4, 0, 1), (4, 0, 2), None)]
    operation = Operation(MILL, path)
    text = write_program(MM, [operation]).text
    assert "F100.0" in text
    with pytest.raises(Impossible, match=r"feed 100\.1 instead of 100\.04"):
        replay_equals_path(text.replace("F100.0", "F100.1"), MM, [operation])


@pytest.mark.parametrize("feed", [1.45, 100.25, 0.95])
def test_a_feed_half_way_between_two_digits_is_equal_to_the_one_printed(feed: float) -> None:
    """1.45 - 1.4 is above 0.05 by its last bits: that is no difference."""
    path = [line((4, 0, 2), (4, 0, 1), feed), line((4, 0, 1), (4, 0, 2), None)]
    program = write_program(MM, [Operation(MILL, path)])
    assert program.replay.feed_error == pytest.approx(0.05, abs=1e-9)
