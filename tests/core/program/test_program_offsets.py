"""A radius offset at the control changes radii, nothing else."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.errors import Impossible
from flankwise_service.core.path.request import RadialPass
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.modal import Motion
from flankwise_service.core.program.offset_path import with_radius_offsets
from flankwise_service.core.program.offset_spans import heading, turned
from flankwise_service.core.program.program import write_program
from flankwise_service.core.program.setup import Operation, Setup
from support.program_jobs import MILL, MM, arc, hole, line

HEAD = "G21 G17 G90 G94\nS900 M03\nG00 X0 Y0 Z0\nF100.\n"


def displaced(text: str, **values: float) -> tuple[Motion, ...]:
    reading = read_program(text)
    assert reading.faults == ()
    return with_radius_offsets(reading, {int(name[1:]): value for name, value in values.items()})


def refused(text: str) -> str:
    with pytest.raises(Impossible) as refusal:
        displaced(HEAD + text + "\nM30\n", d1=0.1)
    return str(refusal.value)


@pytest.mark.parametrize("side", ["internal", "external"])
@pytest.mark.parametrize("milling", ["climb", "conventional"])
@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_positive_value_takes_the_cutter_off_the_flank(
    side: Any, milling: Any, hand: Any
) -> None:
    internal = side == "internal"
    helix = {"side": side, "hand": hand, "milling": milling, "lead_in": "radial",
             "lead_out": "radial", "centre": (7.0, -3.0)}  # fmt: skip
    if not internal:
        helix["passes"] = (RadialPass(15.0, 200.0),)
    tool = replace(MILL, tip_to_tooth=1.0, radius_offset=8,
                   radius_side="left" if milling == "climb" else "right")  # fmt: skip
    text = write_program(MM, [Operation(tool, hole(**helix))]).text
    plain = displaced(text)
    moved = displaced(text, d8=0.05)
    arcs = 0
    for before, after in zip(plain, moved, strict=True):
        assert after[:2] == before[:2]
        assert after.centre == before.centre
        assert after.end[2] == before.end[2]
        if before.kind == "arc":
            arcs += 1
            for a, b in ((before.begin, after.begin), (before.end, after.end)):
                grown = math.dist(b[:2], after.centre) - math.dist(a[:2], before.centre)  # type: ignore[arg-type]
                assert grown == pytest.approx(-0.05 if internal else 0.05, abs=1e-9)
        elif before.kind == "rapid":
            assert after.end == before.end
    assert arcs >= 3
    known = [motion for motion in moved if None not in motion.begin]
    for first, second in itertools.pairwise(known):
        assert math.dist(first.end, second.begin) < 1e-4  # type: ignore[arg-type]


def test_values_of_zero_or_of_another_number_change_nothing() -> None:
    text = write_program(
        MM, [Operation(replace(MILL, tip_to_tooth=1.0, radius_offset=8),
                       hole(lead_in="radial", lead_out="radial"))]
    ).text  # fmt: skip
    assert displaced(text, d8=0.0) == displaced(text, d9=1.0) == read_program(text).motions


def test_lines_that_join_smoothly_move_sideways() -> None:
    text = HEAD + "G1 X5.\nG41 D1 X10.\nX20.\nX30.\nG40 X40.\nM30\n"
    moved = displaced(text, d1=0.5)
    assert [m.end[:2] for m in moved[2:]] == [
        pytest.approx((10.0, 0.5)), pytest.approx((20.0, 0.5)), pytest.approx((30.0, 0.5)),
        (40.0, 0.0),
    ]  # fmt: skip
    assert moved[-1].begin[:2] == pytest.approx((30.0, 0.5))
    right = displaced(text.replace("G41", "G42"), d1=0.5)
    assert right[2].end[:2] == pytest.approx((10.0, -0.5))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("G41 D1 G3 X5. Y5. I0 J5.\nG40 G1 X9.", "goes on in an arc"),
        ("G41 D1 G1 X5.\nG3 X10. Y5. I0 J5.\nG40 G3 X5. Y10. I-5. J0", "goes off in an arc"),
        ("G41 D1 G1 X5.\nX6.\nY6.\nG40 X9.", "a corner of 90 degrees"),
        ("G41 D1 G1 X5.\nG0 X6.\nG40 G1 X9.", "stays on in a rapid"),
        ("G41 D1 G1 X5.", "stays on in a rapid or at the end"),
        ("G41 D1 G1 X5.\nG3 X5.1 Y.1 I0 J.1\nG1 Y1.\nG40 Y2.", "smaller than the radius offset"),
        ("G41 D1 G1 X5.\nG55 G40 G0 X0\nG1 X5 Y5 Z5", "a place isn't known"),
    ],
)  # fmt: skip
def test_what_a_control_could_not_follow_is_refused(text: str, says: str) -> None:
    if "G55" in text:
        text = text.partition("\nG1 X5 Y5")[0]
    assert says in refused(text)


@pytest.mark.parametrize(("degrees", "taken"), [(1.49, True), (1.51, False)])
def test_pieces_that_turn_by_one_and_a_half_degrees_still_join(degrees: float, taken: bool) -> None:
    """As much as rounding turns an arc of a few counts."""
    for sign in (1.0, -1.0):
        aside = sign * math.tan(math.radians(degrees))
        text = f"G41 D1 G1 X5.\nX6.\nX7. Y{aside:.6f}\nG40 X9. Y{3 * aside:.6f}"
        if taken:
            displaced(HEAD + text + "\nM30\n", d1=0.1)
        else:
            assert f"a corner of {degrees} degrees" in refused(text)


@pytest.mark.parametrize(
    ("setup", "least"), [(MM, 0.02), (Setup("in", 1.0), 0.001)], ids=["mm", "in"]
)  # fmt: skip
@pytest.mark.parametrize("sense", ["clockwise", "counterclockwise"])
def test_arcs_have_to_outlast_an_offset_of_usual_size(
    setup: Setup, least: float, sense: Any
) -> None:
    """0.02 mm or 0.001 in to either side (memory); the arc is written in whole counts."""
    setup, turn = replace(setup, decimals=5), 1.0 if sense == "counterclockwise" else -1.0
    for radius, taken in [(1.25 * least, True), (0.95 * least, False)]:
        there = turn * radius
        path = [
            line((0, 0, 0), (1, 0, 0)), arc((1, 0, 0), (1, there), 90, sense=sense),
            line((1 + radius, there, 0), (1 + radius, 2 * turn, 0)),
        ]  # fmt: skip
        operation = Operation(replace(MILL, radius_offset=8), path)
        if taken:
            assert write_program(setup, [operation]).replay.equal
        else:
            with pytest.raises(Impossible, match="an arc smaller than the radius offset"):
                write_program(setup, [operation])


def test_angles() -> None:
    assert heading((0, 0), (0, 3), None, None, at_end=False) == pytest.approx(90)
    assert heading((1, 0), (0, 1), (0, 0), "clockwise", at_end=False) == pytest.approx(-90)
    assert turned(10.0, 370.0) == 0.0
    assert turned(0.0, 181.0) == 179.0
