"""The words a control knows, entered a second time code by code, and arcs at their tolerance.

Modal groups: NISTIR 6556 (2000), table 4, and ISO 6983-1 for G70 and G71, both from memory.
"""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.moves import length_of, read_arc

GROUPS = {
    "motion": "G0 G1 G2 G3 G80", "plane": "G17 G18 G19", "unit": "G20 G21 G70 G71",
    "distance": "G90 G91", "arc centre": "G91.1", "feed mode": "G93 G94 G95",
    "radius offset": "G40 G41 G42", "length offset": "G43 G49",
    "work offset": "G54 G55 G56 G57 G58 G59 G59.1 G59.2 G59.3", "path control": "G61 G61.1 G64",
    "dwell": "G4", "spindle": "M3 M4 M5", "coolant": "M7 M8 M9", "tool change": "M6",
    "stop": "M0 M1 M2 M30",
}  # fmt: skip
GROUP_OF = {code: group for group, codes in GROUPS.items() for code in codes.split()}
TENTHS = [f"G{n}.{m}" for n in (59, 61, 91) for m in range(1, 10)]
EVERY = [f"G{n}" for n in range(100)] + [f"M{n}" for n in range(100)] + TENTHS


def codes_of_faults(text: str) -> set[str]:
    return {fault.code for fault in read_program(text).faults}


@pytest.mark.parametrize("code", EVERY)
def test_a_code_is_known_where_the_standards_list_it(code: str) -> None:
    assert ("unknown_code" in codes_of_faults(f"{code}\nM30\n")) == (code not in GROUP_OF)


def test_two_codes_of_one_group_never_stand_in_one_block() -> None:
    for one, other in combinations(GROUP_OF, 2):
        twice = "group_twice" in codes_of_faults(f"{one} {other}\nM30\n")
        assert twice == (GROUP_OF[one] == GROUP_OF[other]), (one, other)


@pytest.mark.parametrize("letter", "DFHIJKOPRSTXYZ")
def test_each_letter_stands_once_in_a_block(letter: str) -> None:
    assert "letter_twice" in codes_of_faults(f"{letter}1 {letter}2\nM30\n")


@pytest.mark.parametrize("letter", "ABCELQUVW")
def test_other_letters_are_unknown(letter: str) -> None:
    assert "unknown_letter" in codes_of_faults(f"{letter}1\nM30\n")


# The axes of each plane, turning counter-clockwise from the first to the second, and the one across.
PLANES = [("G17", "XYZ", "IJK"), ("G18", "ZXY", "KIJ"), ("G19", "YZX", "JKI")]


@pytest.mark.parametrize(("plane", "axes", "offsets"), PLANES)
@pytest.mark.parametrize("unit", ["G21", "G20"])
def test_an_arc_in_each_plane_at_the_tolerance_of_its_radius(
    plane: str, axes: str, offsets: str, unit: str
) -> None:
    """0.002 mm or 0.0002 in between the radii at both ends (NISTIR 6556, 3.5.3.2, memory)."""
    tolerance = 0.002 if unit == "G21" else 0.0002
    head = f"{unit} {plane} G90 G94\nS900 M03\nG00 X0 Y0 Z0\n"
    for off, taken in [(tolerance, True), (tolerance * 1.01, False), (-tolerance, True),
                       (-tolerance * 1.01, False)]:  # fmt: skip
        # from the origin about (-5, 0), a quarter turn to (-5, 5)
        block = f"G03 {axes[0]}-5. {axes[1]}{5 + off:.7f} {offsets[0]}-5. {offsets[1]}0 F90."
        reading = read_program(f"{head}{block}\nM30\n")
        assert [fault.code for fault in reading.faults] == ([] if taken else ["arc_radius"])
        if taken:
            arc = reading.motions[-1]
            assert (arc.centre, arc.sense) == ((-5.0, 0.0), "counterclockwise")
            assert arc.sweep == pytest.approx(90.0)


@pytest.mark.parametrize(("plane", "axes", "offsets"), PLANES)
def test_a_rise_in_one_turn_fits_within_its_tolerance(plane: str, axes: str, offsets: str) -> None:
    """A quarter turn of rise 1.5 in a turn rises 0.375; the words may be off by 0.0025 mm in all."""
    head = f"G21 {plane} G90 G94\nS900 M03\nG00 X0 Y0 Z0\n"
    for off, taken in [(0.0024, True), (0.0026, False), (-0.0024, True), (-0.0026, False)]:
        block = (
            f"G03 {axes[0]}-5. {axes[1]}5. {axes[2]}{0.375 + off:.4f} "
            f"{offsets[0]}-5. {offsets[1]}0 {offsets[2]}1.5 F90."
        )
        found = codes_of_faults(f"{head}{block}\nM30\n")
        assert found == (set() if taken else {"rise_per_turn"})


def test_ends_that_are_the_same_but_for_the_last_bits_are_a_full_turn() -> None:
    for off, sweep in [(0.5e-9, 360.0), (2e-9, 0.0)]:
        arc = read_arc(
            (5.0, 0.0, 0.0), (5.0, off, 0.0), {"X": 5.0, "I": -5.0}, 1.0, (0, 1, 2), True, 0.002
        )
        assert arc.sweep == pytest.approx(sweep, abs=1e-6)
        side = read_arc(
            (0.0, 5.0, 0.0), (-off, 5.0, 0.0), {"X": 0.0, "J": -5.0}, 1.0, (0, 1, 2), True, 0.002
        )
        assert side.sweep == pytest.approx(sweep, abs=1e-6)


def test_length_of_a_helix_in_each_plane() -> None:
    """A quarter turn of radius 4 that rises 3: the hypotenuse of 2 pi and 3."""
    for axes in ((0, 1, 2), (2, 0, 1), (1, 2, 0)):
        begin, end = [0.0] * 3, [0.0] * 3
        begin[axes[0]], end[axes[1]], end[axes[2]] = 4.0, 4.0, 3.0
        values = {"XYZ"[axes[1]]: 4.0, "IJK"[axes[0]]: -4.0}
        here, there = tuple(begin), tuple(end)
        arc = read_arc(here, there, values, 1.0, axes, True, 0.002)  # type: ignore[arg-type]
        assert length_of(here, there, arc, axes) == pytest.approx(math.hypot(2 * math.pi, 3))  # type: ignore[arg-type]
