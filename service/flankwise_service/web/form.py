"""Form: the groove a turning tooth really cuts, and the radius that lands it on size."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from flankwise_service.core.form.condition import condition_effect
from flankwise_service.core.form.job import Job, hole_for, job_for
from flankwise_service.core.form.landed import landed
from flankwise_service.core.form.largest import largest_cutter, trend
from flankwise_service.core.form.model import Cut, Pass
from flankwise_service.core.form.offset import Measurement, diameter_per_depth, next_offset
from flankwise_service.core.form.pitchline import overcut_effect_first_order
from flankwise_service.core.form.ranking import RankedCutter, rank_cutters
from flankwise_service.core.form.rows import rows_effect
from flankwise_service.core.form.section import section
from flankwise_service.core.form.tilt import tilt_effect
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.web.dump import in_unit
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas import form as schemas
from flankwise_service.web.schemas import form_reply as replies
from flankwise_service.web.tools import cutter_from, tooth_from

blueprint = Blueprint("form", __name__)
_SECTION = {
    "/cutter_radius": "/cutter_diameter",
    "/crest_radius": "/crest_diameter",
    "/pitch_diameter_limits": "/pitch_diameter",
    "/flank_angles/0": "/flank_angle_upper",
    "/flank_angles/1": "/flank_angle_lower",
}
_THREAD = {"/limits": "/designation", "/basic": "/designation", "/fraction": "/aim"}
_CUTTER = {
    **_THREAD,
    "/tooth": "/cutter/tooth",
    "/cutter_radius": "/cutter/diameter",
    "/passes": "/cutter",
    "/crest_radius": "/crest_diameter",
}


@operation(
    blueprint, "POST", "/form/section", id="form_section", tag="form",
    asks=schemas.FormSectionAsk, replies=replies.FormSectionReply,
    summary="The groove really cut, measured", pointers=_SECTION,
)  # fmt: skip
def form_section(asked: dict[str, Any]) -> object:
    """The axial section that a turning tooth leaves when its axis runs on a helix, in closed form.

    Any tooth (flat or round tip, unequal flanks), lead, starts, side and taper; several passes at
    different radii and heights; rows out of step. Z = 0 is the middle of the tooth. The tooth's
    upper side, toward the shank, cuts the groove's upper edge. Compare the shares of the
    tolerance: the radius correction takes back `used_by_overcut`, nothing takes back
    `used_by_form`.
    """
    passes = tuple(Pass(**one) for one in asked["passes"])
    cut = Cut(
        tooth_from(asked["tooth"]), asked["cutter_diameter"] / 2, asked["side"], asked["pitch"],
        passes, asked["starts"], asked["taper"],
    )  # fmt: skip
    row_pitch = asked["row_pitch"] or asked["pitch"]
    rows = rows_effect(
        cut, rows=asked["rows"], row_pitch=row_pitch, rows_through=asked["rows_through"]
    )
    left = section(
        rows.cut,
        asked["crest_diameter"] / 2,
        points=asked["points"],
        flank_angles=_own_angles(asked, cut),
        pitch_diameter_limits=_pair(asked["pitch_diameter"]),
        pitch_spread=rows.pitch_spread,
    )
    return {
        "unit": asked["unit"],
        "section": left,
        "overcut_effect_first_order": overcut_effect_first_order(cut),
        "diameter_per_depth": diameter_per_depth(rows.cut),
        "pitch_spread": rows.pitch_spread,
    }


def _own_angles(asked: dict[str, Any], cut: Cut) -> tuple[float, float]:
    """Return the thread's flank angles, the tooth's where none are given."""
    own = (cut.tooth.flank_angle_upper, cut.tooth.flank_angle_lower)
    given = (asked["flank_angle_upper"], asked["flank_angle_lower"])
    upper, lower = (a if g is None else g for a, g in zip(own, given, strict=True))
    return upper, lower


def _pair(span: dict[str, float] | None) -> tuple[float, float] | None:
    return None if span is None else (span["min"], span["max"])


def _job(asked: dict[str, Any], **rest: float) -> tuple[str, Job]:
    """Return the canonical designation and the job of a standard thread."""
    found = limits(asked["designation"], side=asked["side"])
    stated = limits_in(found, asked["unit"])
    job = job_for(stated, crest_diameter=asked["crest_diameter"], fraction=asked["aim"], **rest)
    return stated.designation, job


@operation(
    blueprint, "POST", "/form/correction", id="form_correction", tag="form",
    asks=schemas.FormCorrectionAsk, replies=replies.FormCorrectionReply,
    summary="The centre path that lands the pitch diameter on its aim", pointers=_CUTTER,
)  # fmt: skip
def form_correction(asked: dict[str, Any]) -> object:
    """The radius of the centre path from the form really cut, not from the nominal triangle, the
    groove it then leaves, and what runout, wear and an upright axis do to the pitch diameter.

    The path is for a true and sharp cutter: `condition` tells how far runout and wear move it.
    """
    designation, job = _job(asked)
    cutter = cutter_from(asked["cutter"])
    found = landed(job, cutter)
    return {
        "designation": designation,
        "unit": asked["unit"],
        "crest_diameter": job.crest_diameter,
        "correction": found.correction,
        "section": found.section,
        "diameter_per_depth": diameter_per_depth(found.cut),
        "condition": condition_effect(
            found.cut,
            flutes=cutter.flutes,
            runout=asked["runout"],
            radial_wear=asked["radial_wear"],
        ),
        "tilt": tilt_effect(found.cut) if job.taper == 0.0 else None,
    }


@operation(
    blueprint, "POST", "/form/cutters", id="form_cutters", heavy=True, tag="form",
    asks=schemas.FormCuttersAsk, replies=replies.FormCuttersReply,
    summary="Cutters at hand compared by the form they leave, and the greatest there may be",
    pointers={**_THREAD, "/hole": "/designation", "/hole/minor_diameter": "/crest_diameter"},
)  # fmt: skip
def form_cutters(asked: dict[str, Any]) -> object:
    """Ranks the cutters: those that will do first, the greatest, and so stiffest, leading; each
    other with the figures against it. For an internal thread also the greatest cutter diameter
    that may be, by the overcut's share of the tolerance, by the major diameter once corrected and
    by the hole, and how it moves with pitch and diameter.
    """
    designation, job = _job(asked, share=asked["share"], clearance=asked["clearance"])
    cutters = [cutter_from(one) for one in asked["cutters"]]
    ranking = rank_cutters(job, cutters)
    reply: dict[str, object] = {
        "designation": designation,
        "unit": asked["unit"],
        "crest_diameter": job.crest_diameter,
        "ranking": [_ranked(one) for one in ranking],
        "largest": None,
        "trend": [],
    }
    if job.side == "internal" and job.taper == 0.0:
        hole = hole_for(job, ranking[0].cutter.tooth.tip_width)
        by = (job.share, job.clearance, job.fraction)
        reply |= {"largest": largest_cutter(hole, *by), "trend": trend(hole, *by)}
    return reply


def _ranked(one: RankedCutter) -> dict[str, object]:
    left = one.section
    return {
        "place": one.place,
        "cutter_index": one.index,
        "name": one.cutter.name,
        "diameter": one.cutter.diameter,
        "will_do": one.will_do,
        "against": one.against,
        "correction": one.correction,
        "used_by_overcut": one.used_by_overcut,
        "used_by_form": one.used_by_form,
        "functional_diameter": left.functional_diameter if left else None,
        "root_radius": left.root_radius if left else None,
        "crest_width": left.crest_width if left else None,
    }


@operation(
    blueprint, "POST", "/form/offset", id="form_offset", tag="form",
    asks=schemas.FormOffsetAsk, replies=replies.FormOffsetReply,
    summary="The radius offset to set next, from all sizes measured so far",
    pointers={"/per_depth": "/diameter_per_depth"},
)  # fmt: skip
def form_offset(asked: dict[str, Any]) -> object:
    """From sizes measured at known radius offsets to the offset that should bring the size wanted.

    One measurement takes the machine as ideal; each further one, weighed against the gauge's own
    doubt, tells how much of an offset's change it really turns into size. Absurd changes and
    answers that make no sense are refused.
    """
    measurements = [Measurement(**one) for one in asked["measurements"]]
    found = next_offset(
        measurements,
        asked["aim"],
        side=asked["side"],
        pitch=asked["pitch"],
        unit=asked["unit"],
        uncertainty=asked["uncertainty"],
        per_depth=asked["diameter_per_depth"],
    )
    return in_unit(asked["unit"], found)
