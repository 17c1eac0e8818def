"""The thread as the plan uses it: its limits as plain numbers in the job's unit."""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.errors import Fault, NoSource, Refusal
from flankwise_service.core.plan.job import ThreadAsked
from flankwise_service.core.stock.blank import at_fraction
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.model import Hand, Side, Span, StatedLimits
from flankwise_service.core.units import Unit

Pair = tuple[float, float]
OpenPair = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True)
class Sizes:
    """One thread's numbers in the job's unit; diameters of a taper thread are at the face."""

    limits: StatedLimits
    unit: Unit
    side: Side
    hand: Hand
    pitch: float
    lead: float
    starts: int
    taper: float
    pitch_diameter: Pair
    crest_diameter: Pair
    """Major diameter of an external, minor diameter of an internal thread."""
    root_diameter: OpenPair
    """The other one; None where the standard sets no limit."""

    @property
    def outward(self) -> float:
        """+1 when the groove is cut away from the axis (internal), -1 toward it."""
        return 1.0 if self.side == "internal" else -1.0

    @property
    def pitch_diameter_tolerance(self) -> float:
        """Greatest less least pitch diameter."""
        return self.pitch_diameter[1] - self.pitch_diameter[0]

    @property
    def flank_slope_angles(self) -> Pair:
        """Flank angles at the upper and the lower edge of the groove, degrees.

        The groove's upper edge is the thread's flank that faces -Z: BasicProfile's lower one.
        """
        basic = self.limits.basic
        return basic.flank_angle_lower, basic.flank_angle_upper


def sizes(asked: ThreadAsked, unit: Unit) -> Sizes:
    """Return the thread's numbers. Errors: what `threads.limits` refuses, placed below /thread."""
    try:
        found = limits_in(limits(asked.designation, side=asked.side, edition=asked.edition), unit)
    except Refusal as refusal:
        raise refusal.under("/thread") from refusal
    external = found.side == "external"
    crest = found.major_diameter if external else found.minor_diameter
    root = found.minor_diameter if external else found.major_diameter
    return Sizes(
        limits=found,
        unit=unit,
        side=found.side,
        hand=found.hand,
        pitch=float(found.pitch),
        lead=float(found.lead),
        starts=found.starts,
        taper=found.basic.taper,
        pitch_diameter=_both(found.pitch_diameter, "pitch diameter"),
        crest_diameter=_both(crest, "major diameter" if external else "minor diameter"),
        root_diameter=(_number(root.min), _number(root.max)),
    )


def between(pair: Pair, fraction: float) -> float:
    """Return the value at `fraction` of a pair of limits: exactly a limit at 0 and at 1.

    >>> between((0.8216, 0.827), 0.5)
    0.8243
    >>> between((7.042, 7.16), 1.0)
    7.16
    """
    return at_fraction(*pair, fraction)


def _number(value: object) -> float | None:
    return None if value is None else float(str(value))


def _both(span: Span, name: str) -> Pair:
    if span.min is None or span.max is None:
        raise NoSource(
            Fault(
                "/thread/designation",
                "no_limits",
                f"the standard sets no complete limits for the {name} of this thread",
                "plan a thread of a standard that does",
            )
        )
    return float(span.min), float(span.max)
