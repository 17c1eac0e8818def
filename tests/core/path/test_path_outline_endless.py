"""Stock without end round a hole: only the hole's own edge has marks."""

from __future__ import annotations

from flankwise_service.core.path.outline import Around, Disc, Hexagon, Move
from flankwise_service.core.path.segment import Point, Segment


def test_only_the_edge_of_the_hole_marks_a_move_where_the_stock_has_no_end() -> None:
    move = Move(Segment("line", "thread", Point(-8.0, 0.0, 0.0), Point(8.0, 0.0, 0.0)))
    hole = Disc(0.0, 0.0, 3.0)
    endless = list(Around(hole).marks(move))
    assert endless == [0.0, 1.0, *hole.marks(move)]
    bounded = list(Around(hole, Hexagon(0.0, 0.0, 10.0)).marks(move))
    assert set(endless) < set(bounded)
