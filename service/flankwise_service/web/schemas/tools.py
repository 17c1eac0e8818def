"""The thread mill as a request gives it; shared by path, form and plan."""

from __future__ import annotations

from flankwise_service.web import fields

SUBSTANCES = ("carbide", "high speed steel")


class ToothAsk(fields.Schema):
    """One tooth's axial profile, a solid of revolution when it turns."""

    flank_angle_upper = fields.Angle(
        "Angle between a plane square to the axis and the flank on the shank side, degrees; 30 for "
        "a 60 degree thread",
        least=1,
        greatest=80,
        example=30,
    )
    flank_angle_lower = fields.Angle(
        "The same for the flank on the tip side", least=1, greatest=80, example=30
    )
    tip_width = fields.Length(
        "Axial width of the flat at the tooth's tip, before rounding", least=0, greatest=50
    )
    depth = fields.Length("Radial height of the tooth from its tip", least=0.001, greatest=100)
    tip_radius = fields.Length(
        "Radius between tip and flanks, 0 for sharp corners", least=0, greatest=50, default=0.0
    )


class _Body(fields.Schema):
    diameter = fields.Length(
        "Cutting diameter over the teeth", least=0.1, greatest=500, example=0.5
    )
    flutes = fields.Count("Cutting edges round the tool", least=1, greatest=100, example=4)
    rows = fields.Count(
        "Rows of teeth along the axis, 1 for a single-tooth cutter",
        least=1,
        greatest=200,
        default=1,
    )
    row_pitch = fields.Length(
        "Axial distance of the rows; must equal the thread's pitch",
        least=0.01,
        greatest=100,
        default=None,
    )
    row_taper = fields.Number(
        "Change of diameter per length over the rows, 0.0625 for a 1:16 taper cutter",
        least=0,
        greatest=1,
        default=0.0,
    )
    neck_diameter = fields.Length(
        "Greatest diameter between the teeth and the end of the reach, 0 when not known",
        least=0,
        greatest=500,
        default=0.0,
    )
    reach = fields.Length(
        "From the tip up to where the neck ends and the shank begins",
        least=0.01,
        greatest=1000,
        default=None,
    )
    shank_diameter = fields.Length("Shank diameter", least=0.1, greatest=500, default=None)
    overhang = fields.Length(
        "From the tip up to the holder's face", least=0.01, greatest=1000, default=None
    )
    holder_diameter = fields.Length(
        "Greatest diameter of the holder", least=0.1, greatest=1000, default=None
    )
    substance = fields.OneOf("What the cutter is made of", SUBSTANCES, default="carbide")
    least_pitch = fields.Length(
        "Finest pitch the cutter is made for", least=0.01, greatest=100, default=None
    )
    greatest_pitch = fields.Length(
        "Coarsest pitch the cutter is made for", least=0.01, greatest=100, default=None
    )
    number = fields.Count("Tool number", least=1, greatest=9999, default=1)
    name = fields.Text("What the shop calls the tool", longest=40, default="")


class CutterAsk(_Body):
    """A thread mill, with its tooth."""

    tooth = fields.Nested(ToothAsk, "The tooth's profile")
    tip_to_tooth = fields.Length(
        "From the tool's tip, where its length is set, up to the middle of the lowest tooth",
        least=0,
        greatest=200,
        default=0.0,
    )


class CutterForThreadAsk(_Body):
    """A thread mill; without a tooth the plan assumes the thread's own flank angles."""

    tooth = fields.Nested(
        ToothAsk, "The tooth's profile; left out, it is taken from the thread", default=None
    )
    tooth_assumed = fields.Flag(
        "The tooth stated was never measured: a plan took it from the thread, and its own `job` "
        "says so; nothing of it can be checked",
        default=False,
    )
    tip_to_tooth = fields.Length(
        "From the tool's tip, where its length is set, up to the middle of the lowest tooth; left "
        "out, the tooth is taken to be flush with the tip",
        least=0,
        greatest=200,
        default=None,
    )
