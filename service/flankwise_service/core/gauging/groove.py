"""The groove a wire or ball lies in: all of a thread that doesn't depend on its measured size."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flankwise_service.core.errors import BadInput, Fault, Faults, NoSource
from flankwise_service.core.threads.model import BasicProfile, Side

LEAST_LENGTH = 1e-4
GREATEST_LENGTH = 1e4
LEAST_FLANK_ANGLE = 1.0
GREATEST_FLANK_ANGLE = 60.0
GREATEST_LEAD_ANGLE = 45.0


@dataclass(frozen=True, slots=True)
class Groove:
    """Axial groove of a parallel thread; lengths in one unit, angles in degrees.

    Flank angles are measured from a plane square to the axis. At the pitch diameter the groove is
    half a pitch wide, whatever the number of starts.
    """

    pitch: float
    lead: float
    flank_angle_upper: float
    flank_angle_lower: float
    side: Side = "external"

    @property
    def is_symmetric(self) -> bool:
        """Whether both flanks have the same angle."""
        return self.flank_angle_upper == self.flank_angle_lower


def groove_of(basic: BasicProfile, side: Side) -> Groove:
    """Return the groove of a basic profile, on its `side`, in the profile's unit.

    Refused (NoSource) for a taper thread: a wire there touches anvils that aren't parallel to the
    axis, and no formula for it is stored.
    """
    if basic.taper:
        detail = "over-wire sizes are for parallel threads; this one is tapered"
        raise NoSource(
            Fault("/basic", "tapered", detail, "gauge it with taper gauges", basic.taper)
        )
    return Groove(
        float(basic.pitch),
        float(basic.lead),
        basic.flank_angle_upper,
        basic.flank_angle_lower,
        side,
    )


def lead_angle(lead: float, diameter: float) -> float:
    """Return the lead angle in degrees at `diameter`: tan(lead angle) = lead / (pi diameter).

    Source: ASME B1.7-2006 (lead angle); Machinery's Handbook 31, p. 1978 table 4a prints it.

    >>> round(lead_angle(1 / 40, 0.0958), 3)
    4.748
    """
    return math.degrees(math.atan2(lead, math.pi * diameter))


def refuse_bad_groove(groove: Groove, faults: Faults) -> None:
    """Note every fault of a groove's own figures, pointers below /groove."""
    for name in ("pitch", "lead"):
        _within_lengths(faults, f"/groove/{name}", getattr(groove, name), name)
    for name in ("flank_angle_upper", "flank_angle_lower"):
        faults.within(
            f"/groove/{name}",
            getattr(groove, name),
            least=0.0,
            greatest=GREATEST_FLANK_ANGLE,
            name=name.replace("_", " "),
            unit="degrees",
        )
    both = groove.flank_angle_upper + groove.flank_angle_lower
    faults.need(
        not both < 2 * LEAST_FLANK_ANGLE,
        "/groove/flank_angle_upper",
        "too_steep",
        f"the flanks stand {both:g} degrees apart; a wire can't rest on them",
        f"flank angles need to add up to {2 * LEAST_FLANK_ANGLE:g} degrees or more",
        both,
    )
    faults.need(
        not groove.lead < groove.pitch * (1 - 1e-9),
        "/groove/lead",
        "lead_below_pitch",
        f"lead {groove.lead:g} is below the pitch {groove.pitch:g}",
        "lead is starts times pitch",
        groove.lead,
    )


def refuse_bad_sizes(groove: Groove, pitch_diameter: float, wire: float | None) -> None:
    """Raise BadInput unless groove, pitch diameter and wire (or ball) can be worked with."""
    faults = Faults()
    refuse_bad_groove(groove, faults)
    _within_lengths(faults, "/pitch_diameter", pitch_diameter, "pitch diameter")
    if wire is not None:
        _within_lengths(faults, "/wire", wire, "wire diameter")
    faults.raise_any(BadInput)
    angle = lead_angle(groove.lead, pitch_diameter)
    faults.within(
        "/pitch_diameter",
        angle,
        least=0.0,
        greatest=GREATEST_LEAD_ANGLE,
        name="lead angle at the pitch diameter",
        unit="degrees",
    )
    if wire is not None:
        faults.within(
            "/wire",
            wire / groove.pitch,
            least=0.05,
            greatest=5.0,
            name="wire diameter over pitch",
        )
        faults.need(
            wire < pitch_diameter,
            "/wire",
            "wire_too_big",
            f"wire or ball {wire:g} is as big as the pitch diameter {pitch_diameter:g}",
            "take a wire near the best wire size",
            wire,
        )
    faults.raise_any(BadInput)


def _within_lengths(faults: Faults, pointer: str, value: float, name: str) -> None:
    faults.within(pointer, value, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name=name)
