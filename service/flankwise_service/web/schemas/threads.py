"""Schemas of the subject threads."""

from __future__ import annotations

from typing import get_args

from flankwise_service.core.threads.listing import LONGEST_PAGE
from flankwise_service.core.threads.model import Family
from flankwise_service.web import fields
from flankwise_service.web.schemas.common import LimitSpan, SourceReply

FAMILIES = get_args(Family)
SIDES = ("external", "internal")
_UNIT_OF_LIST = "Unit the thread's own standard is written in; lengths of this line are in it"


def designation_field() -> fields.Text:
    """Return the field for a thread's designation."""
    return fields.Text(
        "Thread designation, written as its standard does",
        shortest=1,
        longest=60,
        example="7/8-14 UNF-2A",
    )


class LimitsQuery(fields.Schema):
    """Which thread's limits, in which unit."""

    designation = designation_field()
    unit = fields.Unit("Unit to state the limits in. It has no default.", example="in")
    side = fields.OneOf(
        "External or internal; needed where the designation doesn't say it", SIDES, default=None
    )
    edition = fields.Text(
        "Edition whose tables to reproduce, as ASME B1.1-1989; left out: the newest held",
        longest=60,
        default=None,
    )
    crest_least = fields.Length(
        "Of a Unified thread with modified crests (MOD): least major diameter of the external, "
        "least minor diameter of the internal thread",
        least=1,
        greatest=1000,
        default=None,
    )
    crest_greatest = fields.Length(
        "The greatest of the same diameter", least=1, greatest=1000, default=None
    )


class BasicProfileReply(fields.Schema):
    """The basic profile; lengths in the unit of the reply, angles in degrees."""

    pitch = fields.Length("Pitch")
    lead = fields.Length("Lead: starts times pitch")
    starts = fields.Count("Starts")
    flank_angle_upper = fields.Angle(
        "From a plane square to the axis to the flank that faces the free end of a bolt"
    )
    flank_angle_lower = fields.Angle("The same for the other flank")
    fundamental_height = fields.Length("Height of the sharp triangle, H")
    thread_height = fields.Length("Height of the basic profile")
    crest_width = fields.Length("Axial width of the crest of the basic profile")
    root_width = fields.Length("Axial width of the root of the basic profile")
    root_radius = fields.Length("Root radius the form asks for, null for none", nullable=True)
    major_diameter = fields.Length("Basic major diameter")
    pitch_diameter = fields.Length("Basic pitch diameter")
    minor_diameter = fields.Length("Basic minor diameter")
    taper = fields.Number("Change of diameter for one unit of length; 0 when parallel")


class TolerancesReply(fields.Schema):
    """The tolerance of each diameter; null where the standard sets none."""

    major_diameter = fields.Length("Tolerance of major diameter", nullable=True)
    pitch_diameter = fields.Length("Tolerance of pitch diameter", nullable=True)
    minor_diameter = fields.Length("Tolerance of minor diameter", nullable=True)


class LimitsReply(fields.Schema):
    """The limits of size of a thread, with the digits its standard prints."""

    designation = fields.Text("The thread in its canonical spelling")
    family = fields.OneOf("Family of threads", FAMILIES)
    series = fields.Text("Series within the family")
    thread_class = fields.Text("Class, null where its standard has none", nullable=True)
    side = fields.OneOf("External or internal", SIDES)
    hand = fields.OneOf("Hand of the helix", ("right", "left"))
    unit = fields.Unit("Unit of every length here")
    rounded_in = fields.Unit(
        "Unit the standard rounds in. In the other unit each figure is the printed one, converted "
        "and never rounded again"
    )
    diameter = fields.Length("Nominal diameter")
    pitch = fields.Length("Pitch")
    threads_per_inch = fields.Number("Threads per inch, null for a metric thread", nullable=True)
    starts = fields.Count("Starts")
    lead = fields.Length("Lead: starts times pitch")
    engagement = fields.Length("Length of engagement, where the designation says it", nullable=True)
    engagement_group = fields.OneOf(
        "Short, normal or long engagement, where the designation says it",
        ("S", "N", "L"),
        nullable=True,
    )
    rounded_root = fields.Flag("True where the designation asks for the rounded root form")
    modified = fields.Flag("True where the crest's limits are given beside the designation (MOD)")
    allowance = fields.Length("Allowance (fundamental deviation), never negative")
    major_diameter = fields.Nested(LimitSpan, "Limits of major diameter")
    pitch_diameter = fields.Nested(LimitSpan, "Limits of pitch diameter")
    minor_diameter = fields.Nested(
        LimitSpan, "Limits of minor diameter; for an external thread, of the form asked for"
    )
    basic = fields.Nested(BasicProfileReply, "Basic profile")
    tolerances = fields.Nested(TolerancesReply, "Tolerances, as the standard rounds them")
    extra = fields.MapOf(
        fields.Number("Length, null where the standard sets none", nullable=True),
        "Further published lengths of this family, by name; names that end in _turns count threads",
    )
    source = fields.ListOf(fields.Nested(SourceReply, "One source"), "Where the figures come from")
    notes = fields.ListOf(fields.Text("One note", longest=400), "What to know about these figures")


class ClassesReply(fields.Schema):
    """The classes a thread may have, by side; empty where its standard has none."""

    external = fields.ListOf(fields.Text("Class"), "Classes of the external thread")
    internal = fields.ListOf(fields.Text("Class"), "Classes of the internal thread")


class ReadQuery(fields.Schema):
    """Which designation to read."""

    designation = designation_field()
    unit = fields.Unit("Unit to state the lengths in. It has no default.", example="in")


class ThreadReply(fields.Schema):
    """A designation, read."""

    designation = fields.Text("The thread in its canonical spelling")
    family = fields.OneOf("Family of threads", FAMILIES)
    series = fields.Text("Series within the family")
    unit = fields.Unit("Unit of every length here")
    rounded_in = fields.Unit("Unit the thread's own standard is written in")
    diameter = fields.Length("Nominal diameter")
    pitch = fields.Length("Pitch")
    threads_per_inch = fields.Number("Threads per inch, null for a metric thread", nullable=True)
    starts = fields.Count("Starts")
    lead = fields.Length("Lead: starts times pitch")
    hand = fields.OneOf("Hand of the helix", ("right", "left"))
    thread_class = fields.Text("Class, null where none is given", nullable=True)
    side = fields.OneOf("External or internal, null where nothing says it", SIDES, nullable=True)
    engagement = fields.Length("Length of engagement, where the designation says it", nullable=True)
    engagement_group = fields.OneOf(
        "Short, normal or long engagement, where the designation says it",
        ("S", "N", "L"),
        nullable=True,
    )
    rounded_root = fields.Flag("True where the designation asks for the rounded root form")
    modified = fields.Flag("True where the crest's limits are given beside the designation (MOD)")
    classes = fields.Nested(ClassesReply, "Classes to choose from for this size")
    editions = fields.ListOf(
        fields.Text("Edition"), "Editions whose limits can be asked for, the default first"
    )


class ThreadsQuery(fields.Schema):
    """Which part of the list of designations."""

    search = fields.Text(
        "Words that must all stand in the designation, in any order; left out: the whole list",
        longest=60,
        default="",
        example="7/8 un",
    )
    family = fields.OneOf("Only this family", FAMILIES, default=None)
    offset = fields.Count("How many to skip", least=0, greatest=1_000_000, default=0)
    limit = fields.Count("How many to give at most", least=1, greatest=LONGEST_PAGE, default=100)


class ListedThreadReply(fields.Schema):
    """One line of the list."""

    designation = fields.Text("The thread in its canonical spelling, without class and hand")
    family = fields.OneOf("Family of threads", FAMILIES)
    series = fields.Text("Series within the family")
    unit = fields.Unit(_UNIT_OF_LIST)
    diameter = fields.Length("Nominal diameter")
    pitch = fields.Length("Pitch")
    threads_per_inch = fields.Number("Threads per inch, null for a metric thread", nullable=True)
    classes = fields.Nested(ClassesReply, "Classes to choose from")


class ThreadPageReply(fields.Schema):
    """One page of the list, in an order that never changes."""

    search = fields.Text("What was searched")
    total = fields.Count("How many match, on all pages", least=0)
    offset = fields.Count("How many were skipped", least=0)
    threads = fields.ListOf(
        fields.Nested(ListedThreadReply, "One thread"), "This page", most=LONGEST_PAGE
    )
    near = fields.ListOf(fields.Text("Designation"), "Where nothing matches: nearest in spelling")
