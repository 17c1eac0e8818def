"""The direction table, row by row, from the motion of the cutting edge itself."""

from __future__ import annotations

import pytest

from flankwise_service.core.path.direction import DIRECTIONS, advance, direction, opposite, turn


def edge_meets_work_against_feed(side: str, sense: str) -> bool:
    """Climb: where it cuts, the edge runs against the way the tool travels.

    The cutter stands at (1, 0) from the thread's axis and turns clockwise (M03) seen from +Z.
    """
    contact = 1.0 if side == "internal" else -1.0  # where it cuts, seen from the cutter's axis
    spin = -1.0  # clockwise, about +Z
    edge_speed_y = spin * contact  # z cross x = y
    travel_y = 1.0 if sense == "counterclockwise" else -1.0
    return edge_speed_y * travel_y < 0


@pytest.mark.parametrize("row", DIRECTIONS)
def test_each_row_climbs_or_not_as_its_name_says(row: tuple[str, str, str]) -> None:
    side, _, milling = row
    climbs = edge_meets_work_against_feed(side, DIRECTIONS[row].sense)  # type: ignore[index]
    assert climbs == (milling == "climb")


@pytest.mark.parametrize("row", DIRECTIONS)
def test_each_row_leaves_a_helix_of_its_hand(row: tuple[str, str, str]) -> None:
    """A right-hand helix turns clockwise as it goes away from the viewer, here down -Z."""
    sense, motion = DIRECTIONS[row]  # type: ignore[index]
    clockwise_when_going_away = (sense == "clockwise") == (motion == "downward")
    assert clockwise_when_going_away == (row[1] == "right")


def test_the_table_is_whole() -> None:
    assert len(DIRECTIONS) == 2 * 2 * 2
    assert direction("external", "left", "conventional") == ("counterclockwise", "downward")


def test_signs() -> None:
    assert (turn("counterclockwise"), turn("clockwise")) == (1, -1)
    assert (advance("right"), advance("left")) == (1, -1)
    assert opposite("clockwise") == "counterclockwise"
    assert opposite(opposite("clockwise")) == "clockwise"
