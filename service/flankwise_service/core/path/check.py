"""What makes a thread path impossible, each said with its figure before a segment is made."""

from __future__ import annotations

import math
from dataclasses import replace

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    Impossible,
    at_least,
    plain,
    plain_beyond,
    plain_greatest,
    plain_least,
)
from flankwise_service.core.path.entry import withdrawal
from flankwise_service.core.path.lengths import refuse_too_many
from flankwise_service.core.path.reach import (
    arc_radius_limits,
    arc_radius_of,
    far_distance,
    off_distance,
)
from flankwise_service.core.path.request import Entry, Helix, RadialPass, tooth_half_width
from flankwise_service.core.path.runs import (
    depth_below_length,
    height_above_face,
    run_height,
    total_turns,
)
from flankwise_service.core.path.spiral import chord_angle
from flankwise_service.core.path.taper import taper_pieces
from flankwise_service.core.path.values import MOST_TURNS, value_faults

MOST_BLUNT_STEPS = 40
EPSILON = 1e-9


def check_helix(helix: Helix, *, body_may_trim: bool = False) -> None:
    """Raise a refusal with every fault of a thread's request; else return.

    No pass may be deeper than the tooth, because the cutter's body would mill the crest away,
    unless `body_may_trim`: the caller then answers for the crest.

    Raises:
        BadInput: a value is outside its range.
        Impossible: the values can't be cut together, or the path would be too long to make.

    >>> from flankwise_service.core.cutting.cutter import Cutter, Tooth
    >>> from flankwise_service.core.path.request import RadialPass
    >>> cutter = Cutter(6.0, 3, Tooth(30, 30, 0.15, 0.9))
    >>> job = Helix("internal", "right", "climb", 1.25, 10.0, 6.1, cutter,
    ...             (RadialPass(0.9, 120.0),), 0.1, 5.0)
    >>> check_helix(job)
    Traceback (most recent call last):
    flankwise_service.core.errors.Impossible: a cutter of diameter 6 doesn't enter a hole of 6.1 \
with 0.1 of clearance all round
    """
    value_faults(helix).raise_any(BadInput)
    faults = Faults()
    _check_turns(helix)
    _check_order(helix, faults)
    _check_room(helix, faults)
    for index, radial_pass in enumerate(helix.passes):
        _check_reach(helix, radial_pass, f"/passes/{index}/radius", faults)
        if not body_may_trim:
            _check_tooth(helix, radial_pass, f"/passes/{index}/radius", faults)
    faults.raise_any(Impossible)
    _check_leads(helix, faults)
    faults.raise_any(Impossible)


def segments_at_most(helix: Helix) -> float:
    """Return an upper bound of the number of segments `thread_path` yields."""
    each = 360 / helix.greatest_sweep
    widest = max(radial_pass.radius for radial_pass in helix.passes) + helix.taper * helix.length
    widest = max(widest, helix.lead_arc_radius or 0.0)
    if helix.chord_tolerance is not None:
        each = 360 / chord_angle(widest, helix.chord_tolerance)
    elif helix.taper > 0 and helix.radial_tolerance is not None:
        # a tenth more for what first order leaves out
        each = max(
            each, 1.1 * taper_pieces(helix.taper * helix.lead / 2, 1.0, 360, helix.radial_tolerance)
        )
    turns = run_height(helix) / helix.lead
    # each lead arc turns at most half a turn, in pieces no finer than the thread's; 5 links
    in_one = turns * each + 1 + 2 * (each / 2 + 1) + 7
    blunt = MOST_BLUNT_STEPS * helix.starts * (in_one + each) if helix.blunt_start else 0.0
    return in_one * total_turns(helix) / turns + blunt


def _check_turns(helix: Helix) -> None:
    turns = total_turns(helix) / len(helix.passes)
    if turns > MOST_TURNS:
        raise Impossible(
            Fault(
                "/length",
                "too_many_turns",
                f"the thread takes {plain(turns)} turns in one radial pass; at most {MOST_TURNS} "
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
            f"a cutter of diameter {plain(helix.cutter.diameter)} doesn't enter a hole of "
            f"{plain(helix.blank_diameter)} with {plain(helix.clearance)} of clearance all round",
            f"give a cutter of at most {plain_greatest(greatest)}",
            helix.cutter.diameter,
        )
    if helix.blunt_start:
        _check_blunt(helix, faults)
    if helix.relief_width is not None:
        width = 2 * tooth_half_width(helix.cutter.tooth)
        needed = plain_least(width)
        faults.need(
            at_least(helix.relief_width, width),
            "/relief_width",
            "relief_too_narrow",
            f"a relief {plain_beyond(helix.relief_width, needed)} wide doesn't take the tooth, "
            f"{needed} wide",
            f"give a relief at least {needed} wide",
            helix.relief_width,
        )


def _check_blunt(helix: Helix, faults: Faults) -> None:
    least = helix.pitch / MOST_BLUNT_STEPS
    faults.need(
        at_least(helix.cutter.tooth.tip_width, least),
        "/cutter/tooth/tip_width",
        "tip_too_narrow",
        f"a tip {plain(helix.cutter.tooth.tip_width)} wide takes more than {MOST_BLUNT_STEPS} "
        "steps to "
        "mill the thin start of the thread away",
        f"give a tip at least {plain_least(least)} wide, or leave the blunt start out",
        helix.cutter.tooth.tip_width,
    )
    faults.need(
        helix.length >= helix.pitch,
        "/length",
        "too_short_for_blunt_start",
        f"a blunt start takes a pitch of thread, {plain(helix.pitch)}; this is "
        f"{plain(helix.length)} long",
        f"give a length of at least {plain_least(helix.pitch)}, or leave the blunt start out",
        helix.length,
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
        f"at its least radius, {plain(least)}, the path would cut across the thread's axis",
        f"give a radius greater by more than {plain_least(must_pass - least)}",
        radial_pass.radius,
    )
    off = withdrawal(helix.side, deepest, cutter_radius, blank_radius)
    limit = blank_radius + (cutter_radius if helix.side == "external" else -cutter_radius)
    side = "less" if helix.side == "external" else "greater"
    faults.need(
        off > 0,
        at,
        "cuts_air",
        f"a centre path of radius {plain(deepest)} doesn't reach the blank",
        f"give a radius {side} than {plain(limit)}",
        radial_pass.radius,
    )


def _check_tooth(helix: Helix, radial_pass: RadialPass, at: str, faults: Faults) -> None:
    """Refuse a pass deeper than the tooth, at the face: the cutter's body would take the crest."""
    outward = helix.side == "internal"
    away, tooth = 1.0 if outward else -1.0, helix.cutter.tooth.depth
    # What is given of a taper boss or hole is its far end: the face is less, or more.
    face = (helix.blank_diameter + away * helix.taper * helix.length) / 2
    limit = face + away * (tooth - helix.cutter.diameter / 2)
    deep = tooth + away * (radial_pass.radius - limit)
    if deep > tooth * (1 + 1e-9):
        told = f"most {plain_greatest(limit)}" if outward else f"least {plain_least(limit)}"
        faults.add(
            Fault(
                at,
                "deeper_than_tooth",
                f"a pass of radius {plain(radial_pass.radius)} goes {plain(deep, 5)} deep; the "
                "tooth is "
                f"{plain(tooth)} deep, so the cutter's body would mill the crest away",
                f"give a radius of at {told}, or a cutter with a deeper tooth",
                radial_pass.radius,
                least=None if outward else limit,
                greatest=limit if outward else None,
            )
        )


def _check_order(helix: Helix, faults: Faults) -> None:
    """Refuse passes that run backwards: the first would cut the most, and those after it air.

    A spring pass repeats the radius before it.
    """
    outward = helix.side == "internal"
    deepest = helix.passes[0].radius
    for index, radial_pass in enumerate(helix.passes):
        radius = radial_pass.radius
        if (deepest - radius if outward else radius - deepest) > EPSILON:
            faults.add(
                Fault(
                    f"/passes/{index}/radius",
                    "pass_backwards",
                    f"pass {index + 1} at radius {plain(radius)} cuts less deep than a pass before "
                    f"it, {plain(deepest)}",
                    "order the passes from the shallowest to the deepest: give "
                    + (
                        f"{plain_least(deepest)} or more"
                        if outward
                        else f"{plain_greatest(deepest)} or less"
                    ),
                    radius,
                    least=deepest if outward else None,
                    greatest=None if outward else deepest,
                )
            )
        deepest = max(deepest, radius) if outward else min(deepest, radius)


def _check_leads(helix: Helix, faults: Faults) -> None:
    told: set[str] = set()
    for name, entry in (("lead_in", helix.lead_in), ("lead_out", helix.lead_out)):
        for index, radial_pass in enumerate(helix.passes):
            short = max(_short_of(helix, entry, r) for r in _end_radii(helix, radial_pass))
            if short > EPSILON:
                fault = _lead_fault(helix, name, entry, index, short)
                if fault.pointer not in told:  # one radius, or one straight piece, serves both
                    faults.add(fault)
                told.add(fault.pointer)
                break


def _short_of(helix: Helix, entry: Entry, radius: float) -> float:
    """Return by how much a lead fails to leave the blank and its clearance; 0 or less is well."""
    away = 1.0 if helix.side == "external" else -1.0
    off = off_distance(helix, radius)
    arc = arc_radius_of(helix, entry, radius)
    ends = (far_distance(entry, away, radius, arc, off, s) for s in (0.0, helix.straight_lead))
    return max(away * (radius + away * off - end) for end in ends)


def _lead_fault(helix: Helix, name: str, entry: Entry, index: int, short: float) -> Fault:
    spoken = name.replace("_", "-")
    arc = "" if helix.lead_arc_radius is None else f" of radius {plain(helix.lead_arc_radius)}"
    if helix.straight_lead:
        arc += f" with a straight {plain(helix.straight_lead)}"
    detail = (
        f"the {spoken} by {entry.replace('_', ' ')}{arc} on pass {index + 1} would end "
        f"{plain(short, 4)} short of clear of the blank"
    )
    if helix.lead_arc_radius is not None:
        return _arc_radius_fault(helix, entry, helix.lead_arc_radius, detail)
    bare = replace(helix, straight_lead=0.0)
    radii = _end_radii(helix, helix.passes[index])
    at: str = f"/{name}"
    value: object = entry
    if max(_short_of(bare, entry, radius) for radius in radii) <= EPSILON:
        at, value = "/straight_lead", helix.straight_lead
    change = "use half_arc, a smaller cutter, less clearance, or a shorter straight lead"
    return Fault(at, "lead_in_material", detail, change, value)


def _arc_radius_fault(helix: Helix, entry: Entry, given: float, detail: str) -> Fault:
    """Return the fault of a lead arc's radius, with the radii that would do on every pass."""
    every = [
        arc_radius_limits(helix, entry, radius)
        for radial_pass in helix.passes
        for radius in _end_radii(helix, radial_pass)
    ]
    least, greatest = max(low for low, _ in every), min(high for _, high in every)
    change = "leave lead_arc_radius out, so that it follows from the thread"
    if not least <= greatest:
        words = f"{change}, or take a smaller cutter, less clearance, or a shorter straight lead"
        return Fault("/lead_arc_radius", "lead_in_material", detail, words, given)
    most = None if math.isinf(greatest) else greatest
    low = plain_least(least, 5)
    range_said = f"from {low} to {plain_greatest(most, 5)}" if most else f"of at least {low}"
    return Fault(
        "/lead_arc_radius", "lead_in_material", detail, f"give a radius {range_said}, or {change}",
        given, least=least, greatest=most,
    )  # fmt: skip
