"""The sheet for the machine: one printable page, from a plan and its drawings.

Every text is escaped by the template engine; only the drawings go in as markup, and they are made,
and escaped, by core/drawing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from jinja2 import Environment, PackageLoader, StrictUndefined, Template
from markupsafe import Markup

from flankwise_service.core.drawing.look import LIGHT
from flankwise_service.core.plan.pictures import View, picture, views_of
from flankwise_service.core.plan.result import Plan, Work
from flankwise_service.core.plan.taper import taper_words
from flankwise_service.core.plan.told import turns_words
from flankwise_service.core.units import PLACES
from flankwise_service.web.guard import policy

ON_SHEET: tuple[View, ...] = ("setup", "section", "path", "bar")
"""In the order in which they find room."""
PAPER = "".join(f"--fw-{name}:{colour};" for name, colour in LIGHT.items())
"""Paper is light, whatever the browser likes: its drawings are, too."""
STYLE = (Path(__file__).with_name("templates") / "sheet.css").read_text("utf-8") + (
    f".picture svg.fw,.beside svg.fw{{{PAPER}color-scheme:only light}}\n"
)
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


LETTERS_A_LINE = 74
PASSES_A_COLUMN = 14
ROOM_FOR_FOUR, ROOM_FOR_TWO, ROOM_CLOSE = 35, 46, 60
"""Lines of text in the longer of the two columns that leave room for so many drawings on the
shorter of A4 and Letter; beyond the last the print gets tight. Found by printing: tests/browser."""
ROOM_BESIDE = 15
"""Lines by which the left column must be the shorter one to have room for a drawing below it."""


def lines_of(found: Sheet) -> tuple[int, int, int]:
    """Return about how many lines the left and right column take, and what stands below them."""
    plan = found.plan
    passes = len(plan.passes) if plan.program else 0
    beside, below = (passes, 0) if passes <= PASSES_A_COLUMN else (1, 2 + PASSES_A_COLUMN)
    left = 17 + beside + (3 if plan.blank.end_mill and plan.program else 0)
    rows = len(plan.gauging.table) if plan.gauging and plan.program else 0
    gauging = 7 if plan.gauging is None else 4 + rows + 8
    noted = [f"{one.detail} {one.change}" for one in plan.checks if one.state != "passed"]
    noted += [one.change for one in plan.checks if one.state == "passed" and one.change]
    told = sum(1 + len(text) // LETTERS_A_LINE for text in (*noted, *plan.assumed))
    return left, gauging + told + 3, below


def placed(found: Sheet) -> tuple[str, tuple[Drawing, ...], Drawing | None]:
    """Return how close the print stands, the drawings at the foot, and one below the left column.

    That is the first for which the foot has no room, where the paper beside the right column is
    free.
    """
    left, right, below = lines_of(found)
    density, room = density_of(max(left, right) + below)
    over = found.drawings[room:]
    beside = over[0] if over and density == "roomy" and right - left >= ROOM_BESIDE else None
    return density, found.drawings[:room], beside


def density_of(lines: int) -> tuple[str, int]:
    """Return how close the print stands, and how many drawings have room.

    >>> density_of(30), density_of(45), density_of(90)
    (('roomy', 4), ('roomy', 2), ('tight', 2))
    """
    if lines <= ROOM_FOR_TWO:
        return "roomy", 4 if lines <= ROOM_FOR_FOUR else 2
    return ("close" if lines <= ROOM_CLOSE else "tight"), 2


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


@cache  # made at the first sheet: compiling both took a tenth of the service's start
def _template(unit: str) -> Template:
    return _environment(unit).get_template("sheet.html")


def sheet_html(found: Sheet, request_id: str) -> str:
    """Return the sheet as one HTML page that needs nothing else."""
    passes = found.plan.passes
    density, foot, beside = placed(found)
    return _template(found.plan.unit).render(
        density=density,
        chunks=[passes[at : at + PASSES_A_COLUMN] for at in range(0, len(passes), PASSES_A_COLUMN)],
        plan=found.plan,
        unit=found.plan.unit,
        length=f"{found.length:g}",
        turns=turns_words(found.plan.motion, found.plan.cutter.rows),
        taper=taper_words(found.plan.limits),
        radius_offset=found.radius_offset,
        drawings=foot,
        beside=beside,
        request_id=request_id,
    )
