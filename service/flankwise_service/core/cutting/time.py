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
from typing import NamedTuple, Protocol

from flankwise_service.core.cutting.ranges import refuse_outside
from flankwise_service.core.errors import BadInput, Fault, Faults

GREATEST_SECONDS = 1e9
LEAST, GREATEST = 1e-9, 1e7
"""Of length, feed and radius of a move."""

Heading = tuple[float, float, float]
"""A unit vector along the path."""


class Move(NamedTuple):
    """One move as the clock sees it. `feed` per minute, None for a rapid."""

    length: float
    feed: float | None
    radius: float | None = None
    """Of the helix's curvature, None for a straight move."""
    smooth: bool = False
    """Goes on from the move before without a corner, so the speed is carried over."""


class Place(Protocol):
    """A point of a path: x, y, z."""

    @property
    def x(self) -> float:
        """Return x."""
        ...

    @property
    def y(self) -> float:
        """Return y."""
        ...

    @property
    def z(self) -> float:
        """Return z."""
        ...


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
    rise = piece.end.z - piece.begin.z
    if piece.kind != "arc" or piece.centre is None:
        return math.dist(_xyz(piece.begin), _xyz(piece.end))
    return math.hypot(_radius(piece.begin, piece.centre) * math.radians(piece.sweep), rise)


def moves_of(pieces: Sequence[Piece], corner: float = 5.0) -> tuple[Move, ...]:
    """Return the moves of a path; those that turn less than `corner` degrees go on smoothly.

    A piece without length is left out.
    """
    refuse_outside(corner=(corner, 0, 180, "degrees"))
    _refuse_unreadable(pieces)
    straight_on = math.cos(math.radians(corner))
    moves: list[Move] = []
    before: Heading | None = None
    for piece in pieces:
        length = piece_length(piece)
        if length <= 0:
            continue
        begin, end, radius = _headings(piece, length)
        smooth = before is not None and _cosine(before, begin) >= straight_on
        moves.append(Move(length, None if piece.kind == "rapid" else piece.feed, radius, smooth))
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
    seconds = _durations(moves, float(rapid) / 60, float(acceleration))
    ideal = [move.length / _speed(move, float(rapid) / 60) for move in moves]
    is_cut = [move.feed is not None for move in moves]
    cutting = math.fsum(s for s, cut in zip(seconds, is_cut, strict=True) if cut)
    rapids = math.fsum(s for s, cut in zip(seconds, is_cut, strict=True) if not cut)
    changes = float(tool_changes) * float(tool_change_s)
    return MachiningTime(
        cutting_s=cutting,
        rapid_s=rapids,
        tool_change_s=changes,
        handling_s=float(handling_s),
        total_s=cutting + rapids + changes + float(handling_s),
        cutting_length=math.fsum(m.length for m, cut in zip(moves, is_cut, strict=True) if cut),
        rapid_length=math.fsum(m.length for m, cut in zip(moves, is_cut, strict=True) if not cut),
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
    peak_squared = (2 * acceleration * length + entry * entry + exit_speed * exit_speed) / 2
    reached = math.sqrt(peak_squared)
    if reached <= max(entry, exit_speed):
        # One straight change of speed takes the whole move.
        return 2 * length / (entry + exit_speed)
    peak = min(speed, reached)
    up, down = peak - entry, peak - exit_speed
    ramps = (up * (peak + entry) + down * (peak + exit_speed)) / (2 * acceleration)
    return (up + down) / acceleration + max(0.0, length - ramps) / peak


def _durations(moves: Sequence[Move], rapid: float, acceleration: float) -> list[float]:
    speeds = [_held(move, rapid, acceleration) for move in moves]
    # joints[i] is the speed at the begin of move i; the path begins and ends at rest.
    joints = [0.0] * (len(moves) + 1)
    for place in range(1, len(moves)):
        if moves[place].smooth:
            joints[place] = min(speeds[place - 1], speeds[place])
    for place in range(len(moves)):
        reach = math.sqrt(joints[place] ** 2 + 2 * acceleration * moves[place].length)
        joints[place + 1] = min(joints[place + 1], reach)
    for place in reversed(range(len(moves))):
        reach = math.sqrt(joints[place + 1] ** 2 + 2 * acceleration * moves[place].length)
        joints[place] = min(joints[place], reach)
    return [
        move_time(move.length, joints[place], joints[place + 1], speeds[place], acceleration)
        for place, move in enumerate(moves)
    ]


def _speed(move: Move, rapid: float) -> float:
    return rapid if move.feed is None else min(move.feed / 60, rapid)


def _held(move: Move, rapid: float, acceleration: float) -> float:
    speed = _speed(move, rapid)
    return speed if move.radius is None else min(speed, math.sqrt(acceleration * move.radius))


def _refuse_unreadable(pieces: Sequence[Piece]) -> None:
    faults = Faults()
    for place, piece in enumerate(pieces):
        if piece.kind != "rapid" and piece.feed is None:
            faults.add(Fault(
                f"/segments/{place}/feed",
                "needed",
                "a cutting segment has no feed",
                "state its feed, or make it a rapid",
            ))  # fmt: skip
        if piece.kind == "arc" and not _turns(piece):
            faults.add(Fault(
                f"/segments/{place}/centre",
                "not_an_arc",
                "an arc needs a centre away from its ends and an angle it turns",
                "state centre and sweep, or make it a line",
            ))  # fmt: skip
    faults.raise_any(BadInput)


def _refuse_bad(moves: Sequence[Move]) -> None:
    faults = Faults()
    for place, move in enumerate(moves):
        for name, value in zip(("length", "feed", "radius"), move[:3], strict=True):
            # looked at first, because a pointer for each of thousands of moves would take longer
            if value is not None and not LEAST <= value <= GREATEST:
                at, words = f"/moves/{place}/{name}", f"{name} of a move"
                faults.within(at, value, least=LEAST, greatest=GREATEST, name=words)
    faults.raise_any(BadInput)


def _xyz(place: Place) -> tuple[float, float, float]:
    return (place.x, place.y, place.z)


def _turns(piece: Piece) -> bool:
    """Return whether a piece is an arc that can be turned about its centre."""
    centre = piece.centre
    if centre is None or not piece.sweep >= LEAST:
        return False
    return _radius(piece.begin, centre) >= LEAST and _radius(piece.end, centre) >= LEAST


def _radius(place: Place, centre: tuple[float, float]) -> float:
    return math.hypot(place.x - centre[0], place.y - centre[1])


def _headings(piece: Piece, length: float) -> tuple[Heading, Heading, float | None]:
    """Return where a piece heads at its begin and end, and its radius of curvature.

    Of a helix that radius is r (1 + (dz / (r sweep))^2); a straight piece has none.
    """
    begin, end, centre = piece.begin, piece.end, piece.centre
    rise = (end.z - begin.z) / length
    if piece.kind != "arc" or centre is None:
        ahead = ((end.x - begin.x) / length, (end.y - begin.y) / length, rise)
        return ahead, ahead, None
    level = math.sqrt(max(0.0, 1 - rise * rise))
    turn = -level if piece.sense == "clockwise" else level
    radius = _radius(begin, centre)
    steep = (end.z - begin.z) / (radius * math.radians(piece.sweep))
    return (
        _heading(begin, centre, radius, turn, rise),
        _heading(end, centre, _radius(end, centre), turn, rise),
        radius * (1 + steep * steep),
    )


def _heading(
    at: Place, centre: tuple[float, float], reach: float, turn: float, rise: float
) -> Heading:
    return (-(at.y - centre[1]) / reach * turn, (at.x - centre[0]) / reach * turn, rise)


def _cosine(one: Heading, other: Heading) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
