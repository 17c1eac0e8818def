"""What the service replies, typed. Made by tests/contract/write.py; don't edit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from flankwise.asks import JobAsk
from flankwise.result import Result
from flankwise.special import DrawnResult, PathResult, PlanResult, ProgramResult

__all__ = [
    "AimReply",
    "AimedRadiusReply",
    "ApproachReply",
    "ArcFeedReply",
    "BarChoiceReply",
    "BarMassReply",
    "BarPlanReply",
    "BarReply",
    "BarsReply",
    "BasicProfileReply",
    "BatchCostReply",
    "BlankPathReply",
    "BlankPlanReply",
    "BlankReply",
    "BlockFaultReply",
    "CandidateReply",
    "CheckReply",
    "ClassPairReply",
    "ClassPairsReply",
    "ClassesReply",
    "ClearanceReply",
    "ConditionReply",
    "CorrectionRowReply",
    "CorrectionTableReply",
    "CutterComparedReply",
    "CutterReply",
    "CuttingWindowReply",
    "DeflectionReply",
    "DepthBudgetReply",
    "DifferenceReply",
    "DrillChoiceReply",
    "DrillListedReply",
    "DrillReply",
    "EndMillReply",
    "FeedReply",
    "FigureReply",
    "FlankAngleReply",
    "FlankAsCutReply",
    "FormCorrectionReply",
    "FormCuttersReply",
    "FormOffsetReply",
    "FormPlanReply",
    "FormSectionReply",
    "GaugeReply",
    "GaugesReply",
    "GaugingPlanReply",
    "GrooveAsCutReply",
    "HealthReply",
    "HeldChipReply",
    "HelixReply",
    "HexagonFactsReply",
    "HexagonReadingReply",
    "HexagonReply",
    "IdentifyReply",
    "InspectionReply",
    "LargestCutterReply",
    "LimitSpan",
    "LimitsOverReply",
    "LimitsReply",
    "ListedThreadReply",
    "LoadReply",
    "MachiningTimeReply",
    "MaterialReply",
    "MaterialsReply",
    "MatingReply",
    "MeasuredOverReply",
    "MeasuredReply",
    "ModalReply",
    "MotionPlanReply",
    "MotionReply",
    "NarrowReply",
    "ObstacleReply",
    "OffsetChangeReply",
    "OffsetCorrectionReply",
    "OffsetResponseReply",
    "OverReadingReply",
    "OverWiresReply",
    "PassLoadReply",
    "PassPlanReply",
    "PassReply",
    "PassesReply",
    "PathCollisionReply",
    "PathTotalsReply",
    "PitchMeasuredReply",
    "PitchVerdictReply",
    "PlanCuttersReply",
    "PlanReply",
    "PlatingReply",
    "PointReply",
    "ProgramReplayReply",
    "ProgramReply",
    "RadiusCorrectionReply",
    "RankedCutterReply",
    "ReadingOverReply",
    "ReplayReply",
    "RequestBatchReply",
    "RequestReply",
    "SegmentReply",
    "SheetDrawingReply",
    "SheetReply",
    "SizeRangeReply",
    "SourceReply",
    "SpeedReply",
    "SpindleSpeedReply",
    "StockChoiceReply",
    "StrengthReply",
    "ThreadPageReply",
    "ThreadPassReply",
    "ThreadReply",
    "ThreadSizesReply",
    "TiltReply",
    "TimeReply",
    "ToleranceUseReply",
    "TolerancesReply",
    "ToothReply",
    "TrendRowReply",
    "UnfitWireReply",
    "WindowReply",
    "WireSizesReply",
    "WiresReply",
    "WorkedBackReply",
    "WrenchReply",
    "WrongTurnReply",
]


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class SourceReply(Result):
    """Where a figure comes from."""

    document: str
    """The standard, handbook or other document"""
    edition: str
    """Its edition"""
    place: str
    """Table, clause or page"""
    standing: Literal[
        "computed", "seen", "memory", "common practice, no source", "stated by the caller"
    ]
    """How the figure got here: computed by the standard's formula, read on a page, recalled,
    common practice, or stated in the request
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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
    modified: bool
    """True where the crest's limits are given beside the designation (MOD)"""
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
    """Further published lengths of this family, by name; names that end in _turns count threads"""
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
            modified=raw["modified"],
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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
    modified: bool
    """True where the crest's limits are given beside the designation (MOD)"""
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
            modified=raw["modified"],
            classes=ClassesReply.of(raw["classes"]),
            editions=tuple(raw["editions"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
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


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class DifferenceReply(Result):
    """What would tell a candidate from the first one."""

    by: Literal["flank angle", "taper", "pitch", "starts", "crest diameter", "name"]
    """What to look at"""
    words: str
    """How"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> DifferenceReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            by=raw["by"],
            words=raw["words"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class CandidateReply(Result):
    """A thread that the measurement could be."""

    designation: str
    """The thread, without class"""
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
    pitch: float
    """Its pitch"""
    threads_per_inch: float
    """Its threads per inch"""
    pitch_difference: float
    """Measured less its pitch"""
    crest_min: float
    """Least crest over all its classes; along the taper where it has one"""
    crest_max: float
    """Greatest crest over all its classes"""
    outside_by: float
    """How far the measured crest lies outside these"""
    misfit: float
    """0 where pitch and crest agree within the uncertainties"""
    agrees: bool
    """Whether they do"""
    included_angle: float
    """Angle between the flanks"""
    taper: float
    """Change of diameter for one unit of length; 0 when parallel"""
    tells_apart: tuple[DifferenceReply, ...]
    """What tells it from the first candidate"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> CandidateReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            designation=raw["designation"],
            family=raw["family"],
            series=raw["series"],
            pitch=raw["pitch"],
            threads_per_inch=raw["threads_per_inch"],
            pitch_difference=raw["pitch_difference"],
            crest_min=raw["crest_min"],
            crest_max=raw["crest_max"],
            outside_by=raw["outside_by"],
            misfit=raw["misfit"],
            agrees=raw["agrees"],
            included_angle=raw["included_angle"],
            taper=raw["taper"],
            tells_apart=tuple(DifferenceReply.of(item) for item in raw["tells_apart"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class IdentifyReply(Result):
    """Candidates, likeliest first."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    candidates: tuple[CandidateReply, ...]
    """Candidates; empty where none is near"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> IdentifyReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            candidates=tuple(CandidateReply.of(item) for item in raw["candidates"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ObstacleReply(Result):
    """Why two threads can't go together."""

    code: str
    """Kind of obstacle, fixed"""
    words: str
    """The obstacle in words"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ObstacleReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            code=raw["code"],
            words=raw["words"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ClearanceReply(Result):
    """Internal less external diameter; negative is interference."""

    least: float | None
    """Least clearance, null where a standard sets no limit"""
    greatest: float | None
    """Greatest clearance"""
    runs: Literal["always free", "may bind", "always binds", "not limited"]
    """How it runs"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ClearanceReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            least=raw["least"],
            greatest=raw["greatest"],
            runs=raw["runs"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class MatingReply(Result):
    """What happens when the two are screwed together."""

    external: str
    """External thread in its canonical spelling"""
    internal: str
    """Internal thread in its canonical spelling"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""
    mates: bool
    """Whether they can go together"""
    obstacles: tuple[ObstacleReply, ...]
    """Why not"""
    pitch_diameter: ClearanceReply
    """On the pitch diameter, which decides the fit"""
    major_diameter: ClearanceReply
    """On the major diameter"""
    minor_diameter: ClearanceReply
    """On the minor diameter"""
    least_overlap: float | None
    """Least radial overlap of the flanks"""
    greatest_overlap: float | None
    """Greatest radial overlap"""
    least_overlap_percent: float | None
    """Least overlap in percent of the basic profile's own"""
    greatest_overlap_percent: float | None
    """Greatest, likewise"""
    least_percent_of_thread: float | None
    """Least percent of thread as the trade counts it at 60 degrees (100 is 1.299 pitches on the
    diameter)
    """
    greatest_percent_of_thread: float | None
    """Greatest, likewise"""
    sources: tuple[SourceReply, ...]
    """Where the figures come from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> MatingReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            external=raw["external"],
            internal=raw["internal"],
            unit=raw["unit"],
            mates=raw["mates"],
            obstacles=tuple(ObstacleReply.of(item) for item in raw["obstacles"]),
            pitch_diameter=ClearanceReply.of(raw["pitch_diameter"]),
            major_diameter=ClearanceReply.of(raw["major_diameter"]),
            minor_diameter=ClearanceReply.of(raw["minor_diameter"]),
            least_overlap=raw["least_overlap"],
            greatest_overlap=raw["greatest_overlap"],
            least_overlap_percent=raw["least_overlap_percent"],
            greatest_overlap_percent=raw["greatest_overlap_percent"],
            least_percent_of_thread=raw["least_percent_of_thread"],
            greatest_percent_of_thread=raw["greatest_percent_of_thread"],
            sources=tuple(SourceReply.of(item) for item in raw["sources"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ClassPairReply(Result):
    """Clearance on the pitch diameter of one pair of classes."""

    external_class: str
    """Class of the external thread"""
    internal_class: str
    """Class of the internal thread"""
    least: float | None
    """Least clearance"""
    greatest: float | None
    """Greatest clearance"""
    runs: Literal["always free", "may bind", "always binds", "not limited"]
    """How it runs"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ClassPairReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            external_class=raw["external_class"],
            internal_class=raw["internal_class"],
            least=raw["least"],
            greatest=raw["greatest"],
            runs=raw["runs"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ClassPairsReply(Result):
    """Every pair of classes of one size."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    pairs: tuple[ClassPairReply, ...]
    """Pairs"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ClassPairsReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            pairs=tuple(ClassPairReply.of(item) for item in raw["pairs"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class SizeRangeReply(Result):
    """A pair of sizes; null where the standard sets none."""

    min: float | None
    """Least"""
    max: float | None
    """Greatest"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> SizeRangeReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            min=raw["min"],
            max=raw["max"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ThreadSizesReply(Result):
    """The three diameters of a thread."""

    major_diameter: SizeRangeReply
    """Major diameter"""
    pitch_diameter: SizeRangeReply
    """Pitch diameter"""
    minor_diameter: SizeRangeReply
    """Minor diameter"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ThreadSizesReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            major_diameter=SizeRangeReply.of(raw["major_diameter"]),
            pitch_diameter=SizeRangeReply.of(raw["pitch_diameter"]),
            minor_diameter=SizeRangeReply.of(raw["minor_diameter"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PlatingReply(Result):
    """What to cut, and what the coat makes of it."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    side: Literal["external", "internal"]
    """External or internal"""
    pitch_diameter_factor: float
    """Change of pitch diameter over thickness; 4 at 60 degrees"""
    before: ThreadSizesReply
    """Limits to cut to, before coating"""
    after: ThreadSizesReply
    """Limits the coated thread must keep"""
    greatest_thickness_uncut: float
    """Thickest coat that a thread cut to its class limits takes"""
    fits_uncut: bool
    """Whether the class's own allowance takes this coat"""
    pitch_tolerance_left: float
    """Pitch diameter tolerance that remains for cutting"""
    sources: tuple[SourceReply, ...]
    """Where the figures come from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PlatingReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            side=raw["side"],
            pitch_diameter_factor=raw["pitch_diameter_factor"],
            before=ThreadSizesReply.of(raw["before"]),
            after=ThreadSizesReply.of(raw["after"]),
            greatest_thickness_uncut=raw["greatest_thickness_uncut"],
            fits_uncut=raw["fits_uncut"],
            pitch_tolerance_left=raw["pitch_tolerance_left"],
            sources=tuple(SourceReply.of(item) for item in raw["sources"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class StrengthReply(Result):
    """Areas, loads and lengths of one joint."""

    unit: Literal["in", "mm"]
    """Unit of every length here; areas are in its square"""
    tensile_stress_area: float
    """Tensile stress area of the external thread, unit squared"""
    external_shear_area: float
    """Shear area of the external thread over the engagement"""
    internal_shear_area: float
    """Shear area of the internal thread over the engagement"""
    breaking_load: float
    """Load that breaks the external part"""
    external_stripping_load: float
    """Load that strips the external thread"""
    internal_stripping_load: float
    """Load that strips the internal thread"""
    weakest: Literal["external part breaks", "external thread strips", "internal thread strips"]
    """What gives way first"""
    least_engagement: float
    """Engagement at which the external part breaks before either thread strips"""
    engagement: float
    """Engagement asked about"""
    engagement_is_enough: bool
    """Whether it is that long"""
    sources: tuple[SourceReply, ...]
    """Where the figures come from"""
    cautions: tuple[str, ...]
    """What to mind"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> StrengthReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            tensile_stress_area=raw["tensile_stress_area"],
            external_shear_area=raw["external_shear_area"],
            internal_shear_area=raw["internal_shear_area"],
            breaking_load=raw["breaking_load"],
            external_stripping_load=raw["external_stripping_load"],
            internal_stripping_load=raw["internal_stripping_load"],
            weakest=raw["weakest"],
            least_engagement=raw["least_engagement"],
            engagement=raw["engagement"],
            engagement_is_enough=raw["engagement_is_enough"],
            sources=tuple(SourceReply.of(item) for item in raw["sources"]),
            cautions=tuple(raw["cautions"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class HexagonReply(Result):
    """Every measure of a regular hexagon with sharp corners."""

    across_flats: float
    """Across flats"""
    across_corners: float
    """Across sharp corners"""
    side: float
    """Length of one side"""
    inscribed_radius: float
    """Radius to the flats"""
    circumscribed_radius: float
    """Radius through the corners"""
    area: float
    """Area of the section, in the unit squared"""
    perimeter: float
    """Length round the six sides"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> HexagonReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            across_flats=raw["across_flats"],
            across_corners=raw["across_corners"],
            side=raw["side"],
            inscribed_radius=raw["inscribed_radius"],
            circumscribed_radius=raw["circumscribed_radius"],
            area=raw["area"],
            perimeter=raw["perimeter"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class HexagonReadingReply(Result):
    """One way to take the number that was given."""

    measure: Literal[
        "across_flats", "across_corners", "side", "inscribed_radius", "circumscribed_radius"
    ]
    """Which measure the number is taken for"""
    meaning: str
    """What that measure is"""
    hexagon: HexagonReply
    """The hexagon it then is"""
    intended: bool
    """Whether it is the measure that was asked"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> HexagonReadingReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            measure=raw["measure"],
            meaning=raw["meaning"],
            hexagon=HexagonReply.of(raw["hexagon"]),
            intended=raw["intended"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class WrongTurnReply(Result):
    """A hexagon drawn from the wrong measure."""

    wanted: HexagonReply
    """The hexagon wanted"""
    drawn: HexagonReply
    """The hexagon drawn"""
    drawn_with: Literal[
        "across_flats", "across_corners", "side", "inscribed_radius", "circumscribed_radius"
    ]
    """The measure the number was taken for"""
    too_large_across_flats: float
    """How much too large it is across flats"""
    detail: str
    """What went wrong, in words"""
    change: str
    """What to draw instead"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> WrongTurnReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            wanted=HexagonReply.of(raw["wanted"]),
            drawn=HexagonReply.of(raw["drawn"]),
            drawn_with=raw["drawn_with"],
            too_large_across_flats=raw["too_large_across_flats"],
            detail=raw["detail"],
            change=raw["change"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class WrenchReply(Result):
    """The wrench for a hexagon."""

    size: float
    """Size of the wrench"""
    name: str
    """As the trade writes it"""
    unit: Literal["in", "mm"]
    """Unit of its size"""
    exact: bool
    """Whether the hexagon is that standard size"""
    slack: float
    """Wrench size less across flats"""
    source: SourceReply
    """Where the list of sizes comes from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> WrenchReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            size=raw["size"],
            name=raw["name"],
            unit=raw["unit"],
            exact=raw["exact"],
            slack=raw["slack"],
            source=SourceReply.of(raw["source"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BarMassReply(Result):
    """Mass of bar per length; null in the other unit system."""

    density_g_per_cm3: float
    """Density it was worked out with"""
    pounds_per_inch: float | None
    """lb for each inch"""
    pounds_per_foot: float | None
    """lb for each foot"""
    kilograms_per_metre: float | None
    """kg for each metre"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BarMassReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            density_g_per_cm3=raw["density_g_per_cm3"],
            pounds_per_inch=raw["pounds_per_inch"],
            pounds_per_foot=raw["pounds_per_foot"],
            kilograms_per_metre=raw["kilograms_per_metre"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class HexagonFactsReply(Result):
    """A hexagon with what a shop asks next."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    hexagon: HexagonReply
    """The hexagon"""
    readings: tuple[HexagonReadingReply, ...]
    """The same number taken each way, the one asked first"""
    wrong_turn: WrongTurnReply | None
    """How the drawing went wrong, null where it did not"""
    wrench: WrenchReply | None
    """The wrench, null above the largest standard size"""
    mass: BarMassReply | None
    """Mass, null without a density"""
    corner_stand_out: float | None
    """How far a corner stands out beyond the diameter, null without one"""
    wall_to_flats: float | None
    """Wall between the diameter and the flats, null without one"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> HexagonFactsReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            hexagon=HexagonReply.of(raw["hexagon"]),
            readings=tuple(HexagonReadingReply.of(item) for item in raw["readings"]),
            wrong_turn=None if raw["wrong_turn"] is None else WrongTurnReply.of(raw["wrong_turn"]),
            wrench=None if raw["wrench"] is None else WrenchReply.of(raw["wrench"]),
            mass=None if raw["mass"] is None else BarMassReply.of(raw["mass"]),
            corner_stand_out=raw["corner_stand_out"],
            wall_to_flats=raw["wall_to_flats"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BarReply(Result):
    """One standard size of bar."""

    shape: Literal["hexagon", "round"]
    """Shape"""
    size: float
    """Across flats of a hexagon, diameter of a round"""
    name: str
    """As the trade writes it"""
    unit: Literal["in", "mm"]
    """Unit of its size"""
    source: SourceReply
    """Where the size comes from"""
    undersize: float | None
    """How far below its size a bar may be, null where it isn't stated"""
    undersize_source: SourceReply | None
    """Where that comes from, null where it isn't stated"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BarReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            shape=raw["shape"],
            size=raw["size"],
            name=raw["name"],
            unit=raw["unit"],
            source=SourceReply.of(raw["source"]),
            undersize=raw["undersize"],
            undersize_source=None
            if raw["undersize_source"] is None
            else SourceReply.of(raw["undersize_source"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BarsReply(Result):
    """A list of bars, smallest first."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    shape: Literal["hexagon", "round"]
    """Shape"""
    bars: tuple[BarReply, ...]
    """The bars"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BarsReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            shape=raw["shape"],
            bars=tuple(BarReply.of(item) for item in raw["bars"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BarChoiceReply(Result):
    """A standard bar that cleans up."""

    bar: BarReply
    """The bar"""
    needed: float
    """Least size that cleans up"""
    cut_per_side: float
    """Radial stock over the diameter, at the flats of a hexagon"""
    least_cut_per_side: float
    """The same with the bar at the bottom of its tolerance"""
    across_corners: float | None
    """Across corners of a hexagon, null for round"""
    corner_stand_out: float | None
    """How far corners stand out beyond the diameter, null for round"""
    wrench: WrenchReply | None
    """Wrench for a hexagon, null for round"""
    mass: BarMassReply | None
    """Mass, null without a density"""
    volume_removed_per_length: float
    """Area turned to chips beside the diameter, in the unit squared"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BarChoiceReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            bar=BarReply.of(raw["bar"]),
            needed=raw["needed"],
            cut_per_side=raw["cut_per_side"],
            least_cut_per_side=raw["least_cut_per_side"],
            across_corners=raw["across_corners"],
            corner_stand_out=raw["corner_stand_out"],
            wrench=None if raw["wrench"] is None else WrenchReply.of(raw["wrench"]),
            mass=None if raw["mass"] is None else BarMassReply.of(raw["mass"]),
            volume_removed_per_length=raw["volume_removed_per_length"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class StockChoiceReply(Result):
    """The bars that clean up, smallest first for each shape."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    choices: tuple[BarChoiceReply, ...]
    """The bars"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> StockChoiceReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            choices=tuple(BarChoiceReply.of(item) for item in raw["choices"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class AimReply(Result):
    """A size to cut to, between its limits."""

    diameter: float
    """Diameter to cut to"""
    least: float
    """Least limit"""
    greatest: float
    """Greatest limit"""
    fraction: float
    """0 at the least limit, 1 at the greatest"""
    room_below: float
    """Down to the least limit"""
    room_above: float
    """Up to the greatest limit"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> AimReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            diameter=raw["diameter"],
            least=raw["least"],
            greatest=raw["greatest"],
            fraction=raw["fraction"],
            room_below=raw["room_below"],
            room_above=raw["room_above"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class DepthBudgetReply(Result):
    """Where the depth of a blank goes."""

    thread_length: float
    """Full thread"""
    half_tooth: float
    """Half a tooth"""
    clearance: float
    """Clearance"""
    needed: float
    """Sum of the three: least depth of the blank"""
    available: float
    """Depth of the blank"""
    spare: float
    """What is left"""
    missing: float
    """What is missing; a blank that lacks depth is refused"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> DepthBudgetReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            thread_length=raw["thread_length"],
            half_tooth=raw["half_tooth"],
            clearance=raw["clearance"],
            needed=raw["needed"],
            available=raw["available"],
            spare=raw["spare"],
            missing=raw["missing"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BlankReply(Result):
    """The blank before threading."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    aim: AimReply
    """Diameter to turn the boss or bore the hole to"""
    depth: DepthBudgetReply | None
    """The axial budget, null when not asked"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BlankReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            aim=AimReply.of(raw["aim"]),
            depth=None if raw["depth"] is None else DepthBudgetReply.of(raw["depth"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class DrillListedReply(Result):
    """A drill of a standard list."""

    name: str
    """As the trade writes it"""
    diameter: float
    """Its diameter"""
    series: Literal["fraction", "number", "letter", "metric"]
    """The list it is of"""
    source: SourceReply
    """Where the list comes from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> DrillListedReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            name=raw["name"],
            diameter=raw["diameter"],
            series=raw["series"],
            source=SourceReply.of(raw["source"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class DrillChoiceReply(Result):
    """A drill with the percent of thread it leaves."""

    drill: DrillListedReply
    """The drill"""
    percent: float
    """Percent of thread it leaves"""
    off_by: float
    """Percent left less percent wanted"""
    inside_limits: bool | None
    """Whether its diameter lies inside the minor limits, null without them"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> DrillChoiceReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            drill=DrillListedReply.of(raw["drill"]),
            percent=raw["percent"],
            off_by=raw["off_by"],
            inside_limits=raw["inside_limits"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class DrillReply(Result):
    """Drills for a thread, best first."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    hole: float
    """Hole diameter that leaves exactly the percent wanted"""
    minor_least: float | None
    """Least minor diameter, null without a designation"""
    minor_greatest: float | None
    """Greatest minor diameter, null without a designation"""
    choices: tuple[DrillChoiceReply, ...]
    """The drills"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> DrillReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            hole=raw["hole"],
            minor_least=raw["minor_least"],
            minor_greatest=raw["minor_greatest"],
            choices=tuple(DrillChoiceReply.of(item) for item in raw["choices"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class WindowReply(Result):
    """A range of figures with its source."""

    least: float
    """Least"""
    greatest: float
    """Greatest"""
    source: SourceReply
    """Where it comes from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> WindowReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            least=raw["least"],
            greatest=raw["greatest"],
            source=SourceReply.of(raw["source"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FigureReply(Result):
    """One figure with its source."""

    value: float
    """The figure"""
    source: SourceReply
    """Where it comes from"""
    spread: float
    """Share by which published values differ, 0 where not known"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FigureReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            value=raw["value"],
            source=SourceReply.of(raw["source"]),
            spread=raw["spread"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class CuttingWindowReply(Result):
    """Where to start with one kind of cutter."""

    substance: Literal["carbide", "high speed steel"]
    """What the cutter is made of"""
    surface_speed_m_per_min: WindowReply
    """Surface speed, m/min"""
    chip_share: WindowReply
    """Chip load for each tooth, as a share of the diameter"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> CuttingWindowReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            substance=raw["substance"],
            surface_speed_m_per_min=WindowReply.of(raw["surface_speed_m_per_min"]),
            chip_share=WindowReply.of(raw["chip_share"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class MaterialReply(Result):
    """A work material and its figures."""

    name: str
    """Short name: one of its designations"""
    group: Literal["P", "M", "K", "N", "S", "H"]
    """Group by ISO 513"""
    description: str
    """What it is"""
    designations: tuple[str, ...]
    """What it may be called"""
    hardness: WindowReply
    """Hardness as commonly delivered"""
    hardness_scale: Literal["HB", "HRC", "Shore D"]
    """Scale of the hardness"""
    density_g_per_cm3: FigureReply
    """Density, g/cm3"""
    kc11_n_per_mm2: FigureReply | None
    """Specific cutting force of a chip 1 mm thick, N/mm2; null where none is known"""
    mc: FigureReply | None
    """Exponent of the specific cutting force"""
    windows: tuple[CuttingWindowReply, ...]
    """Windows"""
    notes: tuple[str, ...]
    """Cautions of this material"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> MaterialReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            name=raw["name"],
            group=raw["group"],
            description=raw["description"],
            designations=tuple(raw["designations"]),
            hardness=WindowReply.of(raw["hardness"]),
            hardness_scale=raw["hardness_scale"],
            density_g_per_cm3=FigureReply.of(raw["density_g_per_cm3"]),
            kc11_n_per_mm2=None
            if raw["kc11_n_per_mm2"] is None
            else FigureReply.of(raw["kc11_n_per_mm2"]),
            mc=None if raw["mc"] is None else FigureReply.of(raw["mc"]),
            windows=tuple(CuttingWindowReply.of(item) for item in raw["windows"]),
            notes=tuple(raw["notes"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class MaterialsReply(Result):
    """Work materials."""

    total: int
    """How many"""
    materials: tuple[MaterialReply, ...]
    """The materials"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> MaterialsReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            total=raw["total"],
            materials=tuple(MaterialReply.of(item) for item in raw["materials"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class SpindleSpeedReply(Result):
    """Spindle speed and the surface speed it gives."""

    wanted: float
    """Before the machine's limits, rpm"""
    speed: float
    """To run at, rpm"""
    capped: Literal["none", "machine_greatest", "machine_least"]
    """Which limit of the machine set it"""
    surface_speed: float
    """As it then runs: ft/min or m/min"""
    surface_speed_wanted: float
    """As asked: ft/min or m/min"""
    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> SpindleSpeedReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            wanted=raw["wanted"],
            speed=raw["speed"],
            capped=raw["capped"],
            surface_speed=raw["surface_speed"],
            surface_speed_wanted=raw["surface_speed_wanted"],
            unit=raw["unit"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class SpeedReply(Result):
    """Spindle speed with the windows it was taken from."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    spindle: SpindleSpeedReply
    """The spindle speed"""
    surface_speed_window: WindowReply | None
    """Surface speed of the material, ft/min or m/min; null without one"""
    chip_load_window: WindowReply | None
    """Chip load of the material, null without one"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> SpeedReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            spindle=SpindleSpeedReply.of(raw["spindle"]),
            surface_speed_window=None
            if raw["surface_speed_window"] is None
            else WindowReply.of(raw["surface_speed_window"]),
            chip_load_window=None
            if raw["chip_load_window"] is None
            else WindowReply.of(raw["chip_load_window"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ArcFeedReply(Result):
    """Feeds on one arc, per minute."""

    edge_feed: float
    """At the diameter being cut"""
    centre_feed: float
    """Of the tool centre, seen along the axis"""
    path_feed: float
    """Of the tool centre along its helix: what the control is told"""
    centre_factor: float
    """centre_feed over edge_feed"""
    helix_factor: float
    """path_feed over centre_feed"""
    centre_diameter: float
    """Diameter of the circle the tool centre runs on"""
    capped: bool
    """Whether the machine's greatest feed set the figures"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ArcFeedReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            edge_feed=raw["edge_feed"],
            centre_feed=raw["centre_feed"],
            path_feed=raw["path_feed"],
            centre_factor=raw["centre_factor"],
            helix_factor=raw["helix_factor"],
            centre_diameter=raw["centre_diameter"],
            capped=raw["capped"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FeedReply(Result):
    """A feed on an arc."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    arc: ArcFeedReply
    """The feeds"""
    feed_held: float | None
    """Greatest feed the machine holds on that circle, per minute; null without an acceleration"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FeedReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            arc=ArcFeedReply.of(raw["arc"]),
            feed_held=raw["feed_held"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PassReply(Result):
    """One radial pass."""

    depth: float
    """Depth after the pass"""
    step: float
    """Radial step of the pass, 0 for a spring pass"""
    chip_area: float
    """Axial section it takes away, unit squared"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PassReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            depth=raw["depth"],
            step=raw["step"],
            chip_area=raw["chip_area"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PassesReply(Result):
    """Radial passes."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    groove_area: float
    """Axial section of the whole groove, unit squared"""
    passes: tuple[PassReply, ...]
    """The passes"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PassesReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            groove_area=raw["groove_area"],
            passes=tuple(PassReply.of(item) for item in raw["passes"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class HeldChipReply(Result):
    """Feed per tooth that gives a wanted chip thickness."""

    chip_wanted: float
    """Greatest chip thickness wanted"""
    engagement: float
    """Engagement angle, degrees"""
    factor: float
    """Greatest chip thickness over feed of the axis for each tooth"""
    feed_per_tooth: float
    """Advance of the cutter's axis for each tooth"""
    feed_per_tooth_edge: float
    """The same at the diameter being cut"""
    greatest_chip: float
    """Greatest chip thickness it gives"""
    mean_chip: float
    """Mean chip thickness it gives"""
    capped: bool
    """Whether the cap on thinned chips held the feed down"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> HeldChipReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            chip_wanted=raw["chip_wanted"],
            engagement=raw["engagement"],
            factor=raw["factor"],
            feed_per_tooth=raw["feed_per_tooth"],
            feed_per_tooth_edge=raw["feed_per_tooth_edge"],
            greatest_chip=raw["greatest_chip"],
            mean_chip=raw["mean_chip"],
            capped=raw["capped"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PassLoadReply(Result):
    """What one pass asks of cutter and spindle."""

    chip_area_mm2: float
    """Axial section removed, over all rows"""
    engagement: float
    """Engagement angle, degrees"""
    mean_chip_mm: float
    """Mean chip thickness"""
    greatest_chip_mm: float
    """Greatest chip thickness"""
    tangential_mean_n: float
    """Mean tangential force while a tooth cuts"""
    tangential_greatest_n: float
    """Greatest tangential force of a tooth"""
    wall_n: float
    """Mean force off the wall; negative pulls the cutter in"""
    teeth_in_cut: float
    """Teeth that cut at once, on average"""
    torque_mean_nm: float
    """Mean torque"""
    torque_greatest_nm: float
    """Greatest torque"""
    power_kw: float
    """Power at the cutter"""
    removal_cm3_per_min: float
    """Removal rate"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PassLoadReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            chip_area_mm2=raw["chip_area_mm2"],
            engagement=raw["engagement"],
            mean_chip_mm=raw["mean_chip_mm"],
            greatest_chip_mm=raw["greatest_chip_mm"],
            tangential_mean_n=raw["tangential_mean_n"],
            tangential_greatest_n=raw["tangential_greatest_n"],
            wall_n=raw["wall_n"],
            teeth_in_cut=raw["teeth_in_cut"],
            torque_mean_nm=raw["torque_mean_nm"],
            torque_greatest_nm=raw["torque_greatest_nm"],
            power_kw=raw["power_kw"],
            removal_cm3_per_min=raw["removal_cm3_per_min"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class DeflectionReply(Result):
    """How far the cutter bends."""

    deflection_mm: float
    """At the tooth; positive is off the wall"""
    pitch_diameter_error_mm: float
    """What that makes of the pitch diameter"""
    stiffness_n_per_mm: float
    """Stiffness of the cutter at the tooth"""
    modulus_n_per_mm2: float
    """Young's modulus it was worked out with"""
    modulus_source: SourceReply
    """Where that comes from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> DeflectionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            deflection_mm=raw["deflection_mm"],
            pitch_diameter_error_mm=raw["pitch_diameter_error_mm"],
            stiffness_n_per_mm=raw["stiffness_n_per_mm"],
            modulus_n_per_mm2=raw["modulus_n_per_mm2"],
            modulus_source=SourceReply.of(raw["modulus_source"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ThreadPassReply(Result):
    """One radial pass worked out whole."""

    depth_before: float
    """Depth before"""
    depth_after: float
    """Depth after"""
    diameter_after: float
    """Diameter at the tooth's tip after"""
    chip: HeldChipReply
    """Chip and feed for each tooth"""
    feed: ArcFeedReply
    """Feed on the arc"""
    force: PassLoadReply
    """Force, torque, power"""
    deflection: DeflectionReply | None
    """Deflection, null where neck, shank or overhang isn't stated"""
    share_of_tolerance: float | None
    """Pitch diameter error over its tolerance, null without either; a plan leaves it out"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ThreadPassReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            depth_before=raw["depth_before"],
            depth_after=raw["depth_after"],
            diameter_after=raw["diameter_after"],
            chip=HeldChipReply.of(raw["chip"]),
            feed=ArcFeedReply.of(raw["feed"]),
            force=PassLoadReply.of(raw["force"]),
            deflection=None if raw["deflection"] is None else DeflectionReply.of(raw["deflection"]),
            share_of_tolerance=raw.get("share_of_tolerance"),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class LoadReply(Result):
    """A thread's passes and what they ask."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    kc11_n_per_mm2: FigureReply
    """Specific cutting force used"""
    mc: FigureReply
    """Exponent used"""
    passes: tuple[ThreadPassReply, ...]
    """The passes"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> LoadReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            kc11_n_per_mm2=FigureReply.of(raw["kc11_n_per_mm2"]),
            mc=FigureReply.of(raw["mc"]),
            passes=tuple(ThreadPassReply.of(item) for item in raw["passes"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class MachiningTimeReply(Result):
    """Where the seconds of one part go."""

    cutting_s: float
    """At feed"""
    rapid_s: float
    """At rapid"""
    tool_change_s: float
    """Changing tools"""
    handling_s: float
    """Handling the part"""
    total_s: float
    """All together"""
    cutting_length: float
    """Way at feed"""
    rapid_length: float
    """Way at rapid"""
    slowed_s: float
    """What acceleration adds over way by feed"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> MachiningTimeReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            cutting_s=raw["cutting_s"],
            rapid_s=raw["rapid_s"],
            tool_change_s=raw["tool_change_s"],
            handling_s=raw["handling_s"],
            total_s=raw["total_s"],
            cutting_length=raw["cutting_length"],
            rapid_length=raw["rapid_length"],
            slowed_s=raw["slowed_s"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BatchCostReply(Result):
    """Cost, in the currency of the rates."""

    machine_per_part: float
    """Machine, for each part"""
    cutter_per_part: float
    """Cutter worn, for each part"""
    material_per_part: float
    """Material, for each part"""
    setup_per_part: float
    """Setting up, shared out"""
    per_part: float
    """One part"""
    batch: float
    """The batch"""
    batch_hours: float
    """Hours for the batch"""
    cutters_used: float
    """Cutters worn out by the batch"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BatchCostReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            machine_per_part=raw["machine_per_part"],
            cutter_per_part=raw["cutter_per_part"],
            material_per_part=raw["material_per_part"],
            setup_per_part=raw["setup_per_part"],
            per_part=raw["per_part"],
            batch=raw["batch"],
            batch_hours=raw["batch_hours"],
            cutters_used=raw["cutters_used"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class TimeReply(Result):
    """Time of one part, and cost."""

    unit: Literal["in", "mm"]
    """Unit of every length in this reply"""
    time: MachiningTimeReply
    """The time"""
    cost: BatchCostReply | None
    """The cost, null without rates"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> TimeReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            time=MachiningTimeReply.of(raw["time"]),
            cost=None if raw["cost"] is None else BatchCostReply.of(raw["cost"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PointReply(Result):
    """A place of the cutter axis at the mid-plane of the lowest tooth."""

    x: float
    """X"""
    y: float
    """Y"""
    z: float
    """Z, growing out of the work; 0 is the face where the thread begins"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PointReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            x=raw["x"],
            y=raw["y"],
            z=raw["z"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class SegmentReply(Result):
    """One straight or helical piece of the tool path."""

    kind: Literal["rapid", "line", "arc"]
    """How it moves"""
    purpose: Literal[
        "approach", "plunge", "lead_in", "thread", "lead_out", "retract", "boss", "bore", "link"
    ]
    """What it is for"""
    begin: PointReply
    """Where it begins"""
    end: PointReply
    """Where it ends"""
    centre: tuple[float, ...] | None
    """Centre X and Y of an arc, null for straight pieces"""
    sense: Literal["clockwise", "counterclockwise"] | None
    """Sense of an arc seen from +Z, null for straight pieces"""
    sweep: float
    """Angle turned in degrees, 0 for straight pieces"""
    feed: float | None
    """Feed along the path, per minute; null for a rapid"""
    radial_pass: int
    """Radial pass, from 1; 0 where it is none"""
    start: int
    """Start of the thread, from 1; 0 where it is none"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> SegmentReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            kind=raw["kind"],
            purpose=raw["purpose"],
            begin=PointReply.of(raw["begin"]),
            end=PointReply.of(raw["end"]),
            centre=None if raw["centre"] is None else tuple(raw["centre"]),
            sense=raw["sense"],
            sweep=raw["sweep"],
            feed=raw["feed"],
            radial_pass=raw["radial_pass"],
            start=raw["start"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PathTotalsReply(Result):
    """What a path amounts to."""

    segments: int
    """Segments"""
    arcs: int
    """Arcs"""
    lines: int
    """Straight feed moves"""
    rapids: int
    """Rapid moves"""
    cutting_length: float
    """Along everything that is fed"""
    rapid_length: float
    """Along rapids"""
    thread_length: float
    """Along the thread itself"""
    arc_turns: float
    """Turns of all arcs of the thread"""
    height: float
    """From the lowest to the highest place of the tool's reference point"""
    least: PointReply
    """Least X, Y, Z"""
    greatest: PointReply
    """Greatest X, Y, Z"""
    begin: PointReply
    """Where it begins"""
    end: PointReply
    """Where it ends"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PathTotalsReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            segments=raw["segments"],
            arcs=raw["arcs"],
            lines=raw["lines"],
            rapids=raw["rapids"],
            cutting_length=raw["cutting_length"],
            rapid_length=raw["rapid_length"],
            thread_length=raw["thread_length"],
            arc_turns=raw["arc_turns"],
            height=raw["height"],
            least=PointReply.of(raw["least"]),
            greatest=PointReply.of(raw["greatest"]),
            begin=PointReply.of(raw["begin"]),
            end=PointReply.of(raw["end"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class HelixReply(PathResult):
    """The path of a thread."""

    unit: Literal["in", "mm"]
    """Unit of all lengths"""
    lead: float
    """Starts times pitch"""
    lead_angle: float
    """Of the centre path on the last pass"""
    sense: Literal["clockwise", "counterclockwise"]
    """Sense of turning seen from +Z"""
    motion: Literal["upward", "downward"]
    """Motion along Z while cutting"""
    thread_turns: float
    """Turns of thread: length over lead"""
    run_in_turns: float
    """Turns before the length of full thread, in the order of time"""
    run_out_turns: float
    """Turns after it"""
    runs_in_one_pass: int
    """Unbroken cuts in one radial pass"""
    turns_in_one_run: float
    """Turns of each"""
    total_turns: float
    """Over all passes, starts and steps"""
    blunt_start_steps: int
    """Steps of the blunt start, for each start"""
    lead_in_gouge: float
    """How deep the lead-in cuts into a flank; 0: not at all"""
    lead_out_gouge: float
    """How deep the lead-out does"""
    segments: tuple[SegmentReply, ...]
    """The path, in order"""
    totals: PathTotalsReply
    """What it amounts to"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> HelixReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            lead=raw["lead"],
            lead_angle=raw["lead_angle"],
            sense=raw["sense"],
            motion=raw["motion"],
            thread_turns=raw["thread_turns"],
            run_in_turns=raw["run_in_turns"],
            run_out_turns=raw["run_out_turns"],
            runs_in_one_pass=raw["runs_in_one_pass"],
            turns_in_one_run=raw["turns_in_one_run"],
            total_turns=raw["total_turns"],
            blunt_start_steps=raw["blunt_start_steps"],
            lead_in_gouge=raw["lead_in_gouge"],
            lead_out_gouge=raw["lead_out_gouge"],
            segments=tuple(SegmentReply.of(item) for item in raw["segments"]),
            totals=PathTotalsReply.of(raw["totals"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BlankPathReply(PathResult):
    """The path that mills a blank; places are of the end mill's axis at its end face."""

    unit: Literal["in", "mm"]
    """Unit of all lengths"""
    radii: tuple[float, ...]
    """Radius of boss or hole after each round, the finished one last"""
    ramp_angle: float | None
    """Steepest way down of the tool centre, null for a boss"""
    segments: tuple[SegmentReply, ...]
    """The path, in order"""
    totals: PathTotalsReply
    """What it amounts to"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BlankPathReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            radii=tuple(raw["radii"]),
            ramp_angle=raw["ramp_angle"],
            segments=tuple(SegmentReply.of(item) for item in raw["segments"]),
            totals=PathTotalsReply.of(raw["totals"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ApproachReply(Result):
    """The least clearance of one part of the tool from one part of the stock."""

    clearance: float
    """Least distance; negative: the tool is in the stock by that much"""
    tool: Literal["teeth", "neck", "shank", "holder"]
    """Part of the tool"""
    stock: Literal["boss", "shoulder", "hole wall", "hole bottom"]
    """Part of the stock"""
    segment: int
    """Which segment of the path, from 0"""
    place: PointReply
    """Where the lowest tooth is then"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ApproachReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            clearance=raw["clearance"],
            tool=raw["tool"],
            stock=raw["stock"],
            segment=raw["segment"],
            place=PointReply.of(raw["place"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PathCollisionReply(Result):
    """How near the tool comes to the stock, over the whole path."""

    unit: Literal["in", "mm"]
    """Unit of all lengths"""
    clear: bool
    """Whether every clearance is at least what is wanted"""
    least_clearance: float
    """What is wanted"""
    approaches: tuple[ApproachReply, ...]
    """Every pair that can meet, the nearest first"""
    left_out: tuple[Literal["teeth", "neck", "shank", "holder"], ...]
    """Parts of the tool whose size isn't given: not looked at"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PathCollisionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            clear=raw["clear"],
            least_clearance=raw["least_clearance"],
            approaches=tuple(ApproachReply.of(item) for item in raw["approaches"]),
            left_out=tuple(raw["left_out"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FlankAsCutReply(Result):
    """One flank of the groove, fitted by a straight line."""

    angle: float
    """Of the fitted line, against a plane square to the axis"""
    nominal_angle: float
    """The thread's own"""
    angle_error: float
    """angle less nominal_angle"""
    form_deviation: float
    """Span, square to the flank, about a nominal flank through its pitch point"""
    straightness: float
    """Span, square to the flank, about its own fitted line"""
    overcut: float
    """How much farther along the axis it lies than the tooth alone would put it, at the pitch
    line
    """
    begin_radius: float
    """The fit runs from this radius"""
    end_radius: float
    """to this"""
    cut_by_flank: bool
    """False where the lead is so coarse that the tooth's corner cuts the wall; the fit then
    covers the middle half of the depth
    """

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FlankAsCutReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            angle=raw["angle"],
            nominal_angle=raw["nominal_angle"],
            angle_error=raw["angle_error"],
            form_deviation=raw["form_deviation"],
            straightness=raw["straightness"],
            overcut=raw["overcut"],
            begin_radius=raw["begin_radius"],
            end_radius=raw["end_radius"],
            cut_by_flank=raw["cut_by_flank"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ToleranceUseReply(Result):
    """What the form takes of the pitch diameter's tolerance, in percent of it."""

    tolerance: float
    """Of the pitch diameter"""
    used_by_overcut: float
    """Percent: change of pitch diameter by the overcut, uncorrected"""
    used_by_form: float
    """Percent: what no correction of the radius takes back"""
    position: float
    """0 with the pitch diameter at its least limit, 100 at its greatest"""
    pitch_diameter_inside: bool
    """Whether it is inside its limits"""
    functional_diameter_inside: bool
    """Whether the functional diameter is"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ToleranceUseReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            tolerance=raw["tolerance"],
            used_by_overcut=raw["used_by_overcut"],
            used_by_form=raw["used_by_form"],
            position=raw["position"],
            pitch_diameter_inside=raw["pitch_diameter_inside"],
            functional_diameter_inside=raw["functional_diameter_inside"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class GrooveAsCutReply(Result):
    """The axial section of one groove as cut, and its measures."""

    side: Literal["external", "internal"]
    """External or internal"""
    pitch: float
    """Pitch"""
    lead: float
    """Lead"""
    taper: float
    """Change of diameter for one unit of rise in Z"""
    radius: tuple[float, ...]
    """Radii, rising"""
    upper_edge: tuple[float, ...]
    """Z of the groove's upper edge at each radius"""
    lower_edge: tuple[float, ...]
    """Z of its lower edge"""
    pitch_diameter: float
    """Where groove and ridge are equally wide; for a taper thread at Z = 0"""
    triangle_pitch_diameter: float
    """Where the tooth alone, without helix, would put it"""
    overcut_effect: float
    """pitch_diameter less triangle_pitch_diameter"""
    functional_diameter: float
    """Pitch diameter of the perfect mating thread that just enters, over the fitted flanks"""
    functional_effect: float
    """functional_diameter less pitch_diameter"""
    major_diameter: float
    """Major diameter as cut"""
    minor_diameter: float
    """Minor diameter as cut"""
    root_width: float
    """Flat at the bottom of the groove"""
    root_radius: float
    """Least radius of the fillet between root and flank"""
    crest_width: float
    """Width of the crest left standing"""
    crest_left_by: Literal["blank", "tooth body", "sharp"]
    """What the crest is: the blank, cut back by the tooth's body, or an edge where grooves meet"""
    upper_flank: FlankAsCutReply
    """Flank at the groove's upper edge; it faces -Z"""
    lower_flank: FlankAsCutReply
    """Flank at its lower edge; it faces +Z"""
    tolerance_use: ToleranceUseReply | None
    """Shares of the tolerance; null without limits"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> GrooveAsCutReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            side=raw["side"],
            pitch=raw["pitch"],
            lead=raw["lead"],
            taper=raw["taper"],
            radius=tuple(raw["radius"]),
            upper_edge=tuple(raw["upper_edge"]),
            lower_edge=tuple(raw["lower_edge"]),
            pitch_diameter=raw["pitch_diameter"],
            triangle_pitch_diameter=raw["triangle_pitch_diameter"],
            overcut_effect=raw["overcut_effect"],
            functional_diameter=raw["functional_diameter"],
            functional_effect=raw["functional_effect"],
            major_diameter=raw["major_diameter"],
            minor_diameter=raw["minor_diameter"],
            root_width=raw["root_width"],
            root_radius=raw["root_radius"],
            crest_width=raw["crest_width"],
            crest_left_by=raw["crest_left_by"],
            upper_flank=FlankAsCutReply.of(raw["upper_flank"]),
            lower_flank=FlankAsCutReply.of(raw["lower_flank"]),
            tolerance_use=None
            if raw["tolerance_use"] is None
            else ToleranceUseReply.of(raw["tolerance_use"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FormSectionReply(Result):
    """The groove as cut, and what first order alone would have said."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    section: GrooveAsCutReply
    """The groove as cut"""
    overcut_effect_first_order: float | None
    """(lead / 2 pi)^2 rho / (tan^2 a  r Rc), signed: the formula for the back of a drawing; null
    where a flank is square to the axis
    """
    diameter_per_depth: float
    """Change of pitch diameter per unit of depth; 2 for a plain triangle"""
    pitch_spread: float
    """How far rows out of step put grooves apart along the axis"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FormSectionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            section=GrooveAsCutReply.of(raw["section"]),
            overcut_effect_first_order=raw["overcut_effect_first_order"],
            diameter_per_depth=raw["diameter_per_depth"],
            pitch_spread=raw["pitch_spread"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class RadiusCorrectionReply(Result):
    """The centre path that lands the pitch diameter on its aim."""

    aim: float
    """Pitch diameter aimed at"""
    centre_radius: float
    """Radius of the centre path, from the form really cut"""
    triangle_centre_radius: float
    """What the nominal triangle would have asked for"""
    change: float
    """centre_radius less triangle_centre_radius"""
    pitch_diameter_without: float
    """What the triangle's radius would really cut"""
    error_without: float
    """pitch_diameter_without less aim"""
    root_diameter: float
    """Diameter at the bottom of the groove, as cut"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> RadiusCorrectionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            aim=raw["aim"],
            centre_radius=raw["centre_radius"],
            triangle_centre_radius=raw["triangle_centre_radius"],
            change=raw["change"],
            pitch_diameter_without=raw["pitch_diameter_without"],
            error_without=raw["error_without"],
            root_diameter=raw["root_diameter"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ConditionReply(Result):
    """Pitch diameter with the cutter as it runs, against a true and sharp one on the same path."""

    pitch_diameter: float
    """Of the true and sharp cutter"""
    pitch_diameter_least: float
    """With runout and wear, the runout between two teeth"""
    pitch_diameter_greatest: float
    """With runout and wear, the runout on a tooth"""
    by_runout_least: float
    """Change by the runout alone, signed: least"""
    by_runout_greatest: float
    """Change by the runout alone, signed: greatest"""
    by_wear: float
    """Change by the wear alone, signed"""
    deeper_least: float
    """How much deeper the highest tooth cuts: least"""
    deeper_greatest: float
    """How much deeper the highest tooth cuts: greatest"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ConditionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            pitch_diameter=raw["pitch_diameter"],
            pitch_diameter_least=raw["pitch_diameter_least"],
            pitch_diameter_greatest=raw["pitch_diameter_greatest"],
            by_runout_least=raw["by_runout_least"],
            by_runout_greatest=raw["by_runout_greatest"],
            by_wear=raw["by_wear"],
            deeper_least=raw["deeper_least"],
            deeper_greatest=raw["deeper_greatest"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class TiltReply(Result):
    """The same path cut upright, and with the axis tilted to the lead angle."""

    lead_angle: float
    """At the pitch line: the tilt that puts the tooth square to its groove"""
    tilt: float
    """Tilt taken"""
    pitch_diameter_upright: float
    """Pitch diameter with the axis upright"""
    pitch_diameter_tilted: float
    """Pitch diameter with the axis tilted"""
    overcut_upright: float
    """Mean overcut of a flank, upright"""
    overcut_tilted: float
    """Mean overcut of a flank, tilted"""
    cost_of_no_tilt: float
    """pitch_diameter_upright less pitch_diameter_tilted"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> TiltReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            lead_angle=raw["lead_angle"],
            tilt=raw["tilt"],
            pitch_diameter_upright=raw["pitch_diameter_upright"],
            pitch_diameter_tilted=raw["pitch_diameter_tilted"],
            overcut_upright=raw["overcut_upright"],
            overcut_tilted=raw["overcut_tilted"],
            cost_of_no_tilt=raw["cost_of_no_tilt"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FormCorrectionReply(Result):
    """The radius to make the path with, the groove it then leaves, and what else moves it."""

    designation: str
    """The thread in its canonical spelling"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""
    crest_diameter: float
    """Of the hole or blank taken"""
    correction: RadiusCorrectionReply
    """The centre path"""
    section: GrooveAsCutReply
    """The groove it leaves"""
    diameter_per_depth: float
    """Change of pitch diameter per unit of depth"""
    condition: ConditionReply
    """What runout and wear do to it"""
    tilt: TiltReply | None
    """What not tilting the cutter costs; null for a taper thread"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FormCorrectionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            designation=raw["designation"],
            unit=raw["unit"],
            crest_diameter=raw["crest_diameter"],
            correction=RadiusCorrectionReply.of(raw["correction"]),
            section=GrooveAsCutReply.of(raw["section"]),
            diameter_per_depth=raw["diameter_per_depth"],
            condition=ConditionReply.of(raw["condition"]),
            tilt=None if raw["tilt"] is None else TiltReply.of(raw["tilt"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class RankedCutterReply(Result):
    """One cutter, and how it would do."""

    place: int
    """1 is best"""
    cutter_index: int
    """Its place in the request, from 0"""
    name: str
    """What the shop calls it"""
    diameter: float
    """Over the teeth"""
    will_do: bool
    """Whether it will do"""
    against: tuple[str, ...]
    """Why not, each with its figures"""
    correction: RadiusCorrectionReply | None
    """Its centre path; null where it has none"""
    used_by_overcut: float | None
    """Percent of the tolerance, uncorrected"""
    used_by_form: float | None
    """Percent that no correction takes back"""
    functional_diameter: float | None
    """As cut on its corrected path"""
    root_radius: float | None
    """Fillet at the root"""
    crest_width: float | None
    """Crest left standing"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> RankedCutterReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            place=raw["place"],
            cutter_index=raw["cutter_index"],
            name=raw["name"],
            diameter=raw["diameter"],
            will_do=raw["will_do"],
            against=tuple(raw["against"]),
            correction=None
            if raw["correction"] is None
            else RadiusCorrectionReply.of(raw["correction"]),
            used_by_overcut=raw["used_by_overcut"],
            used_by_form=raw["used_by_form"],
            functional_diameter=raw["functional_diameter"],
            root_radius=raw["root_radius"],
            crest_width=raw["crest_width"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class LargestCutterReply(Result):
    """The greatest cutter diameter, by each of three measures; the least of them rules."""

    diameter: float
    """Greatest diameter; 0 where no cutter would do"""
    limited_by: Literal["overcut", "major diameter", "hole"]
    """What limits it"""
    share_of_hole: float
    """diameter over the hole's"""
    by_overcut: float
    """By the share of the tolerance that the overcut may take"""
    by_major_diameter: float
    """By the least major diameter, once corrected"""
    by_hole: float
    """By the hole less its clearance"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> LargestCutterReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            diameter=raw["diameter"],
            limited_by=raw["limited_by"],
            share_of_hole=raw["share_of_hole"],
            by_overcut=raw["by_overcut"],
            by_major_diameter=raw["by_major_diameter"],
            by_hole=raw["by_hole"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class TrendRowReply(Result):
    """The greatest cutter for a neighbouring thread of the same profile and class."""

    pitch: float
    """Pitch"""
    pitch_diameter: float
    """Least pitch diameter"""
    pitch_diameter_tolerance: float
    """Its tolerance, scaled as ISO 965-1 does"""
    diameter: float
    """Greatest cutter diameter; 0 where none would do"""
    share_of_hole: float
    """diameter over the hole's"""
    limited_by: Literal["overcut", "major diameter", "hole"]
    """What limits it"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> TrendRowReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            pitch=raw["pitch"],
            pitch_diameter=raw["pitch_diameter"],
            pitch_diameter_tolerance=raw["pitch_diameter_tolerance"],
            diameter=raw["diameter"],
            share_of_hole=raw["share_of_hole"],
            limited_by=raw["limited_by"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FormCuttersReply(Result):
    """Cutters in the order a shop would reach for them, and the greatest there may be."""

    designation: str
    """The thread in its canonical spelling"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""
    crest_diameter: float
    """Of the hole or blank taken"""
    ranking: tuple[RankedCutterReply, ...]
    """Best first"""
    largest: LargestCutterReply | None
    """Greatest cutter for this hole with the best cutter's tip; null for external threads"""
    trend: tuple[TrendRowReply, ...]
    """How the greatest cutter moves with pitch and diameter; empty for external threads"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FormCuttersReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            designation=raw["designation"],
            unit=raw["unit"],
            crest_diameter=raw["crest_diameter"],
            ranking=tuple(RankedCutterReply.of(item) for item in raw["ranking"]),
            largest=None if raw["largest"] is None else LargestCutterReply.of(raw["largest"]),
            trend=tuple(TrendRowReply.of(item) for item in raw["trend"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FormOffsetReply(Result):
    """The radius offset to set next."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    radius_offset: float
    """Radius offset to set"""
    change: float
    """Against the last measurement's; minus cuts deeper"""
    diameter_offset_change: float
    """The same where the control keeps the diameter"""
    size_expected: float
    """Size it should bring"""
    uncertainty: float
    """Standard uncertainty of that size"""
    gain: float
    """How much of an offset's change the machine turns into size; 1 is ideal"""
    gain_uncertainty: float
    """Standard uncertainty of the gain"""
    diameter_per_depth: float
    """Change of size per unit of depth taken"""
    words: str
    """What to do, in words"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FormOffsetReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            radius_offset=raw["radius_offset"],
            change=raw["change"],
            diameter_offset_change=raw["diameter_offset_change"],
            size_expected=raw["size_expected"],
            uncertainty=raw["uncertainty"],
            gain=raw["gain"],
            gain_uncertainty=raw["gain_uncertainty"],
            diameter_per_depth=raw["diameter_per_depth"],
            words=raw["words"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class WiresReply(Result):
    """The wires that do for one thread."""

    best: float
    """Best size: an error of the flank angle doesn't shift its reading"""
    best_exact: float | None
    """Size that touches at the mean pitch diameter, the lead regarded; null where the flanks are
    unequal
    """
    least: float
    """Least size: a smaller one stands below the crest, or in the root"""
    greatest: float
    """Greatest size: a larger one rides on the crest"""
    use: float | None
    """The best, or the nearest to it that will do; null where no size will"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> WiresReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            best=raw["best"],
            best_exact=raw["best_exact"],
            least=raw["least"],
            greatest=raw["greatest"],
            use=raw["use"],
            unit=raw["unit"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ReadingOverReply(Result):
    """What a gauge reads over wires or balls in a thread of known pitch diameter."""

    reading: float
    """Exact reading: the wire at rest on both helicoids"""
    handbook: float
    """By the handbook's formula, which takes the lead as zero"""
    handbook_with_lead: float | None
    """With the handbook's lead term; null where the flanks are unequal"""
    handbook_error: float
    """Handbook less exact"""
    handbook_with_lead_error: float | None
    """Handbook with lead term, less exact"""
    lead_angle: float
    """Lead angle at the pitch diameter"""
    wire_tilt: float
    """Angle of a wire to the plane square to the axis"""
    contact_diameter_upper: float
    """Diameter at which the upper flank is touched"""
    contact_diameter_lower: float
    """Diameter at which the lower flank is touched"""
    axial_offset: float
    """Along the axis to the nearest groove opposite"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ReadingOverReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            reading=raw["reading"],
            handbook=raw["handbook"],
            handbook_with_lead=raw["handbook_with_lead"],
            handbook_error=raw["handbook_error"],
            handbook_with_lead_error=raw["handbook_with_lead_error"],
            lead_angle=raw["lead_angle"],
            wire_tilt=raw["wire_tilt"],
            contact_diameter_upper=raw["contact_diameter_upper"],
            contact_diameter_lower=raw["contact_diameter_lower"],
            axial_offset=raw["axial_offset"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class WireSizesReply(Result):
    """Wires, or balls, that can measure a thread anywhere inside its limits."""

    best: float
    """Best size: an error of the flank angle doesn't shift its reading"""
    best_exact: float | None
    """Size that touches at the mean pitch diameter, the lead regarded; null where the flanks are
    unequal
    """
    least: float
    """Least size: a smaller one stands below the crest, or in the root"""
    greatest: float
    """Greatest size: a larger one rides on the crest"""
    use: float | None
    """The best, or the nearest to it that will do; null where no size will"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> WireSizesReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            best=raw["best"],
            best_exact=raw["best_exact"],
            least=raw["least"],
            greatest=raw["greatest"],
            use=raw["use"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class LimitsOverReply(Result):
    """The readings between which the pitch diameter is inside its limits."""

    wire: float
    """Diameter of the wires, or of the balls"""
    method: Literal["three wires", "two wires", "over balls", "between balls"]
    """How it is measured"""
    line: Literal["square to the axis", "through both centres"]
    """Line of measurement"""
    min: ReadingOverReply
    """At the least pitch diameter"""
    max: ReadingOverReply
    """At the greatest pitch diameter"""
    sizes: WireSizesReply
    """Sizes that would do"""
    sources: tuple[SourceReply, ...]
    """Where the figures come from"""
    notes: tuple[str, ...]
    """What to mind with this gauge"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> LimitsOverReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            wire=raw["wire"],
            method=raw["method"],
            line=raw["line"],
            min=ReadingOverReply.of(raw["min"]),
            max=ReadingOverReply.of(raw["max"]),
            sizes=WireSizesReply.of(raw["sizes"]),
            sources=tuple(SourceReply.of(item) for item in raw["sources"]),
            notes=tuple(raw["notes"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class UnfitWireReply(Result):
    """A wire at hand that can't be used here, and why."""

    wire: float
    """Diameter of the wires, or of the balls"""
    reasons: tuple[str, ...]
    """Why not"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> UnfitWireReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            wire=raw["wire"],
            reasons=tuple(raw["reasons"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class OverWiresReply(Result):
    """The wire at hand to use, and the limits over it."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    limits: LimitsOverReply
    """Limits of the reading, not rounded"""
    angle_sensitivity: float
    """Change of pitch diameter per degree of flank angle"""
    others: tuple[float, ...]
    """Further wires at hand that would do, best first"""
    unfit: tuple[UnfitWireReply, ...]
    """Wires that can't be used"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> OverWiresReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            limits=LimitsOverReply.of(raw["limits"]),
            angle_sensitivity=raw["angle_sensitivity"],
            others=tuple(raw["others"]),
            unfit=tuple(UnfitWireReply.of(item) for item in raw["unfit"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class OverReadingReply(Result):
    """A reading over wires or balls, and the unit of its lengths."""

    reading: float
    """Exact reading: the wire at rest on both helicoids"""
    handbook: float
    """By the handbook's formula, which takes the lead as zero"""
    handbook_with_lead: float | None
    """With the handbook's lead term; null where the flanks are unequal"""
    handbook_error: float
    """Handbook less exact"""
    handbook_with_lead_error: float | None
    """Handbook with lead term, less exact"""
    lead_angle: float
    """Lead angle at the pitch diameter"""
    wire_tilt: float
    """Angle of a wire to the plane square to the axis"""
    contact_diameter_upper: float
    """Diameter at which the upper flank is touched"""
    contact_diameter_lower: float
    """Diameter at which the lower flank is touched"""
    axial_offset: float
    """Along the axis to the nearest groove opposite"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> OverReadingReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            reading=raw["reading"],
            handbook=raw["handbook"],
            handbook_with_lead=raw["handbook_with_lead"],
            handbook_error=raw["handbook_error"],
            handbook_with_lead_error=raw["handbook_with_lead_error"],
            lead_angle=raw["lead_angle"],
            wire_tilt=raw["wire_tilt"],
            contact_diameter_upper=raw["contact_diameter_upper"],
            contact_diameter_lower=raw["contact_diameter_lower"],
            axial_offset=raw["axial_offset"],
            unit=raw["unit"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class MeasuredReply(Result):
    """Where the true pitch diameter lies."""

    pitch_diameter: float
    """Measured pitch diameter"""
    uncertainty: float
    """Half width of the range"""
    least: float
    """Least it can be"""
    greatest: float
    """Greatest it can be"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> MeasuredReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            pitch_diameter=raw["pitch_diameter"],
            uncertainty=raw["uncertainty"],
            least=raw["least"],
            greatest=raw["greatest"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class WorkedBackReply(Result):
    """A pitch diameter worked back from a reading."""

    pitch_diameter: float
    """Exact"""
    handbook: float
    """By the handbook's formula, which takes the lead as zero"""
    handbook_with_lead: float | None
    """With the handbook's lead term; null where the flanks are unequal"""
    handbook_error: float
    """Handbook less exact"""
    contact_diameter_upper: float
    """Diameter at which the upper flank is touched"""
    contact_diameter_lower: float
    """Diameter at which the lower flank is touched"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> WorkedBackReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            pitch_diameter=raw["pitch_diameter"],
            handbook=raw["handbook"],
            handbook_with_lead=raw["handbook_with_lead"],
            handbook_error=raw["handbook_error"],
            contact_diameter_upper=raw["contact_diameter_upper"],
            contact_diameter_lower=raw["contact_diameter_lower"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class MeasuredOverReply(Result):
    """A measured pitch diameter, and the unit of its lengths."""

    measured: MeasuredReply
    """Where the true pitch diameter lies"""
    worked_back: WorkedBackReply
    """How it was worked back"""
    from_reading: float
    """Part of the uncertainty that comes from the reading"""
    from_wire: float
    """Part that comes from the wire's diameter"""
    from_flank_angle: float
    """Part that comes from the flank angle"""
    sources: tuple[SourceReply, ...]
    """Where the figures come from"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> MeasuredOverReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            measured=MeasuredReply.of(raw["measured"]),
            worked_back=WorkedBackReply.of(raw["worked_back"]),
            from_reading=raw["from_reading"],
            from_wire=raw["from_wire"],
            from_flank_angle=raw["from_flank_angle"],
            sources=tuple(SourceReply.of(item) for item in raw["sources"]),
            unit=raw["unit"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PitchMeasuredReply(Result):
    """A pitch diameter measured over wires or balls, and what its uncertainty is made of."""

    measured: MeasuredReply
    """Where the true pitch diameter lies"""
    worked_back: WorkedBackReply
    """How it was worked back"""
    from_reading: float
    """Part of the uncertainty that comes from the reading"""
    from_wire: float
    """Part that comes from the wire's diameter"""
    from_flank_angle: float
    """Part that comes from the flank angle"""
    sources: tuple[SourceReply, ...]
    """Where the figures come from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PitchMeasuredReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            measured=MeasuredReply.of(raw["measured"]),
            worked_back=WorkedBackReply.of(raw["worked_back"]),
            from_reading=raw["from_reading"],
            from_wire=raw["from_wire"],
            from_flank_angle=raw["from_flank_angle"],
            sources=tuple(SourceReply.of(item) for item in raw["sources"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PitchVerdictReply(Result):
    """Whether a measured pitch diameter is inside its limits, and the room left."""

    standing: Literal["inside", "too small", "too large", "can't be told"]
    """Where it stands"""
    doubt: str | None
    """Which limit the uncertainty straddles, null when sure"""
    room_to_min: float
    """Measured less the least limit; negative beyond it"""
    room_to_max: float
    """Greatest limit less measured; negative beyond it"""
    words: str
    """The verdict in words"""
    source: SourceReply
    """Rule of decision"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PitchVerdictReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            standing=raw["standing"],
            doubt=raw["doubt"],
            room_to_min=raw["room_to_min"],
            room_to_max=raw["room_to_max"],
            words=raw["words"],
            source=SourceReply.of(raw["source"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class OffsetChangeReply(Result):
    """What to change at the control to bring the pitch diameter to its aim."""

    aim: float
    """Pitch diameter aimed at"""
    pitch_diameter_change: float
    """Aim less measured"""
    radius_offset_change: float
    """To add to the cutter's radius offset, signed"""
    diameter_offset_change: float
    """To add instead where the control keeps the cutter's diameter"""
    words: str
    """What to do, in words"""
    rework: bool | None
    """True: another pass brings this part to its aim. False: metal is missing, the change is for
    the next part. Null: the part is inside its limits, or that can't be told
    """
    verdict: PitchVerdictReply
    """Where the part stands"""
    cautions: tuple[str, ...]
    """What to mind"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> OffsetChangeReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            aim=raw["aim"],
            pitch_diameter_change=raw["pitch_diameter_change"],
            radius_offset_change=raw["radius_offset_change"],
            diameter_offset_change=raw["diameter_offset_change"],
            words=raw["words"],
            rework=raw["rework"],
            verdict=PitchVerdictReply.of(raw["verdict"]),
            cautions=tuple(raw["cautions"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class InspectionReply(Result):
    """Pitch diameter, verdict and correction from one reading."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    over: PitchMeasuredReply
    """The pitch diameter measured"""
    verdict: PitchVerdictReply
    """Where the part stands"""
    correction: OffsetChangeReply
    """What to change at the control"""
    notes: tuple[str, ...]
    """What to mind with this gauge"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> InspectionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            over=PitchMeasuredReply.of(raw["over"]),
            verdict=PitchVerdictReply.of(raw["verdict"]),
            correction=OffsetChangeReply.of(raw["correction"]),
            notes=tuple(raw["notes"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class OffsetCorrectionReply(Result):
    """The change of the radius offset, and the unit of its lengths."""

    aim: float
    """Pitch diameter aimed at"""
    pitch_diameter_change: float
    """Aim less measured"""
    radius_offset_change: float
    """To add to the cutter's radius offset, signed"""
    diameter_offset_change: float
    """To add instead where the control keeps the cutter's diameter"""
    words: str
    """What to do, in words"""
    rework: bool | None
    """True: another pass brings this part to its aim. False: metal is missing, the change is for
    the next part. Null: the part is inside its limits, or that can't be told
    """
    verdict: PitchVerdictReply
    """Where the part stands"""
    cautions: tuple[str, ...]
    """What to mind"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> OffsetCorrectionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            aim=raw["aim"],
            pitch_diameter_change=raw["pitch_diameter_change"],
            radius_offset_change=raw["radius_offset_change"],
            diameter_offset_change=raw["diameter_offset_change"],
            words=raw["words"],
            rework=raw["rework"],
            verdict=PitchVerdictReply.of(raw["verdict"]),
            cautions=tuple(raw["cautions"]),
            unit=raw["unit"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class OffsetResponseReply(Result):
    """How the thread answered, and the next correction by it."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    diameter_per_radius: float
    """Observed change of pitch diameter per radius; 2 is rigid"""
    correction: OffsetChangeReply
    """What to change next"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> OffsetResponseReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            diameter_per_radius=raw["diameter_per_radius"],
            correction=OffsetChangeReply.of(raw["correction"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class CorrectionRowReply(Result):
    """One row: this reading, that change."""

    reading: float
    """What the gauge reads"""
    pitch_diameter: float
    """Pitch diameter it stands for"""
    standing: Literal["inside", "too small", "too large", "can't be told"]
    """Where the part stands"""
    part: Literal["good", "rework", "scrap"]
    """What becomes of a part that reads so"""
    radius_offset_change: float | None
    """To add to the cutter's radius offset, signed; null where it would be more than a tenth of
    the pitch, which is no correction
    """
    words: str
    """What to do, in words"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> CorrectionRowReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            reading=raw["reading"],
            pitch_diameter=raw["pitch_diameter"],
            standing=raw["standing"],
            part=raw["part"],
            radius_offset_change=raw["radius_offset_change"],
            words=raw["words"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class CorrectionTableReply(Result):
    """Rows from one tolerance below the limits to one above."""

    designation: str
    """The thread in its canonical spelling"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""
    wire: float
    """Diameter of the wires, or of the balls"""
    rows: tuple[CorrectionRowReply, ...]
    """Rows by rising reading"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> CorrectionTableReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            designation=raw["designation"],
            unit=raw["unit"],
            wire=raw["wire"],
            rows=tuple(CorrectionRowReply.of(item) for item in raw["rows"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class NarrowReply(Result):
    """Where the pitch diameter lies when every measurement holds."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    measured: MeasuredReply
    """Common part of all ranges"""
    verdict: PitchVerdictReply
    """Where the part stands"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> NarrowReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            measured=MeasuredReply.of(raw["measured"]),
            verdict=PitchVerdictReply.of(raw["verdict"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FlankAngleReply(Result):
    """The flank angle at which both readings agree."""

    unit: Literal["in", "mm"]
    """Unit of every length here"""
    flank_angle: float
    """From a plane square to the axis to each flank, taken as equal"""
    pitch_diameter: float
    """Pitch diameter both readings then give"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FlankAngleReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            flank_angle=raw["flank_angle"],
            pitch_diameter=raw["pitch_diameter"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class GaugeReply(Result):
    """One go or no-go gauge, without the gauge maker's tolerance."""

    kind: Literal["thread ring", "thread plug", "plain ring", "plain plug"]
    """Kind of gauge"""
    duty: Literal["go", "no-go"]
    """Whether it must go"""
    name: str
    """What to take out of the drawer: duty, kind, thread, hand where it is left"""
    pitch_diameter: float | None
    """Pitch diameter of a thread gauge"""
    crest_diameter: float | None
    """Its crest: minor diameter of a ring, major of a plug; null where none is stated"""
    plain_diameter: float | None
    """Diameter of a plain gauge"""
    checks: str
    """What it checks"""
    sources: tuple[SourceReply, ...]
    """Where the figures come from"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> GaugeReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            kind=raw["kind"],
            duty=raw["duty"],
            name=raw["name"],
            pitch_diameter=raw["pitch_diameter"],
            crest_diameter=raw["crest_diameter"],
            plain_diameter=raw["plain_diameter"],
            checks=raw["checks"],
            sources=tuple(SourceReply.of(item) for item in raw["sources"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class GaugesReply(Result):
    """The gauges that accept a thread inside its limits."""

    designation: str
    """The thread in its canonical spelling"""
    unit: Literal["in", "mm"]
    """Unit of every length here"""
    gauges: tuple[GaugeReply, ...]
    """Gauges"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> GaugesReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            designation=raw["designation"],
            unit=raw["unit"],
            gauges=tuple(GaugeReply.of(item) for item in raw["gauges"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ReplayReply(Result):
    """What reading the program back found: the greatest differences from the path."""

    equal: bool
    """Text and path are equal; always true, for a difference is refused"""
    unit: Literal["in", "mm"]
    """Unit of the lengths"""
    last_digit: float
    """Value of one count of the last printed digit"""
    motions: int
    """Motions of the program"""
    position_error: float
    """Of any end place, along one axis"""
    arc_middle_error: float
    """Of the middle of any arc"""
    arc_radius_error: float
    """Between an arc's radius at its begin and at its end"""
    feed_error: float
    """Of any feed"""
    left_out: int
    """Pieces of the path shorter than the printed digits can tell"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ReplayReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            equal=raw["equal"],
            unit=raw["unit"],
            last_digit=raw["last_digit"],
            motions=raw["motions"],
            position_error=raw["position_error"],
            arc_middle_error=raw["arc_middle_error"],
            arc_radius_error=raw["arc_radius_error"],
            feed_error=raw["feed_error"],
            left_out=raw["left_out"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ProgramReply(ProgramResult):
    """The program, proved equal to its path."""

    text: str
    """Word-address text by ISO 6983 and RS-274"""
    blocks: int
    """Blocks, comments not counted"""
    bytes: int
    """Length of the text"""
    replay: ReplayReply
    """What reading it back found"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ProgramReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            text=raw["text"],
            blocks=raw["blocks"],
            bytes=raw["bytes"],
            replay=ReplayReply.of(raw["replay"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class MotionReply(Result):
    """One motion of the tool's tip."""

    line: int
    """Line of the text, from 1"""
    kind: Literal["rapid", "line", "arc"]
    """How it moves"""
    begin: tuple[float | None, ...]
    """X, Y, Z"""
    end: tuple[float | None, ...]
    """X, Y, Z"""
    centre: tuple[float, ...] | None
    """Centre of an arc in its plane, null for straight motions"""
    sense: Literal["clockwise", "counterclockwise"] | None
    """Sense of an arc"""
    sweep: float
    """Angle turned, 0 for straight motions"""
    feed: float | None
    """Feed along the path, per minute; null for a rapid"""
    state: int
    """Place of its modal state in the list of states, from 0"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> MotionReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            line=raw["line"],
            kind=raw["kind"],
            begin=tuple(raw["begin"]),
            end=tuple(raw["end"]),
            centre=None if raw["centre"] is None else tuple(raw["centre"]),
            sense=raw["sense"],
            sweep=raw["sweep"],
            feed=raw["feed"],
            state=raw["state"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ModalReply(Result):
    """The modal state of the control; null where the program hasn't said."""

    unit: Literal["in", "mm"] | None
    """Unit of the program's words"""
    plane: Literal["XY", "ZX", "YZ"] | None
    """Plane of arcs"""
    distance: Literal["absolute", "incremental"] | None
    """What axis words mean"""
    feed_mode: Literal["per minute", "per revolution", "inverse time"]
    """What a feed means"""
    work_offset: str | None
    """Work offset"""
    tool: int | None
    """Tool in the spindle"""
    length_offset: int | None
    """Number of the length offset"""
    radius_side: Literal["left", "right"] | None
    """Side of the radius offset"""
    radius_offset: int | None
    """Number of the radius offset"""
    spindle: Literal["stopped", "clockwise", "counterclockwise"]
    """Spindle"""
    spindle_speed: float | None
    """Spindle speed, rev/min"""
    coolant: tuple[Literal["mist", "flood"], ...]
    """Coolants that are on"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ModalReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            plane=raw["plane"],
            distance=raw["distance"],
            feed_mode=raw["feed_mode"],
            work_offset=raw["work_offset"],
            tool=raw["tool"],
            length_offset=raw["length_offset"],
            radius_side=raw["radius_side"],
            radius_offset=raw["radius_offset"],
            spindle=raw["spindle"],
            spindle_speed=raw["spindle_speed"],
            coolant=tuple(raw["coolant"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BlockFaultReply(Result):
    """What is wrong with one block."""

    line: int
    """Line of the text, from 1; 0 for the text as a whole"""
    code: str
    """Short name of the fault"""
    detail: str
    """What is wrong"""
    change: str
    """What to change"""
    text: str
    """The block, or its first part"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BlockFaultReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            line=raw["line"],
            code=raw["code"],
            detail=raw["detail"],
            change=raw["change"],
            text=raw["text"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ProgramReplayReply(Result):
    """A program as read."""

    unit: Literal["in", "mm"] | None
    """Unit of the motions: the first one the program sets"""
    motions: tuple[MotionReply, ...]
    """The motions up to the first fault"""
    motion_count: int
    """How many motions there are, listed or not"""
    states: tuple[ModalReply, ...]
    """The modal states they run under"""
    faults: tuple[BlockFaultReply, ...]
    """The faults, by line"""
    cautions: tuple[BlockFaultReply, ...]
    """What may be meant and most often isn't: cuts with no tool called, with no length offset,
    or under one whose number isn't the tool's; each at its first cut
    """
    blocks: int
    """Blocks read"""
    ended: bool
    """The program says its end, by M02 or M30"""
    dwell_seconds: float
    """All dwells together"""
    comments: tuple[str, ...]
    """The comments, at most 1000"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ProgramReplayReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            motions=tuple(MotionReply.of(item) for item in raw["motions"]),
            motion_count=raw["motion_count"],
            states=tuple(ModalReply.of(item) for item in raw["states"]),
            faults=tuple(BlockFaultReply.of(item) for item in raw["faults"]),
            cautions=tuple(BlockFaultReply.of(item) for item in raw["cautions"]),
            blocks=raw["blocks"],
            ended=raw["ended"],
            dwell_seconds=raw["dwell_seconds"],
            comments=tuple(raw["comments"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BarPlanReply(Result):
    """The bar, as given or as proposed."""

    shape: Literal["hexagon", "round"]
    """Shape"""
    size: float
    """Across flats of a hexagon, diameter of round bar"""
    across_corners: float | None
    """Hexagon across corners"""
    proposed: bool
    """The plan chose it"""
    corner_stand_out: float | None
    """How far corners (or the outside) stand out beyond the boss"""
    wall: float
    """Between the thread's greatest diameter and flats or outside"""
    mass_per_length: float
    """Mass of bar per length"""
    mass_unit: Literal["lb/in", "kg/m"]
    """Its unit"""
    others: tuple[BarChoiceReply, ...]
    """Further standard bars, when it was proposed"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BarPlanReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            shape=raw["shape"],
            size=raw["size"],
            across_corners=raw["across_corners"],
            proposed=raw["proposed"],
            corner_stand_out=raw["corner_stand_out"],
            wall=raw["wall"],
            mass_per_length=raw["mass_per_length"],
            mass_unit=raw["mass_unit"],
            others=tuple(BarChoiceReply.of(item) for item in raw["others"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class EndMillReply(Result):
    """The end mill for the blank."""

    diameter: float
    """Diameter"""
    flutes: int
    """Cutting edges"""
    flute_length: float
    """Length of the cutting edges"""
    substance: Literal["carbide", "high speed steel"]
    """What it is made of"""
    number: int
    """Tool number"""
    overhang: float | None
    """From the tip up to the holder"""
    name: str
    """What the shop calls it"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> EndMillReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            diameter=raw["diameter"],
            flutes=raw["flutes"],
            flute_length=raw["flute_length"],
            substance=raw["substance"],
            number=raw["number"],
            overhang=raw["overhang"],
            name=raw["name"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class BlankPlanReply(Result):
    """What the boss is milled to, or the hole bored to, before threading."""

    kind: Literal["boss", "hole"]
    """Boss or hole"""
    diameter: float
    """Diameter aimed at, or as measured"""
    least: float
    """Least diameter the thread's limits allow"""
    greatest: float
    """Greatest"""
    depth: float
    """From the face"""
    ready: bool
    """It was on size already"""
    budget: DepthBudgetReply | None
    """Where the depth goes; null where nothing stands below"""
    end_mill: EndMillReply | None
    """The end mill; null when ready"""
    speed: SpindleSpeedReply | None
    """Its speed"""
    edge_feed: float | None
    """Its feed at the cutting edge, per minute"""
    depth_per_level: float | None
    """Depth of a level, or of one turn of the helix"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> BlankPlanReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            kind=raw["kind"],
            diameter=raw["diameter"],
            least=raw["least"],
            greatest=raw["greatest"],
            depth=raw["depth"],
            ready=raw["ready"],
            budget=None if raw["budget"] is None else DepthBudgetReply.of(raw["budget"]),
            end_mill=None if raw["end_mill"] is None else EndMillReply.of(raw["end_mill"]),
            speed=None if raw["speed"] is None else SpindleSpeedReply.of(raw["speed"]),
            edge_feed=raw["edge_feed"],
            depth_per_level=raw["depth_per_level"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ToothReply(Result):
    """The tooth's profile."""

    flank_angle_upper: float
    """Flank angle on the shank side, degrees"""
    flank_angle_lower: float
    """Flank angle on the tip side, degrees"""
    tip_width: float
    """Flat at the tip before rounding"""
    depth: float
    """Radial height"""
    tip_radius: float
    """Radius between tip and flanks"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> ToothReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            flank_angle_upper=raw["flank_angle_upper"],
            flank_angle_lower=raw["flank_angle_lower"],
            tip_width=raw["tip_width"],
            depth=raw["depth"],
            tip_radius=raw["tip_radius"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class CutterReply(Result):
    """The thread mill as planned with."""

    diameter: float
    """Cutting diameter"""
    flutes: int
    """Cutting edges round the tool"""
    tooth: ToothReply
    """Its tooth"""
    rows: int
    """Rows of teeth"""
    row_pitch: float | None
    """Distance of the rows"""
    tip_to_tooth: float
    """From the tip up to the middle of the lowest tooth"""
    neck_diameter: float
    """Neck diameter, 0 when not known"""
    reach: float | None
    """Up to where the shank begins"""
    shank_diameter: float | None
    """Shank diameter"""
    overhang: float | None
    """Up to the holder"""
    holder_diameter: float | None
    """Holder diameter"""
    substance: Literal["carbide", "high speed steel"]
    """What it is made of"""
    least_pitch: float | None
    """Finest pitch"""
    greatest_pitch: float | None
    """Coarsest pitch"""
    number: int
    """Tool number"""
    name: str
    """What the shop calls it"""
    row_taper: float
    """Change of diameter per length over the rows"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> CutterReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            diameter=raw["diameter"],
            flutes=raw["flutes"],
            tooth=ToothReply.of(raw["tooth"]),
            rows=raw["rows"],
            row_pitch=raw["row_pitch"],
            tip_to_tooth=raw["tip_to_tooth"],
            neck_diameter=raw["neck_diameter"],
            reach=raw["reach"],
            shank_diameter=raw["shank_diameter"],
            overhang=raw["overhang"],
            holder_diameter=raw["holder_diameter"],
            substance=raw["substance"],
            least_pitch=raw["least_pitch"],
            greatest_pitch=raw["greatest_pitch"],
            number=raw["number"],
            name=raw["name"],
            row_taper=raw["row_taper"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class MotionPlanReply(Result):
    """How the cutter goes round."""

    side: Literal["external", "internal"]
    """Side"""
    hand: Literal["right", "left"]
    """Hand of the thread"""
    milling: Literal["climb", "conventional"]
    """Climb or conventional"""
    sense: Literal["clockwise", "counterclockwise"]
    """Seen from above"""
    motion: Literal["upward", "downward"]
    """Along Z meanwhile"""
    lead: float
    """Advance in one turn"""
    starts: int
    """Starts"""
    turns: float
    """Turns of thread in its length; run-in and run-out come on top"""
    turns_cut: float
    """Turns that the program makes in one run, run-in and run-out with them; fewer than those of
    the thread where several rows cut side by side
    """
    runs: int
    """Unbroken cuts in one radial pass: one for each start, more where several rows step along"""
    lead_in: Literal["half_arc", "quarter_arc", "radial"]
    """How it enters"""
    lead_out: Literal["half_arc", "quarter_arc", "radial"]
    """How it leaves"""
    radial_clearance: float
    """Air between cutter and blank at both ends"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> MotionPlanReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            side=raw["side"],
            hand=raw["hand"],
            milling=raw["milling"],
            sense=raw["sense"],
            motion=raw["motion"],
            lead=raw["lead"],
            starts=raw["starts"],
            turns=raw["turns"],
            turns_cut=raw["turns_cut"],
            runs=raw["runs"],
            lead_in=raw["lead_in"],
            lead_out=raw["lead_out"],
            radial_clearance=raw["radial_clearance"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PassPlanReply(Result):
    """One radial pass."""

    number: int
    """From 1"""
    centre_radius: float
    """Radius of the centre path"""
    spring: bool
    """A pass at the depth of the one before"""
    work: ThreadPassReply
    """Chip, feed, force and deflection"""
    pitch_diameter_effect: float | None
    """What cutter deflection leaves on the pitch diameter; null when not known"""
    tooth_depth: float
    """How deep the tooth goes before the body reaches the crest"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PassPlanReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            number=raw["number"],
            centre_radius=raw["centre_radius"],
            spring=raw["spring"],
            work=ThreadPassReply.of(raw["work"]),
            pitch_diameter_effect=raw["pitch_diameter_effect"],
            tooth_depth=raw["tooth_depth"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class AimedRadiusReply(Result):
    """The centre path that lands the pitch diameter on its aim, from the form really cut."""

    aim: float
    """Pitch diameter aimed at"""
    centre_radius: float
    """Radius of the centre path"""
    triangle_centre_radius: float
    """What the nominal triangle would have asked for"""
    change: float
    """The difference"""
    pitch_diameter_without: float
    """Pitch diameter the triangle's radius would cut"""
    error_without: float
    """How far off that is"""
    root_diameter: float
    """At the bottom of the groove"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> AimedRadiusReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            aim=raw["aim"],
            centre_radius=raw["centre_radius"],
            triangle_centre_radius=raw["triangle_centre_radius"],
            change=raw["change"],
            pitch_diameter_without=raw["pitch_diameter_without"],
            error_without=raw["error_without"],
            root_diameter=raw["root_diameter"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class FormPlanReply(Result):
    """What the cutter will leave."""

    pitch_diameter: float
    """Pitch diameter as cut"""
    functional_diameter: float
    """Of the perfect mating thread that just enters"""
    major_diameter: float
    """Major diameter as cut"""
    minor_diameter: float
    """Minor diameter as cut"""
    overcut_effect: float
    """Change of pitch diameter by the overcut of the helix"""
    flank_angle_error_upper: float
    """Degrees"""
    flank_angle_error_lower: float
    """Degrees"""
    form_deviation: float
    """Greatest distance of a cut flank from its nominal line"""
    crest_width: float
    """Crest left"""
    root_width: float
    """Flat at the root"""
    root_radius: float
    """Radius at the root"""
    tolerance_used: float | None
    """Share of the pitch diameter tolerance that the form takes"""
    correction: AimedRadiusReply
    """The centre path's radius"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> FormPlanReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            pitch_diameter=raw["pitch_diameter"],
            functional_diameter=raw["functional_diameter"],
            major_diameter=raw["major_diameter"],
            minor_diameter=raw["minor_diameter"],
            overcut_effect=raw["overcut_effect"],
            flank_angle_error_upper=raw["flank_angle_error_upper"],
            flank_angle_error_lower=raw["flank_angle_error_lower"],
            form_deviation=raw["form_deviation"],
            crest_width=raw["crest_width"],
            root_width=raw["root_width"],
            root_radius=raw["root_radius"],
            tolerance_used=raw["tolerance_used"],
            correction=AimedRadiusReply.of(raw["correction"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class GaugingPlanReply(Result):
    """How to measure the thread."""

    method: str
    """Three wires, or between balls"""
    wire: float
    """Diameter of wires or balls"""
    best_wire: float
    """Best size"""
    least_reading: float
    """Least reading"""
    greatest_reading: float
    """Greatest reading"""
    aimed_reading: float
    """Reading at the aimed pitch diameter"""
    handbook_error: float
    """What the handbook's formula gets wrong here"""
    table: tuple[CorrectionRowReply, ...]
    """Reading and what to change at the control"""
    gauges: tuple[GaugeReply, ...]
    """Go and no-go gauges"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> GaugingPlanReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            method=raw["method"],
            wire=raw["wire"],
            best_wire=raw["best_wire"],
            least_reading=raw["least_reading"],
            greatest_reading=raw["greatest_reading"],
            aimed_reading=raw["aimed_reading"],
            handbook_error=raw["handbook_error"],
            table=tuple(CorrectionRowReply.of(item) for item in raw["table"]),
            gauges=tuple(GaugeReply.of(item) for item in raw["gauges"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class CheckReply(Result):
    """One check: what was compared, with its figures, and what to change."""

    code: str
    """Code of the check; name it in `accept` to take a refusal on yourself"""
    state: Literal["passed", "caution", "refused", "accepted"]
    """Outcome"""
    detail: str
    """In words, with figures"""
    figure: float | None
    """What came out"""
    limit: float | None
    """What it is held against"""
    unit: str | None
    """Unit of both"""
    change: str
    """What to change; empty when nothing"""
    acceptable: bool
    """A refusal of this check may be accepted by its code"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> CheckReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            code=raw["code"],
            state=raw["state"],
            detail=raw["detail"],
            figure=raw["figure"],
            limit=raw["limit"],
            unit=raw["unit"],
            change=raw["change"],
            acceptable=raw["acceptable"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PlanReply(PlanResult):
    """The whole job, worked out."""

    unit: Literal["in", "mm"]
    """Unit of every length, as asked"""
    made_by: str
    """Which version of flankwise made it"""
    name: str
    """The part"""
    quantity: int
    """Parts in the batch"""
    verdict: Literal["ready", "ready with cautions", "refused"]
    """Whether it may be run"""
    limits: LimitsReply
    """Limits of size"""
    material: str
    """Material"""
    bar: BarPlanReply
    """The bar"""
    blank: BlankPlanReply
    """Boss or hole before threading"""
    cutter: CutterReply
    """The thread mill"""
    speed: SpindleSpeedReply
    """Its spindle speed"""
    motion: MotionPlanReply
    """How it goes round"""
    passes: tuple[PassPlanReply, ...]
    """Radial passes"""
    form: FormPlanReply
    """The form really cut"""
    path: PathTotalsReply
    """The thread's path"""
    blank_path: PathTotalsReply | None
    """The blank's path"""
    time: MachiningTimeReply
    """Time of one part"""
    cost: BatchCostReply | None
    """Cost, when a rate was given"""
    gauging: GaugingPlanReply | None
    """How to measure it; null for taper threads"""
    program: ProgramReply | None
    """The program; null when a check refuses it"""
    checks: tuple[CheckReply, ...]
    """Every check"""
    assumed: tuple[str, ...]
    """What the plan assumed"""
    advice: tuple[str, ...]
    """What to change, gathered from the checks"""
    cautions: tuple[str, ...]
    """For every job"""
    sources: tuple[SourceReply, ...]
    """Where figures come from"""
    job: JobAsk
    """The job document to keep: all that was left to the plan is written into it, and which
    version did; sent again it gives this plan
    """

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PlanReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            made_by=raw["made_by"],
            name=raw["name"],
            quantity=raw["quantity"],
            verdict=raw["verdict"],
            limits=LimitsReply.of(raw["limits"]),
            material=raw["material"],
            bar=BarPlanReply.of(raw["bar"]),
            blank=BlankPlanReply.of(raw["blank"]),
            cutter=CutterReply.of(raw["cutter"]),
            speed=SpindleSpeedReply.of(raw["speed"]),
            motion=MotionPlanReply.of(raw["motion"]),
            passes=tuple(PassPlanReply.of(item) for item in raw["passes"]),
            form=FormPlanReply.of(raw["form"]),
            path=PathTotalsReply.of(raw["path"]),
            blank_path=None if raw["blank_path"] is None else PathTotalsReply.of(raw["blank_path"]),
            time=MachiningTimeReply.of(raw["time"]),
            cost=None if raw["cost"] is None else BatchCostReply.of(raw["cost"]),
            gauging=None if raw["gauging"] is None else GaugingPlanReply.of(raw["gauging"]),
            program=None if raw["program"] is None else ProgramReply.of(raw["program"]),
            checks=tuple(CheckReply.of(item) for item in raw["checks"]),
            assumed=tuple(raw["assumed"]),
            advice=tuple(raw["advice"]),
            cautions=tuple(raw["cautions"]),
            sources=tuple(SourceReply.of(item) for item in raw["sources"]),
            job=raw["job"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class SheetDrawingReply(DrawnResult):
    """One drawing of the sheet."""

    view: Literal["section", "path", "setup", "bar"]
    """What it shows"""
    svg: str
    """The drawing as SVG"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> SheetDrawingReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            view=raw["view"],
            svg=raw["svg"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class SheetReply(Result):
    """What the sheet shows, as data."""

    plan: PlanReply
    """The whole plan"""
    length: float
    """Length of full thread"""
    radius_offset: int | None
    """Number of the control's radius offset"""
    drawings: tuple[SheetDrawingReply, ...]
    """Its drawings"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> SheetReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            plan=PlanReply.of(raw["plan"]),
            length=raw["length"],
            radius_offset=raw["radius_offset"],
            drawings=tuple(SheetDrawingReply.of(item) for item in raw["drawings"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class CutterComparedReply(Result):
    """One cutter and the plan it would give."""

    place: int
    """1 is the one to reach for"""
    index: int
    """Where it stood among those given, from 0"""
    name: str
    """What the shop calls it"""
    diameter: float
    """Cutting diameter"""
    verdict: Literal["ready", "ready with cautions", "refused"] | None
    """Of its plan; null where no plan can be made with it"""
    passes: int | None
    """Radial passes"""
    seconds_per_part: float | None
    """Time of one part, seconds"""
    cost_per_part: float | None
    """Cost of one part, where a rate was given"""
    pitch_diameter_effect: float | None
    """What deflection leaves on the pitch diameter"""
    centre_radius_change: float | None
    """Correction of the nominal centre path by the form really cut"""
    reasons: tuple[str, ...]
    """What speaks for it or against it"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> CutterComparedReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            place=raw["place"],
            index=raw["index"],
            name=raw["name"],
            diameter=raw["diameter"],
            verdict=raw["verdict"],
            passes=raw["passes"],
            seconds_per_part=raw["seconds_per_part"],
            cost_per_part=raw["cost_per_part"],
            pitch_diameter_effect=raw["pitch_diameter_effect"],
            centre_radius_change=raw["centre_radius_change"],
            reasons=tuple(raw["reasons"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class PlanCuttersReply(Result):
    """Cutters compared by the whole plan each would give."""

    unit: Literal["in", "mm"]
    """Unit of every length, as asked"""
    cutters: tuple[CutterComparedReply, ...]
    """The best first"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> PlanCuttersReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            unit=raw["unit"],
            cutters=tuple(CutterComparedReply.of(item) for item in raw["cutters"]),
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class RequestReply(Result):
    """What came of one request: a reply, or a problem."""

    key: str | None
    """Your own name for it, null without one"""
    operation: str
    """Which operation"""
    status: int
    """The HTTP status it would have had alone"""
    reply: Any
    """What the operation replies, null where there is a problem"""
    problem: Any
    """The problem, null where there is a reply"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> RequestReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            key=raw["key"],
            operation=raw["operation"],
            status=raw["status"],
            reply=raw["reply"],
            problem=raw["problem"],
        )


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class RequestBatchReply(Result):
    """What came of each, in the order asked."""

    results: tuple[RequestReply, ...]
    """One for each request"""
    count: int
    """How many there are"""
    refused: int
    """How many of them have a problem"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> RequestBatchReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            results=tuple(RequestReply.of(item) for item in raw["results"]),
            count=raw["count"],
            refused=raw["refused"],
        )
