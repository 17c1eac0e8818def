"""Feed at the cutting edge, at the tool centre, and along the helix: what the control is told.

A control moves the tool centre. On an arc the edge travels on another circle than the centre, so
a feed meant for a straight cut is too fast inside a hole and too slow around a boss.
Lengths and feeds per minute in one unit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from flankwise_service.core.cutting.ranges import length, refuse_outside
from flankwise_service.core.cutting.speed import GREATEST_RPM
from flankwise_service.core.errors import Fault, Impossible, plain
from flankwise_service.core.threads.model import Side

GREATEST_FEED = 1e6
GREATEST_FLUTES = 100


@dataclass(frozen=True, slots=True)
class ArcFeed:
    """Feed on one arc. `path_feed` is the figure the control is told."""

    edge_feed: float
    """At the diameter being cut, as then really run."""
    centre_feed: float
    """Of the tool centre seen along the axis."""
    path_feed: float
    """Of the tool centre along the helix."""
    centre_factor: float
    """centre_feed/edge_feed: (D - d)/D internal, (D + d)/D external."""
    helix_factor: float
    """path_feed/centre_feed: sqrt((pi Dc)^2 + L^2)/(pi Dc)."""
    centre_diameter: float
    capped: bool
    """True where the machine's greatest feed set the figures."""


def edge_feed(speed: float, flutes: int, feed_per_tooth: float) -> float:
    """Return the feed of the cutting edge per minute: speed * flutes * feed_per_tooth.

    >>> edge_feed(5000, 4, 0.05)
    1000.0
    """
    refuse_outside(
        speed=(speed, 0, GREATEST_RPM, "rpm"),
        flutes=(flutes, 1, GREATEST_FLUTES, None),
        feed_per_tooth=(feed_per_tooth, 0, 1000, None),
    )
    return float(speed) * float(flutes) * float(feed_per_tooth)


def centre_diameter(diameter_cut: float, cutter_diameter: float, side: Side) -> float:
    """Return the diameter of the circle the tool centre runs on: D - d internal, D + d external.

    D is the diameter being cut at that moment: of a thread, the major diameter when internal and
    the minor diameter when external. Refused where an internal cutter has no room.

    >>> centre_diameter(12.0, 10.0, "internal"), centre_diameter(12.0, 10.0, "external")
    (2.0, 22.0)
    """
    refuse_outside(diameter_cut=length(diameter_cut), cutter_diameter=length(cutter_diameter))
    if side == "external":
        return float(diameter_cut) + float(cutter_diameter)
    if cutter_diameter >= diameter_cut:
        raise Impossible(
            Fault(
                "/cutter_diameter",
                "cutter_too_large",
                f"a cutter of {plain(cutter_diameter)} can't circle inside a diameter of "
                f"{plain(diameter_cut)}",
                f"take a cutter smaller than {plain(diameter_cut)}",
                float(cutter_diameter),
            )
        )
    return float(diameter_cut) - float(cutter_diameter)


def centre_feed(edge_feed: float, diameter_cut: float, cutter_diameter: float, side: Side) -> float:
    """Return the feed at the tool centre that holds `edge_feed` at the diameter being cut.

    Internal: vf (D - d)/D. External: vf (D + d)/D. Source: geometry of the two circles.

    >>> round(centre_feed(300.0, 12.0, 9.9, "internal"), 3)
    52.5
    >>> centre_feed(800.0, 50.0, 20.0, "internal")
    480.0
    """
    refuse_outside(edge_feed=(edge_feed, 0, GREATEST_FEED, None))
    ratio = centre_diameter(diameter_cut, cutter_diameter, side) / float(diameter_cut)
    return float(edge_feed) * ratio


def helix_factor(centre_diameter: float, lead: float) -> float:
    """Return how much longer one turn of the helix is than its circle.

    sqrt((pi Dc)^2 + L^2)/(pi Dc). A lead of 0 is a plain circle: 1. Source: the helix unrolled.

    >>> round(helix_factor(2.0, 1.25), 5)
    1.0196
    """
    refuse_outside(centre_diameter=length(centre_diameter), lead=length(lead, 0.0))
    circle = math.pi * float(centre_diameter)
    return math.hypot(circle, float(lead)) / circle


def arc_feed(
    edge_feed: float,
    diameter_cut: float,
    cutter_diameter: float,
    side: Side,
    *,
    lead: float = 0.0,
    greatest_feed: float = GREATEST_FEED,
) -> ArcFeed:
    """Return the feeds on a helical arc, the path feed no more than the machine's greatest.

    `path_feed` is what the program states: the feed of the tool centre along its helix. Where the
    machine caps it, edge and centre feed are those that then result.

    >>> fed = arc_feed(800.0, 50.0, 20.0, "internal", lead=1.5)
    >>> fed.centre_feed, round(fed.path_feed, 3)
    (480.0, 480.061)
    """
    wanted = centre_feed(edge_feed, diameter_cut, cutter_diameter, side)
    refuse_outside(greatest_feed=(greatest_feed, LEAST_FEED, GREATEST_FEED, None))
    across = centre_diameter(diameter_cut, cutter_diameter, side)
    factor = helix_factor(across, lead)
    share = min(1.0, float(greatest_feed) / (wanted * factor)) if wanted else 1.0
    return ArcFeed(
        edge_feed=float(edge_feed) * share,
        centre_feed=wanted * share,
        path_feed=wanted * factor * share,
        centre_factor=across / float(diameter_cut),
        helix_factor=factor,
        centre_diameter=across,
        capped=share < 1.0,
    )


LEAST_FEED = 1e-6


def ramped_feeds(feed: float, pieces: int, share_at_begin: float = 0.5) -> tuple[float, ...]:
    """Return feeds for the pieces of a lead-in arc, rising evenly with the way to the full feed.

    Each piece has the feed of its own middle: share + (1 - share) * (i + 1/2)/pieces. Half feed
    at first contact is common practice, no source. A share of 1 is no ramp.

    >>> ramped_feeds(100.0, 2)
    (62.5, 87.5)
    """
    refuse_outside(
        feed=(feed, 0, GREATEST_FEED, None),
        pieces=(pieces, 1, 1000, None),
        share_at_begin=(share_at_begin, 0.01, 1, None),
    )
    return tuple(
        float(feed) * (share_at_begin + (1 - share_at_begin) * (piece + 0.5) / pieces)
        for piece in range(int(pieces))
    )
