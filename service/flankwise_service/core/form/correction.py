"""The radius of the centre path that lands the pitch diameter on its aim, from the form.

At the aim's radius the groove must be half a pitch wide: one unknown, the depth, found
from the exact edges at a few depths at a time (pitchline). No section is sampled.
"""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    Impossible,
    at_least,
    plain,
    plain_beyond,
    plain_least,
)
from flankwise_service.core.form.model import GREATEST_LENGTH, LEAST_LENGTH, Cut, checked
from flankwise_service.core.form.pitchline import (
    depth_for,
    pitch_line,
    triangle_pitch_radius,
)
from flankwise_service.core.form.tolerance import check_limits
from flankwise_service.core.stock.blank import at_fraction


@dataclass(frozen=True, slots=True)
class RadiusCorrection:
    """The centre path that lands the pitch diameter on its aim."""

    aim: float
    """Pitch diameter aimed at."""
    centre_radius: float
    """Of the deepest pass: what the path is to be made with."""
    triangle_centre_radius: float
    """What the nominal triangle would have asked for."""
    change: float
    """centre_radius minus triangle_centre_radius."""
    pitch_diameter_without: float
    """Pitch diameter that the triangle's radius would really cut."""
    error_without: float
    """pitch_diameter_without minus aim."""
    root_diameter: float
    """At the bottom of the groove: major of an internal, minor of an external thread, as cut."""


def aimed(limits: tuple[float, float], fraction: float = 0.5) -> float:
    """Return the pitch diameter at `fraction` of its tolerance, counted from the least limit.

    >>> aimed((7.188, 7.348))
    7.268
    """
    faults = Faults()
    check_limits(limits, faults)
    faults.within("/fraction", fraction, least=0.0, greatest=1.0, name="fraction of the tolerance")
    faults.raise_any(BadInput)
    return at_fraction(*limits, fraction)


def radius_correction(cut: Cut, aim: float) -> RadiusCorrection:
    """Return the centre path whose groove, as really cut, has the pitch diameter `aim`.

    All passes of `cut` move together; where they stand now is only where the search begins, and
    `centre_radius` is that of the deepest. Raises BadInput, Impossible.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> found = radius_correction(cut, 7.268)
    >>> round(found.centre_radius, 4), round(found.error_without, 4)
    (0.9961, 0.0829)
    """
    checked(cut)
    faults = Faults()
    faults.within(
        "/aim", aim, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name="pitch diameter aimed at"
    )
    faults.raise_any(BadInput)
    triangle = cut.moved(cut.outward * (aim / 2 - triangle_pitch_radius(cut)))
    final = checked(cut.moved(depth_for(cut, aim / 2)))
    _check_depth(final, aim)
    without = 2 * pitch_line(triangle).radius
    change = final.deepest.centre_radius - triangle.deepest.centre_radius
    return RadiusCorrection(
        aim=aim,
        centre_radius=final.deepest.centre_radius,
        triangle_centre_radius=triangle.deepest.centre_radius,
        change=change,
        pitch_diameter_without=without,
        error_without=without - aim,
        root_diameter=2 * final.root_radius,
    )


def _check_depth(final: Cut, aim: float) -> None:
    """Refuse a tooth whose body would reach the pitch line before its tip is deep enough."""
    needed = final.outward * (final.root_radius - aim / 2)
    if at_least(final.tooth.depth, needed):
        return
    raise Impossible(
        Fault(
            "/tooth/depth",
            "tooth_too_shallow",
            f"the pitch line lies {plain(needed, 5)} above the root, the tooth is"
            f" {plain_beyond(final.tooth.depth, plain(needed, 5), 5)} deep",
            f"use a tooth at least {plain_least(needed, 5)} deep, or one with a wider tip",
            final.tooth.depth,
            needed,
        )
    )
