"""How the page looks, and what a browser is told to let it do.

One template engine that escapes everything; the only markup let through is drawings of
core/drawing, which escapes its own texts. Styles and script stand inside the page and are known to
the browser by their hash: anything that slipped into a page would neither run nor load.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from flask import Response, request
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from flankwise_service import __version__
from flankwise_service.core.plan.cautions import CAUTIONS
from flankwise_service.web.front import REQUEST_ID
from flankwise_service.web.guard import guarded, policy

FOLDER = Path(__file__).with_name("templates") / "page"
STYLE = (FOLDER / "page.css").read_text("utf-8")
SCRIPT = (FOLDER / "page.js").read_text("utf-8")
PLACES = {"in": 4, "mm": 3}


POLICY = policy(STYLE, script=SCRIPT)


def size(value: object, unit: str) -> str:
    """Return a length with the digits of its unit, a dash where there's none.

    >>> size(0.8268, "in"), size(None, "mm")
    ('0.8268', '–')
    """
    return "–" if value is None else f"{float(str(value)):.{PLACES[unit]}f}"


def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("flankwise_service.web"),
        autoescape=True,
        undefined=StrictUndefined,
        auto_reload=False,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["size"] = size
    made.filters["wire"] = lambda value, unit: f"{float(value):.{PLACES[unit] + 1}f}"
    made.filters["signed"] = lambda value, unit: f"{float(value):+.{PLACES[unit]}f}"
    made.filters["figure"] = lambda value: "–" if value is None else f"{float(value):.5g}"
    made.globals.update(
        style=Markup(STYLE), script=Markup(SCRIPT), cautions=CAUTIONS, version=__version__
    )
    return made


TEMPLATES = _environment()


def html(template: str, status: int = 200, **shown: Any) -> Response:
    """Return a page of the folder `page`."""
    request_id = str(request.environ.get(REQUEST_ID, ""))
    text = TEMPLATES.get_template(f"page/{template}").render(request_id=request_id, **shown)
    return guarded(Response(text, status, content_type="text/html; charset=utf-8"), POLICY)
