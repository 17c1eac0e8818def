"""Is the process alive, and may it be sent work? For container runtimes and proxies."""

from __future__ import annotations

from flask import Blueprint, Response

from flankwise_service import __version__
from flankwise_service.web.dump import to_json

blueprint = Blueprint("health", __name__)


@blueprint.get("/livez")
def livez() -> Response:
    """Answer that the process runs."""
    return _said("alive")


@blueprint.get("/readyz")
def readyz() -> Response:
    """Answer that requests may be sent: all data is in the program, nothing is waited for."""
    return _said("ready")


def _said(word: str) -> Response:
    response = Response(
        to_json({"status": word, "version": __version__}), content_type="application/json"
    )
    response.headers["Cache-Control"] = "no-store"
    return response
