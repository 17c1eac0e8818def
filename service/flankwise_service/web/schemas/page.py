"""What the forms of the page ask beyond the requests of the service."""

from __future__ import annotations

from flankwise_service.core.stock.hexagon import MEASURES
from flankwise_service.web import fields
from flankwise_service.web.schemas.gauging import InspectionAsk
from flankwise_service.web.schemas.threads import LimitsQuery


class ThreadForm(LimitsQuery):
    """A thread to look up, and the percent of thread its drill should leave."""

    percent = fields.Number(
        "For the drill of an internal thread", least=20, greatest=100, default=75.0
    )


class HexagonForm(fields.Schema):
    """One number, and what it is a measure of."""

    unit = fields.Unit("Unit of every length here")
    size = fields.Length("The number you have", least=0.1, greatest=2000)
    measure = fields.OneOf("What that number is", MEASURES)
    diameter = fields.Length(
        "Boss turned from the bar, or thread within it", least=0.1, greatest=2000, default=None
    )
    drawn_across_flats = fields.Length(
        "Measure the drawing between two flats, to see whether it took a wrong turn",
        least=0.1, greatest=5000, default=None,
    )  # fmt: skip
    material = fields.Text("For its weight: a grade, such as 303 or 6082", longest=60, default=None)


class CorrectionForm(InspectionAsk):
    """A measured part, and what stands at the control now."""

    radius_offset = fields.Length(
        "The radius offset (wear) that stands at the control now, so that the new one can be told",
        least=-500, greatest=500, default=None,
    )  # fmt: skip


class JobForm(fields.Schema):
    """A job document as text."""

    job = fields.Lines("A job document", longest=1_000_000)
