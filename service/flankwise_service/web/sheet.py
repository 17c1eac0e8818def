"""The sheet for the machine: one printable page, from a plan and its drawings.

Every text is escaped by the template engine; only the drawings go in as markup, and they are made,
and escaped, by core/drawing.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from flankwise_service.core.plan.pictures import View, picture, views_of
from flankwise_service.core.plan.result import Plan, Work
from flankwise_service.web.guard import policy

ON_SHEET: tuple[View, ...] = ("setup", "section")
PLACES = {"in": 4, "mm": 3}
STYLE = (Path(__file__).with_name("templates") / "sheet.css").read_text("utf-8")
POLICY = policy(STYLE)


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing of the sheet."""

    view: View
    svg: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the sheet shows, for people and as JSON."""

    plan: Plan
    length: float
    radius_offset: int | None
    drawings: tuple[Drawing, ...]


def sheet(work: Work) -> Sheet:
    """Return the sheet of a plan: the plan and the drawings it has room for."""
    views = [view for view in ON_SHEET if view in views_of(work)]
    drawings = tuple(Drawing(view, picture(work, view)) for view in views)
    return Sheet(work.plan, work.job.thread.length, work.job.program.radius_offset, drawings)


def _environment(unit: str) -> Environment:
    made = Environment(
        loader=PackageLoader("flankwise_service.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    places = PLACES[unit]

    def size(value: object) -> str:
        return "-" if value is None else f"{float(str(value)):.{places}f}"

    made.globals.update(style=Markup(STYLE), policy=POLICY)
    made.filters["size"] = size
    made.filters["wire"] = lambda value: f"{float(value):.{places + 1}f}"
    return made


TEMPLATES = {unit: _environment(unit).get_template("sheet.html") for unit in PLACES}


def sheet_html(found: Sheet, request_id: str) -> str:
    """Return the sheet as one HTML page that needs nothing else."""
    return TEMPLATES[found.plan.unit].render(
        plan=found.plan,
        unit=found.plan.unit,
        length=f"{found.length:g}",
        radius_offset=found.radius_offset,
        drawings=found.drawings,
        request_id=request_id,
    )
