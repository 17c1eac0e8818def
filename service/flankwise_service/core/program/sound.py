"""Whether a path can be written, seen at one glance: all of its pieces at once.

A shorter way, never another one: what isn't sound beyond doubt is left to `asked`, which looks at
one piece after the other and says what is wrong with it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from flankwise_service.core.path.segment import ROUNDING
from flankwise_service.core.program.columns import ARC, LINE, RAPID, Columns, Mask
from flankwise_service.core.program.places import Numbers

ROOM = 0.99
"""Share of a limit that is beyond doubt where what is compared with it has to be computed."""


class Limits(NamedTuple):
    """What the pieces of a path must keep to; lengths and feeds in the setup's unit."""

    reach: float
    joint: float
    """Greatest gap between two pieces."""
    radius: float
    """Least radius."""
    radius_change: float
    """Greatest difference of an arc's radius at its begin and its end."""
    sweep: float
    """Greatest turn of one arc, degrees."""
    middle: float
    """Greatest distance of an arc's middle from where begin, end and sense put it."""
    feeds: tuple[float, float]


def sound(path: Columns, begins: Sequence[int], limits: Limits) -> bool:
    """Return whether nothing can be wrong with paths; False means a doubt.

    `begins` are the rows where one path ends and the next begins, each with a rest.

    >>> from flankwise_service.core.path.segment import Point, Segment
    >>> from flankwise_service.core.program.columns import columns
    >>> cut = Segment("line", "link", Point(0, 0, 1), Point(0, 2, 1), feed=60.0)
    >>> limits = Limits(2500.0, 0.0005, 0.01, 0.0005, 360.0, 0.003, (0.1, 1e5))
    >>> sound(columns([cut, cut._replace(begin=cut.end)]), [], limits)
    True
    >>> sound(columns([cut, cut]), [], limits)
    False
    """
    with np.errstate(invalid="ignore", over="ignore"):  # what isn't a number isn't sound
        return _sound(path, begins, limits)


def _sound(path: Columns, begins: Sequence[int], limits: Limits) -> bool:
    """Return whether nothing can be wrong with paths."""
    least, greatest = limits.feeds
    fed = (path.feed >= least) & (path.feed <= greatest)
    rapid = np.isnan(path.feed) & _straight(path)
    good = np.where(path.kind == RAPID, rapid, fed & (path.kind == LINE))
    good = np.where(path.kind == ARC, fed & _round(path, limits), good)
    gaps = np.abs(path.begin[:, 1:] - path.end[:, :-1])
    gaps[:, [row - 1 for row in begins if row]] = 0.0
    return bool(
        good.all()
        and np.abs(path.begin).max() <= limits.reach
        and np.abs(path.end).max() <= limits.reach
        and gaps.max() <= limits.joint
    )


def _straight(path: Columns) -> Mask:
    """Return which pieces move in Z alone, or not in Z, well within rounding."""
    x, y, rise = np.abs(path.end - path.begin)
    straight: Mask = (rise == 0.0) | (x + y <= ROUNDING * np.abs(path.end[:2]).sum(axis=0))
    return straight


def _round(path: Columns, limits: Limits) -> Mask:
    """Return which pieces are arcs that a block can say."""
    first = np.hypot(*(path.begin[:2] - path.centre))
    change = np.abs(np.hypot(*(path.end[:2] - path.centre)) - first)
    round_: Mask = (
        (path.turn != 0)
        & (path.sweep > 0.0)
        & (path.sweep <= limits.sweep)
        & (change <= ROOM * limits.radius_change)
        & (ROOM * first >= limits.radius)
        & (first <= limits.reach)
        & (_middle_apart(path, first) <= ROOM * limits.middle)
    )
    return round_


def _middle_apart(path: Columns, radius: Numbers) -> Numbers:
    """Return how far the middles of arcs are from where their ends put them."""
    begin, end = (np.arctan2(y, x) for x, y in (path.begin[:2] - path.centre,
                                                path.end[:2] - path.centre))  # fmt: skip
    off = np.abs(np.radians(path.sweep) - np.mod(path.turn * (end - begin), math.tau))
    apart: Numbers = 2 * radius * np.sin(np.minimum(off, np.abs(math.tau - off)) / 4)
    return apart
