"""The subject plan: the whole job from one request."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from flask import Blueprint, request

from flankwise_service import __version__
from flankwise_service.core.errors import Fault, Impossible
from flankwise_service.core.plan.compare import compared
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    BossAsked,
    Costs,
    CutterAsked,
    CuttingAsked,
    EndMill,
    GaugingAsked,
    HoleAsked,
    Job,
    Machine,
    MeasuredPart,
    ProgramAsked,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.pictures import picture
from flankwise_service.core.plan.result import Plan
from flankwise_service.web.front import REQUEST_ID
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas.plan import JobAsk, PlanCuttersAsk, PlanDrawingAsk
from flankwise_service.web.schemas.plan_reply import PlanCuttersReply, PlanReply, SheetReply
from flankwise_service.web.sheet import Sheet, sheet, sheet_html
from flankwise_service.web.tools import tooth_from

blueprint = Blueprint("plan", __name__)


def cutting_from(**asked: Any) -> CuttingAsked:
    """Return how to cut, of a loaded JobCuttingAsk."""
    measured = asked.pop("measured")
    return CuttingAsked(**asked, measured=MeasuredPart(**measured) if measured else None)


PARTS: dict[str, Callable[..., Any]] = {
    "thread": ThreadAsked,
    "stock": StockAsked,
    "boss": BossAsked,
    "hole": HoleAsked,
    "end_mill": EndMill,
    "machine": Machine,
    "cutting": cutting_from,
    "program": ProgramAsked,
    "gauging": GaugingAsked,
    "costs": Costs,
}


def asked_cutter_from(asked: Mapping[str, Any]) -> CutterAsked:
    """Return the thread mill of a loaded CutterForThreadAsk."""
    given = dict(asked)
    tooth = given.pop("tooth")
    return CutterAsked(**given, tooth=tooth_from(tooth) if tooth else None)


def job_from(asked: Mapping[str, Any]) -> Job:
    """Return core's job from a loaded JobAsk; parts left out take core's own defaults."""
    given = {name: value for name, value in asked.items() if value is not None}
    for name, kind in PARTS.items():
        if name in given:
            given[name] = kind(**given[name])
    if "cutter" in given:
        given["cutter"] = asked_cutter_from(given["cutter"])
    given["accept"] = tuple(given["accept"])
    return Job(**given)


def _program_text(made: Plan) -> str:
    """Return the program alone; a plan that mustn't be run has none."""
    if made.program is None:
        raise Impossible(*(
            Fault("", one.code, one.detail, one.change, one.figure, unit=one.unit)
            for one in made.checks
            if one.state == "refused"
        ))  # fmt: skip
    return made.program.text


@operation(
    blueprint,
    "POST",
    "/plan",
    id="plan",
    heavy=True,
    tag="plan",
    asks=JobAsk,
    replies=PlanReply,
    summary="The whole job: limits to checked program",
    renders={"text/plain": _program_text},
)
def plan(asked: dict[str, Any]) -> object:
    """Work a whole job out from one job document.

    The reply repeats everything the plan decided, with every check as passed, caution or refused.
    A refused check leaves `program` null; some may be accepted by their code in `accept`. Asked for
    as `text/plain`, the reply is the program alone, or a problem with the checks that refuse it.
    """
    return work(job_from(asked), __version__).plan


@operation(
    blueprint,
    "POST",
    "/plan/drawing",
    id="plan_drawing",
    heavy=True,
    tag="plan",
    asks=PlanDrawingAsk,
    replies=None,
    summary="A drawing of a plan: section, path, setup or bar",
    renders={"image/svg+xml": lambda drawn: drawn},
)
def plan_drawing(asked: dict[str, Any]) -> object:
    """Plan the job and draw one view of it to scale.

    `section` is the thread as really cut over its limits of size, `path` the way of the cutter's
    axis, `setup` zero point and heights, `bar` the hexagon with its boss or hole.
    """
    view = asked.pop("view")
    return picture(work(job_from(asked), __version__), view)


def _sheet_page(found: Sheet) -> str:
    return sheet_html(found, str(request.environ.get(REQUEST_ID, "")))


@operation(
    blueprint,
    "POST",
    "/plan/sheet",
    id="plan_sheet",
    heavy=True,
    tag="plan",
    asks=JobAsk,
    replies=SheetReply,
    summary="The printable sheet for the machine",
    renders={"text/html": _sheet_page},
)
def plan_sheet(asked: dict[str, Any]) -> object:
    """Plan the job and lay it out as one printable page: A4 or Letter, no script, drawings inside.

    Ask for `text/html` for the page, or for JSON for the same content as data.
    """
    return sheet(work(job_from(asked), __version__))


@operation(
    blueprint,
    "POST",
    "/plan/cutters",
    id="plan_cutters",
    heavy=True,
    tag="plan",
    asks=PlanCuttersAsk,
    replies=PlanCuttersReply,
    summary="Thread mills at hand compared for a job",
)
def plan_cutters(asked: dict[str, Any]) -> object:
    """Plan the job with each of the cutters and rank them.

    Those whose plan is ready come first, then those with cautions, then those a check refuses,
    then those no plan can be made with; among equals the faster one leads.
    """
    cutters = [asked_cutter_from(one) for one in asked.pop("cutters")]
    return {"unit": asked["unit"], "cutters": compared(job_from(asked), cutters, __version__)}
