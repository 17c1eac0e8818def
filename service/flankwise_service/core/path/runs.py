"""How a thread is divided into runs: one unbroken turn of the helix each, entered and left.

A single-tooth cutter covers a start in one run. A cutter of several rows covers several turns
of thread in one turn of its own, then steps along by a whole number of leads, so that each row
goes on exactly where another ended.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
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


def rows_per_start(rows: int, starts: int) -> int:
    """Return how many turns of each start a cutter covers in one turn of its own.

    >>> rows_per_start(6, 2), rows_per_start(5, 2), rows_per_start(1, 3)
    (3, 2, 1)
    """
    return max(1, rows // starts)


def first_starts(rows: int, starts: int) -> range:
    """Return which starts the lowest tooth must cut, from 0; the rows above it cut the others.

    >>> list(first_starts(1, 3)), list(first_starts(2, 3)), list(first_starts(6, 2))
    ([0, 1, 2], [0, 2], [0])
    """
    return range(0, starts, min(rows, starts))


def blocks(helix: Helix) -> int:
    """Return the runs needed, for one start, to cover the whole length."""
    covered = rows_per_start(helix.cutter.rows, helix.starts)
    if covered == 1:
        return 1
    height = helix.length + height_above_face(helix) + depth_below_length(helix)
    return max(1, math.ceil(height / (covered * helix.lead) - 1e-9))


def run_height(helix: Helix) -> float:
    """Return the change of z of one run: the whole height, or a turn with its overlap."""
    if rows_per_start(helix.cutter.rows, helix.starts) == 1:
        return helix.length + height_above_face(helix) + depth_below_length(helix)
    return helix.lead * (1 + helix.overlap / 360)


def runs(helix: Helix) -> Iterator[Run]:
    """Yield the runs of one radial pass in the order they are cut: with the motion along Z."""
    upward = direction(helix.side, helix.hand, helix.milling).motion == "upward"
    bottom = -helix.length - depth_below_length(helix)
    step = rows_per_start(helix.cutter.rows, helix.starts) * helix.lead
    height, count = run_height(helix), blocks(helix)
    for first in first_starts(helix.cutter.rows, helix.starts):
        for block in range(count):
            low = bottom + step * (block if upward else count - 1 - block)
            ends = (low, low + height) if upward else (low + height, low)
            yield Run(*ends, first + 1)


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
    each = run_height(helix) / helix.lead * blocks(helix)
    return each * len(first_starts(helix.cutter.rows, helix.starts)) * len(helix.passes)
