"""The page for the person at the machine: thread, hexagon, measured part, whole job.

Plain HTML from the same schemas and the same functions as the service. It keeps nothing: no cookie,
no session; a form carries all there is. Lookups are GET, so that they can be bookmarked. Where the
service asks for tokens, so does the page: the browser asks for it as a password (web/access.py).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

from flask import Blueprint, Response, request
from werkzeug.datastructures import MultiDict

from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.web.fields import Schema
from flankwise_service.web.front import OPERATION, REQUEST_ID
from flankwise_service.web.operation import state
from flankwise_service.web.page_find import corrected, hexagon_found, thread_found
from flankwise_service.web.page_form import inputs, read, said
from flankwise_service.web.page_look import html
from flankwise_service.web.page_plan import (
    GROUPS,
    JOB,
    LABELS,
    Asked,
    attachment,
    document_of,
    opened,
    planned,
    sheet_of,
)
from flankwise_service.web.problems import Problem, of_refusal
from flankwise_service.web.schemas.page import CorrectionForm, HexagonForm, ThreadForm

blueprint = Blueprint("page", __name__)
ResultT = TypeVar("ResultT")
Typed = MultiDict[str, str]
PAGE = "flankwise.page"
"""Marks a request of the page in its environ: its problems are told as a page, too."""

THREAD, HEXAGON, CORRECTION = ThreadForm(), HexagonForm(), CorrectionForm()
THREAD_MAIN = ("/designation", "/unit", "/side")
THREAD_MORE = ("/percent", "/edition", "/crest_least", "/crest_greatest")
HEXAGON_MAIN = ("/size", "/unit", "/measure")
HEXAGON_MORE = ("/diameter", "/drawn_across_flats", "/material")
CORRECTION_MAIN = (
    "/designation", "/unit", "/side", "/method", "/wire", "/reading", "/reading_uncertainty",
    "/radius_offset",
)  # fmt: skip
CORRECTION_MORE = (
    "/line", "/wire_uncertainty", "/flank_angle_uncertainty", "/aim", "/diameter_per_radius",
)  # fmt: skip


def tried(
    step: Callable[[], ResultT], pointers: Mapping[str, str] | None = None
) -> tuple[ResultT | None, Problem | None]:
    """Return what a step gives, or else the problem it ends in."""
    try:
        return step(), None
    except Refusal as refusal:
        return None, of_refusal(refusal, pointers)
    except Problem as problem:
        return None, problem


def _query() -> Typed:
    cap = state().settings.query_cap
    if len(request.environ.get("QUERY_STRING", "")) > cap:
        raise Problem("query_too_long", f"the address has more than {cap} characters behind the ?")
    return MultiDict(request.args)


def _posted() -> Typed:
    settings = state().settings
    request.max_content_length = settings.body_cap
    request.max_form_memory_size = settings.body_cap
    return MultiDict(request.form)


def _form_page(
    template: str, schema: Schema, groups: Mapping[str, Sequence[str]], typed: Typed,
    found: object, problem: Problem | None, **more: Any,
) -> Response:  # fmt: skip
    """Return a page of one form, filled with what was typed, with its result or its faults."""
    faults = [said(fault, schema) for fault in problem.faults] if problem else []
    shown = {
        name: inputs(schema, pointers, typed, faults, LABELS) for name, pointers in groups.items()
    }
    places = {one.name: one.id for fields in shown.values() for one in fields}
    places["job"] = "at-job"
    told = [(fault, place_of(fault, places)) for fault in faults]
    return html(
        template, problem.status if problem else 200, fields=shown, found=found, problem=problem,
        told=told, typed=typed, **more,
    )  # fmt: skip


def place_of(fault: Fault, places: Mapping[str, str]) -> str:
    """Return the id of the field a fault belongs to, or of the part of the form it is about.

    >>> fault = Fault("/boss", "missing", "", "")
    >>> place_of(fault, {"boss/depth": "at-boss-depth"}), place_of(fault, {})
    ('at-boss-depth', '')
    """
    name = fault.pointer[1:]
    if name in places:
        return places[name]
    below = [id_ for field, id_ in places.items() if field.startswith(name + "/")]
    return below[0] if below and name else ""


@blueprint.before_request
def admit() -> None:
    """Name the page to log and counts, and ask for a token where one is wanted.

    The first page computes nothing, so that everybody may see what is here.
    """
    page = str(request.endpoint).rpartition(".")[2]
    request.environ[OPERATION] = f"page_{page}"
    request.environ[PAGE] = True
    if page == "home":
        return
    refused = state().access.check_page(request.environ, "read" if page == "thread" else "plan")
    if refused is not None:
        raise refused


@blueprint.get("/")
def home() -> Response:
    """Show what there is, with the thread form at hand."""
    shown = inputs(THREAD, THREAD_MAIN, {}, (), LABELS)
    return html("home.html", fields={"main": shown}, told=(), problem=None)


@blueprint.get("/thread")
def thread() -> Response:
    """Look a thread up: limits, section, wires, drill."""
    typed = _query()
    groups = {"main": THREAD_MAIN, "more": THREAD_MORE}
    found, problem = tried(lambda: thread_found(read(THREAD, typed))) if typed else (None, None)
    return _form_page("thread.html", THREAD, groups, typed, found, problem)


@blueprint.get("/hexagon")
def hexagon() -> Response:
    """Convert a hexagon's measures, and find the wrong turn."""
    typed = _query()
    groups = {"main": HEXAGON_MAIN, "more": HEXAGON_MORE}
    found, problem = tried(lambda: hexagon_found(read(HEXAGON, typed))) if typed else (None, None)
    return _form_page("hexagon.html", HEXAGON, groups, typed, found, problem)


@blueprint.get("/correction")
def correction() -> Response:
    """From a measured part to the radius offset at the control."""
    typed = _query()
    groups = {"main": CORRECTION_MAIN, "more": CORRECTION_MORE}
    asked = "reading" in typed  # a link from the thread's page brings the thread alone
    pointers = {"/limits": "/designation", "/basic": "/designation", "/pitch_diameter": "/reading"}
    found, problem = (
        tried(lambda: corrected(read(CORRECTION, typed)), pointers) if asked else (None, None)
    )
    return _form_page("correction.html", CORRECTION, groups, typed, found, problem)


@blueprint.get("/plan")
def plan_form() -> Response:
    """Show the form of a job, filled with what the address brings."""
    return _plan_page(_query(), None)


@blueprint.post("/plan")
def plan() -> Response:
    """Plan the job typed in, or the job document a form carries."""
    return _with_job(lambda asked: html("planned.html", found=planned(asked)))


@blueprint.post("/plan/open")
def plan_open() -> Response:
    """Fill the form from a job document, pasted or from a file."""
    typed = _posted()
    asked, problem = tried(lambda: opened(typed, request.files.get("file")))
    if asked is None:
        return _plan_page(Typed(), problem, pasted=typed.get("job", ""))
    return _plan_page(asked.typed, asked.problem)


@blueprint.post("/plan/program")
def plan_program() -> Response:
    """Save the program."""
    return _with_job(lambda asked: attachment(asked, "program"))


@blueprint.post("/plan/job")
def plan_job() -> Response:
    """Save the job document, which makes the same plan again."""
    return _with_job(lambda asked: attachment(asked, "job"))


@blueprint.post("/plan/sheet")
def plan_sheet() -> Response:
    """Show the sheet for the machine."""
    request_id = str(request.environ.get(REQUEST_ID, ""))
    return _with_job(lambda asked: sheet_of(asked, request_id))


def _with_job(answer: Callable[[Asked], Response]) -> Response:
    """Return the answer to the job that the request's form carries, or the form with its faults."""
    typed = _posted()
    asked, problem = tried(lambda: document_of(typed))
    if asked is not None:
        reply, problem = tried(lambda: answer(asked))
        if reply is not None:
            return reply
        typed = asked.typed
    return _plan_page(typed, problem)


def _plan_page(typed: Typed, problem: Problem | None, pasted: str = "") -> Response:
    groups = {group.key: group.pointers for group in GROUPS}
    return _form_page("plan.html", JOB, groups, typed, None, problem, parts=GROUPS, pasted=pasted)


def problem_page(problem: Problem) -> Response:
    """Return the page of a problem that belongs to no field."""
    response = html("problem.html", problem.status, problem=problem)
    response.headers.update(problem.headers)
    return response
