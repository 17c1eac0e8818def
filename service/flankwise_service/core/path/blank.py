"""The blank: a boss turned round by profile milling, or a hole opened by helical boring.

An end mill does it, so places are of its axis at its end face. Both end with a level turn at
full depth, which leaves a flat shoulder or bottom.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from flankwise_service.core.path.blank_check import check_bore, check_boss
from flankwise_service.core.path.blank_request import Bore, Boss, bore_radii, boss_radii
from flankwise_service.core.path.direction import direction, turn
from flankwise_service.core.path.rings import Chain, Round, walk
from flankwise_service.core.path.segment import Segment
from flankwise_service.core.path.spiral import Spiral


def boss_path(boss: Boss) -> Iterator[Segment]:
    """Return the path that mills a boss, outermost round first, as a generator of segments.

    Each round starts and ends outside the circle around the stock, by half turns tangent to it:
    at a hexagon the cutter meets the corners while it goes round, never on its way down.
    "helical" goes down evenly while it goes round, "level" makes a full turn at each depth.

    Raises:
        BadInput: a value is outside its range.
        Impossible: the stock is smaller than the boss, or the path would be too long.

    >>> job = Boss(20.0, 15.0, 34.64, 16.0, 600.0, 5.0, 1.0, 5.0)
    >>> [segment.purpose for segment in boss_path(job)]
    ['plunge', 'lead_in', 'boss', 'boss', 'boss', 'boss', 'lead_out', 'retract']
    """
    check_boss(boss)
    way = Round(
        "external", "boss", boss.centre, boss.cutter_diameter / 2, boss.edge_feed,
        boss.clearance_height, boss.greatest_sweep, boss.plunge_feed, boss.chord_tolerance,
    )  # fmt: skip
    return walk(way, _boss_chains(boss))


def bore_path(bore: Bore) -> Iterator[Segment]:
    """Return the path that bores a hole, innermost round first, as a generator of segments.

    Each round leads in from the axis above the face, goes down in a helix, makes a level turn at
    the bottom and leaves to the axis.

    Raises:
        BadInput: a value is outside its range.
        Impossible: the cutter doesn't fit, the way down is too steep, or the path too long.

    >>> job = Bore(20.0, 10.0, 12.0, 600.0, 2.5, 1.0, 5.0)
    >>> [segment.purpose for segment in bore_path(job)]
    ['plunge', 'lead_in', 'bore', 'bore', 'bore', 'bore', 'bore', 'bore', 'lead_out', 'retract']
    """
    check_bore(bore)
    way = Round(
        "internal", "bore", bore.centre, bore.cutter_diameter / 2, bore.edge_feed,
        bore.clearance_height, bore.greatest_sweep, bore.plunge_feed, bore.chord_tolerance,
    )  # fmt: skip
    return walk(way, _bore_chains(bore))


def _level(centre: tuple[float, float], radius: float, z: float, sign: int) -> Spiral:
    return Spiral(*centre, radius, z, 0.0, sign, 0.0, 0.0, 360.0)


def _descent(
    centre: tuple[float, float], radius: float, z: float, bottom: float, step: float, sign: int
) -> Spiral:
    """Return whole turns from z to the bottom, none deeper than `step`."""
    turns = max(1, math.ceil((z - bottom) / step - 1e-9))
    climb = (bottom - z) / (360.0 * turns)
    return Spiral(*centre, radius, z, 0.0, sign, climb, 0.0, 360.0 * turns)


def _boss_chains(boss: Boss) -> Iterator[Chain]:
    sign = turn(direction("external", "right", boss.milling).sense)
    cutter_radius = boss.cutter_diameter / 2
    outside = boss.stock_diameter / 2 + cutter_radius + boss.clearance
    far = (boss.centre[0] + outside, boss.centre[1])
    radii = boss_radii(boss)
    for number, cut in enumerate(radii, 1):
        radius = cut + cutter_radius
        arc = (outside - radius) / 2
        finish = boss.finish_allowance > 0 and number == len(radii)
        for curves in _boss_curves(boss, radius, sign, finish):
            yield Chain(curves, arc, number, far)


def _boss_curves(
    boss: Boss, radius: float, sign: int, finish: bool
) -> Iterator[tuple[Spiral, ...]]:
    level = _level(boss.centre, radius, -boss.depth, sign)
    if finish:
        yield (level,)
    elif boss.motion == "helical":
        step = boss.depth_per_level
        yield (_descent(boss.centre, radius, 0.0, -boss.depth, step, sign), level)
    else:
        levels = math.ceil(boss.depth / boss.depth_per_level - 1e-9)
        for index in range(1, levels + 1):
            yield (_level(boss.centre, radius, -boss.depth * (index / levels), sign),)


def _bore_chains(bore: Bore) -> Iterator[Chain]:
    sign = turn(direction("internal", "right", bore.milling).sense)
    for number, cut in enumerate(bore_radii(bore), 1):
        radius = cut - bore.cutter_diameter / 2
        down = _descent(bore.centre, radius, bore.clearance, -bore.depth, bore.depth_per_turn, sign)
        level = _level(bore.centre, radius, -bore.depth, sign)
        # half the radius: the half turns begin and end on the axis
        yield Chain((down, level), radius / 2, number, bore.centre)
