"""What a thread path is asked for by."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.path.direction import Milling
from flankwise_service.core.threads.model import Hand, Side

Entry = Literal["quarter_arc", "half_arc", "radial"]
Sweep = Literal[90, 180, 360]

ENTRIES: tuple[Entry, ...] = ("quarter_arc", "half_arc", "radial")
SWEEPS: tuple[Sweep, ...] = (90, 180, 360)
ENTRY_SWEEP = {"quarter_arc": 90.0, "half_arc": 180.0, "radial": 0.0}
"""Angle, in degrees, that each way of leading in or out turns about its own centre."""


@dataclass(frozen=True, slots=True)
class RadialPass:
    """One radial pass over the whole thread."""

    radius: float
    """Of the centre path; for a taper thread, where the path crosses the face."""
    feed: float
    """Along the centre path, per minute, while threading (see `cutting.centre_feed`)."""
    lead_feed: float | None = None
    """On the lead-in and lead-out arcs; by default what keeps the feed at the cutting edge."""


@dataclass(frozen=True, slots=True)
class Helix:
    """One thread to be milled. Lengths in one unit, angles in degrees.

    The groove of the first start crosses the face (z = 0) at `start_angle`, counted
    counter-clockwise from +X, so threads can be timed. Spring passes are passes of equal radius.
    """

    side: Side
    hand: Hand
    milling: Milling
    pitch: float
    length: float
    """Of full thread, from the face down to the mid-plane of the last groove."""
    blank_diameter: float
    """Of the boss (external) or hole (internal) before threading; its clearest value if tapered:
    the greatest of a boss, the least of a hole."""
    cutter: Cutter
    passes: tuple[RadialPass, ...]
    clearance: float
    """Radial gap between cutter and blank wherever the path enters or leaves the thread."""
    clearance_height: float
    """Height of the tool's tip above the face where it may move freely."""
    starts: int = 1
    centre: tuple[float, float] = (0.0, 0.0)
    start_angle: float = 0.0
    turns_above_face: float | None = None
    """Run above the face; by default just enough that the tooth leaves the part."""
    turns_below_length: float = 0.0
    """Run beyond `length`, where there is room."""
    relief_width: float | None = None
    """Width of a relief groove below `length`; the thread then runs out into it in full form."""
    lead_in: Entry = "half_arc"
    lead_out: Entry = "half_arc"
    lead_arc_radius: float | None = None
    """By default half the centre path's radius (internal), the least that clears (external)."""
    greatest_sweep: Sweep = 360
    """Greatest angle one arc may turn."""
    overlap: float = 10.0
    """How far past a full turn each step of a multi-row cutter goes, in degrees."""
    taper: float = 0.0
    """Change of diameter for one unit of length, not negative; 0.0625 for 1:16. A taper thread
    narrows away from the thick of the part: external grows with depth, internal shrinks."""
    radial_tolerance: float | None = None
    """Greatest departure of a taper thread's arcs from the true spiral; needed with `taper`."""
    chord_tolerance: float | None = None
    """Given: straight lines instead of arcs, each within this of the true curve."""
    plunge_feed: float | None = None
    """Given: the way down to the lead-in is fed, not rapid."""
    straight_lead: float = 0.0
    """Length of a level straight piece, tangent, before each lead-in arc and after each lead-out
    arc, in which a control can switch its radius offset. A radial lead is straight itself."""
    blunt_start: bool = False
    """Mill the thread's thin first turn away at the face, so it starts at full section."""

    @property
    def lead(self) -> float:
        """Axial advance in one turn."""
        return self.starts * self.pitch


def thread_turns(length: float, lead: float) -> float:
    """Return the turns of thread in `length`, length / lead; run-in and run-out come on top.

    16 threads per inch over 0.8 in (common practice, no source):

    >>> round(thread_turns(0.8, 0.0625), 9)
    12.8
    """
    return length / lead


def tooth_half_width(tooth: Tooth) -> float:
    """Return the greatest half width of a tooth, at its base, the wider of its two sides.

    >>> round(tooth_half_width(Tooth(30, 30, 0.125, 0.75)), 4)
    0.4955
    """
    angle_rad = math.radians(max(tooth.flank_angle_upper, tooth.flank_angle_lower))
    return tooth.tip_width / 2 + tooth.depth * math.tan(angle_rad)
