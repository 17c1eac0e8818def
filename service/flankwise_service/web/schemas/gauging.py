"""Schemas of the subject gauging."""

from __future__ import annotations

from flankwise_service.core.gauging.over_wires import LINES, METHODS
from flankwise_service.web import fields
from flankwise_service.web.schemas.common import SourceReply
from flankwise_service.web.schemas.threads import SIDES, designation_field

STANDINGS = ("inside", "too small", "too large", "can't be told")


def _sources() -> fields.ListOf:
    return fields.ListOf(fields.Nested(SourceReply, "One source"), "Where the figures come from")


def _notes() -> fields.ListOf:
    return fields.ListOf(fields.Text("One note", longest=300), "What to mind with this gauge")


def _wire() -> fields.Length:
    return fields.Length("Diameter of the wires, or of the balls", greatest=100.0)


def _method() -> fields.OneOf:
    return fields.OneOf(
        "How it is measured: over wires outside, over or between balls inside",
        METHODS,
        example="three wires",
    )


def _line() -> fields.OneOf:
    return fields.OneOf(
        "Line of measurement: square to the axis, or through both balls' centres where the gauge "
        "may tilt",
        LINES,
        default="square to the axis",
    )


def _aim() -> fields.Length:
    return fields.Length(
        "Pitch diameter to aim at, inside the limits; left out: their middle", default=None
    )


def _response() -> fields.Number:
    return fields.Number(
        "Change of pitch diameter for one unit of radius: 2 for a rigid shift of the path",
        least=1.0,
        greatest=3.5,
        default=2.0,
    )


class GaugedThreadQuery(fields.Schema):
    """Which thread, in which unit."""

    designation = designation_field()
    unit = fields.Unit()
    side = fields.OneOf(
        "External or internal; needed where the designation doesn't say it", SIDES, default=None
    )


class WireSizesReply(fields.Schema):
    """Wires, or balls, that can measure a thread anywhere inside its limits."""

    best = fields.Length("Best size: an error of the flank angle doesn't shift its reading")
    best_exact = fields.Length(
        "Size that touches at the mean pitch diameter, the lead regarded; null where the flanks "
        "are unequal",
        nullable=True,
    )
    least = fields.Length("Least size: a smaller one stands below the crest, or in the root")
    greatest = fields.Length("Greatest size: a larger one rides on the crest")
    use = fields.Length(
        "The best, or the nearest to it that will do; null where no size will", nullable=True
    )


class WiresReply(WireSizesReply):
    """The wires that do for one thread."""

    unit = fields.Unit("Unit of every length here")


class OverWiresAsk(GaugedThreadQuery):
    """A thread and the wires, or balls, at hand."""

    wires = fields.ListOf(_wire(), "Diameters of the wires or balls at hand", fewest=1, most=200)
    method = _method()
    line = _line()


class ReadingOverReply(fields.Schema):
    """What a gauge reads over wires or balls in a thread of known pitch diameter."""

    reading = fields.Length("Exact reading: the wire at rest on both helicoids")
    handbook = fields.Length("By the handbook's formula, which takes the lead as zero")
    handbook_with_lead = fields.Length(
        "With the handbook's lead term; null where the flanks are unequal", nullable=True
    )
    handbook_error = fields.Number("Handbook less exact")
    handbook_with_lead_error = fields.Number("Handbook with lead term, less exact", nullable=True)
    lead_angle = fields.Angle("Lead angle at the pitch diameter")
    wire_tilt = fields.Angle("Angle of a wire to the plane square to the axis")
    contact_diameter_upper = fields.Length("Diameter at which the upper flank is touched")
    contact_diameter_lower = fields.Length("Diameter at which the lower flank is touched")
    axial_offset = fields.Length("Along the axis to the nearest groove opposite")


class OverReadingReply(ReadingOverReply):
    """A reading over wires or balls, and the unit of its lengths."""

    unit = fields.Unit("Unit of every length here")


class LimitsOverReply(fields.Schema):
    """The readings between which the pitch diameter is inside its limits."""

    wire = _wire()
    method = fields.OneOf("How it is measured", METHODS)
    line = fields.OneOf("Line of measurement", LINES)
    min = fields.Nested(ReadingOverReply, "At the least pitch diameter")
    max = fields.Nested(ReadingOverReply, "At the greatest pitch diameter")
    sizes = fields.Nested(WireSizesReply, "Sizes that would do")
    sources = _sources()
    notes = _notes()


class UnfitWireReply(fields.Schema):
    """A wire at hand that can't be used here, and why."""

    wire = _wire()
    reasons = fields.ListOf(fields.Text("One reason", longest=400), "Why not")


class OverWiresReply(fields.Schema):
    """The wire at hand to use, and the limits over it."""

    unit = fields.Unit("Unit of every length here")
    limits = fields.Nested(LimitsOverReply, "Limits of the reading, not rounded")
    angle_sensitivity = fields.Number("Change of pitch diameter per degree of flank angle")
    others = fields.ListOf(_wire(), "Further wires at hand that would do, best first")
    unfit = fields.ListOf(fields.Nested(UnfitWireReply, "One wire"), "Wires that can't be used")


class ThreadGrooveAsk(fields.Schema):
    """A thread of your own, by its groove alone."""

    unit = fields.Unit()
    pitch = fields.Length("Pitch", least=0.05, greatest=60.0)
    starts = fields.Count("Starts", least=1, greatest=40, default=1)
    flank_angle_upper = fields.Angle(
        "From a plane square to the axis to the one flank", least=0.0, greatest=60.0, example=30
    )
    flank_angle_lower = fields.Angle("The same for the other flank", least=0.0, greatest=60.0)
    side = fields.OneOf("External or internal", SIDES)
    wire = _wire()
    method = _method()
    line = _line()


class ReadingAsk(ThreadGrooveAsk):
    """A groove of known pitch diameter: what will the gauge read?"""

    pitch_diameter = fields.Length("Pitch diameter")


class PitchDiameterAsk(ThreadGrooveAsk):
    """A groove measured over wires or balls: what is its pitch diameter?"""

    reading = fields.Length("What the gauge reads")
    reading_uncertainty = fields.Length(
        "Half width of the range the true reading lies in", least=0.0, greatest=10.0
    )
    wire_uncertainty = fields.Length(
        "The same for the wire's diameter", least=0.0, greatest=10.0, default=0.0
    )
    flank_angle_uncertainty = fields.Angle(
        "The same for the flank angle", greatest=10.0, default=0.0
    )


class MeasuredReply(fields.Schema):
    """Where the true pitch diameter lies."""

    pitch_diameter = fields.Length("Measured pitch diameter")
    uncertainty = fields.Length("Half width of the range")
    least = fields.Length("Least it can be")
    greatest = fields.Length("Greatest it can be")


class WorkedBackReply(fields.Schema):
    """A pitch diameter worked back from a reading."""

    pitch_diameter = fields.Length("Exact")
    handbook = fields.Length("By the handbook's formula, which takes the lead as zero")
    handbook_with_lead = fields.Length(
        "With the handbook's lead term; null where the flanks are unequal", nullable=True
    )
    handbook_error = fields.Number("Handbook less exact")
    contact_diameter_upper = fields.Length("Diameter at which the upper flank is touched")
    contact_diameter_lower = fields.Length("Diameter at which the lower flank is touched")


class PitchMeasuredReply(fields.Schema):
    """A pitch diameter measured over wires or balls, and what its uncertainty is made of."""

    measured = fields.Nested(MeasuredReply, "Where the true pitch diameter lies")
    worked_back = fields.Nested(WorkedBackReply, "How it was worked back")
    from_reading = fields.Number("Part of the uncertainty that comes from the reading")
    from_wire = fields.Number("Part that comes from the wire's diameter")
    from_flank_angle = fields.Number("Part that comes from the flank angle")
    sources = _sources()


class MeasuredOverReply(PitchMeasuredReply):
    """A measured pitch diameter, and the unit of its lengths."""

    unit = fields.Unit("Unit of every length here")


class PitchVerdictReply(fields.Schema):
    """Whether a measured pitch diameter is inside its limits, and the room left."""

    standing = fields.OneOf("Where it stands", STANDINGS)
    doubt = fields.Text("Which limit the uncertainty straddles, null when sure", nullable=True)
    room_to_min = fields.Number("Measured less the least limit; negative beyond it")
    room_to_max = fields.Number("Greatest limit less measured; negative beyond it")
    words = fields.Text("The verdict in words", longest=400)
    source = fields.Nested(SourceReply, "Rule of decision")


class OffsetChangeReply(fields.Schema):
    """What to change at the control to bring the pitch diameter to its aim."""

    aim = fields.Length("Pitch diameter aimed at")
    pitch_diameter_change = fields.Number("Aim less measured")
    radius_offset_change = fields.Number("To add to the cutter's radius offset, signed")
    diameter_offset_change = fields.Number(
        "To add instead where the control keeps the cutter's diameter"
    )
    words = fields.Text("What to do, in words", longest=200)
    rework = fields.Flag(
        "True: another pass brings this part to its aim. False: metal is missing, the change is "
        "for the next part. Null: the part is inside its limits, or that can't be told",
        nullable=True,
    )
    verdict = fields.Nested(PitchVerdictReply, "Where the part stands")
    cautions = fields.ListOf(fields.Text("One caution", longest=400), "What to mind")


class OffsetCorrectionReply(OffsetChangeReply):
    """The change of the radius offset, and the unit of its lengths."""

    unit = fields.Unit("Unit of every length here")


class InspectionAsk(GaugedThreadQuery):
    """A standard thread measured over wires or balls."""

    reading = fields.Length("What the gauge reads")
    wire = _wire()
    method = _method()
    line = _line()
    reading_uncertainty = fields.Length(
        "Half width of the range the true reading lies in", least=0.0, greatest=10.0
    )
    wire_uncertainty = fields.Length(
        "The same for the wire's diameter", least=0.0, greatest=10.0, default=0.0
    )
    flank_angle_uncertainty = fields.Angle(
        "The same for the flank angle", greatest=10.0, default=0.0
    )
    aim = _aim()
    diameter_per_radius = _response()


class InspectionReply(fields.Schema):
    """Pitch diameter, verdict and correction from one reading."""

    unit = fields.Unit("Unit of every length here")
    over = fields.Nested(PitchMeasuredReply, "The pitch diameter measured")
    verdict = fields.Nested(PitchVerdictReply, "Where the part stands")
    correction = fields.Nested(OffsetChangeReply, "What to change at the control")
    notes = _notes()


class MeasuredSizeAsk(fields.Schema):
    """A measured pitch diameter."""

    pitch_diameter = fields.Length("Measured pitch diameter")
    uncertainty = fields.Length(
        "Half width of the range the true one lies in", least=0.0, greatest=10.0
    )


class OffsetCorrectionAsk(GaugedThreadQuery):
    """A standard thread whose pitch diameter has been measured."""

    pitch_diameter = fields.Length("Measured pitch diameter")
    uncertainty = fields.Length(
        "Half width of the range the true one lies in", least=0.0, greatest=10.0
    )
    aim = _aim()
    diameter_per_radius = _response()


class OffsetResponseAsk(GaugedThreadQuery):
    """Two measurements, before and after the radius offset was changed."""

    before = fields.Nested(MeasuredSizeAsk, "Measured before the change")
    after = fields.Nested(MeasuredSizeAsk, "Measured after it")
    changed_by = fields.Length(
        "What was added to the radius offset, signed", least=-5.0, greatest=5.0
    )
    aim = _aim()


class OffsetResponseReply(fields.Schema):
    """How the thread answered, and the next correction by it."""

    unit = fields.Unit("Unit of every length here")
    diameter_per_radius = fields.Number("Observed change of pitch diameter per radius; 2 is rigid")
    correction = fields.Nested(OffsetChangeReply, "What to change next")


class CorrectionTableAsk(GaugedThreadQuery):
    """The table of readings and offset changes to lay beside the machine."""

    wire = _wire()
    method = _method()
    line = _line()
    aim = _aim()
    rows = fields.Count("How many rows", least=3, greatest=201, default=11)
    diameter_per_radius = _response()


class CorrectionRowReply(fields.Schema):
    """One row: this reading, that change."""

    reading = fields.Length("What the gauge reads")
    pitch_diameter = fields.Length("Pitch diameter it stands for")
    standing = fields.OneOf("Where the part stands", STANDINGS)
    part = fields.OneOf("What becomes of a part that reads so", ("good", "rework", "scrap"))
    radius_offset_change = fields.Number(
        "To add to the cutter's radius offset, signed; null where it would be more than a tenth of "
        "the pitch, which is no correction", nullable=True,
    )  # fmt: skip
    words = fields.Text("What to do, in words", longest=200)


class CorrectionTableReply(fields.Schema):
    """Rows from one tolerance below the limits to one above."""

    designation = fields.Text("The thread in its canonical spelling")
    unit = fields.Unit("Unit of every length here")
    wire = _wire()
    rows = fields.ListOf(fields.Nested(CorrectionRowReply, "One row"), "Rows by rising reading")


class NarrowAsk(GaugedThreadQuery):
    """Several measurements of one pitch diameter."""

    measurements = fields.ListOf(
        fields.Nested(MeasuredSizeAsk, "One measurement"), "Measurements", fewest=1, most=50
    )


class NarrowReply(fields.Schema):
    """Where the pitch diameter lies when every measurement holds."""

    unit = fields.Unit("Unit of every length here")
    measured = fields.Nested(MeasuredReply, "Common part of all ranges")
    verdict = fields.Nested(PitchVerdictReply, "Where the part stands")


class FlankAngleAsk(fields.Schema):
    """One thread measured over two sizes of wire."""

    unit = fields.Unit()
    pitch = fields.Length("Pitch", least=0.05, greatest=60.0)
    starts = fields.Count("Starts", least=1, greatest=40, default=1)
    side = fields.OneOf("External or internal", SIDES)
    method = _method()
    readings = fields.ListOf(
        fields.Length("What the gauge reads"), "Both readings", fewest=2, most=2
    )
    wires = fields.ListOf(_wire(), "Both wire diameters, in the same order", fewest=2, most=2)


class FlankAngleReply(fields.Schema):
    """The flank angle at which both readings agree."""

    unit = fields.Unit("Unit of every length here")
    flank_angle = fields.Angle("From a plane square to the axis to each flank, taken as equal")
    pitch_diameter = fields.Length("Pitch diameter both readings then give")


class GaugeReply(fields.Schema):
    """One go or no-go gauge, without the gauge maker's tolerance."""

    kind = fields.OneOf("Kind of gauge", ("thread ring", "thread plug", "plain ring", "plain plug"))
    duty = fields.OneOf("Whether it must go", ("go", "no-go"))
    name = fields.Text("What to take out of the drawer: duty, kind, thread, hand where it is left")
    pitch_diameter = fields.Length("Pitch diameter of a thread gauge", nullable=True)
    crest_diameter = fields.Length(
        "Its crest: minor diameter of a ring, major of a plug; null where none is stated",
        nullable=True,
    )
    plain_diameter = fields.Length("Diameter of a plain gauge", nullable=True)
    checks = fields.Text("What it checks", longest=300)
    sources = _sources()


class GaugesReply(fields.Schema):
    """The gauges that accept a thread inside its limits."""

    designation = fields.Text("The thread in its canonical spelling")
    unit = fields.Unit("Unit of every length here")
    gauges = fields.ListOf(fields.Nested(GaugeReply, "One gauge"), "Gauges")
