"""Which thread is it? From a measured crest diameter and pitch to ranked candidates.

The crest is the major diameter of an external thread and the minor diameter of an internal one.
Every designation held is indexed once, by pitch; the limits of size are worked out only
for those near. Lengths in `unit`. Source: the limits of each standard; the order of equals and
what counts as near are common practice, no source.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from flankwise_service.core.errors import BadInput, Faults, Refusal
from flankwise_service.core.threads.model import BasicProfile, Family, Limits, Side, Thread
from flankwise_service.core.threads.register import classes, designations, limits, parse
from flankwise_service.core.threads.sized import or_basic
from flankwise_service.core.threads.tell_apart import Difference, Known, differences
from flankwise_service.core.units import Unit, convert, from_mm, to_mm

LEAST_PITCH_MM, GREATEST_PITCH_MM = 0.05, 60.0
LEAST_DIAMETER_MM, GREATEST_DIAMETER_MM = 0.2, 1500.0
VAGUEST_DIAMETER_MM = 5.0
MOST_CANDIDATES = 50
_NEAR = 0.35
"""How far from its crest limits, in pitches, a thread is still worth naming."""
_PITCH_SLACK = 0.03
"""How far from its pitch, as a share of it, a thread is still worth naming."""
_VAGUEST_PITCH = 0.2
"""A pitch less sure than a fifth of itself names no thread."""
_CREST_SCALE, _PITCH_SCALE = 0.1, 0.01
"""What counts as one unit of misfit: a tenth of a pitch on the crest, a hundredth on the pitch."""
_UNLISTED = 3
_LIKELY: dict[str, int] = {
    "UNC": 0, "UNF": 0, "coarse": 0, "fine": 1, "NPT": 1, "G": 1, "UNEF": 1, "BSW": 1, "BSF": 1,
    "Rp": 2, "R": 1, "UN": 2, "UNS": 4,
}  # fmt: skip
"""Order of equals: what a shop meets more often comes first (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A thread that the measurement could be."""

    designation: str
    family: Family
    series: str
    pitch: float
    threads_per_inch: float
    pitch_difference: float
    """Measured less the candidate's."""
    crest_min: float
    """Over all classes of the size; for a taper thread, over its length."""
    crest_max: float
    outside_by: float
    """How far the measured crest lies outside crest_min to crest_max; 0 inside."""
    misfit: float
    """0 when pitch and crest agree within the uncertainties; candidates are ranked by it."""
    agrees: bool
    included_angle: float
    taper: float
    tells_apart: tuple[Difference, ...]
    """Against the first candidate; empty for the first."""


class _Entry(NamedTuple):
    pitch_mm: float
    diameter_mm: float
    order: int
    designation: str


@lru_cache(maxsize=1)
def _index() -> tuple[tuple[_Entry, ...], tuple[float, ...]]:
    """Return every designation held by rising pitch, and the pitches to search in."""
    entries = []
    for order, name in enumerate(designations()):
        thread = parse(name)
        pitch = to_mm(float(thread.pitch), thread.unit)
        diameter = to_mm(float(thread.diameter), thread.unit)
        entries.append(_Entry(pitch, diameter, order, name))
    entries.sort()
    return tuple(entries), tuple(entry.pitch_mm for entry in entries)


def identify(
    crest_diameter: float,
    *,
    side: Side,
    unit: Unit,
    pitch: float | None = None,
    threads_per_inch: float | None = None,
    diameter_uncertainty: float,
    pitch_uncertainty: float,
    most: int = 10,
) -> tuple[Candidate, ...]:
    """Return the threads it could be, likeliest first, with what would tell them apart.

    Give `pitch` or `threads_per_inch`, one of them. Uncertainties are half widths, in `unit`.
    An empty answer means that no thread held is near. Errors: BadInput.

    >>> identify(
    ...     0.870, side="external", unit="in", threads_per_inch=14,
    ...     diameter_uncertainty=0.001, pitch_uncertainty=0.0005,
    ... )[0].designation
    '7/8-14 UNF'
    """
    _refuse_bad(
        crest_diameter, pitch, threads_per_inch, diameter_uncertainty, pitch_uncertainty, unit, most
    )
    measured_pitch = pitch if pitch is not None else _pitch_of(threads_per_inch, unit)
    _refuse_vague(pitch_uncertainty, measured_pitch, unit)
    seen = _Seen(
        to_mm(crest_diameter, unit),
        to_mm(measured_pitch, unit),
        to_mm(diameter_uncertainty, unit),
        to_mm(pitch_uncertainty, unit),
        side,
    )
    close = [one for entry in _near(seen) if (one := _judged(entry, seen)) is not None]
    close.sort(key=lambda one: one.rank)
    first = close[0] if close else None
    return tuple(_candidate(one, first, seen, unit) for one in close[:most])


class _Seen(NamedTuple):
    crest: float
    pitch: float
    crest_uncertainty: float
    pitch_uncertainty: float
    side: Side


class _Judged(NamedTuple):
    rank: tuple[float, int, float, int]
    size: Known
    outside_by: float


def _pitch_of(threads_per_inch: float | None, unit: Unit) -> float:
    """Return the pitch in `unit`; _refuse_bad saw to it that threads per inch are given."""
    return convert(1 / float(threads_per_inch or 1), "in", unit)


def _refuse_vague(pitch_uncertainty: float, pitch: float, unit: Unit) -> None:
    faults = Faults()
    faults.within(
        "/pitch_uncertainty",
        pitch_uncertainty,
        least=0.0,
        greatest=_VAGUEST_PITCH * pitch,
        name="pitch uncertainty",
        unit=unit,
    )
    faults.raise_any(BadInput)


def _near(seen: _Seen) -> Iterator[_Entry]:
    """Yield the entries whose pitch and basic diameter aren't far from what was measured.

    A crest lies at most two pitches below the basic diameter; a taper may take a tenth off.
    """
    entries, pitches = _index()
    slack = seen.pitch_uncertainty + _PITCH_SLACK * seen.pitch
    first = bisect_left(pitches, seen.pitch - slack)
    last = bisect_right(pitches, seen.pitch + slack)
    for entry in entries[first:last]:
        room = seen.crest_uncertainty + entry.pitch_mm
        low = 0.9 * entry.diameter_mm - 2 * entry.pitch_mm - seen.crest_uncertainty
        if low <= seen.crest <= entry.diameter_mm + room:
            yield entry


@lru_cache(maxsize=8192)
def _window(designation: str, side: Side) -> tuple[Thread, BasicProfile, float, float] | None:
    """Return least and greatest crest in mm over all classes; None where there's no such side."""
    thread = parse(designation)
    by_side = classes(thread)
    if side not in by_side:
        return None
    held = list(_held(designation, by_side[side], side))
    if not held:
        return None
    spans = [_crest(one) for one in held]
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    return thread, held[0].basic, to_mm(low, thread.unit), to_mm(high, thread.unit)


def _held(designation: str, names: tuple[str, ...], side: Side) -> Iterator[Limits]:
    for name in [f"{designation}-{one}" for one in names] or [designation]:
        try:
            yield limits(name, side=side)
        except Refusal:  # a class this size doesn't have, or one without stored figures
            continue


def _crest(one: Limits) -> tuple[float, float]:
    """Return the least and greatest crest diameter of limits; of a taper thread, along it."""
    external = one.side == "external"
    span = one.major_diameter if external else one.minor_diameter
    basic = one.basic.major_diameter if external else one.basic.minor_diameter
    low, high = float(or_basic(span.min, basic)), float(or_basic(span.max, basic))
    if not one.basic.taper:
        return low, high
    if external:
        return low, max(high, float(one.thread.diameter))
    along = one.extra.get("useful_thread_length") or one.extra.get("effective_length")
    return low - one.basic.taper * float(along or 0), high


def _judged(entry: _Entry, seen: _Seen) -> _Judged | None:
    found = _window(entry.designation, seen.side)
    if found is None:
        return None
    thread, basic, low, high = found
    outside = max(low - seen.crest, seen.crest - high, 0.0)
    beyond = max(0.0, outside - seen.crest_uncertainty) / entry.pitch_mm
    if beyond > _NEAR:
        return None
    off_pitch = max(0.0, abs(seen.pitch - entry.pitch_mm) - seen.pitch_uncertainty)
    misfit = math.hypot(beyond / _CREST_SCALE, off_pitch / entry.pitch_mm / _PITCH_SCALE)
    closeness = abs(seen.pitch - entry.pitch_mm) / entry.pitch_mm + outside / entry.pitch_mm
    likely = _LIKELY.get(thread.series, _UNLISTED)
    rank = (misfit, likely, closeness, entry.order)
    return _Judged(rank, Known(thread, basic, (low, high), entry.pitch_mm), outside)


def _candidate(one: _Judged, first: _Judged | None, seen: _Seen, unit: Unit) -> Candidate:
    size, thread = one.size, one.size.thread
    return Candidate(
        designation=thread.designation,
        family=thread.family,
        series=thread.series,
        pitch=from_mm(size.pitch_mm, unit),
        threads_per_inch=_threads_per_inch(size),
        pitch_difference=round(from_mm(seen.pitch - size.pitch_mm, unit), 9),
        crest_min=from_mm(size.crest[0], unit),
        crest_max=from_mm(size.crest[1], unit),
        outside_by=from_mm(one.outside_by, unit),
        misfit=one.rank[0],
        agrees=one.rank[0] == 0,
        included_angle=size.basic.flank_angle_upper + size.basic.flank_angle_lower,
        taper=size.basic.taper,
        tells_apart=()
        if first is None or one is first
        else tuple(differences(size, first.size, unit)),
    )


def _threads_per_inch(size: Known) -> float:
    counted = size.thread.threads_per_inch
    return to_mm(1.0, "in") / size.pitch_mm if counted is None else float(counted)


def _refuse_bad(
    crest_diameter: float,
    pitch: float | None,
    threads_per_inch: float | None,
    diameter_uncertainty: float,
    pitch_uncertainty: float,
    unit: Unit,
    most: int,
) -> None:
    faults = Faults()

    def within(name: str, value: float, least: float, greatest: float) -> None:
        faults.within(
            f"/{name}",
            value,
            least=from_mm(least, unit),
            greatest=from_mm(greatest, unit),
            name=name.replace("_", " "),
            unit=unit,
        )

    within("crest_diameter", crest_diameter, LEAST_DIAMETER_MM, GREATEST_DIAMETER_MM)
    within("diameter_uncertainty", diameter_uncertainty, 0.0, VAGUEST_DIAMETER_MM)
    within("pitch_uncertainty", pitch_uncertainty, 0.0, GREATEST_PITCH_MM)
    if (pitch is None) == (threads_per_inch is None):
        missing = pitch is None
        faults.need(
            False,
            "/pitch",
            "pitch_once",
            "neither pitch nor threads per inch is given"
            if missing
            else "the pitch is given twice",
            "give one of pitch and threads_per_inch" + ("" if missing else ", leave the other out"),
        )
    if pitch is not None:
        within("pitch", pitch, LEAST_PITCH_MM, GREATEST_PITCH_MM)
    if threads_per_inch is not None:
        faults.within(
            "/threads_per_inch",
            threads_per_inch,
            least=0.5,
            greatest=500.0,
            name="threads per inch",
        )
    faults.within("/most", most, least=1, greatest=MOST_CANDIDATES, name="most")
    faults.raise_any(BadInput)
