"""The thread to be cut, as the form needs it: numbers in one unit, limits, aims."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.form.largest import Hole
from flankwise_service.core.form.model import Cut, Pass
from flankwise_service.core.threads.model import Side, Span
from flankwise_service.core.threads.sized import Sized, pitch_limits


@dataclass(frozen=True, slots=True)
class Job:
    """The thread that cutters are compared for. Lengths in one unit, angles in degrees."""

    side: Side
    pitch: float
    crest_diameter: float
    """Of the hole before threading, or of the turned blank."""
    pitch_diameter_limits: tuple[float, float]
    root_diameter_limit: float | None = None
    """Least major (internal) or greatest minor diameter (external): the root must reach it."""
    flank_angles: tuple[float, float] = (30.0, 30.0)
    starts: int = 1
    taper: float = 0.0
    fraction: float = 0.5
    """Where in its tolerance the pitch diameter is aimed."""
    clearance: float = 0.0
    """Radial, wanted between cutter and hole as it enters, and between neck and crest."""
    share: float = 0.25
    """Part of the tolerance the overcut may take before correction."""


def job_for(
    limits: Sized,
    *,
    crest_diameter: float | None = None,
    fraction: float = 0.5,
    share: float = 0.25,
    clearance: float = 0.0,
) -> Job:
    """Return a standard thread as the form needs it, in the unit of `limits`.

    Without `crest_diameter` hole or blank is the middle of its limits. The tooth's upper side cuts
    the flank that faces -Z, the basic profile's lower one. On a taper, diameters are at the plane
    the limits hold for. NoSource where no pitch diameter limits are set.

    >>> from flankwise_service.core.threads import limits
    >>> found = job_for(limits("M8x1.25-6H"))
    >>> found.pitch_diameter_limits, found.root_diameter_limit, round(found.crest_diameter, 4)
    ((7.188, 7.348), 8.0, 6.7795)
    """
    internal, basic = limits.side == "internal", limits.basic
    crest = limits.minor_diameter if internal else limits.major_diameter
    root = limits.major_diameter.min if internal else limits.minor_diameter.max
    nominal = float(basic.minor_diameter if internal else basic.major_diameter)
    return Job(
        side=limits.side,
        pitch=float(basic.pitch),
        crest_diameter=crest_diameter if crest_diameter is not None else _middle(crest, nominal),
        pitch_diameter_limits=pitch_limits(limits),
        root_diameter_limit=None if root is None else float(root),
        flank_angles=(basic.flank_angle_lower, basic.flank_angle_upper),
        starts=basic.starts,
        taper=basic.taper if internal else 0.0 - basic.taper,
        fraction=fraction,
        clearance=clearance,
        share=share,
    )


def _middle(span: Span, nominal: float) -> float:
    ends = [float(end) for end in (span.min, span.max) if end is not None]
    return sum(ends) / len(ends) if ends else nominal


def start_of(job: Job, cutter: Cutter) -> Cut:
    """Return a cut whose root lies one tooth short of where the pitch line asks: a place to start.

    The correction moves it to size.
    """
    outward = 1.0 if job.side == "internal" else -1.0
    radius = cutter.diameter / 2
    slopes = sum(math.tan(math.radians(a)) for a in job.flank_angles)
    height = (job.pitch / 2 - cutter.tooth.tip_width) / slopes
    pitch_radius = sum(job.pitch_diameter_limits) / 4
    centre = max(pitch_radius + outward * (height - radius), 1e-3 * radius)
    centre = centre if job.side == "internal" else max(centre, radius * (1 + 1e-9))
    return Cut(cutter.tooth, radius, job.side, job.pitch, (Pass(centre),), job.starts, job.taper)


def hole_for(job: Job, tip_width: float) -> Hole:
    """Return the internal thread of `job` as the search for the greatest cutter needs it."""
    least, most = job.pitch_diameter_limits
    root = job.root_diameter_limit
    return Hole(
        minor_diameter=job.crest_diameter,
        pitch_diameter_least=least,
        pitch_diameter_greatest=most,
        major_diameter_least=most if root is None else root,
        pitch=job.pitch,
        tip_width=tip_width,
        starts=job.starts,
        flank_angle_upper=job.flank_angles[0],
        flank_angle_lower=job.flank_angles[1],
    )
