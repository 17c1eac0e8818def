"""The thread's path with the room it needs: lead-ins that fit, depth budget, collisions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.cutting.feed import ramped_feeds
from flankwise_service.core.cutting.tooth import reach_below_tooth
from flankwise_service.core.errors import Fault, Impossible, Refusal, plain
from flankwise_service.core.path.check import segments_at_most
from flankwise_service.core.path.collision import (
    THREADED,
    Approach,
    closest_approaches,
)
from flankwise_service.core.path.direction import direction
from flankwise_service.core.path.lines import shorter_arcs
from flankwise_service.core.path.request import ENTRIES, Entry, Helix, RadialPass, thread_turns
from flankwise_service.core.path.runs import run_count, run_height
from flankwise_service.core.path.segment import Segment
from flankwise_service.core.path.solids import Stock, tool_stack
from flankwise_service.core.path.thread import coarse_path, thread_path
from flankwise_service.core.path.totals import Totals, totals
from flankwise_service.core.plan.common import Defaults, placed, sweep_of
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.result import BarPlan, BlankPlan, MotionPlan, PassPlan
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.taper import far_diameter
from flankwise_service.core.stock.blank import DepthBudget, depth_budget

RAMP_SWEEP = 45.0
MOST_PLANNED = 60_000
"""Pieces of a thread's path in one plan: written, read back and proved at some 0.2 ms each."""
CLEARANCE_SHARE = 0.25
"""In a hole the lead-in may use this share of the play between cutter and wall."""


@dataclass(frozen=True, slots=True)
class Route:
    """The thread's path and the room it takes."""

    helix: Helix
    segments: tuple[Segment, ...]
    totals: Totals
    budget: DepthBudget | None
    entry_at_bottom: Entry

    @property
    def fits(self) -> bool:
        """Whether nothing is missing at the bottom."""
        return self.budget is None or self.budget.missing == 0


PLACES = {
    "/cutter": "/cutter",
    "/length": "/thread/length",
    "/clearance": "/cutting/radial_clearance",
    "/clearance_height": "/program/clearance_height",
    "/chord_tolerance": "/machine/chord_tolerance",
    "/centre/0": "/program/centre_x",
    "/centre/1": "/program/centre_y",
    "/lead_in": "/cutter/diameter",
    "/lead_out": "/cutter/diameter",
    "/straight_lead": "/cutter/diameter",
}
"""Where the job document has what the thread's path is asked by."""


def floor_depth(job: Job) -> float | None:
    """Return the depth of what stands below the thread: shoulder or hole bottom; None for none.

    Where the boss is milled, the bar goes on below it, whether that is called a shoulder or not.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> floor_depth(job)
    22.0
    """
    if job.boss is not None:
        return job.boss.depth if job.boss.shoulder or not job.boss.ready else None
    return None if job.hole is None or job.hole.through else job.hole.depth


def radial_clearance(sizes: Sizes, cutter: Cutter, blank: float, used: Defaults) -> float:
    """Return the air between cutter and blank at the ends; in a hole never more than it has."""
    if sizes.side == "external":
        return used.radial_clearance
    play = (blank - cutter.diameter) / 2
    return min(used.radial_clearance, CLEARANCE_SHARE * play)


def helix(
    job: Job, sizes: Sizes, cutter: Cutter, blank: BlankPlan, passes: tuple[PassPlan, ...],
    used: Defaults,
) -> Helix:  # fmt: skip
    """Return the path's request, with half arcs at both ends."""
    clearest = far_diameter(sizes, blank.diameter, job.thread.length)
    below = 0.0
    if job.hole is not None and job.hole.through and job.thread.length >= job.hole.depth:
        below = reach_below_tooth(cutter) / sizes.lead
    feeds = tuple(RadialPass(one.centre_radius, one.work.feed.path_feed) for one in passes)
    helical = job.machine.helical_arcs
    return Helix(
        side=sizes.side,
        hand=sizes.hand,
        milling=job.cutting.milling,
        pitch=sizes.pitch,
        length=job.thread.length,
        blank_diameter=clearest,
        cutter=cutter,
        passes=feeds,
        clearance=radial_clearance(sizes, cutter, clearest, used),
        clearance_height=used.clearance_height,
        starts=sizes.starts,
        centre=(job.program.centre_x, job.program.centre_y),
        turns_below_length=below,
        greatest_sweep=sweep_of(job.machine.greatest_sweep),
        taper=sizes.taper,
        radial_tolerance=used.radial_tolerance if sizes.taper else None,
        chord_tolerance=None if helical else used.chord_tolerance,
        straight_lead=used.straight_lead,
    )


def ramped(segments: Iterable[Segment]) -> Iterator[Segment]:
    """Yield the path with the feed of every lead-in arc rising to its full value as it bites.

    The arc is cut into pieces of at most `RAMP_SWEEP` degrees, each with the feed of its own
    middle (`cutting.feed.ramped_feeds`); everything else stays as it is.

    >>> from flankwise_service.core.path.segment import Point
    >>> arc = Segment("arc", "lead_in", Point(1, 0, 0), Point(-1, 0, 0), (0, 0),
    ...               "counterclockwise", 180.0, 80.0)
    >>> [(piece.sweep, piece.feed) for piece in ramped([arc])]
    [(45.0, 45.0), (45.0, 55.0), (45.0, 65.0), (45.0, 75.0)]
    """
    waiting: list[Segment] = []
    for segment in segments:
        if segment.purpose == "lead_in" and segment.kind == "arc":
            waiting.extend(shorter_arcs(segment, RAMP_SWEEP))
            continue
        if waiting:
            yield from _with_feeds(waiting)
            waiting = []
        yield segment
    yield from _with_feeds(waiting)


def _with_feeds(pieces: list[Segment]) -> Iterator[Segment]:
    full = pieces[-1].feed if pieces else None
    if full is not None:
        feeds = ramped_feeds(full, len(pieces))
        pieces = [piece._replace(feed=feed) for piece, feed in zip(pieces, feeds, strict=True)]
    yield from pieces


def routed(asked: Helix, entry: Entry, depth: float | None, axial_clearance: float) -> Route:
    """Return the path with `entry` at its lower end, and where the depth goes."""
    downward = direction(asked.side, asked.hand, asked.milling).motion == "downward"
    changed = replace(asked, lead_out=entry) if downward else replace(asked, lead_in=entry)
    segments = tuple(ramped(thread_path(changed, body_may_trim=True)))
    found = totals(segments)
    budget = None
    if depth is not None:
        lowest = max(-found.least.z, asked.length)
        budget = depth_budget(depth, lowest, reach_below_tooth(asked.cutter), axial_clearance)
    return Route(changed, segments, found, budget, entry)


def refuse_too_long(job: Job, asked: Helix) -> None:
    """Raise Impossible where the path has more pieces than a plan works out, writes and proves."""
    pieces = segments_at_most(asked)
    if pieces <= MOST_PLANNED:
        return
    lines = not job.machine.helical_arcs
    raise Impossible(
        Fault(
            "/machine/chord_tolerance" if lines else "/thread/length", "too_many_segments",
            f"the path takes about {plain(pieces, 3)} pieces; a plan has {MOST_PLANNED} at most",
            "take a wider machine.chord_tolerance, fewer passes, or a shorter thread" if lines
            else "take a greater machine.greatest_sweep, fewer passes, or a shorter thread",
            job.machine.chord_tolerance if lines else job.thread.length,
        )
    )  # fmt: skip


def route(
    job: Job, sizes: Sizes, cutter: Cutter, blank: BlankPlan, passes: tuple[PassPlan, ...],
    used: Defaults,
) -> Route:  # fmt: skip
    """Return the path with the gentlest lead-in and lead-out that the depth has room for.

    A lead arc keeps the thread's slope, so below the thread an internal half arc needs up to a
    quarter of the lead, an external one very little, and a straight radial one nothing.
    """
    asked = helix(job, sizes, cutter, blank, passes, used)
    refuse_too_long(job, asked)
    found: Route | None = None
    refused = Refusal(Fault("", "no_way_in", "there is no way in", "make more room"))
    for entry in ENTRIES[1::-1] + ENTRIES[2:]:
        try:
            found = routed(asked, entry, floor_depth(job), used.axial_clearance)
        except Refusal as refusal:
            refused = refusal
            continue
        if found.fits:
            return found
    if found is None:
        raise placed(refused, PLACES, "/cutting") from refused
    return found


def motion_plan(job: Job, found: Route) -> MotionPlan:
    """Return how the cutter goes round, and the turns it makes of the thread."""
    asked = found.helix
    way = direction(asked.side, asked.hand, asked.milling)
    return MotionPlan(
        side=asked.side,
        hand=asked.hand,
        milling=asked.milling,
        sense=way.sense,
        motion=way.motion,
        lead=asked.lead,
        starts=asked.starts,
        turns=thread_turns(job.thread.length, asked.lead),
        turns_cut=run_height(asked) / asked.lead,
        runs=run_count(asked),
        lead_in=asked.lead_in,
        lead_out=asked.lead_out,
        radial_clearance=asked.clearance,
    )


def stock_around(job: Job, sizes: Sizes, blank: BlankPlan, bar: BarPlan, length: float) -> Stock:
    """Return the stock as the tool finds it when it threads.

    A taper hole is as wide as at the face: the neck comes nearest to it there, for the path widens
    with the hole.
    """
    grown = sizes.taper * length if sizes.side == "external" else 0.0
    return Stock(
        sizes.side,
        blank.diameter + grown,
        floor_depth(job),
        across_flats=bar.size if bar.shape == "hexagon" else None,
        outside_diameter=bar.size if bar.shape == "round" else None,
        centre=(job.program.centre_x, job.program.centre_y),
    )


def approaches(found: Route, stock: Stock) -> tuple[Approach, ...]:
    """Return how near each part of the tool comes to each part of the stock, nearest first."""
    segments = found.segments if found.helix.taper else coarse_path(found.helix)
    return closest_approaches(segments, tool_stack(found.helix.cutter), stock, cut=THREADED)
