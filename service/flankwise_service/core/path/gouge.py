"""Whether a lead-in or lead-out cuts into the flanks of the thread it leads to.

While the cutter sinks in, its tooth has to stay inside the groove that the helix will cut. In the
half plane at angle b a tooth at place P covers, at radius r, z_P +- w(rho) with rho the distance
from the cutter axis; the groove's edge there is L b / 2 pi + U(r), with U the greatest over t of
L t / 2 pi + w(rho(t)) along the helix. What sticks out is the gouge.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import Fault, Impossible, plain
from flankwise_service.core.path.direction import advance, turn
from flankwise_service.core.path.entry import Contact, lead
from flankwise_service.core.path.reach import arc_radius_of, off_distance
from flankwise_service.core.path.request import Entry, Helix
from flankwise_service.core.path.runs import curve_of, runs
from flankwise_service.core.path.segment import Point, Segment

Array = NDArray[np.float64]
STEPS = 24
"""Places along the lead."""
DEPTHS = 4
"""Radii over the depth of the thread."""
ANGLES = 48
"""Half planes, over the angle in which the cutter touches."""
SHARES = np.arange(STEPS + 1) / STEPS
ASIDE = np.linspace(-1.0, 1.0, ANGLES + 1)
TURNED = np.linspace(-1.0, 1.0, 16 * ANGLES + 1)[8 * ANGLES - 1 :]
"""From one step before 0, for a peak at 0."""
GREATEST_GOUGE = 0.001
"""In pitches: below what any class of thread can feel."""


def lead_gouge(helix: Helix, entry: Entry, radial_pass: int = 0) -> float:
    """Return the greatest depth, along Z, of a lead into either flank; 0 where it stays inside.

    `radial_pass` counts from 0. Straight threads; a taper thread is taken at its first contact.
    The request has to be one that `check_helix` passes.

    >>> from flankwise_service.core.cutting.cutter import Cutter, Tooth
    >>> from flankwise_service.core.path.request import RadialPass
    >>> cutter = Cutter(6.0, 3, Tooth(30, 30, 0.15, 0.9))
    >>> job = Helix("internal", "right", "climb", 1.25, 10.0, 6.65, cutter,
    ...             (RadialPass(1.0, 120.0),), 0.1, 5.0)
    >>> lead_gouge(job, "half_arc")
    0.0
    """
    way = _lead_from_angle_zero(helix, entry, radial_pass)
    per_rad = advance(helix.hand) * helix.lead / (2 * math.pi)
    worst = _deepest(
        way, helix.cutter.tooth, helix.cutter.diameter / 2, helix.blank_diameter / 2, per_rad,
        helix.side == "internal",
    )  # fmt: skip
    return worst if worst > 1e-6 * helix.pitch else 0.0


@lru_cache(maxsize=64)  # a plan asks four times for the same lead: in and out, of two paths
def _deepest(
    way: Segment, tooth: Tooth, cutter_radius: float, blank_radius: float, per_rad: float,
    internal: bool,
) -> float:  # fmt: skip
    """Return the greatest depth into either flank of a lead to angle 0 and z = 0.

    Infinite where the cutter is too small for the depth, so that no groove is there to stay in.
    """
    radius = math.hypot(way.end.x, way.end.y)
    root = radius + cutter_radius if internal else radius - cutter_radius
    # not the root itself: only the very tip reaches it, and at a single angle
    radii = blank_radius + (root - blank_radius) * np.linspace(0.0, 0.98, DEPTHS)
    touch = _touching_angle(blank_radius, radius, cutter_radius)
    rho, off_groove = _beside_lead(_places(way), radii, per_rad, touch)
    rho_in_helix, climbed = _beside_helix(radii, radius, per_rad, touch)

    def beyond(angle: float) -> Array:
        """Return how far the tooth in the lead reaches beyond the groove, were z that of it."""
        edges = _peaks(climbed + _half_width(tooth, angle, cutter_radius, rho_in_helix))
        with np.errstate(invalid="ignore"):  # no groove and no tooth: told below
            return _half_width(tooth, angle, cutter_radius, rho) - edges[:, None]

    upper = lower = beyond(tooth.flank_angle_upper)
    if tooth.flank_angle_lower != tooth.flank_angle_upper:
        lower = beyond(tooth.flank_angle_lower)
    deepest = float(np.maximum(upper + off_groove, lower - off_groove).max())
    return math.inf if math.isnan(deepest) else max(0.0, deepest)


def _touching_angle(blank_radius: float, radius: float, cutter_radius: float) -> float:
    """Return the half angle, in radians from the axis, in which the cutter meets the blank."""
    cos = (blank_radius**2 + radius**2 - cutter_radius**2) / (2 * blank_radius * radius)
    return 1.1 * math.acos(max(-1.0, min(1.0, cos))) + 1e-6


def refuse_gouge(helix: Helix) -> None:
    """Raise Impossible where a lead of the deepest pass cuts a flank by more than GREATEST_GOUGE.

    A lead-out is the mirror image of a lead-in and is measured as one.
    """
    radii = [radial_pass.radius for radial_pass in helix.passes]
    deepest = radii.index(min(radii) if helix.side == "external" else max(radii))
    allowed = GREATEST_GOUGE * helix.pitch
    faults: dict[str, Fault] = {}  # one radius serves both leads
    gouges = {e: lead_gouge(helix, e, deepest) for e in {helix.lead_in, helix.lead_out}}
    for name in ("lead_in", "lead_out"):
        entry = getattr(helix, name)
        gouge = gouges[entry]
        if gouge > allowed:
            arc = helix.lead_arc_radius if entry != "radial" else None
            at = f"/{name}" if arc is None else "/lead_arc_radius"
            faults.setdefault(
                at,
                Fault(
                    at,
                    "gouges_flank",
                    f"the {name.replace('_', '-')} by {entry.replace('_', ' ')} would cut "
                    f"{plain(gouge, 4)} into a flank; {plain(allowed, 4)} is allowed",
                    "use another lead"
                    if arc is None
                    else "leave lead_arc_radius out, so that it follows from the thread, or use "
                    "another lead",
                    entry if arc is None else arc,
                ),
            )
    if faults:
        raise Impossible(*faults.values())


def _lead_from_angle_zero(helix: Helix, entry: Entry, radial_pass: int) -> Segment:
    """Return a lead-in that meets the curve at angle 0 and z = 0 of an axis at the origin."""
    curve = curve_of(helix, helix.passes[radial_pass], next(runs(helix)))
    radius = curve.radius
    contact = Contact(Point(radius, 0.0, 0.0), (0.0, 0.0), radius, curve.sense, curve.slope)
    arc, off = arc_radius_of(helix, entry, radius), off_distance(helix, radius)
    way = lead(entry, helix.side, contact, arc, off, True)
    return Segment(
        "line" if way.centre is None else "arc", "lead_in", way.far, contact.place, way.centre,
        way.sense, way.sweep,
    )  # fmt: skip


def _half_width(tooth: Tooth, flank_angle: float, cutter_radius: float, rho: Array) -> Array:
    """Return the half width at distances from the cutter axis; -inf beyond the tooth's tip."""
    width = tooth.tip_width / 2 + (cutter_radius - rho) * math.tan(math.radians(flank_angle))
    return np.where(rho <= cutter_radius, width, -np.inf)


def _beside_helix(radii: Array, radius: float, per_rad: float, touch: float) -> tuple[Array, Array]:
    """Return, by radii of the half plane 0 and places of the helix: distance from the cutter axis
    that stands there, and the height it has climbed.

    Upward only: the other flank is the mirror image.
    """
    turned = TURNED * touch
    deep = radii[:, None]
    square = (deep**2 + radius**2) - (2 * radius * deep) * np.cos(turned)
    return np.sqrt(square, out=square), abs(per_rad) * turned


def _peaks(rows: Array) -> Array:
    """Return the maximum of each row, by the parabola through its greatest value's neighbours."""
    tops = np.clip(rows.argmax(axis=1), 1, rows.shape[1] - 2).tolist()
    return np.array(
        [_peak(*row[top - 1 : top + 2].tolist()) for row, top in zip(rows, tops, strict=True)]
    )


def _peak(before: float, top: float, after: float) -> float:
    bend = 2 * top - before - after
    lift = (after - before) ** 2 / (8 * bend) if 0 < bend < math.inf else 0.0
    return max(before, top + lift, after)


def _places(way: Segment) -> tuple[Array, Array, Array]:
    """Return x, y and z of the places looked at along a lead."""
    (x, y, z), (end_x, end_y, end_z) = way.begin, way.end
    climbed = z + (end_z - z) * SHARES
    if way.centre is None or way.sense is None:
        return x + (end_x - x) * SHARES, y + (end_y - y) * SHARES, climbed
    centre_x, centre_y = way.centre
    turned_rad = math.radians(turn(way.sense) * way.sweep) * SHARES
    cos, sin = np.cos(turned_rad), np.sin(turned_rad)
    x, y = x - centre_x, y - centre_y
    return centre_x + x * cos - y * sin, centre_y + x * sin + y * cos, climbed


def _beside_lead(
    places: tuple[Array, Array, Array], radii: Array, per_rad: float, touch: float
) -> tuple[Array, Array]:
    """Return, by places of the lead, radii and half planes: distance from the cutter axis, and
    height above the groove's middle."""
    x, y, z = (ordinate[:, None, None] for ordinate in places)
    aside = ASIDE * touch
    deep, square = radii[:, None], x * x + y * y
    square = (deep**2 + square) - (2 * deep * np.sqrt(square)) * np.cos(aside)
    return np.sqrt(square, out=square), (z - per_rad * np.arctan2(y, x)) - per_rad * aside
