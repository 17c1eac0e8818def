"""What a tool path is made of. Z grows out of the work; X, Y, Z in one unit, angles in degrees."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

Kind = Literal["rapid", "line", "arc"]
Sense = Literal["clockwise", "counterclockwise"]
Purpose = Literal[
    "approach", "plunge", "lead_in", "thread", "lead_out", "retract", "boss", "bore", "link",
]  # fmt: skip


ROUNDING = 1e-10
"""Relative: far above what the computation leaves, far below what a control can print."""


class Point(NamedTuple):
    """A place of the tool's reference point: cutter axis at the mid-plane of the lowest tooth."""

    x: float
    y: float
    z: float


class Segment(NamedTuple):
    """One straight or helical piece of the path, with the feed along it.

    `sweep` is the angle turned in degrees, positive, 0 for straight pieces; `sense` is seen from
    +Z. `feed` is per minute along the path, None for a rapid. `radial_pass` counts radial passes
    and `start` the thread's starts, both from 1; 0 where neither applies.
    """

    kind: Kind
    purpose: Purpose
    begin: Point
    end: Point
    centre: tuple[float, float] | None = None
    sense: Sense | None = None
    sweep: float = 0.0
    feed: float | None = None
    radial_pass: int = 0
    start: int = 0

    @property
    def rise(self) -> float:
        """Change of Z over the segment."""
        return self.end.z - self.begin.z


def above_one_another(one: Point, other: Point) -> bool:
    """Return whether two places lie on one vertical line, but for rounding.

    >>> above_one_another(Point(1.0, 0.0, 5.0), Point(1.0, 1e-15, -5.0))
    True
    """
    size = abs(one.x) + abs(one.y) + abs(other.x) + abs(other.y)
    return math.hypot(one.x - other.x, one.y - other.y) <= ROUNDING * size


def same_place(one: Point, other: Point, size: float) -> bool:
    """Return whether two places of a path are one, but for rounding; `size` is that of its tool.

    >>> same_place(Point(1.0, 0.0, 5.0), Point(1.0, 1e-15, 5.0), 6.0)
    True
    """
    return math.dist(one, other) <= ROUNDING * (size + math.hypot(*one) + math.hypot(*other))
