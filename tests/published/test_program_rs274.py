"""Programs and our reader of them against sources outside the project.

- Kramer, Proctor, Messina: The NIST RS274/NGC Interpreter, version 3 (NISTIR 6556, 2000), from
  memory: its worked examples of arcs (3.5.3), its arc tolerance, its modal groups (table 4).
- pygcode, a general-purpose reader of word-address text from the package index.
"""

from __future__ import annotations

import random

import pytest
from pygcode import Line, Machine  # type: ignore[import-untyped]

from flankwise_service.core.program.codes import G_GROUPS, M_GROUPS
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.program import write_program
from flankwise_service.core.program.setup import ARC_TOLERANCE
from support.program_jobs import random_job

HEAD = "G21 G90 G94\nS900 M03\nF100.\n"


def test_worked_example_of_an_arc_by_its_centre() -> None:
    """NISTIR 6556, 3.5.3.2 (memory): from X7 Y7, this arc has its centre at X10 Y11, radius 5."""
    text = "g0 x7 y7 z9\ng17 g2 x 10 y 16 i 3 j 4 z 9\nm2\n"
    motion = read_program(HEAD + text).motions[-1]
    assert motion.centre == (10.0, 11.0)
    assert motion.end == (10.0, 16.0, 9.0)
    assert motion.sense == "clockwise"


def test_worked_example_of_an_arc_by_its_radius() -> None:
    """NISTIR 6556, 3.5.3.1 (memory): clockwise, ending at X10 Y15 Z5, with a radius of 20."""
    text = "g0 x0 y0 z0\ng17 g2 x 10 y 15 r 20 z 5\nm2\n"
    motion = read_program(HEAD + text).motions[-1]
    assert motion.end == (10.0, 15.0, 5.0)
    assert motion.centre is not None
    for place in ((0.0, 0.0), (10.0, 15.0)):
        apart = [a - b for a, b in zip(place, motion.centre, strict=True)]
        assert (apart[0] ** 2 + apart[1] ** 2) ** 0.5 == pytest.approx(20.0)
    assert motion.sweep < 180


def test_modal_groups_and_arc_tolerance() -> None:
    """NISTIR 6556, table 4 and 3.5.3.2 (memory), as far as this reader takes the codes."""
    assert set(G_GROUPS["motion"]) == {0, 1, 2, 3, 80}
    assert set(G_GROUPS["plane"]) == {17, 18, 19}
    assert set(G_GROUPS["distance"]) == {90, 91}
    assert {93, 94} <= set(G_GROUPS["feed mode"])
    assert set(G_GROUPS["radius offset"]) == {40, 41, 42}
    assert set(G_GROUPS["length offset"]) == {43, 49}
    assert set(G_GROUPS["work offset"]) == {54, 55, 56, 57, 58, 59, 59.1, 59.2, 59.3}
    assert set(G_GROUPS["path control"]) == {61, 61.1, 64}
    assert set(M_GROUPS["spindle"]) == {3, 4, 5}
    assert set(M_GROUPS["coolant"]) == {7, 8, 9}
    assert set(M_GROUPS["stop"]) == {0, 1, 2, 30}
    assert ARC_TOLERANCE == {"in": 0.0002, "mm": 0.002}


def compared(seed: int) -> int:
    """Run a random program through both readers; return how many end places were compared."""
    setup, operations = random_job(random.Random(seed))
    if setup.unit_codes == "G70 G71":
        return 0  # ISO 6983-1 codes, which pygcode reads as canned lathe cycles
    program = write_program(setup, operations)
    ours = {motion.line: motion for motion in read_program(program.text).motions}
    machine, found = Machine(), 0
    for number, text in enumerate(program.text.splitlines(), start=1):
        if text == "%" or text.startswith("O"):
            continue
        machine.process_block(Line(text).block)
        motion = ours.get(number)
        if motion is None:
            continue
        for axis, place in zip("XYZ", motion.end, strict=True):
            if place is not None:
                assert machine.pos.values[axis] == pytest.approx(place, abs=1e-9), (seed, text)
        found += 1
    assert found == len(ours)
    return found


def test_an_independent_reader_agrees_on_end_places() -> None:
    assert sum(compared(seed) for seed in range(12)) > 400


@pytest.mark.slow
def test_an_independent_reader_agrees_on_many_programs() -> None:
    assert sum(compared(seed) for seed in range(1000, 1150)) > 5000
