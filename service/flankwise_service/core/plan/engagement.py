"""Length of engagement: the thread against the length that tolerances of its class hold for."""

from __future__ import annotations

from flankwise_service.core.plan.check import Check, at_least
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.units import written

LONG_ENGAGEMENT = 1.5
"""Thread length over diameter beyond which tolerances for the normal length of engagement no
longer hold (ASME B1.1, pitch diameter tolerance for lengths of engagement over 1.5 D; memory)."""


def engagement_check(job: Job, at: Sizes) -> Check:
    """Return whether the thread is as long as its class's tolerances are meant for.

    >>> from flankwise_service.core.plan.job import HoleAsked, StockAsked, ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 32.0), StockAsked("6082"), hole=HoleAsked(38.0))
    >>> found = engagement_check(job, sizes(job.thread, job.unit))
    >>> found.state, found.figure, found.limit
    ('caution', 32.0, 30.0)
    """
    if job.thread.length < at.pitch:
        return at_least(
            "thread_length", job.thread.length, at.pitch, "thread length", job.unit,
            "a thread shorter than one pitch holds nothing: make it longer", acceptable=True,
        )  # fmt: skip
    diameter = float(at.limits.diameter)
    longest = LONG_ENGAGEMENT * diameter
    if at.taper or job.thread.length <= longest:
        detail = (
            f"thread length {written(job.thread.length, job.unit)} {job.unit} suits the class's "
            "tolerance"
        )
        return Check("thread_length", "passed", detail, job.thread.length, longest, job.unit)
    return Check(
        "thread_length", "caution",
        f"{written(job.thread.length, job.unit)} {job.unit} of thread is longer than "
        f"{LONG_ENGAGEMENT:g} "
        f"diameters: over that length the pitch error adds up and the class may bind",
        job.thread.length, longest, job.unit,
        "gauge it over its whole length, or name the length of engagement in the designation",
    )  # fmt: skip
