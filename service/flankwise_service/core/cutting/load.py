"""One radial pass of a thread worked out whole: chip, feed, force, power, deflection.

Composes the steps of this folder for one cutter in one material. Lengths in `unit`; forces,
torque, power and deflection in mm, N, Nm and kW as their names say.

Source: the steps' own modules name theirs.

>>> from flankwise_service.core.cutting.cutter import Tooth
>>> mill = Cutter(6.0, 3, Tooth(30, 30, 0.15, 0.8), neck_diameter=4.2, overhang=30.0)
>>> cut = ThreadCut(mill, "mm", "internal", 6.8, 1.25, 4000.0, 0.02, 700.0, 0.25)
>>> round(diameter_at_tip(cut, 0.65), 3)
8.1
>>> [round(done.force.chip_area_mm2, 3) for done in thread_passes(cut, (0.4, 0.65))]
[0.152, 0.189]
>>> [round(depth, 3) for depth in stiff_thread_depths(cut, 0.65, 0.16)]
[0.549, 0.65]
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from flankwise_service.core.cutting.chip import HeldChip, held_chip
from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.cutting.deflection import Deflection, cutter_sections, deflect
from flankwise_service.core.cutting.feed import GREATEST_FEED, ArcFeed, arc_feed, edge_feed
from flankwise_service.core.cutting.force import Milling, PassLoad, pass_load, pass_strips
from flankwise_service.core.cutting.passes import stiff_depths
from flankwise_service.core.cutting.ranges import length, refuse_outside
from flankwise_service.core.errors import BadInput, Fault, Impossible, plain
from flankwise_service.core.threads.model import Side
from flankwise_service.core.units import Unit, from_mm, to_mm


@dataclass(frozen=True, slots=True)
class ThreadCut:
    """The conditions every pass of a thread shares. Lengths in `unit`."""

    cutter: Cutter
    unit: Unit
    side: Side
    blank_diameter: float
    """Of the boss (external) or hole (internal) before threading."""
    lead: float
    speed: float
    """Turns of the spindle per minute."""
    chip_load: float
    """Greatest chip thickness wanted."""
    kc11_n_per_mm2: float
    mc: float
    milling: Milling = "climb"
    wear_factor: float = 1.3
    radial_ratio: float = 0.5
    greatest_factor: float = 2.0
    """How far chip thinning may raise the feed per tooth over the chip load."""
    greatest_feed: float = GREATEST_FEED
    """Of the machine, per minute."""


@dataclass(frozen=True, slots=True)
class ThreadPass:
    """What one radial pass does."""

    depth_before: float
    depth_after: float
    diameter_after: float
    """At the tooth's tip."""
    chip: HeldChip
    feed: ArcFeed
    force: PassLoad
    deflection: Deflection | None
    """None where the cutter's neck, shank or overhang isn't stated."""


def diameter_at_tip(cut: ThreadCut, depth: float) -> float:
    """Return the diameter at the tooth's tip at a depth: blank + 2 depth internal, - external.

    Refused where an external thread would be cut through the axis.
    """
    refuse_outside(blank_diameter=length(cut.blank_diameter), depth=length(depth, 0.0))
    if cut.side == "internal":
        return float(cut.blank_diameter) + 2 * float(depth)
    left = float(cut.blank_diameter) - 2 * float(depth)
    if left <= 0:
        raise Impossible(
            Fault(
                "/depth",
                "through_the_axis",
                f"a depth of {plain(depth)} leaves nothing of a blank of "
                f"{plain(cut.blank_diameter)}",
                f"the depth is radial; keep it below {plain(float(cut.blank_diameter) / 2)}",
                float(depth),
            )
        )
    return left


@lru_cache(maxsize=64)  # a plan tries passes for what they bend, then asks for the same again
def thread_pass(cut: ThreadCut, depth_before: float, depth_after: float) -> ThreadPass:
    """Return one radial pass from a depth to a greater one; equal depths are a spring pass.

    A spring pass runs at the plain chip load: with nothing set to cut, thinning has no meaning.
    Multi-row cutters count every row as cutting.
    """
    before = diameter_at_tip(cut, depth_before)
    after = diameter_at_tip(cut, depth_after)
    factor = 1.0 if depth_before == depth_after else cut.greatest_factor
    chip = held_chip(
        cut.chip_load, cut.cutter.diameter, before, after, cut.side, greatest_factor=factor
    )
    feed = arc_feed(
        edge_feed(cut.speed, cut.cutter.flutes, chip.feed_per_tooth_edge),
        after,
        cut.cutter.diameter,
        cut.side,
        lead=cut.lead,
        greatest_feed=cut.greatest_feed,
    )
    load = _load(cut, chip, feed, depth_before, depth_after)
    return ThreadPass(
        depth_before=float(depth_before),
        depth_after=float(depth_after),
        diameter_after=after,
        chip=chip,
        feed=feed,
        force=load,
        deflection=_deflection(cut, load),
    )


def thread_passes(cut: ThreadCut, depths: tuple[float, ...]) -> tuple[ThreadPass, ...]:
    """Return every pass of a list of depths (`passes.equal_area_depths` and its like)."""
    begins = (0.0, *depths[:-1])
    return tuple(thread_pass(cut, *pair) for pair in zip(begins, depths, strict=True))


def stiff_thread_depths(
    cut: ThreadCut,
    depth: float,
    pitch_diameter_tolerance: float,
    *,
    final_share: float = 0.1,
    rough_share: float = 0.5,
    least_step: float | None = None,
) -> tuple[float, ...]:
    """Return depths so that cutter deflection keeps the pitch diameter within shares of tolerance.

    The final pass may move the pitch diameter by `final_share` of its tolerance, those before by
    `rough_share`; a tenth and a half are common practice, no source. The force is the one of
    climb milling, which is the greater, whatever the milling: in conventional milling the parts
    of the force work against each other and may hide a weak cutter. `least_step` defaults to half
    the chip load.
    """
    refuse_outside(
        pitch_diameter_tolerance=length(pitch_diameter_tolerance),
        final_share=(final_share, 1e-3, 10, None),
        rough_share=(rough_share, 1e-3, 10, None),
    )
    sections = cutter_sections(cut.cutter, cut.unit)
    climbing = replace(cut, milling="climb")

    def pitch_diameter_error(before: float, after: float) -> float:
        load = thread_pass(climbing, before, after).force
        bent = deflect(load.wall_n, sections, cut.cutter.substance, internal=False)
        return from_mm(bent.pitch_diameter_error_mm, cut.unit)

    step = cut.chip_load / 2 if least_step is None else least_step
    return stiff_depths(
        depth,
        pitch_diameter_error,
        greatest_final=final_share * float(pitch_diameter_tolerance),
        greatest_rough=rough_share * float(pitch_diameter_tolerance),
        least_step=min(step, float(depth)),
    )


def _load(
    cut: ThreadCut, chip: HeldChip, feed: ArcFeed, depth_before: float, depth_after: float
) -> PassLoad:
    tooth = cut.cutter.tooth
    # A machine that caps the feed thins the chip by the same share.
    wanted = edge_feed(cut.speed, cut.cutter.flutes, chip.feed_per_tooth_edge)
    share = feed.edge_feed / wanted if wanted else 1.0
    return pass_load(
        pass_strips(
            to_mm(depth_before, cut.unit),
            to_mm(depth_after, cut.unit),
            to_mm(tooth.tip_width, cut.unit),
            tooth.flank_angle_upper,
            tooth.flank_angle_lower,
        ),
        engagement=chip.engagement,
        step_mm=to_mm(depth_after - depth_before, cut.unit),
        feed_per_tooth_mm=to_mm(chip.feed_per_tooth, cut.unit) * share,
        cutter_diameter_mm=to_mm(cut.cutter.diameter, cut.unit),
        flutes=cut.cutter.flutes,
        speed=cut.speed,
        kc11=cut.kc11_n_per_mm2,
        mc=cut.mc,
        milling=cut.milling,
        rows_in_cut=cut.cutter.rows,
        wear_factor=cut.wear_factor,
        radial_ratio=cut.radial_ratio,
    )


def _deflection(cut: ThreadCut, load: PassLoad) -> Deflection | None:
    try:
        sections = cutter_sections(cut.cutter, cut.unit)
    except BadInput:
        return None
    return deflect(load.wall_n, sections, cut.cutter.substance, internal=cut.side == "internal")
