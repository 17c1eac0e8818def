"""Which values a thread path can be asked for with."""

from __future__ import annotations

from flankwise_service.core.errors import Faults, plain
from flankwise_service.core.path.direction import DIRECTIONS
from flankwise_service.core.path.lengths import (
    GREATEST_FEED,
    GREATEST_LENGTH,
    LEAST_LENGTH,
    choose,
)
from flankwise_service.core.path.request import ENTRIES, SWEEPS, Helix

MOST_PASSES = 1000
MOST_STARTS = 100
MOST_ROWS = 200
MOST_TURNS = 100_000
"""Turns of the helix in one radial pass, all starts together."""
GREATEST_TAPER = 0.5


def value_faults(helix: Helix) -> Faults:
    """Return every value of a request that is outside its range.

    >>> from flankwise_service.core.cutting.cutter import Cutter, Tooth
    >>> from flankwise_service.core.path.request import RadialPass
    >>> cutter = Cutter(6.0, 3, Tooth(30, 30, 0.15, 0.9))
    >>> job = Helix("internal", "right", "climb", 0.0, 10.0, 6.65, cutter,
    ...             (RadialPass(1.0, 120.0),), 0.1, 5.0)
    >>> [fault.pointer for fault in value_faults(job).found]
    ['/pitch']
    """
    faults = Faults()
    _check_choices(helix, faults)
    _check_lengths(helix, faults)
    _check_rows(helix, faults)
    _check_passes(helix, faults)
    return faults


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


def _whole(faults: Faults, name: str, value: float, greatest: int) -> None:
    _length(faults, name, value, 1, greatest)
    faults.need(
        not isinstance(value, float),
        f"/{name}",
        "not_whole",
        f"{name} has to be a whole number, it is {value!r}",
        f"give a whole number from 1 to {greatest}",
        value,
    )


def _check_lengths(helix: Helix, faults: Faults) -> None:
    for name in ("pitch", "length", "blank_diameter", "clearance", "clearance_height"):
        _length(faults, name, getattr(helix, name), LEAST_LENGTH)
    for name in ("lead_arc_radius", "relief_width", "chord_tolerance", "radial_tolerance"):
        value = getattr(helix, name)
        if value is not None:
            _length(faults, name, value, 1e-7)
    for index in (0, 1):
        _length(faults, f"centre/{index}", helix.centre[index], -GREATEST_LENGTH)
    _whole(faults, "starts", helix.starts, MOST_STARTS)
    _length(faults, "start_angle", helix.start_angle, -360, 360)
    _length(faults, "straight_lead", helix.straight_lead, 0)
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
        _length(faults, f"cutter/tooth/{name}", getattr(helix.cutter.tooth, name), 0, 80)


def _check_rows(helix: Helix, faults: Faults) -> None:
    cutter = helix.cutter
    _whole(faults, "cutter/rows", cutter.rows, MOST_ROWS)
    if cutter.rows <= 1:
        return
    row_pitch = cutter.row_pitch
    faults.need(
        row_pitch is not None and abs(row_pitch - helix.pitch) <= 0.01 * helix.pitch,
        "/cutter/row_pitch",
        "row_pitch",
        f"a cutter of {cutter.rows} rows needs its rows one pitch apart, {plain(helix.pitch)}",
        f"give row_pitch {plain(helix.pitch)}, or a single-tooth cutter",
        row_pitch,
    )
    faults.need(
        abs(cutter.row_taper - helix.taper) <= 1e-6,
        "/cutter/row_taper",
        "row_taper",
        f"rows ground to a taper of {plain(cutter.row_taper)} can't cut a thread of taper "
        f"{plain(helix.taper)}",
        f"give a cutter of row_taper {plain(helix.taper)}, or a single-tooth cutter",
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
