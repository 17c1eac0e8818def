"""How a thread is divided into runs: one unbroken turn of the helix each, entered and left.

A single-tooth cutter covers a start in one run. A cutter of several rows covers several turns
of thread in one turn of its own: each start gets one such turn from the bottom; then all are
cut together, stepping by a whole number of leads, so that each row goes on exactly where
another ended.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import chain
from typing import NamedTuple

from flankwise_service.core.path.direction import advance, direction, turn
from flankwise_service.core.path.request import Helix, RadialPass, tooth_half_width
from flankwise_service.core.path.spiral import Spiral


class Run(NamedTuple):
    """One unbroken cut of the lowest tooth, between two heights in order of time."""

    z_begin: float
    z_end: float
    start: int
    """Which start the lowest tooth cuts, from 1."""


def height_above_face(helix: Helix) -> float:
    """Return how far above the face the helix runs, in units of length."""
    if helix.turns_above_face is None:
        return tooth_half_width(helix.cutter.tooth)
    return helix.turns_above_face * helix.lead


def depth_below_length(helix: Helix) -> float:
    """Return how far beyond the thread's length the helix runs.

    With a relief, half its width: the tooth then stands in the middle of the relief.
    """
    if helix.relief_width is not None:
        return helix.relief_width / 2
    return helix.turns_below_length * helix.lead


def turns_in_one(rows: int, starts: int) -> int:
    """Return how many turns of its own start a cutter covers in one turn, lowest row upward.

    Rows a pitch apart stand in the same start at every `starts`-th row.

    >>> turns_in_one(6, 2), turns_in_one(5, 2), turns_in_one(2, 3)
    (3, 3, 1)
    """
    return (rows - 1) // starts + 1


def in_one_run(helix: Helix) -> bool:
    """Return whether each start is cut in one run over its whole height."""
    return turns_in_one(helix.cutter.rows, helix.starts) == 1


def whole_height(helix: Helix) -> float:
    """Return the height of the helix: length, with its run above the face and below."""
    return helix.length + height_above_face(helix) + depth_below_length(helix)


def run_height(helix: Helix) -> float:
    """Return the change of z of one run: the whole height, or a turn with its overlap."""
    if in_one_run(helix):
        return whole_height(helix)
    return helix.lead * (1 + helix.overlap / 360)


def shared_step(helix: Helix) -> float:
    """Return how far a cutter of several rows steps along, all starts being cut together."""
    return helix.cutter.rows // helix.starts * helix.lead


def shared_begin(helix: Helix) -> float:
    """Return where, above the bottom, the runs that cut all starts together begin.

    Each start first gets a run of its own from the bottom. The row that cuts the last start
    stands starts - 1 pitches above the lowest, and must not begin above where that run ended.
    """
    own = turns_in_one(helix.cutter.rows, helix.starts) * helix.lead
    return own - (helix.starts - 1) * helix.pitch


def shared_runs(helix: Helix) -> int:
    """Return how many runs cut all starts together, above each start's own lowest run."""
    if in_one_run(helix):
        return 0
    left = whole_height(helix) - shared_begin(helix)
    return max(0, math.ceil(left / shared_step(helix) - 1e-9))


def run_count(helix: Helix) -> int:
    """Return the runs of one radial pass."""
    return helix.starts + shared_runs(helix)


def runs(helix: Helix) -> Iterator[Run]:
    """Yield the runs of one radial pass in the order they are cut: with the motion along Z."""
    upward = direction(helix.side, helix.hand, helix.milling).motion == "upward"
    bottom, height = -helix.length - depth_below_length(helix), run_height(helix)
    own = ((bottom, start) for start in range(1, helix.starts + 1))
    shared = _shared(helix, bottom, upward)
    for low, start in chain(own, shared) if upward else chain(shared, own):
        ends = (low, low + height) if upward else (low + height, low)
        yield Run(*ends, start)


def _shared(helix: Helix, bottom: float, upward: bool) -> Iterator[tuple[float, int]]:
    begin, step, count = shared_begin(helix), shared_step(helix), shared_runs(helix)
    for index in range(count):
        yield bottom + begin + step * (index if upward else count - 1 - index), 1


def curve_of(helix: Helix, radial_pass: RadialPass, run: Run) -> Spiral:
    """Return the curve of the cutter axis for one run of one radial pass."""
    way = direction(helix.side, helix.hand, helix.milling)
    lead, sign = helix.lead, advance(helix.hand)
    narrowing = helix.taper / 2 if helix.side == "internal" else -helix.taper / 2
    climb = sign * turn(way.sense) * lead / 360
    around = 360 * math.fmod(run.z_begin / lead, 1.0)
    angle = helix.start_angle + 360 * (run.start - 1) / helix.starts + sign * around
    return Spiral(
        *helix.centre,
        radial_pass.radius + narrowing * run.z_begin,
        run.z_begin,
        math.fmod(angle, 360.0),
        turn(way.sense),
        climb,
        narrowing * climb,
        (run.z_end - run.z_begin) / climb,
    )


def blunt_offsets(helix: Helix) -> tuple[float, ...]:
    """Return how far above its groove the tooth mills the thread's thin start away, none if not.

    Evenly over one pitch, no farther apart than the tooth's tip is wide.
    """
    if not helix.blunt_start:
        return ()
    steps = math.ceil(helix.pitch / helix.cutter.tooth.tip_width - 1e-9)
    return tuple(helix.pitch * index / steps for index in range(1, steps))


def blunt_curves(helix: Helix) -> Iterator[tuple[Spiral, int]]:
    """Yield the curves of the blunt start, with the start each belongs to, from 1.

    The ridge above a groove is whole once the groove lies a pitch below the face. From there up
    the tooth runs along the ridge, at the last pass's radius, beside its groove.
    """
    upward = direction(helix.side, helix.hand, helix.milling).motion == "upward"
    low, high = -helix.pitch, height_above_face(helix)
    ends = (low, high) if upward else (high, low)
    for start in range(1, helix.starts + 1):
        curve = curve_of(helix, helix.passes[-1], Run(*ends, start))
        for offset in blunt_offsets(helix):
            yield curve._replace(z=curve.z + offset), start


def total_turns(helix: Helix) -> float:
    """Return all turns of the helix, over every pass, start and step."""
    return run_height(helix) / helix.lead * run_count(helix) * len(helix.passes)
