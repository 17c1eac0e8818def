"""All there is to say of one hexagon, and of one blank: the steps of this folder put together.

Source: geometry for hexagons; limits of size come from the thread's own standard.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from flankwise_service.core.errors import BadInput, Fault, NoSource
from flankwise_service.core.stock.bars import Wrench, wrench
from flankwise_service.core.stock.blank import Aim, diameter_aim
from flankwise_service.core.stock.hexagon import (
    Hexagon,
    Measure,
    Reading,
    WrongTurn,
    corner_stand_out,
    hexagon_readings,
    wall_to_flats,
    wrong_turn,
)
from flankwise_service.core.stock.mass import BarMass, mass_per_length
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.model import Side, Span, StatedLimits
from flankwise_service.core.threads.sized import Sized
from flankwise_service.core.units import Unit


@dataclass(frozen=True, slots=True)
class HexagonFacts:
    """A hexagon with what a shop asks next."""

    unit: Unit
    hexagon: Hexagon
    readings: tuple[Reading, ...]
    """The same number taken each other way: where a drawing may have gone wrong."""
    wrong_turn: WrongTurn | None
    wrench: Wrench | None
    mass: BarMass | None
    corner_stand_out: float | None
    """Beyond the boss, where one is given."""
    wall_to_flats: float | None
    """Between the round feature and the flats, where one is given."""


def hexagon_facts(
    measure: Measure,
    value: float,
    unit: Unit,
    *,
    density_g_per_cm3: float | None = None,
    diameter: float | None = None,
    drawn_across_flats: float | None = None,
) -> HexagonFacts:
    """Return the hexagon, its readings, wrench and mass, and how it stands to a round feature.

    `diameter` of a boss turned from it or a thread's major diameter within it;
    `drawn_across_flats` as measured in a drawing, to see whether it took a wrong turn.

    >>> found = hexagon_facts("across_flats", 30.0, "mm", diameter=20.0)
    >>> round(found.corner_stand_out, 3), found.wall_to_flats
    (7.321, 5.0)
    """
    readings = hexagon_readings(value, measure)
    found = readings[0].hexagon
    return HexagonFacts(
        unit=unit,
        hexagon=found,
        readings=readings,
        wrong_turn=None
        if drawn_across_flats is None
        else wrong_turn(found.across_flats, drawn_across_flats),
        wrench=wrench(found.across_flats, unit),
        mass=None
        if density_g_per_cm3 is None
        else mass_per_length(found.area, density_g_per_cm3, unit),
        corner_stand_out=None
        if diameter is None
        else corner_stand_out(found.across_corners, diameter),
        wall_to_flats=None if diameter is None else wall_to_flats(found.across_flats, diameter),
    )


def blank_span(found: Sized) -> Span:
    """Return the limits the blank is cut to: major diameter external, minor diameter internal."""
    return found.major_diameter if found.side == "external" else found.minor_diameter


def blank_aim(found: Sized, fraction: float = 0.5) -> Aim:
    """Return the diameter to turn the boss, or bore the hole, to, inside the thread's limits.

    Lengths in the unit of `found`. Where the standard leaves a limit out: NoSource.

    >>> from flankwise_service.core.threads import limits
    >>> round(blank_aim(limits("7/8-14 UNF-2A")).diameter, 5)
    0.86825
    """
    span = blank_span(found)
    least = _stated(span.min, "least", found.side)
    return diameter_aim(float(least), float(_stated(span.max, "greatest", found.side)), fraction)


_PIPE = ("npt", "nptf", "nps")


def thread_for_drill(
    designation: str | None,
    side: Side | None,
    major_diameter: float | None,
    pitch: float | None,
    unit: Unit,
) -> tuple[float, float, tuple[float, float] | None]:
    """Return basic major diameter, pitch and minor limits in `unit`, from either way to ask.

    A designation gives all three; diameter and pitch stated give no limits (None). Refused:
    both ways or neither, an external thread, flanks that aren't at 30 degrees, a pipe thread
    (its height isn't the one that percents are counted by, and a taper's hole narrows).

    >>> thread_for_drill("1/4-20 UNC-2B", None, None, None, "in")
    (0.25, 0.05, (0.196, 0.207))
    """
    if designation is None and major_diameter is not None and pitch is not None:
        return float(major_diameter), float(pitch), None
    if designation is None or major_diameter is not None or pitch is not None:
        raise _one_way("hole", "major_diameter and pitch", designation)
    found = limits_in(limits(designation, side=side), unit)
    sixty = found.basic.flank_angle_upper == found.basic.flank_angle_lower == 30.0
    if found.side != "internal" or not sixty or found.family in _PIPE:
        raise BadInput(_not_for_a_drill(found))
    span = found.minor_diameter
    least = float(_stated(span.min, "least", found.side))
    most = float(_stated(span.max, "greatest", found.side))
    return float(found.basic.major_diameter), float(found.pitch), (least, most)


def _not_for_a_drill(found: StatedLimits) -> Fault:
    """Return why no percent of thread is told, and the limits to bore to where there are some."""
    kind = "internal thread of the Unified or ISO form"
    change = "name an internal 60 degree thread"
    span = found.minor_diameter
    if found.side == "internal" and span.min is not None and span.max is not None:
        where = " at the face, narrowing with the taper" if found.basic.taper else ""
        change = (
            f"bore it to its minor limits, {span.min:.6g} to {span.max:.6g} {found.unit}{where}"
        )
    return Fault(
        "/designation",
        "not_for_a_drill",
        f"percent of thread is not counted on {found.designation}: it is no {kind}",
        change,
        found.designation,
    )


def aim_for(
    designation: str | None,
    side: Side | None,
    least: float | None,
    greatest: float | None,
    unit: Unit,
    fraction: float = 0.5,
) -> Aim:
    """Return the diameter to cut to in `unit`, from a designation or from stated limits.

    >>> round(aim_for("M20x1.5-6H", None, None, None, "mm").diameter, 3)
    18.526
    """
    if designation is None and least is not None and greatest is not None:
        return diameter_aim(least, greatest, fraction)
    if designation is None or least is not None or greatest is not None:
        raise _one_way("blank's diameter", "least and greatest", designation)
    return blank_aim(limits_in(limits(designation, side=side), unit), fraction)


def _one_way(what: str, others: str, designation: str | None) -> BadInput:
    return BadInput(
        Fault(
            "/designation",
            "one_way",
            f"the {what} is set by a thread's designation, or by {others}; just one of the two",
            f"give a designation alone, or both {others}",
            designation,
        )
    )


def _stated(limit: Decimal | None, name: str, side: Side) -> Decimal:
    if limit is None:
        what = "major" if side == "external" else "minor"
        raise NoSource(
            Fault(
                "/designation",
                "no_limit",
                f"the standard states no {name} {what} diameter for this thread",
                "state the least and greatest diameter of the blank yourself",
            )
        )
    return limit
