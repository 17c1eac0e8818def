"""What makes a thread path impossible, each said with its figure before a segment is made."""

from __future__ import annotations

import math

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible
from flankwise_service.core.path.direction import DIRECTIONS
from flankwise_service.core.path.entry import lead_arc_radius, withdrawal
from flankwise_service.core.path.lengths import (
    GREATEST_FEED,
    GREATEST_LENGTH,
    LEAST_LENGTH,
    choose,
    refuse_too_many,
)
from flankwise_service.core.path.request import (
    ENTRIES,
    ENTRY_SWEEP,
    SWEEPS,
    Entry,
    Helix,
    RadialPass,
    tooth_half_width,
)
from flankwise_service.core.path.runs import (
    depth_below_length,
    height_above_face,
    run_height,
    total_turns,
)
from flankwise_service.core.path.spiral import chord_angle
from flankwise_service.core.path.taper import taper_pieces

MOST_PASSES = 1000
MOST_STARTS = 100
MOST_ROWS = 200
MOST_TURNS = 100_000
"""Turns of the helix in one radial pass, all starts together."""
GREATEST_TAPER = 0.5
EPSILON = 1e-9


def check_helix(helix: Helix) -> None:
    """Raise a refusal with every fault of a thread's request; else return.

    Raises:
        BadInput: a value is outside its range.
        Impossible: the values can't be cut together, or the path would be too long to make.
    """
    faults = Faults()
    _check_choices(helix, faults)
    _check_lengths(helix, faults)
    _check_rows(helix, faults)
    _check_passes(helix, faults)
    faults.raise_any(BadInput)
    _check_turns(helix)
    _check_room(helix, faults)
    for index, radial_pass in enumerate(helix.passes):
        _check_reach(helix, radial_pass, f"/passes/{index}/radius", faults)
    faults.raise_any(Impossible)
    _check_leads(helix, faults)
    faults.raise_any(Impossible)


def _check_choices(helix: Helix, faults: Faults) -> None:
    sides, hands, ways = zip(*DIRECTIONS, strict=True)
    for name, allowed in (
        ("side", sides),
        ("hand", hands),
        ("milling", ways),
        ("lead_in", ENTRIES),
        ("lead_out", ENTRIES),
        ("greatest_sweep", SWEEPS),
    ):
        choose(faults, name, getattr(helix, name), tuple(dict.fromkeys(allowed)))


def _length(
    faults: Faults, name: str, value: float, least: float, greatest: float = GREATEST_LENGTH
) -> None:
    faults.within(f"/{name}", value, least=least, greatest=greatest, name=name.replace("_", " "))


def _check_lengths(helix: Helix, faults: Faults) -> None:
    for name in ("pitch", "length", "blank_diameter", "clearance", "clearance_height"):
        _length(faults, name, getattr(helix, name), LEAST_LENGTH)
    for name in ("lead_arc_radius", "relief_width", "chord_tolerance", "radial_tolerance"):
        value = getattr(helix, name)
        if value is not None:
            _length(faults, name, value, 1e-7)
    for index in (0, 1):
        _length(faults, f"centre/{index}", helix.centre[index], -GREATEST_LENGTH)
    _length(faults, "starts", helix.starts, 1, MOST_STARTS)
    _length(faults, "start_angle", helix.start_angle, -360, 360)
    _length(faults, "overlap", helix.overlap, 0, 360)
    _length(faults, "taper", helix.taper, 0, GREATEST_TAPER)
    _length(faults, "turns_below_length", helix.turns_below_length, 0, MOST_TURNS)
    if helix.turns_above_face is not None:
        _length(faults, "turns_above_face", helix.turns_above_face, 0, MOST_TURNS)
    if helix.plunge_feed is not None:
        _length(faults, "plunge_feed", helix.plunge_feed, LEAST_LENGTH, GREATEST_FEED)
    _length(faults, "cutter/diameter", helix.cutter.diameter, LEAST_LENGTH)
    _length(faults, "cutter/tip_to_tooth", helix.cutter.tip_to_tooth, 0)
    _length(faults, "cutter/tooth/tip_width", helix.cutter.tooth.tip_width, 0)
    _length(faults, "cutter/tooth/depth", helix.cutter.tooth.depth, LEAST_LENGTH)
    for name in ("flank_angle_upper", "flank_angle_lower"):
        _length(faults, f"cutter/tooth/{name}", getattr(helix.cutter.tooth, name), 0, 75)


def _check_rows(helix: Helix, faults: Faults) -> None:
    cutter = helix.cutter
    _length(faults, "cutter/rows", cutter.rows, 1, MOST_ROWS)
    if cutter.rows <= 1:
        return
    row_pitch = cutter.row_pitch
    faults.need(
        row_pitch is not None and abs(row_pitch - helix.pitch) <= 0.01 * helix.pitch,
        "/cutter/row_pitch",
        "row_pitch",
        f"a cutter of {cutter.rows} rows needs its rows one pitch apart, {helix.pitch:g}",
        f"give row_pitch {helix.pitch:g}, or a single-tooth cutter",
        row_pitch,
    )
    faults.need(
        abs(cutter.row_taper - helix.taper) <= 1e-6,
        "/cutter/row_taper",
        "row_taper",
        f"rows ground to a taper of {cutter.row_taper:g} can't cut a thread of taper "
        f"{helix.taper:g}",
        f"give a cutter of row_taper {helix.taper:g}, or a single-tooth cutter",
        cutter.row_taper,
    )


def _check_passes(helix: Helix, faults: Faults) -> None:
    faults.need(
        1 <= len(helix.passes) <= MOST_PASSES,
        "/passes",
        "number_of_passes",
        f"{len(helix.passes)} radial passes are asked for; from 1 to {MOST_PASSES} can be made",
        f"give from 1 to {MOST_PASSES} passes",
        len(helix.passes),
    )
    for index, radial_pass in enumerate(helix.passes[:MOST_PASSES]):
        at = f"passes/{index}"
        _length(faults, f"{at}/radius", radial_pass.radius, LEAST_LENGTH)
        _length(faults, f"{at}/feed", radial_pass.feed, LEAST_LENGTH, GREATEST_FEED)
        if radial_pass.lead_feed is not None:
            _length(faults, f"{at}/lead_feed", radial_pass.lead_feed, LEAST_LENGTH, GREATEST_FEED)
    if helix.taper > 0 and helix.chord_tolerance is None:
        faults.need(
            helix.radial_tolerance is not None,
            "/radial_tolerance",
            "needed",
            "the arcs of a taper thread are as good as a radial tolerance, and none is given",
            "give radial_tolerance, or chord_tolerance for straight lines",
        )


def segments_at_most(helix: Helix) -> float:
    """Return an upper bound of the number of segments `thread_path` yields."""
    each = 360 / helix.greatest_sweep
    widest = max(radial_pass.radius for radial_pass in helix.passes) + helix.taper * helix.length
    widest = max(widest, helix.lead_arc_radius or 0.0)
    if helix.chord_tolerance is not None:
        each = 360 / chord_angle(widest, helix.chord_tolerance)
    elif helix.taper > 0 and helix.radial_tolerance is not None:
        each = taper_pieces(helix.taper * helix.lead / 2, 1.0, 360, helix.radial_tolerance)
    turns = run_height(helix) / helix.lead
    # each lead arc turns at most half a turn, in pieces no finer than the thread's; 5 links
    in_one = turns * each + 1 + 2 * (each / 2 + 1) + 5
    return in_one * total_turns(helix) / turns


def _check_turns(helix: Helix) -> None:
    turns = total_turns(helix) / len(helix.passes)
    if turns > MOST_TURNS:
        raise Impossible(
            Fault(
                "/length",
                "too_many_turns",
                f"the thread takes {turns:g} turns in one radial pass; at most {MOST_TURNS} "
                "are made",
                f"shorten the thread, or give a coarser pitch: at most {MOST_TURNS} turns",
                helix.length,
                greatest=helix.length * MOST_TURNS / turns,
            )
        )
    refuse_too_many(segments_at_most(helix), "/passes")


def _check_room(helix: Helix, faults: Faults) -> None:
    if helix.side == "internal":
        greatest = helix.blank_diameter - 2 * helix.clearance
        faults.need(
            helix.cutter.diameter <= greatest + EPSILON,
            "/cutter/diameter",
            "does_not_enter",
            f"a cutter of diameter {helix.cutter.diameter:g} doesn't enter a hole of "
            f"{helix.blank_diameter:g} with {helix.clearance:g} of clearance all round",
            f"give a cutter of at most {greatest:g}",
            helix.cutter.diameter,
        )
    if helix.relief_width is not None:
        width = 2 * tooth_half_width(helix.cutter.tooth)
        faults.need(
            helix.relief_width >= width,
            "/relief_width",
            "relief_too_narrow",
            f"a relief {helix.relief_width:g} wide doesn't take the tooth, {width:g} wide",
            f"give a relief at least {width:g} wide",
            helix.relief_width,
        )


def _end_radii(helix: Helix, radial_pass: RadialPass) -> tuple[float, float]:
    """Return the least and greatest radius of a pass's curve over its height."""
    shrink = helix.taper / 2 if helix.side == "internal" else -helix.taper / 2
    low = -helix.length - depth_below_length(helix)
    high = low + max(run_height(helix), helix.length + height_above_face(helix))
    ends = (radial_pass.radius + shrink * low, radial_pass.radius + shrink * high)
    return min(ends), max(ends)


def _check_reach(helix: Helix, radial_pass: RadialPass, at: str, faults: Faults) -> None:
    cutter_radius, blank_radius = helix.cutter.diameter / 2, helix.blank_diameter / 2
    least, greatest = _end_radii(helix, radial_pass)
    deepest = least if helix.side == "external" else greatest
    must_pass = cutter_radius if helix.side == "external" else 0.0
    faults.need(
        least > must_pass,
        at,
        "crosses_axis",
        f"at its least radius, {least:g}, the path would cut across the thread's axis",
        f"give a radius greater by more than {must_pass - least:g}",
        radial_pass.radius,
    )
    off = withdrawal(helix.side, deepest, cutter_radius, blank_radius)
    limit = blank_radius + (cutter_radius if helix.side == "external" else -cutter_radius)
    side = "less" if helix.side == "external" else "greater"
    faults.need(
        off > 0,
        at,
        "cuts_air",
        f"a centre path of radius {deepest:g} doesn't reach the blank",
        f"give a radius {side} than {limit:g}",
        radial_pass.radius,
    )


def off_distance(helix: Helix, radius: float) -> float:
    """Return how far from a curve of `radius` a lead must begin: blank left, and clearance."""
    off = withdrawal(helix.side, radius, helix.cutter.diameter / 2, helix.blank_diameter / 2)
    return max(off, 0.0) + helix.clearance


def arc_radius_of(helix: Helix, entry: Entry, radius: float) -> float:
    """Return the radius of the lead arc at a curve of `radius`, as given or by default."""
    if helix.lead_arc_radius is not None:
        return helix.lead_arc_radius
    return lead_arc_radius(entry, helix.side, radius, off_distance(helix, radius))


def far_distance(entry: Entry, away: float, radius: float, arc: float, off: float) -> float:
    """Return how far from the thread's axis a lead begins; `away` is +1 external, -1 internal."""
    if entry == "radial":
        return radius + away * off
    if ENTRY_SWEEP[entry] == 180:
        return abs(radius + 2 * away * arc)
    return math.hypot(radius + away * arc, arc)


def _check_leads(helix: Helix, faults: Faults) -> None:
    for name, entry in (("lead_in", helix.lead_in), ("lead_out", helix.lead_out)):
        for index, radial_pass in enumerate(helix.passes):
            short = max(_short_of(helix, entry, r) for r in _end_radii(helix, radial_pass))
            if short > EPSILON:
                faults.add(_lead_fault(helix, name, entry, index, short))
                break


def _short_of(helix: Helix, entry: Entry, radius: float) -> float:
    """Return by how much a lead fails to leave the blank and its clearance; 0 or less is well."""
    away = 1.0 if helix.side == "external" else -1.0
    off = off_distance(helix, radius)
    arc = arc_radius_of(helix, entry, radius)
    return away * (radius + away * off - far_distance(entry, away, radius, arc, off))


def _lead_fault(helix: Helix, name: str, entry: Entry, index: int, short: float) -> Fault:
    spoken = name.replace("_", "-")
    arc = "" if helix.lead_arc_radius is None else f" of radius {helix.lead_arc_radius:g}"
    return Fault(
        f"/{name}",
        "lead_in_material",
        f"the {spoken} by {entry.replace('_', ' ')}{arc} on pass {index + 1} would end "
        f"{short:g} short of clear of the blank",
        "use half_arc with its radius left to default, a smaller cutter, or less clearance",
        entry,
    )
