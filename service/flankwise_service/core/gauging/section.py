"""Wires and balls in the axial section: the handbook's formulas, which take the lead as zero.

For flank angles a1, a2 (from a plane square to the axis), pitch p, wire diameter w:
height constant C = p / (tan a1 + tan a2), wire constant K = cos((a1 - a2)/2) / sin((a1 + a2)/2).
With equal flanks these are p/2 cot a and 1/sin a. The centre of the wire stands off the pitch
line by (K w - C)/2.
Sources: NBS Handbook H28, part I, 1969, appendix on measuring pitch diameter (memory) and ASME
B1.2-1983 (memory) for equal flanks; ASME B1.9-1973 (memory) for unequal ones; the 60, 55 and 29
degree constants they give are those of Machinery's Handbook 31, pp. 2129 to 2135 (seen).
"""

from __future__ import annotations

import math

from flankwise_service.core.gauging.groove import Groove, refuse_lengths


def height_constant(groove: Groove) -> float:
    """Return C = p / (tan a1 + tan a2): how deep below the pitch line the flanks would meet, twice.

    >>> round(height_constant(Groove(1.0, 1.0, 30.0, 30.0)), 6)
    0.866025
    >>> round(height_constant(Groove(1.0, 1.0, 27.5, 27.5)), 4)
    0.9605
    >>> round(height_constant(Groove(1.0, 1.0, 14.5, 14.5)), 6)
    1.933357
    """
    return groove.pitch / sum(_slopes(groove))


def wire_constant(groove: Groove) -> float:
    """Return K = cos((a1 - a2)/2) / sin((a1 + a2)/2); 1 + K multiplies the wire over wires.

    >>> round(1 + wire_constant(Groove(1.0, 1.0, 27.5, 27.5)), 4)
    3.1657
    >>> round(1 + wire_constant(Groove(1.0, 1.0, 7.0, 45.0)), 4)
    3.1569
    """
    half_sum, half_difference = _halves_rad(groove)
    return math.cos(half_difference) / math.sin(half_sum)


def best_wire(groove: Groove) -> float:
    """Return the wire for which an error common to both flank angles doesn't shift the reading.

    For equal flanks that is the best wire of the standards, p / (2 cos a), which touches at the
    pitch line. For unequal flanks it solves w dK/da = dC/da (derived; no standard read).

    >>> round(best_wire(Groove(1.0, 1.0, 30.0, 30.0)), 5)
    0.57735
    >>> round(best_wire(Groove(1.0, 1.0, 14.5, 14.5)), 5)
    0.51645
    """
    return _height_turn(groove) / _wire_turn(groove)


def angle_sensitivity(groove: Groove, wire: float) -> float:
    """Return the change of pitch diameter per degree by which both flank angles are steeper.

    It is (w cos a - p/2) / sin(a)^2 per radian for equal flanks, and zero for the best wire.

    >>> coarse = Groove(1.0, 1.0, 30.0, 30.0)
    >>> round(angle_sensitivity(coarse, 0.6), 5), abs(angle_sensitivity(coarse, 3**-0.5)) < 1e-12
    (0.00137, True)
    """
    refuse_lengths({"wire": wire})
    return math.radians(wire * _wire_turn(groove) - _height_turn(groove))


def least_wire(groove: Groove, pitch_diameter: float, crest_diameter: float) -> float:
    """Return the wire whose outside is flush with the crest; a smaller one can't be measured over.

    Section formula: w = (s (crest - pitch diameter) + C) / (1 + K), s = +1 external, -1 internal.

    >>> round(least_wire(Groove(1.0, 1.0, 14.5, 14.5), 4.5, 5.0), 6)
    0.487263
    >>> round(least_wire(Groove(1.0, 1.0, 30.0, 30.0), 4.350481, 5.0), 5)
    0.50518
    """
    refuse_lengths({"pitch_diameter": pitch_diameter, "crest_diameter": crest_diameter})
    return (_above(groove, pitch_diameter, crest_diameter) + height_constant(groove)) / (
        1 + wire_constant(groove)
    )


def greatest_wire(groove: Groove, pitch_diameter: float, crest_diameter: float) -> float:
    """Return the wire that touches a flank at the edge of the crest; a larger one rides on it.

    Section formula: both contacts lie w/2 cot((a1+a2)/2) up their flank from where the flanks
    meet; the steeper flank, whose contact stands higher, decides.

    >>> round(greatest_wire(Groove(1.0, 1.0, 14.5, 14.5), 4.5, 5.0), 5)
    0.65001
    >>> round(greatest_wire(Groove(1.0, 1.0, 30.0, 30.0), 4.350481, 5.0), 5)
    1.01036
    """
    refuse_lengths({"pitch_diameter": pitch_diameter, "crest_diameter": crest_diameter})
    return _wire_with_contact(groove, _above(groove, pitch_diameter, crest_diameter), higher=True)


def least_touching_wire(groove: Groove, pitch_diameter: float, root_diameter: float) -> float:
    """Return the wire that touches a flank just where it runs into the root.

    >>> round(least_touching_wire(Groove(1.0, 1.0, 30.0, 30.0), 4.350481, 3.917468), 5)
    0.28867
    """
    refuse_lengths({"pitch_diameter": pitch_diameter, "root_diameter": root_diameter})
    return _wire_with_contact(groove, _above(groove, pitch_diameter, root_diameter), higher=False)


def clear_wire(groove: Groove, pitch_diameter: float, root_diameter: float) -> float:
    """Return the wire that just doesn't bottom: its inside is flush with the root.

    Section formula: w = (C - s (pitch diameter - root)) / (K - 1), s = +1 external, -1 internal;
    a larger one stands higher, because its centre rises faster than its radius grows.

    >>> stub = Groove(1.0, 1.0, 14.5, 14.5)
    >>> round(clear_wire(stub, 4.7, 4.4), 4), round(best_wire(stub), 4)
    (0.5456, 0.5165)
    """
    refuse_lengths({"pitch_diameter": pitch_diameter, "root_diameter": root_diameter})
    depth = -_above(groove, pitch_diameter, root_diameter)
    return (height_constant(groove) - depth) / (wire_constant(groove) - 1)


def lead_term(groove: Groove, pitch_diameter: float, wire: float) -> float | None:
    """Return what the lead adds to the reading over wires, as handbooks approximate it.

    w/2 tan(lead angle)^2 cos a cot a, lead angle at the pitch diameter, equal flanks only (None
    otherwise). Sources: NBS Handbook H28, 1969; EURAMET cg-10, 2007, rake correction (memory).

    >>> round(lead_term(Groove(1.0, 2.0, 14.5, 14.5), 3.1291, 0.50623), 5)
    0.03922
    """
    refuse_lengths({"pitch_diameter": pitch_diameter, "wire": wire})
    if not groove.is_symmetric:
        return None
    angle = math.radians(groove.flank_angle_upper)
    tangent = groove.lead / (math.pi * pitch_diameter)
    return wire / 2 * tangent**2 * math.cos(angle) / math.tan(angle)


def _above(groove: Groove, pitch_diameter: float, diameter: float) -> float:
    """Return how far a diameter lies crestward of the pitch line; negative: rootward."""
    rise = diameter - pitch_diameter
    return rise if groove.side == "external" else -rise


def _wire_with_contact(groove: Groove, rise: float, *, higher: bool) -> float:
    half_sum, _ = _halves_rad(groove)
    cosines = [
        math.cos(math.radians(a)) for a in (groove.flank_angle_upper, groove.flank_angle_lower)
    ]
    cosine = max(cosines) if higher else min(cosines)
    return (height_constant(groove) + rise) * math.tan(half_sum) / cosine


def _slopes(groove: Groove) -> tuple[float, float]:
    return (
        math.tan(math.radians(groove.flank_angle_upper)),
        math.tan(math.radians(groove.flank_angle_lower)),
    )


def _halves_rad(groove: Groove) -> tuple[float, float]:
    upper, lower = groove.flank_angle_upper, groove.flank_angle_lower
    return math.radians(upper + lower) / 2, math.radians(upper - lower) / 2


def _wire_turn(groove: Groove) -> float:
    """Return -dK/da for both flank angles growing together, per radian."""
    half_sum, half_difference = _halves_rad(groove)
    return math.cos(half_difference) * math.cos(half_sum) / math.sin(half_sum) ** 2


def _height_turn(groove: Groove) -> float:
    """Return -dC/da for both flank angles growing together, per radian."""
    first, second = _slopes(groove)
    return groove.pitch * (2 + first**2 + second**2) / (first + second) ** 2
