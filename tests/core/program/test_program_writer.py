"""Programs written out, word by word."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput
from flankwise_service.core.path.segment import Segment
from flankwise_service.core.program.header import CAUTIONS
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.program import write_program
from flankwise_service.core.program.setup import Operation, Setup, Tool
from flankwise_service.core.program.writer import CHANGE_CAUTION, program_lines
from flankwise_service.core.threads import parse
from support.program_jobs import MILL, MM, arc, hole, line, random_job

PATH = [
    line((4.0, 0.0, 2.0), (4.0, 0.0, 0.0)),
    arc((4.0, 0.0, 0.0), (0.0, 0.0), 360.0, -1.5),
    arc((4.0, 0.0, -1.5), (0.0, 0.0), 90.0, -0.375),
    line((0.0, 4.0, -1.875), (0.0, 0.0, -1.875), 250.0),
    line((0.0, 0.0, -1.875), (0.0, 0.0, 2.0), None),
]


def blocks_of(setup: Setup, *operations: Operation) -> list[str]:
    """Return the lines without comments."""
    return [text for text in program_lines(setup, operations) if not text.startswith("(")]


def cuts_of(setup: Setup, path: list[Segment], tool: Tool = MILL) -> list[str]:
    """Return the lines that cut."""
    lines = blocks_of(setup, Operation(tool, path))
    return [text for text in lines if " G01" in f" {text}" or text.startswith(("G02", "G03"))]


def test_a_whole_program() -> None:
    assert blocks_of(MM, Operation(replace(MILL, tip_to_tooth=0.5), PATH)) == [
        "%", "G17 G21 G40 G49 G80 G90 G94", "G54",
        "T3 M06", "S3200 M03", "G00 X4.000 Y0.000", "G43 H3 G00 Z30.000", "M08",
        "G00 Z1.500", "G01 Z-0.500 F100.0",
        "G03 X4.000 Y0.000 Z-2.000 I-4.000 J0.000",
        "G03 X0.000 Y4.000 Z-2.375 I-4.000 J0.000",
        "G01 Y0.000 F250.0", "G00 Z1.500", "G00 Z30.000",
        "M09", "M05", "M30", "%",
    ]  # fmt: skip


def test_the_same_by_the_other_choices() -> None:
    setup = Setup(
        "in", 2.0, "G59.1", "G70 G71", 5, "centre", True, True, 10, 42, "M02", version="1.0.0"
    )
    tool = Tool(12, 999.6, None, "mist")
    path = [
        line((0.4, 0.0, 0.2), (0.4, 0.0, 0.0), 10.0),
        arc((0.4, 0.0, 0.0), (0.0, 0.0), 90.0, -0.0123456, "clockwise", 12.345),
        line((0.0, -0.4, -0.0123456), (0.0, -0.4, 0.2), None),
    ]
    assert blocks_of(setup, Operation(tool, path)) == [
        "%", "O0042", "N10 G17 G70 G40 G80 G90 G94", "N20 G91.1", "N30 G59.1",
        "N40 T12 M06", "N50 S1000 M03", "N60 G00 X0.40000 Y0.00000", "N70 G00 Z2.00000", "N80 M07",
        "N90 G00 Z0.20000", "N100 G01 Z0.00000 F10.00",
        "N110 G02 X0.00000 Y-0.40000 Z-0.01235 I-0.40000 J0.00000 K0.04938 F12.35",
        "N120 G00 Z0.20000", "N130 G00 Z2.00000", "N140 M09", "N150 M05", "N160 M02", "%",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("unit", "codes", "word"),
    [("in", "G20 G21", "G20"), ("mm", "G20 G21", "G21"), ("in", "G70 G71", "G70"),
     ("mm", "G70 G71", "G71")],
)  # fmt: skip
def test_the_unit_is_set_by_the_word_asked_for(unit: Any, codes: Any, word: str) -> None:
    setup = Setup(unit, 3.0, unit_codes=codes)
    path = [line((0, 0, 1.0), (0, 0, 0.5)), line((0, 0, 0.5), (0, 0, 1.0), None)]
    assert f" {word} " in blocks_of(setup, Operation(MILL, path))[1]


def test_arcs_by_radius() -> None:
    path = [
        line((4.0, 0.0, 2.0), (4.0, 0.0, 0.0)),
        arc((4.0, 0.0, 0.0), (0.0, 0.0), 90.0, 0.5),
        arc((0.0, 4.0, 0.5), (0.0, 0.0), 120.0, 0.5, "clockwise"),
        line((3.4641016151, -2.0, 1.0), (3.4641016151, -2.0, 2.0), None),
    ]
    setup = replace(MM, arc_form="radius")
    assert cuts_of(setup, path)[1:] == [
        "G03 X0.000 Y4.000 Z0.500 R4.000", "G02 X3.464 Y-2.000 Z1.000 R4.000",
    ]  # fmt: skip
    write_program(setup, [Operation(MILL, path)])


def test_coolant_off_leaves_its_words_out() -> None:
    text = "\n".join(blocks_of(MM, Operation(replace(MILL, coolant="off"), PATH)))
    assert "M07" not in text
    assert "M08" not in text
    assert "M09" not in text


def test_two_tools_stop_the_spindle_between_them() -> None:
    other = replace(MILL, number=4, length_offset=4, spindle_speed=800.0)
    lines = blocks_of(MM, Operation(MILL, PATH), Operation(other, PATH))
    first, second = lines.index("T3 M06"), lines.index("T4 M06")
    assert lines[second - 4 : second] == ["G00 Z30.000", "M09", "G00 X4.000 Y0.000", "M05"]
    assert lines[second + 1 : second + 4] == ["S800 M03", "G00 X4.000 Y0.000", "G43 H4 G00 Z30.000"]
    assert lines[first - 1] == "G54"
    program = write_program(MM, [Operation(MILL, PATH), Operation(other, PATH)])
    assert program.replay.motions == 19


def test_a_new_tool_crosses_nothing_before_its_length_counts() -> None:
    """On a machine that doesn't lift for the change, a longer tool's tip stands too low till then.

    NISTIR 6556, 3.6.3 (memory): after a tool change the axes stand where they stood before it.
    """
    rng = random.Random(5)
    changes = 0
    for _ in range(40):
        setup, operations = random_job(rng)
        text = write_program(setup, operations).text
        stood = None
        for motion in (reading := read_program(text)).motions:
            state = reading.states[motion.state]
            if motion.begin == (None, None, None) and stood is not None:
                changes += 1
                assert state.length_offset is None
                assert motion.end[:2] == stood[:2]
                assert stood[2] == round(setup.safe_height, setup.places)
            stood = motion.end
        assert text.count(CHANGE_CAUTION) == len(operations) - 1
    assert changes > 10


def test_no_move_to_the_change_where_the_next_tool_begins_at_the_last_place() -> None:
    there = [line((0.0, 0.0, 2.0), (0.0, 0.0, -1.0)), line((0.0, 0.0, -1.0), (0.0, 0.0, 2.0), None)]
    other = replace(MILL, number=4, length_offset=4)
    lines = blocks_of(MM, Operation(MILL, PATH), Operation(other, there))
    second = lines.index("T4 M06")
    assert lines[second - 3 : second] == ["G00 Z30.000", "M09", "M05"]


def test_line_numbers_start_anew_when_they_are_full() -> None:
    places = [(0.0, 0.0, 2.0)] + [(0.01 * (k % 2), 0.0, 1.0) for k in range(300)]
    path = [line(a, b) for a, b in itertools.pairwise(places)]
    path.append(line(places[-1], (places[-1][0], 0.0, 2.0), None))
    numbers = [
        int(text.split(" ")[0][1:])
        for text in program_lines(replace(MM, line_number_step=1000), [Operation(MILL, path)])
        if text.startswith("N")
    ]
    assert max(numbers) == 99000
    assert numbers.count(1000) > 1
    write_program(replace(MM, line_number_step=1000), [Operation(MILL, path)])


def test_an_arc_too_short_to_print_becomes_a_line_never_a_full_turn() -> None:
    begin = (4.0, 0.0, 0.0)
    tiny = arc(begin, (0.0, 0.0), 0.001, 0.01)
    path = [line((4.0, 0.0, 2.0), begin), tiny, line(tuple(tiny.end), (*tiny.end[:2], 2.0), None)]
    assert cuts_of(MM, path)[1:] == ["G01 Z0.010"]
    program = write_program(MM, [Operation(MILL, path)])
    assert program.replay.left_out == 0
    flat = arc(begin, (0.0, 0.0), 0.001)
    path = [line((4.0, 0.0, 2.0), begin), flat, line(tuple(flat.end), (*flat.end[:2], 2.0), None)]
    assert cuts_of(MM, path)[1:] == []
    assert write_program(MM, [Operation(MILL, path)]).replay.left_out == 1


def test_a_short_arc_that_can_be_printed_stays_an_arc() -> None:
    begin = (0.02, 0.0, 0.0)
    short = arc(begin, (0.0, 0.0), 45.0)
    path = [line((0.02, 0.0, 2.0), begin), short]
    path.append(line(tuple(short.end), (*short.end[:2], 2.0), None))
    (block,) = cuts_of(MM, path)[1:]
    assert block.startswith("G03 X0.014 Y0.014 Z0.000 I-0.0")
    write_program(MM, [Operation(MILL, path)])


def test_a_tiny_arc_by_radius_becomes_a_line_too() -> None:
    begin = (4.0, 0.0, 0.0)
    tiny = arc(begin, (0.0, 0.0), 0.001, 0.01)
    path = [line((4.0, 0.0, 2.0), begin), tiny, line(tuple(tiny.end), (*tiny.end[:2], 2.0), None)]
    assert cuts_of(replace(MM, arc_form="radius"), path)[1:] == ["G01 Z0.010"]


@pytest.mark.parametrize("sweep", [359.9999, 359.995, 359.99, 359.5])
def test_an_arc_just_short_of_a_turn_never_becomes_nothing(sweep: float) -> None:
    begin = (4.0, 0.0004, 0.0)
    nearly = arc(begin, (0.0, 0.0), sweep, -1.5)
    path = [line((4.0, 0.0004, 2.0), begin), nearly]
    path.append(line(tuple(nearly.end), (*nearly.end[:2], 2.0), None))
    (block,) = cuts_of(MM, path)[1:]
    assert block.startswith("G03")
    program = write_program(MM, [Operation(MILL, path)])
    assert program.replay.arc_middle_error < 0.003


def test_feeds_and_speeds_round_to_their_digits_and_are_kept_in_force() -> None:
    path = [
        line((0, 0, 2.0), (0, 0, 1.0), 99.96), line((0, 0, 1.0), (1, 0, 1.0), 100.04),
        line((1, 0, 1.0), (2, 0, 1.0), 100.06), line((2, 0, 1.0), (2, 0, 2.0), None),
    ]  # fmt: skip
    assert [text.partition(" F")[2] for text in cuts_of(MM, path)] == ["100.0", "", "100.1"]


def test_the_header_says_what_to_mind() -> None:
    setup = replace(
        MM, thread=parse("M20x1.5-6H"), remarks=("pitch diameter 19.026 to 19.216", "G0 Z-50 (now)")
    )
    tool = replace(MILL, radius_offset=5, name="thread mill M30")
    operation = Operation(tool, hole(lead_in="radial", lead_out="radial"), "port")
    text = write_program(setup, [operation]).text
    assert "(THREAD M20x1.5-6H)\n(MADE BY FLANKWISE 1.0.0)\n" in text
    assert "(- pitch diameter 19.026 to 19.216)" in text
    assert "(- G'0 Z'-50 _now_)" in text
    assert "(TOOL 3 IS MEASURED AT ITS TIP thread mill M'30)" in text
    assert "(RADIUS OFFSET 5 CORRECTS THE CENTRE PATH, BEGIN WITH ZERO)" in text
    assert "(TOOL 3 port)" in text
    for caution in CAUTIONS:
        assert f"(CAUTION {caution})" in text
    assert "(LENGTHS IN MILLIMETRE, FEED IN MILLIMETRE A MINUTE ALONG THE PATH)" in text
    inch = [line((0, 0, 1), (0, 0, 0.5)), line((0, 0, 0.5), (0, 0, 1), None)]
    assert "(LENGTHS IN INCH," in write_program(Setup("in", 2.0), [Operation(MILL, inch)]).text


def test_blocks_and_bytes_are_counted() -> None:
    program = write_program(MM, [Operation(MILL, PATH)])
    lines = program.text.splitlines()
    assert program.bytes == len(program.text.encode())
    assert program.blocks == len([text for text in lines if text[0] not in "(%"])
    assert program.text.endswith("M30\n%\n")


def test_a_program_longer_than_a_control_would_take_is_refused() -> None:
    places = [(0.0, 0.0, 2.0)] + [(float(k % 2), 1.5 * (k % 3), 1.0 + k % 2) for k in range(42_000)]
    path = [line(a, b) for a, b in itertools.pairwise(places)]
    path.append(line(places[-1], (*places[-1][:2], 2.0), None))
    with pytest.raises(BadInput) as refused:
        write_program(MM, [Operation(MILL, path)])
    assert [fault.code for fault in refused.value.faults] == ["program_too_long"]
    # As a stream it can still be had, line by line.
    lines = program_lines(MM, [Operation(MILL, path)])
    assert next(lines) == "%"
