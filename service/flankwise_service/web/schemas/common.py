"""Schemas that several subjects share."""

from __future__ import annotations

from flankwise_service.web import fields


class SourceReply(fields.Schema):
    """Where a figure comes from."""

    document = fields.Text("The standard, handbook or other document")
    edition = fields.Text("Its edition")
    place = fields.Text("Table, clause or page")
    standing = fields.OneOf(
        "How the figure got here: computed by the standard's formula, read on a page, recalled, "
        "common practice, or stated in the request",
        (
            "computed", "seen", "memory", "common practice, no source", "stated by the caller",
        ),
    )  # fmt: skip


class LimitSpan(fields.Schema):
    """A pair of limits; null where the standard sets none."""

    min = fields.Number("Least size, null where the standard sets none", nullable=True)
    max = fields.Number("Greatest size, null where the standard sets none", nullable=True)


class PointReply(fields.Schema):
    """A place of the cutter axis at the mid-plane of the lowest tooth."""

    x = fields.Number("X")
    y = fields.Number("Y")
    z = fields.Number("Z, growing out of the work; 0 is the face where the thread begins")


class SegmentReply(fields.Schema):
    """One straight or helical piece of the tool path."""

    kind = fields.OneOf("How it moves", ("rapid", "line", "arc"))
    purpose = fields.OneOf(
        "What it is for",
        (
            "approach", "plunge", "lead_in", "thread", "lead_out", "retract", "boss", "bore",
            "link",
        ),
    )  # fmt: skip
    begin = fields.Nested(PointReply, "Where it begins")
    end = fields.Nested(PointReply, "Where it ends")
    centre = fields.ListOf(
        fields.Number("Coordinate"), "Centre X and Y of an arc, null for straight pieces",
        fewest=2, most=2, nullable=True,
    )  # fmt: skip
    sense = fields.OneOf(
        "Sense of an arc seen from +Z, null for straight pieces",
        ("clockwise", "counterclockwise"),
        nullable=True,
    )
    sweep = fields.Angle("Angle turned in degrees, 0 for straight pieces", greatest=1e6)
    feed = fields.Number("Feed along the path, per minute; null for a rapid", nullable=True)
    radial_pass = fields.Count("Radial pass, from 1; 0 where it is none")
    start = fields.Count("Start of the thread, from 1; 0 where it is none")
