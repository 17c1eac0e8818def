"""The way the tool takes when the control applies a radius offset to a program as read.

Where the path has no corners the offset is exact: an arc keeps its centre and its radius changes
by the offset, a line moves sideways.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from flankwise_service.core.errors import Fault, Impossible, plain
from flankwise_service.core.program.modal import Modal, Motion
from flankwise_service.core.program.moves import Known, known
from flankwise_service.core.program.offset_spans import heading, turned
from flankwise_service.core.program.reading import Reading

GREATEST_CORNER_READ = 1.5
"""Degrees by which printed pieces may turn where they join: rounding turns small arcs a little."""


def with_radius_offsets(reading: Reading, values: Mapping[int, float]) -> tuple[Motion, ...]:
    """Return the motions with each stored radius offset applied, in the reading's unit.

    `values` holds the stored offset by its number; one not given is zero. Under G41 a positive
    value moves the tool to the left of its way, under G42 to the right. The motion that switches
    the offset on leads to its displaced end; the one that switches it off leads back.

    Errors: `Impossible` for an offset that goes on in an arc, for a corner under an offset, and
    for an arc smaller than the offset.

    >>> from flankwise_service.core.program.interpreter import read_program
    >>> text = "G21 G17 G90 G94\\nG0 X0 Y0 Z0\\nS9 M3\\nG42 D1 G1 X5. F9.\\nG40 X9.\\nM2"
    >>> [motion.end[:2] for motion in with_radius_offsets(read_program(text), {1: 0.5})]
    [(0.0, 0.0), (5.0, -0.5), (9.0, 0.0)]
    """
    motions = reading.motions
    out: list[Motion] = []
    for index, motion in enumerate(motions):
        before = out[-1] if out and motion.begin == motions[index - 1].end else None
        amount = _amount(reading.states[motion.state], values)
        if amount:
            after = motions[index + 1] if index + 1 < len(motions) else None
            out.append(_displaced(motion, before, after, amount, reading))
        elif before is None or before.end == motion.begin:
            out.append(motion)
        elif motion.kind == "arc":
            raise _impossible(motion, "a radius offset goes off in an arc")
        else:
            out.append(motion._replace(begin=before.end))
    return tuple(out)


def _amount(state: Modal, values: Mapping[int, float]) -> float:
    """Return the displacement to the left of the way that a modal state asks for."""
    if state.radius_side is None or state.radius_offset is None:
        return 0.0
    value = values.get(state.radius_offset, 0.0)
    return value if state.radius_side == "left" else -value


def _displaced(
    motion: Motion, before: Motion | None, after: Motion | None, amount: float, reading: Reading
) -> Motion:
    """Return one motion under an offset, given the displaced motion before it."""
    if motion.kind == "rapid" or after is None or before is None:
        raise _impossible(motion, "a radius offset stays on in a rapid or at the end")
    entering, leaving = not _under(before, reading), not _under(after, reading)
    if entering and motion.kind == "arc":
        raise _impossible(motion, "a radius offset goes on in an arc")
    own, onward = _heading(motion, at_end=True), _heading(after, at_end=False)
    corner = 0.0 if entering or leaving else turned(own, onward)
    if corner > GREATEST_CORNER_READ:
        raise _impossible(motion, f"a corner of {plain(corner, 3)} degrees under a radius offset")
    begin, end = known(motion.begin), known(motion.end)
    if motion.kind == "arc":
        return _wider_arc(motion, begin, end, amount)
    ahead = own if leaving else onward
    return motion._replace(begin=before.end, end=_beside(end, ahead, amount))


def _wider_arc(motion: Motion, begin: Known, end: Known, amount: float) -> Motion:
    """Return an arc of the same centre whose radius takes the offset."""
    assert motion.centre is not None
    centre = motion.centre
    grown = -amount if motion.sense == "counterclockwise" else amount
    ends: list[Known] = []
    for place in (begin, end):
        radius = math.dist(place[:2], centre)
        if radius + grown <= 0.0:
            raise _impossible(motion, "an arc smaller than the radius offset")
        share = (radius + grown) / radius
        x, y = (centre[i] + (place[i] - centre[i]) * share for i in (0, 1))
        ends.append((x, y, place[2]))
    return motion._replace(begin=ends[0], end=ends[1])


def _beside(place: Known, direction: float, amount: float) -> Known:
    """Return a place moved to the left of a direction."""
    left_rad = math.radians(direction + 90.0)
    return (place[0] + amount * math.cos(left_rad), place[1] + amount * math.sin(left_rad),
            place[2])  # fmt: skip


def _under(motion: Motion, reading: Reading) -> bool:
    """Whether a motion runs under a radius offset."""
    return reading.states[motion.state].radius_side is not None


def _heading(motion: Motion, *, at_end: bool) -> float:
    """Return the direction of a motion at its begin or end, in degrees."""
    (x, y, _), (to_x, to_y, _) = motion.begin, motion.end
    if x is None or y is None or to_x is None or to_y is None:
        raise _impossible(motion, "a place isn't known under a radius offset")
    return heading((x, y), (to_x, to_y), motion.centre, motion.sense, at_end=at_end)


def _impossible(motion: Motion, what: str) -> Impossible:
    """Return the refusal of an offset that can't be followed."""
    return Impossible(Fault(
        "/text", "radius_offset", f"line {motion.line}: {what}",
        "switch the offset in straight pieces and join the others tangentially",
    ))  # fmt: skip
