"""What a thread path comes to, told before it is walked."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flankwise_service.core.path.check import check_helix
from flankwise_service.core.path.direction import Motion, direction
from flankwise_service.core.path.gouge import lead_gouge
from flankwise_service.core.path.request import Helix, thread_turns
from flankwise_service.core.path.runs import (
    blunt_offsets,
    depth_below_length,
    height_above_face,
    run_count,
    run_height,
    total_turns,
)
from flankwise_service.core.path.segment import Sense


@dataclass(frozen=True, slots=True)
class HelixFacts:
    """Turns, direction and lead angle of a thread path."""

    lead: float
    lead_angle: float
    """Of the centre path on the last pass, in degrees: atan(lead / circle)."""
    sense: Sense
    motion: Motion
    thread_turns: float
    """length / lead: what is cut in the part."""
    run_in_turns: float
    """Before the length of full thread, in the order of time."""
    run_out_turns: float
    """After it."""
    runs_in_one_pass: int
    """1 for each start; more when a cutter of several rows steps along."""
    turns_in_one_run: float
    total_turns: float
    """Over all passes, starts and steps, without a blunt start."""
    blunt_start_steps: int
    lead_in_gouge: float
    """Greatest depth of a lead of the last pass into a flank; 0 where it stays in the groove."""
    lead_out_gouge: float


def helix_facts(helix: Helix) -> HelixFacts:
    """Return what a thread path comes to.

    Raises:
        BadInput, Impossible: what `thread_path` refuses.

    >>> from flankwise_service.core.cutting.cutter import Cutter, Tooth
    >>> from flankwise_service.core.path.request import RadialPass
    >>> cutter = Cutter(0.375, 4, Tooth(30, 30, 0.008, 0.045))
    >>> job = Helix("external", "right", "climb", 0.0625, 0.8, 0.75, cutter,
    ...             (RadialPass(0.53, 10.0),), 0.02, 0.2)
    >>> round(helix_facts(job).thread_turns, 9)
    12.8
    """
    check_helix(helix)
    return checked_facts(helix)


def checked_facts(helix: Helix) -> HelixFacts:
    """Return the same of a helix that is known to be right, as `thread_path` took it.

    >>> from flankwise_service.core.cutting.cutter import Cutter, Tooth
    >>> from flankwise_service.core.path.request import RadialPass
    >>> cutter = Cutter(0.375, 4, Tooth(30, 30, 0.008, 0.045))
    >>> job = Helix("external", "right", "climb", 0.0625, 0.8, 0.75, cutter,
    ...             (RadialPass(0.53, 10.0),), 0.02, 0.2)
    >>> checked_facts(job) == helix_facts(job)
    True
    """
    way = direction(helix.side, helix.hand, helix.milling)
    above, below = height_above_face(helix), depth_below_length(helix)
    first, last = (below, above) if way.motion == "upward" else (above, below)
    number = len(helix.passes) - 1
    circle = 2 * math.pi * helix.passes[-1].radius
    return HelixFacts(
        lead=helix.lead,
        lead_angle=math.degrees(math.atan2(helix.lead, circle)),
        sense=way.sense,
        motion=way.motion,
        thread_turns=thread_turns(helix.length, helix.lead),
        run_in_turns=first / helix.lead,
        run_out_turns=last / helix.lead,
        runs_in_one_pass=run_count(helix),
        turns_in_one_run=run_height(helix) / helix.lead,
        total_turns=total_turns(helix),
        blunt_start_steps=len(blunt_offsets(helix)),
        lead_in_gouge=lead_gouge(helix, helix.lead_in, number),
        lead_out_gouge=lead_gouge(helix, helix.lead_out, number),
    )
