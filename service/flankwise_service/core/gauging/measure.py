"""A measurement and its uncertainty, set against the limits of the pitch diameter.

Lengths in one unit. An uncertainty is the half width of the range in which the true value lies
(expanded uncertainty; the coverage is the gauge certificate's own).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible, plain
from flankwise_service.core.gauging import section
from flankwise_service.core.gauging.groove import Groove, refuse_lengths, within_lengths
from flankwise_service.core.gauging.over_wires import (
    Line,
    Method,
    PitchDiameter,
    centres_apart,
    pitch_diameter_from,
    refuse_method,
)
from flankwise_service.core.threads.model import Source

Standing = Literal["inside", "too small", "too large", "can't be told"]

GUM = Source("JCGM 100 (GUM)", "2008", "5.1.2, independent inputs added in squares")
DECISION = Source(
    "ISO 14253-1", "2017", "decision rule: the uncertainty is taken off the limits", "memory"
)


@dataclass(frozen=True, slots=True)
class Measured:
    """A measured pitch diameter: where the true one lies."""

    pitch_diameter: float
    uncertainty: float
    least: float
    greatest: float


@dataclass(frozen=True, slots=True)
class MeasuredOver:
    """A pitch diameter measured over wires or balls, and what its uncertainty is made of."""

    measured: Measured
    worked_back: PitchDiameter
    from_reading: float
    from_wire: float
    from_flank_angle: float
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a measured size is inside its limits, and how much room is left."""

    standing: Standing
    doubt: str | None
    """Which limit the uncertainty straddles; None when the standing is sure."""
    room_to_min: float
    """Measured less least limit; negative when beyond it."""
    room_to_max: float
    words: str
    source: Source


def measured(pitch_diameter: float, uncertainty: float) -> Measured:
    """Return a measured pitch diameter with the range its uncertainty leaves.

    Errors: BadInput for a size outside 0.00001 to 10000, or an uncertainty of 0 to 100.

    >>> measured(0.8243, 0.0002).greatest
    0.8245
    """
    faults = Faults()
    within_lengths(faults, "/pitch_diameter", pitch_diameter, "pitch diameter")
    faults.within("/uncertainty", uncertainty, least=0.0, greatest=100.0, name="uncertainty")
    faults.raise_any(BadInput)
    low, high = pitch_diameter - uncertainty, pitch_diameter + uncertainty
    return Measured(pitch_diameter, uncertainty, low, high)


def measured_over(
    groove: Groove,
    reading: float,
    wire: float,
    method: Method = "three wires",
    line: Line = "square to the axis",
    *,
    reading_uncertainty: float,
    wire_uncertainty: float = 0.0,
    flank_angle_uncertainty: float = 0.0,
) -> MeasuredOver:
    """Return the pitch diameter from a reading, exact, with its uncertainty.

    A wire's error counts 1 + K times over wires (all three are taken from one set), K - 1 over
    balls inside and K + 1 between them; the flank angle's by `section.angle_sensitivity`.
    Sources: JCGM 100:2008, 5.1.2.

    >>> unified = Groove(1 / 14, 1 / 14, 30.0, 30.0)
    >>> found = measured_over(
    ...     unified, 0.8864, 0.04124, reading_uncertainty=0.0001, wire_uncertainty=0.00002
    ... )
    >>> round(found.measured.pitch_diameter, 4), round(found.measured.uncertainty, 6)
    (0.8245, 0.000117)
    """
    _refuse_bad_uncertainty(reading_uncertainty, wire_uncertainty, flank_angle_uncertainty, groove)
    back = pitch_diameter_from(groove, reading, wire, method, line)
    constant = section.wire_constant(groove)
    times = constant - 1 if groove.side == "internal" and method == "over balls" else constant + 1
    by_wire = abs(times) * wire_uncertainty
    by_angle = abs(section.angle_sensitivity(groove, wire)) * flank_angle_uncertainty
    total = math.sqrt(reading_uncertainty**2 + by_wire**2 + by_angle**2)
    return MeasuredOver(
        measured(back.pitch_diameter, total), back, reading_uncertainty, by_wire, by_angle, (GUM,)
    )


def verdict(found: Measured, least: float, greatest: float) -> Verdict:
    """Return whether a measured pitch diameter is inside `least` to `greatest`.

    Inside or outside is said only when the whole range of the measurement is; else the answer is
    that it can't be told. Source: ISO 14253-1:2017 (memory).

    >>> verdict(measured(0.8243, 0.0002), 0.8216, 0.8270).standing
    'inside'
    >>> verdict(measured(0.8269, 0.0002), 0.8216, 0.8270).doubt
    'the greatest limit'
    >>> verdict(measured(0.8274, 0.0002), 0.8216, 0.8270).standing
    'too large'
    """
    refuse_lengths({"least": least, "greatest": greatest})
    standing, doubt = standing_of(found, least, greatest)
    to_min, to_max = found.pitch_diameter - least, greatest - found.pitch_diameter
    return Verdict(standing, doubt, to_min, to_max, _words(standing, doubt, found), DECISION)


def standing_of(found: Measured, least: float, greatest: float) -> tuple[Standing, str | None]:
    """Return a verdict's standing and doubt alone.

    >>> standing_of(measured(0.8274, 0.0), 0.8216, 0.8270)
    ('too large', None)
    """
    if found.greatest < least:
        return "too small", None
    if found.least > greatest:
        return "too large", None
    low, high = found.least < least, found.greatest > greatest
    if low and high:
        return "can't be told", "both limits"
    if low:
        return "can't be told", "the least limit"
    if high:
        return "can't be told", "the greatest limit"
    return "inside", None


def _words(standing: Standing, doubt: str | None, found: Measured) -> str:
    if doubt is None:
        return {
            "inside": "the pitch diameter is inside its limits",
            "too small": "the pitch diameter is too small",
            "too large": "the pitch diameter is too large",
        }[standing]
    return (
        f"{doubt} lies within the gauge's uncertainty of the reading; "
        f"measure again with a gauge better than {plain(found.uncertainty, 2)}"
    )


def narrow(measurements: Sequence[Measured]) -> Measured:
    """Return where the pitch diameter lies when several measurements of it all hold.

    The ranges' common part; it is never wider than the narrowest of them. Refused (Impossible)
    when they have none: then one of them is wrong, and no mean makes it right.

    >>> both = narrow([measured(0.8243, 0.0003), measured(0.8247, 0.0002)])
    >>> round(both.pitch_diameter, 5), round(both.uncertainty, 5)
    (0.82455, 5e-05)
    """
    if not measurements:
        raise BadInput(
            Fault("/measurements", "none", "no measurement is given", "give one or more")
        )
    least = max(one.least for one in measurements)
    greatest = min(one.greatest for one in measurements)
    if least > greatest:
        raise Impossible(
            Fault(
                "/measurements",
                "disagree",
                f"the measurements disagree by {plain(least - greatest, 3)} more than their "
                "uncertainties allow",
                "check wire diameters, flank angle and the gauge's zero, and measure again",
                least - greatest,
            )
        )
    return Measured((least + greatest) / 2, (greatest - least) / 2, least, greatest)


def flank_angle_of_two(
    groove: Groove,
    readings: tuple[float, float],
    wires: tuple[float, float],
    method: Method = "three wires",
) -> tuple[float, float]:
    """Return (flank angle, pitch diameter) at which two wires of different size agree.

    Exact: the angle, equal on both flanks, at which both readings give one pitch diameter. A
    small wire feels the root half of the flank and a large one the crest half, so choose
    them far apart. `groove`'s own angles don't enter.
    Refused (BadInput, Impossible) when the wires are too alike or no angle agrees.

    >>> worn = Groove(1 / 14, 1 / 14, 30.0, 30.0)
    >>> readings = (0.876, 0.876 + 0.01 * (1 + 1 / math.sin(math.radians(31))))
    >>> angle, _ = flank_angle_of_two(worn, readings, (0.037, 0.047))
    >>> round(angle, 1)
    31.0
    """
    refuse_method(groove, method, "square to the axis")
    faults = Faults()
    faults.need(
        abs(wires[0] - wires[1]) > 0.02 * groove.pitch,
        "/wires",
        "wires_alike",
        f"wires {plain(wires[0])} and {plain(wires[1])} are too alike to tell the flank angle",
        "take wires that differ by a tenth of the pitch or more",
        wires,
    )
    faults.raise_any(BadInput)
    return _agreeing_angle(groove, readings, wires, method)


def _agreeing_angle(
    groove: Groove, readings: tuple[float, float], wires: tuple[float, float], method: Method
) -> tuple[float, float]:
    """Return the angle by the secant method, from the section's 1/sin(angle) = change of 2c/wire.

    The exact readings bend that by the lead only, so a few steps settle it.
    """
    apart = [centres_apart(groove, m, w, method) for m, w in zip(readings, wires, strict=True)]
    constant = abs((apart[1] - apart[0]) / (wires[1] - wires[0]))
    if not 1 / math.sin(math.radians(58)) <= constant <= 1 / math.sin(math.radians(3)):
        raise _no_angle(readings)
    angle = math.degrees(math.asin(1 / constant))
    before, was, steps = angle + 0.1, _disagreement(groove, angle + 0.1, readings, wires, method), 0
    error = _disagreement(groove, angle, readings, wires, method)
    while abs(error) > 1e-13 * readings[0] and error != was and steps < 30:
        turned = angle - error * (angle - before) / (error - was)
        before, was, angle, steps = angle, error, min(max(turned, 2.0), 59.0), steps + 1
        error = _disagreement(groove, angle, readings, wires, method)
    if abs(error) > 1e-9 * readings[0]:
        raise _no_angle(readings)
    return angle, _pitch_diameter(groove, angle, readings[0], wires[0], method)


def _no_angle(readings: tuple[float, float]) -> Impossible:
    return Impossible(
        Fault(
            "/readings",
            "no_angle",
            f"no flank angle fits both readings, {plain(readings[0])} and {plain(readings[1])}",
            "check both readings and wire diameters",
            readings,
        )
    )


def _pitch_diameter(
    groove: Groove, angle: float, reading: float, wire: float, method: Method
) -> float:
    trial = Groove(groove.pitch, groove.lead, angle, angle, groove.side)
    return pitch_diameter_from(trial, reading, wire, method).pitch_diameter


def _disagreement(
    groove: Groove,
    angle: float,
    readings: tuple[float, float],
    wires: tuple[float, float],
    method: Method,
) -> float:
    return _pitch_diameter(groove, angle, readings[0], wires[0], method) - _pitch_diameter(
        groove, angle, readings[1], wires[1], method
    )


def _refuse_bad_uncertainty(reading: float, wire: float, angle: float, groove: Groove) -> None:
    faults = Faults()
    greatest = groove.pitch
    faults.within(
        "/reading_uncertainty", reading, least=0.0, greatest=greatest, name="reading uncertainty"
    )
    faults.within("/wire_uncertainty", wire, least=0.0, greatest=greatest, name="wire uncertainty")
    faults.within(
        "/flank_angle_uncertainty",
        angle,
        least=0.0,
        greatest=10.0,
        name="flank angle uncertainty",
        unit="degrees",
    )
    faults.raise_any(BadInput)
