"""The exact edges of the groove, point by point.

In the half plane at angle 0 a point at radius r lies inside the tooth at turn t when
|z - H t| <= w(rho(t)), H = lead/(2 pi), rho^2 = r^2 + Rc^2 - 2 r Rc cos t. The upper edge of the
groove is the greatest H t + w(rho(t)) over all t for which rho(t) <= R.

**Straight flank.** d rho/dt = r Rc sin t / rho is the distance from the thread's axis to the line
that joins the cutter's axis with the point. Where the height is greatest it equals
c = H / tan(a): that line touches the circle of radius c about the thread's axis. So

    rho = |sqrt(r^2 - c^2) - sqrt(Rc^2 - c^2)|,    t = |acos(c/r) - acos(c/Rc)|

with no iteration. (The flank is the involute helicoid of base radius c.) When c exceeds r or Rc,
the height grows all the way to the tooth's corner.

**Corner of a flat tip.** The largest t for which rho(t) <= R, that is rho = R.

**Tip arc** of radius q. Where its flank angle has the cosine sqrt(v), rho = R - q + q sqrt(1 - v),
and the height is greatest where H sqrt(v) = sqrt(1 - v) g, g = d rho/dt. Squared,
H^2 v = (1 - v) g^2 with g^2 = (r^2 Rc^2 - A^2)/rho^2, A = (r^2 + Rc^2 - rho^2)/2: smooth and nearly
straight in v right down to the root, solved by Newton's method for all radii at once.

A taper is left to taper.py.
"""

from __future__ import annotations

import math

import numpy as np

from flankwise_service.core.errors import Fault, Impossible, plain
from flankwise_service.core.form.model import Cut
from flankwise_service.core.form.profile import Array, Profile, half_width, profile_of
from flankwise_service.core.form.taper import tapered_height

BLOCK, PASSES_ABREAST = 8192, 32
"""Points times passes worked out at a time: cost stays linear, memory small."""
MOST_NEWTON_STEPS = 40
SETTLED = 1e-13
"""Change of v below which it is found; heights then hold to the last digits."""
CONE_STEPS = 3


def turn_at(rho: Array, radius: Array, centre: Array) -> Array:
    """Return the turn t >= 0, in radians, at which the point is `rho` from the cutter's axis.

    sin^2(t/2) = (rho^2 - (r - Rc)^2) / (4 r Rc): the law of cosines, without its loss of digits.
    """
    gap = radius - centre
    square = (rho - gap) * (rho + gap) / (4 * radius * centre)
    turn: Array = 2 * np.arcsin(np.sqrt(np.minimum(np.maximum(square, 0.0), 1.0)))
    return turn


def flank_distance(
    radius: Array, centre: Array, rise: float | Array, outward: float, profile: Profile
) -> tuple[Array, bool]:
    """Return rho at which the straight flank cuts highest, or the junction when it lies beyond.

    Also whether the height, past its greatest, may rise again before the tooth's corner: it does
    where rho passes sqrt(r^2 - c^2) + sqrt(Rc^2 - c^2) inside the cutter.
    """
    base = (rise / profile.slope) ** 2
    at_point, at_centre = radius * radius - base, centre * centre - base
    touches = (at_point > 0) & (at_centre > 0)
    long, short = np.sqrt(np.maximum(at_point, 0.0)), np.sqrt(np.maximum(at_centre, 0.0))
    root = long - short if outward > 0 else short - long
    rises_again = bool(((long + short < profile.junction) & touches).any())
    return np.where(touches, np.minimum(root, profile.junction), profile.junction), rises_again


def arc_distance(radius: Array, centre: Array, rise: float | Array, profile: Profile) -> Array:
    """Return rho at which the tip arc cuts highest, clipped to the arc's two ends."""
    q, big = profile.tip_radius, profile.cutter_radius
    high = np.broadcast_to(
        1 / (1 + profile.slope**2), (2, *np.broadcast(radius, centre).shape[-2:])
    )
    mean, product = (radius**2 + centre**2) / 2, (radius * centre) ** 2
    v = high / 2
    for _ in range(MOST_NEWTON_STEPS):
        s = np.sqrt(1 - v)
        rho = big - q + q * s
        level = mean - rho * rho / 2
        square = (product - level * level) / (rho * rho)
        miss = rise * rise * v - (1 - v) * square
        slope = rise * rise + square + s * q * (level - square) / rho
        before, v = v, np.minimum(np.maximum(v - miss / slope, 0.0), high)
        if float(np.abs(v - before).max()) < SETTLED:
            break
    distance: Array = big - q + q * np.sqrt(1 - v)
    return distance


def edges(cut: Cut, radii: Array) -> Array:
    """Return both edges of the groove at `radii`: shape (2, n), upper then lower, as distances.

    Row 0 is how far the groove reaches above its middle, row 1 how far below (z = -row 1).
    Minus infinity where no pass cuts at all. `radii` of shape (n,), or (2, n) for two rows; in a
    hole none smaller than the cutter's own radius, which couldn't enter it.
    `cut` is taken as checked. Raises Impossible when passes leave a ridge between them.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> edges(cut, np.array([3.5940505919760444])).round(5).tolist()
    [[0.33758], [0.33758]]
    """
    block = BLOCK // min(len(cut.passes), PASSES_ABREAST)
    count = radii.shape[-1]
    if count <= block:
        return _edges(cut, radii)
    parts = [_edges(cut, radii[..., n : n + block]) for n in range(0, count, block)]
    return np.concatenate(parts, axis=1)


def _edges(cut: Cut, radii: Array) -> Array:
    """Return the edges of so few radii that every array stays in the processor's cache."""
    profile = profile_of(cut.tooth, cut.cutter_radius)
    table = np.asarray(cut.passes, dtype=np.float64)
    centre, shift = table[:, :1], table[:, 1:]
    radius = radii if radii.ndim == 1 else radii[:, None, :]
    rise = cut.lead / (2 * math.pi)
    here = (rise, cut.outward, cut.taper, profile)
    groups = [
        pass_edges(radius, centre[n : n + PASSES_ABREAST], *here)
        for n in range(0, len(centre), PASSES_ABREAST)
    ]
    reach = groups[0] if len(groups) == 1 else np.concatenate(groups, axis=1)
    upper, lower = reach[0] + shift, reach[1] - shift
    if np.ptp(shift) > 0:
        _refuse_ridge(upper, lower, radii)
    return np.stack((upper.max(axis=0), lower.max(axis=0)))


def cone_reaches(cut: Cut, radius: Array, deeper: Array) -> Array:
    """Return both reaches of the groove where the thread's cone through `radius` meets its edges.

    `radius` at Z = 0 and `deeper`, by which all passes move into the work, are pairs of shape (n,);
    the result is (2, n), all worked out at once. Minus infinity where no pass cuts. On a parallel
    thread that is simply the groove's edges at `radius`.
    """
    profile = profile_of(cut.tooth, cut.cutter_radius)
    table = np.asarray(cut.passes, dtype=np.float64)
    centre = table[:, 0] + cut.outward * deeper[:, None]
    sides = np.array([1.0, -1.0]).reshape(2, 1, 1)
    real = np.maximum(centre, 1e-300)
    shift = table[:, 1] * sides
    rise, tilt = cut.lead / (2 * math.pi), cut.taper / 2 * sides
    if not cut.taper:
        reach = pass_edges(radius[:, None], real, rise, cut.outward, 0.0, profile) + shift
        both: Array = np.where(centre > 0, reach, -np.inf).max(axis=-1)
        return both
    at = radius[:, None] + tilt * profile.half_tip
    for _ in range(CONE_STEPS):
        reach = pass_edges(at, real, rise, cut.outward, cut.taper, profile) + shift
        reach = np.where(centre > 0, reach, -np.inf).max(axis=-1, keepdims=True)
        off = radius[:, None] + tilt * np.maximum(reach, 0.0) - at
        at = at + off / (1 + cut.outward * tilt * profile.slope)
    at_cone: Array = reach[:, :, 0]
    return at_cone


def pass_edges(
    radius: Array,
    centre: Array,
    rise: float | Array,
    outward: float,
    taper: float,
    profile: Profile,
) -> Array:
    """Return the edges that each pass leaves by itself, shape (2, passes, n).

    Places no turning tooth can reach (the point on the cutter's own axis, a helix that turns
    inside out) come out as not cut.
    """
    with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
        height = _pass_heights(radius, centre, rise, outward, taper, profile)
    return np.where(np.isfinite(height), height, -np.inf)


def _pass_heights(
    radius: Array,
    centre: Array,
    rise: float | Array,
    outward: float,
    taper: float,
    profile: Profile,
) -> Array:
    rho, rises_again = flank_distance(radius, centre, rise, outward, profile)
    near = np.abs(radius - centre)
    on_flank = rho < profile.junction
    if profile.tip_radius > 0 and not on_flank.all():
        rho = np.where(on_flank, rho, arc_distance(radius, centre, rise, profile))
    if taper != 0.0:
        kappa = rise * taper / 2 * np.array([1.0, -1.0]).reshape(2, 1, 1)
        return tapered_height(turn_at(rho, radius, centre), radius, centre, rise, kappa, profile)
    rho = np.maximum(rho, near)
    height = rise * turn_at(rho, radius, centre) + half_width(rho, profile)
    if rises_again:
        corner = np.maximum(profile.cutter_radius, near)
        other = rise * turn_at(corner, radius, centre) + half_width(corner, profile)
        height = np.maximum(height, other)
    return np.where(near <= profile.cutter_radius * (1 + 1e-12), height, -np.inf)


def _refuse_ridge(upper: Array, lower: Array, radii: Array) -> None:
    """Refuse passes whose intervals [-lower, upper] don't join at some radius."""
    order = np.argsort(-lower, axis=0)
    begin = np.take_along_axis(-lower, order, axis=0)
    reached = np.maximum.accumulate(np.take_along_axis(upper, order, axis=0), axis=0)
    with np.errstate(invalid="ignore"):
        gap = begin[1:] - reached[:-1]
    gap = np.where(np.isfinite(gap), gap, -np.inf)
    widest = float(gap.max())
    if widest > 0:
        at = float(np.broadcast_to(radii, gap.shape).ravel()[int(gap.argmax())])
        raise Impossible(
            Fault(
                "/passes",
                "ridge_left",
                f"the passes leave a ridge {plain(widest)} wide inside the groove at radius "
                f"{plain(at)}",
                "set the passes closer along Z, or use a cutter with a wider tip",
                widest,
            )
        )
