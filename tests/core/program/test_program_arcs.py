"""Arcs rounded to the printed digits stay the arcs they were."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flankwise_service.core.path.segment import Sense
from flankwise_service.core.program.arcs import (
    GREATEST_APART,
    Way,
    centre_by_radius,
    middle,
    printable_centre,
    printable_radius,
    sweep_as_read,
)
from flankwise_service.core.program.centres import printable_centres
from flankwise_service.core.program.modal import Stop
from flankwise_service.core.program.moves import SAME, read_arc

SENSES = st.sampled_from(["clockwise", "counterclockwise"])


def place(centre: tuple[float, float], radius: float, angle: float) -> tuple[float, float]:
    a = math.radians(angle)
    return centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)


def rounded(spot: tuple[float, float]) -> tuple[int, int]:
    return round(spot[0]), round(spot[1])


@pytest.mark.parametrize(
    ("end", "sense", "sweep"),
    [((0, 1), "counterclockwise", 90.0), ((0, 1), "clockwise", 270.0),
     ((-1, 0), "clockwise", 180.0), ((0, -1), "counterclockwise", 270.0),
     ((1, 0), "counterclockwise", 360.0), ((1, 0), "clockwise", 360.0)],
)  # fmt: skip
def test_the_angle_a_control_turns_through(
    end: tuple[int, int], sense: Sense, sweep: float
) -> None:
    assert sweep_as_read((1, 0), end, (0, 0), sense) == pytest.approx(sweep, abs=1e-12)


def test_equal_angles_but_other_radius_read_as_a_full_turn() -> None:
    assert sweep_as_read((1, 0), (1.5, 0), (0, 0), "clockwise") == 360.0


def test_radii_may_differ_by_the_tolerance_itself() -> None:
    """By figures that a float holds to the last bit: radii of 1 and of 1 + 1/1024."""
    apart = 2.0**-10
    ends = (0.0, 0.0, 0.0), (2.0 + apart, 0.0, 0.0)
    words, axes = {"X": ends[1][0], "I": 1.0}, (0, 1, 2)
    assert apart - SAME + SAME == apart
    found = read_arc(*ends, words, 1.0, axes, True, apart - SAME)
    assert (found.centre, found.sweep) == ((1.0, 0.0), 180.0)
    with pytest.raises(Stop, match="radius at its end"):
        read_arc(*ends, words, 1.0, axes, True, math.nextafter(apart - SAME, 0.0) - 1e-15)


@given(
    st.floats(20.0, 3e5), st.floats(-1e5, 1e5), st.floats(-1e5, 1e5), st.floats(-360, 360),
    st.floats(1.0, 359.0), SENSES,
)  # fmt: skip
@settings(deadline=None, max_examples=500)
def test_a_printed_centre_keeps_the_arc(
    radius: float, cx: float, cy: float, begin_angle: float, sweep: float, sense: Sense
) -> None:
    centre, way = (cx, cy), 1 if sense == "counterclockwise" else -1
    assume(math.radians(min(sweep, 360 - sweep)) * radius > 20)
    begin, end = (rounded(place(centre, radius, begin_angle + way * part * sweep))
                  for part in (0, 1))  # fmt: skip
    true = place(centre, radius, begin_angle + way * sweep / 2)
    found = printable_centre(begin, end, centre, Way(true, sense))
    assert abs(found[0] - cx) <= 1
    assert abs(found[1] - cy) <= 1
    assert abs(math.dist(begin, found) - math.dist(end, found)) <= GREATEST_APART
    read = sweep_as_read(begin, end, found, sense)
    assert math.dist(middle(begin, found, read, sense), true) < 2.5


def test_the_centre_chosen_is_the_best_of_its_neighbours() -> None:
    rng = random.Random(5)
    better = 0
    for _ in range(300):
        radius, centre = rng.uniform(500, 9000), (rng.uniform(-99, 99), rng.uniform(-99, 99))
        angle, sweep = rng.uniform(0, 360), rng.uniform(30, 330)
        begin, end = (
            rounded(place(centre, radius, angle)),
            rounded(place(centre, radius, angle + sweep)),
        )
        true = place(centre, radius, angle + sweep / 2)

        def error(found: tuple[int, int], begin=begin, end=end, true=true) -> float:  # type: ignore[no-untyped-def]
            read = sweep_as_read(begin, end, found, "counterclockwise")
            at = middle(begin, found, read, "counterclockwise")
            return abs(math.dist(begin, found) - math.dist(end, found)) + math.dist(at, true)

        found = printable_centre(begin, end, centre, Way(true, "counterclockwise"))
        nearest = rounded(centre)
        assert error(found) <= error(nearest) + 1e-6
        better += error(found) < error(nearest) - 1e-6
    assert better > 30  # plain rounding of I and J is worse often enough to matter


def test_a_full_turn_keeps_its_far_side() -> None:
    begin = rounded(place((0.49, 0.49), 5000.2, 0.0))
    true = place((0.49, 0.49), 5000.2, 180.0)
    found = printable_centre(begin, begin, (0.49, 0.49), Way(true, "clockwise"))
    assert math.dist((2 * found[0] - begin[0], 2 * found[1] - begin[1]), true) < 1.5


@pytest.mark.parametrize("turn", [1, -1])
def test_the_centre_of_a_full_turn_is_the_one_with_the_truest_far_side(turn: int) -> None:
    """Both radii are the same, so the four printable points differ by their far side alone."""
    rng = random.Random(8)
    sense: Sense = "counterclockwise" if turn > 0 else "clockwise"
    looked_at = 0
    for _ in range(200):
        radius, centre = rng.uniform(30, 9000), (rng.uniform(-99, 99), rng.uniform(-99, 99))
        begin = rounded(place(centre, radius, rng.uniform(0, 360)))
        true = place(centre, radius, rng.uniform(0, 360))
        off = {
            (x, y): math.dist((2 * x - begin[0], 2 * y - begin[1]), true)
            for x in (math.floor(centre[0]), math.ceil(centre[0]))
            for y in (math.floor(centre[1]), math.ceil(centre[1]))
        }
        best, second = sorted(off, key=off.__getitem__)[:2]
        if off[second] - off[best] < 1e-3:
            continue
        looked_at += 1
        assert printable_centre(begin, begin, centre, Way(true, sense)) == best
        ends, at, way = (np.array([[x], [y]]) for x, y in (begin, centre, true))
        found, doubt = printable_centres(ends, ends, at, way, np.array([float(turn)]))
        assert (found[:, 0].tolist(), doubt.tolist()) == (list(best), [False])
    assert looked_at > 150


def test_a_centre_on_the_begin_itself_is_never_chosen() -> None:
    found = printable_centre((0, 0), (2, 0), (0.9, 0.1), Way((0.9, 1.1), "clockwise"))
    assert found not in ((0, 0), (2, 0))


@given(st.floats(50.0, 1e5), st.floats(-360, 360), st.floats(5.0, 355.0), SENSES)
@settings(deadline=None)
def test_a_signed_radius_means_its_centre(
    radius: float, angle: float, sweep: float, sense: Sense
) -> None:
    assume(abs(sweep - 180) > 5)
    way = 1 if sense == "counterclockwise" else -1
    begin, end = place((3.0, -4.0), radius, angle), place((3.0, -4.0), radius, angle + way * sweep)
    found = centre_by_radius(begin, end, radius if sweep < 180 else -radius, sense)
    assert found is not None
    assert math.dist(found, (3.0, -4.0)) < 1e-6 * radius


def test_no_arc_joins_places_too_far_apart_or_equal() -> None:
    assert centre_by_radius((0, 0), (3, 0), 1.4, "clockwise") is None
    assert centre_by_radius((0, 0), (0, 0), 1.0, "clockwise") is None
    assert centre_by_radius((0, 0), (2, 0), 1.0, "clockwise") == (1.0, 0.0)
    assert printable_radius((0, 0), (0, 0), (5.0, 0.0), 5.0, "clockwise", 1.0) is None


def test_the_printed_radius_is_the_one_with_the_nearest_centre() -> None:
    begin, end = (10000, 0), (0, 10001)
    assert printable_radius(begin, end, (0.0, 0.0), 10000.0, "counterclockwise", 90.0) == 10001
    assert printable_radius(begin, end, (0.0, 0.0), 10000.0, "clockwise", 270.0) == -10001
