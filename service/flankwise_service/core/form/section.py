"""The groove as cut, measured the way a thread is measured on a bench.

Every figure comes from the exact edges (envelope): none from the nominal triangle, but for those
that say so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible
from flankwise_service.core.form.envelope import Array, edges, profile_of
from flankwise_service.core.form.model import GREATEST_LENGTH, LEAST_LENGTH, Cut, checked
from flankwise_service.core.form.pitchline import (
    flank_angles_of,
    pitch_line,
    triangle_pitch_radius,
)
from flankwise_service.core.threads.model import Side

SIGNS = np.array([[1.0], [-1.0]])
LEAST_POINTS, MOST_POINTS = 16, 20_000
LEAST_STRAIGHT = 0.2
"""Share of the depth that the straight flank must hold to be fitted by itself."""
CrestLeft = Literal["blank", "tooth body", "sharp"]


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


@dataclass(frozen=True, slots=True)
class ToleranceUse:
    """What the form takes of the pitch diameter's tolerance, in percent of it."""

    tolerance: float
    used_by_overcut: float
    """Change of pitch diameter by the overcut, before any correction of the radius."""
    used_by_form: float
    """Functional effect: what a correction of the radius can't take back."""
    position: float
    """0 with the pitch diameter at its least limit, 100 at its greatest."""
    pitch_diameter_inside: bool
    functional_diameter_inside: bool


@dataclass(frozen=True, slots=True)
class Section:
    """The axial section of one groove as cut, and its measures."""

    side: Side
    pitch: float
    lead: float
    taper: float
    radius: tuple[float, ...]
    """Ascending, from root to crest (external) or crest to root (internal)."""
    upper_edge: tuple[float, ...]
    lower_edge: tuple[float, ...]
    """Z of both edges of the groove at each radius; Z = 0 is the middle of the tooth."""
    pitch_diameter: float
    """Where groove and ridge are equally wide; for a taper thread in the plane Z = 0."""
    triangle_pitch_diameter: float
    """Where the tooth alone, without the helix, would put it."""
    overcut_effect: float
    """pitch_diameter minus triangle_pitch_diameter."""
    functional_diameter: float
    """Pitch diameter of the perfect mating thread that just enters, over the fitted flanks."""
    functional_effect: float
    """functional_diameter minus pitch_diameter: + external, - internal."""
    major_diameter: float
    minor_diameter: float
    root_width: float
    """Flat at the bottom of the groove."""
    root_radius: float
    """Least radius of the fillet between root and flank."""
    crest_width: float
    crest_left_by: CrestLeft
    """What the crest is: the blank as bored or turned, a crest cut back by the tooth's body
    (full-form cutters), or an edge where two grooves meet."""
    upper_flank: FlankAsCut
    lower_flank: FlankAsCut
    tolerance_use: ToleranceUse | None = None


class Sampled(NamedTuple):
    """Edges of the groove on a grid of radii, ascending; `reach` (2, n) as envelope.edges."""

    radius: Array
    reach: Array
    cone: Array
    """Radius carried along the taper into the plane Z = 0, (2, n); plain radius when parallel."""
    width: Array
    """Width of the groove along the thread's cone through each radius, (n,)."""


def section(
    cut: Cut,
    crest_radius: float,
    *,
    points: int = 200,
    flank_angles: tuple[float, float] | None = None,
    pitch_diameter_limits: tuple[float, float] | None = None,
    pitch_spread: float = 0.0,
) -> Section:
    """Return the groove that `cut` leaves in a blank whose crest lies at `crest_radius`.

    `crest_radius`: of the hole (internal) or the turned blank (external). `flank_angles`: the
    thread's own, at the upper and lower edge of the groove, degrees; the tooth's when not given.
    `pitch_diameter_limits`: least, greatest. `pitch_spread`: how far the grooves of the thread lie
    out of step with one another along the axis (multi-row cutters); it takes from the functional
    diameter. `points`: 16 to 20000 radii. Lengths in one unit.
    Raises BadInput and Impossible. Source: design of this project, proved against a mesh kernel.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> as_cut = section(cut, 3.3235)
    >>> round(as_cut.pitch_diameter, 4), round(as_cut.overcut_effect, 4)
    (7.2754, 0.0873)
    """
    checked(cut)
    _check(cut, crest_radius, points, flank_angles, pitch_diameter_limits, pitch_spread)
    crest, left_by = crest_as_cut(cut, crest_radius)
    sampled = sample(cut, crest, points)
    crest, left_by, sampled = _sharpened(cut, crest, left_by, sampled, points)
    pitch_at, *at_pitch = pitch_line(cut)
    _check_pitch_line(cut, sampled, pitch_at)
    nominal = flank_angles or flank_angles_of(cut)
    flanks = [_flank(cut, sampled, n, nominal[n], pitch_at, at_pitch[n]) for n in (0, 1)]
    functional = functional_radius(cut, sampled, flanks, pitch_spread)
    triangle = triangle_pitch_radius(cut)
    crest_width = cut.pitch - float(sampled.width[0 if cut.outward > 0 else -1])
    root = cut.root_radius
    outer, inner = (root, crest) if cut.outward > 0 else (crest, root)
    return Section(
        side=cut.side,
        pitch=cut.pitch,
        lead=cut.lead,
        taper=cut.taper,
        radius=tuple(sampled.radius.tolist()),
        upper_edge=tuple(sampled.reach[0].tolist()),
        lower_edge=tuple((-sampled.reach[1]).tolist()),
        pitch_diameter=2 * pitch_at,
        triangle_pitch_diameter=2 * triangle,
        overcut_effect=2 * (pitch_at - triangle),
        functional_diameter=2 * functional,
        functional_effect=2 * (functional - pitch_at),
        major_diameter=2 * outer,
        minor_diameter=2 * inner,
        root_width=root_width(cut),
        root_radius=root_fillet_radius(cut),
        crest_width=max(crest_width, 0.0),
        crest_left_by=left_by,
        upper_flank=flanks[0],
        lower_flank=flanks[1],
        tolerance_use=tolerance_use(
            2 * pitch_at, 2 * triangle, 2 * functional, pitch_diameter_limits
        ),
    )


def crest_as_cut(cut: Cut, crest_radius: float) -> tuple[float, CrestLeft]:
    """Return where the crest lies: that of the blank, or cut back by the tooth's own body."""
    body = cut.deepest.centre_radius + cut.outward * (cut.cutter_radius - cut.tooth.depth)
    if cut.outward * (body - crest_radius) > 0:
        return body, "tooth body"
    return crest_radius, "blank"


def sample(cut: Cut, crest: float, points: int) -> Sampled:
    """Return the edges on `points` radii, closer together toward the root, where they bend."""
    root = cut.root_radius
    along = np.linspace(0.0, 1.0, points) ** 1.5
    radius = root + (crest - root) * along
    radius = radius if radius[0] < radius[-1] else radius[::-1]
    return _sampled(cut, radius, edges(cut, radius))


def _sampled(cut: Cut, radius: Array, reach: Array) -> Sampled:
    if cut.taper == 0.0:
        return Sampled(radius, reach, np.stack((radius, radius)), reach[0] + reach[1])
    cone = radius - cut.taper / 2 * SIGNS * reach
    width = sum(np.interp(radius, cone[n], reach[n]) for n in (0, 1))
    return Sampled(radius, reach, cone, np.asarray(width))


def _sharpened(
    cut: Cut, crest: float, left_by: CrestLeft, sampled: Sampled, points: int
) -> tuple[float, CrestLeft, Sampled]:
    """Cut the crest back to where neighbouring grooves meet, if they do."""
    if float(sampled.width.max()) <= cut.pitch:
        return crest, left_by, sampled
    crest = _crossing(sampled, cut.pitch)
    return crest, "sharp", sample(cut, crest, points)


def _crossing(sampled: Sampled, width: float) -> float:
    """Return the radius at which the sampled groove has `width`, between two samples by a line."""
    radius, wide = sampled.radius, sampled.width
    if wide[0] > wide[-1]:
        radius, wide = radius[::-1], wide[::-1]
    return float(np.interp(width, wide, radius))


def _check_pitch_line(cut: Cut, sampled: Sampled, pitch_at: float) -> None:
    """Refuse a groove whose pitch line lies off its own flanks."""
    least, most = float(sampled.width.min()), float(sampled.width.max())
    if least < cut.pitch / 2 < most:
        return
    raise Impossible(
        Fault(
            "/passes",
            "no_pitch_line",
            f"the groove is {least:.5g} wide at its root and {most:.5g} at its crest: nowhere half"
            f" the pitch, {cut.pitch / 2:.5g}; its pitch line would lie at radius {pitch_at:.5g}",
            "cut to another depth, or use a tooth whose tip and flank angle suit the pitch",
            most,
        )
    )


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


def _flank(
    cut: Cut, sampled: Sampled, row: int, nominal: float, pitch_radius: float, at_pitch: float
) -> FlankAsCut:
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


def tolerance_use(
    pitch_diameter: float, triangle: float, functional: float, limits: tuple[float, float] | None
) -> ToleranceUse | None:
    """Return the shares of the pitch diameter's tolerance, or None without limits."""
    if limits is None:
        return None
    least, most = limits
    tolerance = most - least
    return ToleranceUse(
        tolerance=tolerance,
        used_by_overcut=100 * abs(pitch_diameter - triangle) / tolerance,
        used_by_form=100 * abs(functional - pitch_diameter) / tolerance,
        position=100 * (pitch_diameter - least) / tolerance,
        pitch_diameter_inside=least <= pitch_diameter <= most,
        functional_diameter_inside=least <= functional <= most,
    )


def check_limits(limits: tuple[float, float] | None, faults: Faults) -> None:
    """Note a fault unless the pitch diameter's limits are two lengths, least first."""
    if limits is None:
        return
    for n, value in enumerate(limits):
        faults.within(
            f"/pitch_diameter_limits/{n}",
            value,
            least=LEAST_LENGTH,
            greatest=GREATEST_LENGTH,
            name="limit of pitch diameter",
        )
    faults.need(
        limits[0] < limits[1],
        "/pitch_diameter_limits",
        "limits_crossed",
        f"pitch diameter limits {limits[0]:g} and {limits[1]:g} leave no tolerance",
        "give the least limit first, then the greatest",
    )


def _check(
    cut: Cut,
    crest_radius: float,
    points: int,
    flank_angles: tuple[float, float] | None,
    limits: tuple[float, float] | None,
    pitch_spread: float,
) -> None:
    faults = Faults()
    longest = GREATEST_LENGTH
    faults.within(
        "/crest_radius", crest_radius, least=LEAST_LENGTH, greatest=longest, name="crest radius"
    )
    faults.within("/points", points, least=LEAST_POINTS, greatest=MOST_POINTS, name="points")
    faults.within("/pitch_spread", pitch_spread, least=0.0, greatest=longest, name="pitch spread")
    for n, angle in enumerate(flank_angles or ()):
        faults.within(
            f"/flank_angles/{n}",
            angle,
            least=0.0,
            greatest=80.0,
            name="flank angle",
            unit="degrees",
        )
    check_limits(limits, faults)
    faults.raise_any(BadInput)
    crest, _ = crest_as_cut(cut, crest_radius)
    depth = cut.outward * (cut.root_radius - crest)
    faults.need(
        depth > 1e-6 * cut.root_radius,
        "/passes",
        "cuts_nothing",
        f"the tooth reaches radius {cut.root_radius:g} and the crest lies at {crest:g}:"
        " nothing is cut",
        "give a centre radius that reaches beyond the crest",
        cut.deepest.centre_radius,
    )
    faults.raise_any(Impossible)
