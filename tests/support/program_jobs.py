"""Programs to try things on: strategies of setups, tools and paths that can be written."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import Any, Literal

from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import Refusal
from flankwise_service.core.path.request import Helix, RadialPass
from flankwise_service.core.path.segment import Point, Segment, Sense
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.program.setup import WORK_OFFSETS, Operation, Setup, Tool
from flankwise_service.core.threads.model import Side
from flankwise_service.core.units import Unit

MM = Setup("mm", 30.0, version="1.0.0")
MILL = Tool(3, 3200.0, 3, coolant="flood")
SIDES: tuple[Side, ...] = ("internal", "external")
ARC_FORMS: tuple[Literal["centre", "radius"], ...] = ("centre", "centre", "radius")


def line(begin: tuple[float, ...], end: tuple[float, ...], feed: float | None = 100.0) -> Segment:
    """Return a straight cut, or a rapid where there is no feed."""
    kind: Literal["line", "rapid"] = "rapid" if feed is None else "line"
    return Segment(kind, "link", Point(*begin), Point(*end), feed=feed)


def arc(
    begin: tuple[float, float, float], centre: tuple[float, float], sweep: float, rise: float = 0.0,
    sense: Sense = "counterclockwise", feed: float = 100.0,
) -> Segment:  # fmt: skip
    """Return the arc from a place about a centre; its end follows from the sweep."""
    turn_rad = math.radians(sweep if sense == "counterclockwise" else -sweep)
    x, y = begin[0] - centre[0], begin[1] - centre[1]
    cos, sin = math.cos(turn_rad), math.sin(turn_rad)
    end = Point(centre[0] + x * cos - y * sin, centre[1] + x * sin + y * cos, begin[2] + rise)
    return Segment("arc", "thread", Point(*begin), end, centre, sense, sweep, feed)


def hole(**changes: Any) -> list[Segment]:
    """Return the path of an internal thread, M20x1.5 in size."""
    cutter = Cutter(12.0, 4, Tooth(30.0, 30.0, 0.18, 1.0), tip_to_tooth=1.0)
    helix = Helix(
        "internal", "right", "climb", 1.5, 6.0, 18.5, cutter, (RadialPass(4.0, 200.0),), 0.5, 2.0
    )
    return list(thread_path(replace(helix, **changes)))


def random_operation(rng: random.Random, unit: Unit, arc_form: str) -> Operation:
    """Return the operation of a random thread that can be milled, any side, hand and size."""
    inch = 1 / 25.4 if unit == "in" else 1.0
    while True:
        radius = rng.uniform(1.0, 15.0)
        pitch = radius * rng.uniform(0.05, 0.4)
        side = rng.choice(SIDES)
        blank = radius * rng.uniform(1.35, 4.0)
        depth = 0.6 * pitch
        out = 1.0 if side == "internal" else -1.0
        cutter = Cutter(
            2 * radius * inch, 3, Tooth(30.0, 30.0, pitch / 8 * inch, 0.7 * pitch * inch),
            tip_to_tooth=rng.uniform(0.0, 0.3) * pitch * inch,
        )  # fmt: skip
        shares = sorted(rng.sample([0.3, 0.5, 0.7, 0.85, 1.0], rng.randint(1, 3)))
        helix = Helix(
            side, rng.choice(["right", "left"]), rng.choice(["climb", "conventional"]),
            pitch * inch, pitch * rng.uniform(1.0, 8.0) * inch, 2 * blank * inch, cutter,
            tuple(
                RadialPass((blank + out * (depth * share - radius)) * inch, rng.uniform(5, 900))
                for share in shares
            ),
            radius * rng.uniform(0.02, 0.15) * inch, radius * rng.uniform(0.3, 2.0) * inch,
            starts=rng.choice([1, 1, 1, 2]),
            centre=(rng.uniform(-99, 99) * inch, rng.uniform(-99, 99) * inch),
            start_angle=rng.uniform(-360, 360),
            greatest_sweep=90 if arc_form == "radius" else rng.choice([90, 180, 360]),
            lead_in=rng.choice(["radial", "quarter_arc", "half_arc"]),
            lead_out=rng.choice(["radial", "quarter_arc", "half_arc"]),
            chord_tolerance=rng.choice([None, None, None, 0.01 * inch]),
        )  # fmt: skip
        if arc_form == "radius":
            helix = replace(helix, lead_in="radial", lead_out="radial")
        try:
            segments = list(thread_path(helix))
        except Refusal:
            continue
        tool = Tool(
            rng.randint(1, 99), rng.uniform(100.0, 20000.0), rng.choice([None, 7]),
            rng.choice(["off", "mist", "flood"]), cutter.tip_to_tooth,
            name=rng.choice(["", "thread mill"]),
        )  # fmt: skip
        straight = helix.lead_in == helix.lead_out == "radial" and helix.chord_tolerance is None
        if straight and rng.random() < 0.5:
            side_of: Literal["left", "right"] = "left" if helix.milling == "climb" else "right"
            tool = replace(tool, radius_offset=rng.randint(1, 99), radius_side=side_of)
        return Operation(tool, segments, rng.choice(["", "thread"]))


def random_job(rng: random.Random) -> tuple[Setup, list[Operation]]:
    """Return a random setup with one to three operations."""
    unit: Unit = rng.choice(["in", "mm"])
    arc_form = rng.choice(ARC_FORMS)
    setup = Setup(
        unit, 60.0 if unit == "mm" else 3.0, rng.choice(WORK_OFFSETS),
        rng.choice(["G20 G21", "G70 G71"]),
        rng.choice([None, *([4, 5] if unit == "in" else [3, 4])]), arc_form,
        rng.random() < 0.4, rng.random() < 0.3, rng.choice([0, 1, 10]),
        rng.choice([None, rng.randint(1, 9999)]), rng.choice(["M30", "M02"]),
        remarks=tuple(rng.choice(["", "pitch diameter 0.8216 to 0.8270", "G0 X9 (no)"])
                      for _ in range(rng.randint(0, 3))),
        version="1.0.0",
    )  # fmt: skip
    count = rng.choice([1, 1, 1, 2, 3])
    return setup, [random_operation(rng, unit, arc_form) for _ in range(count)]


texts = st.text(max_size=200) | st.text(
    st.sampled_from("()%;#[]GMXYZIJKRFSTHDN0123456789.-+ \r\n\t\x00\u202e\uff08\uff09\u0413"),
    max_size=80,
)
"""Anything, and much of what might mean something to a control."""
