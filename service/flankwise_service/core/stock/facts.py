"""All there is to say of one hexagon, and of one blank: the steps of this folder put together."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from flankwise_service.core.errors import Fault, NoSource
from flankwise_service.core.stock.bars import Wrench, wrench
from flankwise_service.core.stock.blank import Aim, diameter_aim
from flankwise_service.core.stock.hexagon import (
    Hexagon,
    Measure,
    Reading,
    WrongTurn,
    corner_stand_out,
    hexagon,
    hexagon_readings,
    wall_to_flats,
    wrong_turn,
)
from flankwise_service.core.stock.mass import BarMass, mass_per_length
from flankwise_service.core.threads.model import Limits, Side, Span
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
    """
    found = hexagon(measure, value)
    return HexagonFacts(
        unit=unit,
        hexagon=found,
        readings=hexagon_readings(value, measure),
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


def blank_span(found: Limits) -> Span:
    """Return the limits the blank is cut to: major diameter external, minor diameter internal."""
    return found.major_diameter if found.side == "external" else found.minor_diameter


def blank_aim(found: Limits, fraction: float = 0.5) -> Aim:
    """Return the diameter to turn the boss, or bore the hole, to, inside the thread's limits.

    Lengths in the thread's own unit. Where the standard leaves a limit out: NoSource.
    """
    span = blank_span(found)
    least = _stated(span.min, "least", found.side)
    return diameter_aim(float(least), float(_stated(span.max, "greatest", found.side)), fraction)


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
