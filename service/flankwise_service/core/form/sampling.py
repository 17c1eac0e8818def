"""The groove's edges on a grid of radii, and what its crest is."""

from __future__ import annotations

from typing import Literal, NamedTuple

import numpy as np

from flankwise_service.core.form.envelope import edges
from flankwise_service.core.form.model import Cut
from flankwise_service.core.form.profile import Array

SIGNS = np.array([[1.0], [-1.0]])
CrestLeft = Literal["blank", "tooth body", "sharp"]


class Sampled(NamedTuple):
    """Edges of the groove on a grid of radii, ascending; `reach` (2, n) as envelope.edges."""

    radius: Array
    reach: Array
    cone: Array
    """Radius carried along the taper into the plane Z = 0, (2, n); plain radius when parallel."""
    width: Array
    """Width of the groove along the thread's cone through each radius, (n,)."""


def crest_as_cut(cut: Cut, crest_radius: float) -> tuple[float, CrestLeft]:
    """Return where the crest lies: that of the blank, or cut back by the tooth's own body.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> crest_as_cut(cut, 3.3235), crest_as_cut(cut, 3.0)
    ((3.3235, 'blank'), (3.1, 'tooth body'))
    """
    body = cut.deepest.centre_radius + cut.outward * (cut.cutter_radius - cut.tooth.depth)
    if cut.outward * (body - crest_radius) > 0:
        return body, "tooth body"
    return crest_radius, "blank"


def sample(cut: Cut, crest: float, points: int) -> Sampled:
    """Return the edges on `points` radii, closer together toward the root, where they bend."""
    root = cut.root_radius
    along = np.linspace(0.0, 1.0, points) ** 1.5
    radius = root + (crest - root) * along
    radius = radius if radius[0] < radius[-1] else radius[::-1]
    return _sampled(cut, radius, edges(cut, radius))


def _sampled(cut: Cut, radius: Array, reach: Array) -> Sampled:
    if cut.taper == 0.0:
        return Sampled(radius, reach, np.stack((radius, radius)), reach[0] + reach[1])
    cone = radius - cut.taper / 2 * SIGNS * reach
    last, before = (0, 1) if cut.side == "internal" else (-1, -2)
    width = sum(_on_cone(radius, cone[n], reach[n], last, before) for n in (0, 1))
    return Sampled(radius, reach, cone, np.asarray(width))


def _on_cone(radius: Array, cone: Array, reach: Array, last: int, before: int) -> Array:
    """Return the reach of an edge where the thread's cone through each radius meets it.

    On one side of the groove that lies past the crest's own sample, the `last`: straight on there.
    """
    lean = (reach[last] - reach[before]) / (cone[last] - cone[before])
    beyond = radius > cone[-1] if last else radius < cone[0]
    straight = reach[last] + lean * (radius - cone[last])
    return np.where(beyond, straight, np.interp(radius, cone, reach))


def sharpened(
    cut: Cut, crest: float, left_by: CrestLeft, sampled: Sampled, points: int
) -> tuple[float, CrestLeft, Sampled]:
    """Cut the crest back to where neighbouring grooves meet, if they do."""
    if float(sampled.width.max()) <= cut.pitch:
        return crest, left_by, sampled
    crest = _crossing(sampled, cut.pitch)
    return crest, "sharp", sample(cut, crest, points)


def _crossing(sampled: Sampled, width: float) -> float:
    """Return the radius at which the sampled groove has `width`, between two samples by a line."""
    radius, wide = sampled.radius, sampled.width
    if wide[0] > wide[-1]:
        radius, wide = radius[::-1], wide[::-1]
    return float(np.interp(width, wide, radius))
