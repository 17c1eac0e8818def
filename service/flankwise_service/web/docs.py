"""The reference at /docs: every operation, from the contract that the package holds.

Plain HTML without script, made once and kept. It tells nothing that /openapi.json doesn't.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from flask import Blueprint, Response, request
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from flankwise_service import __version__
from flankwise_service.core.plan.cautions import CAUTIONS
from flankwise_service.web.accept import choose
from flankwise_service.web.docs_read import contract, operations, words
from flankwise_service.web.front import OPERATION
from flankwise_service.web.guard import guarded, policy
from flankwise_service.web.lookups import etag_of, same
from flankwise_service.web.operation import state
from flankwise_service.web.problems import CODES, TYPE_PREFIX, Problem

blueprint = Blueprint("docs", __name__)
HTML = "text/html"
STYLE = (Path(__file__).with_name("templates") / "docs" / "docs.css").read_text("utf-8")
POLICY = policy(STYLE)


def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("flankwise_service.web", "templates/docs"),
        autoescape=True,
        undefined=StrictUndefined,
        auto_reload=False,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["words"] = words
    made.globals.update(style=Markup(STYLE), version=__version__, cautions=CAUTIONS)
    return made


TEMPLATES = _environment()


@blueprint.get("/docs")
def reference() -> Response:
    """Show what there is: how to ask, every operation, every problem."""
    return _page("reference")


@blueprint.get("/docs/<operation_id>")
def operation_page(operation_id: str) -> Response:
    """Show one operation: fields with units and ranges, examples, refusals."""
    if operation_id not in operations():
        raise Problem("no_such_path", "see /docs for every operation there is")
    return _page("operation", operation_id)


def _page(kind: str, operation_id: str = "") -> Response:
    request.environ[OPERATION] = f"docs_{kind}"
    choose(request.environ.get("HTTP_ACCEPT"), (HTML,))
    body = _bytes(kind, operation_id)
    response = guarded(Response(body, content_type=f"{HTML}; charset=utf-8"), POLICY)
    response.headers["ETag"] = etag = etag_of(body, __version__)
    response.headers["Cache-Control"] = f"public, max-age={state().settings.lookup_age}"
    if same(request.environ, etag):
        response.status_code = 304
        response.set_data(b"")
        del response.headers["Content-Length"], response.headers["Content-Type"]
    return response


@cache
def _bytes(kind: str, operation_id: str) -> bytes:
    shown: dict[str, Any]
    if kind == "operation":
        shown = {"one": operations()[operation_id]}
    else:
        problem = contract()["components"]["schemas"]
        shown = {
            "about": contract()["info"]["description"],
            "tags": contract()["tags"],
            "codes": [(code, status, title) for code, (status, title) in CODES.items()],
            "prefix": TYPE_PREFIX,
            "problem": problem["Problem"]["properties"],
            "fault": problem["Fault"]["properties"],
        }
    every = list(operations().values())
    return TEMPLATES.get_template(f"{kind}.html").render(every=every, **shown).encode()
