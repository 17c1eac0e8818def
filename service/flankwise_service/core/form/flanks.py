"""The flanks as cut, fitted by straight lines; the root between; what a mating thread feels."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from flankwise_service.core.form.model import Cut
from flankwise_service.core.form.pitchline import flank_angles_of
from flankwise_service.core.form.profile import profile_of
from flankwise_service.core.form.sampling import SIGNS, Sampled

LEAST_STRAIGHT = 0.2
"""Share of the depth that the straight flank must hold to be fitted by itself."""


@dataclass(frozen=True, slots=True)
class FlankAsCut:
    """One flank of the groove, fitted by a straight line."""

    angle: float
    """Of the fitted line, against a plane square to the axis."""
    nominal_angle: float
    angle_error: float
    form_deviation: float
    """Span, square to the flank, of the cut flank about a nominal flank through its pitch point."""
    straightness: float
    """Span, square to the flank, of the cut flank about its own fitted line."""
    overcut: float
    """How much farther along the axis the flank lies than the tooth alone would put it, at the
    pitch line."""
    begin_radius: float
    end_radius: float
    """The fit runs over these radii: from crest to where the tooth's straight flank ends."""
    cut_by_flank: bool
    """False when the lead is so coarse that the tooth's corner, not its flank, cuts the wall; the
    fit then covers the middle half of the depth."""


def root_width(cut: Cut) -> float:
    """Return the flat left at the bottom of the groove: the tip between its corner arcs."""
    tops = [cut.tooth.tip_radius * math.tan(math.radians(45 - a / 2)) for a in flank_angles_of(cut)]
    at_root = [p.shift for p in cut.passes if math.isclose(p[0], cut.deepest[0], rel_tol=1e-12)]
    return max(cut.tooth.tip_width - sum(tops), 0.0) + max(at_root) - min(at_root)


def root_fillet_radius(cut: Cut) -> float:
    """Return the least radius between root and flank: even a sharp corner leaves one.

    Near the root the corner, at distance R from its axis, climbs z = H sqrt(2 R dr / (r Rc)): a
    parabola of radius H^2 R / (r Rc), H = lead/(2 pi), r the root's radius. A tip arc adds its own.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> round(root_fillet_radius(cut), 4)
    0.0297
    """
    rise = cut.lead / (2 * math.pi)
    own = rise * rise * cut.cutter_radius / (cut.root_radius * cut.deepest.centre_radius)
    return cut.tooth.tip_radius + own


def _straight_limit(cut: Cut, row: int) -> float | None:
    """Return the radius at which the straight flank hands over to corner or arc, None if never."""
    profile = profile_of(cut.tooth, cut.cutter_radius)
    centre = cut.deepest.centre_radius
    base = cut.lead / (2 * math.pi) / float(profile.slope[row, 0, 0])
    if base >= centre:
        return None
    leg = math.sqrt(centre * centre - base * base)
    end = leg + cut.outward * float(profile.junction[row, 0, 0])
    return math.hypot(base, end) if end > 0 else None


def _zone(cut: Cut, sampled: Sampled, row: int) -> tuple[float, float, bool]:
    """Return the radii between which the flank is fitted, and whether the tooth's flank cut it."""
    low, high = float(sampled.radius[0]), float(sampled.radius[-1])
    depth = high - low
    limit = _straight_limit(cut, row)
    if limit is not None:
        zone = (low, min(high, limit)) if cut.outward > 0 else (max(low, limit), high)
        if zone[1] - zone[0] >= LEAST_STRAIGHT * depth:
            return *zone, True
    return low + depth / 4, high - depth / 4, False


def flank_as_cut(
    cut: Cut, sampled: Sampled, row: int, nominal: float, pitch_radius: float, at_pitch: float
) -> FlankAsCut:
    """Return one flank, fitted over the radii that the tooth's straight flank cuts.

    `row` 0 is the groove's upper edge, 1 its lower; `at_pitch` its reach where the thread's cone
    through `pitch_radius` meets it. Samples weigh by the length of flank they stand for.
    """
    low, high, by_flank = _zone(cut, sampled, row)
    held = _held(sampled, low, high)
    r, z = sampled.radius[held], sampled.reach[row][held]
    weight = np.concatenate((r[1:2] - r[:1], r[2:] - r[:-2], r[-1:] - r[-2:-1]))
    weight /= 2 * (r[-1] - r[0])
    mean_r, mean_z = float(weight @ r), float(weight @ z)
    dr, dz = r - mean_r, z - mean_z
    slope = float(weight @ (dr * dz)) / float(weight @ (dr * dr))
    angle = math.atan(-cut.outward * slope)
    lean = math.tan(math.radians(nominal))
    at_radius = pitch_radius + cut.taper / 2 * float(SIGNS[row, 0]) * at_pitch
    off = z - at_pitch + cut.outward * lean * (r - at_radius)
    tooth_slope = math.tan(math.radians(flank_angles_of(cut)[row]))
    tooth = cut.tooth.tip_width / 2 + abs(cut.root_radius - at_radius) * tooth_slope
    return FlankAsCut(
        angle=math.degrees(angle),
        nominal_angle=nominal,
        angle_error=math.degrees(angle) - nominal,
        form_deviation=float(np.ptp(off)) * math.cos(math.radians(nominal)),
        straightness=float(np.ptp(dz - slope * dr)) * math.cos(angle),
        overcut=at_pitch - tooth,
        begin_radius=low,
        end_radius=high,
        cut_by_flank=by_flank,
    )


def _held(sampled: Sampled, low: float, high: float) -> slice:
    """Return the samples whose radius lies from `low` to `high`."""
    radius = sampled.radius
    return slice(int(radius.searchsorted(low, "left")), int(radius.searchsorted(high, "right")))


def functional_radius(
    cut: Cut, sampled: Sampled, flanks: list[FlankAsCut], pitch_spread: float
) -> float:
    """Return the pitch radius, at Z = 0, of the perfect mating thread that just enters.

    Its flank keeps clear of the groove's edge over the fitted zone when, on each side,
    z + s r tan(a) <= A, A being the least of reach + s r tan(a) and s = +1 internal, -1 external.
    Where its ridge is half a pitch wide its two flanks lie on the cone r = r0 + k z; solved for r0.
    """
    total, slopes = -pitch_spread, 0.0
    for row, flank in enumerate(flanks):
        lean = cut.outward * math.tan(math.radians(flank.nominal_angle))
        held = _held(sampled, flank.begin_radius, flank.end_radius)
        least = float((sampled.reach[row][held] + lean * sampled.radius[held]).min())
        cone = 1 + cut.taper / 2 * float(SIGNS[row, 0]) * lean
        total += least / cone
        slopes += lean / cone
    return (total - cut.pitch / 2) / slopes
