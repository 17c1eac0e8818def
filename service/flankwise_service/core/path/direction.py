"""Which way the cutter goes round, and whether it climbs or sinks while it does.

For a right-hand cutter turning clockwise (M03), seen from above, +Z toward the viewer.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

from flankwise_service.core.path.segment import Sense
from flankwise_service.core.threads.model import Hand, Side

Milling = Literal["climb", "conventional"]
Motion = Literal["upward", "downward"]


class Direction(NamedTuple):
    """Sense of the cutter's way round, and its motion along Z meanwhile."""

    sense: Sense
    motion: Motion


DIRECTIONS: Mapping[tuple[Side, Hand, Milling], Direction] = MappingProxyType(
    {
        ("internal", "right", "climb"): Direction("counterclockwise", "upward"),
        ("internal", "right", "conventional"): Direction("clockwise", "downward"),
        ("internal", "left", "climb"): Direction("counterclockwise", "downward"),
        ("internal", "left", "conventional"): Direction("clockwise", "upward"),
        ("external", "right", "climb"): Direction("clockwise", "downward"),
        ("external", "right", "conventional"): Direction("counterclockwise", "upward"),
        ("external", "left", "climb"): Direction("clockwise", "upward"),
        ("external", "left", "conventional"): Direction("counterclockwise", "downward"),
    }
)
"""The table; the tests derive each row anew from the velocity of the cutting edge."""


def direction(side: Side, hand: Hand, milling: Milling) -> Direction:
    """Return the sense and the motion that cut a thread of `side` and `hand` by `milling`.

    >>> direction("internal", "right", "climb")
    Direction(sense='counterclockwise', motion='upward')
    """
    return DIRECTIONS[side, hand, milling]


def turn(sense: Sense) -> int:
    """Return +1 for counter-clockwise, -1 for clockwise.

    >>> turn("clockwise")
    -1
    """
    return 1 if sense == "counterclockwise" else -1


def opposite(sense: Sense) -> Sense:
    """Return the other sense.

    >>> opposite("clockwise")
    'counterclockwise'
    """
    return "clockwise" if sense == "counterclockwise" else "counterclockwise"


def advance(hand: Hand) -> int:
    """Return +1 where z rises with counter-clockwise angle (right hand), else -1.

    >>> advance("left")
    -1
    """
    return 1 if hand == "right" else -1
