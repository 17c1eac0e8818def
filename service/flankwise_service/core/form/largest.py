"""The greatest cutter for an internal thread, and how it moves with pitch and diameter.

What a cutter's size changes, and what not: once the radius is corrected, the flank that an upright
tooth leaves is the same for every cutter. It is the involute helicoid of base radius
lead / (2 pi tan a) (see envelope), which knows the lead and the flank angle, not the cutter. The
size decides three other things: how far off the pitch diameter is before the correction, how
shallow the root becomes by it (the major diameter may fall under its least limit), and whether the
cutter enters the hole at all.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from flankwise_service.core.errors import BadInput, Faults, plain
from flankwise_service.core.form.envelope import pass_edges
from flankwise_service.core.form.model import GREATEST_LENGTH, LEAST_LENGTH
from flankwise_service.core.form.profile import LEAST_SLOPE, Array, Profile
from flankwise_service.core.stock.blank import at_fraction

HALVINGS = 44
LEAST_SHARE_OF_HOLE = 0.02
TOLERANCE_BY_PITCH, TOLERANCE_BY_DIAMETER = 0.4, 0.1
DIAMETER_FACTORS = (0.5, 0.75, 1.0, 1.5, 2.0, 3.0)
PITCH_FACTORS = (0.5, 0.75, 1.0, 1.25, 1.5)
LimitedBy = Literal["overcut", "major diameter", "hole"]


class Hole(NamedTuple):
    """An internal thread to be cut, as far as the size of its cutter goes."""

    minor_diameter: float
    """Of the hole before threading."""
    pitch_diameter_least: float
    pitch_diameter_greatest: float
    major_diameter_least: float
    pitch: float
    tip_width: float
    """Of the tooth, before any rounding."""
    starts: int = 1
    flank_angle_upper: float = 30.0
    flank_angle_lower: float = 30.0


@dataclass(frozen=True, slots=True)
class LargestCutter:
    """The greatest cutter diameter, by each of three measures; the least of them rules.

    0 where no cutter at all would do.
    """

    diameter: float
    limited_by: LimitedBy
    share_of_hole: float
    """diameter over the hole's."""
    by_overcut: float
    """Greatest diameter whose overcut shifts the pitch diameter by no more than the share."""
    by_major_diameter: float
    """Greatest diameter that, corrected to the pitch diameter's aim, still cuts the least major
    diameter."""
    by_hole: float
    """Hole less twice the clearance."""


@dataclass(frozen=True, slots=True)
class TrendRow:
    """The greatest cutter for a neighbouring thread of the same profile and class."""

    pitch: float
    pitch_diameter: float
    pitch_diameter_tolerance: float
    diameter: float
    share_of_hole: float
    limited_by: LimitedBy


def checked_hole(hole: Hole, share: float, clearance: float, fraction: float) -> None:
    """Refuse a hole that can't be worked out, with every fault found."""
    faults = Faults()
    for name in Hole._fields[:5]:
        faults.within(
            f"/hole/{name}",
            getattr(hole, name),
            least=LEAST_LENGTH,
            greatest=GREATEST_LENGTH,
            name=name.replace("_", " "),
        )
    faults.within("/hole/starts", hole.starts, least=1, greatest=100, name="starts")
    for name in ("flank_angle_upper", "flank_angle_lower"):
        angle = getattr(hole, name)
        faults.within(
            f"/hole/{name}", angle, least=0.5, greatest=80.0, name="flank angle", unit="degrees"
        )
    faults.within("/share", share, least=0.001, greatest=1.0, name="share of the tolerance")
    faults.within("/fraction", fraction, least=0.0, greatest=1.0, name="fraction of the tolerance")
    faults.within("/clearance", clearance, least=0.0, greatest=GREATEST_LENGTH, name="clearance")
    faults.raise_any(BadInput)
    least, most = hole.pitch_diameter_least, hole.pitch_diameter_greatest
    faults.need(
        hole.minor_diameter < least < most <= hole.major_diameter_least + hole.pitch,
        "/hole/pitch_diameter_least",
        "diameters_out_of_order",
        f"minor {plain(hole.minor_diameter)}, pitch {plain(least)} to {plain(most)} and major"
        f" {plain(hole.major_diameter_least)} don't make an internal thread",
        "give minor, then least and greatest pitch diameter, then major, in rising order",
        least,
    )
    faults.within(
        "/hole/tip_width",
        hole.tip_width,
        least=0.0,
        greatest=hole.pitch / 2 * (1 - 1e-9),
        name="tip width",
    )
    faults.need(
        2 * clearance < hole.minor_diameter * (1 - LEAST_SHARE_OF_HOLE),
        "/clearance",
        "no_room",
        f"a clearance of {plain(clearance)} all round leaves nothing of a hole of"
        f" {plain(hole.minor_diameter)}",
        "give a smaller clearance",
        clearance,
    )
    faults.raise_any(BadInput)


def largest_cutter(
    hole: Hole, share: float = 0.25, clearance: float = 0.0, fraction: float = 0.5
) -> LargestCutter:
    """Return the greatest cutter diameter for `hole`.

    `share`: part of the pitch diameter's tolerance that the overcut may shift it by, before any
    correction (0.25: our own choice, common practice, no source). `clearance`: radial, between
    cutter and hole as it enters. `fraction`: where in its tolerance the pitch diameter is aimed.
    Lengths in one unit. Raises BadInput.

    >>> m8 = Hole(6.647, 7.188, 7.348, 8.0, 1.25, 1.25 / 16)
    >>> found = largest_cutter(m8)
    >>> round(found.diameter, 2), found.limited_by
    (4.93, 'overcut')
    """
    checked_hole(hole, share, clearance, fraction)
    return largest_cutters((hole,), share, clearance, fraction)[0]


def largest_cutters(
    holes: Sequence[Hole], share: float, clearance: float, fraction: float
) -> tuple[LargestCutter, ...]:
    """Return the greatest cutter of each hole, all worked out at once; `holes` as checked.

    With the root at a given radius, the groove at a given radius widens with the cutter, so each
    measure is one halving search: for the overcut, half a pitch at the triangle's pitch line plus
    half the share; for the major diameter, half a pitch at the aim with the root at its least.
    """
    table = np.array(holes, dtype=np.float64).T
    minor, least, most, major, pitch, tip, _, upper, lower = table
    slopes = np.tan(np.radians(upper)) + np.tan(np.radians(lower))
    aim = at_fraction(least, most, fraction)
    root = aim / 2 + (pitch / 2 - tip) / slopes
    shifted = aim / 2 + share * (most - least) / 2
    by_overcut = 2 * _greatest_radius(table, root, shifted)
    by_major = 2 * _greatest_radius(table, major / 2, aim / 2)
    by_hole = minor - 2 * clearance
    return tuple(
        _ruled(*each)
        for each in zip(
            by_overcut.tolist(), by_major.tolist(), by_hole.tolist(), minor.tolist(), strict=True
        )
    )


def _ruled(by_overcut: float, by_major: float, by_hole: float, minor: float) -> LargestCutter:
    by_overcut, by_major = min(by_overcut, by_hole), min(by_major, by_hole)
    diameter = min(by_overcut, by_major)
    limited: LimitedBy = "hole"
    if diameter < by_hole:
        limited = "overcut" if by_overcut <= by_major else "major diameter"
    return LargestCutter(diameter, limited, diameter / minor, by_overcut, by_major, by_hole)


def _greatest_radius(table: Array, root: Array, at: Array) -> Array:
    """Return the greatest cutter radius whose groove to `root` is half a pitch wide at `at`.

    0 where no cutter does, the hole's radius where every one does. A cutter whose flank would have
    to reach past its own axis is none.
    """
    minor, pitch = table[0], table[4]
    least = np.maximum(root - at, minor * LEAST_SHARE_OF_HOLE / 2)
    low, high = least, minor / 2
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        fits = _width(table, root, at, middle) <= pitch / 2
        low, high = np.where(fits, middle, low), np.where(fits, high, middle)
    return np.where(low <= least, 0.0, low)


def _width(table: Array, root: Array, at: Array, radius: Array) -> Array:
    """Return the groove's width at radius `at`, cut to `root` by cutters of `radius`."""
    pitch, tip, starts = table[4], table[5], table[6]
    slope = np.maximum(np.tan(np.radians(table[7:9])), LEAST_SLOPE)[:, None, :]
    profile = Profile(slope, tip / 2, 0.0, radius, tip / 2 + 0 * slope, radius + 0 * slope)
    rise = np.asarray(pitch * starts / (2 * math.pi))
    both = pass_edges(at, (root - radius)[None, :], rise, 1.0, 0.0, profile)
    width: Array = both[0, 0] + both[1, 0]
    return width


def trend(
    hole: Hole,
    share: float = 0.25,
    clearance: float = 0.0,
    fraction: float = 0.5,
    *,
    diameter_factors: Sequence[float] = DIAMETER_FACTORS,
    pitch_factors: Sequence[float] = PITCH_FACTORS,
) -> tuple[TrendRow, ...]:
    """Return how the greatest cutter moves with pitch and diameter about `hole`.

    Each row scales the pitch diameter and the pitch; heights, tip width and clearance follow the
    pitch. The tolerance of the pitch diameter follows pitch^0.4 diameter^0.1, the law of
    ISO 965-1:2013 clause on T_D2 (from memory), so the rows show the trend of a class, not limits
    of size. Combinations finer or coarser than makes a thread are left out.
    """
    checked_hole(hole, share, clearance, fraction)
    holes, rows = [], []
    for by_pitch in pitch_factors:
        for by_diameter in diameter_factors:
            scaled = _scaled(hole, by_pitch, by_diameter)
            if scaled.minor_diameter > 2 * scaled.pitch * scaled.starts:
                holes.append(scaled)
    found = largest_cutters(holes, share, clearance, fraction) if holes else ()
    for each, largest in zip(holes, found, strict=True):
        rows.append(
            TrendRow(
                pitch=each.pitch,
                pitch_diameter=each.pitch_diameter_least,
                pitch_diameter_tolerance=each.pitch_diameter_greatest - each.pitch_diameter_least,
                diameter=largest.diameter,
                share_of_hole=largest.share_of_hole,
                limited_by=largest.limited_by,
            )
        )
    return tuple(rows)


def _scaled(hole: Hole, by_pitch: float, by_diameter: float) -> Hole:
    least = hole.pitch_diameter_least * by_diameter
    tolerance = hole.pitch_diameter_greatest - hole.pitch_diameter_least
    tolerance *= by_pitch**TOLERANCE_BY_PITCH * by_diameter**TOLERANCE_BY_DIAMETER
    inward = (hole.pitch_diameter_least - hole.minor_diameter) * by_pitch
    outward = (hole.major_diameter_least - hole.pitch_diameter_least) * by_pitch
    return hole._replace(
        minor_diameter=least - inward,
        pitch_diameter_least=least,
        pitch_diameter_greatest=least + tolerance,
        major_diameter_least=least + outward,
        pitch=hole.pitch * by_pitch,
        tip_width=hole.tip_width * by_pitch,
    )
