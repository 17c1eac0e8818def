"""What the service replies, typed. Made by tests/contract/write.py; don't edit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from flankwise.result import Result

__all__ = [
    "BasicProfileReply",
    "ClassesReply",
    "HealthReply",
    "LimitSpan",
    "LimitsReply",
    "ListedThreadReply",
    "SourceReply",
    "ThreadPageReply",
    "ThreadReply",
    "TolerancesReply",
]


@dataclass(frozen=True, slots=True, repr=False)
class HealthReply(Result):
    """How the service is."""

    status: Literal["alive", "ready"]
    """How it is"""
    version: str
    """Version of the service and its contract"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> HealthReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            status=raw["status"],
            version=raw["version"],
        )


@dataclass(frozen=True, slots=True, repr=False)
class LimitSpan(Result):
    """A pair of limits; null where the standard sets none."""

    min: float | None
    """Least size, null where the standard sets none"""
    max: float | None
    """Greatest size, null where the standard sets none"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> LimitSpan:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            min=raw["min"],
            max=raw["max"],
        )


@dataclass(frozen=True, slots=True, repr=False)
class BasicProfileReply(Result):
    """The basic profile; lengths in the unit of the reply, angles in degrees."""

    pitch: float
    """Pitch"""
    lead: float
    """Lead: starts times pitch"""
    starts: int
    """Starts"""
    flank_angle_upper: float
    """From a plane square to the axis to the flank that faces the free end of a bolt"""
    flank_angle_lower: float
    """The same for the other flank"""
    fundamental_height: float
    """Height of the sharp triangle, H"""
    thread_height: float
    """Height of the basic profile"""
    crest_width: float
    """Axial width of the crest of the basic profile"""
    root_width: float
    """Axial width of the root of the basic profile"""
    root_radius: float | None
    """Root radius the form asks for, null for none"""
    major_diameter: float
    """Basic major diameter"""
    pitch_diameter: float
    """Basic pitch diameter"""
    minor_diameter: float
    """Basic minor diameter"""
    taper: float
    """Change of diameter for one unit of length; 0 when parallel"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BasicProfileReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            pitch=raw["pitch"],
            lead=raw["lead"],
            starts=raw["starts"],
            flank_angle_upper=raw["flank_angle_upper"],
            flank_angle_lower=raw["flank_angle_lower"],
            fundamental_height=raw["fundamental_height"],
            thread_height=raw["thread_height"],
            crest_width=raw["crest_width"],
            root_width=raw["root_width"],
            root_radius=raw["root_radius"],
            major_diameter=raw["major_diameter"],
            pitch_diameter=raw["pitch_diameter"],
            minor_diameter=raw["minor_diameter"],
            taper=raw["taper"],
        )


@dataclass(frozen=True, slots=True, repr=False)
class TolerancesReply(Result):
    """The tolerance of each diameter; null where the standard sets none."""

    major_diameter: float | None
    """Tolerance of major diameter"""
    pitch_diameter: float | None
    """Tolerance of pitch diameter"""
    minor_diameter: float | None
    """Tolerance of minor diameter"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> TolerancesReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            major_diameter=raw["major_diameter"],
            pitch_diameter=raw["pitch_diameter"],
            minor_diameter=raw["minor_diameter"],
        )


@dataclass(frozen=True, slots=True, repr=False)
class SourceReply(Result):
    """Where a figure comes from."""

    document: str
    """The standard, handbook or other document"""
    edition: str
    """Its edition"""
    place: str
    """Table, clause or page"""
    standing: Literal["computed", "seen", "memory", "common practice, no source"]
    """How the figure got here: computed by the standard's formula, read on a page, recalled, or
    common practice
    """

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> SourceReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            document=raw["document"],
            edition=raw["edition"],
            place=raw["place"],
            standing=raw["standing"],
        )


@dataclass(frozen=True, slots=True, repr=False)
class LimitsReply(Result):
    """The limits of size of a thread, with the digits its standard prints."""

    designation: str
    """The thread in its canonical spelling"""
    family: Literal[
        "unified",
        "unified_j",
        "unified_miniature",
        "iso_metric",
        "metric_j",
        "metric_miniature",
        "npt",
        "nptf",
        "nps",
        "bsp_parallel",
        "bsp_taper",
        "acme",
        "stub_acme",
        "trapezoidal",
        "buttress",
        "whitworth",
        "ba",
    ]
    """Family of threads"""
    series: str
    """Series within the family"""
    thread_class: str | None
    """Class, null where its standard has none"""
    side: Literal["external", "internal"]
    """External or internal"""
    hand: Literal["right", "left"]
    """Hand of the helix"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""
    rounded_in: Literal["in", "mm"]
    """Unit the standard rounds in. In the other unit each figure is the printed one, converted
    and never rounded again
    """
    diameter: float
    """Nominal diameter"""
    pitch: float
    """Pitch"""
    threads_per_inch: float | None
    """Threads per inch, null for a metric thread"""
    starts: int
    """Starts"""
    lead: float
    """Lead: starts times pitch"""
    engagement: float | None
    """Length of engagement, where the designation says it"""
    engagement_group: Literal["S", "N", "L"] | None
    """Short, normal or long engagement, where the designation says it"""
    rounded_root: bool
    """True where the designation asks for the rounded root form"""
    allowance: float
    """Allowance (fundamental deviation), never negative"""
    major_diameter: LimitSpan
    """Limits of major diameter"""
    pitch_diameter: LimitSpan
    """Limits of pitch diameter"""
    minor_diameter: LimitSpan
    """Limits of minor diameter; for an external thread, of the form asked for"""
    basic: BasicProfileReply
    """Basic profile"""
    tolerances: TolerancesReply
    """Tolerances, as the standard rounds them"""
    extra: Mapping[str, float | None]
    """Further published lengths of this family, by name"""
    source: tuple[SourceReply, ...]
    """Where the figures come from"""
    notes: tuple[str, ...]
    """What to know about these figures"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> LimitsReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            designation=raw["designation"],
            family=raw["family"],
            series=raw["series"],
            thread_class=raw["thread_class"],
            side=raw["side"],
            hand=raw["hand"],
            unit=raw["unit"],
            rounded_in=raw["rounded_in"],
            diameter=raw["diameter"],
            pitch=raw["pitch"],
            threads_per_inch=raw["threads_per_inch"],
            starts=raw["starts"],
            lead=raw["lead"],
            engagement=raw["engagement"],
            engagement_group=raw["engagement_group"],
            rounded_root=raw["rounded_root"],
            allowance=raw["allowance"],
            major_diameter=LimitSpan.of(raw["major_diameter"]),
            pitch_diameter=LimitSpan.of(raw["pitch_diameter"]),
            minor_diameter=LimitSpan.of(raw["minor_diameter"]),
            basic=BasicProfileReply.of(raw["basic"]),
            tolerances=TolerancesReply.of(raw["tolerances"]),
            extra=raw["extra"],
            source=tuple(SourceReply.of(item) for item in raw["source"]),
            notes=tuple(raw["notes"]),
        )


@dataclass(frozen=True, slots=True, repr=False)
class ClassesReply(Result):
    """The classes a thread may have, by side; empty where its standard has none."""

    external: tuple[str, ...]
    """Classes of the external thread"""
    internal: tuple[str, ...]
    """Classes of the internal thread"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ClassesReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            external=tuple(raw["external"]),
            internal=tuple(raw["internal"]),
        )


@dataclass(frozen=True, slots=True, repr=False)
class ThreadReply(Result):
    """A designation, read."""

    designation: str
    """The thread in its canonical spelling"""
    family: Literal[
        "unified",
        "unified_j",
        "unified_miniature",
        "iso_metric",
        "metric_j",
        "metric_miniature",
        "npt",
        "nptf",
        "nps",
        "bsp_parallel",
        "bsp_taper",
        "acme",
        "stub_acme",
        "trapezoidal",
        "buttress",
        "whitworth",
        "ba",
    ]
    """Family of threads"""
    series: str
    """Series within the family"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""
    rounded_in: Literal["in", "mm"]
    """Unit the thread's own standard is written in"""
    diameter: float
    """Nominal diameter"""
    pitch: float
    """Pitch"""
    threads_per_inch: float | None
    """Threads per inch, null for a metric thread"""
    starts: int
    """Starts"""
    lead: float
    """Lead: starts times pitch"""
    hand: Literal["right", "left"]
    """Hand of the helix"""
    thread_class: str | None
    """Class, null where none is given"""
    side: Literal["external", "internal"] | None
    """External or internal, null where nothing says it"""
    engagement: float | None
    """Length of engagement, where the designation says it"""
    engagement_group: Literal["S", "N", "L"] | None
    """Short, normal or long engagement, where the designation says it"""
    rounded_root: bool
    """True where the designation asks for the rounded root form"""
    classes: ClassesReply
    """Classes to choose from for this size"""
    editions: tuple[str, ...]
    """Editions whose limits can be asked for, the default first"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ThreadReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            designation=raw["designation"],
            family=raw["family"],
            series=raw["series"],
            unit=raw["unit"],
            rounded_in=raw["rounded_in"],
            diameter=raw["diameter"],
            pitch=raw["pitch"],
            threads_per_inch=raw["threads_per_inch"],
            starts=raw["starts"],
            lead=raw["lead"],
            hand=raw["hand"],
            thread_class=raw["thread_class"],
            side=raw["side"],
            engagement=raw["engagement"],
            engagement_group=raw["engagement_group"],
            rounded_root=raw["rounded_root"],
            classes=ClassesReply.of(raw["classes"]),
            editions=tuple(raw["editions"]),
        )


@dataclass(frozen=True, slots=True, repr=False)
class ListedThreadReply(Result):
    """One line of the list."""

    designation: str
    """The thread in its canonical spelling, without class and hand"""
    family: Literal[
        "unified",
        "unified_j",
        "unified_miniature",
        "iso_metric",
        "metric_j",
        "metric_miniature",
        "npt",
        "nptf",
        "nps",
        "bsp_parallel",
        "bsp_taper",
        "acme",
        "stub_acme",
        "trapezoidal",
        "buttress",
        "whitworth",
        "ba",
    ]
    """Family of threads"""
    series: str
    """Series within the family"""
    unit: Literal["in", "mm"]
    """Unit the thread's own standard is written in; lengths of this line are in it"""
    diameter: float
    """Nominal diameter"""
    pitch: float
    """Pitch"""
    threads_per_inch: float | None
    """Threads per inch, null for a metric thread"""
    classes: ClassesReply
    """Classes to choose from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ListedThreadReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            designation=raw["designation"],
            family=raw["family"],
            series=raw["series"],
            unit=raw["unit"],
            diameter=raw["diameter"],
            pitch=raw["pitch"],
            threads_per_inch=raw["threads_per_inch"],
            classes=ClassesReply.of(raw["classes"]),
        )


@dataclass(frozen=True, slots=True, repr=False)
class ThreadPageReply(Result):
    """One page of the list, in an order that never changes."""

    search: str
    """What was searched"""
    total: int
    """How many match, on all pages"""
    offset: int
    """How many were skipped"""
    threads: tuple[ListedThreadReply, ...]
    """This page"""
    near: tuple[str, ...]
    """Where nothing matches: nearest in spelling"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ThreadPageReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            search=raw["search"],
            total=raw["total"],
            offset=raw["offset"],
            threads=tuple(ListedThreadReply.of(item) for item in raw["threads"]),
            near=tuple(raw["near"]),
        )
