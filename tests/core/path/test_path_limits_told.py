"""Limits of a thread path's request, each told with its figure; and the sizes of a tool's solids."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.core.path.request import Helix, RadialPass
from flankwise_service.core.path.solids import Cylinder, tool_stack
from flankwise_service.core.path.thread import thread_path
from support.path_jobs import INTERNAL


def faults(helix: Helix) -> dict[str, Fault]:
    with pytest.raises(Refusal) as refused:
        list(thread_path(helix))
    return {fault.pointer: fault for fault in refused.value.faults}


def with_(pointer: str, value: Any) -> Helix:
    """Return the plain job with one value at a place of the request."""
    _, *steps = pointer.split("/")
    if steps[0] == "cutter":
        if steps[1] == "tooth":
            tooth = replace(INTERNAL.cutter.tooth, **{steps[2]: value})
            return replace(INTERNAL, cutter=replace(INTERNAL.cutter, tooth=tooth))
        return replace(INTERNAL, cutter=replace(INTERNAL.cutter, **{steps[1]: value}))
    if steps[0] == "passes":
        return replace(INTERNAL, passes=(replace(INTERNAL.passes[0], **{steps[2]: value}),))
    if steps[0] == "centre":
        return replace(INTERNAL, centre=(value, 0.0) if steps[1] == "0" else (0.0, value))
    return replace(INTERNAL, **{steps[0]: value})


FURTHEST = 1e5
LIMITS: dict[str, tuple[float, float]] = {
    "/pitch": (1e-5, FURTHEST), "/length": (1e-5, FURTHEST), "/blank_diameter": (1e-5, FURTHEST),
    "/clearance": (1e-5, FURTHEST), "/clearance_height": (1e-5, FURTHEST),
    "/lead_arc_radius": (1e-7, FURTHEST), "/relief_width": (1e-7, FURTHEST),
    "/chord_tolerance": (1e-7, FURTHEST), "/radial_tolerance": (1e-7, FURTHEST),
    "/centre/0": (-FURTHEST, FURTHEST), "/centre/1": (-FURTHEST, FURTHEST),
    "/start_angle": (-360, 360), "/straight_lead": (0, FURTHEST), "/overlap": (0, 360),
    "/cutter/diameter": (1e-5, FURTHEST), "/cutter/tip_to_tooth": (0, FURTHEST),
    "/cutter/tooth/tip_width": (0, FURTHEST), "/cutter/tooth/depth": (1e-5, FURTHEST),
    "/cutter/tooth/flank_angle_upper": (0, 80), "/cutter/tooth/flank_angle_lower": (0, 80),
}  # fmt: skip


@pytest.mark.parametrize("pointer", LIMITS)
@pytest.mark.parametrize("value", [-1e30, 1e30, math.inf])
def test_a_value_out_of_range_is_told_with_its_limits(pointer: str, value: float) -> None:
    fault = faults(with_(pointer, value))[pointer]
    assert (fault.least, fault.greatest) == LIMITS[pointer]


def test_lists_of_passes_have_their_limits_too() -> None:
    radius = faults(replace(INTERNAL, passes=(RadialPass(-1.0, 0.0),)))
    assert {"/passes/0/radius", "/passes/0/feed"} <= set(radius)
    assert "/passes" in faults(replace(INTERNAL, passes=()))


def test_a_tool_is_a_stack_of_cylinders_from_teeth_to_holder() -> None:
    mill = Cutter(
        10.0, 3, Tooth(30.0, 30.0, 0.2, 1.0), neck_diameter=6.0, reach=20.0, shank_diameter=8.0,
        overhang=40.0, holder_diameter=30.0, tip_to_tooth=0.5,
    )  # fmt: skip
    half = 0.1 + 1.0 * math.tan(math.radians(30.0))
    teeth, neck, shank, holder = tool_stack(mill)
    assert (teeth.name, teeth.low, teeth.radius) == ("teeth", -max(0.5, half), 5.0)
    assert teeth.high == pytest.approx(half)
    assert neck == Cylinder("neck", teeth.high, 19.5, 3.0)
    assert shank == Cylinder("shank", 19.5, 39.5, 4.0)
    assert holder == Cylinder("holder", 39.5, math.inf, 15.0)
