"""Straight lines and arcs as the words of one block mean them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from flankwise_service.core.errors import plain
from flankwise_service.core.path.segment import Sense
from flankwise_service.core.program.arcs import FULL_TURN, centre_by_radius, sweep_as_read
from flankwise_service.core.program.modal import Place, Stop

AXES = "XYZ"
CENTRE_LETTERS = "IJK"
SAME = 1e-9
"""Two places nearer than this are one: sums of increments don't come out to the last bit."""
RISE_SHARE = 1.25
"""Share of the control's arc tolerance by which K may differ from its arc's rise: both rounded."""

PlaneAxes = tuple[int, int, int]
Known = tuple[float, float, float]


class Arc(NamedTuple):
    """An arc in its plane."""

    centre: tuple[float, float]
    sense: Sense
    sweep: float


def known(place: Place) -> Known:
    """Return the place with every axis known, or stop."""
    x, y, z = place
    if x is None or y is None or z is None:
        raise Stop("place_unknown", "a cut from a place that isn't known yet",
                   "move each axis by a rapid after tool change and offsets")  # fmt: skip
    return x, y, z


def end_place(place: Place, values: Mapping[str, float], factor: float, absolute: bool) -> Place:
    """Return where the axis words of a block lead.

    >>> end_place((1.0, None, 3.0), {"X": 2.0}, 1.0, False)
    (3.0, None, 3.0)
    """
    if absolute:
        x, y, z = place
        return (
            values["X"] * factor if "X" in values else x,
            values["Y"] * factor if "Y" in values else y,
            values["Z"] * factor if "Z" in values else z,
        )
    ends = list(place)
    for axis, letter in enumerate(AXES):
        before = place[axis]
        if letter not in values:
            continue
        if before is None:
            raise Stop("place_unknown", f"an increment in {letter} from a place not known yet",
                       "give the axis in G90 first")  # fmt: skip
        ends[axis] = before + values[letter] * factor
    return ends[0], ends[1], ends[2]


def read_arc(
    begin: Known, end: Known, values: Mapping[str, float], factor: float, axes: PlaneAxes,
    counterclockwise: bool, tolerance: float,
) -> Arc:  # fmt: skip
    """Return the arc that G02 or G03 asks for, from I J K or R.

    Stops where the radii at begin and end differ by more than `tolerance`, where no circle joins
    the two, and where a rise per turn doesn't fit the rise.
    """
    first, second, across = axes
    if AXES[first] not in values and AXES[second] not in values:
        raise Stop("arc_without_end", "an arc without an end in its plane",
                   f"give {AXES[first]} or {AXES[second]}")  # fmt: skip
    sense: Sense = "counterclockwise" if counterclockwise else "clockwise"
    a, b = (begin[first], begin[second]), (end[first], end[second])
    if abs(a[0] - b[0]) < SAME and abs(a[1] - b[1]) < SAME:
        b = a
    offsets = (CENTRE_LETTERS[first], CENTRE_LETTERS[second])
    if "R" in values:
        centre = _centre_by_r(a, b, values, factor, offsets, sense)
    else:
        centre = _centre_by_offsets(a, b, values, factor, offsets, tolerance)
    sweep = sweep_as_read(a, b, centre, sense)
    letter = CENTRE_LETTERS[across]
    if letter in values:
        rise, room = abs(end[across] - begin[across]), RISE_SHARE * tolerance
        if abs(abs(values[letter] * factor) * sweep / FULL_TURN - rise) > room:
            raise Stop("rise_per_turn", f"{letter} doesn't fit the arc's rise, {plain(rise)}",
                       "correct one of the two")  # fmt: skip
    return Arc(centre, sense, sweep)


def _centre_by_r(
    a: tuple[float, float], b: tuple[float, float], values: Mapping[str, float], factor: float,
    offsets: tuple[str, str], sense: Sense,
) -> tuple[float, float]:  # fmt: skip
    """Return the centre by R."""
    if set(offsets) & values.keys():
        raise Stop("arc_twice", "an arc by its centre and its radius at once", "give one of them")
    centre = centre_by_radius(a, b, values["R"] * factor, sense)
    if centre is None:
        raise Stop("arc_impossible", "no arc of this radius joins begin and end",
                   "correct R, or give the centre")  # fmt: skip
    return centre


def _centre_by_offsets(
    a: tuple[float, float], b: tuple[float, float], values: Mapping[str, float], factor: float,
    offsets: tuple[str, str], tolerance: float,
) -> tuple[float, float]:  # fmt: skip
    """Return the centre by its offsets from the arc's begin."""
    if offsets[0] not in values and offsets[1] not in values:
        raise Stop("arc_without_centre", "an arc without centre or radius",
                   f"give {offsets[0]} and {offsets[1]}, or R")  # fmt: skip
    i, j = values.get(offsets[0], 0.0) * factor, values.get(offsets[1], 0.0) * factor
    centre = (a[0] + i, a[1] + j)
    radius = math.hypot(i, j)
    if radius == 0.0:
        raise Stop("arc_impossible", "an arc of radius zero", "correct the centre")
    apart = abs(math.hypot(b[0] - centre[0], b[1] - centre[1]) - radius)
    if apart > tolerance + SAME:
        raise Stop("arc_radius", f"the arc's radius at its end differs by {plain(apart)}",
                   f"a control takes at most {plain(tolerance)}")  # fmt: skip
    return centre


def length_of(begin: Known, end: Known, arc: Arc | None, axes: PlaneAxes) -> float:
    """Return the length of a line or helical arc."""
    if arc is None:
        return math.dist(begin, end)
    radius = math.dist((begin[axes[0]], begin[axes[1]]), arc.centre)
    return math.hypot(radius * math.radians(arc.sweep), end[axes[2]] - begin[axes[2]])
