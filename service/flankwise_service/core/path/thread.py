"""The whole path of one thread: down, in, round, out, on to the next, and away."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from flankwise_service.core.path.check import check_helix
from flankwise_service.core.path.entry import Contact, Lead, lead, lead_feed, straight_before
from flankwise_service.core.path.gouge import refuse_gouge
from flankwise_service.core.path.lines import chords, shorter_arcs
from flankwise_service.core.path.reach import arc_radius_of, off_distance
from flankwise_service.core.path.request import Helix, RadialPass
from flankwise_service.core.path.runs import blunt_curves, curve_of, runs
from flankwise_service.core.path.segment import (
    Kind,
    Point,
    Purpose,
    Segment,
    above_one_another,
    same_place,
)
from flankwise_service.core.path.spiral import Piece, Spiral, helix_arcs, spiral_lines
from flankwise_service.core.path.taper import taper_arcs


class Cut(NamedTuple):
    """One run of one pass, ready to be walked."""

    curve: Spiral
    radial_pass: RadialPass
    number: int
    start: int


def thread_path(helix: Helix, *, body_may_trim: bool = False) -> Iterator[Segment]:
    """Return the path that mills a thread, as a generator of segments.

    It begins and ends at the clearance height; every rapid move, and both ends of every lead-in
    and lead-out, are clear of the blank. The passes follow in the order given; within a pass the
    starts, and within a start the steps of a multi-row cutter along the motion. `body_may_trim`
    lets a pass go deeper than the tooth (`check_helix`).

    Raises:
        BadInput: a value is outside its range.
        Impossible: the values can't be cut together, or make more segments than the cap.

    >>> from flankwise_service.core.cutting.cutter import Cutter, Tooth
    >>> cutter = Cutter(6.0, 3, Tooth(30, 30, 0.15, 0.9))
    >>> job = Helix("internal", "right", "climb", 1.25, 10.0, 6.65, cutter,
    ...             (RadialPass(1.0, 120.0),), 0.1, 5.0)
    >>> [segment.purpose for segment in thread_path(job)][:4]
    ['plunge', 'lead_in', 'thread', 'thread']
    """
    check_helix(helix, body_may_trim=body_may_trim)
    refuse_gouge(helix)
    return _walk(helix)


def coarse_path(helix: Helix) -> Iterator[Segment]:
    """Return the way of a request that `thread_path` takes, in the fewest pieces: whole turns."""
    return _walk(replace(helix, greatest_sweep=360))


def clear_z(helix: Helix) -> float:
    """Return the height of free motion: the tool's tip stands `clearance_height` above the face."""
    return helix.clearance_height + helix.cutter.tip_to_tooth


def cuts(helix: Helix) -> Iterator[Cut]:
    """Yield every run of every pass, in order."""
    for number, radial_pass in enumerate(helix.passes, 1):
        for run in runs(helix):
            yield Cut(curve_of(helix, radial_pass, run), radial_pass, number, run.start)
    for curve, start in blunt_curves(helix):
        yield Cut(curve, helix.passes[-1], len(helix.passes), start)


def pieces_of(helix: Helix, curve: Spiral) -> Iterator[Piece]:
    """Yield a curve's pieces in the form asked for: arcs, arcs on a taper, or lines."""
    if helix.chord_tolerance is not None:
        return spiral_lines(curve, helix.chord_tolerance)
    if curve.growth and helix.radial_tolerance is not None:
        return taper_arcs(curve, helix.greatest_sweep, helix.radial_tolerance)
    return helix_arcs(curve, helix.greatest_sweep)


def _walk(helix: Helix) -> Iterator[Segment]:
    place: Point | None = None
    for cut in cuts(helix):
        entry = _lead(helix, cut.curve, entering=True)
        begin = straight_before(entry, helix.straight_lead, True)
        yield from _link(helix, place, begin)
        arc = _lead_segment(helix, cut, entry, entering=True)
        if begin != entry.far:
            yield _straight(arc, begin, entry.far)
        yield from _in_form(helix, arc)
        yield from _thread(helix, cut)
        leaving = _lead(helix, cut.curve, entering=False)
        arc = _lead_segment(helix, cut, leaving, entering=False)
        yield from _in_form(helix, arc)
        place = straight_before(leaving, helix.straight_lead, False)
        if place != leaving.far:
            yield _straight(arc, leaving.far, place)
    assert place is not None  # there is at least one pass, and a run in each
    yield from _away(helix, place)


def _thread(helix: Helix, cut: Cut) -> Iterator[Segment]:
    begin, sense, feed = cut.curve.point_at(0.0), cut.curve.sense, cut.radial_pass.feed
    number, start = cut.number, cut.start
    new = tuple.__new__  # what Segment() does: a thread has thousands
    for end, centre, sweep in pieces_of(helix, cut.curve):
        if centre is None:
            kind, way = "line", None
        else:
            kind, way = "arc", sense
        values = (kind, "thread", begin, end, centre, way, sweep, feed, number, start)
        yield new(Segment, values)
        begin = end


def _lead(helix: Helix, curve: Spiral, *, entering: bool) -> Lead:
    swept = 0.0 if entering else curve.sweep
    radius = curve.radius_at(swept)
    slope = curve.climb / (radius * math.radians(1.0))
    contact = Contact(curve.point_at(swept), (curve.x, curve.y), radius, curve.sense, slope)
    entry = helix.lead_in if entering else helix.lead_out
    arc = arc_radius_of(helix, entry, radius)
    way = lead(entry, helix.side, contact, arc, off_distance(helix, radius), entering)
    return _on_axis(helix, way)


def _on_axis(helix: Helix, way: Lead) -> Lead:
    """Return a lead that begins on the thread's axis but for rounding, exactly on it."""
    off_axis = math.hypot(way.far.x - helix.centre[0], way.far.y - helix.centre[1])
    if off_axis > 1e-12 * (way.radius + abs(helix.centre[0]) + abs(helix.centre[1])):
        return way
    return way._replace(far=Point(*helix.centre, way.far.z))


def _lead_segment(helix: Helix, cut: Cut, way: Lead, *, entering: bool) -> Segment:
    swept = 0.0 if entering else cut.curve.sweep
    place = cut.curve.point_at(swept)
    begin, end = (way.far, place) if entering else (place, way.far)
    purpose: Purpose = "lead_in" if entering else "lead_out"
    feed = cut.radial_pass.lead_feed or cut.radial_pass.feed
    if way.centre is not None and cut.radial_pass.lead_feed is None:
        radius = cut.curve.radius_at(swept)
        feed = lead_feed(feed, helix.side, radius, helix.cutter.diameter / 2, way.radius)
    kind: Kind = "line" if way.centre is None else "arc"
    return Segment(
        kind, purpose, begin, end, way.centre, way.sense, way.sweep, feed, cut.number, cut.start
    )  # fmt: skip


def _straight(arc: Segment, begin: Point, end: Point) -> Segment:
    return arc._replace(kind="line", begin=begin, end=end, centre=None, sense=None, sweep=0.0)


def _in_form(helix: Helix, segment: Segment) -> Iterator[Segment]:
    if helix.chord_tolerance is None:
        return shorter_arcs(segment, helix.greatest_sweep)
    return chords(segment, helix.chord_tolerance)


def _link(helix: Helix, place: Point | None, to: Point) -> Iterator[Segment]:
    """Yield the way to a lead-in: along the axis of a hole, or over the top of a boss."""
    if helix.side == "internal":
        axis_z = clear_z(helix) if place is None else place.z
        stops = [Point(*helix.centre, axis_z), Point(*helix.centre, to.z), to]
    else:
        stops = [Point(to.x, to.y, clear_z(helix)), to]
        if place is not None and above_one_another(place, to):
            stops = [to]
        elif place is not None:
            stops.insert(0, Point(place.x, place.y, clear_z(helix)))
    if place is None:
        begin, stops = stops[0], stops[1:]
    else:
        begin = place
    for stop in stops:
        if same_place(begin, stop, helix.cutter.diameter):
            continue
        down = stop.z < begin.z and (place is None or helix.side == "external")
        feed = helix.plunge_feed if down else None
        purpose: Purpose = "plunge" if down else "approach" if place is None else "link"
        yield Segment("rapid" if feed is None else "line", purpose, begin, stop, feed=feed)
        begin = stop


def _away(helix: Helix, place: Point) -> Iterator[Segment]:
    top = clear_z(helix)
    if helix.side == "internal":
        axis = Point(*helix.centre, place.z)
        if not same_place(axis, place, helix.cutter.diameter):
            yield Segment("rapid", "retract", place, axis)
        place = axis
    yield Segment("rapid", "retract", place, Point(place.x, place.y, top))
