"""What may be left out: the documented value stands in for it, and another one would differ."""

from __future__ import annotations

import pytest

from flankwise_service.core.stock.blank import diameter_aim
from flankwise_service.core.stock.choice import bar_choices, needed_size
from flankwise_service.core.stock.drills import drill_choices
from flankwise_service.core.stock.facts import aim_for, blank_aim
from flankwise_service.core.stock.hexagon import hexagon_readings, wrong_turn
from flankwise_service.core.threads import limits
from support.left_out import assert_documented, case_id

BAR = {"diameter": 20.0, "allowance": 0.5, "unit": "mm"}
DRILL = {"major_diameter": 8.0, "pitch": 1.25, "unit": "mm"}

LEFT_OUT = [
    (diameter_aim, {"least": 1.0, "greatest": 2.0}, "fraction", 0.5, 0.4),
    (blank_aim, {"found": limits("M8-6g")}, "fraction", 0.5, 0.4),
    (aim_for, {"designation": "M8-6g", "side": None, "least": None, "greatest": None,
               "unit": "mm"}, "fraction", 0.5, 0.4),
    (needed_size, {"diameter": 20.0, "allowance": 0.5}, "least_wall", 0.0, 0.1),
    (bar_choices, BAR, "least_wall", 0.0, 1.0),
    (bar_choices, BAR, "least_across_flats", 0.0, 30.0),
    (bar_choices, BAR, "count", 3, 2),
    (bar_choices, BAR, "shapes", ("hexagon", "round"), ("round",)),
    (drill_choices, DRILL, "percent", 75.0, 74.0),
    (drill_choices, DRILL, "count", 5, 4),
    (drill_choices, DRILL, "series", ("fraction", "number", "letter", "metric"), ("metric",)),
    (hexagon_readings, {"value": 30.0}, "intended", "across_flats", "side"),
    (wrong_turn, {"wanted_across_flats": 30.0, "drawn_across_flats": 60.11},
     "tolerance", 0.002, 0.001),
]  # fmt: skip


@pytest.mark.parametrize("case", LEFT_OUT, ids=case_id)
def test_what_is_left_out_has_its_documented_value(case):
    assert_documented(case)
