"""Schemas of the subject path."""

from __future__ import annotations

from flankwise_service.core.path.request import ENTRIES
from flankwise_service.web import fields
from flankwise_service.web.schemas.common import PointReply, SegmentReply
from flankwise_service.web.schemas.plan_reply import PathTotalsReply
from flankwise_service.web.schemas.program import MOST_SEGMENTS, SENSES, PathSegmentAsk
from flankwise_service.web.schemas.tools import CutterAsk

SIDES = ("external", "internal")
MILLINGS = ("climb", "conventional")
TOOL_PARTS = ("teeth", "neck", "shank", "holder")
STOCK_PARTS = ("boss", "shoulder", "hole wall", "hole bottom")


def _centre() -> fields.ListOf:
    return fields.ListOf(
        fields.Length("Coordinate", least=-1e5, greatest=1e5),
        "Centre, X and Y", fewest=2, most=2, default=lambda: [0.0, 0.0],
    )  # fmt: skip


def _clearance_height() -> fields.Length:
    return fields.Length(
        "Height of the tool's tip above the face where it may move freely", least=0.1, greatest=1000
    )


def _greatest_sweep() -> fields.Count:
    return fields.Count(
        "Greatest angle of one arc, degrees: 90, 180 or 360", least=90, greatest=360, default=360
    )


def _chord_tolerance() -> fields.Length:
    return fields.Length(
        "Given: straight lines instead of arcs, each within this of the true curve",
        least=0.0001, greatest=1, default=None,
    )  # fmt: skip


def _feed(description: str, **rest: object) -> fields.Length:
    return fields.Length(description, least=0.01, greatest=1e6, **rest)


class RadialPassAsk(fields.Schema):
    """One radial pass over the whole thread. A spring pass repeats the radius before it."""

    radius = fields.Length(
        "Radius of the centre path; for a taper thread where it crosses the face",
        least=0.001, greatest=2000,
    )  # fmt: skip
    feed = _feed("Feed along the centre path, per minute (see cutting_feed)")
    lead_feed = _feed(
        "Feed on the lead-in and lead-out arcs; left out, what keeps the feed at the cutting edge",
        default=None,
    )


class _Helix(fields.Schema):
    side = fields.OneOf("External or internal thread", SIDES)
    hand = fields.OneOf("Hand of the thread", ("right", "left"), default="right")
    milling = fields.OneOf(
        "Climb or conventional; the sense and the motion along Z follow from it", MILLINGS,
        default="climb",
    )  # fmt: skip
    pitch = fields.Length("Pitch", least=0.01, greatest=100)
    length = fields.Length(
        "Length of full thread, from the face to the middle of the last groove",
        least=0.01, greatest=2000,
    )  # fmt: skip
    blank_diameter = fields.Length(
        "Diameter of the boss (external) or hole (internal) before threading",
        least=0.1, greatest=4000,
    )  # fmt: skip
    cutter = fields.Nested(CutterAsk, "The thread mill")
    passes = fields.ListOf(
        fields.Nested(RadialPassAsk, "One pass"), "Radial passes, in order", fewest=1, most=200
    )
    clearance = fields.Length(
        "Radial gap between cutter and blank wherever the path enters or leaves", least=0.001,
        greatest=100,
    )  # fmt: skip
    clearance_height = _clearance_height()
    starts = fields.Count("Starts of the thread", least=1, greatest=100, default=1)
    centre = _centre()
    start_angle = fields.Angle(
        "Where the groove of the first start crosses the face, counter-clockwise from +X",
        least=-360, default=0.0,
    )  # fmt: skip
    turns_above_face = fields.Number(
        "Turns run above the face; left out: until the tooth just leaves the part",
        least=0, greatest=1000, default=None,
    )  # fmt: skip
    turns_below_length = fields.Number(
        "Turns run beyond the length, where there is room", least=0, greatest=1000, default=0.0
    )
    relief_width = fields.Length(
        "Width of a relief groove below the length; the thread runs out into its middle",
        least=0.01, greatest=200, default=None,
    )  # fmt: skip
    lead_in = fields.OneOf("How the cutter comes to the thread", ENTRIES, default="half_arc")
    lead_out = fields.OneOf("How it leaves", ENTRIES, default="half_arc")
    lead_arc_radius = fields.Length(
        "Radius of the lead arcs; left out: half the centre path's (internal), the least that "
        "clears the blank (external)", least=0.001, greatest=2000, default=None,
    )  # fmt: skip
    straight_lead = fields.Length(
        "Length of a straight piece before each lead-in arc and after each lead-out arc, in which "
        "a control can switch its radius offset", least=0, greatest=500, default=0.0,
    )  # fmt: skip
    greatest_sweep = _greatest_sweep()
    overlap = fields.Angle(
        "How far past a full turn each step of a multi-row cutter goes", default=10.0
    )
    taper = fields.Number(
        "Change of diameter per length of a taper thread, 0.0625 for 1:16; 0 for a straight one",
        least=0, greatest=0.5, default=0.0,
    )  # fmt: skip
    radial_tolerance = fields.Length(
        "Greatest radial departure of a taper thread's arcs from its cone; needed with taper",
        least=0.0001, greatest=1, default=None,
    )  # fmt: skip
    chord_tolerance = _chord_tolerance()
    plunge_feed = _feed("Given: the way down to the lead-in is fed, not rapid", default=None)
    blunt_start = fields.Flag("Mill the thread's thin first turn away at the face", default=False)


class HelixAsk(_Helix):
    """A thread to be milled."""

    unit = fields.Unit()


class HelixPartAsk(_Helix):
    """A thread to be milled, its lengths in the unit of the request around it."""


class HelixReply(fields.Schema):
    """The path of a thread."""

    unit = fields.Unit("Unit of all lengths")
    lead = fields.Length("Starts times pitch")
    lead_angle = fields.Angle("Of the centre path on the last pass")
    sense = fields.OneOf("Sense of turning seen from +Z", SENSES)
    motion = fields.OneOf("Motion along Z while cutting", ("upward", "downward"))
    thread_turns = fields.Number("Turns of thread: length over lead")
    run_in_turns = fields.Number("Turns before the length of full thread, in the order of time")
    run_out_turns = fields.Number("Turns after it")
    runs_in_one_pass = fields.Count("Unbroken cuts in one radial pass")
    turns_in_one_run = fields.Number("Turns of each")
    total_turns = fields.Number("Over all passes, starts and steps")
    blunt_start_steps = fields.Count("Steps of the blunt start, for each start")
    lead_in_gouge = fields.Length("How deep the lead-in cuts into a flank; 0: not at all")
    lead_out_gouge = fields.Length("How deep the lead-out does")
    segments = fields.ListOf(fields.Nested(SegmentReply, "One segment"), "The path, in order")
    totals = fields.Nested(PathTotalsReply, "What it amounts to")


class _Milled(fields.Schema):
    diameter = fields.Length("Finished diameter", least=0.1, greatest=4000)
    depth = fields.Length("From the face down to shoulder or bottom", least=0.01, greatest=2000)
    cutter_diameter = fields.Length("Diameter of the end mill", least=0.1, greatest=500)
    edge_feed = _feed("Feed at the cutting edge, per minute; each arc gets its own at the centre")
    clearance_height = _clearance_height()
    milling = fields.OneOf("Climb or conventional", MILLINGS, default="climb")
    width_per_pass = fields.Length(
        "Greatest radial width of cut; left out: half the cutter's diameter",
        least=0.001, greatest=500, default=None,
    )  # fmt: skip
    finish_allowance = fields.Length(
        "Left all round for a last round", least=0, greatest=50, default=0.0
    )
    centre = _centre()
    greatest_sweep = _greatest_sweep()
    chord_tolerance = _chord_tolerance()
    plunge_feed = _feed("Given: the way down is fed, not rapid", default=None)


class BossMillingAsk(_Milled):
    """A boss to be milled out of bar."""

    stock_diameter = fields.Length(
        "Diameter of the circle around the stock; of a hexagon, its size across corners",
        least=0.1, greatest=4000,
    )  # fmt: skip
    depth_per_level = fields.Length("Greatest depth of one level", least=0.01, greatest=500)
    clearance = fields.Length(
        "Radial gap between cutter and stock where the path enters and leaves",
        least=0.001, greatest=100,
    )  # fmt: skip
    motion = fields.OneOf(
        "Going down evenly round the boss, or a full turn at each depth",
        ("helical", "level"), default="helical",
    )  # fmt: skip


class BoreMillingAsk(_Milled):
    """A hole to be bored by a helix of the end mill."""

    depth_per_turn = fields.Length("Greatest depth of one turn", least=0.001, greatest=500)
    clearance = fields.Length(
        "Height above the face where each round begins", least=0.001, greatest=100
    )
    pilot_diameter = fields.Length(
        "Diameter of a hole that is there to full depth; 0: solid", least=0, greatest=4000,
        default=0.0,
    )  # fmt: skip
    greatest_ramp_angle = fields.Angle(
        "Steepest way down the end mill stands", least=0.01, greatest=90, default=None
    )


class BlankPathAsk(fields.Schema):
    """The blank to be milled: give boss or bore, one of them."""

    unit = fields.Unit()
    boss = fields.Nested(BossMillingAsk, "A boss, for an external thread", default=None)
    bore = fields.Nested(BoreMillingAsk, "A hole, for an internal thread", default=None)


class BlankPathReply(fields.Schema):
    """The path that mills a blank; places are of the end mill's axis at its end face."""

    unit = fields.Unit("Unit of all lengths")
    radii = fields.ListOf(
        fields.Length("Radius"), "Radius of boss or hole after each round, the finished one last"
    )
    ramp_angle = fields.Angle(
        "Steepest way down of the tool centre, null for a boss", nullable=True
    )
    segments = fields.ListOf(fields.Nested(SegmentReply, "One segment"), "The path, in order")
    totals = fields.Nested(PathTotalsReply, "What it amounts to")


class PathStockAsk(fields.Schema):
    """The stock around the thread, its face at Z 0."""

    side = fields.OneOf("A boss (external) or a hole (internal)", SIDES)
    diameter = fields.Length("Of the boss or hole before threading", least=0.1, greatest=4000)
    depth = fields.Length(
        "Down to the shoulder or the hole's bottom; left out: there is none",
        least=0.01, greatest=2000, default=None,
    )  # fmt: skip
    across_flats = fields.Length(
        "Hexagon bar, its size across flats", least=0.1, greatest=4000, default=None
    )
    flat_angle = fields.Angle(
        "Direction square to a flat, counter-clockwise from +X", least=-360, default=0.0
    )
    outside_diameter = fields.Length(
        "Round bar, its diameter; with neither the stock has no end", least=0.1, greatest=4000,
        default=None,
    )  # fmt: skip
    centre = _centre()


class PathCollisionAsk(fields.Schema):
    """A path, as segments or as the thread it mills, the tool and the stock."""

    unit = fields.Unit()
    helix = fields.Nested(HelixPartAsk, "The thread whose path is looked at", default=None)
    segments = fields.ListOf(
        fields.Nested(PathSegmentAsk, "One segment"), "Or the path itself",
        fewest=1, most=MOST_SEGMENTS, default=None,
    )  # fmt: skip
    cutter = fields.Nested(CutterAsk, "The tool, for a path of segments", default=None)
    stock = fields.Nested(PathStockAsk, "The stock")
    cut = fields.OneOf(
        "What the teeth may meet while they cut: the thread's boss or hole wall, or all of the "
        "blank", ("thread", "blank"), default="thread",
    )  # fmt: skip
    least_clearance = fields.Length(
        "Clearance that is wanted everywhere", least=0, greatest=500, default=0.0
    )


class ApproachReply(fields.Schema):
    """The least clearance of one part of the tool from one part of the stock."""

    clearance = fields.Length("Least distance; negative: the tool is in the stock by that much")
    tool = fields.OneOf("Part of the tool", TOOL_PARTS)
    stock = fields.OneOf("Part of the stock", STOCK_PARTS)
    segment = fields.Count("Which segment of the path, from 0")
    place = fields.Nested(PointReply, "Where the lowest tooth is then")


class PathCollisionReply(fields.Schema):
    """How near the tool comes to the stock, over the whole path."""

    unit = fields.Unit("Unit of all lengths")
    clear = fields.Flag("Whether every clearance is at least what is wanted")
    least_clearance = fields.Length("What is wanted")
    approaches = fields.ListOf(
        fields.Nested(ApproachReply, "One pair"), "Every pair that can meet, the nearest first"
    )
    left_out = fields.ListOf(
        fields.OneOf("Part", TOOL_PARTS), "Parts of the tool whose size isn't given: not looked at"
    )
