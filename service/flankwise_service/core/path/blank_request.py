"""What a boss or a hole is asked for by, and the rounds it takes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.path.direction import Milling
from flankwise_service.core.path.request import Sweep

Motion = Literal["helical", "level"]
MOTIONS: tuple[Motion, ...] = ("helical", "level")
FIRST_IN_SOLID = 1.9
"""Edge radius of the first round in solid stock, in cutter radii: below 2, so no post is left."""


@dataclass(frozen=True, slots=True)
class Boss:
    """A boss to be milled out of bar. Lengths in one unit."""

    diameter: float
    depth: float
    """From the face down to the shoulder."""
    stock_diameter: float
    """Of the circle around the stock: a round bar's diameter, a hexagon's size across corners."""
    cutter_diameter: float
    edge_feed: float
    """At the cutting edge, per minute; each arc gets its own feed at the tool centre."""
    depth_per_level: float
    clearance: float
    """Radial gap between cutter and stock where the path enters and leaves."""
    clearance_height: float
    motion: Motion = "helical"
    milling: Milling = "climb"
    width_per_pass: float | None = None
    """Greatest radial width of cut; by default half the cutter's diameter."""
    finish_allowance: float = 0.0
    """Left all round for one last round at full depth."""
    centre: tuple[float, float] = (0.0, 0.0)
    greatest_sweep: Sweep = 360
    chord_tolerance: float | None = None
    plunge_feed: float | None = None


@dataclass(frozen=True, slots=True)
class Bore:
    """A hole to be bored by a helix of the end mill. Lengths in one unit."""

    diameter: float
    depth: float
    cutter_diameter: float
    edge_feed: float
    depth_per_turn: float
    clearance: float
    """Height above the face, and above the bottom's level turn of each round before, to start."""
    clearance_height: float
    pilot_diameter: float = 0.0
    """Of a hole that is there already, to full depth; 0 in solid stock."""
    milling: Milling = "climb"
    width_per_pass: float | None = None
    finish_allowance: float = 0.0
    greatest_ramp_angle: float | None = None
    """The steepest way down the end mill stands, in degrees."""
    centre: tuple[float, float] = (0.0, 0.0)
    greatest_sweep: Sweep = 360
    chord_tolerance: float | None = None
    plunge_feed: float | None = None


def boss_radii(boss: Boss) -> tuple[float, ...]:
    """Return the radius of the boss after each round, the finished one last.

    >>> job = Boss(20.0, 15.0, 34.64, 6.0, 600.0, 5.0, 1.0, 5.0, finish_allowance=0.2)
    >>> [round(radius, 3) for radius in boss_radii(job)]
    [14.947, 12.573, 10.2, 10.0]
    """
    width = boss.width_per_pass or boss.cutter_diameter / 2
    last = boss.diameter / 2 + boss.finish_allowance
    total = boss.stock_diameter / 2 - last
    rounds = max(1, math.ceil(total / width - 1e-9))
    roughed = tuple(last + total * (rounds - index) / rounds for index in range(1, rounds + 1))
    return (*roughed, boss.diameter / 2) if boss.finish_allowance > 0 else roughed


def bore_radii(bore: Bore) -> tuple[float, ...]:
    """Return the radius of the hole after each round, the finished one last.

    >>> job = Bore(40.0, 10.0, 12.0, 600.0, 2.5, 1.0, 5.0)
    >>> [round(radius, 3) for radius in bore_radii(job)]
    [11.4, 15.7, 20.0]
    """
    radius, last = bore.cutter_diameter / 2, bore.diameter / 2 - bore.finish_allowance
    width = bore.width_per_pass or radius
    if bore.pilot_diameter > 0:
        first = max(bore.pilot_diameter / 2 + width, 1.25 * radius)
    else:
        first = FIRST_IN_SOLID * radius
    first = min(first, last)
    rounds = math.ceil((last - first) / width - 1e-9)
    opened = tuple(
        last - (last - first) * (rounds - index) / max(1, rounds) for index in range(rounds + 1)
    )
    return (*opened, bore.diameter / 2) if bore.finish_allowance > 0 else opened


def ramp_angle(bore: Bore) -> float:
    """Return the steepest way down of the tool centre: atan(depth per turn / circle), in degrees.

    >>> round(ramp_angle(Bore(20.0, 10.0, 12.0, 600.0, 2.5, 1.0, 5.0)), 3)
    5.681
    """
    least = bore_radii(bore)[0] - bore.cutter_diameter / 2
    return math.degrees(math.atan2(bore.depth_per_turn, 2 * math.pi * least))
