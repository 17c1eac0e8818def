"""Schemas of the subject form: what is asked."""

from __future__ import annotations

from flankwise_service.core.form.ranking import MOST_CUTTERS
from flankwise_service.core.form.section import LEAST_POINTS
from flankwise_service.web import fields
from flankwise_service.web.schemas.threads import SIDES, designation_field
from flankwise_service.web.schemas.tools import CutterAsk, ToothAsk

MOST_POINTS_ASKED = 5000
MOST_PASSES_ASKED = 200


class PassAsk(fields.Schema):
    """One pass of the tooth through the groove."""

    centre_radius = fields.Length(
        "From the thread's axis to the cutter's; for a taper thread at the middle of the groove",
        least=0.001,
        greatest=1000,
    )
    shift = fields.Length(
        "How far the tooth's middle stands above the groove's",
        least=-100,
        greatest=100,
        default=0.0,
    )


class SpanAsk(fields.Schema):
    """Least and greatest limit of a diameter."""

    min = fields.Length("Least limit", least=0.01, greatest=2000)
    max = fields.Length("Greatest limit", least=0.01, greatest=2000)


class _CutAsk(fields.Schema):
    unit = fields.Unit()
    side = fields.OneOf("External or internal", SIDES)
    pitch = fields.Length("Pitch", least=0.05, greatest=60, example=1.25)
    starts = fields.Count("Starts", least=1, greatest=40, default=1)
    taper = fields.Number(
        "Change of diameter for one unit of rise in Z: +0.0625 for an NPT hole seen from its face,"
        " -0.0625 for an NPT nipple with its free end up; 0 for a parallel thread",
        least=-0.25,
        greatest=0.25,
        default=0.0,
    )
    cutter_diameter = fields.Length("Diameter over the teeth", least=0.1, greatest=500)
    tooth = fields.Nested(ToothAsk, "The tooth's profile")


class FormSectionAsk(_CutAsk):
    """A groove: the tooth that cuts it, its passes, and the blank."""

    passes = fields.ListOf(
        fields.Nested(PassAsk, "One pass"), "All passes", fewest=1, most=MOST_PASSES_ASKED
    )
    crest_diameter = fields.Length(
        "Of the hole before threading, or of the turned blank", least=0.01, greatest=2000
    )
    flank_angle_upper = fields.Angle(
        "The thread's own flank angle at the groove's upper edge; left out: the tooth's",
        least=0,
        greatest=80,
        default=None,
    )
    flank_angle_lower = fields.Angle(
        "The same at the lower edge", least=0, greatest=80, default=None
    )
    pitch_diameter = fields.Nested(
        SpanAsk, "Limits of the pitch diameter; left out: no shares are told", default=None
    )
    rows = fields.Count("Rows of teeth along the axis", least=1, greatest=200, default=1)
    row_pitch = fields.Length(
        "Axial distance of the rows; left out: the pitch", least=0.05, greatest=60, default=None
    )
    rows_through = fields.Count(
        "Rows that pass through one groove: 1 for one turn", least=1, greatest=200, default=1
    )
    points = fields.Count(
        "How many radii to give", least=LEAST_POINTS, greatest=MOST_POINTS_ASKED, default=200
    )


class FormThreadAsk(fields.Schema):
    """A standard thread, by its designation."""

    unit = fields.Unit()
    designation = designation_field()
    side = fields.OneOf(
        "External or internal; needed where the designation doesn't say it", SIDES, default=None
    )
    crest_diameter = fields.Length(
        "Of the hole before threading, or of the turned blank; left out: the middle of its limits",
        least=0.01,
        greatest=2000,
        default=None,
    )
    aim = fields.Fraction(
        "Where in its tolerance the pitch diameter is aimed: 0 least, 1 greatest", default=0.5
    )


class FormCorrectionAsk(FormThreadAsk):
    """A standard thread and the cutter that is to cut it."""

    cutter = fields.Nested(CutterAsk, "The thread mill")
    runout = fields.Length(
        "Spindle runout at the teeth, total indicator reading", least=0, greatest=1, default=0.0
    )
    radial_wear = fields.Length(
        "How far the teeth have worn back", least=0, greatest=1, default=0.0
    )


class FormCuttersAsk(FormThreadAsk):
    """A standard thread and the cutters at hand."""

    cutters = fields.ListOf(
        fields.Nested(CutterAsk, "One thread mill"), "Cutters at hand", fewest=1, most=MOST_CUTTERS
    )
    share = fields.Number(
        "Part of the pitch diameter's tolerance that the overcut may take before correction",
        least=0.001,
        greatest=1,
        default=0.25,
    )
    clearance = fields.Length(
        "Radial clearance wanted between cutter and hole, and between neck and crest",
        least=0,
        greatest=100,
        default=0.0,
    )


class OffsetMeasurementAsk(fields.Schema):
    """A size, and the radius offset that was in force when it was cut."""

    size = fields.Length(
        "Pitch diameter, or size over the same wires: both move alike", least=0.01, greatest=2000
    )
    radius_offset = fields.Length(
        "Radius offset at the control when it was cut", least=-50, greatest=50, default=0.0
    )


class FormOffsetAsk(fields.Schema):
    """Sizes measured so far, and the size wanted."""

    unit = fields.Unit()
    side = fields.OneOf("External or internal", SIDES)
    pitch = fields.Length("Pitch", least=0.05, greatest=60)
    aim = fields.Length("Size wanted, measured the same way", least=0.01, greatest=2000)
    measurements = fields.ListOf(
        fields.Nested(OffsetMeasurementAsk, "One measurement"),
        "All measurements, oldest first",
        fewest=1,
        most=100,
    )
    uncertainty = fields.Length(
        "Standard uncertainty of one measurement", least=0.00001, greatest=1
    )
    diameter_per_depth = fields.Number(
        "Change of size per unit of depth, as the form tells it; 2 for a plain triangle",
        least=0.5,
        greatest=3.0,
        default=2.0,
    )
