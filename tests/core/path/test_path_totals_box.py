"""The box of a path, gathered with arcs left out whose circle it holds, against every place."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.path.lines import place_on
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.totals import extent, totals


def arc(centre: tuple[float, float], radius: float, sweep: float, quarter: float) -> Segment:
    """Return an arc that begins `quarter` quarters of a turn from X."""
    whole = Segment(
        "arc", "thread", Point(centre[0] + radius, centre[1], 0.0), Point(0, 0, 0), centre,
        "counterclockwise", 90.0, 10.0,
    )  # fmt: skip
    begin = place_on(whole, quarter)
    turned = whole._replace(begin=begin, sweep=sweep)
    end = place_on(turned, 1.0)
    return turned._replace(end=end._replace(z=begin.z + 0.5))


ARCS = st.builds(
    arc,
    st.tuples(st.floats(-2, 2), st.floats(-2, 2)),
    st.floats(0.1, 3),
    st.floats(1, 360),
    st.floats(0, 4),
)


@given(st.lists(ARCS, min_size=1, max_size=6))
@settings(deadline=None, max_examples=60)
def test_the_box_holds_every_place_and_nothing_more(path: list[Segment]) -> None:
    found = totals(path)
    places = [place for segment in path for place in extent(segment)]
    for axis in range(3):
        low, high = min(p[axis] for p in places), max(p[axis] for p in places)
        assert found.least[axis] == pytest.approx(low, abs=1e-8)
        assert found.greatest[axis] == pytest.approx(high, abs=1e-8)


def test_a_gap_in_the_path_counts_with_both_its_ends() -> None:
    here = Segment("line", "link", Point(0, 0, 0), Point(1, 0, 0), feed=1.0)
    there = Segment("line", "link", Point(5, -7, 3), Point(1, 1, 1), feed=1.0)
    found = totals([here, there])
    assert (found.least, found.greatest) == (Point(0, -7, 0), Point(5, 1, 3))


def test_a_straight_piece_reaches_from_end_to_end() -> None:
    piece = Segment("line", "link", Point(0, 0, 0), Point(1, 2, 3), feed=1.0)
    assert list(extent(piece)) == [piece.begin, piece.end]


def test_a_path_below_the_face_and_beside_the_axis_has_its_own_box() -> None:
    for sign in (-1, 1):
        low, high = sorted((Point(3 * sign, 4 * sign, 5 * sign), Point(sign, 2 * sign, sign)))
        found = totals([Segment("line", "link", low, high, feed=1.0)])
        assert (found.least, found.greatest) == (low, high)
