"""Thread paths to try things on: strategies of valid requests, and one plain one of each side."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.path.request import Helix, RadialPass

CUTTER = Cutter(6.0, 3, Tooth(30.0, 30.0, 0.15, 0.9), tip_to_tooth=0.5)
INTERNAL = Helix(
    "internal", "right", "climb", 1.25, 10.0, 6.65, CUTTER,
    (RadialPass(0.8, 120.0), RadialPass(1.0, 120.0)), 0.1, 5.0,
)  # fmt: skip
EXTERNAL = replace(
    INTERNAL, side="external", blank_diameter=20.0, pitch=1.5, length=15.0,
    passes=(RadialPass(12.6, 200.0), RadialPass(12.3, 200.0)),
)  # fmt: skip


@st.composite
def helices(draw: Any, /, **fixed: Any) -> Helix:
    """Draw a request that can be cut, in any unit: sizes are in cutter radii times a scale."""
    cutter_radius = draw(st.floats(0.05, 20.0))
    pitch = cutter_radius * draw(st.floats(0.02, 0.5))
    side = fixed.get("side") or draw(st.sampled_from(["internal", "external"]))
    depth, clearance = 0.6 * pitch, cutter_radius * draw(st.floats(0.01, 0.2))
    ratio = draw(st.floats(1.3, 5.0))
    blank = cutter_radius * ratio
    tooth = Tooth(30.0, 30.0, pitch / 8, 0.7 * pitch)
    cutter = Cutter(2 * cutter_radius, 3, tooth, tip_to_tooth=draw(st.floats(0, 0.3)) * pitch)
    rows = fixed.pop("rows", 1)
    if rows is None:
        rows = draw(st.integers(1, 8))
    if rows > 1:
        cutter = replace(cutter, rows=rows, row_pitch=pitch)
    shares = draw(st.lists(st.sampled_from([0.4, 0.7, 1.0]), min_size=1, max_size=3))
    out = 1.0 if side == "internal" else -1.0
    passes = tuple(
        RadialPass(blank + out * (depth * share - cutter_radius), draw(st.floats(1, 1000)))
        for share in sorted(shares)  # deeper each time, or a spring pass
    )
    entries = ["half_arc", "radial"]
    least = min(one.radius for one in passes)
    if side == "external" or least * (1 - math.sqrt(0.5)) > depth + clearance:
        entries.append("quarter_arc")
    job = Helix(
        side,
        draw(st.sampled_from(["right", "left"])),
        draw(st.sampled_from(["climb", "conventional"])),
        pitch,
        pitch * draw(st.floats(1.0, 12.0)),
        2 * blank,
        cutter,
        passes,
        clearance,
        cutter_radius * draw(st.floats(0.1, 2.0)),
        starts=draw(st.integers(1, 4)),
        centre=(draw(st.floats(-50, 50)), draw(st.floats(-50, 50))),
        start_angle=draw(st.floats(-360, 360)),
        turns_below_length=draw(st.sampled_from([0.0, 0.25, 1.0])),
        turns_above_face=draw(st.sampled_from([None, 0.0, 1.0])),
        lead_in=draw(st.sampled_from(entries)),
        lead_out=draw(st.sampled_from(entries)),
        greatest_sweep=draw(st.sampled_from([90, 180, 360])),
        overlap=draw(st.floats(0, 30)),
        straight_lead=draw(st.sampled_from([0.0, 0.5]))
        * (cutter_radius if side == "external" else blank - cutter_radius - clearance),
        plunge_feed=draw(st.sampled_from([None, 50.0])),
    )
    return replace(job, **fixed)


def from_axis(helix: Helix, place: tuple[float, ...]) -> float:
    """Return the distance of a place from the thread's axis."""
    return math.hypot(place[0] - helix.centre[0], place[1] - helix.centre[1])
