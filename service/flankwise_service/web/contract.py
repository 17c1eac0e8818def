"""Serves the contract from the package itself, as it was written when the package was made."""

from __future__ import annotations

from functools import cache
from importlib import resources

from flask import Blueprint, Response, request

from flankwise_service import __version__
from flankwise_service.web.lookups import etag_of, same

blueprint = Blueprint("contract", __name__)


@cache
def contract_bytes() -> bytes:
    """Return the OpenAPI document as JSON bytes."""
    return resources.files("flankwise_service.web").joinpath("openapi.json").read_bytes()


@blueprint.get("/openapi.json")
def openapi_json() -> Response:
    """Answer with the contract."""
    body = contract_bytes()
    etag = etag_of(body, __version__)
    response = Response(body, content_type="application/json")
    response.headers["ETag"] = etag
    response.headers["Cache-Control"] = "public, max-age=3600"
    if same(request.environ, etag):
        response.status_code = 304
        response.set_data(b"")
        del response.headers["Content-Length"], response.headers["Content-Type"]
    return response
