"""What is cut with what: a tooth of revolution, the helix of its axis, the passes it makes.

All lengths in one unit, angles in degrees. The tooth's upper side, toward the shank, cuts the
upper edge of the groove; that wall faces -Z. A thread's own "upper" flank, the one that faces +Z
(BasicProfile.flank_angle_upper), is the lower edge of the groove and is cut by the tooth's lower
side. The two sides differ for buttress threads only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import BadInput, Faults, plain, plain_least
from flankwise_service.core.threads.model import Side

LEAST_LENGTH = 1e-5
GREATEST_LENGTH = 1e5
GREATEST_FLANK_ANGLE = 80.0
LEAST_FLANK_ANGLE = 0.1
GREATEST_CONE_BY_FLANK = 0.5
GREATEST_BASE_ON_TAPER = 0.8
"""Base radius of the flank's helicoid over the centre path's: beyond it corners cut, not flanks."""
MOST_PASSES = 2000
MOST_STARTS = 100


class Pass(NamedTuple):
    """One pass through the groove: the radius of the centre path, and its shift along Z."""

    centre_radius: float
    """From the thread's axis to the cutter's; for a taper thread at z = shift."""
    shift: float = 0.0
    """Height of the tooth's mid-plane over the middle of the groove, in the half plane seen."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One groove of a thread and all that passes through it."""

    tooth: Tooth
    cutter_radius: float
    side: Side
    pitch: float
    passes: tuple[Pass, ...]
    starts: int = 1
    taper: float = 0.0
    """Change of diameter for one unit of rise in Z: minus 1/16 for an NPT nipple with its free end
    up, plus 1/16 for an NPT hole seen from its face."""

    @property
    def lead(self) -> float:
        """Axial advance in one turn."""
        return self.pitch * self.starts

    @property
    def outward(self) -> float:
        """+1 when the tooth cuts away from the thread's axis (internal), -1 toward it."""
        return 1.0 if self.side == "internal" else -1.0

    @property
    def deepest(self) -> Pass:
        """The pass that reaches deepest into the work."""
        if len(self.passes) == 1:
            return self.passes[0]
        return max(self.passes, key=lambda one: self.outward * one.centre_radius)

    @property
    def root_radius(self) -> float:
        """Distance from the thread's axis to the bottom of the groove."""
        return self.deepest.centre_radius + self.outward * self.cutter_radius

    def moved(self, deeper: float) -> Cut:
        """Return the same cut with every centre path moved `deeper` into the work."""
        step = self.outward * deeper
        return replace(self, passes=tuple(Pass(p[0] + step, p[1]) for p in self.passes))


def single(
    tooth: Tooth,
    cutter_radius: float,
    side: Side,
    pitch: float,
    centre_radius: float,
    starts: int = 1,
    taper: float = 0.0,
) -> Cut:
    """Return the cut of one pass at `centre_radius`.

    >>> single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0).root_radius
    4.0
    """
    return Cut(tooth, cutter_radius, side, pitch, (Pass(centre_radius),), starts, taper)


def checked(cut: Cut) -> Cut:
    """Return `cut` if it can be worked out; refuse it with every fault found otherwise."""
    faults = Faults()
    _check_tooth(cut.tooth, cut.cutter_radius, faults)
    _length("/cutter_radius", cut.cutter_radius, "cutter radius", faults)
    _length("/pitch", cut.pitch, "pitch", faults)
    faults.within("/starts", cut.starts, least=1, greatest=MOST_STARTS, name="starts")
    faults.within("/taper", cut.taper, least=-0.5, greatest=0.5, name="taper")
    faults.need(
        0 < len(cut.passes) <= MOST_PASSES,
        "/passes",
        "passes",
        f"{len(cut.passes)} passes can't be worked out",
        f"give 1 to {MOST_PASSES} passes",
    )
    for n, one in enumerate(cut.passes):
        _length(f"/passes/{n}/centre_radius", one.centre_radius, "centre radius", faults)
        faults.within(
            f"/passes/{n}/shift",
            one.shift,
            least=-GREATEST_LENGTH,
            greatest=GREATEST_LENGTH,
            name="shift",
        )
    faults.raise_any(BadInput)
    _check_fit(cut, faults)
    faults.raise_any(BadInput)
    return cut


def _length(pointer: str, value: float, name: str, faults: Faults) -> None:
    faults.within(pointer, value, least=LEAST_LENGTH, greatest=GREATEST_LENGTH, name=name)


def _check_tooth(tooth: Tooth, cutter_radius: float, faults: Faults) -> None:
    for word in ("upper", "lower"):
        angle = getattr(tooth, f"flank_angle_{word}")
        name = f"{word} flank angle"
        faults.within(
            f"/tooth/flank_angle_{word}",
            angle,
            least=0.0,
            greatest=GREATEST_FLANK_ANGLE,
            name=name,
            unit="degrees",
        )
    greatest = GREATEST_LENGTH
    faults.within(
        "/tooth/tip_width", tooth.tip_width, least=0.0, greatest=greatest, name="tip width"
    )
    faults.within(
        "/tooth/tip_radius", tooth.tip_radius, least=0.0, greatest=greatest, name="tip radius"
    )
    _length("/tooth/depth", tooth.depth, "depth of tooth", faults)


def tip_width_taken(tooth: Tooth) -> float:
    """Return the width of tip that its two corner arcs take, tip_radius * sum(tan(45 - a/2)).

    The arc is tangent to the flat tip and to the flank; the corner between them opens 90 + a
    degrees, so the tangent length is radius / tan((90 + a)/2).

    >>> round(tip_width_taken(Tooth(30.0, 30.0, 0.2, 0.9, 0.1)), 6)
    0.11547
    """
    angles = (tooth.flank_angle_upper, tooth.flank_angle_lower)
    return tooth.tip_radius * sum(math.tan(math.radians(45.0 - a / 2)) for a in angles)


def _flattest(tooth: Tooth) -> float:
    return min(tooth.flank_angle_upper, tooth.flank_angle_lower)


def _check_fit(cut: Cut, faults: Faults) -> None:
    tooth, radius = cut.tooth, cut.cutter_radius
    taken = tip_width_taken(tooth)
    faults.need(
        taken <= tooth.tip_width * (1 + 1e-9) + 1e-12,
        "/tooth/tip_radius",
        "tip_radius_too_large",
        f"corner arcs of radius {plain(tooth.tip_radius)} need a tip {plain(taken)} wide before"
        f" rounding, and it is {plain(tooth.tip_width)}",
        f"give a tip width of at least {plain_least(taken)}, or a smaller tip radius",
        tooth.tip_radius,
    )
    faults.need(
        tooth.depth <= radius,
        "/tooth/depth",
        "tooth_deeper_than_cutter",
        f"the tooth is {plain(tooth.depth)} deep on a cutter of radius {plain(radius)}",
        "give the tooth's own depth, from its tip to where the profile ends",
        tooth.depth,
    )
    steepest = max(tooth.flank_angle_upper, tooth.flank_angle_lower)
    faults.need(
        steepest >= LEAST_FLANK_ANGLE,
        "/tooth/flank_angle_upper",
        "square_tooth",
        "a tooth with both flanks square to the axis leaves no pitch line",
        "give the flank angles of the thread's profile",
        tooth.flank_angle_upper,
    )
    faults.need(
        abs(cut.taper) / 2 * math.tan(math.radians(steepest)) <= GREATEST_CONE_BY_FLANK,
        "/taper",
        "taper_steeper_than_flank",
        f"a taper of {plain(cut.taper)} runs nearly along a flank of {plain(steepest)} degrees",
        "check taper and flank angle: the groove would have no pitch line",
        cut.taper,
    )
    base = cut.lead / (2 * math.pi * math.tan(math.radians(max(_flattest(tooth), 1e-9))))
    nearest = min(*(one.centre_radius for one in cut.passes), abs(cut.root_radius))
    faults.need(
        cut.taper == 0.0 or base <= GREATEST_BASE_ON_TAPER * nearest,
        "/taper",
        "lead_too_coarse_for_taper",
        f"on a taper a lead of {plain(cut.lead, 5)} is worked out only where the tooth's flanks "
        "cut,"
        " and here its corners would",
        "leave the taper out, or use a finer lead, steeper flanks or a smaller cutter",
        cut.lead,
    )
    for n, one in enumerate(cut.passes):
        faults.need(
            cut.side == "internal" or one.centre_radius > radius,
            f"/passes/{n}/centre_radius",
            "cuts_through_axis",
            f"on a centre path of radius {plain(one.centre_radius)} a cutter of radius"
            f" {plain(radius)} cuts through the axis of the part",
            f"give a centre radius above {plain(radius)}",
            one.centre_radius,
        )
