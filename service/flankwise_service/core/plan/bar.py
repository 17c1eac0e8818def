"""The bar: as given, across flats or corners, or the smallest standard one that cleans up."""

from __future__ import annotations

from dataclasses import replace

from flankwise_service.core.cutting.materials import Material
from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible, Refusal, plain
from flankwise_service.core.plan.bar_reading import hexagon_reading_check
from flankwise_service.core.plan.check import Check, accepted, at_least
from flankwise_service.core.plan.common import placed
from flankwise_service.core.plan.job import Job, StockAsked
from flankwise_service.core.plan.result import BarPlan
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.stock.choice import BarChoice, bar_choices
from flankwise_service.core.stock.hexagon import FLATS_PER_CORNERS, hexagon
from flankwise_service.core.stock.mass import circle_area, mass_per_length
from flankwise_service.core.units import Unit, from_mm, written_up

LEAST_WALL = 0.1
"""Wall left round a thread in a hole, as a share of its diameter (common practice, no source)."""


LEAST_SKIN_MM = 0.25
"""Left on each side of a boss for a sawn or drawn bar to clean up (common practice, no source)."""


def greatest_diameter(sizes: Sizes, blank_diameter: float, length: float) -> float:
    """Return the greatest diameter the thread reaches anywhere along its length.

    For an internal thread that is the major diameter, and where the standard sets no greatest one
    the basic size.
    """
    grown = sizes.taper * length
    if sizes.side == "external":
        return blank_diameter + grown
    limits = sizes.limits
    return float(limits.major_diameter.max or limits.basic.major_diameter)


def check_sizes_given(stock: StockAsked) -> None:
    """Refuse a bar described twice over, or by the wrong kind of size."""
    faults = Faults()
    if stock.shape == "hexagon":
        both = stock.across_flats is not None and stock.across_corners is not None
        faults.need(
            not both, "/stock/across_corners", "said_twice",
            "the hexagon is given both across flats and across corners",
            "give one of the two, as measured; the other follows", stock.across_corners,
        )  # fmt: skip
        faults.need(
            stock.diameter is None, "/stock/diameter", "wrong_size",
            "a hexagon bar has no diameter",
            "give across_flats (between parallel sides) or across_corners", stock.diameter,
        )  # fmt: skip
    else:
        for name in ("across_flats", "across_corners"):
            value = getattr(stock, name)
            faults.need(
                value is None, f"/stock/{name}", "wrong_size", "round bar has no flats",
                "give its diameter, or set shape to hexagon", value,
            )  # fmt: skip
    faults.raise_any(BadInput)


def size_given(stock: StockAsked) -> float | None:
    """Return across flats of a hexagon or the diameter of round bar, None where none is given.

    >>> round(size_given(StockAsked("303", across_corners=30.0)), 4)
    25.9808
    """
    if stock.shape == "round":
        return stock.diameter
    if stock.across_corners is not None:
        return stock.across_corners * FLATS_PER_CORNERS
    return stock.across_flats


def plan_bar(job: Job, sizes: Sizes, blank_diameter: float, found: Material) -> BarPlan:
    """Return the bar, with stand-out, wall and mass. Errors below /stock."""
    greatest = greatest_diameter(sizes, blank_diameter, job.thread.length)
    size = size_given(job.stock)
    others = _proposed(job, sizes, greatest) if size is None else ()
    if size is None:
        size = others[0].bar.size
    is_hexagon = job.stock.shape == "hexagon"
    whole = hexagon("across_flats", size) if is_hexagon else None
    area = whole.area if whole else circle_area(size)
    mass = mass_per_length(area, found.density_g_per_cm3.value, job.unit)
    outside = whole.across_corners if whole else size
    per_length = mass.pounds_per_inch if job.unit == "in" else mass.kilograms_per_metre
    return BarPlan(
        shape=job.stock.shape,
        size=size,
        across_corners=whole.across_corners if whole else None,
        proposed=bool(others),
        corner_stand_out=(outside - blank_diameter) / 2 if sizes.side == "external" else None,
        wall=(size - greatest) / 2,
        mass_per_length=per_length or 0.0,
        mass_unit="lb/in" if job.unit == "in" else "kg/m",
        others=others[1:],
    )


def bar_checks(job: Job, sizes: Sizes, bar: BarPlan, blank_diameter: float) -> tuple[Check, ...]:
    """Return whether the bar cleans up, or leaves wall enough round an internal thread."""
    greatest = greatest_diameter(sizes, blank_diameter, job.thread.length)
    what = "across flats" if bar.shape == "hexagon" else "diameter"
    reading = hexagon_reading_check(job.stock, bar, job.unit)
    if sizes.side == "external":
        if not _milled(job):
            return (*reading, *_boss_within(job, bar, greatest))
        needed = greatest + 2 * job.stock.clean_up
        change = _larger_bar(job, sizes, greatest)
        check = at_least("bar_cleans_up", bar.size, needed, what, job.unit, change)
        check = replace(check, detail=check.detail + _as_named(job.unit))
        return (*reading, _thin_skin(job, sizes, bar, greatest, check))
    least = LEAST_WALL * greatest
    change = f"take a bar at least {written_up(greatest + 2 * least, job.unit)} {job.unit} {what}"
    check = at_least(
        "wall_thickness", bar.wall, least, "wall between thread and outside", job.unit, change,
        acceptable=bar.wall > 0,
    )  # fmt: skip
    return (*reading, check)


def _boss_within(job: Job, bar: BarPlan, greatest: float) -> tuple[Check, ...]:
    """Return whether a boss that is ready can have been turned out of the bar stated."""
    if size_given(job.stock) is None:
        return ()
    widest = bar.across_corners or bar.size
    return (
        at_least(
            "boss_within_bar", widest, greatest, "bar at its widest", job.unit,
            "measure boss and bar: no boss is wider than what it was turned from", acceptable=True,
        ),
    )  # fmt: skip


def refuse_unfit(job: Job, bar: BarPlan, checks: tuple[Check, ...]) -> None:
    """Raise what the bar given was refused for, to be told beside what leaves no plan at all."""
    stock = job.stock
    names = ("diameter",) if stock.shape == "round" else ("across_corners", "across_flats")
    place = next((name for name in names if getattr(stock, name) is not None), None)
    per_size = 1 / FLATS_PER_CORNERS if place == "across_corners" else 1.0
    faults = []
    for check in checks:
        if place and accepted(check, job.accept).state == "refused":
            missing = (check.limit or 0.0) - (check.figure or 0.0)
            sides = 2 if check.code == "wall_thickness" else 1
            least = (bar.size + sides * missing) * per_size
            faults.append(
                Fault(
                    f"/stock/{place}", check.code, check.detail, check.change,
                    getattr(stock, place), least, None, check.unit,
                )
            )  # fmt: skip
    if faults:
        raise Impossible(*faults)


def _thin_skin(job: Job, sizes: Sizes, bar: BarPlan, greatest: float, found: Check) -> Check:
    """Return the check of the bar, as a caution where hardly anything is left to clean up."""
    least, left = from_mm(LEAST_SKIN_MM, job.unit), (bar.size - greatest) / 2
    if found.state != "passed" or left >= least:
        return found
    roomy = _with_skin(job)
    return replace(
        found,
        state="caution",
        detail=f"{plain(left, 3)} {job.unit} a side is left to clean up, less than "
        f"{plain(least, 3)} {job.unit} (common practice, no source): a bar held a little off "
        f"centre, or bent, keeps its skin on one side{_as_named(job.unit)}",
        figure=left,
        limit=least,
        change="see that the bar runs true, or take a larger one: "
        f"{_larger_bar(roomy, sizes, greatest)}, with that much left",
    )


def _as_named(unit: Unit) -> str:
    """Return that an inch bar's own tolerance isn't counted, in words; "" for a metric one."""
    if unit == "mm":
        return ""
    return "; the bar is taken at its full nominal size, for no undersize of inch bar is held"


def _with_skin(job: Job) -> Job:
    """Return the job with the least skin wanted on each side of its boss."""
    return replace(job, stock=replace(job.stock, clean_up=from_mm(LEAST_SKIN_MM, job.unit)))


def _milled(job: Job) -> bool:
    """Return whether the bar itself is milled to a boss, so that its skin comes off."""
    return job.boss is not None and not job.boss.ready


def skin_left(job: Job, sizes: Sizes, bar: BarPlan, blank_diameter: float) -> str:
    """Return what a bar leaves on each side of a milled boss, in words; "" for any other blank."""
    if not _milled(job):
        return ""
    left = (bar.size - greatest_diameter(sizes, blank_diameter, job.thread.length)) / 2
    return f", with {plain(left, 3)} {job.unit} a side"


def _proposed(job: Job, sizes: Sizes, greatest: float) -> tuple[BarChoice, ...]:
    """Return the bars to choose from: with the least skin, unless the job says what to clean up.

    Where none is so large, those that clean up with less; `_thin_skin` then says so.
    """
    if _milled(job) and not job.stock.clean_up:
        try:
            return _choices(_with_skin(job), sizes, greatest)
        except Refusal:
            pass
    return _choices(job, sizes, greatest)


def _larger_bar(job: Job, sizes: Sizes, greatest: float) -> str:
    try:
        best = _choices(job, sizes, greatest)[0].bar
    except Refusal:
        return "take a larger bar than any standard one"
    what = "across flats" if best.shape == "hexagon" else "diameter"
    return f"the smallest standard bar that cleans up is {best.name} {best.unit} {what}"


def _choices(job: Job, sizes: Sizes, greatest: float) -> tuple[BarChoice, ...]:
    wall = 0.0 if sizes.side == "external" else LEAST_WALL * greatest
    try:
        return bar_choices(
            greatest, job.stock.clean_up, job.unit, shapes=(job.stock.shape,), least_wall=wall
        )
    except Refusal as refusal:
        size = "diameter" if job.stock.shape == "round" else "across_flats"
        places = {"/allowance": "/stock/clean_up", "/diameter": f"/stock/{size}"}
        moved = placed(refusal, places, "/stock")
        # the diameter is the thread's: the bar's own size, to be given there, wasn't
        bare = (
            replace(f, value=None) if f.pointer == places["/diameter"] else f for f in moved.faults
        )
        raise type(moved)(*bare) from refusal


def check_side_given(job: Job, sizes: Sizes) -> None:
    """Refuse a job whose blank doesn't belong to its thread: a boss for a hole, or neither."""
    wanted, other = ("boss", "hole") if sizes.side == "external" else ("hole", "boss")
    faults = Faults()
    faults.need(
        getattr(job, other) is None, f"/{other}", "wrong_blank",
        f"{sizes.limits.designation} is {sizes.side}: it is cut on a {wanted}, not a {other}",
        f"describe the {wanted} instead, or name a thread class of the other side",
    )  # fmt: skip
    if getattr(job, wanted) is None:
        faults.add(
            Fault(
                f"/{wanted}",
                "missing",
                f"the {wanted} for {sizes.limits.designation} isn't described: its depth decides "
                "whether the cutter has room",
                f"give {wanted} with its depth from the face",
            )
        )
    faults.raise_any(BadInput)
