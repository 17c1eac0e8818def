"""Readings over wires and balls: from pitch diameter to reading and back.

Exact (core/gauging/helicoid.py) beside the handbook's approximation (core/gauging/section.py).
Lengths in one unit, angles in degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from flankwise_service.core.errors import BadInput, Fault, Faults, plain
from flankwise_service.core.gauging import helicoid, section
from flankwise_service.core.gauging.groove import (
    LEAST_LENGTH,
    Groove,
    lead_angle,
    refuse_bad_sizes,
    refuse_lengths,
)

Method = Literal["three wires", "two wires", "over balls", "between balls"]
Line = Literal["square to the axis", "through both centres"]
METHODS: tuple[Method, ...] = ("three wires", "two wires", "over balls", "between balls")
LINES: tuple[Line, ...] = ("square to the axis", "through both centres")


@dataclass(frozen=True, slots=True)
class Reading:
    """What a gauge reads over (or between) wires or balls in a thread of known pitch diameter."""

    reading: float
    """Exact: the wire or ball on the helicoids of the flanks."""
    handbook: float
    """By the section formula, lead taken as zero."""
    handbook_with_lead: float | None
    """The same with the handbook's lead term; None where the flanks are unequal."""
    handbook_error: float
    """handbook - reading: what the section formula gets wrong here."""
    handbook_with_lead_error: float | None
    lead_angle: float
    wire_tilt: float
    """A wire's angle to the plane square to the axis."""
    contact_diameter_upper: float
    contact_diameter_lower: float
    axial_offset: float
    """Along the axis from the groove on one side to the nearest one opposite."""


@dataclass(frozen=True, slots=True)
class PitchDiameter:
    """A pitch diameter worked back from a reading."""

    pitch_diameter: float
    """Exact."""
    handbook: float
    handbook_with_lead: float | None
    handbook_error: float
    """handbook - pitch_diameter."""
    contact_diameter_upper: float
    contact_diameter_lower: float


def axial_offset(groove: Groove) -> float:
    """Return how far along the axis the nearest groove opposite lies: 0 or half a pitch.

    Opposite a groove the helix has moved half a lead, and grooves come a pitch apart: an odd
    number of starts leaves half a pitch, an even number nothing.

    >>> axial_offset(Groove(0.1, 0.1, 30, 30)), axial_offset(Groove(0.1, 0.2, 30, 30))
    (0.05, 0.0)
    """
    starts = round(groove.lead / groove.pitch)
    return groove.pitch / 2 if starts % 2 else 0.0


def notes_on(groove: Groove, method: Method, line: Line) -> tuple[str, ...]:
    """Return what the one at the bench should mind with this way of measuring.

    Source: ASME B1.3-2007, functional and pitch diameter (memory); the rest is geometry.

    >>> len(notes_on(Groove(0.1, 0.1, 30, 30), "two wires", "square to the axis"))
    2
    """
    said = [
        "the reading tells the pitch diameter alone: errors of lead and flank angle make a thread "
        "fit tighter than it measures, so try the go gauge too"
    ]
    offset = axial_offset(groove)
    if method != "three wires" and line == "square to the axis" and offset:
        said.append(
            f"opposite grooves lie {plain(offset, 4)} apart along the axis: hold the gauge "
            "square to it, "
            "or the reading comes out too large"
        )
    return tuple(said)


def reading_over(
    groove: Groove,
    pitch_diameter: float,
    wire: float,
    method: Method = "three wires",
    line: Line = "square to the axis",
) -> Reading:
    """Return what is read over wires or balls, exact and by the handbook.

    Three wires, or two between anvils held parallel to the axis, read 2 c + w, c being the
    distance of the wires' axes from the thread's; balls read 2 c + w over them and 2 c - w
    between. Along the line through both balls' centres, 2 c becomes sqrt((2c)^2 + offset^2).

    >>> unified = Groove(1 / 14, 1 / 14, 30.0, 30.0)
    >>> read = reading_over(unified, 0.8270, 0.04124)
    >>> round(read.reading, 5), round(read.handbook, 5), round(read.handbook_error, 6)
    (0.88888, 0.88886, -2.3e-05)
    """
    refuse_method(groove, method, line)
    rest = helicoid.rest(groove, pitch_diameter, wire)
    sign = 1 if groove.side == "external" else -1
    stand_off = section.wire_constant(groove) * wire - section.height_constant(groove)
    exact = _read(groove, 2 * rest.centre_radius, wire, method, line)
    flat = _read(groove, pitch_diameter + sign * stand_off, wire, method, line)
    term = section.lead_term(groove, pitch_diameter, wire)
    led = None
    if term is not None:
        led = _read(groove, pitch_diameter + sign * (stand_off + term), wire, method, line)
    return Reading(
        exact,
        flat,
        led,
        flat - exact,
        None if led is None else led - exact,
        lead_angle(groove.lead, pitch_diameter),
        rest.tilt,
        rest.contact_diameter_upper,
        rest.contact_diameter_lower,
        axial_offset(groove),
    )


def pitch_diameter_from(
    groove: Groove,
    reading: float,
    wire: float,
    method: Method = "three wires",
    line: Line = "square to the axis",
) -> PitchDiameter:
    """Return the pitch diameter worked back from a reading, exact and by the handbook.

    The handbook's lead term needs the pitch diameter it is to give; it is taken at the section's.

    >>> unified = Groove(1 / 14, 1 / 14, 30.0, 30.0)
    >>> round(pitch_diameter_from(unified, 0.88888, 0.04124).pitch_diameter, 5)
    0.827
    """
    refuse_method(groove, method, line)
    apart = centres_apart(groove, reading, wire, method, line)
    _refuse_derived(groove, apart, wire, reading)
    exact, lies = helicoid.rest_at(groove, wire, apart / 2)
    _refuse_derived(groove, exact, wire, reading)
    sign = 1 if groove.side == "external" else -1
    stand_off = section.wire_constant(groove) * wire - section.height_constant(groove)
    flat = apart - sign * stand_off
    term = section.lead_term(groove, flat, wire)
    return PitchDiameter(
        exact,
        flat,
        None if term is None else flat - sign * term,
        flat - exact,
        lies.contact_diameter_upper,
        lies.contact_diameter_lower,
    )


def centres_apart(
    groove: Groove,
    reading: float,
    wire: float,
    method: Method = "three wires",
    line: Line = "square to the axis",
) -> float:
    """Return twice the distance of the wires' axes from the thread's, worked back from a reading.

    >>> centres_apart(Groove(0.1, 0.1, 30, 30, "internal"), 0.75, 0.0625, "between balls")
    0.8125
    """
    refuse_lengths({"reading": reading, "wire": wire})
    apart = reading + wire if method == "between balls" else reading - wire
    offset = axial_offset(groove) if line == "through both centres" else 0.0
    if not apart - offset >= LEAST_LENGTH:
        raise BadInput(
            Fault(
                "/reading",
                "reading_too_small",
                f"a reading of {plain(reading)} leaves no room across the thread",
                "check the reading and the ball's diameter",
                reading,
            )
        )
    return math.sqrt((apart - offset) * (apart + offset)) if offset else apart


def of_reading(fault: Fault, reading: float) -> Fault:
    """Return a fault of a pitch diameter as one of the reading that gave it.

    Without limits: those it has are pitch diameters, and no reading.

    >>> of_reading(Fault("/pitch_diameter", "far", "", "", 0.8, 0.7, 0.9), 0.95).least is None
    True
    """
    if fault.pointer != "/pitch_diameter":
        return fault
    change = "check the reading, the wire's diameter, the pitch and the thread"
    return replace(
        fault,
        pointer="/reading",
        change=change if fault.code == "out_of_range" else fault.change,
        value=reading,
        least=None,
        greatest=None,
    )


def _refuse_derived(groove: Groove, size: float, wire: float, reading: float) -> None:
    """Refuse a size worked back from a reading, at the reading."""
    try:
        refuse_bad_sizes(groove, size, wire)
    except BadInput as refusal:
        raise BadInput(*(of_reading(fault, reading) for fault in refusal.faults)) from None


def refuse_method(groove: Groove, method: Method, line: Line) -> None:
    """Raise BadInput where the way of measuring doesn't suit the side, or the line the method."""
    wires = method in ("three wires", "two wires")
    if method == "between balls":
        well = groove.side == "internal"
    else:
        well = not wires or (groove.side == "external" and line == "square to the axis")
    if well:
        return
    faults = Faults()
    faults.need(
        groove.side == "external" or not wires,
        "/method",
        "wires_inside",
        f"{method} are for external threads; an internal thread takes balls",
        'use "between balls" or "over balls"',
        method,
    )
    faults.need(
        line == "square to the axis" or not wires,
        "/line",
        "anvils_square",
        "flat anvils over wires measure square to the axis",
        'use "square to the axis"',
        line,
    )
    faults.need(
        groove.side == "internal" or method != "between balls",
        "/method",
        "between_outside",
        "between balls is for internal threads",
        'use "over balls" or wires',
        method,
    )
    faults.raise_any(BadInput)


def _read(groove: Groove, apart: float, wire: float, method: Method, line: Line) -> float:
    if line == "through both centres":
        apart = math.hypot(apart, axial_offset(groove))
    return apart - wire if method == "between balls" else apart + wire
