"""The reader of word-address text: what it takes, and what it names as a fault."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.program.blocks import GREATEST_TEXT, Block, BlockFault, blocks
from flankwise_service.core.program.interpreter import MOST_FAULTS, read_program
from flankwise_service.core.program.modal import Motion
from flankwise_service.core.program.reading import Reading

HEAD = "G21 G17 G90 G94\n"
CUTTING = HEAD + "S900 M03\nG00 X0 Y0 Z0\n"


def cut(text: str) -> Motion:
    """Return the last motion of blocks after the tool stands at zero, spindle running."""
    reading = good(CUTTING + text)
    return reading.motions[-1]


def good(text: str) -> Reading:
    reading = read_program(text + "\nM30\n")
    assert reading.faults == ()
    return reading


def fault(text: str) -> str:
    """Return the code of the only fault."""
    (found,) = read_program(text + "\nM30\n").faults
    assert found.detail
    assert found.change
    return found.code


# ---- words and comments


def test_words_are_read_in_either_case_and_with_blanks_before_their_number() -> None:
    (block,) = blocks("n7g1 x-2y.5")
    assert isinstance(block, Block)
    assert block.number == 7
    assert list(block.words) == [("G", 1.0), ("X", -2.0), ("Y", 0.5)]


@pytest.mark.parametrize("text", ["G01 X1.", "G01 X+1.", "g1x1", "G1 X 1.", "G01\tX1.0"])
def test_spellings_of_one_block(text: str) -> None:
    (block,) = blocks(text)
    assert isinstance(block, Block)
    assert list(block.words) == [("G", 1.0), ("X", 1.0)]


def test_comments_end_where_they_close_or_with_the_line() -> None:
    (block,) = blocks("(one) G0 (two) X1 ; three (four)")
    assert isinstance(block, Block)
    assert block.comments == ("one", "two", " three (four)")
    assert len(block.words) == 2


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("G01 X1..5", "not_a_word"), ("G01 X", "not_a_word"), ("X--1", "not_a_word"),
        ("X1-2", "not_a_word"), ("#1=5", "not_a_word"), ("X[1+2]", "not_a_word"),
        ("X1234567890123", "not_a_word"), ("X1e5", "unknown_letter"), ("G01 X1 )", "not_a_word"),
        ("(open", "open_comment"), ("(one (two))", "open_comment"),
        ("/G0 X1", "optional_block"), ("G0 X1\x00", "not_printable"),
        ("G0 X\u0661", "not_printable"), ("\u0413" + "0 X1", "not_printable"),
        ("N1.5 G0", "line_number"), ("N-1 G0", "line_number"), ("N100000 G0", "line_number"),
        ("G0 X1 N5", "unknown_letter"), ("A90.", "unknown_letter"), ("U5.", "unknown_letter"),
        ("G0 " + "X1 " * 90, "block_too_long"),
        ("X1 X2", "letter_twice"), ("G999", "unknown_code"), ("G1.5", "unknown_code"),
        ("M98", "unknown_code"), ("G28", "unknown_code"), ("G-1", "unknown_code"),
        ("G0 G1 X1", "group_twice"), ("M3 M5", "group_twice"), ("G17 G18", "group_twice"),
        ("G20 G21", "group_twice"), ("G90 G91", "group_twice"), ("G70 G21", "group_twice"),
        ("G54 G55", "group_twice"), ("M7 M8", "group_twice"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_a_fault(text: str, code: str) -> None:
    (found,) = read_program(f"{HEAD}{text}\nM30\n").faults
    assert found.code == code
    assert found.line == 2


def test_a_text_that_is_too_long_is_not_read() -> None:
    (found,) = blocks("G0 X1\n" * (GREATEST_TEXT // 6 + 1))
    assert isinstance(found, BlockFault)
    assert found.code == "text_too_long"
    assert [f.code for f in read_program("x" * (GREATEST_TEXT + 1)).faults] == ["text_too_long"]


def test_nothing_may_follow_the_closing_mark() -> None:
    reading = read_program(f"%\n{HEAD}M30\n%\n\nG0 X1\nG0 X2\n")
    assert [f.code for f in reading.faults] == ["after_end"]
    assert read_program(f"%\r\n{HEAD}M30\r\n%\r\n").faults == ()


def test_all_faults_are_found_up_to_a_limit() -> None:
    assert len(read_program("Q1\n" * 20 + "M30").faults) == 20
    assert len(read_program("Q1\n" * 200 + "M30").faults) == MOST_FAULTS


def test_motions_are_kept_up_to_the_first_fault() -> None:
    reading = read_program(CUTTING + "G1 X1. F10.\nX1 X2\nG1 X5.\nM30\n")
    assert [m.line for m in reading.motions] == [3, 4]


# ---- modal state


def test_state_is_kept_with_the_motions() -> None:
    reading = good(
        "O1234\nG20 G17 G90 G94 G40 G49 G80 G64 G91.1\nG55\nT4 M6\nS2000 M3\nG0 X1. Y2.\nG43 H5 Z3.\nM8\n"
        "M7\nG1 Z1. F10.\nM9\nX2.\nM4\nX3."
    )
    first, second, third, fourth, last = (reading.states[m.state] for m in reading.motions)
    assert reading.unit == "in"
    assert (first.tool, first.work_offset, first.length_offset) == (4, "G55", None)
    assert (first.spindle, first.spindle_speed, first.coolant) == ("clockwise", 2000.0, ())
    assert second.length_offset == 5
    assert third.coolant == ("flood", "mist")
    assert fourth.coolant == ()
    assert last.spindle == "counterclockwise"
    assert reading.motions[0].begin == (None, None, None)
    assert reading.motions[0].end == (1.0, 2.0, None)
    assert reading.motions[1].end == (1.0, 2.0, 3.0)
    assert reading.blocks == 15
    assert reading.ended


def test_a_tool_change_an_offset_and_a_work_offset_make_places_unknown() -> None:
    for word in ("T2 M6", "G55"):
        assert good(CUTTING + f"{word}\nG0 X1.").motions[-1].begin == (None, None, None)
    assert good(CUTTING + "G43 H1 G0 X1.").motions[-1].end == (1.0, 0.0, None)
    assert good(CUTTING + "G49 G0 X1.").motions[-1].end == (1.0, 0.0, 0.0)
    assert good("G54\n" + CUTTING + "G54 G0 X1.").motions[-1].begin == (0.0, 0.0, 0.0)


def test_a_feed_alone_is_kept_and_given_with_a_rapid_too() -> None:
    assert good(CUTTING + "F9.\nG1 X1.").motions[-1].feed == 9.0
    assert good(CUTTING + "F9.\nF8.\nG0 X1. F7.\nG1 X2.").motions[-1].feed == 7.0


def test_tool_and_speed_may_stand_alone_before_they_are_used() -> None:
    reading = good(CUTTING + "T4\nS500\nM6\nM3\nG0 X1.")
    state = reading.states[reading.motions[-1].state]
    assert (state.tool, state.spindle_speed) == (4, 500.0)


def test_a_second_unit_is_converted_to_the_first() -> None:
    reading = good(CUTTING + "G20 G1 X1. F2.\nG21 X12.7 F5.")
    assert reading.unit == "mm"
    assert [m.end[0] for m in reading.motions[1:]] == [25.4, 12.7]
    assert [m.feed for m in reading.motions[1:]] == pytest.approx([50.8, 5.0])
    assert good(CUTTING + "F9.\nG21 G1 X1.").motions[-1].feed == 9.0
    arc = good(CUTTING + "G20 G2 X1. Y0 I.5 J0 F2.").motions[-1]
    assert arc.centre == (12.7, 0.0)


@pytest.mark.parametrize("word", ["G20", "G70"])
def test_inch_by_either_standard(word: str) -> None:
    assert good(f"{word} G90\nG0 X1").unit == "in"


@pytest.mark.parametrize("word", ["G21", "G71"])
def test_millimetre_by_either_standard(word: str) -> None:
    assert good(f"{word} G90\nG0 X1").unit == "mm"


def test_increments_add_up() -> None:
    reading = good(CUTTING + "G91 G1 X1. F5.\nX1. Y2.\nZ-3.\nG90 X0")
    assert [m.end for m in reading.motions[1:]] == [
        (1.0, 0.0, 0.0), (2.0, 2.0, 0.0), (2.0, 2.0, -3.0), (0.0, 2.0, -3.0)
    ]  # fmt: skip


def test_feeds_of_three_modes_come_out_per_minute() -> None:
    assert cut("G1 X3. Y4. F80.").feed == 80.0
    assert cut("G95 G1 X1. F0.5").feed == 450.0
    assert cut("G93 G1 X3. Y4. F2.").feed == 10.0
    assert cut("G93 G2 X0 Y0 I5. J0 F1.").feed == pytest.approx(31.41592653589793)
    aside = good(CUTTING + "G1 X2. Y7. F9.\nG93 G2 X2. Y7. I3. J4. F1.").motions[-1].feed
    assert aside == pytest.approx(31.41592653589793)
    upright = cut("G93 G18 G2 X0 Z0 Y5. I3. K4. F1.").feed
    assert upright == pytest.approx(math.hypot(10 * math.pi, 5.0))
    helix = cut("G93 G3 X0 Y0 Z5. I5. J0 F1.").feed
    assert helix == pytest.approx((31.41592653589793**2 + 25) ** 0.5)


def test_dwell_and_stops() -> None:
    reading = good(CUTTING + "G4 P1.5\nM0\nM1\nG04 P0.25")
    assert reading.dwell_seconds == 1.75
    assert len(reading.motions) == 1


def test_the_end_is_said_once_and_last() -> None:
    assert [f.code for f in read_program(HEAD).faults] == ["no_end"]
    assert [f.code for f in read_program("").faults] == ["no_end"]
    assert [f.code for f in read_program("M2\nG0 X1\n(comment)\n").faults] == ["after_end"]
    assert read_program("M02").ended


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("G90\nG0 X1", "no_unit"),
        ("G21\nG0 X1", "no_distance_mode"),
        ("G21 G90\nX1", "no_motion_word"),
        (HEAD + "G80 X1", "no_motion_word"),
        (HEAD + "G91 G0 X1", "place_unknown"),
        (HEAD + "S9 M3\nG1 X1 F5", "place_unknown"),
        (HEAD + "S9 M3\nG0 X1 Y1\nG1 X2 F5", "place_unknown"),
        (HEAD + "G0 X0 Y0 Z0\nG1 X1 F5", "spindle_stopped"),
        ("G21 G90\nS9 M3\nG0 X0 Y0 Z0\nG1 X1 F5", "no_plane"),
        (CUTTING + "G1 X1", "no_feed"),
        (CUTTING + "F5\nG93\nG1 X1", "no_feed"),
        (CUTTING + "G93\nG1 X1 F5\nX2", "no_feed"),
        (CUTTING + "F5\nG20 G1 X1", "no_feed"),
        (CUTTING + "G1 X1 F0", "feed"),
        (CUTTING + "F-5", "feed"),
        (CUTTING + "P5", "word_without_use"),
        (CUTTING + "H5", "word_without_use"),
        (CUTTING + "D5", "word_without_use"),
        (CUTTING + "I5", "word_without_use"),
        (CUTTING + "G1 X1 I5 F5", "word_without_use"),
        (CUTTING + "G0 X1 R5", "word_without_use"),
        (CUTTING + "G4", "dwell"), (CUTTING + "G4 P-1", "dwell"),
        ("M6", "no_tool"), ("T1.5", "whole_number"), ("T10000", "whole_number"),
        ("T-1", "whole_number"),
        ("M3", "spindle_speed"), ("S-5", "spindle_speed"), ("S0 M3", "spindle_speed"),
        ("G43", "length_offset"), ("G43 H1.5", "whole_number"),
        ("G41 D1", "radius_offset"), ("G17\nG41", "radius_offset"),
        ("G17 G42 D1\nG41 D1", "radius_offset"), ("G17 G42 D1\nG18", "radius_offset"),
        ("T1 G17 G42 D1\nM6", "radius_offset"), ("G18\nG41 D1", "radius_offset"),
        ("G21\nO5", "program_number"), ("O5 G21", "program_number"), ("O5 X1", "program_number"),
        ("O5\nO6", "program_number"),
    ],
)  # fmt: skip
def test_what_a_control_would_have_to_guess_is_a_fault(text: str, code: str) -> None:
    assert fault(text) == code


# ---- arcs


def test_arcs_in_three_planes() -> None:
    xy = cut("G3 X5. Y5. Z1. I0 J5. F9.")
    assert (xy.centre, xy.sense, xy.sweep) == ((0.0, 5.0), "counterclockwise", pytest.approx(90))
    zx = cut("G18 G3 Z5. X5. K5. I0 F9.")
    assert (zx.centre, zx.sweep) == ((5.0, 0.0), pytest.approx(270))
    yz = cut("G19 G2 Y5. Z5. J5. K0 F9.")
    assert (yz.centre, yz.sense, yz.sweep) == ((5.0, 0.0), "clockwise", pytest.approx(90))


def test_arcs_by_radius_take_the_short_or_the_long_way() -> None:
    short, long = cut("G2 X5. Y5. R5. F9."), cut("G2 X5. Y5. R-5. F9.")
    assert short.centre == pytest.approx((5.0, 0.0))
    assert short.sweep == pytest.approx(90)
    assert long.centre == pytest.approx((0.0, 5.0))
    assert long.sweep == pytest.approx(270)


def test_a_full_turn_by_its_centre_with_a_rise() -> None:
    turn = cut("G3 X0 Y0 Z1.5 I-4. J0 K1.5 F9.")
    assert (turn.sweep, turn.centre, turn.end) == (360.0, (-4.0, 0.0), (0.0, 0.0, 1.5))


def test_places_equal_but_for_the_last_bit_are_one() -> None:
    text = CUTTING + "G1 X0.1 F9.\nG91 X0.2\nG90 G3 X0.3 Y0 I1. J0"
    assert good(text).motions[-1].sweep == 360.0


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("G2 Z5. I1. J0 F9.", "arc_without_end"),
        ("G18 G2 Y5. I1. K0 F9.", "arc_without_end"),
        ("G2 X5. F9.", "arc_without_centre"),
        ("G2 X5. K5. F9.", "arc_without_centre"),
        ("G2 X5. Y5. I5. R5. F9.", "arc_twice"),
        ("G2 X5. Y5. R3. F9.", "arc_impossible"),
        ("G2 X0 Y0 R3. F9.", "arc_impossible"),
        ("G2 X5. I0 J0 F9.", "arc_impossible"),
        ("G2 X5. Y5.01 I5. J0 F9.", "arc_radius"),
        ("G2 X0 Y0 Z1.5 I5. J0 K1.4 F9.", "rise_per_turn"),
        ("G2 X5. Y5. Z1.5 R5. K1.5 F9.", "rise_per_turn"),
        ("G2 X5. I2.5 J0", "no_feed"),
    ],
)  # fmt: skip
def test_arcs_that_make_no_sense(text: str, code: str) -> None:
    assert fault(CUTTING + text) == code


@pytest.mark.parametrize(
    ("plane", "words"), [("G17", "I and J"), ("G18", "I and K"), ("G19", "J and K")]
)
def test_a_centre_left_out_is_asked_for_by_its_letters(plane: str, words: str) -> None:
    reading = read_program(f"{CUTTING}{plane} G2 X5. Y5. Z5. F9.")
    (found,) = reading.faults
    assert found.code == "arc_without_centre"
    assert sorted(words.split(" and ")) == sorted(found.change.replace(",", "").split()[1:4:2])


@pytest.mark.parametrize(("unit", "off"), [("G21", 0.002), ("G20", 0.0002)])
def test_radii_may_differ_as_far_as_a_control_takes_it(unit: str, off: float) -> None:
    """NISTIR 6556 (2000), 3.5.3.2: 0.0002 in, 0.002 mm (memory)."""
    text = f"{unit} G17 G90 G94\nS9 M3\nG0 X0 Y0 Z0\n"
    assert good(f"{text}G3 X{10 + off * 0.9:.5f} Y0 I5. J0 F9.").motions
    assert fault(f"{text}G3 X{10 + off * 1.2:.5f} Y0 I5. J0 F9.") == "arc_radius"


def test_a_rise_word_has_room_for_rounding() -> None:
    assert cut("G3 X0 Y0 Z1.5 I-4. J0 K1.498 F9.").sweep == 360.0
    assert fault(CUTTING + "G3 X0 Y0 Z1.5 I-4. J0 K1.497 F9.") == "rise_per_turn"
