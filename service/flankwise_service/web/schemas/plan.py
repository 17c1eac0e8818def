"""The job document as it arrives."""

from __future__ import annotations

from flankwise_service.web import fields
from flankwise_service.web.schemas.tools import SUBSTANCES, CutterForThreadAsk


class JobThreadAsk(fields.Schema):
    """Which thread, how long, and where inside its limits it should land."""

    designation = fields.Text(
        "The standard's own designation with its class", longest=60, example="7/8-14 UNF-2A"
    )
    length = fields.Length(
        "Length of full thread from the face of the part", least=0.1, greatest=2000, example=0.875
    )
    side = fields.OneOf(
        "External or internal; needed only where the class doesn't tell",
        ("external", "internal"),
        default=None,
    )
    edition = fields.Text("Edition of the standard; the newest unless stated", default=None)
    pitch_diameter_aim = fields.Fraction(
        "Where in its tolerance the pitch diameter should land: 0 least, 1 greatest", default=0.5
    )
    crest_aim = fields.Fraction("The same for the diameter of the blank or the hole", default=0.5)


class JobStockAsk(fields.Schema):
    """The bar. Without a size the plan proposes the smallest standard one that cleans up."""

    material = fields.Text("Grade by its standard number or common name", longest=60, example="303")
    shape = fields.OneOf("Shape of the bar", ("hexagon", "round"), default="hexagon")
    across_flats = fields.Length(
        "Hexagon across flats: between two parallel sides", least=1, greatest=500, default=None,
        example=1.25,
    )  # fmt: skip
    across_corners = fields.Length(
        "Hexagon across corners, where that was measured", least=1, greatest=600, default=None
    )
    diameter = fields.Length("Diameter of round bar", least=1, greatest=500, default=None)
    clean_up = fields.Length(
        "Stock wanted over the finished boss on each side", least=0, greatest=50, default=0.0
    )
    kc11_n_per_mm2 = fields.Number(
        "Your own specific cutting force kc1.1, N/mm2, in place of the list's",
        least=50, greatest=20_000, default=None,
    )  # fmt: skip
    mc = fields.Number("Its exponent", least=0, greatest=0.9, default=None)
    density_g_per_cm3 = fields.Number(
        "Your own density, g/cm3, in place of the list's", least=0.5, greatest=25, default=None
    )


class JobBossAsk(fields.Schema):
    """The blank of an external thread."""

    depth = fields.Length(
        "From the face down to the shoulder, or to where the milled boss ends",
        least=0.1, greatest=2000, example=1.0,
    )  # fmt: skip
    shoulder = fields.Flag("Material stands out below the boss", default=True)
    ready = fields.Flag("The boss is on size already; the program only threads", default=False)
    diameter = fields.Length(
        "Diameter as measured, when ready", least=0.5, greatest=500, default=None
    )


class JobHoleAsk(fields.Schema):
    """The hole of an internal thread."""

    depth = fields.Length("Depth of the hole", least=0.1, greatest=2000, example=24)
    through = fields.Flag("The hole goes right through", default=False)
    ready = fields.Flag("The hole is on size already; the program only threads", default=False)
    diameter = fields.Length(
        "Diameter as measured, when ready", least=0.5, greatest=500, default=None
    )
    drilled_diameter = fields.Length(
        "Diameter of the drilled hole that boring starts from", least=0.5, greatest=500,
        default=None,
    )  # fmt: skip


class JobEndMillAsk(fields.Schema):
    """The end mill for the blank or the hole."""

    diameter = fields.Length("Diameter", least=0.1, greatest=200)
    flutes = fields.Count("Cutting edges", least=1, greatest=40)
    flute_length = fields.Length("Length of the cutting edges", least=0.1, greatest=2000)
    substance = fields.OneOf("What it is made of", SUBSTANCES, default="carbide")
    number = fields.Count("Tool number", least=1, greatest=9999, default=2)
    overhang = fields.Length(
        "From the tip up to the holder's face", least=0.1, greatest=1000, default=None
    )
    name = fields.Text("What the shop calls it", longest=40, default="")


class JobMachineAsk(fields.Schema):
    """What the machine can do; what is left out is not checked."""

    greatest_spindle_speed = fields.Number(
        "Greatest spindle speed, rev/min", least=1, greatest=200_000, default=None
    )
    greatest_feed = fields.Length(
        "Greatest feed, length unit per minute", least=1, greatest=100_000, default=None
    )
    spindle_power_kw = fields.Number("Spindle power, kW", least=0.01, greatest=1000, default=None)
    rapid = fields.Length(
        "Rapid traverse, length unit per minute", least=1, greatest=200_000, default=None
    )
    acceleration = fields.Length(
        "Acceleration of the axes, length unit per second squared",
        least=1, greatest=50_000, default=None,
    )  # fmt: skip
    tool_change_seconds = fields.Number(
        "Time of a tool change, seconds", least=0, greatest=600, default=None
    )
    greatest_sweep = fields.Count(
        "Greatest angle of one arc block, degrees: 90, 180 or 360", least=90, greatest=360,
        default=90,
    )  # fmt: skip
    helical_arcs = fields.Flag("The control takes arcs with a Z word", default=True)
    chord_tolerance = fields.Length(
        "Without helical arcs: greatest distance of the straight lines from the path",
        least=0.0001, greatest=1, default=None,
    )  # fmt: skip


class MeasuredPartAsk(fields.Schema):
    """A part that was cut and measured: what the correction is judged by."""

    pitch_diameter = fields.Length(
        "Pitch diameter measured; on a taper thread at the face", least=0.1, greatest=2000
    )
    radius_offset = fields.Length(
        "The job's radius offset when the part was cut", least=-2, greatest=2, default=0.0
    )


class JobCuttingAsk(fields.Schema):
    """How to cut; what is left out the plan chooses and says so."""

    milling = fields.OneOf("Climb or conventional milling", ("climb", "conventional"),
                           default="climb")  # fmt: skip
    surface_speed = fields.Speed("Surface speed, m/min or ft/min", default=None)
    chip_load = fields.Length(
        "Chip thickness wanted at the cutting edge", least=0.0005, greatest=2, default=None
    )
    passes = fields.Count("Radial passes", least=1, greatest=50, default=None)
    pass_method = fields.OneOf(
        "How the depth is shared among passes",
        ("equal chip area", "constant depth", "stiffness"),
        default="equal chip area",
    )
    spring_passes = fields.Count("Passes more at the final depth", least=0, greatest=5, default=0)
    radial_clearance = fields.Length(
        "Air between cutter and blank before lead-in and after lead-out",
        least=0.001, greatest=50, default=None,
    )  # fmt: skip
    axial_clearance = fields.Length(
        "Air between tooth and shoulder or hole bottom", least=0, greatest=50, default=None
    )
    radius_offset = fields.Length(
        "Correction from a measured part, as a control counts it: a larger one keeps the cutter "
        "farther off the flank", least=-2, greatest=2,
        default=0.0,
    )  # fmt: skip
    measured = fields.Nested(
        MeasuredPartAsk,
        "The part that asks for the correction; without it the form of an ideal machine is judged",
        default=None,
    )
    runout = fields.Length(
        "Runout of the cutter in the spindle, full reading", least=0, greatest=1, default=0.0
    )
    deflection_share = fields.Fraction(
        "Greatest share of the pitch diameter tolerance for cutter deflection", default=0.25
    )


class JobProgramAsk(fields.Schema):
    """How the program is written."""

    number = fields.Count("Program number", least=1, greatest=9999, default=None)
    work_offset = fields.OneOf(
        "Work offset",
        ("G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"),
        default="G54",
    )
    coolant = fields.OneOf("Coolant", ("off", "mist", "flood"), default="flood")
    arc_form = fields.OneOf("Arcs by their centre (I J) or radius (R)", ("centre", "radius"),
                            default="centre")  # fmt: skip
    helix_rise_words = fields.Flag("Write K, the rise per turn, on helical arcs", default=False)
    line_numbers = fields.Flag("Number the blocks", default=False)
    unit_codes = fields.OneOf(
        "Codes that set the unit: G20 G21 (RS-274) or G70 G71 (ISO 6983-1)",
        ("G20 G21", "G70 G71"),
        default="G20 G21",
    )
    radius_offset = fields.Count(
        "Number of the control's radius offset (D) for the thread mill; left out, there is none",
        least=1,
        greatest=9999,
        default=None,
    )
    clearance_height = fields.Length(
        "Height of the tip above the face for moves between cuts", least=0.1, greatest=500,
        default=None,
    )  # fmt: skip
    safe_height = fields.Length(
        "Height of the tip above the face before the first and after the last move",
        least=0.1, greatest=1000, default=None,
    )  # fmt: skip
    centre_x = fields.Length("X of the thread's axis", least=-2000, greatest=2000, default=0.0)
    centre_y = fields.Length("Y of the thread's axis", least=-2000, greatest=2000, default=0.0)


class JobGaugingAsk(fields.Schema):
    """What is at hand to measure with."""

    wire_diameter = fields.Length(
        "Diameter of the wires or balls at hand; left out, the best size is taken",
        least=0.05, greatest=50, default=None,
    )  # fmt: skip
    uncertainty = fields.Length(
        "Uncertainty of a reading, plus or minus", least=0, greatest=1, default=0.0
    )


class JobCostsAsk(fields.Schema):
    """For comparing; any currency."""

    hourly_rate = fields.Number("Rate of the machine per hour", least=0, greatest=1e6, default=0.0)
    setup_minutes = fields.Number("Set-up time of the batch", least=0, greatest=1e5, default=0.0)


class JobAsk(fields.Schema):
    """One job, whole: everything needed to make the same plan again."""

    unit = fields.Unit()
    name = fields.Text("What the shop calls the part", longest=60, default="")
    quantity = fields.Count("Parts in the batch", least=1, greatest=1_000_000, default=1)
    thread = fields.Nested(JobThreadAsk, "The thread")
    stock = fields.Nested(JobStockAsk, "The bar")
    boss = fields.Nested(JobBossAsk, "The blank of an external thread", default=None)
    hole = fields.Nested(JobHoleAsk, "The hole of an internal thread", default=None)
    cutter = fields.Nested(
        CutterForThreadAsk, "The thread mill; left out, the plan proposes one", default=None
    )
    end_mill = fields.Nested(
        JobEndMillAsk, "The end mill for blank or hole; left out, the plan proposes one",
        default=None,
    )  # fmt: skip
    machine = fields.Nested(JobMachineAsk, "The machine", default=None)
    cutting = fields.Nested(JobCuttingAsk, "How to cut", default=None)
    program = fields.Nested(JobProgramAsk, "How to write the program", default=None)
    gauging = fields.Nested(JobGaugingAsk, "What to measure with", default=None)
    costs = fields.Nested(JobCostsAsk, "What an hour costs", default=None)
    accept = fields.ListOf(
        fields.Text("Code of a check", longest=60),
        "Codes of refused checks that you take on yourself, where a check allows it",
        most=20,
        default=(),
    )
    made_by = fields.Text(
        "Which version wrote the document down, as a plan's own `job` says; it changes nothing",
        longest=60, default="",
    )  # fmt: skip


class PlanCuttersAsk(JobAsk):
    """One job, and the cutters to compare for it."""

    cutters = fields.ListOf(
        fields.Nested(CutterForThreadAsk, "A thread mill at hand"),
        "The thread mills at hand; `cutter` is not looked at",
        fewest=1,
        most=20,
    )


class PlanDrawingAsk(JobAsk):
    """One job, and which view of its plan to draw."""

    view = fields.OneOf("Which view", ("section", "path", "setup", "bar"))
