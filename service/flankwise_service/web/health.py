"""Is the process alive, may it be sent work, and what does it speak? For runtimes and proxies."""

from __future__ import annotations

from functools import cache
from importlib import resources
from typing import Any

from flask import Blueprint

from flankwise_service import __version__
from flankwise_service.web.body import JSON
from flankwise_service.web.metrics import MEDIA_TYPE
from flankwise_service.web.operation import operation, state
from flankwise_service.web.schemas.health import HealthReply, NothingAsked

blueprint = Blueprint("health", __name__)


@operation(
    blueprint, "GET", "/livez", id="livez", tag="health", asks=NothingAsked, replies=HealthReply,
    summary="Is the process alive?", keep=False, under="",
)  # fmt: skip
def livez(asked: dict[str, Any]) -> object:
    """Answers as long as the process runs; when it doesn't, start it again."""
    return {"status": "alive", "version": __version__}


@operation(
    blueprint, "GET", "/readyz", id="readyz", tag="health", asks=NothingAsked, replies=HealthReply,
    summary="May requests be sent?", keep=False, under="",
)  # fmt: skip
def readyz(asked: dict[str, Any]) -> object:
    """Answers when requests may be sent. All data is in the program, so nothing is waited for."""
    return {"status": "ready", "version": __version__}


@operation(
    blueprint, "GET", "/openapi.json", id="contract", tag="health", asks=NothingAsked,
    replies=None, renders={JSON: bytes}, summary="This contract", under="",
)  # fmt: skip
def contract(asked: dict[str, Any]) -> object:
    """The OpenAPI document of this very version, as the package holds it."""
    return contract_bytes()


@operation(
    blueprint, "GET", "/metrics", id="metrics", tag="health", asks=NothingAsked, replies=None,
    renders={MEDIA_TYPE: bytes, "text/plain": bytes}, summary="Counts for Prometheus",
    keep=False, under="",
)  # fmt: skip
def metrics(asked: dict[str, Any]) -> object:
    """Requests by operation and status, their time, problems by code, and those under way.

    For the shop's own monitoring: let the proxy keep it from the outside.
    """
    return state().meter.text()


@cache
def contract_bytes() -> bytes:
    """Return the OpenAPI document as JSON bytes, written when the package was made."""
    return resources.files("flankwise_service.web").joinpath("openapi.json").read_bytes()
