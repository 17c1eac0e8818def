"""Machining time of a list of moves, with the machine's acceleration, and cost of a batch.

The control slows for corners and can't hold any feed on a small circle: with acceleration a, the
feed on radius r is at most sqrt(a r). Every move is a trapezoid: speed up, run, slow down; the
speed carried from one move to the next is found by looking ahead and back (source: kinematics of
constant acceleration). Lengths in one unit, feeds per minute, times in seconds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import compress
from typing import NamedTuple, Protocol

from flankwise_service.core.cutting.ranges import refuse_outside
from flankwise_service.core.errors import BadInput, Fault, Faults

GREATEST_SECONDS = 1e9
LEAST, GREATEST = 1e-9, 1e7
"""Of length, feed and radius of a move."""

Place = tuple[float, float, float]
"""A point of a path: x, y, z."""
Heading = tuple[float, float, float]
"""A unit vector along the path."""
Way = tuple[float, float | None, Heading, Heading]
"""A piece as the clock sees it: length, radius of curvature, where it heads at begin and end."""


class Move(NamedTuple):
    """One move as the clock sees it. `feed` per minute, None for a rapid."""

    length: float
    feed: float | None
    radius: float | None = None
    """Of the helix's curvature, None for a straight move."""
    smooth: bool = False
    """Goes on from the move before without a corner, so the speed is carried over."""


class Piece(Protocol):
    """What a piece of path has to tell; `path.segment.Segment` does."""

    @property
    def kind(self) -> str:
        """Return "rapid", "line" or "arc"."""
        ...

    @property
    def begin(self) -> Place:
        """Return where it begins."""
        ...

    @property
    def end(self) -> Place:
        """Return where it ends."""
        ...

    @property
    def centre(self) -> tuple[float, float] | None:
        """Return the centre of an arc."""
        ...

    @property
    def sense(self) -> str | None:
        """Return "clockwise" or "counterclockwise" of an arc."""
        ...

    @property
    def sweep(self) -> float:
        """Return the angle turned, in degrees."""
        ...

    @property
    def feed(self) -> float | None:
        """Return the feed along the path, None for a rapid."""
        ...


@dataclass(frozen=True, slots=True)
class MachiningTime:
    """Where the seconds of one part go."""

    cutting_s: float
    rapid_s: float
    tool_change_s: float
    handling_s: float
    total_s: float
    cutting_length: float
    rapid_length: float
    slowed_s: float
    """What acceleration adds over distance/feed."""


def piece_length(piece: Piece) -> float:
    """Return the length of a piece: straight, or of a helix sqrt((r sweep)^2 + dz^2)."""
    (x, y, z), (_, _, end_z), centre = piece.begin, piece.end, piece.centre
    if piece.kind != "arc" or centre is None:
        return math.dist(piece.begin, piece.end)
    radius = math.hypot(x - centre[0], y - centre[1])
    return math.hypot(radius * math.radians(piece.sweep), end_z - z)


def moves_of(pieces: Sequence[Piece], corner: float = 5.0) -> tuple[Move, ...]:
    """Return the moves of a path; those that turn less than `corner` degrees go on smoothly.

    A piece without length is left out.
    """
    refuse_outside(corner=(corner, 0, 180, "degrees"))
    straight_on = math.cos(math.radians(corner))
    moves: list[Move] = []
    before: Heading | None = None
    for piece in pieces:
        feed, rapid = piece.feed, piece.kind == "rapid"
        way = _along_arc(piece) if piece.kind == "arc" else _straight(piece)
        if way is None or (feed is None and not rapid):
            raise _unreadable(pieces)
        length, radius, begin, end = way
        if length > 0:
            smooth = before is not None and _cosine(before, begin) >= straight_on
            moves.append(Move(length, None if rapid else feed, radius, smooth))
            before = end
    return tuple(moves)


def machining_time(
    moves: Sequence[Move],
    *,
    rapid: float,
    acceleration: float,
    tool_changes: int = 0,
    tool_change_s: float = 0.0,
    handling_s: float = 0.0,
) -> MachiningTime:
    """Return the time of one part in seconds.

    `rapid` per minute, `acceleration` per second squared, both in the unit of the lengths; ask the
    machine's manual. At a corner the machine is taken to stop, which is the slow side.

    >>> spent = machining_time([Move(100.0, 600.0)], rapid=10000, acceleration=1000.0)
    >>> round(spent.cutting_s, 3)
    10.01
    """
    refuse_outside(
        rapid=(rapid, 1e-3, 1e7, None),
        acceleration=(acceleration, 1e-3, 1e7, None),
        tool_changes=(tool_changes, 0, 1000, None),
        tool_change_s=(tool_change_s, 0, 1e5, "s"),
        handling_s=(handling_s, 0, 1e6, "s"),
    )
    _refuse_bad(moves)
    fast = float(rapid) / 60
    speeds = [fast if move.feed is None else min(move.feed / 60, fast) for move in moves]
    seconds = _durations(moves, speeds, float(acceleration))
    ideal = [move.length / speed for move, speed in zip(moves, speeds, strict=True)]
    is_cut = [move.feed is not None for move in moves]
    is_rapid = [not cut for cut in is_cut]
    lengths = [move.length for move in moves]
    cutting = math.fsum(compress(seconds, is_cut))
    rapids = math.fsum(compress(seconds, is_rapid))
    changes = float(tool_changes) * float(tool_change_s)
    return MachiningTime(
        cutting_s=cutting,
        rapid_s=rapids,
        tool_change_s=changes,
        handling_s=float(handling_s),
        total_s=cutting + rapids + changes + float(handling_s),
        cutting_length=math.fsum(compress(lengths, is_cut)),
        rapid_length=math.fsum(compress(lengths, is_rapid)),
        slowed_s=max(0.0, cutting + rapids - math.fsum(ideal)),
    )


def feed_held_on_radius(radius: float, acceleration: float) -> float:
    """Return the greatest feed per minute a machine holds on a circle: 60 sqrt(a r).

    >>> round(feed_held_on_radius(0.3, 2000.0))
    1470
    """
    refuse_outside(radius=(radius, 0, 1e6, None), acceleration=(acceleration, 1e-3, 1e7, None))
    return 60 * math.sqrt(float(acceleration) * float(radius))


def move_time(
    length: float, entry: float, exit_speed: float, speed: float, acceleration: float
) -> float:
    """Return the seconds of one trapezoidal move; speeds per second.

    Up from `entry` to the greatest speed reached (at most `speed`), down to `exit_speed`.

    >>> move_time(2.0, 0.0, 0.0, 10.0, 2.0)
    2.0
    """
    if entry == speed == exit_speed:
        return length / speed
    peak_squared = (2 * acceleration * length + entry * entry + exit_speed * exit_speed) / 2
    reached = math.sqrt(peak_squared)
    if reached <= max(entry, exit_speed):
        # One straight change of speed takes the whole move.
        return 2 * length / (entry + exit_speed)
    peak = min(speed, reached)
    up, down = peak - entry, peak - exit_speed
    ramps = (up * (peak + entry) + down * (peak + exit_speed)) / (2 * acceleration)
    return (up + down) / acceleration + max(0.0, length - ramps) / peak


def _durations(moves: Sequence[Move], speeds: Sequence[float], acceleration: float) -> list[float]:
    held = [
        speed if radius is None else min(speed, math.sqrt(acceleration * radius))
        for (_, _, radius, _), speed in zip(moves, speeds, strict=True)
    ]
    ways = [2 * acceleration * move.length for move in moves]
    joints = _joints(moves, held)
    _slow_down(joints, ways)
    joints.reverse()
    ways.reverse()
    _slow_down(joints, ways)
    joints.reverse()
    return [
        move_time(move.length, entry, leave, speed, acceleration)
        for move, entry, leave, speed in zip(moves, joints, joints[1:], held, strict=False)
    ]


def _joints(moves: Sequence[Move], held: Sequence[float]) -> list[float]:
    """Return the greatest speed before each move and after the last; rest at corners and ends."""
    joints, before = [], 0.0
    for move, speed in zip(moves, held, strict=True):
        joints.append(min(before, speed) if move.smooth else 0.0)
        before = speed
    return [0.0, *joints[1:], 0.0]


def _slow_down(joints: list[float], ways: Sequence[float]) -> None:
    """Hold every joint to what can be reached from the one before; `ways` are 2 a length."""
    before = joints[0]
    for place, way in enumerate(ways, 1):
        joint = joints[place]
        if joint > before:
            joint = joints[place] = min(joint, math.sqrt(before * before + way))
        before = joint


def _unreadable(pieces: Sequence[Piece]) -> BadInput:
    """Return the refusal of a path with pieces that can't be timed."""
    faults = Faults()
    for place, piece in enumerate(pieces):
        if piece.kind != "rapid" and piece.feed is None:
            faults.add(Fault(
                f"/segments/{place}/feed",
                "needed",
                "a cutting segment has no feed",
                "state its feed, or make it a rapid",
            ))  # fmt: skip
        if piece.kind == "arc" and _along_arc(piece) is None:
            faults.add(Fault(
                f"/segments/{place}/centre",
                "not_an_arc",
                "an arc needs a centre away from its ends and an angle it turns",
                "state centre and sweep, or make it a line",
            ))  # fmt: skip
    return BadInput(*faults.found)


def _refuse_bad(moves: Sequence[Move]) -> None:
    faults = Faults()
    for place, move in enumerate(moves):
        length, feed, radius, _ = move
        # looked at first, because a pointer for each of thousands of moves would take longer
        if (
            LEAST <= length <= GREATEST
            and (feed is None or LEAST <= feed <= GREATEST)
            and (radius is None or LEAST <= radius <= GREATEST)
        ):
            continue
        for name, value in zip(("length", "feed", "radius"), move[:3], strict=True):
            if value is not None:
                at, words = f"/moves/{place}/{name}", f"{name} of a move"
                faults.within(at, value, least=LEAST, greatest=GREATEST, name=words)
    faults.raise_any(BadInput)


def _straight(piece: Piece) -> Way:
    """Return a straight piece's way; without a heading where it has no length."""
    begin, end = piece.begin, piece.end
    length = math.dist(begin, end)
    if length == 0:
        return 0.0, None, begin, end
    (x, y, z), (end_x, end_y, end_z) = begin, end
    ahead = ((end_x - x) / length, (end_y - y) / length, (end_z - z) / length)
    return length, None, ahead, ahead


def _along_arc(piece: Piece) -> Way | None:
    """Return an arc's way; None where it can't be turned about its centre.

    The curvature of a helix has the radius r (1 + (dz / (r sweep))^2).
    """
    centre = piece.centre
    if centre is None or not piece.sweep >= LEAST:
        return None
    (x, y, z), (end_x, end_y, end_z), (centre_x, centre_y) = piece.begin, piece.end, centre
    x, y, end_x, end_y = x - centre_x, y - centre_y, end_x - centre_x, end_y - centre_y
    radius, reach = math.hypot(x, y), math.hypot(end_x, end_y)
    if not (radius >= LEAST and reach >= LEAST):
        return None
    around = radius * math.radians(piece.sweep)
    length = math.hypot(around, end_z - z)
    rise, steep = (end_z - z) / length, (end_z - z) / around
    level = math.sqrt(max(0.0, 1 - rise * rise))
    turn = -level if piece.sense == "clockwise" else level
    begin = (-y / radius * turn, x / radius * turn, rise)
    end = (-end_y / reach * turn, end_x / reach * turn, rise)
    return length, radius * (1 + steep * steep), begin, end


def _cosine(one: Heading, other: Heading) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
