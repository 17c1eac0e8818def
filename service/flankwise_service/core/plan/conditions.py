"""Surface speed and chip of the thread mill, held against the list of materials and the machine."""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.cutting.feed import edge_feed
from flankwise_service.core.cutting.materials import (
    Material,
    chip_load_window,
    surface_speed_window,
)
from flankwise_service.core.cutting.speed import SpindleSpeed, surface_unit
from flankwise_service.core.errors import NoSource, plain
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.milling import chip_load_for, surface_speed_for
from flankwise_service.core.plan.result import PassPlan
from flankwise_service.core.units import (
    Unit,
    convert,
    from_mm,
    surface_speed_from_m_per_min,
    to_mm,
)

CAUTION_SHARE = 1.5
REFUSED_SHARE = 3.0
"""Speed or chip load over the list's figure: above the one a caution, above the other refused
(common practice, no source)."""
LEAST_SHARE = 1 / 3
"""Below this share of what is usual, or wanted, a tooth rubs (common practice, no source)."""
UNIT_SLACK = 0.25
"""So near to what one unit is in the other, a figure may have been taken for the other unit's."""
RUBS = (
    "so thin a chip is rubbed off more than cut, and metal that hardens as it is worked, "
    "austenitic stainless steel above all, hardens under it"
)


@dataclass(frozen=True, slots=True)
class Condition:
    """A speed or chip load, and how it is told."""

    code: str
    name: str
    unit: str
    per: str
    other_unit: str
    value: float
    usual: float | None
    """The middle of the list's window, which a plan takes itself; None where the list has none."""
    as_other: float
    """What 1 of the other unit is in the job's."""
    when_low: str
    acceptable: bool
    """Whether a caller may take it on himself where it is far above the list's."""


def condition_checks(
    job: Job, cutter: Cutter, found: Material, speed: SpindleSpeed, passes: tuple[PassPlan, ...]
) -> tuple[Check, ...]:
    """Return whether speed and chip are such as the list has, and what the machine makes of them.

    >>> from flankwise_service.core.plan.compose import work
    >>> from flankwise_service.core.plan.job import CuttingAsked, HoleAsked, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0),
    ...           cutting=CuttingAsked(chip_load=0.3))
    >>> [one.detail for one in work(job, "1").plan.checks if one.code == "chip_load"]
    ['chip load 0.3 mm a tooth is 3.2 times the 0.09375 mm that the list has for 6082 with carbide']
    """
    checks = [_stated(one, found, cutter) for one in (_surface(job, cutter, found),
                                                      _chip(job, cutter, found))]  # fmt: skip
    if job.machine.greatest_spindle_speed is not None:
        checks.append(_speed_check(speed, checks[0]))
    if job.machine.greatest_feed is not None:
        checks.append(_feed_check(job, cutter, found, speed, passes))
    checks.append(_thinnest_check(job, cutter, found, speed, passes))
    return tuple(checks)


def usual_surface_speed(job: Job, cutter: Cutter, found: Material) -> float | None:
    """Return the list's surface speed, m/min or ft/min; None where it has none to compare with."""
    try:
        return surface_speed_window(found, cutter.substance, job.unit).at(0.5)
    except NoSource:
        return None


def usual_chip_load(job: Job, cutter: Cutter, found: Material) -> float | None:
    """Return the list's chip load in the job's unit; None where it has none to compare with."""
    try:
        window = chip_load_window(found, cutter.substance, to_mm(cutter.diameter, job.unit))
    except NoSource:
        return None
    return from_mm(window.at(0.5), job.unit)


def _surface(job: Job, cutter: Cutter, found: Material) -> Condition:
    inch = job.unit == "in"
    feet = surface_speed_from_m_per_min(1.0, "in")
    return Condition(
        "surface_speed", "surface speed", surface_unit(job.unit), "",
        surface_unit("mm" if inch else "in"), surface_speed_for(job, cutter, found),
        usual_surface_speed(job, cutter, found), feet if inch else 1 / feet,
        "the cut takes long, and so slow an edge builds metal up on itself", acceptable=True,
    )  # fmt: skip


def _chip(job: Job, cutter: Cutter, found: Material) -> Condition:
    other: Unit = "mm" if job.unit == "in" else "in"
    return Condition(
        "chip_load", "chip load", job.unit, " a tooth", other, chip_load_for(job, cutter, found),
        usual_chip_load(job, cutter, found), convert(1.0, other, job.unit), RUBS,
        acceptable=True,
    )  # fmt: skip


def _stated(one: Condition, found: Material, cutter: Cutter) -> Check:
    """Return how a speed or chip load stands to the list's figure."""
    said = f"{one.name} {plain(one.value, 4)} {one.unit}{one.per}"
    kind = f"{found.name} with {cutter.substance}"
    if one.usual is None:
        return Check(
            one.code, "caution", f"{said} isn't checked: the list has none for {kind}",
            one.value, None, one.unit, "start below what the cutter's maker states, and listen",
        )  # fmt: skip
    share, listed = one.value / one.usual, f"{plain(one.usual, 4)} {one.unit}"
    detail = f"{said} is {plain(share, 2)} times the {listed} that the list has for {kind}"
    if LEAST_SHARE <= share <= CAUTION_SHARE:
        detail = f"{said} is near the {listed} that the list has for {kind}"
        return Check(one.code, "passed", detail, one.value, CAUTION_SHARE * one.usual, one.unit)
    change = f"take a {one.name} near {listed}{one.per}{_unit_asked(one, share)}"
    if share < LEAST_SHARE:
        return Check(
            one.code, "caution", f"{detail}: {one.when_low}", one.value, LEAST_SHARE * one.usual,
            one.unit, change,
        )  # fmt: skip
    refused = share > REFUSED_SHARE
    return Check(
        one.code, "refused" if refused else "caution", detail, one.value,
        (REFUSED_SHARE if refused else CAUTION_SHARE) * one.usual, one.unit, change,
        one.acceptable and refused,
    )  # fmt: skip


def _unit_asked(one: Condition, share: float) -> str:
    """Return the question whether the unit was mistaken, where the figure looks like it; else "".

    It does where it would pass in the other unit, or is off by what one unit is in the other.
    """
    meant = one.value * one.as_other
    if LEAST_SHARE <= share * one.as_other <= CAUTION_SHARE:
        return (
            f"; was the unit mistaken? {plain(one.value, 4)} {one.other_unit}{one.per} is "
            f"{plain(meant, 4)} {one.unit}{one.per}"
        )
    if abs(share / one.as_other - 1) <= UNIT_SLACK:
        return f"; was the unit mistaken? This job is in {one.unit}{one.per}"
    return ""


def _speed_check(speed: SpindleSpeed, surface: Check) -> Check:
    """Return whether the spindle reaches the speed that the surface speed asks for."""
    if speed.speed < speed.wanted:
        change = "nothing needs changing; a slower surface speed cuts longer"
        return Check(
            "spindle_speed", "caution",
            f"the machine holds the speed at {speed.speed:.0f} rev/min; {speed.wanted:.0f} was "
            f"wanted: surface speed is {speed.surface_speed:.4g} {surface_unit(speed.unit)}",
            speed.speed, speed.wanted, "rev/min",
            change if surface.state == "passed" else surface.change,
        )  # fmt: skip
    detail = f"{speed.speed:.0f} rev/min is within the machine"
    return Check("spindle_speed", "passed", detail, speed.speed, None, "rev/min")


def feed_share(cutter: Cutter, speed: SpindleSpeed, one: PassPlan) -> float:
    """Return the share of the wanted feed that the machine's greatest feed leaves, 1 or less."""
    return one.work.feed.edge_feed / edge_feed(
        speed.speed, cutter.flutes, one.work.chip.feed_per_tooth_edge
    )


def _feed_check(
    job: Job, cutter: Cutter, found: Material, speed: SpindleSpeed, passes: tuple[PassPlan, ...]
) -> Check:
    """Return whether the machine reaches the feed, and what to do about the chip where it doesn't.

    At a held feed a slower spindle makes the chip thicker: that helps only one that is too thin.
    """
    limit, unit = job.machine.greatest_feed or 0.0, f"{job.unit}/min"
    feed = max(one.work.feed.path_feed for one in passes)
    share = min(feed_share(cutter, speed, one) for one in passes)
    if not any(one.work.feed.capped for one in passes):
        detail = f"feed {plain(feed, 4)} {unit} is within the machine"
        return Check("feed", "passed", detail, feed, limit, unit)
    wanted = passes[0].work.chip.chip_wanted
    held, usual = wanted * share, usual_chip_load(job, cutter, found)
    detail = (
        f"the machine holds the feed at {plain(feed, 4)} {unit}: the chip comes to "
        f"{plain(held, 4)} {job.unit} a tooth where {plain(wanted, 4)} was asked for"
    )
    if usual is not None and held >= usual:
        change = (
            f"keep the spindle speed, for a slower one makes the chip thicker still; take a "
            f"chip_load near {plain(usual, 4)} {job.unit}"
        )
    else:
        change = _thicker(job, cutter, found, speed, share)
    return Check("feed", "caution", detail, feed, limit, unit, change)


def _thicker(job: Job, cutter: Cutter, found: Material, speed: SpindleSpeed, share: float) -> str:
    """Return how the chip gets thicker at the feed that the machine holds.

    A slower spindle does it, down to the least share of the list's speed; fewer flutes do, too.
    """
    whole, usual = speed.surface_speed * share, usual_surface_speed(job, cutter, found)
    least = whole if usual is None else LEAST_SHARE * usual
    to = f"{plain(max(whole, least), 3)} {surface_unit(speed.unit)}"
    slower = f"lower surface_speed to {to}"
    if whole >= least:
        return f"if the cutter rubs, {slower}: at the same feed a slower spindle thickens the chip"
    return (
        f"take a cutter of fewer flutes, and {slower} at the least: at the same feed both thicken "
        "the chip"
    )


def _thinnest_check(
    job: Job, cutter: Cutter, found: Material, speed: SpindleSpeed, passes: tuple[PassPlan, ...]
) -> Check:
    """Return whether every pass that cuts takes a chip thick enough to be cut and not rubbed off.

    The feed of a light pass is held (`cutting.chip.held_chip`), or the machine holds it.
    """
    cutting = [one for one in passes if not one.spring]
    held = {one.number: _greatest_chip(cutter, speed, one) for one in cutting}
    one = min(cutting, key=lambda each: held[each.number])
    thin, wanted = held[one.number], one.work.chip.chip_wanted
    # Against a chip that is itself far above the list's, none is thin.
    usual = usual_chip_load(job, cutter, found)
    least = LEAST_SHARE * (wanted if usual is None else min(wanted, CAUTION_SHARE * usual))
    said = (
        f"the chip of pass {one.number} is at most {plain(thin, 3)} {job.unit} thick; "
        f"{plain(wanted, 4)} was wanted"
    )
    if thin >= least:
        return Check("greatest_chip", "passed", said, thin, least, job.unit)
    change = "take a smaller cutter"
    if one.work.chip.greatest_chip >= least:  # the machine's feed alone makes it so thin
        change = _thicker(job, cutter, found, speed, feed_share(cutter, speed, one))
    elif len(cutting) > 1:
        change += f", or fewer passes than {len(cutting)} where deflection allows it"
    return Check("greatest_chip", "caution", f"{said}: {RUBS}", thin, least, job.unit, change)


def _greatest_chip(cutter: Cutter, speed: SpindleSpeed, one: PassPlan) -> float:
    return one.work.chip.greatest_chip * feed_share(cutter, speed, one)
