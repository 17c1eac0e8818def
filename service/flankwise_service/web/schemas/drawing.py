"""Schemas of the subject drawing."""

from __future__ import annotations

from flankwise_service.core.drawing.section import MOST_POINTS
from flankwise_service.core.program.setup import WORK_OFFSETS
from flankwise_service.web import fields
from flankwise_service.web.schemas.program import MOST_SEGMENTS, PathSegmentAsk

_EDGE = fields.Length("Z", least=-1000, greatest=1000)


class SectionCutAsk(fields.Schema):
    """The groove as cut, as the form replies give it."""

    radius = fields.ListOf(
        fields.Length("Radius", least=0, greatest=2000), "Radii", fewest=2, most=MOST_POINTS
    )
    lower_edge = fields.ListOf(
        _EDGE, "Z of the groove's lower edge at each radius", fewest=2, most=MOST_POINTS
    )
    upper_edge = fields.ListOf(
        _EDGE, "Z of the groove's upper edge at each radius", fewest=2, most=MOST_POINTS
    )


class DrawingSectionAsk(fields.Schema):
    """Which thread to draw in section, and what was cut."""

    unit = fields.Unit()
    designation = fields.Text("Thread designation", shortest=1, longest=60, example="7/8-14 UNF-2A")
    side = fields.OneOf(
        "External or internal; needed where the designation doesn't say it",
        ("external", "internal"), default=None,
    )  # fmt: skip
    edition = fields.Text("Edition of the standard; left out: the newest", longest=60, default=None)
    cut = fields.Nested(SectionCutAsk, "The groove as cut", default=None)
    pitch_diameter_cut = fields.Length(
        "Pitch diameter as cut, to write beside the limits", least=0.05, greatest=2000, default=None
    )


class _SceneAsk(fields.Schema):
    unit = fields.Unit()
    side = fields.OneOf("External or internal thread", ("external", "internal"))
    diameter = fields.Length("Of the boss or hole before the thread", least=0.05, greatest=2000)
    length = fields.Length("Of the thread", least=0.05, greatest=2000)
    cutter_diameter = fields.Length("Of the cutter", least=0.05, greatest=2000, default=None)
    across_flats = fields.Length(
        "Of the hexagon bar; left out: round", least=0.05, greatest=2000, default=None
    )
    depth = fields.Length(
        "Of the boss down to its shoulder, or of the hole; left out: as long as the thread",
        least=0.05, greatest=2000, default=None,
    )  # fmt: skip
    name = fields.Text("Title of the drawing", longest=60, default="")


class _PlacedSceneAsk(_SceneAsk):
    bar_diameter = fields.Length("Of a round bar", least=0.05, greatest=2000, default=None)
    centre = fields.ListOf(
        fields.Length("Coordinate", least=-2000, greatest=2000), "X and Y of the thread's axis",
        fewest=2, most=2, default=lambda: [0.0, 0.0],
    )  # fmt: skip


class DrawingPathAsk(_PlacedSceneAsk):
    """Part, cutter and path to draw."""

    segments = fields.ListOf(
        fields.Nested(PathSegmentAsk, "One segment"), "The path", fewest=1, most=MOST_SEGMENTS
    )


class DrawingHexagonAsk(_SceneAsk):
    """The hexagon bar to draw."""

    across_flats = fields.Length("Of the hexagon bar", least=0.05, greatest=2000)
    thread_diameter = fields.Length(
        "For the thread's thin lines: minor diameter of an external, major diameter of an internal "
        "thread", least=0.05, greatest=2000, default=None,
    )  # fmt: skip


class DrawingSetupAsk(_PlacedSceneAsk):
    """The setup to draw."""

    safe_height = fields.Length("Safe height of the tool's tip", least=0.1, greatest=2000)
    clearance_height = fields.Length("Clearance height of the tool's tip", least=0, greatest=2000)
    work_offset = fields.OneOf("Work offset", WORK_OFFSETS, default="G54")
    tip_to_tooth = fields.Length(
        "From the tool's tip up to the middle of its lowest tooth", least=0, greatest=200,
        default=0.0,
    )  # fmt: skip
    tool_number = fields.Count("Tool number", least=1, greatest=9999, default=1)
