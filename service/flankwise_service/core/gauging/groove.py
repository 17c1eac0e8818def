"""The groove a wire or ball lies in: all of a thread that doesn't depend on its measured size."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    NoSource,
    at_least,
    plain,
    plain_beyond,
    plain_least,
)
from flankwise_service.core.threads.model import BasicProfile, Side

LEAST_LENGTH = 1e-5
GREATEST_LENGTH = 1e4
LEAST_FLANK_ANGLE = 1.0
GREATEST_FLANK_ANGLE = 60.0
GREATEST_LEAD_ANGLE = 45.0
LEAST_WIRE, GREATEST_WIRE = 0.05, 5.0
"""In pitches."""


@dataclass(frozen=True, slots=True)
class Groove:
    """Axial groove of a parallel thread; lengths in one unit, angles in degrees.

    Flank angles are measured from a plane square to the axis. At the pitch diameter the groove is
    half a pitch wide, whatever the number of starts. One that can't exist is refused when made
    (BadInput, every fault at once): lengths from 0.00001 to 10000, flank angles from 0 to 60
    degrees that add up to 2 or more, lead a whole number of pitches.

    >>> Groove(0.1, 0.05, 30.0, 30.0)
    Traceback (most recent call last):
    flankwise_service.core.errors.BadInput: lead 0.05 isn't a whole number of pitches of 0.1
    """

    pitch: float
    lead: float
    flank_angle_upper: float
    flank_angle_lower: float
    side: Side = "external"

    def __post_init__(self) -> None:
        if self._can_be():
            return
        faults = Faults()
        for name in ("pitch", "lead"):
            within_lengths(faults, f"/{name}", getattr(self, name), name)
        for name in ("flank_angle_upper", "flank_angle_lower"):
            faults.within(
                f"/{name}",
                getattr(self, name),
                least=0.0,
                greatest=GREATEST_FLANK_ANGLE,
                name=name.replace("_", " "),
                unit="degrees",
            )
        faults.raise_any(BadInput)
        self._refuse_flat_or_short()

    def _can_be(self) -> bool:
        """Return whether all is well: looked at first, because words for each value take longer."""
        upper, lower = self.flank_angle_upper, self.flank_angle_lower
        if not (
            LEAST_LENGTH <= self.pitch <= GREATEST_LENGTH
            and LEAST_LENGTH <= self.lead <= GREATEST_LENGTH
            and 0.0 <= upper <= GREATEST_FLANK_ANGLE
            and 0.0 <= lower <= GREATEST_FLANK_ANGLE
        ):
            return False
        starts = self.lead / self.pitch
        whole = starts > 0.5 and abs(starts - round(starts)) < 1e-6 * starts
        return whole and upper + lower >= 2 * LEAST_FLANK_ANGLE

    def _refuse_flat_or_short(self) -> None:
        faults = Faults()
        both = self.flank_angle_upper + self.flank_angle_lower
        faults.need(
            both >= 2 * LEAST_FLANK_ANGLE,
            "/flank_angle_upper",
            "too_steep",
            f"the flanks stand {plain(both)} degrees apart; a wire can't rest on them",
            f"flank angles need to add up to {2 * LEAST_FLANK_ANGLE:g} degrees or more",
            both,
        )
        starts = self.lead / self.pitch
        faults.need(
            abs(starts - round(starts)) < 1e-6 * starts,
            "/lead",
            "lead_not_starts",
            f"lead {plain(self.lead)} isn't a whole number of pitches of {plain(self.pitch)}",
            "lead is starts times pitch",
            self.lead,
        )
        faults.raise_any(BadInput)

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

    Errors: BadInput outside 0.00001 to 10000.

    Source: ASME B1.7-2006 (lead angle); Machinery's Handbook 31, p. 1978 table 4a prints it.

    >>> round(lead_angle(1 / 40, 0.0958), 3)
    4.748
    """
    refuse_lengths({"lead": lead, "diameter": diameter})
    return math.degrees(math.atan2(lead, math.pi * diameter))


def refuse_bad_sizes(groove: Groove, pitch_diameter: float, wire: float | None) -> None:
    """Raise BadInput unless pitch diameter and wire (or ball) can be worked with."""
    sizes = {"pitch_diameter": pitch_diameter}
    refuse_lengths(sizes if wire is None else {**sizes, "wire": wire})
    least = groove.lead / (math.pi * math.tan(math.radians(GREATEST_LEAD_ANGLE)))
    thinnest, thickest = LEAST_WIRE * groove.pitch, GREATEST_WIRE * groove.pitch
    fits = wire is None or (thinnest <= wire <= thickest and wire < pitch_diameter)
    if fits and pitch_diameter >= least:
        return
    faults = Faults()
    if not at_least(pitch_diameter, least):
        faults.add(_too_steep(groove, pitch_diameter, least))
    if wire is not None:
        faults.within(
            "/wire", wire, least=thinnest, greatest=thickest, name="wire or ball diameter"
        )
        faults.need(
            wire < pitch_diameter,
            "/wire",
            "wire_too_big",
            f"wire or ball {plain(wire)} is as big as the pitch diameter {plain(pitch_diameter)}",
            "take a wire near the best wire size",
            wire,
        )
    faults.raise_any(BadInput)


def _too_steep(groove: Groove, pitch_diameter: float, least: float) -> Fault:
    """Return the fault of a pitch diameter at which the thread climbs too steeply."""
    angle = math.degrees(math.atan2(groove.lead, math.pi * pitch_diameter))
    return Fault(
        "/pitch_diameter",
        "out_of_range",
        f"lead angle at the pitch diameter {plain(pitch_diameter)}, {plain_beyond(angle, '45')} "
        "degrees, "
        f"is above the greatest allowed, {GREATEST_LEAD_ANGLE:g} degrees",
        f"give a pitch diameter of at least {plain_least(least)}, or a smaller lead",
        pitch_diameter,
        least,
    )


def refuse_lengths(lengths: dict[str, float]) -> None:
    """Raise BadInput, naming every one, unless all lengths are from 0.00001 to 10000."""
    for value in lengths.values():
        if not LEAST_LENGTH <= value <= GREATEST_LENGTH:
            break
    else:
        return
    faults = Faults()
    for name, value in lengths.items():
        within_lengths(faults, f"/{name}", value, name.replace("_", " "))
    faults.raise_any(BadInput)


def within_lengths(faults: Faults, pointer: str, value: float, name: str) -> None:
    """Note a fault unless `value` is a length from 0.00001 to 10000."""
    faults.within(pointer, value, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name=name)
