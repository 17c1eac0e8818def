"""The job document: everything that decides a plan, so that the same job gives the same plan.

All lengths are in `Job.unit`, feeds in that unit per minute, surface speeds in the trade's ft/min
for "in" and m/min for "mm". What is None is proposed by the plan, which says what it assumed.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from flankwise_service.core.cutting.cutter import Cutter, Substance, Tooth
from flankwise_service.core.units import Unit

Shape = Literal["hexagon", "round"]
Milling = Literal["climb", "conventional"]
PassMethod = Literal["equal chip area", "constant depth", "stiffness"]


@dataclass(frozen=True, slots=True)
class ThreadAsked:
    """Which thread, how long, and where inside its limits it should land."""

    designation: str
    length: float
    """Of full thread, from the face of the part."""
    side: Literal["external", "internal"] | None = None
    """Needed only where the class doesn't tell."""
    edition: str | None = None
    pitch_diameter_aim: float = 0.5
    """0 aims at the least, 1 at the greatest pitch diameter, 0.5 at the middle of the tolerance."""
    crest_aim: float = 0.5
    """The same for the blank's (or hole's) diameter inside the crest diameter's limits."""


@dataclass(frozen=True, slots=True)
class StockAsked:
    """The bar, or for a thread in a hole the piece round it. No size: the plan proposes one."""

    material: str
    shape: Shape = "hexagon"
    across_flats: float | None = None
    across_corners: float | None = None
    diameter: float | None = None
    clean_up: float = 0.0
    """Wanted beyond the boss, for each side, so that the bar cleans up."""
    kc11_n_per_mm2: float | None = None
    mc: float | None = None
    density_g_per_cm3: float | None = None
    """The caller's own figures of the material, in place of the list's."""


@dataclass(frozen=True, slots=True)
class BossAsked:
    """The blank of an external thread."""

    depth: float
    """From the face down to the shoulder, or to where the milled boss ends."""
    shoulder: bool = True
    ready: bool = False
    """The boss is already on size (turned elsewhere): no milling of the blank."""
    diameter: float | None = None
    """As measured when ready; otherwise aimed by the plan."""


@dataclass(frozen=True, slots=True)
class HoleAsked:
    """The hole of an internal thread."""

    depth: float
    through: bool = False
    ready: bool = False
    diameter: float | None = None
    """As measured when ready; otherwise aimed by the plan."""
    drilled_diameter: float | None = None
    """The drilled hole that boring starts from."""


@dataclass(frozen=True, slots=True)
class CutterAsked:
    """A thread mill as `Cutter`, but its tooth may be left to the plan."""

    diameter: float
    flutes: int
    tooth: Tooth | None = None
    rows: int = 1
    row_pitch: float | None = None
    tip_to_tooth: float | None = None
    neck_diameter: float = 0.0
    reach: float | None = None
    shank_diameter: float | None = None
    overhang: float | None = None
    holder_diameter: float | None = None
    substance: Substance = "carbide"
    least_pitch: float | None = None
    greatest_pitch: float | None = None
    number: int = 1
    name: str = ""
    row_taper: float = 0.0
    tooth_assumed: bool = False
    """The tooth stated is none that was measured: a plan took it from the thread."""

    def with_tooth(self, tooth: Tooth, tip_to_tooth: float) -> Cutter:
        """Return the cutter with its own tooth and tip, or with these where it has none."""
        own = {name: getattr(self, name) for name in self.__slots__ if name != "tooth_assumed"}
        own["tooth"] = self.tooth or tooth
        own["tip_to_tooth"] = tip_to_tooth if self.tip_to_tooth is None else self.tip_to_tooth
        return Cutter(**own)


@dataclass(frozen=True, slots=True)
class EndMill:
    """The end mill that brings the blank to size or bores the hole."""

    diameter: float
    flutes: int
    flute_length: float
    substance: Substance = "carbide"
    number: int = 2
    overhang: float | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class Machine:
    """What the machine can do. None: not stated, and then not checked."""

    greatest_spindle_speed: float | None = None
    greatest_feed: float | None = None
    spindle_power_kw: float | None = None
    rapid: float | None = None
    acceleration: float | None = None
    """In length unit per second squared."""
    tool_change_seconds: float | None = None
    greatest_sweep: float = 90.0
    """Greatest angle of one arc block, degrees: 90, 180 or 360."""
    helical_arcs: bool = True
    chord_tolerance: float | None = None
    """For a control without helical arcs: the straight lines' greatest distance from the path."""


@dataclass(frozen=True, slots=True)
class MeasuredPart:
    """What a part measured, and what it was cut with."""

    pitch_diameter: float
    """On a taper thread at the face."""
    radius_offset: float = 0.0
    """The job's `cutting.radius_offset` when it was cut."""


@dataclass(frozen=True, slots=True)
class CuttingAsked:
    """How to cut. None: chosen by the plan from material and cutter."""

    milling: Milling = "climb"
    surface_speed: float | None = None
    chip_load: float | None = None
    """Wanted chip thickness a tooth, at the cutting edge."""
    passes: int | None = None
    pass_method: PassMethod = "equal chip area"
    spring_passes: int | None = None
    """None: as many as deflection asks for, none where it is small."""
    radial_clearance: float | None = None
    """Between cutter and thread crest before and after the lead-in and lead-out."""
    axial_clearance: float | None = None
    """Between tooth and shoulder or hole bottom."""
    radius_offset: float = 0.0
    """Correction from a measured part, as a control counts it: a larger one keeps the cutter
    farther off the flank."""
    measured: MeasuredPart | None = None
    """The part that asks for the correction."""
    runout: float = 0.0
    deflection_share: float = 0.25
    """Greatest share of the pitch diameter tolerance that deflection may take."""


@dataclass(frozen=True, slots=True)
class ProgramAsked:
    """How the program text is written (ISO 6983 word-address)."""

    number: int | None = None
    work_offset: str = "G54"
    coolant: Literal["off", "mist", "flood"] = "flood"
    arc_form: Literal["centre", "radius"] = "centre"
    helix_rise_words: bool = False
    """Write K, the rise per turn, on helical arcs."""
    line_numbers: bool = False
    unit_codes: Literal["G20 G21", "G70 G71"] = "G20 G21"
    radius_offset: int | None = None
    """Number of the control's radius offset (D) for the thread mill, so that it can be corrected at
    the machine; None leaves it out."""
    clearance_height: float | None = None
    safe_height: float | None = None
    centre_x: float = 0.0
    centre_y: float = 0.0


@dataclass(frozen=True, slots=True)
class GaugingAsked:
    """The wires at hand; None: the best wire size is taken."""

    wire_diameter: float | None = None
    uncertainty: float = 0.0


@dataclass(frozen=True, slots=True)
class Costs:
    """What an hour of the machine costs, for comparing; any currency."""

    hourly_rate: float = 0.0
    setup_minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class Job:
    """One job, whole."""

    unit: Unit
    thread: ThreadAsked
    stock: StockAsked
    boss: BossAsked | None = None
    hole: HoleAsked | None = None
    cutter: CutterAsked | None = None
    end_mill: EndMill | None = None
    machine: Machine = field(default_factory=Machine)
    cutting: CuttingAsked = field(default_factory=CuttingAsked)
    program: ProgramAsked = field(default_factory=ProgramAsked)
    gauging: GaugingAsked = field(default_factory=GaugingAsked)
    costs: Costs = field(default_factory=Costs)
    quantity: int = 1
    name: str = ""
    accept: tuple[str, ...] = ()
    """Codes of refused checks that the caller takes on himself, where a check allows that."""
    made_by: str = ""
    """Which version wrote this document down; it changes nothing."""
