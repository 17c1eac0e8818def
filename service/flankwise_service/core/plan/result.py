"""What a plan says. Lengths in the job's unit unless a name ends in another."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.cutting.cost import BatchCost
from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.cutting.load import ThreadPass
from flankwise_service.core.cutting.speed import SpindleSpeed
from flankwise_service.core.cutting.time import MachiningTime
from flankwise_service.core.form.correction import RadiusCorrection
from flankwise_service.core.form.section import Section
from flankwise_service.core.gauging.correction import CorrectionRow
from flankwise_service.core.gauging.gauges import Gauge
from flankwise_service.core.path.direction import Milling
from flankwise_service.core.path.request import Entry
from flankwise_service.core.path.segment import Segment, Sense
from flankwise_service.core.path.totals import Totals
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import EndMill, Job
from flankwise_service.core.program.program import Program
from flankwise_service.core.stock.blank import DepthBudget
from flankwise_service.core.stock.choice import BarChoice
from flankwise_service.core.threads.model import Hand, Side, Source, StatedLimits
from flankwise_service.core.units import Unit

Verdict = Literal["ready", "ready with cautions", "refused"]


@dataclass(frozen=True, slots=True)
class BarPlan:
    """The bar, as given or as proposed."""

    shape: Literal["hexagon", "round"]
    size: float
    """Across flats of a hexagon, diameter of a round bar."""
    across_corners: float | None
    proposed: bool
    corner_stand_out: float | None
    """How far the corners stand out beyond the boss."""
    wall: float
    """Between the thread's greatest diameter and the flats (or the outside of round bar)."""
    mass_per_length: float
    mass_unit: str
    others: tuple[BarChoice, ...]


@dataclass(frozen=True, slots=True)
class BlankPlan:
    """What the boss is turned to, or the hole is bored to, before threading."""

    kind: Literal["boss", "hole"]
    diameter: float
    least: float
    greatest: float
    depth: float
    ready: bool
    budget: DepthBudget | None
    """Where the depth goes; None where nothing stands below the thread."""
    end_mill: EndMill | None
    speed: SpindleSpeed | None
    edge_feed: float | None
    depth_per_level: float | None


@dataclass(frozen=True, slots=True)
class MotionPlan:
    """How the cutter goes round."""

    side: Side
    hand: Hand
    milling: Milling
    sense: Sense
    motion: Literal["upward", "downward"]
    lead: float
    starts: int
    turns: float
    """Of thread in the full length; run-in and run-out come on top."""
    turns_cut: float
    """That the program makes in one run, run-in and run-out with them, lead-in and lead-out not.
    Fewer than `turns` where several rows cut side by side."""
    runs: int
    """Unbroken cuts in one radial pass: one for each start, more where several rows step along."""
    lead_in: Entry
    lead_out: Entry
    radial_clearance: float


@dataclass(frozen=True, slots=True)
class PassPlan:
    """One radial pass."""

    number: int
    centre_radius: float
    spring: bool
    work: ThreadPass
    pitch_diameter_effect: float | None
    """What stays of the cutter's deflection after this pass, on the pitch diameter."""
    tooth_depth: float
    """Of the cutter: how deep it can go before its body reaches the crest."""


@dataclass(frozen=True, slots=True)
class FormPlan:
    """What the cutter will leave, without the points of the section."""

    pitch_diameter: float
    functional_diameter: float
    major_diameter: float
    minor_diameter: float
    overcut_effect: float
    """By how much the helix widens the pitch diameter over what the tooth's shape alone cuts."""
    flank_angle_error_upper: float
    flank_angle_error_lower: float
    form_deviation: float
    """Greatest distance of a cut flank from its straight line."""
    crest_width: float
    root_width: float
    root_radius: float
    tolerance_used: float | None
    correction: RadiusCorrection


@dataclass(frozen=True, slots=True)
class GaugingPlan:
    """How to measure the thread."""

    method: str
    wire: float
    best_wire: float
    least_reading: float
    greatest_reading: float
    aimed_reading: float
    handbook_error: float
    """Handbook's formula less the exact reading, at the aim."""
    table: tuple[CorrectionRow, ...]
    gauges: tuple[Gauge, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole job, worked out."""

    unit: Unit
    made_by: str
    name: str
    quantity: int
    verdict: Verdict
    limits: StatedLimits
    material: str
    bar: BarPlan
    blank: BlankPlan
    cutter: Cutter
    speed: SpindleSpeed
    motion: MotionPlan
    passes: tuple[PassPlan, ...]
    form: FormPlan
    path: Totals
    blank_path: Totals | None
    time: MachiningTime
    cost: BatchCost | None
    gauging: GaugingPlan | None
    program: Program | None
    checks: tuple[Check, ...]
    assumed: tuple[str, ...]
    advice: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[Source, ...]
    job: Job
    """The job document with all that was left to the plan written into it (settled.py)."""


@dataclass(frozen=True, slots=True)
class Work:
    """A plan with what its drawings need: never sent as it is."""

    job: Job
    plan: Plan
    section: Section
    thread_segments: tuple[Segment, ...]
    blank_segments: tuple[Segment, ...]
