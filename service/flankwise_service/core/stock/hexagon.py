"""The regular hexagon of bar stock, from any one of its measures, and the classic wrong turn.

Everything here is plane geometry with sharp corners: across corners = across flats * 2/sqrt(3).
Real bar has slightly broken corners, so the figures over corners are greatest values.
Lengths go in and come out in one unit, whichever it is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from flankwise_service.core.errors import BadInput, Fault, Faults, plain

Measure = Literal[
    "across_flats", "across_corners", "side", "inscribed_radius", "circumscribed_radius"
]
MEASURES: tuple[Measure, ...] = get_args(Measure)

LEAST_LENGTH = 1e-6
GREATEST_LENGTH = 1e6

FLATS_PER_CORNERS = math.sqrt(3) / 2

_FLATS_PER: dict[Measure, float] = {
    "across_flats": 1.0,
    "across_corners": FLATS_PER_CORNERS,
    "side": math.sqrt(3),
    "inscribed_radius": 2.0,
    "circumscribed_radius": math.sqrt(3),
}


# No slots here and in Reading: writers of JSON take an object's dictionary in one go, and a reply
# holds six of each.
@dataclass(frozen=True)
class Hexagon:
    """A regular hexagon; lengths in the unit it was given in, area in that unit squared."""

    across_flats: float
    across_corners: float
    side: float
    inscribed_radius: float
    """Half the across flats: the largest boss that can be turned from it has this radius."""
    circumscribed_radius: float
    """Half the across corners: what a polygon tool asks for when it draws through the corners."""
    area: float
    perimeter: float


@dataclass(frozen=True)
class Reading:
    """One way to take a number that was meant for a hexagon."""

    measure: Measure
    meaning: str
    hexagon: Hexagon
    intended: bool


@dataclass(frozen=True, slots=True)
class WrongTurn:
    """A hexagon drawn from the wrong measure: what was wanted and what was drawn."""

    wanted: Hexagon
    drawn: Hexagon
    drawn_with: Measure
    too_large_across_flats: float
    detail: str
    change: str


def across_corners(across_flats: float) -> float:
    """Return the width across sharp corners of a hexagon: across_flats * 2/sqrt(3).

    Source: plane geometry. Range 1e-6 to 1e6, else BadInput.

    >>> round(across_corners(0.75), 4)
    0.866
    """
    _check("/across_flats", across_flats, "across flats")
    return float(across_flats) / FLATS_PER_CORNERS


def across_flats(across_corners: float) -> float:
    """Return the width across flats of a hexagon: across_corners * sqrt(3)/2.

    >>> round(across_flats(2.0), 4)
    1.7321
    """
    _check("/across_corners", across_corners, "across corners")
    return float(across_corners) * FLATS_PER_CORNERS


def hexagon(measure: Measure, value: float) -> Hexagon:
    """Return every measure of the hexagon whose `measure` is `value`.

    area = across_flats^2 * sqrt(3)/2, side = circumscribed radius = across_corners/2.
    Source: plane geometry. Range 1e-6 to 1e6 in any unit, else BadInput.

    >>> found = hexagon("circumscribed_radius", 30.0)
    >>> round(found.across_corners, 2), round(found.across_flats, 2)
    (60.0, 51.96)
    """
    _check_measure(measure, value)
    return _of_flats(float(value) * _FLATS_PER[measure])


def _of_flats(flats: float) -> Hexagon:
    corners = flats / FLATS_PER_CORNERS
    return Hexagon(
        across_flats=flats,
        across_corners=corners,
        side=corners / 2,
        inscribed_radius=flats / 2,
        circumscribed_radius=corners / 2,
        area=flats * flats * FLATS_PER_CORNERS,
        perimeter=3 * corners,
    )


def one_measure(given: Mapping[str, float | None]) -> tuple[Measure, float]:
    """Return the one measure that is given among those that may be; any other count is refused.

    >>> one_measure({"side": 1.0, "across_flats": None})
    ('side', 1.0)
    >>> one_measure({"side": 1.0, "across_flats": 1.0})
    Traceback (most recent call last):
    flankwise_service.core.errors.BadInput: a hexagon is set by one measure; 2 were given
    """
    faults = Faults()
    for name in given:
        if name not in MEASURES:
            faults.add(_no_such_measure(f"/{name}", name))
    stated = [(one, value) for one in MEASURES if (value := given.get(one)) is not None]
    if len(stated) != 1:
        faults.add(
            Fault(
                "/across_flats",
                "one_measure",
                f"a hexagon is set by one measure; {len(stated)} were given",
                "give one of " + ", ".join(MEASURES),
            )
        )
    faults.raise_any(BadInput)
    return stated[0]


def hexagon_from(**given: float | None) -> Hexagon:
    """Return the hexagon from exactly one measure given by name; any other count is refused.

    >>> round(hexagon_from(side=1.0).across_flats, 6)
    1.732051
    """
    measure, value = one_measure(given)
    _check(f"/{measure}", value, measure.replace("_", " "))
    return hexagon(measure, value)


_MEANING: dict[Measure, str] = {
    "across_flats": "width over two flats: what bar is sold by and a wrench fits",
    "circumscribed_radius": "radius through the corners: half the across corners",
    "inscribed_radius": "radius to the flats: half the across flats",
    "across_corners": "width over two corners",
    "side": "length of one side",
}


def hexagon_readings(value: float, intended: Measure = "across_flats") -> tuple[Reading, ...]:
    """Return the hexagon that each way of taking `value` gives, the intended one first.

    The wrong turn it guards against: 30 mm hexagon bar drawn with a 30 mm radius through the
    corners is 60 mm across corners and 51.96 mm across flats.

    >>> [(r.measure, round(r.hexagon.across_flats, 2)) for r in hexagon_readings(30.0)][:2]
    [('across_flats', 30.0), ('circumscribed_radius', 51.96)]
    """
    _check_measure(intended, value)
    # side and circumscribed radius give the same hexagon
    sizes = {per: _of_flats(float(value) * per) for per in _FLATS_PER.values()}
    order = (intended, *(one for one in _MEANING if one != intended))
    return tuple(
        Reading(one, _MEANING[one], sizes[_FLATS_PER[one]], one == intended) for one in order
    )


def wrong_turn(
    wanted_across_flats: float, drawn_across_flats: float, tolerance: float = 0.002
) -> WrongTurn | None:
    """Return how a drawn hexagon came from the wanted size by the wrong measure, or None.

    `tolerance` is the relative difference still taken as a match: 0.002 covers figures typed with
    three or four digits (common practice, no source).

    >>> turn = wrong_turn(30.0, 51.96)
    >>> turn.drawn_with, round(turn.drawn.across_corners, 1)
    ('circumscribed_radius', 60.0)
    >>> wrong_turn(30.0, 30.0) is None
    True
    """
    faults = Faults()
    for pointer, one in (
        ("/wanted_across_flats", wanted_across_flats),
        ("/drawn_across_flats", drawn_across_flats),
    ):
        faults.within(
            pointer, one, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name="across flats"
        )
    faults.within("/tolerance", tolerance, least=0, greatest=0.05, name="tolerance of a match")
    faults.raise_any(BadInput)
    # circumscribed_radius and side give the same hexagon; the radius is what people type.
    for measure in ("circumscribed_radius", "inscribed_radius", "across_corners"):
        taken = wanted_across_flats * _FLATS_PER[measure]
        if abs(drawn_across_flats - taken) <= tolerance * taken:
            wanted = hexagon("across_flats", wanted_across_flats)
            return WrongTurn(
                wanted=wanted,
                drawn=hexagon("across_flats", drawn_across_flats),
                drawn_with=measure,
                too_large_across_flats=drawn_across_flats - wanted_across_flats,
                detail=(
                    f"{plain(drawn_across_flats)} across flats is what "
                    f"{plain(wanted_across_flats)} gives "
                    f"when it is taken as the {measure.replace('_', ' ')}, not as across flats"
                ),
                change=(
                    f"draw the hexagon {plain(wanted.across_flats)} across flats, that is "
                    f"{plain(wanted.across_corners, 5)} across corners or a radius of "
                    f"{plain(wanted.circumscribed_radius, 5)} through the corners"
                ),
            )
    return None


def corner_stand_out(across_corners: float, boss_diameter: float) -> float:
    """Return how far a corner stands out beyond a boss: (across_corners - boss_diameter)/2.

    Negative when the boss is larger than the hexagon. The cutter and holder turn around the boss
    at this distance from the corners.

    >>> round(corner_stand_out(1.4434, 0.875), 4)
    0.2842
    """
    _check_pair(across_corners, boss_diameter, "/across_corners", "/boss_diameter")
    return (float(across_corners) - float(boss_diameter)) / 2


def wall_to_flats(across_flats: float, diameter: float) -> float:
    """Return the wall between a round feature and the flats: (across_flats - diameter)/2.

    For an internal thread take its major diameter; negative when it breaks through the flats.

    >>> round(wall_to_flats(27.0, 20.0), 3)
    3.5
    """
    _check_pair(across_flats, diameter, "/across_flats", "/diameter")
    return (float(across_flats) - float(diameter)) / 2


def wall_to_bore(minor_diameter: float, bore_diameter: float) -> float:
    """Return the wall between an external thread's root and a bore: (minor - bore)/2.

    A bore of 0 is solid bar. Negative when the bore breaks into the thread.

    >>> round(wall_to_bore(0.7874, 0.5), 4)
    0.1437
    """
    faults = Faults()
    faults.within(
        "/minor_diameter",
        minor_diameter,
        least=LEAST_LENGTH,
        greatest=GREATEST_LENGTH,
        name="minor diameter",
    )
    faults.within("/bore_diameter", bore_diameter, least=0, greatest=GREATEST_LENGTH, name="bore")
    faults.raise_any(BadInput)
    return (float(minor_diameter) - float(bore_diameter)) / 2


def _no_such_measure(pointer: str, name: str) -> Fault:
    return Fault(
        pointer,
        "unknown_measure",
        f"a hexagon has no measure {name!r}",
        "name one of " + ", ".join(MEASURES),
        name,
    )


def _check_measure(measure: Measure, value: float) -> None:
    faults = Faults()
    if measure not in MEASURES:
        faults.add(_no_such_measure("/measure", measure))
    faults.within(
        "/value", value, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name="size of the hexagon"
    )
    faults.raise_any(BadInput)


def _check(pointer: str, value: float, name: str) -> None:
    faults = Faults()
    faults.within(pointer, value, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name=name)
    faults.raise_any(BadInput)


def _check_pair(first: float, second: float, first_pointer: str, second_pointer: str) -> None:
    faults = Faults()
    for pointer, value in ((first_pointer, first), (second_pointer, second)):
        name = pointer[1:].replace("_", " ")
        faults.within(pointer, value, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name=name)
    faults.raise_any(BadInput)
