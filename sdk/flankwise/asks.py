"""The objects that requests hold, typed. Made by tests/contract/write.py; don't edit."""

from __future__ import annotations

from typing import Literal, TypedDict

__all__ = [
    "BatchAsk",
    "BlankDepthAsk",
    "CutterAsk",
    "MeasuredSizeAsk",
    "MoveAsk",
    "PlaceAsk",
    "TimedSegmentAsk",
    "ToothAsk",
]


class BlankDepthAsk(TypedDict):
    """Where the depth of a blank goes."""

    thread_length: float
    """Full thread wanted"""
    half_tooth: float
    """What the cutter reaches below the middle of its lowest tooth"""
    clearance: float
    """Air wanted above the shoulder or bottom"""
    blank_depth: float
    """Depth of the blank as milled"""


class _ToothAskNeeded(TypedDict):
    """What ToothAsk can't be without."""

    flank_angle_upper: float
    """Angle between a plane square to the axis and the flank on the shank side, degrees; 30 for
    a 60 degree thread
    """
    flank_angle_lower: float
    """The same for the flank on the tip side"""
    tip_width: float
    """Axial width of the flat at the tooth's tip, before rounding"""
    depth: float
    """Radial height of the tooth from its tip"""


class ToothAsk(_ToothAskNeeded, total=False):
    """One tooth's axial profile, a solid of revolution when it turns."""

    tip_radius: float
    """Radius between tip and flanks, 0 for sharp corners"""


class _CutterAskNeeded(TypedDict):
    """What CutterAsk can't be without."""

    diameter: float
    """Cutting diameter over the teeth"""
    flutes: int
    """Cutting edges round the tool"""
    tooth: ToothAsk
    """The tooth's profile"""


class CutterAsk(_CutterAskNeeded, total=False):
    """A thread mill, with its tooth."""

    rows: int
    """Rows of teeth along the axis, 1 for a single-tooth cutter"""
    row_pitch: float | None
    """Axial distance of the rows; must equal the thread's pitch"""
    row_taper: float
    """Change of diameter per length over the rows, 0.0625 for a 1:16 taper cutter"""
    tip_to_tooth: float
    """From the tool's tip, where its length is set, up to the middle of the lowest tooth"""
    neck_diameter: float
    """Greatest diameter between the teeth and the end of the reach, 0 when not known"""
    reach: float | None
    """From the tip up to where the neck ends and the shank begins"""
    shank_diameter: float | None
    """Shank diameter"""
    overhang: float | None
    """From the tip up to the holder's face"""
    holder_diameter: float | None
    """Greatest diameter of the holder"""
    substance: Literal["carbide", "high speed steel"]
    """What the cutter is made of"""
    least_pitch: float | None
    """Finest pitch the cutter is made for"""
    greatest_pitch: float | None
    """Coarsest pitch the cutter is made for"""
    number: int
    """Tool number"""
    name: str
    """What the shop calls the tool"""


class _MoveAskNeeded(TypedDict):
    """What MoveAsk can't be without."""

    length: float
    """Length along the path"""


class MoveAsk(_MoveAskNeeded, total=False):
    """One move as the clock sees it."""

    feed: float | None
    """Feed per minute; left out or null: a rapid"""
    radius: float | None
    """Radius of an arc, null for a straight move"""
    smooth: bool
    """Goes on from the move before without a corner"""


class PlaceAsk(TypedDict):
    """A point of a path."""

    x: float
    """X"""
    y: float
    """Y"""
    z: float
    """Z"""


class _TimedSegmentAskNeeded(TypedDict):
    """What TimedSegmentAsk can't be without."""

    kind: Literal["rapid", "line", "arc"]
    """How it moves"""
    begin: PlaceAsk
    """Where it begins"""
    end: PlaceAsk
    """Where it ends"""


class TimedSegmentAsk(_TimedSegmentAskNeeded, total=False):
    """One piece of a path, as the service's own path replies give it."""

    centre: list[float] | None
    """Centre X and Y of an arc"""
    sense: Literal["clockwise", "counterclockwise"] | None
    """Sense of an arc seen from +Z"""
    sweep: float
    """Angle turned in degrees"""
    feed: float | None
    """Feed along the path, per minute; null for a rapid"""
    purpose: str
    """What it is for; not used here"""
    radial_pass: int
    """Radial pass; not used here"""
    start: int
    """Start of the thread; not used here"""


class _BatchAskNeeded(TypedDict):
    """What BatchAsk can't be without."""

    parts: int
    """Parts in the batch"""
    hourly_rate: float
    """Rate for an hour of the machine"""


class BatchAsk(_BatchAskNeeded, total=False):
    """What a batch costs, in your own currency."""

    setup_minutes: float
    """Setting up, minutes"""
    cutter_price: float
    """Price of a cutter"""
    cutter_life_minutes: float | None
    """Minutes in cut a cutter lasts"""
    material_per_part: float
    """Material for one part"""


class MeasuredSizeAsk(TypedDict):
    """A measured pitch diameter."""

    pitch_diameter: float
    """Measured pitch diameter"""
    uncertainty: float
    """Half width of the range the true one lies in"""
