"""Schemas of the subject program."""

from __future__ import annotations

from flankwise_service.core.program.asked import MOST_OPERATIONS
from flankwise_service.core.program.blocks import GREATEST_TEXT
from flankwise_service.core.program.setup import WORK_OFFSETS
from flankwise_service.web import fields
from flankwise_service.web.schemas.cutting import PlaceAsk

PURPOSES = (
    "approach", "plunge", "lead_in", "thread", "lead_out", "retract", "boss", "bore", "link",
)  # fmt: skip
SENSES = ("clockwise", "counterclockwise")
KINDS = ("rapid", "line", "arc")
MOST_SEGMENTS = 20_000
MOST_MOTIONS = 20_000


class PathSegmentAsk(fields.Schema):
    """One piece of a path, as the service's own path replies give it."""

    kind = fields.OneOf("How it moves", KINDS)
    purpose = fields.OneOf("What it is for", PURPOSES)
    begin = fields.Nested(PlaceAsk, "Where it begins")
    end = fields.Nested(PlaceAsk, "Where it ends")
    centre = fields.ListOf(
        fields.Length("Coordinate", least=-1e5, greatest=1e5),
        "Centre X and Y of an arc, null for straight pieces", fewest=2, most=2, default=None,
    )  # fmt: skip
    sense = fields.OneOf("Sense of an arc seen from +Z", SENSES, default=None)
    sweep = fields.Angle("Angle turned, 0 for straight pieces", greatest=360_000, default=0.0)
    feed = fields.Length(
        "Feed along the path, per minute; null for a rapid", least=0.01, greatest=1e6, default=None
    )
    radial_pass = fields.Count("Radial pass, from 1; 0 where it is none", default=0)
    start = fields.Count("Start of the thread, from 1; 0 where it is none", default=0)


class ProgramSetupAsk(fields.Schema):
    """How the program is written."""

    safe_height = fields.Length(
        "Height of the tool's tip above the face, kept before the first and after the last cut of "
        "each tool", least=0.1, greatest=1000,
    )  # fmt: skip
    work_offset = fields.OneOf("Work offset", WORK_OFFSETS, default="G54")
    unit_codes = fields.OneOf(
        "Codes that set the unit: G20 G21 (RS-274) or G70 G71 (ISO 6983-1)",
        ("G20 G21", "G70 G71"), default="G20 G21",
    )  # fmt: skip
    decimals = fields.Count(
        "Digits after the point of a length; left out: 4 for in, 3 for mm", least=3, greatest=6,
        default=None,
    )  # fmt: skip
    arc_form = fields.OneOf(
        "Arcs by their centre (I J) or by their radius (R, up to 165 degrees)",
        ("centre", "radius"), default="centre",
    )  # fmt: skip
    helix_rise_words = fields.Flag("Write K, the rise per turn, on helical arcs", default=False)
    arc_centre_code = fields.Flag(
        "Spell G91.1: I and J count from the arc's begin, as they always do here", default=False
    )
    line_number_step = fields.Count(
        "Step of the line numbers, 10 for N10 N20; 0 leaves them out", greatest=1000, default=0
    )
    program_number = fields.Count(
        "Written as O and four digits; left out: no number", least=1, greatest=9999, default=None
    )
    end = fields.OneOf("Word that ends the program", ("M30", "M02"), default="M30")
    designation = fields.Text(
        "Thread designation for the header", longest=60, default=None, example="7/8-14 UNF-2A"
    )
    remarks = fields.ListOf(
        fields.Text("One remark", longest=72),
        "Lines for the header. Characters that mean something to a control are replaced",
        most=20, default=list,
    )  # fmt: skip


class ProgramToolAsk(fields.Schema):
    """The tool as the control knows it; the spindle turns clockwise."""

    number = fields.Count("Tool number", least=1, greatest=9999)
    spindle_speed = fields.Number("Spindle speed, rev/min", least=1, greatest=200_000)
    length_offset = fields.Count(
        "Number of the length offset (G43 H); null where the control takes it from the tool number",
        least=1, greatest=9999, nullable=True,
    )  # fmt: skip
    coolant = fields.OneOf("Coolant", ("off", "mist", "flood"), default="off")
    tip_to_tooth = fields.Length(
        "From the tool's tip, where its length is set, up to the point the path is given for",
        least=0, greatest=200, default=0.0,
    )  # fmt: skip
    radius_offset = fields.Count(
        "Number of a radius offset (G41 or G42 D) that corrects the centre path; zero stored at "
        "first. Needs straight lead-ins and lead-outs. Left out: none",
        least=1, greatest=9999, default=None,
    )  # fmt: skip
    radius_side = fields.OneOf(
        "Side on which the cutter moves off the flank: left (G41) for climb milling, right (G42) "
        "for conventional", ("left", "right"), default="left",
    )  # fmt: skip
    name = fields.Text("What the shop calls the tool", longest=40, default="")


class ProgramOperationAsk(fields.Schema):
    """One tool's part of the program."""

    tool = fields.Nested(ProgramToolAsk, "The tool")
    segments = fields.ListOf(
        fields.Nested(PathSegmentAsk, "One segment"), "Its path, piece joined to piece",
        fewest=1, most=MOST_SEGMENTS,
    )  # fmt: skip
    title = fields.Text("What it does, for a comment", longest=60, default="")


class ProgramAsk(fields.Schema):
    """Paths and tools that make one program."""

    unit = fields.Unit()
    setup = fields.Nested(ProgramSetupAsk, "How it is written")
    operations = fields.ListOf(
        fields.Nested(ProgramOperationAsk, "One operation"), "The operations, in order",
        fewest=1, most=MOST_OPERATIONS,
    )  # fmt: skip


class ProgramCompareAsk(ProgramAsk):
    """A program's text, and the paths and tools it should hold."""

    text = fields.Lines("The program", shortest=1, longest=GREATEST_TEXT)


class ReplayReply(fields.Schema):
    """What reading the program back found: the greatest differences from the path."""

    equal = fields.Flag("Text and path are equal; always true, for a difference is refused")
    unit = fields.Unit("Unit of the lengths")
    last_digit = fields.Number("Value of one count of the last printed digit")
    motions = fields.Count("Motions of the program")
    position_error = fields.Number("Of any end place, along one axis")
    arc_middle_error = fields.Number("Of the middle of any arc")
    arc_radius_error = fields.Number("Between an arc's radius at its begin and at its end")
    feed_error = fields.Number("Of any feed")
    left_out = fields.Count("Pieces of the path shorter than the printed digits can tell")


class ProgramReply(fields.Schema):
    """The program, proved equal to its path."""

    text = fields.Lines("Word-address text by ISO 6983 and RS-274")
    blocks = fields.Count("Blocks, comments not counted")
    bytes = fields.Count("Length of the text")
    replay = fields.Nested(ReplayReply, "What reading it back found")


class RadiusOffsetAsk(fields.Schema):
    """What is stored at the control for one radius offset."""

    number = fields.Count("Its number (D)", least=1, greatest=9999)
    value = fields.Length(
        "What is stored: the correction of the centre path", least=-50, greatest=50
    )


class ProgramReplayAsk(fields.Schema):
    """Word-address text to read."""

    unit = fields.Unit("Unit of the lengths in this request; the text sets its own.")
    text = fields.Lines("The program", shortest=1, longest=GREATEST_TEXT)
    radius_offsets = fields.ListOf(
        fields.Nested(RadiusOffsetAsk, "One radius offset"),
        "Radius offsets stored at the control; the motions then are those the tool really makes",
        most=20, default=list,
    )  # fmt: skip
    most_motions = fields.Count(
        "Motions listed at most; all are read", least=0, greatest=MOST_MOTIONS, default=2000
    )


class MotionReply(fields.Schema):
    """One motion of the tool's tip."""

    line = fields.Count("Line of the text, from 1")
    kind = fields.OneOf("How it moves", KINDS)
    begin = fields.ListOf(
        fields.Number("Coordinate; null where not known yet", nullable=True), "X, Y, Z", fewest=3,
        most=3,
    )  # fmt: skip
    end = fields.ListOf(
        fields.Number("Coordinate; null where not known yet", nullable=True), "X, Y, Z", fewest=3,
        most=3,
    )  # fmt: skip
    centre = fields.ListOf(
        fields.Number("Coordinate"), "Centre of an arc in its plane, null for straight motions",
        fewest=2, most=2, nullable=True,
    )  # fmt: skip
    sense = fields.OneOf("Sense of an arc", SENSES, nullable=True)
    sweep = fields.Angle("Angle turned, 0 for straight motions")
    feed = fields.Number("Feed along the path, per minute; null for a rapid", nullable=True)
    state = fields.Count("Place of its modal state in the list of states, from 0")


class ModalReply(fields.Schema):
    """The modal state of the control; null where the program hasn't said."""

    unit = fields.Unit("Unit of the program's words", nullable=True)
    plane = fields.OneOf("Plane of arcs", ("XY", "ZX", "YZ"), nullable=True)
    distance = fields.OneOf("What axis words mean", ("absolute", "incremental"), nullable=True)
    feed_mode = fields.OneOf("What a feed means", ("per minute", "per revolution", "inverse time"))
    work_offset = fields.Text("Work offset", nullable=True)
    tool = fields.Count("Tool in the spindle", nullable=True)
    length_offset = fields.Count("Number of the length offset", nullable=True)
    radius_side = fields.OneOf("Side of the radius offset", ("left", "right"), nullable=True)
    radius_offset = fields.Count("Number of the radius offset", nullable=True)
    spindle = fields.OneOf("Spindle", ("stopped", "clockwise", "counterclockwise"))
    spindle_speed = fields.Number("Spindle speed, rev/min", nullable=True)
    coolant = fields.ListOf(fields.OneOf("A coolant", ("mist", "flood")), "Coolants that are on")


class BlockFaultReply(fields.Schema):
    """What is wrong with one block."""

    line = fields.Count("Line of the text, from 1; 0 for the text as a whole")
    code = fields.Text("Short name of the fault")
    detail = fields.Text("What is wrong")
    change = fields.Text("What to change")
    text = fields.Text("The block, or its first part")


class ProgramReplayReply(fields.Schema):
    """A program as read."""

    unit = fields.Unit("Unit of the motions: the first one the program sets", nullable=True)
    motions = fields.ListOf(
        fields.Nested(MotionReply, "One motion"), "The motions up to the first fault"
    )
    motion_count = fields.Count("How many motions there are, listed or not")
    states = fields.ListOf(
        fields.Nested(ModalReply, "One state"), "The modal states they run under"
    )
    faults = fields.ListOf(fields.Nested(BlockFaultReply, "One fault"), "The faults, by line")
    cautions = fields.ListOf(
        fields.Nested(BlockFaultReply, "One caution"),
        "What may be meant and most often isn't: cuts with no tool called, with no length offset, "
        "or under one whose number isn't the tool's; each at its first cut",
    )
    blocks = fields.Count("Blocks read")
    ended = fields.Flag("The program says its end, by M02 or M30")
    dwell_seconds = fields.Number("All dwells together")
    comments = fields.ListOf(fields.Text("One comment"), "The comments, at most 1000")
