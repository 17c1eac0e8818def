"""The groove as cut, measured the way a thread is measured on a bench.

Every figure comes from the exact edges (envelope): none from the nominal triangle, but for those
that say so.
"""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible, plain
from flankwise_service.core.form.flanks import (
    FlankAsCut,
    flank_as_cut,
    functional_radius,
    root_fillet_radius,
    root_width,
)
from flankwise_service.core.form.model import GREATEST_LENGTH, LEAST_LENGTH, Cut, checked
from flankwise_service.core.form.pitchline import (
    flank_angles_of,
    pitch_line,
    triangle_pitch_radius,
)
from flankwise_service.core.form.sampling import (
    CrestLeft,
    Sampled,
    crest_as_cut,
    sample,
    sharpened,
)
from flankwise_service.core.form.tolerance import ToleranceUse, check_limits, tolerance_use
from flankwise_service.core.threads.model import Side

LEAST_POINTS, MOST_POINTS = 16, 20_000


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
    crest, left_by, sampled = sharpened(cut, crest, left_by, sampled, points)
    pitch_at, *at_pitch = pitch_line(cut)
    _check_pitch_line(cut, sampled, pitch_at)
    nominal = flank_angles or flank_angles_of(cut)
    flanks = [flank_as_cut(cut, sampled, n, nominal[n], pitch_at, at_pitch[n]) for n in (0, 1)]
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


def _check_pitch_line(cut: Cut, sampled: Sampled, pitch_at: float) -> None:
    """Refuse a groove whose pitch line lies off its own flanks."""
    least, most = float(sampled.width.min()), float(sampled.width.max())
    if least < cut.pitch / 2 < most:
        return
    raise Impossible(
        Fault(
            "/passes",
            "no_pitch_line",
            f"the groove is {plain(least, 5)} wide at its root and {plain(most, 5)} at its "
            "crest: nowhere half"
            f" the pitch, {plain(cut.pitch / 2, 5)}; its pitch line would lie at radius "
            f"{plain(pitch_at, 5)}",
            "cut to another depth, or use a tooth whose tip and flank angle suit the pitch",
            most,
        )
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
    faults.need(
        cut.side == "external" or crest_radius >= cut.cutter_radius,
        "/crest_radius",
        "hole_smaller_than_cutter",
        f"a cutter of radius {plain(cut.cutter_radius)} doesn't enter a hole of radius"
        f" {plain(crest_radius)}",
        "use a smaller cutter, or bore the hole larger",
        crest_radius,
    )
    crest, _ = crest_as_cut(cut, crest_radius)
    depth = cut.outward * (cut.root_radius - crest)
    faults.need(
        depth > 1e-6 * cut.root_radius,
        "/passes",
        "cuts_nothing",
        f"the tooth reaches radius {plain(cut.root_radius)} and the crest lies at {plain(crest)}:"
        " nothing is cut",
        "give a centre radius that reaches beyond the crest",
        cut.deepest.centre_radius,
    )
    faults.raise_any(Impossible)
