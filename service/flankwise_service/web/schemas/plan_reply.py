"""What a plan replies."""

from __future__ import annotations

from flankwise_service.web import fields
from flankwise_service.web.schemas.common import PointReply, SourceReply
from flankwise_service.web.schemas.cutting import (
    BatchCostReply,
    MachiningTimeReply,
    SpindleSpeedReply,
    ThreadPassReply,
)
from flankwise_service.web.schemas.gauging import CorrectionRowReply, GaugeReply
from flankwise_service.web.schemas.plan import JobAsk
from flankwise_service.web.schemas.program import ProgramReply
from flankwise_service.web.schemas.stock import BarChoiceReply, DepthBudgetReply
from flankwise_service.web.schemas.threads import LimitsReply
from flankwise_service.web.schemas.tools import SUBSTANCES


class CheckReply(fields.Schema):
    """One check: what was compared, with its figures, and what to change."""

    code = fields.Text("Code of the check; name it in `accept` to take a refusal on yourself")
    state = fields.OneOf("Outcome", ("passed", "caution", "refused", "accepted"))
    detail = fields.Text("In words, with figures")
    figure = fields.Number("What came out", nullable=True)
    limit = fields.Number("What it is held against", nullable=True)
    unit = fields.Text("Unit of both", nullable=True)
    change = fields.Text("What to change; empty when nothing")
    acceptable = fields.Flag("A refusal of this check may be accepted by its code")


class BarPlanReply(fields.Schema):
    """The bar, as given or as proposed."""

    shape = fields.OneOf("Shape", ("hexagon", "round"))
    size = fields.Length("Across flats of a hexagon, diameter of round bar")
    across_corners = fields.Length("Hexagon across corners", nullable=True)
    proposed = fields.Flag("The plan chose it")
    corner_stand_out = fields.Length(
        "How far corners (or the outside) stand out beyond the boss", nullable=True
    )
    wall = fields.Length("Between the thread's greatest diameter and flats or outside")
    mass_per_length = fields.Number("Mass of bar per length")
    mass_unit = fields.OneOf("Its unit", ("lb/in", "kg/m"))
    others = fields.ListOf(
        fields.Nested(BarChoiceReply, "A larger bar"), "Further standard bars, when it was proposed"
    )


class EndMillReply(fields.Schema):
    """The end mill for the blank."""

    diameter = fields.Length("Diameter")
    flutes = fields.Count("Cutting edges")
    flute_length = fields.Length("Length of the cutting edges")
    substance = fields.OneOf("What it is made of", SUBSTANCES)
    number = fields.Count("Tool number")
    overhang = fields.Length("From the tip up to the holder", nullable=True)
    name = fields.Text("What the shop calls it")


class BlankPlanReply(fields.Schema):
    """What the boss is milled to, or the hole bored to, before threading."""

    kind = fields.OneOf("Boss or hole", ("boss", "hole"))
    diameter = fields.Length("Diameter aimed at, or as measured")
    least = fields.Length("Least diameter the thread's limits allow")
    greatest = fields.Length("Greatest")
    depth = fields.Length("From the face")
    ready = fields.Flag("It was on size already")
    budget = fields.Nested(
        DepthBudgetReply, "Where the depth goes; null where nothing stands below", nullable=True
    )
    end_mill = fields.Nested(EndMillReply, "The end mill; null when ready", nullable=True)
    speed = fields.Nested(SpindleSpeedReply, "Its speed", nullable=True)
    edge_feed = fields.Number("Its feed at the cutting edge, per minute", nullable=True)
    depth_per_level = fields.Length("Depth of a level, or of one turn of the helix", nullable=True)


class ToothReply(fields.Schema):
    """The tooth's profile."""

    flank_angle_upper = fields.Angle("Flank angle on the shank side, degrees")
    flank_angle_lower = fields.Angle("Flank angle on the tip side, degrees")
    tip_width = fields.Length("Flat at the tip before rounding")
    depth = fields.Length("Radial height")
    tip_radius = fields.Length("Radius between tip and flanks")


class CutterReply(fields.Schema):
    """The thread mill as planned with."""

    diameter = fields.Length("Cutting diameter")
    flutes = fields.Count("Cutting edges round the tool")
    tooth = fields.Nested(ToothReply, "Its tooth")
    rows = fields.Count("Rows of teeth")
    row_pitch = fields.Length("Distance of the rows", nullable=True)
    tip_to_tooth = fields.Length("From the tip up to the middle of the lowest tooth")
    neck_diameter = fields.Length("Neck diameter, 0 when not known")
    reach = fields.Length("Up to where the shank begins", nullable=True)
    shank_diameter = fields.Length("Shank diameter", nullable=True)
    overhang = fields.Length("Up to the holder", nullable=True)
    holder_diameter = fields.Length("Holder diameter", nullable=True)
    substance = fields.OneOf("What it is made of", SUBSTANCES)
    least_pitch = fields.Length("Finest pitch", nullable=True)
    greatest_pitch = fields.Length("Coarsest pitch", nullable=True)
    number = fields.Count("Tool number")
    name = fields.Text("What the shop calls it")
    row_taper = fields.Number("Change of diameter per length over the rows")


class MotionPlanReply(fields.Schema):
    """How the cutter goes round."""

    side = fields.OneOf("Side", ("external", "internal"))
    hand = fields.OneOf("Hand of the thread", ("right", "left"))
    milling = fields.OneOf("Climb or conventional", ("climb", "conventional"))
    sense = fields.OneOf("Seen from above", ("clockwise", "counterclockwise"))
    motion = fields.OneOf("Along Z meanwhile", ("upward", "downward"))
    lead = fields.Length("Advance in one turn")
    starts = fields.Count("Starts")
    turns = fields.Number("Turns of thread in its length; run-in and run-out come on top")
    turns_cut = fields.Number(
        "Turns that the program makes in one run, run-in and run-out with them; fewer than those "
        "of the thread where several rows cut side by side"
    )
    runs = fields.Count(
        "Unbroken cuts in one radial pass: one for each start, more where several rows step along"
    )
    lead_in = fields.OneOf("How it enters", ("half_arc", "quarter_arc", "radial"))
    lead_out = fields.OneOf("How it leaves", ("half_arc", "quarter_arc", "radial"))
    radial_clearance = fields.Length("Air between cutter and blank at both ends")


class PassPlanReply(fields.Schema):
    """One radial pass."""

    number = fields.Count("From 1")
    centre_radius = fields.Length("Radius of the centre path")
    spring = fields.Flag("A pass at the depth of the one before")
    work = fields.Nested(ThreadPassReply, "Chip, feed, force and deflection")
    pitch_diameter_effect = fields.Number(
        "What cutter deflection leaves on the pitch diameter; null when not known", nullable=True
    )
    tooth_depth = fields.Length("How deep the tooth goes before the body reaches the crest")


class AimedRadiusReply(fields.Schema):
    """The centre path that lands the pitch diameter on its aim, from the form really cut."""

    aim = fields.Length("Pitch diameter aimed at")
    centre_radius = fields.Length("Radius of the centre path")
    triangle_centre_radius = fields.Length("What the nominal triangle would have asked for")
    change = fields.Number("The difference")
    pitch_diameter_without = fields.Length("Pitch diameter the triangle's radius would cut")
    error_without = fields.Number("How far off that is")
    root_diameter = fields.Length("At the bottom of the groove")


class FormPlanReply(fields.Schema):
    """What the cutter will leave."""

    pitch_diameter = fields.Length("Pitch diameter as cut")
    functional_diameter = fields.Length("Of the perfect mating thread that just enters")
    major_diameter = fields.Length("Major diameter as cut")
    minor_diameter = fields.Length("Minor diameter as cut")
    overcut_effect = fields.Number("Change of pitch diameter by the overcut of the helix")
    flank_angle_error_upper = fields.Number("Degrees")
    flank_angle_error_lower = fields.Number("Degrees")
    form_deviation = fields.Number("Greatest distance of a cut flank from its nominal line")
    crest_width = fields.Length("Crest left")
    root_width = fields.Length("Flat at the root")
    root_radius = fields.Length("Radius at the root")
    tolerance_used = fields.Number(
        "Share of the pitch diameter tolerance that the form takes", nullable=True
    )
    correction = fields.Nested(AimedRadiusReply, "The centre path's radius")


class PathTotalsReply(fields.Schema):
    """What a path amounts to."""

    segments = fields.Count("Segments")
    arcs = fields.Count("Arcs")
    lines = fields.Count("Straight feed moves")
    rapids = fields.Count("Rapid moves")
    cutting_length = fields.Length("Along everything that is fed")
    rapid_length = fields.Length("Along rapids")
    thread_length = fields.Length("Along the thread itself")
    arc_turns = fields.Number("Turns of all arcs of the thread")
    height = fields.Length("From the lowest to the highest place of the tool's reference point")
    least = fields.Nested(PointReply, "Least X, Y, Z")
    greatest = fields.Nested(PointReply, "Greatest X, Y, Z")
    begin = fields.Nested(PointReply, "Where it begins")
    end = fields.Nested(PointReply, "Where it ends")


class GaugingPlanReply(fields.Schema):
    """How to measure the thread."""

    method = fields.Text("Three wires, or between balls")
    wire = fields.Length("Diameter of wires or balls")
    best_wire = fields.Length("Best size")
    least_reading = fields.Length("Least reading")
    greatest_reading = fields.Length("Greatest reading")
    aimed_reading = fields.Length("Reading at the aimed pitch diameter")
    handbook_error = fields.Number("What the handbook's formula gets wrong here")
    table = fields.ListOf(
        fields.Nested(CorrectionRowReply, "One line"), "Reading and what to change at the control"
    )
    gauges = fields.ListOf(fields.Nested(GaugeReply, "One gauge"), "Go and no-go gauges")


class PlanReply(fields.Schema):
    """The whole job, worked out."""

    unit = fields.Unit("Unit of every length, as asked")
    made_by = fields.Text("Which version of flankwise made it")
    name = fields.Text("The part")
    quantity = fields.Count("Parts in the batch")
    verdict = fields.OneOf("Whether it may be run", ("ready", "ready with cautions", "refused"))
    limits = fields.Nested(LimitsReply, "Limits of size")
    material = fields.Text("Material")
    bar = fields.Nested(BarPlanReply, "The bar")
    blank = fields.Nested(BlankPlanReply, "Boss or hole before threading")
    cutter = fields.Nested(CutterReply, "The thread mill")
    speed = fields.Nested(SpindleSpeedReply, "Its spindle speed")
    motion = fields.Nested(MotionPlanReply, "How it goes round")
    passes = fields.ListOf(fields.Nested(PassPlanReply, "One pass"), "Radial passes")
    form = fields.Nested(FormPlanReply, "The form really cut")
    path = fields.Nested(PathTotalsReply, "The thread's path")
    blank_path = fields.Nested(PathTotalsReply, "The blank's path", nullable=True)
    time = fields.Nested(MachiningTimeReply, "Time of one part")
    cost = fields.Nested(BatchCostReply, "Cost, when a rate was given", nullable=True)
    gauging = fields.Nested(
        GaugingPlanReply, "How to measure it; null for taper threads", nullable=True
    )
    program = fields.Nested(
        ProgramReply, "The program; null when a check refuses it", nullable=True
    )
    checks = fields.ListOf(fields.Nested(CheckReply, "One check"), "Every check")
    assumed = fields.ListOf(fields.Text("One assumption"), "What the plan assumed")
    advice = fields.ListOf(fields.Text("One advice"), "What to change, gathered from the checks")
    cautions = fields.ListOf(fields.Text("One caution"), "For every job")
    sources = fields.ListOf(fields.Nested(SourceReply, "One source"), "Where figures come from")
    job = fields.Nested(
        JobAsk,
        "The job document to keep: all that was left to the plan is written into it, and which "
        "version did; sent again it gives this plan",
    )


class CutterComparedReply(fields.Schema):
    """One cutter and the plan it would give."""

    place = fields.Count("1 is the one to reach for")
    index = fields.Count("Where it stood among those given, from 0")
    name = fields.Text("What the shop calls it")
    diameter = fields.Length("Cutting diameter")
    verdict = fields.OneOf(
        "Of its plan; null where no plan can be made with it",
        ("ready", "ready with cautions", "refused"),
        nullable=True,
    )
    passes = fields.Count("Radial passes", nullable=True)
    seconds_per_part = fields.Number("Time of one part, seconds", nullable=True)
    cost_per_part = fields.Number("Cost of one part, where a rate was given", nullable=True)
    pitch_diameter_effect = fields.Number(
        "What deflection leaves on the pitch diameter", nullable=True
    )
    centre_radius_change = fields.Number(
        "Correction of the nominal centre path by the form really cut", nullable=True
    )
    reasons = fields.ListOf(fields.Text("One reason"), "What speaks for it or against it")


class PlanCuttersReply(fields.Schema):
    """Cutters compared by the whole plan each would give."""

    unit = fields.Unit("Unit of every length, as asked")
    cutters = fields.ListOf(fields.Nested(CutterComparedReply, "One cutter"), "The best first")


class SheetDrawingReply(fields.Schema):
    """One drawing of the sheet."""

    view = fields.OneOf("What it shows", ("section", "path", "setup", "bar"))
    svg = fields.Text("The drawing as SVG")


class SheetReply(fields.Schema):
    """What the sheet shows, as data."""

    plan = fields.Nested(PlanReply, "The whole plan")
    length = fields.Length("Length of full thread")
    radius_offset = fields.Count("Number of the control's radius offset", nullable=True)
    drawings = fields.ListOf(fields.Nested(SheetDrawingReply, "One drawing"), "Its drawings")
