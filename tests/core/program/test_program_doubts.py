"""What a hand at the control most often leaves out, told as a caution."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from flankwise_service.core.program.doubts import doubts
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.program import write_program
from flankwise_service.core.program.setup import Operation
from support.program_jobs import MILL, MM, hole, line, random_job

BLANK = [line((9.0, 1.0, 2.0), (9.0, 1.0, 1.0)), line((9.0, 1.0, 1.0), (9.0, 1.0, 2.0), None)]
FOUR = replace(MILL, number=4, length_offset=4, spindle_speed=800.0)
SEVEN = replace(MILL, number=7, length_offset=7)
TEXT = write_program(MM, [Operation(FOUR, BLANK), Operation(SEVEN, hole())]).text


def told(text: str) -> list[tuple[str, str]]:
    """Return each caution's code and its block."""
    reading = read_program(text)
    assert reading.faults == ()
    found = doubts(text, reading.motions, reading.states)
    lines = text.split("\n")
    assert all(lines[one.line - 1].startswith(one.text) for one in found)
    return [(one.code, one.text[:3]) for one in found]


def test_a_program_as_written_has_none() -> None:
    assert told(TEXT) == []
    rng = random.Random(8)
    for _ in range(20):
        setup, operations = random_job(rng)
        if any(one.tool.length_offset != one.tool.number for one in operations):
            continue
        assert told(write_program(setup, operations).text) == []


@pytest.mark.parametrize(
    ("old", "new", "codes"),
    [
        ("G43 H7 ", "", ["no_length_offset"]),
        ("G43 H7 ", "G43 H4 ", ["length_offset_number"]),
        ("T7 M06\n", "", ["length_offset_number"]),
        ("T7 M06\n", "T7\n", ["length_offset_number"]),
        ("T4 M06\n", "", ["no_tool_called"]),
        ("G43 H4 ", "", ["no_length_offset"]),
        ("G43 H7 ", "G49 ", ["no_length_offset"]),
    ],
)
def test_a_hand_at_the_control_is_asked(old: str, new: str, codes: list[str]) -> None:
    assert TEXT.count(old) == 1
    assert [code for code, _ in told(TEXT.replace(old, new))] == codes


def test_neither_tool_nor_length_is_told_of_both_and_once() -> None:
    text = TEXT.replace("G43 H4 ", "").replace("T4 M06\n", "").replace("G43 H7 ", "")
    found = told(text.replace("T7 M06\n", ""))
    assert found == [("no_tool_called", "G01"), ("no_length_offset", "G01")]
