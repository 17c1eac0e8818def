"""Schemas of the subject stock."""

from __future__ import annotations

from flankwise_service.core.stock.bars import SHAPES
from flankwise_service.core.stock.drills import SERIES
from flankwise_service.core.stock.hexagon import MEASURES
from flankwise_service.web import fields
from flankwise_service.web.schemas.common import SourceReply
from flankwise_service.web.schemas.threads import SIDES

UNIT_OF_REPLY = "Unit of every length in this reply"


def density_field() -> fields.Number:
    """Return the field for a density."""
    return fields.Number(
        "Density in g/cm3; with it the mass is stated", least=0.5, greatest=25, default=None
    )


def material_field() -> fields.Text:
    """Return the field for a material's designation."""
    return fields.Text(
        "Material by any standard number: EN, UNS, AISI/SAE",
        longest=60,
        default=None,
        example="303",
    )


class HexagonAsk(fields.Schema):
    """A hexagon by exactly one of its measures."""

    unit = fields.Unit()
    across_flats = fields.Length("Across flats", least=0.1, greatest=2000, default=None)
    across_corners = fields.Length("Across sharp corners", least=0.1, greatest=2000, default=None)
    side = fields.Length("Length of one side", least=0.1, greatest=2000, default=None)
    inscribed_radius = fields.Length(
        "Radius to the flats: half the across flats", least=0.1, greatest=2000, default=None
    )
    circumscribed_radius = fields.Length(
        "Radius through the corners: half the across corners",
        least=0.1,
        greatest=2000,
        default=None,
    )
    density_g_per_cm3 = density_field()
    diameter = fields.Length(
        "Diameter of the boss turned from it, or major diameter of the thread within it",
        least=0.1,
        greatest=2000,
        default=None,
    )
    drawn_across_flats = fields.Length(
        "Across flats as measured in the drawing, to see whether it took a wrong turn",
        least=0.1,
        greatest=5000,
        default=None,
    )


class HexagonReply(fields.Schema):
    """Every measure of a regular hexagon with sharp corners."""

    across_flats = fields.Length("Across flats")
    across_corners = fields.Length("Across sharp corners")
    side = fields.Length("Length of one side")
    inscribed_radius = fields.Length("Radius to the flats")
    circumscribed_radius = fields.Length("Radius through the corners")
    area = fields.Number("Area of the section, in the unit squared")
    perimeter = fields.Length("Length round the six sides")


class HexagonReadingReply(fields.Schema):
    """One way to take the number that was given."""

    measure = fields.OneOf("Which measure the number is taken for", MEASURES)
    meaning = fields.Text("What that measure is")
    hexagon = fields.Nested(HexagonReply, "The hexagon it then is")
    intended = fields.Flag("Whether it is the measure that was asked")


class WrongTurnReply(fields.Schema):
    """A hexagon drawn from the wrong measure."""

    wanted = fields.Nested(HexagonReply, "The hexagon wanted")
    drawn = fields.Nested(HexagonReply, "The hexagon drawn")
    drawn_with = fields.OneOf("The measure the number was taken for", MEASURES)
    too_large_across_flats = fields.Number("How much too large it is across flats", least=-1e9)
    detail = fields.Text("What went wrong, in words", longest=400)
    change = fields.Text("What to draw instead", longest=400)


class WrenchReply(fields.Schema):
    """The wrench for a hexagon."""

    size = fields.Length("Size of the wrench")
    name = fields.Text("As the trade writes it")
    unit = fields.Unit("Unit of its size")
    exact = fields.Flag("Whether the hexagon is that standard size")
    slack = fields.Length("Wrench size less across flats")
    source = fields.Nested(SourceReply, "Where the list of sizes comes from")


class BarMassReply(fields.Schema):
    """Mass of bar per length; null in the other unit system."""

    density_g_per_cm3 = fields.Number("Density it was worked out with")
    pounds_per_inch = fields.Number("lb for each inch", nullable=True)
    pounds_per_foot = fields.Number("lb for each foot", nullable=True)
    kilograms_per_metre = fields.Number("kg for each metre", nullable=True)


class HexagonFactsReply(fields.Schema):
    """A hexagon with what a shop asks next."""

    unit = fields.Unit(UNIT_OF_REPLY)
    hexagon = fields.Nested(HexagonReply, "The hexagon")
    readings = fields.ListOf(
        fields.Nested(HexagonReadingReply, "One reading"),
        "The same number taken each way, the one asked first",
    )
    wrong_turn = fields.Nested(
        WrongTurnReply, "How the drawing went wrong, null where it did not", nullable=True
    )
    wrench = fields.Nested(
        WrenchReply, "The wrench, null above the largest standard size", nullable=True
    )
    mass = fields.Nested(BarMassReply, "Mass, null without a density", nullable=True)
    corner_stand_out = fields.Number(
        "How far a corner stands out beyond the diameter, null without one",
        least=-1e9,
        nullable=True,
    )
    wall_to_flats = fields.Number(
        "Wall between the diameter and the flats, null without one", least=-1e9, nullable=True
    )


class BarsQuery(fields.Schema):
    """Which list of bars."""

    unit = fields.Unit("Inch bars or metric bars. It has no default.")
    shape = fields.OneOf("Shape of the bar", SHAPES)


class BarReply(fields.Schema):
    """One standard size of bar."""

    shape = fields.OneOf("Shape", SHAPES)
    size = fields.Length("Across flats of a hexagon, diameter of a round")
    name = fields.Text("As the trade writes it")
    unit = fields.Unit("Unit of its size")
    source = fields.Nested(SourceReply, "Where the size comes from")
    undersize = fields.Length(
        "How far below its size a bar may be, null where it isn't stated", nullable=True
    )
    undersize_source = fields.Nested(
        SourceReply, "Where that comes from, null where it isn't stated", nullable=True
    )


class BarsReply(fields.Schema):
    """A list of bars, smallest first."""

    unit = fields.Unit(UNIT_OF_REPLY)
    shape = fields.OneOf("Shape", SHAPES)
    bars = fields.ListOf(fields.Nested(BarReply, "One bar"), "The bars")


class StockChoiceAsk(fields.Schema):
    """What the bar has to give."""

    unit = fields.Unit()
    diameter = fields.Length(
        "Diameter that has to clean up: of the boss, or the greatest major diameter of a thread "
        "within the bar",
        least=0.1,
        greatest=2000,
    )
    allowance = fields.Length(
        "Radial stock wanted over the diameter, for each side", least=0, greatest=100
    )
    least_wall = fields.Length(
        "Least wall between a thread within the bar and its outside, 0 for a boss",
        least=0,
        greatest=500,
        default=0.0,
    )
    least_across_flats = fields.Length(
        "Least across flats the finished part needs", least=0, greatest=2000, default=0.0
    )
    shapes = fields.ListOf(
        fields.OneOf("A shape", SHAPES),
        "Shapes to look through; left out: both",
        fewest=1,
        most=2,
        default=lambda: list(SHAPES),
    )
    density_g_per_cm3 = density_field()
    material = material_field()
    count = fields.Count("How many of each shape", least=1, greatest=20, default=3)


class BarChoiceReply(fields.Schema):
    """A standard bar that cleans up."""

    bar = fields.Nested(BarReply, "The bar")
    needed = fields.Length("Least size that cleans up")
    cut_per_side = fields.Length("Radial stock over the diameter, at the flats of a hexagon")
    least_cut_per_side = fields.Length("The same with the bar at the bottom of its tolerance")
    across_corners = fields.Length("Across corners of a hexagon, null for round", nullable=True)
    corner_stand_out = fields.Length(
        "How far corners stand out beyond the diameter, null for round", nullable=True
    )
    wrench = fields.Nested(WrenchReply, "Wrench for a hexagon, null for round", nullable=True)
    mass = fields.Nested(BarMassReply, "Mass, null without a density", nullable=True)
    volume_removed_per_length = fields.Number(
        "Area turned to chips beside the diameter, in the unit squared"
    )


class StockChoiceReply(fields.Schema):
    """The bars that clean up, smallest first for each shape."""

    unit = fields.Unit(UNIT_OF_REPLY)
    choices = fields.ListOf(fields.Nested(BarChoiceReply, "One bar"), "The bars")


class BlankDepthAsk(fields.Schema):
    """Where the depth of a blank goes."""

    thread_length = fields.Length("Full thread wanted", least=0.01, greatest=2000, example=0.875)
    half_tooth = fields.Length(
        "What the cutter reaches below the middle of its lowest tooth", least=0, greatest=100
    )
    clearance = fields.Length("Air wanted above the shoulder or bottom", least=0, greatest=100)
    blank_depth = fields.Length("Depth of the blank as milled", least=0, greatest=2000)


class BlankAsk(fields.Schema):
    """A blank by the thread it is for, or by its own limits."""

    unit = fields.Unit()
    designation = fields.Text(
        "Thread the blank is for; its limits set the diameter", longest=60, default=None,
        example="7/8-14 UNF-2A",
    )  # fmt: skip
    side = fields.OneOf(
        "External or internal; needed where the designation doesn't say it", SIDES, default=None
    )
    least = fields.Length("Least diameter of the blank", least=0.1, greatest=2000, default=None)
    greatest = fields.Length(
        "Greatest diameter of the blank", least=0.1, greatest=2000, default=None
    )
    fraction = fields.Fraction(
        "Where to aim between the limits: 0 at the least, 1 at the greatest", default=0.5
    )
    depth = fields.Nested(
        BlankDepthAsk, "The depth to check, where the thread ends at a shoulder", default=None
    )


class AimReply(fields.Schema):
    """A size to cut to, between its limits."""

    diameter = fields.Length("Diameter to cut to")
    least = fields.Length("Least limit")
    greatest = fields.Length("Greatest limit")
    fraction = fields.Fraction("0 at the least limit, 1 at the greatest")
    room_below = fields.Length("Down to the least limit")
    room_above = fields.Length("Up to the greatest limit")


class DepthBudgetReply(fields.Schema):
    """Where the depth of a blank goes."""

    thread_length = fields.Length("Full thread")
    half_tooth = fields.Length("Half a tooth")
    clearance = fields.Length("Clearance")
    needed = fields.Length("Sum of the three: least depth of the blank")
    available = fields.Length("Depth of the blank")
    spare = fields.Number("What is left", least=-1e9)
    missing = fields.Length("What is missing; a blank that lacks depth is refused")


class BlankReply(fields.Schema):
    """The blank before threading."""

    unit = fields.Unit(UNIT_OF_REPLY)
    aim = fields.Nested(AimReply, "Diameter to turn the boss or bore the hole to")
    depth = fields.Nested(DepthBudgetReply, "The axial budget, null when not asked", nullable=True)


class DrillAsk(fields.Schema):
    """A drill by the thread it is for, or by diameter and pitch."""

    unit = fields.Unit()
    designation = fields.Text(
        "Internal thread the hole is for; its minor limits rank the drills",
        longest=60,
        default=None,
        example="1/4-20 UNC-2B",
    )
    side = fields.OneOf(
        "Needed, as internal, where the designation doesn't say it", SIDES, default=None
    )
    major_diameter = fields.Length(
        "Basic major diameter of a 60 degree thread", least=0.1, greatest=500, default=None
    )
    pitch = fields.Length("Its pitch", least=0.05, greatest=50, default=None)
    percent = fields.Number(
        "Percent of thread wanted", least=20, greatest=100, default=75.0, example=75
    )
    series = fields.ListOf(
        fields.OneOf("A list of drills", SERIES),
        "Lists of drills to look through; left out: all",
        fewest=1,
        most=4,
        default=lambda: list(SERIES),
    )
    count = fields.Count("How many drills", least=1, greatest=50, default=5)


class DrillListedReply(fields.Schema):
    """A drill of a standard list."""

    name = fields.Text("As the trade writes it")
    diameter = fields.Length("Its diameter")
    series = fields.OneOf("The list it is of", SERIES)
    source = fields.Nested(SourceReply, "Where the list comes from")


class DrillChoiceReply(fields.Schema):
    """A drill with the percent of thread it leaves."""

    drill = fields.Nested(DrillListedReply, "The drill")
    percent = fields.Number("Percent of thread it leaves")
    off_by = fields.Number("Percent left less percent wanted", least=-1e9)
    inside_limits = fields.Flag(
        "Whether its diameter lies inside the minor limits, null without them", nullable=True
    )


class DrillReply(fields.Schema):
    """Drills for a thread, best first."""

    unit = fields.Unit(UNIT_OF_REPLY)
    hole = fields.Length("Hole diameter that leaves exactly the percent wanted")
    minor_least = fields.Length("Least minor diameter, null without a designation", nullable=True)
    minor_greatest = fields.Length(
        "Greatest minor diameter, null without a designation", nullable=True
    )
    choices = fields.ListOf(fields.Nested(DrillChoiceReply, "One drill"), "The drills")
