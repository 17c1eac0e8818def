"""Schemas of the subject cutting."""

from __future__ import annotations

from flankwise_service.core.cutting.materials import GROUPS
from flankwise_service.web import fields
from flankwise_service.web.schemas.common import SourceReply
from flankwise_service.web.schemas.stock import UNIT_OF_REPLY, material_field
from flankwise_service.web.schemas.threads import SIDES
from flankwise_service.web.schemas.tools import SUBSTANCES, CutterAsk

MILLING = ("climb", "conventional")
SCALES = ("HB", "HRC", "Shore D")
CAPS = ("none", "machine_greatest", "machine_least")
METHODS = ("equal_area", "equal_step")


class FigureReply(fields.Schema):
    """One figure with its source."""

    value = fields.Number("The figure")
    source = fields.Nested(SourceReply, "Where it comes from")
    spread = fields.Fraction("Share by which published values differ, 0 where not known")


class WindowReply(fields.Schema):
    """A range of figures with its source."""

    least = fields.Number("Least")
    greatest = fields.Number("Greatest")
    source = fields.Nested(SourceReply, "Where it comes from")


class CuttingWindowReply(fields.Schema):
    """Where to start with one kind of cutter."""

    substance = fields.OneOf("What the cutter is made of", SUBSTANCES)
    surface_speed_m_per_min = fields.Nested(WindowReply, "Surface speed, m/min")
    chip_share = fields.Nested(WindowReply, "Chip load for each tooth, as a share of the diameter")


class MaterialReply(fields.Schema):
    """A work material and its figures."""

    name = fields.Text("Short name: one of its designations")
    group = fields.OneOf("Group by ISO 513", GROUPS)
    description = fields.Text("What it is")
    designations = fields.ListOf(fields.Text("A designation"), "What it may be called")
    hardness = fields.Nested(WindowReply, "Hardness as commonly delivered")
    hardness_scale = fields.OneOf("Scale of the hardness", SCALES)
    density_g_per_cm3 = fields.Nested(FigureReply, "Density, g/cm3")
    kc11_n_per_mm2 = fields.Nested(
        FigureReply, "Specific cutting force of a chip 1 mm thick, N/mm2; null where none is known",
        nullable=True,
    )  # fmt: skip
    mc = fields.Nested(FigureReply, "Exponent of the specific cutting force", nullable=True)
    windows = fields.ListOf(fields.Nested(CuttingWindowReply, "One kind of cutter"), "Windows")
    notes = fields.ListOf(fields.Text("A caution", longest=400), "Cautions of this material")


class MaterialsQuery(fields.Schema):
    """Which materials."""

    search = fields.Text(
        "A designation or part of one; left out: all", longest=60, default="", example="1.4305"
    )
    group = fields.OneOf("Group by ISO 513; left out: all", GROUPS, default=None)


class MaterialsReply(fields.Schema):
    """Work materials."""

    total = fields.Count("How many")
    materials = fields.ListOf(fields.Nested(MaterialReply, "One material"), "The materials")


def substance_field() -> fields.OneOf:
    """Return the field for a cutter's substance."""
    return fields.OneOf("What the cutter is made of", SUBSTANCES, default="carbide")


class SpeedAsk(fields.Schema):
    """A spindle speed by surface speed, or by material."""

    unit = fields.Unit()
    diameter = fields.Length("Diameter of the cutter", least=0.1, greatest=500)
    surface_speed = fields.Speed("Surface speed; left out: from the material", default=None)
    material = material_field()
    substance = substance_field()
    fraction = fields.Fraction(
        "Where in the material's window to start: 0 slow, 1 fast", default=0.5
    )
    least_speed = fields.Number("Least speed of the spindle, rpm", greatest=200_000, default=0.0)
    greatest_speed = fields.Number(
        "Greatest speed of the spindle, rpm", least=1, greatest=200_000, default=200_000.0
    )


class SpindleSpeedReply(fields.Schema):
    """Spindle speed and the surface speed it gives."""

    wanted = fields.Number("Before the machine's limits, rpm")
    speed = fields.Number("To run at, rpm")
    capped = fields.OneOf("Which limit of the machine set it", CAPS)
    surface_speed = fields.Number("As it then runs: ft/min or m/min")
    surface_speed_wanted = fields.Number("As asked: ft/min or m/min")
    unit = fields.Unit(UNIT_OF_REPLY)


class SpeedReply(fields.Schema):
    """Spindle speed with the windows it was taken from."""

    unit = fields.Unit(UNIT_OF_REPLY)
    spindle = fields.Nested(SpindleSpeedReply, "The spindle speed")
    surface_speed_window = fields.Nested(
        WindowReply, "Surface speed of the material, ft/min or m/min; null without one",
        nullable=True,
    )  # fmt: skip
    chip_load_window = fields.Nested(
        WindowReply, "Chip load of the material, null without one", nullable=True
    )


class FeedAsk(fields.Schema):
    """A feed on an arc."""

    unit = fields.Unit()
    side = fields.OneOf("Cutting inside a hole or around a boss", SIDES)
    diameter_cut = fields.Length(
        "Diameter being cut: major diameter internal, minor diameter external",
        least=0.1,
        greatest=2000,
    )
    cutter_diameter = fields.Length("Diameter of the cutter", least=0.1, greatest=500)
    speed = fields.Number("Spindle speed, rpm", least=1, greatest=200_000)
    flutes = fields.Count("Cutting edges round the tool", least=1, greatest=100)
    feed_per_tooth = fields.Length(
        "Feed for each tooth at the cutting edge", least=0.0001, greatest=5
    )
    lead = fields.Length("Lead of the helix, 0 for a circle", least=0, greatest=200, default=0.0)
    greatest_feed = fields.Length(
        "Greatest feed of the machine, per minute", least=1, greatest=1e6, default=None
    )
    acceleration = fields.Length(
        "Acceleration of the machine, per second squared", least=1, greatest=1e6, default=None
    )


class ArcFeedReply(fields.Schema):
    """Feeds on one arc, per minute."""

    edge_feed = fields.Number("At the diameter being cut")
    centre_feed = fields.Number("Of the tool centre, seen along the axis")
    path_feed = fields.Number("Of the tool centre along its helix: what the control is told")
    centre_factor = fields.Number("centre_feed over edge_feed")
    helix_factor = fields.Number("path_feed over centre_feed")
    centre_diameter = fields.Length("Diameter of the circle the tool centre runs on")
    capped = fields.Flag("Whether the machine's greatest feed set the figures")


class FeedReply(fields.Schema):
    """A feed on an arc."""

    unit = fields.Unit(UNIT_OF_REPLY)
    arc = fields.Nested(ArcFeedReply, "The feeds")
    feed_held = fields.Number(
        "Greatest feed the machine holds on that circle, per minute; null without an acceleration",
        nullable=True,
    )


class PassesAsk(fields.Schema):
    """How to share a depth out over radial passes."""

    unit = fields.Unit()
    depth = fields.Length("Radial depth from blank to tooth tip", least=0.001, greatest=100)
    tip_width = fields.Length("Axial width of the tooth's tip", least=0, greatest=50)
    flank_angle_upper = fields.Angle("Flank angle, shank side", greatest=80, default=30.0)
    flank_angle_lower = fields.Angle("Flank angle, tip side", greatest=80, default=30.0)
    method = fields.OneOf("By equal chip area, or in equal steps", METHODS, default="equal_area")
    passes = fields.Count("Number of passes", least=1, greatest=100, default=None)
    greatest_step = fields.Length(
        "Greatest radial step of a pass; sets the number of equal steps", least=0.001,
        greatest=100, default=None,
    )  # fmt: skip
    greatest_area = fields.Number(
        "Greatest chip area of a pass, unit squared; sets the number of equal areas",
        least=1e-9, greatest=1e4, default=None,
    )  # fmt: skip
    spring_passes = fields.Count("Passes repeated at full depth", least=0, greatest=10, default=0)


class PassReply(fields.Schema):
    """One radial pass."""

    depth = fields.Length("Depth after the pass")
    step = fields.Length("Radial step of the pass, 0 for a spring pass")
    chip_area = fields.Number("Axial section it takes away, unit squared")


class PassesReply(fields.Schema):
    """Radial passes."""

    unit = fields.Unit(UNIT_OF_REPLY)
    groove_area = fields.Number("Axial section of the whole groove, unit squared")
    passes = fields.ListOf(fields.Nested(PassReply, "One pass"), "The passes")


class LoadAsk(fields.Schema):
    """A thread's passes, to work out what they ask of cutter and spindle."""

    unit = fields.Unit()
    side = fields.OneOf("Internal or external thread", SIDES)
    cutter = fields.Nested(CutterAsk, "The thread mill")
    blank_diameter = fields.Length(
        "Diameter of the boss or hole before threading", least=0.1, greatest=2000
    )
    depth = fields.Length("Radial depth from blank to tooth tip", least=0.001, greatest=100)
    lead = fields.Length("Lead of the thread", least=0.01, greatest=200)
    speed = fields.Number("Spindle speed, rpm", least=1, greatest=200_000)
    chip_load = fields.Length("Greatest chip thickness wanted", least=0.0005, greatest=5)
    material = material_field()
    kc11_n_per_mm2 = fields.Number(
        "Specific cutting force of a chip 1 mm thick; left out: from the material",
        least=50, greatest=20_000, default=None,
    )  # fmt: skip
    mc = fields.Number("Its exponent; left out: from the material", greatest=0.9, default=None)
    milling = fields.OneOf("Climb or conventional milling", MILLING, default="climb")
    passes = fields.Count(
        "Number of passes of equal chip area; left out: by stiffness of the cutter where a "
        "tolerance is given, else 1",
        least=1,
        greatest=100,
        default=None,
    )
    spring_passes = fields.Count("Passes repeated at full depth", least=0, greatest=10, default=0)
    pitch_diameter_tolerance = fields.Length(
        "Tolerance of the pitch diameter, to compare deflection with", least=0.0005, greatest=10,
        default=None,
    )  # fmt: skip
    final_share = fields.Fraction(
        "Share of the tolerance the final pass may bend away", least=0.001, default=0.1
    )
    rough_share = fields.Fraction(
        "Share of the tolerance a pass before it may bend away", least=0.001, default=0.5
    )
    wear_factor = fields.Number(
        "How much a worn edge raises force", least=0.5, greatest=5, default=1.3
    )
    radial_ratio = fields.Number(
        "Radial over tangential force of a tooth", least=0, greatest=2, default=0.5
    )
    greatest_feed = fields.Length(
        "Greatest feed of the machine, per minute", least=1, greatest=1e6, default=None
    )


class HeldChipReply(fields.Schema):
    """Feed per tooth that gives a wanted chip thickness."""

    chip_wanted = fields.Length("Greatest chip thickness wanted")
    engagement = fields.Angle("Engagement angle, degrees")
    factor = fields.Number("Greatest chip thickness over feed of the axis for each tooth")
    feed_per_tooth = fields.Length("Advance of the cutter's axis for each tooth")
    feed_per_tooth_edge = fields.Length("The same at the diameter being cut")
    greatest_chip = fields.Length("Greatest chip thickness it gives")
    mean_chip = fields.Length("Mean chip thickness it gives")
    capped = fields.Flag("Whether the cap on thinned chips held the feed down")


class PassLoadReply(fields.Schema):
    """What one pass asks of cutter and spindle."""

    chip_area_mm2 = fields.Number("Axial section removed, over all rows")
    engagement = fields.Angle("Engagement angle, degrees")
    mean_chip_mm = fields.Number("Mean chip thickness")
    greatest_chip_mm = fields.Number("Greatest chip thickness")
    tangential_mean_n = fields.Number("Mean tangential force while a tooth cuts")
    tangential_greatest_n = fields.Number("Greatest tangential force of a tooth")
    wall_n = fields.Number("Mean force off the wall; negative pulls the cutter in", least=-1e9)
    teeth_in_cut = fields.Number("Teeth that cut at once, on average")
    torque_mean_nm = fields.Number("Mean torque")
    torque_greatest_nm = fields.Number("Greatest torque")
    power_kw = fields.Number("Power at the cutter")
    removal_cm3_per_min = fields.Number("Removal rate")


class DeflectionReply(fields.Schema):
    """How far the cutter bends."""

    deflection_mm = fields.Number("At the tooth; positive is off the wall", least=-1e9)
    pitch_diameter_error_mm = fields.Number("What that makes of the pitch diameter", least=-1e9)
    stiffness_n_per_mm = fields.Number("Stiffness of the cutter at the tooth")
    modulus_n_per_mm2 = fields.Number("Young's modulus it was worked out with")
    modulus_source = fields.Nested(SourceReply, "Where that comes from")


class ThreadPassReply(fields.Schema):
    """One radial pass worked out whole."""

    depth_before = fields.Length("Depth before")
    depth_after = fields.Length("Depth after")
    diameter_after = fields.Length("Diameter at the tooth's tip after")
    chip = fields.Nested(HeldChipReply, "Chip and feed for each tooth")
    feed = fields.Nested(ArcFeedReply, "Feed on the arc")
    force = fields.Nested(PassLoadReply, "Force, torque, power")
    deflection = fields.Nested(
        DeflectionReply, "Deflection, null where neck, shank or overhang isn't stated",
        nullable=True,
    )  # fmt: skip
    share_of_tolerance = fields.Number(
        "Pitch diameter error over its tolerance, null without either; a plan leaves it out",
        default=None,
    )


class LoadReply(fields.Schema):
    """A thread's passes and what they ask."""

    unit = fields.Unit(UNIT_OF_REPLY)
    kc11_n_per_mm2 = fields.Nested(FigureReply, "Specific cutting force used")
    mc = fields.Nested(FigureReply, "Exponent used")
    passes = fields.ListOf(fields.Nested(ThreadPassReply, "One pass"), "The passes")


class MoveAsk(fields.Schema):
    """One move as the clock sees it."""

    length = fields.Length("Length along the path", least=0.00001, greatest=1e6)
    feed = fields.Length("Feed per minute; left out or null: a rapid", least=0.01, greatest=1e6,
                         default=None)  # fmt: skip
    radius = fields.Length(
        "Radius of an arc, null for a straight move", least=0.0001, greatest=1e6, default=None
    )
    smooth = fields.Flag("Goes on from the move before without a corner", default=False)


class PlaceAsk(fields.Schema):
    """A point of a path."""

    x = fields.Length("X", least=-1e5, greatest=1e5)
    y = fields.Length("Y", least=-1e5, greatest=1e5)
    z = fields.Length("Z", least=-1e5, greatest=1e5)


class TimedSegmentAsk(fields.Schema):
    """One piece of a path, as the service's own path replies give it."""

    kind = fields.OneOf("How it moves", ("rapid", "line", "arc"))
    begin = fields.Nested(PlaceAsk, "Where it begins")
    end = fields.Nested(PlaceAsk, "Where it ends")
    centre = fields.ListOf(
        fields.Length("Coordinate", least=-1e5, greatest=1e5),
        "Centre X and Y of an arc",
        fewest=2,
        most=2,
        default=None,
    )
    sense = fields.OneOf(
        "Sense of an arc seen from +Z", ("clockwise", "counterclockwise"), default=None
    )
    sweep = fields.Angle("Angle turned in degrees", greatest=1e6, default=0.0)
    feed = fields.Length(
        "Feed along the path, per minute; null for a rapid", least=0.01, greatest=1e6, default=None
    )
    purpose = fields.Text("What it is for; not used here", longest=20, default="")
    radial_pass = fields.Count("Radial pass; not used here", default=0)
    start = fields.Count("Start of the thread; not used here", default=0)


class BatchAsk(fields.Schema):
    """What a batch costs, in your own currency."""

    parts = fields.Count("Parts in the batch", least=1, greatest=1_000_000)
    hourly_rate = fields.Number("Rate for an hour of the machine", greatest=1e6)
    setup_minutes = fields.Number("Setting up, minutes", greatest=1e5, default=0.0)
    cutter_price = fields.Number("Price of a cutter", greatest=1e6, default=0.0)
    cutter_life_minutes = fields.Number(
        "Minutes in cut a cutter lasts", least=0.01, greatest=1e6, default=None
    )
    material_per_part = fields.Number("Material for one part", greatest=1e6, default=0.0)


class TimeAsk(fields.Schema):
    """A path, as moves or as segments, and the machine that runs it."""

    unit = fields.Unit()
    moves = fields.ListOf(fields.Nested(MoveAsk, "One move"), "The moves", most=5_000, default=list)
    segments = fields.ListOf(
        fields.Nested(TimedSegmentAsk, "One segment"), "Segments of a path, instead of moves",
        most=5_000, default=list,
    )  # fmt: skip
    rapid = fields.Length("Rapid of the machine, per minute", least=1, greatest=1e6)
    acceleration = fields.Length(
        "Acceleration of the machine, per second squared", least=1, greatest=1e6
    )
    tool_changes = fields.Count("Tool changes for each part", greatest=1000, default=0)
    tool_change_s = fields.Number("Seconds for each", greatest=10_000, default=0.0)
    handling_s = fields.Number("Seconds to load and unload a part", greatest=100_000, default=0.0)
    batch = fields.Nested(BatchAsk, "Rates, to state the cost", default=None)


class MachiningTimeReply(fields.Schema):
    """Where the seconds of one part go."""

    cutting_s = fields.Number("At feed")
    rapid_s = fields.Number("At rapid")
    tool_change_s = fields.Number("Changing tools")
    handling_s = fields.Number("Handling the part")
    total_s = fields.Number("All together")
    cutting_length = fields.Length("Way at feed")
    rapid_length = fields.Length("Way at rapid")
    slowed_s = fields.Number("What acceleration adds over way by feed")


class BatchCostReply(fields.Schema):
    """Cost, in the currency of the rates."""

    machine_per_part = fields.Number("Machine, for each part")
    cutter_per_part = fields.Number("Cutter worn, for each part")
    material_per_part = fields.Number("Material, for each part")
    setup_per_part = fields.Number("Setting up, shared out")
    per_part = fields.Number("One part")
    batch = fields.Number("The batch")
    batch_hours = fields.Number("Hours for the batch")
    cutters_used = fields.Number("Cutters worn out by the batch")


class TimeReply(fields.Schema):
    """Time of one part, and cost."""

    unit = fields.Unit(UNIT_OF_REPLY)
    time = fields.Nested(MachiningTimeReply, "The time")
    cost = fields.Nested(BatchCostReply, "The cost, null without rates", nullable=True)
