"""What a thread is: its designation read, its basic profile, its limits of size.

All lengths are in the unit of the thread's own standard (`Thread.unit`). Limits that a standard
prints are `Decimal`, with the digits it prints.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from flankwise_service.core.units import Unit

Hand = Literal["right", "left"]
Side = Literal["external", "internal"]
Family = Literal[
    "unified", "unified_j", "unified_miniature", "iso_metric", "metric_j", "metric_miniature",
    "npt", "nptf", "nps", "bsp_parallel", "bsp_taper", "acme", "stub_acme", "trapezoidal",
    "buttress", "whitworth", "ba",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure comes from. No figure leaves without one."""

    document: str
    edition: str
    place: str
    standing: Literal[
        "computed", "seen", "memory", "common practice, no source", "stated by the caller"
    ] = "computed"
    """How the figure got here: computed by the standard's formula, read on a page, or recalled."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A designation, read. `diameter` and `pitch` are exact, in `unit`."""

    designation: str
    """In its one canonical spelling: parse(designation).designation == designation."""
    family: Family
    series: str
    unit: Unit
    diameter: Decimal
    """Basic major diameter (for a taper pipe thread: outside diameter of the pipe)."""
    pitch: Decimal
    starts: int = 1
    hand: Hand = "right"
    thread_class: str | None = None
    side: Side | None = None
    """External or internal, where the class says which."""
    engagement: Decimal | None = None
    """Length of engagement, where the designation states one."""
    rounded_root: bool = False
    """The designation asks for the rounded root form (UNR, UNJ, MJ)."""
    threads_per_inch: Decimal | None = None
    """As an inch designation writes it."""
    engagement_group: Literal["S", "N", "L"] | None = None
    """Short, normal or long engagement, where a metric designation says which."""
    modified: bool = False
    """MOD: the crest's limits are given beside the designation (Unified)."""

    @property
    def lead(self) -> Decimal:
        """Axial advance in one turn: starts * pitch."""
        return self.starts * self.pitch


@dataclass(frozen=True, slots=True)
class Span:
    """A pair of limits; None where the standard sets none."""

    min: Decimal | None = None
    max: Decimal | None = None


@dataclass(frozen=True, slots=True)
class BasicProfile:
    """The basic profile of a thread, in its standard's unit, angles in degrees.

    `flank_angle_upper` is the angle between a plane square to the axis and the flank that faces +Z
    (for an external thread with its free end up), `flank_angle_lower` the other one; equal but for
    buttress threads. `fundamental_height` is the height of the sharp triangle.
    `crest_width` and `root_width` are the axial flats (or, rounded, the flats they replace)
    of the basic profile seen as an external thread.
    """

    pitch: Decimal
    lead: Decimal
    starts: int
    flank_angle_upper: float
    flank_angle_lower: float
    fundamental_height: float
    thread_height: float
    crest_width: float
    root_width: float
    root_radius: float | None
    major_diameter: Decimal
    pitch_diameter: Decimal
    minor_diameter: Decimal
    taper: float = 0.0
    """Change of diameter for one unit of length; 0.0625 for 1:16."""


@dataclass(frozen=True, slots=True)
class Tolerances:
    """Tolerance of each diameter, as the standard rounds it; None where it sets none."""

    major_diameter: Decimal | None = None
    pitch_diameter: Decimal | None = None
    minor_diameter: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of size of one thread, in the unit and with the digits of its standard."""

    thread: Thread
    side: Side
    allowance: Decimal
    """Fundamental deviation toward the axis (external) or away from it (internal); not negative."""
    major_diameter: Span
    pitch_diameter: Span
    minor_diameter: Span
    basic: BasicProfile
    tolerances: Tolerances
    sources: tuple[Source, ...]
    notes: tuple[str, ...] = ()
    extra: dict[str, Decimal | None] = field(default_factory=dict)
    """Further published figures by name, e.g. "minor_diameter_flat_max", gauge lengths of pipe."""

    @property
    def hand(self) -> Hand:
        """Right or left."""
        return self.thread.hand

    @property
    def designation(self) -> str:
        """Of the thread, in its canonical spelling."""
        return self.thread.designation


@dataclass(frozen=True, slots=True)
class StatedLimits:
    """The limits of size of one thread with every length in `unit`, converted exactly.

    Digits are as printed when `unit` is `rounded_in`, the unit the standard rounds in; otherwise
    they are those printed figures times or over 25.4, never rounded again.
    """

    designation: str
    family: Family
    series: str
    thread_class: str | None
    side: Side
    hand: Hand
    unit: Unit
    rounded_in: Unit
    diameter: Decimal
    pitch: Decimal
    threads_per_inch: Decimal | None
    starts: int
    lead: Decimal
    engagement: Decimal | None
    engagement_group: Literal["S", "N", "L"] | None
    rounded_root: bool
    modified: bool
    allowance: Decimal
    major_diameter: Span
    pitch_diameter: Span
    minor_diameter: Span
    basic: BasicProfile
    tolerances: Tolerances
    extra: dict[str, Decimal | None]
    source: tuple[Source, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Classes:
    """The classes a thread may have, by side; empty where its standard has none."""

    external: tuple[str, ...]
    internal: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadThread:
    """A designation, read, with every length in `unit`."""

    designation: str
    family: Family
    series: str
    unit: Unit
    rounded_in: Unit
    diameter: Decimal
    pitch: Decimal
    threads_per_inch: Decimal | None
    starts: int
    lead: Decimal
    hand: Hand
    thread_class: str | None
    side: Side | None
    engagement: Decimal | None
    engagement_group: Literal["S", "N", "L"] | None
    rounded_root: bool
    modified: bool
    classes: Classes
    editions: tuple[str, ...]
