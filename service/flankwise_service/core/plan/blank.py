"""The blank: boss or hole aimed inside the crest diameter's limits, and the tool that cuts it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from flankwise_service.core.cutting.feed import edge_feed
from flankwise_service.core.cutting.materials import (
    Material,
    chip_load_window,
    surface_speed_window,
)
from flankwise_service.core.cutting.speed import spindle_speed
from flankwise_service.core.errors import BadInput, Fault, Refusal
from flankwise_service.core.path.blank import bore_path, boss_path
from flankwise_service.core.path.blank_request import Bore, Boss, bore_radii
from flankwise_service.core.path.segment import Segment
from flankwise_service.core.plan.check import limits_said
from flankwise_service.core.plan.common import Defaults, placed, sweep_of
from flankwise_service.core.plan.job import EndMill, Job
from flankwise_service.core.plan.result import BarPlan, BlankPlan
from flankwise_service.core.plan.sizes import Sizes, between
from flankwise_service.core.stock.blank import diameter_aim
from flankwise_service.core.units import from_mm, to_mm, written

GREATEST_RAMP = 6.0
"""Steepest way down of the end mill's centre when it bores, degrees (common practice, no source).
Near the hole's own size a cutter goes round in a small circle, and a turn is steep."""
HOLE_SHARE = 0.6
"""End mill over hole diameter when the plan proposes one (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Crest:
    """Where the blank's diameter stands between its limits."""

    diameter: float
    least: float
    greatest: float
    ready: bool


def crest(job: Job, sizes: Sizes) -> Crest:
    """Return the blank's diameter: as measured when it is ready, otherwise aimed inside limits.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> crest(job, sizes(job.thread, job.unit))
    Crest(diameter=18.526, least=18.376, greatest=18.676, ready=False)
    """
    least, greatest = sizes.crest_diameter
    asked = job.boss or job.hole
    ready = asked is not None and asked.ready
    if ready and asked is not None and asked.diameter is not None:
        return Crest(asked.diameter, least, greatest, True)
    aim = diameter_aim(least, greatest, job.thread.crest_aim)
    return Crest(aim.diameter, least, greatest, ready)


def assumed_of(job: Job, at: Crest) -> tuple[str, ...]:
    """Return in words what is taken for granted of the blank's size.

    That one is ready and not measured, or has a size stated and isn't ready.
    """
    asked, unit = job.boss or job.hole, job.unit
    stated = None if asked is None else asked.diameter
    what = "hole" if job.hole else "boss"
    if at.ready and stated is None:
        size = f"{written(at.diameter, unit, 5)} {unit}"
        return (f"{what}: {size}, not measured; measure it before threading",)
    if at.ready or stated is None:
        return ()
    done, start = "milled", "the bar"
    if job.hole is not None:
        drilled = job.hole.drilled_diameter
        done = "bored"
        start = f"the drilled {written(drilled, unit, 5)} {unit}" if drilled else "solid metal"
    return (
        f"{what}: the {written(stated, unit, 5)} {unit} stated is no finished size "
        f"({what}.ready isn't set); it is {done} from {start} to "
        f"{written(at.diameter, unit, 5)} {unit}",
    )


def refuse_past_size(job: Job, sizes: Sizes) -> None:
    """Refuse a blank still to be milled whose stated size is past the one it would be milled to.

    Errors: at /hole/diameter for a hole wider, at /boss/diameter for a boss thinner than the aim.
    """
    external = sizes.side == "external"
    kind, asked = ("boss", job.boss) if external else ("hole", job.hole)
    if asked is None or asked.ready or asked.diameter is None:
        return
    aim = between(sizes.crest_diameter, job.thread.crest_aim)
    if sizes.outward * (asked.diameter - aim) <= 0:
        return
    (least, greatest), unit = sizes.crest_diameter, job.unit
    than, more, done = (
        ("smaller", "thicker", "milled") if external else ("larger", "narrower", "bored")
    )
    raise BadInput(
        Fault(
            f"/{kind}/diameter",
            "past_size",
            f"the {kind} is {written(asked.diameter, unit, 5)} {unit} already, {than} than the "
            f"{written(aim, unit, 5)} {unit} it would be {done} to: no cutter makes it {more}",
            f"if it is finished, set {kind}.ready to true (it must be "
            f"{limits_said(least, greatest, unit)}); if it is still to be {done}, leave "
            f"{kind}.diameter out",
            asked.diameter,
            least=None if not external else aim,
            greatest=aim if not external else None,
            unit=unit,
        )
    )


def end_mill(job: Job, sizes: Sizes, at: Crest, thread_mill: int) -> tuple[EndMill, str | None]:
    """Return the job's end mill, or one proposed for the blank, with what was assumed.

    Errors: the number of the thread mill, where both are used: one tool would do the other's work.
    """
    if job.end_mill is not None:
        if job.end_mill.number == thread_mill and not at.ready:
            raise BadInput(
                Fault(
                    "/end_mill/number",
                    "same_tool",
                    f"end mill and thread mill are both tool {thread_mill}: the machine would mill "
                    "the blank with the thread mill, or at its length",
                    "give each its own tool number and length offset",
                    thread_mill,
                )
            )
        return job.end_mill, None
    depth = (job.boss or job.hole).depth  # type: ignore[union-attr]
    inside_hole = sizes.side == "internal"
    limit = at.diameter * HOLE_SHARE if inside_hole else max(depth, at.diameter / 2)
    size = _handy(limit, job)
    mill = EndMill(size, 4, max(depth, size), number=2 if thread_mill != 2 else 3)
    words = (
        f"end mill: carbide, 4 flutes, {size:g} {job.unit} diameter, cutting edge "
        f"{mill.flute_length:g} {job.unit} long, tool number {mill.number}"
    )
    return mill, words


def _handy(limit: float, job: Job) -> float:
    """Return the greatest common end mill size not above `limit`: by sixteenths, or whole mm."""
    sizes = (
        [n / 16 for n in range(1, 17)] if job.unit == "in" else [1.0, 2.0, 3.0, 4.0, 5.0, 6.0,
        8.0, 10.0, 12.0, 16.0, 20.0, 25.0]
    )  # fmt: skip
    return max((size for size in sizes if size <= limit), default=sizes[0])


def blank_plan(job: Job, sizes: Sizes, at: Crest, found: Material, mill: EndMill) -> BlankPlan:
    """Return the blank's plan; with the end mill's speed and feed unless the blank is ready."""
    asked = job.boss or job.hole
    depth = asked.depth if asked is not None else 0.0
    kind = "boss" if sizes.side == "external" else "hole"
    base = BlankPlan(
        kind=kind,  # type: ignore[arg-type]
        diameter=at.diameter,
        least=at.least,
        greatest=at.greatest,
        depth=depth,
        ready=at.ready,
        budget=None,
        end_mill=None,
        speed=None,
        edge_feed=None,
        depth_per_level=None,
    )
    if at.ready:
        return base
    unit = job.unit
    surface = surface_speed_window(found, mill.substance, unit).at(0.5)
    speed = spindle_speed(
        surface, mill.diameter, unit, greatest=job.machine.greatest_spindle_speed or 200_000.0
    )
    chip = from_mm(
        chip_load_window(found, mill.substance, to_mm(mill.diameter, unit)).at(0.5), unit
    )
    feed = min(edge_feed(speed.speed, mill.flutes, chip), job.machine.greatest_feed or 1e9)
    level = min(mill.diameter / 2, depth, mill.flute_length)
    return replace(base, end_mill=mill, speed=speed, edge_feed=feed, depth_per_level=level)


PLACES = {
    "/cutter_diameter": "/end_mill/diameter",
    "/pilot_diameter": "/hole/drilled_diameter",
    "/clearance_height": "/program/clearance_height",
    "/chord_tolerance": "/machine/chord_tolerance",
    "/centre/0": "/program/centre_x",
    "/centre/1": "/program/centre_y",
}
"""Where the job document has what the blank's path is asked by."""


def blank_segments(
    job: Job, sizes: Sizes, blank: BlankPlan, bar: BarPlan, defaults: Defaults
) -> tuple[Segment, ...]:
    """Return the path of boss or hole; none when it is ready. Errors: at the job's own places."""
    try:
        return _segments(job, sizes, blank, bar, defaults)
    except Refusal as refusal:
        kind = "/boss" if sizes.side == "external" else "/hole"
        raise placed(refusal, PLACES, kind) from refusal


def _segments(
    job: Job, sizes: Sizes, blank: BlankPlan, bar: BarPlan, defaults: Defaults
) -> tuple[Segment, ...]:
    if blank.ready or blank.end_mill is None or blank.edge_feed is None:
        return ()
    level = blank.depth_per_level or blank.depth
    centre = (job.program.centre_x, job.program.centre_y)
    chord = None if job.machine.helical_arcs else defaults.chord_tolerance
    if sizes.side == "external":
        stock = bar.across_corners or bar.size
        if stock <= blank.diameter:
            # A bar too small for the boss: the check `bar_cleans_up` says so; nothing to mill.
            return ()
        return tuple(
            boss_path(
                Boss(
                    blank.diameter, blank.depth, stock,
                    blank.end_mill.diameter, blank.edge_feed, level, defaults.outside_clearance,
                    defaults.clearance_height, milling=job.cutting.milling, centre=centre,
                    greatest_sweep=sweep_of(job.machine.greatest_sweep), chord_tolerance=chord,
                )
            )
        )  # fmt: skip
    drilled = (job.hole.drilled_diameter if job.hole else None) or 0.0
    bore = Bore(
        blank.diameter, blank.depth, blank.end_mill.diameter, blank.edge_feed,
        min(level, blank.end_mill.diameter / 4), defaults.clearance_height / 2,
        defaults.clearance_height, pilot_diameter=drilled, milling=job.cutting.milling,
        centre=centre, greatest_sweep=sweep_of(job.machine.greatest_sweep), chord_tolerance=chord,
    )  # fmt: skip
    return tuple(bore_path(_no_steeper(bore)))


def _no_steeper(bore: Bore) -> Bore:
    """Return the bore with so little depth per turn that its way down isn't too steep."""
    circle = 2 * math.pi * (bore_radii(bore)[0] - bore.cutter_diameter / 2)
    step = circle * math.tan(math.radians(GREATEST_RAMP))
    # A cutter as large as the hole goes round in no circle at all: `bore_path` refuses it.
    return replace(bore, depth_per_turn=min(bore.depth_per_turn, step)) if step > 0 else bore
