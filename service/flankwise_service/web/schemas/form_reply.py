"""Schemas of the subject form: what is replied."""

from __future__ import annotations

from flankwise_service.web import fields
from flankwise_service.web.schemas.form import MOST_POINTS_ASKED
from flankwise_service.web.schemas.threads import SIDES


class FlankAsCutReply(fields.Schema):
    """One flank of the groove, fitted by a straight line."""

    angle = fields.Angle("Of the fitted line, against a plane square to the axis")
    nominal_angle = fields.Angle("The thread's own")
    angle_error = fields.Angle("angle less nominal_angle")
    form_deviation = fields.Number(
        "Span, square to the flank, about a nominal flank through its pitch point"
    )
    straightness = fields.Number("Span, square to the flank, about its own fitted line")
    overcut = fields.Number(
        "How much farther along the axis it lies than the tooth alone would put it, at the pitch"
        " line"
    )
    begin_radius = fields.Length("The fit runs from this radius")
    end_radius = fields.Length("to this")
    cut_by_flank = fields.Flag(
        "False where the lead is so coarse that the tooth's corner cuts the wall; the fit then"
        " covers the middle half of the depth"
    )


class ToleranceUseReply(fields.Schema):
    """What the form takes of the pitch diameter's tolerance, in percent of it."""

    tolerance = fields.Length("Of the pitch diameter")
    used_by_overcut = fields.Number("Percent: change of pitch diameter by the overcut, uncorrected")
    used_by_form = fields.Number("Percent: what no correction of the radius takes back")
    position = fields.Number("0 with the pitch diameter at its least limit, 100 at its greatest")
    pitch_diameter_inside = fields.Flag("Whether it is inside its limits")
    functional_diameter_inside = fields.Flag("Whether the functional diameter is")


class GrooveAsCutReply(fields.Schema):
    """The axial section of one groove as cut, and its measures."""

    side = fields.OneOf("External or internal", SIDES)
    pitch = fields.Length("Pitch")
    lead = fields.Length("Lead")
    taper = fields.Number("Change of diameter for one unit of rise in Z")
    radius = fields.ListOf(fields.Length("Radius"), "Radii, rising", most=MOST_POINTS_ASKED)
    upper_edge = fields.ListOf(
        fields.Length("Z"), "Z of the groove's upper edge at each radius", most=MOST_POINTS_ASKED
    )
    lower_edge = fields.ListOf(fields.Length("Z"), "Z of its lower edge", most=MOST_POINTS_ASKED)
    pitch_diameter = fields.Length(
        "Where groove and ridge are equally wide; for a taper thread at Z = 0"
    )
    triangle_pitch_diameter = fields.Length("Where the tooth alone, without helix, would put it")
    overcut_effect = fields.Number("pitch_diameter less triangle_pitch_diameter")
    functional_diameter = fields.Length(
        "Pitch diameter of the perfect mating thread that just enters, over the fitted flanks"
    )
    functional_effect = fields.Number("functional_diameter less pitch_diameter")
    major_diameter = fields.Length("Major diameter as cut")
    minor_diameter = fields.Length("Minor diameter as cut")
    root_width = fields.Length("Flat at the bottom of the groove")
    root_radius = fields.Length("Least radius of the fillet between root and flank")
    crest_width = fields.Length("Width of the crest left standing")
    crest_left_by = fields.OneOf(
        "What the crest is: the blank, cut back by the tooth's body, or an edge where grooves meet",
        ("blank", "tooth body", "sharp"),
    )
    upper_flank = fields.Nested(FlankAsCutReply, "Flank at the groove's upper edge; it faces -Z")
    lower_flank = fields.Nested(FlankAsCutReply, "Flank at its lower edge; it faces +Z")
    tolerance_use = fields.Nested(
        ToleranceUseReply, "Shares of the tolerance; null without limits", nullable=True
    )


class FormSectionReply(fields.Schema):
    """The groove as cut, and what first order alone would have said."""

    unit = fields.Unit("Unit of every length here")
    section = fields.Nested(GrooveAsCutReply, "The groove as cut")
    overcut_effect_first_order = fields.Number(
        "(lead / 2 pi)^2 rho / (tan^2 a  r Rc), signed: the formula for the back of a drawing; null"
        " where a flank is square to the axis",
        nullable=True,
    )
    diameter_per_depth = fields.Number(
        "Change of pitch diameter per unit of depth; 2 for a plain triangle"
    )
    pitch_spread = fields.Number("How far rows out of step put grooves apart along the axis")


class RadiusCorrectionReply(fields.Schema):
    """The centre path that lands the pitch diameter on its aim."""

    aim = fields.Length("Pitch diameter aimed at")
    centre_radius = fields.Length("Radius of the centre path, from the form really cut")
    triangle_centre_radius = fields.Length("What the nominal triangle would have asked for")
    change = fields.Number("centre_radius less triangle_centre_radius")
    pitch_diameter_without = fields.Length("What the triangle's radius would really cut")
    error_without = fields.Number("pitch_diameter_without less aim")
    root_diameter = fields.Length("Diameter at the bottom of the groove, as cut")


class TiltReply(fields.Schema):
    """The same path cut upright, and with the axis tilted to the lead angle."""

    lead_angle = fields.Angle(
        "At the pitch line: the tilt that puts the tooth square to its groove"
    )
    tilt = fields.Angle("Tilt taken")
    pitch_diameter_upright = fields.Length("Pitch diameter with the axis upright")
    pitch_diameter_tilted = fields.Length("Pitch diameter with the axis tilted")
    overcut_upright = fields.Number("Mean overcut of a flank, upright")
    overcut_tilted = fields.Number("Mean overcut of a flank, tilted")
    cost_of_no_tilt = fields.Number("pitch_diameter_upright less pitch_diameter_tilted")


class ConditionReply(fields.Schema):
    """Pitch diameter with the cutter as it runs, against a true and sharp one on the same path."""

    pitch_diameter = fields.Length("Of the true and sharp cutter")
    pitch_diameter_least = fields.Length("With runout and wear, the runout between two teeth")
    pitch_diameter_greatest = fields.Length("With runout and wear, the runout on a tooth")
    by_runout_least = fields.Number("Change by the runout alone, signed: least")
    by_runout_greatest = fields.Number("Change by the runout alone, signed: greatest")
    by_wear = fields.Number("Change by the wear alone, signed")
    deeper_least = fields.Number("How much deeper the highest tooth cuts: least")
    deeper_greatest = fields.Number("How much deeper the highest tooth cuts: greatest")


class FormCorrectionReply(fields.Schema):
    """The radius to make the path with, the groove it then leaves, and what else moves it."""

    designation = fields.Text("The thread in its canonical spelling")
    unit = fields.Unit("Unit of every length here")
    crest_diameter = fields.Length("Of the hole or blank taken")
    correction = fields.Nested(RadiusCorrectionReply, "The centre path")
    section = fields.Nested(GrooveAsCutReply, "The groove it leaves")
    diameter_per_depth = fields.Number("Change of pitch diameter per unit of depth")
    condition = fields.Nested(ConditionReply, "What runout and wear do to it")
    tilt = fields.Nested(
        TiltReply, "What not tilting the cutter costs; null for a taper thread", nullable=True
    )


class RankedCutterReply(fields.Schema):
    """One cutter, and how it would do."""

    place = fields.Count("1 is best")
    cutter_index = fields.Count("Its place in the request, from 0")
    name = fields.Text("What the shop calls it")
    diameter = fields.Length("Over the teeth")
    will_do = fields.Flag("Whether it will do")
    against = fields.ListOf(
        fields.Text("One reason", longest=400), "Why not, each with its figures"
    )
    correction = fields.Nested(
        RadiusCorrectionReply, "Its centre path; null where it has none", nullable=True
    )
    used_by_overcut = fields.Number("Percent of the tolerance, uncorrected", nullable=True)
    used_by_form = fields.Number("Percent that no correction takes back", nullable=True)
    functional_diameter = fields.Length("As cut on its corrected path", nullable=True)
    root_radius = fields.Length("Fillet at the root", nullable=True)
    crest_width = fields.Length("Crest left standing", nullable=True)


class LargestCutterReply(fields.Schema):
    """The greatest cutter diameter, by each of three measures; the least of them rules."""

    diameter = fields.Length("Greatest diameter; 0 where no cutter would do")
    limited_by = fields.OneOf("What limits it", ("overcut", "major diameter", "hole"))
    share_of_hole = fields.Number("diameter over the hole's")
    by_overcut = fields.Length("By the share of the tolerance that the overcut may take")
    by_major_diameter = fields.Length("By the least major diameter, once corrected")
    by_hole = fields.Length("By the hole less its clearance")


class TrendRowReply(fields.Schema):
    """The greatest cutter for a neighbouring thread of the same profile and class."""

    pitch = fields.Length("Pitch")
    pitch_diameter = fields.Length("Least pitch diameter")
    pitch_diameter_tolerance = fields.Length("Its tolerance, scaled as ISO 965-1 does")
    diameter = fields.Length("Greatest cutter diameter; 0 where none would do")
    share_of_hole = fields.Number("diameter over the hole's")
    limited_by = fields.OneOf("What limits it", ("overcut", "major diameter", "hole"))


class FormCuttersReply(fields.Schema):
    """Cutters in the order a shop would reach for them, and the greatest there may be."""

    designation = fields.Text("The thread in its canonical spelling")
    unit = fields.Unit("Unit of every length here")
    crest_diameter = fields.Length("Of the hole or blank taken")
    ranking = fields.ListOf(fields.Nested(RankedCutterReply, "One cutter"), "Best first")
    largest = fields.Nested(
        LargestCutterReply,
        "Greatest cutter for this hole with the best cutter's tip; null for external threads",
        nullable=True,
    )
    trend = fields.ListOf(
        fields.Nested(TrendRowReply, "One neighbouring thread"),
        "How the greatest cutter moves with pitch and diameter; empty for external threads",
    )


class FormOffsetReply(fields.Schema):
    """The radius offset to set next."""

    unit = fields.Unit("Unit of every length here")
    radius_offset = fields.Number("Radius offset to set")
    change = fields.Number("Against the last measurement's; minus cuts deeper")
    diameter_offset_change = fields.Number("The same where the control keeps the diameter")
    size_expected = fields.Length("Size it should bring")
    uncertainty = fields.Length("Standard uncertainty of that size")
    gain = fields.Number("How much of an offset's change the machine turns into size; 1 is ideal")
    gain_uncertainty = fields.Number("Standard uncertainty of the gain")
    diameter_per_depth = fields.Number("Change of size per unit of depth taken")
    words = fields.Text("What to do, in words", longest=200)
