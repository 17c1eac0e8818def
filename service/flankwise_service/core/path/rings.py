"""Ways round an axis that aren't a thread: chains of spirals, each entered and left by an arc."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import zip_longest
from typing import NamedTuple

from flankwise_service.core.cutting.feed import centre_feed
from flankwise_service.core.path.entry import Contact, Lead, lead, lead_feed
from flankwise_service.core.path.lines import as_lines, shorter_arcs
from flankwise_service.core.path.segment import (
    Point,
    Purpose,
    Segment,
    same_place,
)
from flankwise_service.core.path.spiral import Spiral, helix_arcs
from flankwise_service.core.threads.model import Side


class Chain(NamedTuple):
    """Spirals of one radius that join, cut without leaving the work.

    All chains of one path begin and end above one another.
    """

    curves: tuple[Spiral, ...]
    arc_radius: float
    """Of the half turns in and out."""
    number: int
    """Radial pass, from 1."""
    far: tuple[float, float]
    """Where the chain begins and ends, seen from +Z: the same for all chains, without rounding, so
    that the way from one to the next is straight up or down."""


class Round(NamedTuple):
    """What all chains of one path share."""

    side: Side
    purpose: Purpose
    centre: tuple[float, float]
    cutter_radius: float
    edge_feed: float
    top: float
    """Height of free motion."""
    greatest_sweep: float
    plunge_feed: float | None
    chord_tolerance: float | None


def walk(way: Round, chains: Iterable[Chain]) -> Iterator[Segment]:
    """Yield the path of all chains in order, from and to the height of free motion."""
    segments = _walk(way, chains)
    return segments if way.chord_tolerance is None else as_lines(segments, way.chord_tolerance)


def _walk(way: Round, chains: Iterable[Chain]) -> Iterator[Segment]:
    place: Point | None = None
    for chain in chains:
        entry = _half_turn(way, chain, entering=True)
        yield from _down(way, place, entry.far)
        yield from _cut(way, chain, entry)
        place = _half_turn(way, chain, entering=False).far
    assert place is not None  # there is at least one round
    yield Segment("rapid", "retract", place, Point(place.x, place.y, way.top))


def _half_turn(way: Round, chain: Chain, *, entering: bool) -> Lead:
    curve = chain.curves[0] if entering else chain.curves[-1]
    place = curve.point_at(0.0 if entering else curve.sweep)
    contact = Contact(place, way.centre, curve.radius, curve.sense, curve.slope)
    found = lead("half_arc", way.side, contact, chain.arc_radius, 0.0, entering)
    return found._replace(far=Point(*chain.far, found.far.z))


def _down(way: Round, place: Point | None, to: Point) -> Iterator[Segment]:
    """Yield the way to a lead-in: straight down, or up, because all rounds begin in one place."""
    begin = Point(to.x, to.y, way.top) if place is None else place
    if to.z < begin.z:
        feed = way.plunge_feed
        yield Segment("rapid" if feed is None else "line", "plunge", begin, to, feed=feed)
    elif not same_place(begin, to, way.cutter_radius):
        yield Segment("rapid", "link", begin, to)


def _cut(way: Round, chain: Chain, entry: Lead) -> Iterator[Segment]:
    first = chain.curves[0]
    feed = feed_on(way, first.radius)
    yield from _lead(way, chain, entry, feed, entering=True)
    place = first.point_at(0.0)
    for curve, following in zip_longest(chain.curves, chain.curves[1:]):
        # where the next curve begins is where this one ends, without its rounding
        last = None if following is None else following.point_at(0.0)
        for end, centre, sweep in helix_arcs(curve, way.greatest_sweep):
            to = last if last and same_place(end, last, way.cutter_radius) else end
            yield Segment(
                "arc", way.purpose, place, to, centre, curve.sense, sweep, feed, chain.number
            )  # fmt: skip
            place = to
    yield from _lead(way, chain, _half_turn(way, chain, entering=False), feed, entering=False)


def _lead(
    way: Round, chain: Chain, found: Lead, feed: float, *, entering: bool
) -> Iterator[Segment]:
    curve = chain.curves[0] if entering else chain.curves[-1]
    place = curve.point_at(0.0 if entering else curve.sweep)
    begin, end = (found.far, place) if entering else (place, found.far)
    slow = lead_feed(feed, way.side, curve.radius, way.cutter_radius, chain.arc_radius)
    arc = Segment(
        "arc", "lead_in" if entering else "lead_out", begin, end, found.centre, found.sense,
        found.sweep, slow, chain.number,
    )  # fmt: skip
    return shorter_arcs(arc, way.greatest_sweep)


def feed_on(way: Round, radius: float) -> float:
    """Return the feed at the tool centre on a circle of `radius` that holds the edge's feed.

    >>> way = Round("external", "boss", (0.0, 0.0), 5.0, 600.0, 5.0, 360.0, None, None)
    >>> feed_on(way, 15.0)
    900.0
    """
    reach = way.cutter_radius if way.side == "internal" else -way.cutter_radius
    return centre_feed(way.edge_feed, 2 * (radius + reach), 2 * way.cutter_radius, way.side)
