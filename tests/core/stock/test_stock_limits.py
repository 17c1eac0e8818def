"""Every documented limit of the stock's public functions: taken at the limit, refused beyond."""

from __future__ import annotations

import pytest

from flankwise_service.core.stock.bars import undersize_h11, wrench
from flankwise_service.core.stock.blank import (
    blank_depth_needed,
    deepest_thread,
    diameter_aim,
    missing_depth,
)
from flankwise_service.core.stock.choice import bar_choices, needed_size
from flankwise_service.core.stock.drills import (
    drill_choices,
    hole_for_percent,
    percent_of_thread,
)
from flankwise_service.core.stock.hexagon import (
    across_corners,
    across_flats,
    corner_stand_out,
    hexagon,
    wall_to_bore,
    wall_to_flats,
    wrong_turn,
)
from flankwise_service.core.stock.mass import circle_area, mass_per_length
from support.at_limits import assert_limits_hold

# Any length, in any unit: a millionth to a million; where it may be missing, from 0.
SIZE = (1e-6, 1e6)
DEPTH = (0, 1e6)

LIMITS = [
    (across_corners, {"across_flats": 1.0}, {"across_flats": SIZE}),
    (across_flats, {"across_corners": 1.0}, {"across_corners": SIZE}),
    (hexagon, {"measure": "side", "value": 1.0}, {"value": SIZE}),
    (
        wrong_turn,
        {"wanted_across_flats": 30.0, "drawn_across_flats": 30.0, "tolerance": 0.01},
        {"wanted_across_flats": SIZE, "drawn_across_flats": SIZE, "tolerance": (0, 0.05)},
    ),
    (
        corner_stand_out,
        {"across_corners": 3.0, "boss_diameter": 2.0},
        {"across_corners": SIZE, "boss_diameter": SIZE},
    ),
    (
        wall_to_flats,
        {"across_flats": 3.0, "diameter": 2.0},
        {"across_flats": SIZE, "diameter": SIZE},
    ),
    (
        wall_to_bore,
        {"minor_diameter": 3.0, "bore_diameter": 2.0},
        {"minor_diameter": SIZE, "bore_diameter": DEPTH},
    ),
    (
        diameter_aim,
        {"least": 1.0, "greatest": 2.0, "fraction": 0.5},
        {"least": SIZE, "greatest": SIZE, "fraction": (0, 1)},
    ),
    (
        blank_depth_needed,
        {"thread_length": 1.0, "half_tooth": 0.1, "clearance": 0.1},
        {"thread_length": SIZE, "half_tooth": DEPTH, "clearance": DEPTH},
    ),
    (
        deepest_thread,
        {"blank_depth": 1.0, "half_tooth": 0.1, "clearance": 0.1},
        {"blank_depth": DEPTH, "half_tooth": DEPTH, "clearance": DEPTH},
    ),
    # thread, tooth and clearance may each be the greatest length
    (
        missing_depth,
        {"blank_depth": 1.0, "needed": 1.0},
        {"blank_depth": DEPTH, "needed": (0, 3e6)},
    ),
    (undersize_h11, {"size_mm": 10.0}, {"size_mm": (0, 250)}),
    (wrench, {"across_flats": 10.0, "unit": "mm"}, {"across_flats": SIZE}),
    (
        needed_size,
        {"diameter": 10.0, "allowance": 0.5, "least_wall": 0.0},
        {"diameter": SIZE, "allowance": DEPTH, "least_wall": DEPTH},
    ),
    (
        bar_choices,
        {
            "diameter": 10.0, "allowance": 0.5, "unit": "mm", "least_wall": 0.0,
            "least_across_flats": 0.0, "count": 3,
        },
        {
            "diameter": SIZE, "allowance": DEPTH, "least_wall": DEPTH,
            "least_across_flats": DEPTH, "count": (1, 100),
        },
    ),
    (circle_area, {"diameter": 1.0}, {"diameter": DEPTH}),
    (
        mass_per_length,
        {"area": 1.0, "density_g_per_cm3": 8.0, "unit": "mm"},
        {"area": (0, 1e12), "density_g_per_cm3": (0.5, 25)},
    ),
    (
        percent_of_thread,
        {"major_diameter": 8.0, "pitch": 1.25, "drill_diameter": 6.8},
        {"major_diameter": SIZE, "pitch": SIZE, "drill_diameter": SIZE},
    ),
    (
        hole_for_percent,
        {"major_diameter": 8.0, "pitch": 1.25, "percent": 75.0},
        {"major_diameter": SIZE, "pitch": SIZE, "percent": (1, 100)},
    ),
    (
        drill_choices,
        {"major_diameter": 8.0, "pitch": 1.25, "unit": "mm", "percent": 75.0, "count": 5},
        {"major_diameter": SIZE, "pitch": SIZE, "percent": (1, 100), "count": (1, 200)},
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("call", "good", "limits"), LIMITS, ids=[one[0].__name__ for one in LIMITS]
)
def test_each_limit_is_taken_and_a_step_beyond_it_is_not(call, good, limits):
    assert_limits_hold(call, good, limits)
