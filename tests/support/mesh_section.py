"""The section a tooth leaves, worked out by a general-purpose mesh kernel (manifold3d).

Nothing here knows flankwise's formulas: the tooth is drawn as a polygon, revolved to a faceted
solid, stood at many places of its helix, and what lies in the half plane at angle 0 is put
together by the kernel. Two ways: `slices` (each solid cut by the half plane, the cuts united) and
`solid` (the solids united in space, then cut once). Both give the same set; the first is faster.

How fine a mesh the agreement needs (measured by test_form_mesh_fineness, lengths in mm):
a regular polygon of n sides lies up to rho (1 - cos(180/n)) inside its circle, and stands dt apart
leave scallops of F'' dt^2 / 8, F'' = tan(a) r Rc / rho, about 3 at most, where the tooth's flank
cuts, but of (lead / 2 pi) dt where its corner does, near the root. At the pitch line of an M8 cut
by a cutter of radius 3 mm, n = 180 is 0.2 micrometre low, 360 0.06, 720 0.015, 1440 0.004; dt = 0.02
leaves less than 0.05. Agreement within 0.5 micrometre therefore needs n >= 360 there, and
stands 0.02 apart; near the root stands 0.001 apart and, by the steepness of the fillet, n >= 1440.
A cutter of twice the radius needs n larger by the square root of two. `narrowed` saves stands by
coming closer and closer to the highest, on each side and at each radius.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import manifold3d
import numpy as np
from numpy.typing import NDArray

ARC_PIECES = 16
SPIN = 0.137
"""Degrees the tooth is turned about its own axis, so that no facet's edge lies in the half plane."""


@dataclass(frozen=True)
class Stand:
    """A tooth on a helix, in plain numbers. Angles in degrees."""

    cutter_radius: float
    centre_radius: float
    lead: float
    flank_upper: float
    flank_lower: float
    tip_width: float
    depth: float
    tip_radius: float = 0.0
    taper: float = 0.0


def _side(stand: Stand, angle: float, pieces: int) -> list[tuple[float, float]]:
    """Return points (rho, height) of one side of the tooth, from the tip's middle inward."""
    big, half, q = stand.cutter_radius, stand.tip_width / 2, stand.tip_radius
    a = math.radians(angle)
    inner = big - stand.depth
    points = []
    if q > 0:
        height = half - q * math.tan(math.pi / 4 - a / 2)
        for n in range(pieces + 1):
            b = math.pi / 2 + (a - math.pi / 2) * n / pieces
            points.append((big - q + q * math.sin(b), height + q * math.cos(b)))
    else:
        points.append((big, half))
    points.append((inner, half + stand.depth * math.tan(a)))
    return points


def tooth_solid(stand: Stand, facets: int, pieces: int = ARC_PIECES) -> manifold3d.Manifold:
    """Return the tooth as a faceted ring about the Z axis."""
    upper = _side(stand, stand.flank_upper, pieces)
    lower = [(rho, -z) for rho, z in _side(stand, stand.flank_lower, pieces)]
    outline = lower[::-1] + upper
    outline = [p for n, p in enumerate(outline) if n == 0 or math.dist(p, outline[n - 1]) > 1e-12]
    section = manifold3d.CrossSection([np.array(outline)])
    solid = manifold3d.Manifold.revolve(section, facets)
    assert solid.status() == manifold3d.Error.NoError
    assert not solid.is_empty()
    return solid.rotate((0.0, 0.0, SPIN))


def standing(
    tooth: manifold3d.Manifold, stand: Stand, turns: Iterable[float]
) -> list[manifold3d.Manifold]:
    """Return the tooth at each turn (radians) of its helix, the half plane laid into Z = 0."""
    rise = stand.lead / (2 * math.pi)
    out = []
    for t in turns:
        centre, sine, cosine = (
            stand.centre_radius + stand.taper / 2 * rise * t,
            math.sin(t),
            math.cos(t),
        )
        place = [
            [cosine, -sine, 0.0, centre * cosine],
            [0.0, 0.0, 1.0, rise * t],
            [-sine, -cosine, 0.0, -centre * sine],
        ]
        out.append(tooth.transform(np.array(place)))
    return out


def slices(stand: Stand, turns: Iterable[float], facets: int) -> list[NDArray[np.float64]]:
    """Return the polygons (r, z) of all that the tooth cuts out of the half plane."""
    tooth = tooth_solid(stand, facets)
    cuts = [solid.slice(0.0) for solid in standing(tooth, stand, turns)]
    whole = manifold3d.CrossSection.batch_boolean(cuts, manifold3d.OpType.Add)
    return [np.asarray(p) for p in whole.to_polygons()]


def solid(stand: Stand, turns: Iterable[float], facets: int) -> list[NDArray[np.float64]]:
    """Return the same polygons from one union in space, cut once."""
    tooth = tooth_solid(stand, facets)
    whole = manifold3d.Manifold.batch_boolean(standing(tooth, stand, turns), manifold3d.OpType.Add)
    return [np.asarray(p) for p in whole.slice(0.0).to_polygons()]


def reach(polygons: Iterable[NDArray[np.float64]], radius: float) -> tuple[float, float]:
    """Return how far the polygons reach above and below Z = 0 on the line r = radius."""
    heights: list[float] = []
    for polygon in polygons:
        begin, end = polygon, np.roll(polygon, -1, axis=0)
        crosses = (begin[:, 0] - radius) * (end[:, 0] - radius) <= 0
        crosses &= begin[:, 0] != end[:, 0]
        p, q = begin[crosses], end[crosses]
        share = (radius - p[:, 0]) / (q[:, 0] - p[:, 0])
        heights.extend((p[:, 1] + share * (q[:, 1] - p[:, 1])).tolist())
    return max(heights), -min(heights)


def one_reach(
    tooth: manifold3d.Manifold, stand: Stand, turn: float, radii: Sequence[float]
) -> NDArray[np.float64]:
    """Return what a single stand reaches at each radius, (radii, 2); minus infinity for nothing."""
    (placed,) = standing(tooth, stand, [turn])
    polygons = [np.asarray(p) for p in placed.slice(0.0).to_polygons()]
    out = np.full((len(radii), 2), -np.inf)
    for n, radius in enumerate(radii):
        if any(p[:, 0].min() < radius < p[:, 0].max() for p in polygons):
            out[n] = reach(polygons, radius)
    return out


def narrowed(
    stand: Stand, radii: Sequence[float], facets: int, levels: int = 3, pieces: int = ARC_PIECES
) -> NDArray[np.float64]:
    """Return the reach of the whole helix at each radius, (radii, 2).

    Stands over the whole contact first, coarse, then `levels` times ten, each time
    within one stand of the highest so far.
    """
    step = 0.04
    turns = max((turns_in_contact(stand, r, step) for r in radii), key=len)
    coarse, tooth = tooth_solid(stand, 180), tooth_solid(stand, facets, pieces)
    table = np.array([one_reach(coarse, stand, t, radii) for t in turns])
    best: NDArray[np.float64] = table.max(axis=0)
    at = turns[table.argmax(axis=0)]
    for _ in range(levels):
        for n, radius in enumerate(radii):
            for side in (0, 1):
                near = at[n, side] + np.linspace(-step, step, 11)
                found = [one_reach(tooth, stand, t, [radius])[0, side] for t in near]
                best[n, side] = max(best[n, side], *found)
                at[n, side] = near[int(np.argmax(found))]
        step /= 5
    return best


def turns_in_contact(stand: Stand, radius: float, step: float) -> NDArray[np.float64]:
    """Return turns `step` apart that cover all in which the tooth touches `radius`."""
    reaches = stand.cutter_radius + abs(stand.taper) * stand.lead
    cosine = (radius**2 + stand.centre_radius**2 - reaches**2) / (2 * radius * stand.centre_radius)
    last = math.acos(max(-1.0, min(1.0, cosine))) + step
    count = 2 * math.ceil(last / step) + 1
    return np.linspace(-last, last, count)
