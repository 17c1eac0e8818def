"""The pass that lands a thread's pitch diameter on its aim, with a given cutter."""

from __future__ import annotations

from dataclasses import dataclass, replace

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.form.correction import RadiusCorrection, aimed, radius_correction
from flankwise_service.core.form.job import Job, start_of
from flankwise_service.core.form.model import Cut, Pass
from flankwise_service.core.form.section import Section, section


@dataclass(frozen=True, slots=True)
class Landed:
    """The pass that lands the pitch diameter on its aim, and the groove it leaves."""

    correction: RadiusCorrection
    cut: Cut
    section: Section


def landed(job: Job, cutter: Cutter, points: int = 200) -> Landed:
    """Return the pass of `cutter` that lands the pitch diameter of `job` on its aim.

    Raises BadInput, Impossible.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.job import job_for
    >>> from flankwise_service.core.threads import limits
    >>> job = job_for(limits("M8x1.25-6H"))
    >>> found = landed(job, Cutter(6.0, 3, Tooth(30.0, 30.0, 0.15625, 0.9)))
    >>> round(found.section.pitch_diameter, 4), round(found.correction.centre_radius, 4)
    (7.268, 0.9961)
    """
    start = start_of(job, cutter)
    found = radius_correction(start, aimed(job.pitch_diameter_limits, job.fraction))
    cut = replace(start, passes=(Pass(found.centre_radius),))
    left = section(
        cut,
        job.crest_diameter / 2,
        points=points,
        flank_angles=job.flank_angles,
        pitch_diameter_limits=job.pitch_diameter_limits,
    )
    return Landed(found, cut, left)
