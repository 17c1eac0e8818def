"""The thread mill: a tooth profile of revolution, stacked below a neck, shank and holder.

Lengths in one unit; angles in degrees. Heights are measured upward from the tool's tip.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Substance = Literal["carbide", "high speed steel"]


@dataclass(frozen=True, slots=True)
class Tooth:
    """One tooth's axial profile about its own mid-plane, a solid of revolution when it turns.

    The half width at distance rho from the cutter axis, R being the cutter radius, is
    tip_width/2 + (R - rho) * tan(flank angle), each side with its own angle, for
    R - depth <= rho <= R. With a tip_radius the corners between tip and flanks are
    arcs tangent to both; tip_width is then the width of the flat tip before rounding.
    """

    flank_angle_upper: float
    """Angle from a plane square to the axis to the flank on the shank side."""
    flank_angle_lower: float
    """The same for the flank on the tip side."""
    tip_width: float
    depth: float
    """Radial height of the tooth, from its tip to where the profile ends."""
    tip_radius: float = 0.0


@dataclass(frozen=True, slots=True)
class Cutter:
    """A thread mill as its drawing gives it."""

    diameter: float
    """Over the teeth."""
    flutes: int
    tooth: Tooth
    rows: int = 1
    """Rows of teeth along the axis; 1 for a single-tooth cutter."""
    row_pitch: float | None = None
    """Axial distance of rows; needs to equal the thread's pitch."""
    tip_to_tooth: float = 0.0
    """From the tool's tip, where its length is set, up to the mid-plane of the lowest tooth."""
    neck_diameter: float = 0.0
    """Greatest diameter between the teeth and the end of the reach; 0 when not given."""
    reach: float | None = None
    """From the tip up to where neck ends and shank begins."""
    shank_diameter: float | None = None
    overhang: float | None = None
    """From the tip up to the holder's face."""
    holder_diameter: float | None = None
    substance: Substance = "carbide"
    least_pitch: float | None = None
    greatest_pitch: float | None = None
    number: int = 1
    """Tool number in the program."""
    name: str = ""
    row_taper: float = 0.0
    """Change of diameter along the rows for one unit of length; 0.0625 for a 1:16 thread's."""
