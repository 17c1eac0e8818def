"""The objects that requests hold, typed. Made by tests/contract/write.py; don't edit."""

from __future__ import annotations

from typing import Any, Literal, TypedDict

__all__ = [
    "BatchAsk",
    "BlankDepthAsk",
    "BoreMillingAsk",
    "BossMillingAsk",
    "CutterAsk",
    "CutterForThreadAsk",
    "HelixPartAsk",
    "JobAsk",
    "JobBossAsk",
    "JobCostsAsk",
    "JobCuttingAsk",
    "JobEndMillAsk",
    "JobGaugingAsk",
    "JobHoleAsk",
    "JobMachineAsk",
    "JobProgramAsk",
    "JobStockAsk",
    "JobThreadAsk",
    "MeasuredPartAsk",
    "MeasuredSizeAsk",
    "MoveAsk",
    "OffsetMeasurementAsk",
    "PassAsk",
    "PathSegmentAsk",
    "PathStockAsk",
    "PlaceAsk",
    "ProgramOperationAsk",
    "ProgramSetupAsk",
    "ProgramToolAsk",
    "RadialPassAsk",
    "RadiusOffsetAsk",
    "RequestAsk",
    "SectionCutAsk",
    "SpanAsk",
    "TimedSegmentAsk",
    "ToothAsk",
]


class BlankDepthAsk(TypedDict):
    """Where the depth of a blank goes."""

    thread_length: float
    """Full thread wanted"""
    half_tooth: float
    """What the cutter reaches below the middle of its lowest tooth"""
    clearance: float
    """Air wanted above the shoulder or bottom"""
    blank_depth: float
    """Depth of the blank as milled"""


class _ToothAskNeeded(TypedDict):
    """What ToothAsk can't be without."""

    flank_angle_upper: float
    """Angle between a plane square to the axis and the flank on the shank side, degrees; 30 for
    a 60 degree thread
    """
    flank_angle_lower: float
    """The same for the flank on the tip side"""
    tip_width: float
    """Axial width of the flat at the tooth's tip, before rounding"""
    depth: float
    """Radial height of the tooth from its tip"""


class ToothAsk(_ToothAskNeeded, total=False):
    """One tooth's axial profile, a solid of revolution when it turns."""

    tip_radius: float
    """Radius between tip and flanks, 0 for sharp corners"""


class _CutterAskNeeded(TypedDict):
    """What CutterAsk can't be without."""

    diameter: float
    """Cutting diameter over the teeth"""
    flutes: int
    """Cutting edges round the tool"""
    tooth: ToothAsk
    """The tooth's profile"""


class CutterAsk(_CutterAskNeeded, total=False):
    """A thread mill, with its tooth."""

    rows: int
    """Rows of teeth along the axis, 1 for a single-tooth cutter"""
    row_pitch: float | None
    """Axial distance of the rows; must equal the thread's pitch"""
    row_taper: float
    """Change of diameter per length over the rows, 0.0625 for a 1:16 taper cutter"""
    neck_diameter: float
    """Greatest diameter between the teeth and the end of the reach, 0 when not known"""
    reach: float | None
    """From the tip up to where the neck ends and the shank begins"""
    shank_diameter: float | None
    """Shank diameter"""
    overhang: float | None
    """From the tip up to the holder's face"""
    holder_diameter: float | None
    """Greatest diameter of the holder"""
    substance: Literal["carbide", "high speed steel"]
    """What the cutter is made of"""
    least_pitch: float | None
    """Finest pitch the cutter is made for"""
    greatest_pitch: float | None
    """Coarsest pitch the cutter is made for"""
    number: int
    """Tool number"""
    name: str
    """What the shop calls the tool"""
    tip_to_tooth: float
    """From the tool's tip, where its length is set, up to the middle of the lowest tooth"""


class _MoveAskNeeded(TypedDict):
    """What MoveAsk can't be without."""

    length: float
    """Length along the path"""


class MoveAsk(_MoveAskNeeded, total=False):
    """One move as the clock sees it."""

    feed: float | None
    """Feed per minute; left out or null: a rapid"""
    radius: float | None
    """Radius of an arc, null for a straight move"""
    smooth: bool
    """Goes on from the move before without a corner"""


class PlaceAsk(TypedDict):
    """A point of a path."""

    x: float
    """X"""
    y: float
    """Y"""
    z: float
    """Z"""


class _TimedSegmentAskNeeded(TypedDict):
    """What TimedSegmentAsk can't be without."""

    kind: Literal["rapid", "line", "arc"]
    """How it moves"""
    begin: PlaceAsk
    """Where it begins"""
    end: PlaceAsk
    """Where it ends"""


class TimedSegmentAsk(_TimedSegmentAskNeeded, total=False):
    """One piece of a path, as the service's own path replies give it."""

    centre: list[float] | None
    """Centre X and Y of an arc"""
    sense: Literal["clockwise", "counterclockwise"] | None
    """Sense of an arc seen from +Z"""
    sweep: float
    """Angle turned in degrees"""
    feed: float | None
    """Feed along the path, per minute; null for a rapid"""
    purpose: str
    """What it is for; not used here"""
    radial_pass: int
    """Radial pass; not used here"""
    start: int
    """Start of the thread; not used here"""


class _BatchAskNeeded(TypedDict):
    """What BatchAsk can't be without."""

    parts: int
    """Parts in the batch"""
    hourly_rate: float
    """Rate for an hour of the machine"""


class BatchAsk(_BatchAskNeeded, total=False):
    """What a batch costs, in your own currency."""

    setup_minutes: float
    """Setting up, minutes"""
    cutter_price: float
    """Price of a cutter"""
    cutter_life_minutes: float | None
    """Minutes in cut a cutter lasts"""
    material_per_part: float
    """Material for one part"""


class _RadialPassAskNeeded(TypedDict):
    """What RadialPassAsk can't be without."""

    radius: float
    """Radius of the centre path; for a taper thread where it crosses the face"""
    feed: float
    """Feed along the centre path, per minute (see cutting_feed)"""


class RadialPassAsk(_RadialPassAskNeeded, total=False):
    """One radial pass over the whole thread. A spring pass repeats the radius before it."""

    lead_feed: float | None
    """Feed on the lead-in and lead-out arcs; left out, what keeps the feed at the cutting edge"""


class _BossMillingAskNeeded(TypedDict):
    """What BossMillingAsk can't be without."""

    diameter: float
    """Finished diameter"""
    depth: float
    """From the face down to shoulder or bottom"""
    cutter_diameter: float
    """Diameter of the end mill"""
    edge_feed: float
    """Feed at the cutting edge, per minute; each arc gets its own at the centre"""
    clearance_height: float
    """Height of the tool's tip above the face where it may move freely"""
    stock_diameter: float
    """Diameter of the circle around the stock; of a hexagon, its size across corners"""
    depth_per_level: float
    """Greatest depth of one level"""
    clearance: float
    """Radial gap between cutter and stock where the path enters and leaves"""


class BossMillingAsk(_BossMillingAskNeeded, total=False):
    """A boss to be milled out of bar."""

    milling: Literal["climb", "conventional"]
    """Climb or conventional"""
    width_per_pass: float | None
    """Greatest radial width of cut; left out: half the cutter's diameter"""
    finish_allowance: float
    """Left all round for a last round"""
    centre: list[float]
    """Centre, X and Y"""
    greatest_sweep: int
    """Greatest angle of one arc, degrees: 90, 180 or 360"""
    chord_tolerance: float | None
    """Given: straight lines instead of arcs, each within this of the true curve"""
    plunge_feed: float | None
    """Given: the way down is fed, not rapid"""
    motion: Literal["helical", "level"]
    """Going down evenly round the boss, or a full turn at each depth"""


class _BoreMillingAskNeeded(TypedDict):
    """What BoreMillingAsk can't be without."""

    diameter: float
    """Finished diameter"""
    depth: float
    """From the face down to shoulder or bottom"""
    cutter_diameter: float
    """Diameter of the end mill"""
    edge_feed: float
    """Feed at the cutting edge, per minute; each arc gets its own at the centre"""
    clearance_height: float
    """Height of the tool's tip above the face where it may move freely"""
    depth_per_turn: float
    """Greatest depth of one turn"""
    clearance: float
    """Height above the face where each round begins"""


class BoreMillingAsk(_BoreMillingAskNeeded, total=False):
    """A hole to be bored by a helix of the end mill."""

    milling: Literal["climb", "conventional"]
    """Climb or conventional"""
    width_per_pass: float | None
    """Greatest radial width of cut; left out: half the cutter's diameter"""
    finish_allowance: float
    """Left all round for a last round"""
    centre: list[float]
    """Centre, X and Y"""
    greatest_sweep: int
    """Greatest angle of one arc, degrees: 90, 180 or 360"""
    chord_tolerance: float | None
    """Given: straight lines instead of arcs, each within this of the true curve"""
    plunge_feed: float | None
    """Given: the way down is fed, not rapid"""
    pilot_diameter: float
    """Diameter of a hole that is there to full depth; 0: solid"""
    greatest_ramp_angle: float | None
    """Steepest way down the end mill stands"""


class _HelixPartAskNeeded(TypedDict):
    """What HelixPartAsk can't be without."""

    side: Literal["external", "internal"]
    """External or internal thread"""
    pitch: float
    """Pitch"""
    length: float
    """Length of full thread, from the face to the middle of the last groove"""
    blank_diameter: float
    """Diameter of the boss (external) or hole (internal) before threading"""
    cutter: CutterAsk
    """The thread mill"""
    passes: list[RadialPassAsk]
    """Radial passes, in order"""
    clearance: float
    """Radial gap between cutter and blank wherever the path enters or leaves"""
    clearance_height: float
    """Height of the tool's tip above the face where it may move freely"""


class HelixPartAsk(_HelixPartAskNeeded, total=False):
    """A thread to be milled, its lengths in the unit of the request around it."""

    hand: Literal["right", "left"]
    """Hand of the thread"""
    milling: Literal["climb", "conventional"]
    """Climb or conventional; the sense and the motion along Z follow from it"""
    starts: int
    """Starts of the thread"""
    centre: list[float]
    """Centre, X and Y"""
    start_angle: float
    """Where the groove of the first start crosses the face, counter-clockwise from +X"""
    turns_above_face: float | None
    """Turns run above the face; left out: until the tooth just leaves the part"""
    turns_below_length: float
    """Turns run beyond the length, where there is room"""
    relief_width: float | None
    """Width of a relief groove below the length; the thread runs out into its middle"""
    lead_in: Literal["quarter_arc", "half_arc", "radial"]
    """How the cutter comes to the thread"""
    lead_out: Literal["quarter_arc", "half_arc", "radial"]
    """How it leaves"""
    lead_arc_radius: float | None
    """Radius of the lead arcs; left out: half the centre path's (internal), the least that
    clears the blank (external)
    """
    straight_lead: float
    """Length of a straight piece before each lead-in arc and after each lead-out arc, in which a
    control can switch its radius offset
    """
    greatest_sweep: int
    """Greatest angle of one arc, degrees: 90, 180 or 360"""
    overlap: float
    """How far past a full turn each step of a multi-row cutter goes"""
    taper: float
    """Change of diameter per length of a taper thread, 0.0625 for 1:16; 0 for a straight one"""
    radial_tolerance: float | None
    """Greatest radial departure of a taper thread's arcs from its cone; needed with taper"""
    chord_tolerance: float | None
    """Given: straight lines instead of arcs, each within this of the true curve"""
    plunge_feed: float | None
    """Given: the way down to the lead-in is fed, not rapid"""
    blunt_start: bool
    """Mill the thread's thin first turn away at the face"""


class _PathSegmentAskNeeded(TypedDict):
    """What PathSegmentAsk can't be without."""

    kind: Literal["rapid", "line", "arc"]
    """How it moves"""
    purpose: Literal[
        "approach", "plunge", "lead_in", "thread", "lead_out", "retract", "boss", "bore", "link"
    ]
    """What it is for"""
    begin: PlaceAsk
    """Where it begins"""
    end: PlaceAsk
    """Where it ends"""


class PathSegmentAsk(_PathSegmentAskNeeded, total=False):
    """One piece of a path, as the service's own path replies give it."""

    centre: list[float] | None
    """Centre X and Y of an arc, null for straight pieces"""
    sense: Literal["clockwise", "counterclockwise"] | None
    """Sense of an arc seen from +Z"""
    sweep: float
    """Angle turned, 0 for straight pieces"""
    feed: float | None
    """Feed along the path, per minute; null for a rapid"""
    radial_pass: int
    """Radial pass, from 1; 0 where it is none"""
    start: int
    """Start of the thread, from 1; 0 where it is none"""


class _PathStockAskNeeded(TypedDict):
    """What PathStockAsk can't be without."""

    side: Literal["external", "internal"]
    """A boss (external) or a hole (internal)"""
    diameter: float
    """Of the boss or hole before threading"""


class PathStockAsk(_PathStockAskNeeded, total=False):
    """The stock around the thread, its face at Z 0."""

    depth: float | None
    """Down to the shoulder or the hole's bottom; left out: there is none"""
    across_flats: float | None
    """Hexagon bar, its size across flats"""
    flat_angle: float
    """Direction square to a flat, counter-clockwise from +X"""
    outside_diameter: float | None
    """Round bar, its diameter; with neither the stock has no end"""
    centre: list[float]
    """Centre, X and Y"""


class _PassAskNeeded(TypedDict):
    """What PassAsk can't be without."""

    centre_radius: float
    """From the thread's axis to the cutter's; for a taper thread at the middle of the groove"""


class PassAsk(_PassAskNeeded, total=False):
    """One pass of the tooth through the groove."""

    shift: float
    """How far the tooth's middle stands above the groove's"""


class SpanAsk(TypedDict):
    """Least and greatest limit of a diameter."""

    min: float
    """Least limit"""
    max: float
    """Greatest limit"""


class _OffsetMeasurementAskNeeded(TypedDict):
    """What OffsetMeasurementAsk can't be without."""

    size: float
    """Pitch diameter, or size over the same wires: both move alike"""


class OffsetMeasurementAsk(_OffsetMeasurementAskNeeded, total=False):
    """A size, and the radius offset that was in force when it was cut."""

    radius_offset: float
    """Radius offset at the control when it was cut"""


class MeasuredSizeAsk(TypedDict):
    """A measured pitch diameter."""

    pitch_diameter: float
    """Measured pitch diameter"""
    uncertainty: float
    """Half width of the range the true one lies in"""


class _ProgramSetupAskNeeded(TypedDict):
    """What ProgramSetupAsk can't be without."""

    safe_height: float
    """Height of the tool's tip above the face, kept before the first and after the last cut of
    each tool
    """


class ProgramSetupAsk(_ProgramSetupAskNeeded, total=False):
    """How the program is written."""

    work_offset: Literal["G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"]
    """Work offset"""
    unit_codes: Literal["G20 G21", "G70 G71"]
    """Codes that set the unit: G20 G21 (RS-274) or G70 G71 (ISO 6983-1)"""
    decimals: int | None
    """Digits after the point of a length; left out: 4 for in, 3 for mm"""
    arc_form: Literal["centre", "radius"]
    """Arcs by their centre (I J) or by their radius (R, up to 165 degrees)"""
    helix_rise_words: bool
    """Write K, the rise per turn, on helical arcs"""
    arc_centre_code: bool
    """Spell G91.1: I and J count from the arc's begin, as they always do here"""
    line_number_step: int
    """Step of the line numbers, 10 for N10 N20; 0 leaves them out"""
    program_number: int | None
    """Written as O and four digits; left out: no number"""
    end: Literal["M30", "M02"]
    """Word that ends the program"""
    designation: str | None
    """Thread designation for the header"""
    remarks: list[str]
    """Lines for the header. Characters that mean something to a control are replaced"""


class _ProgramToolAskNeeded(TypedDict):
    """What ProgramToolAsk can't be without."""

    number: int
    """Tool number"""
    spindle_speed: float
    """Spindle speed, rev/min"""
    length_offset: int | None
    """Number of the length offset (G43 H); null where the control takes it from the tool number"""


class ProgramToolAsk(_ProgramToolAskNeeded, total=False):
    """The tool as the control knows it; the spindle turns clockwise."""

    coolant: Literal["off", "mist", "flood"]
    """Coolant"""
    tip_to_tooth: float
    """From the tool's tip, where its length is set, up to the point the path is given for"""
    radius_offset: int | None
    """Number of a radius offset (G41 or G42 D) that corrects the centre path; zero stored at
    first. Needs straight lead-ins and lead-outs. Left out: none
    """
    radius_side: Literal["left", "right"]
    """Side on which the cutter moves off the flank: left (G41) for climb milling, right (G42)
    for conventional
    """
    name: str
    """What the shop calls the tool"""


class _ProgramOperationAskNeeded(TypedDict):
    """What ProgramOperationAsk can't be without."""

    tool: ProgramToolAsk
    """The tool"""
    segments: list[PathSegmentAsk]
    """Its path, piece joined to piece"""


class ProgramOperationAsk(_ProgramOperationAskNeeded, total=False):
    """One tool's part of the program."""

    title: str
    """What it does, for a comment"""


class RadiusOffsetAsk(TypedDict):
    """What is stored at the control for one radius offset."""

    number: int
    """Its number (D)"""
    value: float
    """What is stored: the correction of the centre path"""


class SectionCutAsk(TypedDict):
    """The groove as cut, as the form replies give it."""

    radius: list[float]
    """Radii"""
    lower_edge: list[float]
    """Z of the groove's lower edge at each radius"""
    upper_edge: list[float]
    """Z of the groove's upper edge at each radius"""


class _JobThreadAskNeeded(TypedDict):
    """What JobThreadAsk can't be without."""

    designation: str
    """The standard's own designation with its class"""
    length: float
    """Length of full thread from the face of the part"""


class JobThreadAsk(_JobThreadAskNeeded, total=False):
    """Which thread, how long, and where inside its limits it should land."""

    side: Literal["external", "internal"] | None
    """External or internal; needed only where the class doesn't tell"""
    edition: str | None
    """Edition of the standard; the newest unless stated"""
    pitch_diameter_aim: float
    """Where in its tolerance the pitch diameter should land: 0 least, 1 greatest"""
    crest_aim: float
    """The same for the diameter of the blank or the hole"""


class _JobStockAskNeeded(TypedDict):
    """What JobStockAsk can't be without."""

    material: str
    """Grade by its standard number or common name"""


class JobStockAsk(_JobStockAskNeeded, total=False):
    """The bar. Without a size the plan proposes the smallest standard one that cleans up."""

    shape: Literal["hexagon", "round"]
    """Shape of the bar"""
    across_flats: float | None
    """Hexagon across flats: between two parallel sides"""
    across_corners: float | None
    """Hexagon across corners, where that was measured"""
    diameter: float | None
    """Diameter of round bar"""
    clean_up: float
    """Stock wanted over the finished boss on each side"""
    kc11_n_per_mm2: float | None
    """Your own specific cutting force kc1.1, N/mm2, in place of the list's"""
    mc: float | None
    """Its exponent"""
    density_g_per_cm3: float | None
    """Your own density, g/cm3, in place of the list's"""


class _JobBossAskNeeded(TypedDict):
    """What JobBossAsk can't be without."""

    depth: float
    """From the face down to the shoulder, or to where the milled boss ends"""


class JobBossAsk(_JobBossAskNeeded, total=False):
    """The blank of an external thread."""

    shoulder: bool
    """Material stands out below the boss"""
    ready: bool
    """The boss is on size already; the program only threads"""
    diameter: float | None
    """Diameter as measured, when ready"""


class _JobHoleAskNeeded(TypedDict):
    """What JobHoleAsk can't be without."""

    depth: float
    """Depth of the hole"""


class JobHoleAsk(_JobHoleAskNeeded, total=False):
    """The hole of an internal thread."""

    through: bool
    """The hole goes right through"""
    ready: bool
    """The hole is on size already; the program only threads"""
    diameter: float | None
    """Diameter as measured, when ready"""
    drilled_diameter: float | None
    """Diameter of the drilled hole that boring starts from"""


class _CutterForThreadAskNeeded(TypedDict):
    """What CutterForThreadAsk can't be without."""

    diameter: float
    """Cutting diameter over the teeth"""
    flutes: int
    """Cutting edges round the tool"""


class CutterForThreadAsk(_CutterForThreadAskNeeded, total=False):
    """A thread mill; without a tooth the plan assumes the thread's own flank angles."""

    rows: int
    """Rows of teeth along the axis, 1 for a single-tooth cutter"""
    row_pitch: float | None
    """Axial distance of the rows; must equal the thread's pitch"""
    row_taper: float
    """Change of diameter per length over the rows, 0.0625 for a 1:16 taper cutter"""
    neck_diameter: float
    """Greatest diameter between the teeth and the end of the reach, 0 when not known"""
    reach: float | None
    """From the tip up to where the neck ends and the shank begins"""
    shank_diameter: float | None
    """Shank diameter"""
    overhang: float | None
    """From the tip up to the holder's face"""
    holder_diameter: float | None
    """Greatest diameter of the holder"""
    substance: Literal["carbide", "high speed steel"]
    """What the cutter is made of"""
    least_pitch: float | None
    """Finest pitch the cutter is made for"""
    greatest_pitch: float | None
    """Coarsest pitch the cutter is made for"""
    number: int
    """Tool number"""
    name: str
    """What the shop calls the tool"""
    tooth: ToothAsk | None
    """The tooth's profile; left out, it is taken from the thread"""
    tooth_assumed: bool
    """The tooth stated was never measured: a plan took it from the thread, and its own `job`
    says so; nothing of it can be checked
    """
    tip_to_tooth: float | None
    """From the tool's tip, where its length is set, up to the middle of the lowest tooth; left
    out, the tooth is taken to be flush with the tip
    """


class _JobEndMillAskNeeded(TypedDict):
    """What JobEndMillAsk can't be without."""

    diameter: float
    """Diameter"""
    flutes: int
    """Cutting edges"""
    flute_length: float
    """Length of the cutting edges"""


class JobEndMillAsk(_JobEndMillAskNeeded, total=False):
    """The end mill for the blank or the hole."""

    substance: Literal["carbide", "high speed steel"]
    """What it is made of"""
    number: int
    """Tool number"""
    overhang: float | None
    """From the tip up to the holder's face"""
    name: str
    """What the shop calls it"""


class JobMachineAsk(TypedDict, total=False):
    """What the machine can do; what is left out is not checked."""

    greatest_spindle_speed: float | None
    """Greatest spindle speed, rev/min"""
    greatest_feed: float | None
    """Greatest feed, length unit per minute"""
    spindle_power_kw: float | None
    """Spindle power, kW"""
    rapid: float | None
    """Rapid traverse, length unit per minute"""
    acceleration: float | None
    """Acceleration of the axes, length unit per second squared"""
    tool_change_seconds: float | None
    """Time of a tool change, seconds"""
    greatest_sweep: int
    """Greatest angle of one arc block, degrees: 90, 180 or 360"""
    helical_arcs: bool
    """The control takes arcs with a Z word"""
    chord_tolerance: float | None
    """Without helical arcs: greatest distance of the straight lines from the path"""


class _MeasuredPartAskNeeded(TypedDict):
    """What MeasuredPartAsk can't be without."""

    pitch_diameter: float
    """Pitch diameter measured; on a taper thread at the face"""


class MeasuredPartAsk(_MeasuredPartAskNeeded, total=False):
    """A part that was cut and measured: what the correction is judged by."""

    radius_offset: float
    """The job's radius offset when the part was cut"""


class JobCuttingAsk(TypedDict, total=False):
    """How to cut; what is left out the plan chooses and says so."""

    milling: Literal["climb", "conventional"]
    """Climb or conventional milling"""
    surface_speed: float | None
    """Surface speed, m/min or ft/min"""
    chip_load: float | None
    """Chip thickness wanted at the cutting edge"""
    passes: int | None
    """Radial passes"""
    pass_method: Literal["equal chip area", "constant depth", "stiffness"]
    """How the depth is shared among passes"""
    spring_passes: int
    """Passes more at the final depth"""
    radial_clearance: float | None
    """Air between cutter and blank before lead-in and after lead-out"""
    axial_clearance: float | None
    """Air between tooth and shoulder or hole bottom"""
    radius_offset: float
    """Correction from a measured part, as a control counts it: a larger one keeps the cutter
    farther off the flank
    """
    measured: MeasuredPartAsk | None
    """The part that asks for the correction; without it the form of an ideal machine is judged"""
    runout: float
    """Runout of the cutter in the spindle, full reading"""
    deflection_share: float
    """Greatest share of the pitch diameter tolerance for cutter deflection"""


class JobProgramAsk(TypedDict, total=False):
    """How the program is written."""

    number: int | None
    """Program number"""
    work_offset: Literal["G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"]
    """Work offset"""
    coolant: Literal["off", "mist", "flood"]
    """Coolant"""
    arc_form: Literal["centre", "radius"]
    """Arcs by their centre (I J) or radius (R)"""
    helix_rise_words: bool
    """Write K, the rise per turn, on helical arcs"""
    line_numbers: bool
    """Number the blocks"""
    unit_codes: Literal["G20 G21", "G70 G71"]
    """Codes that set the unit: G20 G21 (RS-274) or G70 G71 (ISO 6983-1)"""
    radius_offset: int | None
    """Number of the control's radius offset (D) for the thread mill; left out, there is none"""
    clearance_height: float | None
    """Height of the tip above the face for moves between cuts"""
    safe_height: float | None
    """Height of the tip above the face before the first and after the last move"""
    centre_x: float
    """X of the thread's axis"""
    centre_y: float
    """Y of the thread's axis"""


class JobGaugingAsk(TypedDict, total=False):
    """What is at hand to measure with."""

    wire_diameter: float | None
    """Diameter of the wires or balls at hand; left out, the best size is taken"""
    uncertainty: float
    """Uncertainty of a reading, plus or minus"""


class JobCostsAsk(TypedDict, total=False):
    """For comparing; any currency."""

    hourly_rate: float
    """Rate of the machine per hour"""
    setup_minutes: float
    """Set-up time of the batch"""


class _RequestAskNeeded(TypedDict):
    """What RequestAsk can't be without."""

    operation: str
    """Which operation, by its id in this contract"""
    request: Any
    """What that operation asks, as one object"""


class RequestAsk(_RequestAskNeeded, total=False):
    """One request among many."""

    key: str | None
    """A name of your own, given back with the result"""


class _JobAskNeeded(TypedDict):
    """What JobAsk can't be without."""

    unit: Literal["in", "mm"]
    """Unit of every length in this request and its reply. It has no default."""
    thread: JobThreadAsk
    """The thread"""
    stock: JobStockAsk
    """The bar"""


class JobAsk(_JobAskNeeded, total=False):
    """One job, whole: everything needed to make the same plan again."""

    name: str
    """What the shop calls the part"""
    quantity: int
    """Parts in the batch"""
    boss: JobBossAsk | None
    """The blank of an external thread"""
    hole: JobHoleAsk | None
    """The hole of an internal thread"""
    cutter: CutterForThreadAsk | None
    """The thread mill; left out, the plan proposes one"""
    end_mill: JobEndMillAsk | None
    """The end mill for blank or hole; left out, the plan proposes one"""
    machine: JobMachineAsk | None
    """The machine"""
    cutting: JobCuttingAsk | None
    """How to cut"""
    program: JobProgramAsk | None
    """How to write the program"""
    gauging: JobGaugingAsk | None
    """What to measure with"""
    costs: JobCostsAsk | None
    """What an hour costs"""
    accept: list[str]
    """Codes of refused checks that you take on yourself, where a check allows it"""
    made_by: str
    """Which version wrote the document down, as a plan's own `job` says; it changes nothing"""
