"""Two measurements, before and after a change of the offset: how the thread answered.

Lengths in one unit. Source: arithmetic on the two; the bounds are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible, plain
from flankwise_service.core.gauging.correction import (
    GREATEST_RESPONSE,
    LEAST_RESPONSE,
    Correction,
    correction,
)
from flankwise_service.core.gauging.measure import Measured
from flankwise_service.core.threads.model import Side
from flankwise_service.core.units import Unit


@dataclass(frozen=True, slots=True)
class Response:
    """What the pitch diameter did when the offset was changed."""

    diameter_per_radius: float
    """Change of pitch diameter for one unit less of material kept; 2 is a rigid machine."""
    correction: Correction


def response(
    sizes: Sequence[Measured],
    changed_by: float,
    least: float,
    greatest: float,
    *,
    side: Side,
    pitch: float,
    unit: Unit,
    aim: float | None = None,
) -> Response:
    """Return how the thread answered a change of the offset, and the next correction by it.

    `sizes` are the pitch diameters measured before and after the offset was changed by
    `changed_by`. Deflection and built-up edge make the answer less than 2; the second correction
    uses the answer observed. Refused (Impossible) when the thread didn't answer, answered the
    wrong way, or out of all proportion: then another offset was changed, or another part measured.

    >>> from flankwise_service.core.gauging.measure import measured
    >>> told = response(
    ...     [measured(0.8286, 0.0001), measured(0.8252, 0.0001)], -0.002, 0.8216, 0.8270,
    ...     side="external", pitch=1 / 14, unit="in",
    ... )
    >>> round(told.diameter_per_radius, 3), told.correction.words
    (1.7, 'make the radius offset smaller by 0.0005 in')
    """
    before, after = _two(sizes, changed_by)
    moved = (after.pitch_diameter - before.pitch_diameter) / changed_by
    observed = (moved if side == "external" else -moved) + 0.0  # no minus zero in words
    if not LEAST_RESPONSE <= observed <= GREATEST_RESPONSE:
        raise Impossible(
            Fault(
                "/sizes/1",
                "no_answer",
                "the pitch diameter changed by "
                f"{plain(after.pitch_diameter - before.pitch_diameter, 4)} {unit} for "
                f"{plain(changed_by, 4)} {unit} of radius offset, {plain(observed, 2)} times "
                "where about 2 is expected",
                "check that the offset of the tool in use was changed, that the cutter is sharp "
                "and tight, and measure again",
                after.pitch_diameter,
            )
        )
    return Response(
        observed,
        correction(
            after,
            least,
            greatest,
            side=side,
            pitch=pitch,
            unit=unit,
            aim=aim,
            diameter_per_radius=observed,
        ),
    )


def _two(sizes: Sequence[Measured], changed_by: float) -> tuple[Measured, Measured]:
    faults = Faults()
    faults.need(
        len(sizes) == 2, "/sizes", "two_sizes", f"{len(sizes)} sizes given", "give before and after"
    )
    faults.within("/changed_by", changed_by, least=-100.0, greatest=100.0, name="offset change")
    faults.raise_any(BadInput)
    before, after = sizes
    noise = before.uncertainty + after.uncertainty
    faults.need(
        abs(changed_by) > noise,
        "/changed_by",
        "lost_in_uncertainty",
        f"a change of {plain(changed_by)} is lost in the measurements' uncertainty of "
        f"{plain(noise)}",
        "change the offset by more, or measure with a better gauge",
        changed_by,
    )
    faults.raise_any(BadInput)
    return before, after
