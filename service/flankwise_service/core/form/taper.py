"""The groove's edge on a taper, from that of the parallel thread.

The centre radius Rc changes by kappa = H taper/2 for each radian turned. The height at its greatest
changes only with the square of an error in t, so the t of the parallel thread, improved by
Newton's method until it moves less than 1e-6, is good to about 1e-11 of the pitch. Every height
returned belongs to a place the tooth really passes: it can only be too low, never too high.
"""

from __future__ import annotations

import numpy as np

from flankwise_service.core.form.profile import LEAST_SLOPE, Array, Profile, half_width

MOST_STEPS = 40
SETTLED_TURN = 1e-6
"""Radians; a height at its greatest changes with the square of it."""
CORNER_STEPS = 3


def _heights(
    turn: Array, radius: Array, centre: Array, rise: float | Array, kappa: Array, profile: Profile
) -> Array:
    """Return H t + w(rho(t)) with the centre radius growing by kappa for each radian."""
    at = centre + kappa * turn
    rho = np.sqrt((radius - at) ** 2 + 4 * radius * at * np.sin(turn / 2) ** 2)
    inside = rho <= profile.cutter_radius * (1 + 1e-12)
    height = rise * turn + half_width(np.minimum(rho, profile.cutter_radius), profile)
    return np.where(inside, height, -np.inf)


def corner_turn(radius: Array, centre: Array, kappa: Array, profile: Profile) -> Array:
    """Return the largest turn at which the point is still within the cutter, taper included.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.profile import profile_of
    >>> profile = profile_of(Tooth(30.0, 30.0, 0.2, 0.9), 3.0)
    >>> radius, centre = np.array([3.9]), np.array([1.0])
    >>> corner_turn(radius, centre, np.array([0.0]), profile).round(5).tolist()
    [0.39144]
    """
    big = profile.cutter_radius
    gap, twist = radius - centre, kappa * kappa + radius * centre
    reach = np.maximum((kappa * gap) ** 2 - twist * (gap - big) * (gap + big), 0.0)
    turn: Array = (kappa * gap + np.sqrt(reach)) / twist
    for _ in range(CORNER_STEPS):
        at = centre + kappa * turn
        miss = ((radius - at) ** 2 - big * big) / 2 + 2 * radius * at * np.sin(turn / 2) ** 2
        slope = kappa * (at - radius * np.cos(turn)) + radius * at * np.sin(turn)
        turn = turn - np.where(slope > 1e-6 * radius * at, miss / np.maximum(slope, 1e-300), 0.0)
    return turn


def tapered_height(
    turns: Array, radius: Array, centre: Array, rise: float | Array, kappa: Array, profile: Profile
) -> Array:
    """Return the greatest height of a taper thread; `turns` are those of the parallel thread."""
    here = (radius, centre, rise, kappa, profile)
    last = corner_turn(radius, centre, kappa, profile)
    turn = np.minimum(turns, last)
    best = _heights(turn, *here)
    for _ in range(MOST_STEPS):
        before, turn = turn, np.minimum(turn + _turn_step(turn, *here), last)
        if float(np.abs(turn - before).max()) < SETTLED_TURN:
            break
    best = np.maximum(best, _heights(turn, *here))
    return np.maximum(best, _heights(last * (1 - 1e-12), *here))


def _turn_step(
    turn: Array, radius: Array, centre: Array, rise: float | Array, kappa: Array, profile: Profile
) -> Array:
    """Return the change of turn that brings d rho/dt to where the height is greatest.

    That is H / tan(a) on the flank. On the tip arc, s being the sine of its flank angle, it is
    H sqrt(1 - s^2) / s: solved for the square of d rho/dt, which stays smooth down to the root.
    """
    at, sine, cosine = centre + kappa * turn, np.sin(turn), np.cos(turn)
    rho = np.sqrt((radius - at) ** 2 + 4 * radius * at * np.sin(turn / 2) ** 2)
    speed = (kappa * (at - radius * cosine) + radius * at * sine) / rho
    bend = kappa * kappa + 2 * kappa * radius * sine + radius * at * cosine
    bend = np.maximum((bend - speed * speed) / rho, 1e-12)
    wanted: Array = rise / profile.slope
    q = profile.tip_radius
    if q > 0.0:
        s = np.clip((rho - profile.cutter_radius) / q + 1, LEAST_SLOPE, 1.0)
        square = speed * speed
        miss = rise * rise * (1 - s * s) - s * s * square
        square = square + miss * bend / (s * ((rise * rise + square) / q + s * bend))
        wanted = np.minimum(wanted, np.sqrt(np.maximum(square, 0.0)))
    step: Array = (wanted - speed) / bend
    return step
