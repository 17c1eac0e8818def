"""A ball, or a wire, resting on both flanks of a thread: the exact solution.

A flank is the helicoid z = t + s r tan(flank angle) + h theta, with h = lead / (2 pi), s = +1 for
an external thread (its groove opens outward) and -1 for an internal one. A ball of radius b
centred on the half plane theta = 0 at radius c touches it where the flank's normal passes through
the ball's centre, so the unit normal n at the point centre + b n gives back n: a fixed point,
which contracts by about b/c at each step. The greatest t of a ball is the flank it touches.

Why a wire rests exactly as a ball of its diameter does: the screw motion leaves a flank as it is,
so its normal n at p is square to the motion there: h n_z + (p x n)_z = 0. Both contact normals of
the ball pass through its centre, so (p x n)_z = c n_y and n_y / n_z = -h/c on both flanks, equal
angles or not. The line (0, c, h) through the centre is square to both normals and to the
radius: a wire laid along it touches where the ball does, its contacts lie opposite each other (so
it is balanced in turning), and flat anvils press it along the radius. Any other tilt
lifts it, because the wire holds the ball inside it.
Source: derived here. It agrees to 0.00002 with the constants for Acme threads of large lead angle
in Machinery's Handbook 31, p. 2136, and with a search over all tilts: see tests.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from flankwise_service.core.errors import Fault, Impossible, plain
from flankwise_service.core.gauging.groove import Groove, refuse_bad_sizes, refuse_lengths
from flankwise_service.core.gauging.section import height_constant, wire_constant

_STEPS = 400
_CLOSE = 1e-15


class Touch(NamedTuple):
    """Where a ball touches one flank; `normal` points from the ball into the metal."""

    offset: float
    """The flank's t: its height where r and theta are zero."""
    radius: float
    """Distance of the contact from the thread's axis."""
    normal: tuple[float, float, float]
    """Radial, tangential and axial part, in the half plane of the ball's centre."""


class Rest(NamedTuple):
    """A ball or wire at rest in a groove."""

    centre_radius: float
    """Distance of the ball's centre, or of the wire's axis, from the thread's axis."""
    contact_diameter_upper: float
    contact_diameter_lower: float
    tilt: float
    """Angle in degrees of a wire to the plane square to the axis: tan(tilt) = h / c."""


def touch(
    ball_radius: float, centre_radius: float, flank_angle: float, lead: float, opening: int
) -> Touch:
    """Return where a ball touches a flank; `opening` is +1 external, -1 internal.

    Lengths in one unit, `flank_angle` in degrees. Refused (Impossible) when the ball is so big in
    this thread that it has no single resting place.
    """
    slope = opening * math.tan(math.radians(flank_angle))
    h = lead / (2 * math.pi)
    nx, ny, nz = 0.0, 0.0, 1.0
    for _ in range(_STEPS):
        x, y = centre_radius + ball_radius * nx, ball_radius * ny
        r = math.hypot(x, y)
        if r == 0:
            break
        gx = -slope * x / r + h * y / (r * r)
        gy = -slope * y / r - h * x / (r * r)
        length = math.sqrt(gx * gx + gy * gy + 1)
        was_x, was_y = nx, ny
        nx, ny, nz = gx / length, gy / length, 1 / length
        if abs(nx - was_x) < _CLOSE and abs(ny - was_y) < _CLOSE:  # its length being 1, nz too
            return _touch_at(ball_radius, centre_radius, slope, h, (nx, ny, nz))
    raise Impossible(
        Fault(
            "/wire",
            "no_rest",
            f"a ball of {plain(2 * ball_radius)} has no single resting place at radius "
            f"{plain(centre_radius)} in a thread of lead {plain(lead)}",
            "take a smaller wire or ball, near the best size",
            2 * ball_radius,
        )
    )


def _touch_at(
    ball_radius: float,
    centre_radius: float,
    slope: float,
    h: float,
    normal: tuple[float, float, float],
) -> Touch:
    nx, ny, nz = normal
    x, y = centre_radius + ball_radius * nx, ball_radius * ny
    r = math.hypot(x, y)
    return Touch(ball_radius * nz - slope * r - h * math.atan2(y, x), r, normal)


def _both(groove: Groove, diameter: float, centre_radius: float) -> tuple[Touch, Touch]:
    """Return the contacts on the upper and the lower flank.

    The lower flank is the upper one mirrored in z, which turns the hand; only the sign of the
    tangential part of its normal changes, so one function serves both.
    """
    opening = 1 if groove.side == "external" else -1
    upper = touch(diameter / 2, centre_radius, groove.flank_angle_upper, groove.lead, opening)
    if groove.is_symmetric:
        return upper, upper
    return upper, touch(diameter / 2, centre_radius, groove.flank_angle_lower, groove.lead, opening)


def _pitch_diameter_at(groove: Groove, touches: tuple[Touch, Touch]) -> float:
    """Return the pitch diameter of the groove whose flanks are where the ball touches them.

    The flanks' offsets are p/4 - s E/2 tan(angle) each, up to a shift of the groove along the
    axis that the sum cancels.
    """
    sign = 1 if groove.side == "external" else -1
    slopes = math.tan(math.radians(groove.flank_angle_upper)) + math.tan(
        math.radians(groove.flank_angle_lower)
    )
    return sign * (groove.pitch - 2 * (touches[0].offset + touches[1].offset)) / slopes


def pitch_diameter_at_rest(groove: Groove, wire: float, centre_radius: float) -> float:
    """Return the pitch diameter of a thread in which a wire or ball rests at `centre_radius`.

    Exact. Lengths in one unit.

    >>> fine = Groove(1.0, 1.0, 30.0, 30.0)
    >>> round(pitch_diameter_at_rest(fine, 0.57735, 10.14434), 3)
    20.0
    """
    refuse_lengths({"wire": wire, "centre_radius": centre_radius})
    return _pitch_diameter_at(groove, _both(groove, wire, centre_radius))


def rest(groove: Groove, pitch_diameter: float, wire: float) -> Rest:
    """Return where a wire or ball of diameter `wire` rests in a thread. Exact.

    Lengths in one unit. Refused (BadInput, Impossible) when it can't rest on both flanks.

    >>> acme = Groove(1.0, 1.0, 14.5, 14.5)
    >>> at_7_degrees = 1 / math.pi / math.tan(math.radians(7))
    >>> lies = rest(acme, at_7_degrees, 0.51272)
    >>> round(2 * lies.centre_radius + 0.51272 - at_7_degrees, 5), round(lies.tilt, 2)
    (0.64087, 6.67)
    """
    refuse_bad_sizes(groove, pitch_diameter, wire)
    return _rest(groove, pitch_diameter, wire)


@lru_cache(maxsize=256)  # whether a wire fits, what it reads and what it needs ask for one rest
def _rest(groove: Groove, pitch_diameter: float, wire: float) -> Rest:
    return rest_at(groove, wire, _solve_centre(groove, pitch_diameter, wire))[1]


def rest_at(groove: Groove, wire: float, centre_radius: float) -> tuple[float, Rest]:
    """Return the pitch diameter of a thread in which a wire rests at `centre_radius`, and the rest.

    >>> fine = Groove(1.0, 1.0, 30.0, 30.0)
    >>> size, lies = rest_at(fine, 0.57735, 10.14434)
    >>> round(size, 3), round(lies.contact_diameter_upper, 3)
    (20.0, 20.0)
    """
    refuse_lengths({"wire": wire, "centre_radius": centre_radius})
    upper, lower = _both(groove, wire, centre_radius)
    tilt = math.degrees(math.atan(groove.lead / (2 * math.pi * centre_radius)))
    lies = Rest(centre_radius, 2 * upper.radius, 2 * lower.radius, tilt)
    return _pitch_diameter_at(groove, (upper, lower)), lies


def _solve_centre(groove: Groove, pitch_diameter: float, ball: float) -> float:
    """Return the ball's centre radius, by the secant method on the exact inverse.

    The inverse's slope is near 2, so the secant settles in a few steps from the section's answer.
    """
    sign = 1 if groove.side == "external" else -1
    stand_off = wire_constant(groove) * ball - height_constant(groove)
    centre = (pitch_diameter + sign * stand_off) / 2
    error, step, steps = math.inf, math.inf, 0
    near = (ball / 2, 2 * pitch_diameter)
    while abs(error) > 1e-14 * pitch_diameter and near[0] < centre < near[1] and steps < 60:
        was, error = error, pitch_diameter_at_rest(groove, ball, centre) - pitch_diameter
        step = error / 2 if steps == 0 or error == was else step * error / (was - error)
        centre, steps = centre - step, steps + 1
    if abs(error) > 1e-11 * pitch_diameter:
        raise Impossible(
            Fault(
                "/wire",
                "no_rest",
                f"a wire or ball of {plain(ball)} finds no resting place in this groove",
                "take one near the best size",
                ball,
            )
        )
    return centre


def diameter_touching_at(groove: Groove, pitch_diameter: float, contact_diameter: float) -> float:
    """Return the wire or ball diameter that touches equal flanks at `contact_diameter`. Exact.

    At the contact the flank's normal must meet the radial line: with theta the contact's angle
    and z its height, r (r + s z tan(angle)) sin(theta) = -h z cos(theta); by bisection.

    >>> groove = Groove(1.0, 1.0, 14.5, 14.5)
    >>> at_5_degrees = 1 / math.pi / math.tan(math.radians(5))
    >>> round(diameter_touching_at(groove, at_5_degrees, at_5_degrees), 5)
    0.5145
    """
    refuse_bad_sizes(groove, pitch_diameter, None)
    refuse_lengths({"contact_diameter": contact_diameter})
    opening = 1 if groove.side == "external" else -1
    slope = opening * math.tan(math.radians(groove.flank_angle_upper))
    h = groove.lead / (2 * math.pi)
    r = contact_diameter / 2
    half_width = groove.pitch / 4 + slope * (r - pitch_diameter / 2)
    low, high = -math.pi / 2, math.pi / 2
    for _ in range(62):
        theta = (low + high) / 2
        z = half_width + h * theta
        if r * (r + slope * z) * math.sin(theta) + h * z * math.cos(theta) < 0:
            low = theta
        else:
            high = theta
    centre = (r + slope * z) / math.cos(theta)
    return 2 * math.hypot(r * math.cos(theta) - centre, r * math.sin(theta), z)
