"""A path set down elsewhere takes the same time: nothing depends on where the zero is."""

from __future__ import annotations

import itertools
import math

import pytest

from flankwise_service.core.cutting.time import machining_time, moves_of
from flankwise_service.core.path.segment import Point, Segment


def path(x: float, y: float, z: float, sense: str = "counterclockwise") -> list[Segment]:
    """Return a line into an arc of a quarter turn, tangent, and on along a line, at a place."""
    turn = 1.0 if sense == "counterclockwise" else -1.0
    corner, end = Point(x, y - 2.0 * turn, z), Point(x + 2.0, y, z + 1.0)
    rise = 1.0 / math.pi
    return [
        Segment("line", "link", corner._replace(x=x - 3.0), corner, feed=300.0),
        Segment("arc", "thread", corner, end, (x, y), sense, 90.0, 300.0),
        Segment("line", "link", end, Point(x + 2.0, y + 1.0 * turn, z + 1.0 + rise), feed=300.0),
    ]


@pytest.mark.parametrize("sense", ["counterclockwise", "clockwise"])
@pytest.mark.parametrize("place", [(0, 0, 0), (7.0, 0, 0), (0, -3.0, 0), (-40.0, 11.0, -6.0)])
def test_moves_are_the_same_wherever_the_path_lies(place, sense):
    """The line is level, the helix rises by atan(1/pi) = 17.7 degrees and so does what follows."""
    moves = moves_of(path(*place, sense=sense), corner=18.0)
    assert [one.smooth for one in moves] == [False, True, True]
    assert [one.length for one in moves] == pytest.approx(
        [3.0, math.hypot(math.pi, 1.0), math.hypot(1.0, 1 / math.pi)]
    )
    assert moves[1].radius == pytest.approx(2.0 * (1 + 1 / math.pi**2))
    strict = moves_of(path(*place, sense=sense), corner=17.0)
    assert [one.smooth for one in strict] == [False, False, True]


def test_time_and_length_go_with_the_size_of_the_path():
    """Twice the path at twice feed, rapid and acceleration takes the same time."""
    moves = moves_of(path(5.0, 5.0, 5.0))
    twice = [one._replace(length=2 * one.length, feed=600.0, radius=one.radius and 2 * one.radius)
             for one in moves]  # fmt: skip
    once = machining_time(moves, rapid=5000.0, acceleration=500.0)
    double = machining_time(twice, rapid=10_000.0, acceleration=1000.0)
    assert double.total_s == pytest.approx(once.total_s)
    assert double.slowed_s == pytest.approx(once.slowed_s)
    assert double.cutting_length == pytest.approx(2 * once.cutting_length)


@pytest.mark.parametrize("size", [0.05, 0.5, 3.0, 40.0])
@pytest.mark.parametrize("turned", [0.0, 40.0, 90.0, 200.0])
def test_whether_a_path_goes_on_smoothly_does_not_hang_on_its_size_or_direction(size, turned):
    """Lines that turn by four and by six degrees, in the plane and out of it; five are smooth."""
    places = [Point(0.0, 0.0, 0.0)]
    for heading, steep in [(0.0, 0.0), (4.0, 0.0), (10.0, 0.0), (10.0, 4.0), (10.0, 10.0)]:
        level = size * math.cos(math.radians(steep))
        at = math.radians(heading + turned)
        x, y, z = places[-1]
        step = (level * math.cos(at), level * math.sin(at), size * math.sin(math.radians(steep)))
        places.append(Point(x + step[0], y + step[1], z + step[2]))
    pieces = [Segment("line", "link", one, other, feed=300.0)
              for one, other in itertools.pairwise(places)]  # fmt: skip
    moves = moves_of(pieces)
    assert [one.smooth for one in moves] == [False, True, False, True, False]
    assert [one.length for one in moves] == pytest.approx([size] * 5)
