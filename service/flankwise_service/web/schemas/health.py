"""Schemas of the health checks."""

from __future__ import annotations

from flankwise_service import __version__
from flankwise_service.web import fields


class NothingAsked(fields.Schema):
    """No parameters."""


class HealthReply(fields.Schema):
    """How the service is."""

    status = fields.OneOf("How it is", ("alive", "ready"))
    version = fields.Text("Version of the service and its contract", example=__version__)
