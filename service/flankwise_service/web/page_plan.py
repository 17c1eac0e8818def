"""The page's whole job: the form's parts, the job document it stands for, what is saved."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import orjson
from flask import Response
from werkzeug.datastructures import FileStorage, MultiDict

from flankwise_service import __version__
from flankwise_service.core.errors import BadInput, Fault
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.pictures import picture, views_of
from flankwise_service.core.plan.result import Plan, Work
from flankwise_service.core.plan.told import turns_words
from flankwise_service.web.body import parse
from flankwise_service.web.guard import guarded
from flankwise_service.web.load import load
from flankwise_service.web.operation import state
from flankwise_service.web.page_form import read, typed_from
from flankwise_service.web.plan import job_from
from flankwise_service.web.problems import Problem
from flankwise_service.web.schemas.plan import JobAsk
from flankwise_service.web.sheet import POLICY as SHEET_POLICY
from flankwise_service.web.sheet import sheet, sheet_html

JOB = JobAsk()


@dataclass(frozen=True, slots=True)
class Group:
    """One part of the form."""

    key: str
    title: str
    words: str
    pointers: tuple[str, ...]
    is_open: bool = False


def _below(part: str, names: str) -> tuple[str, ...]:
    return tuple(f"/{part}/{name}" for name in names.split())


GROUPS: tuple[Group, ...] = (
    Group(
        "job", "The job", "What is made, and the unit every length below is in.",
        ("/unit", "/name", "/quantity"), True,
    ),
    Group(
        "thread", "The thread", "By its standard's own designation, with its class.",
        _below("thread", "designation length side"), True,
    ),
    Group(
        "stock", "The bar", "Leave the size empty and the smallest standard bar is proposed.",
        _below("stock", "material shape across_flats across_corners diameter clean_up"), True,
    ),
    Group(
        "material", "Figures of the material", "Only where you know better than the table.",
        _below("stock", "kc11_n_per_mm2 mc density_g_per_cm3"),
    ),
    Group(
        "boss", "Boss, for an external thread", "What the bar is milled to before threading.",
        _below("boss", "depth shoulder ready diameter"), True,
    ),
    Group(
        "hole", "Hole, for an internal thread", "What is bored before threading.",
        _below("hole", "depth through ready diameter drilled_diameter"), True,
    ),
    Group(
        "cutter", "Thread mill", "Leave it all empty and one is proposed.",
        _below(
            "cutter",
            "diameter flutes number name tip_to_tooth rows row_pitch row_taper neck_diameter reach "
            "shank_diameter overhang holder_diameter substance least_pitch greatest_pitch",
        ),
    ),
    Group(
        "tooth", "Tooth of the thread mill",
        "Leave it empty and the tooth is taken to suit the thread.",
        (
            *_below(
                "cutter/tooth", "flank_angle_upper flank_angle_lower tip_width depth tip_radius"
            ),
            *_below("cutter", "tooth_assumed"),
        ),
    ),
    Group(
        "end_mill", "End mill for boss or hole", "Leave it all empty and one is proposed.",
        _below("end_mill", "diameter flutes flute_length number name overhang substance"),
    ),
    Group(
        "machine", "Machine", "What is left empty isn't checked.",
        _below(
            "machine",
            "greatest_spindle_speed greatest_feed spindle_power_kw rapid acceleration "
            "tool_change_seconds greatest_sweep helical_arcs chord_tolerance",
        ),
    ),
    Group(
        "cutting", "Cutting", "What is left empty is chosen, and the plan says how.",
        (
            *_below(
                "cutting",
                "milling surface_speed chip_load passes pass_method spring_passes radius_offset "
                "measured/pitch_diameter measured/radius_offset "
                "radial_clearance axial_clearance runout deflection_share",
            ),
            *_below("thread", "pitch_diameter_aim crest_aim edition"),
        ),
    ),
    Group(
        "program", "Program", "How the control wants it written.",
        _below(
            "program",
            "number work_offset radius_offset coolant arc_form helix_rise_words line_numbers "
            "unit_codes clearance_height safe_height centre_x centre_y",
        ),
    ),
    Group(
        "gauging", "Measuring and cost", "What is at hand to measure with; what an hour costs.",
        (*_below("gauging", "wire_diameter uncertainty"),
         *_below("costs", "hourly_rate setup_minutes")),
    ),
)  # fmt: skip

LABELS = {
    "/unit": "Unit",
    "/percent": "Percent of thread",
    "/size": "Size",
    "/measure": "That is the",
    "/diameter": "Diameter inside the hexagon",
    "/reading": "Reading of the gauge",
    "/wire": "Wire or ball diameter",
    "/reading_uncertainty": "Uncertainty of the reading",
    "/radius_offset": "Radius offset now",
    "/aim": "Pitch diameter to aim at",
    "/name": "Name of the part",
    "/thread/length": "Length of full thread",
    "/stock/kc11_n_per_mm2": "Specific cutting force kc1.1, N/mm²",
    "/stock/mc": "Its exponent mc",
    "/stock/density_g_per_cm3": "Density, g/cm³",
    "/boss/ready": "On size already",
    "/hole/ready": "On size already",
    "/cutter/number": "Tool number",
    "/cutter/tooth_assumed": "Assumed by a plan, never measured",
    "/end_mill/number": "Tool number",
    "/machine/spindle_power_kw": "Spindle power, kW",
    "/program/number": "Program number",
    "/program/radius_offset": "Number of the radius offset",
    "/cutting/radius_offset": "Correction from a measured part",
    "/cutting/measured/pitch_diameter": "Pitch diameter of that part",
    "/cutting/measured/radius_offset": "Correction it was cut with",
    "/program/centre_x": "X of the axis",
    "/program/centre_y": "Y of the axis",
}
"""Labels that say more than the field's own name."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A job as a form carries it: the document, and the fields that stand for it."""

    document: dict[str, Any]
    typed: MultiDict[str, str]
    problem: Problem | None = None

    @property
    def text(self) -> str:
        """The job document as it is saved."""
        return orjson.dumps(self.document, option=orjson.OPT_INDENT_2).decode() + "\n"


def document_of(typed: MultiDict[str, str]) -> Asked:
    """Return the job a form carries: as a document in `job`, else field by field.

    With a document, further `accept` fields are added to it. Errors: text that is no document.
    """
    if not typed.get("job"):
        return Asked(read(JOB, typed), typed)
    document = _parsed(typed["job"].encode("utf-8", "surrogatepass"))
    more, before = typed.getlist("accept"), document.get("accept") or []
    if more and type(before) is list:
        document["accept"] = [*before, *(code for code in more if code not in before)]
    return Asked(document, MultiDict(typed_from(document)))


def opened(typed: MultiDict[str, str], file: FileStorage | None) -> Asked:
    """Return the job of a document, pasted or in a file, with what is wrong with it."""
    body = file.read() if file is not None and file.filename else b""
    body = body or typed.get("job", "").encode("utf-8", "surrogatepass")
    if not body.strip():
        raise _no_document("there is no job document yet", "paste one, or choose a file")
    document = _parsed(body)
    filled: MultiDict[str, str] = MultiDict(typed_from(document))
    try:
        load(JOB, document)
    except Problem as problem:
        return Asked(document, filled, problem)
    return Asked(document, filled)


def _parsed(body: bytes) -> dict[str, Any]:
    try:
        document = parse(body, state().settings.depth_cap)
    except Problem as problem:
        raise _no_document(
            f"the job document can't be read: {problem.detail}",
            "paste the document whole, as it was saved",
        ) from problem
    if type(document) is not dict:
        raise _no_document("the job document isn't an object", "paste the document whole")
    return document


def _no_document(detail: str, change: str) -> BadInput:
    return BadInput(Fault("/job", "no_document", detail, change))


@dataclass(frozen=True, slots=True)
class Planned:
    """All the page shows of a plan."""

    plan: Plan
    drawings: tuple[tuple[str, str], ...]
    document: str
    acceptable: tuple[str, ...]

    @property
    def turns(self) -> str:
        """Turns of the thread and of the cutter."""
        return turns_words(self.plan.motion, self.plan.cutter.rows)


def _worked(document: Any) -> Work:
    job = job_from(load(JOB, document))
    with state().turns.taken(heavy=True):
        return work(job, __version__)


def planned(asked: Asked) -> Planned:
    """Return the plan of a job with its drawings."""
    done = _worked(asked.document)
    drawings = tuple((view, picture(done, view)) for view in views_of(done))
    codes = tuple(one.code for one in done.plan.checks if one.state == "refused" and one.acceptable)
    return Planned(done.plan, drawings, asked.text, codes)


def attachment(asked: Asked, what: str) -> Response:
    """Return the program, or the job document, as a file to save."""
    if what == "job":
        load(JOB, asked.document)
        return _file(asked.text, "application/json", f"{_stem(asked)}.json")
    program = _worked(asked.document).plan.program
    if program is None:
        raise BadInput(Fault(
            "", "no_program", "a check refuses this plan, so it has no program",
            "plan it, and change what the refused checks say",
        ))  # fmt: skip
    return _file(program.text, "text/plain; charset=utf-8", f"{_stem(asked)}.nc")


def _file(text: str, kind: str, name: str) -> Response:
    response = Response(text, content_type=kind)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return guarded(response, "default-src 'none'; sandbox")


def _stem(asked: Asked) -> str:
    name = re.sub(r"[^A-Za-z0-9]+", "-", str(asked.document.get("name", ""))).strip("-").lower()
    return name[:60] or "job"


def sheet_of(asked: Asked, request_id: str) -> Response:
    """Return the sheet for the machine."""
    found = sheet(_worked(asked.document))
    text = sheet_html(found, request_id)
    return guarded(Response(text, content_type="text/html; charset=utf-8"), SHEET_POLICY)
