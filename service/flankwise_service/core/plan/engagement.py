"""Length of engagement: the thread against the length that tolerances of its class hold for."""

from __future__ import annotations

from typing import Literal, NamedTuple

from flankwise_service.core.plan.check import Check, at_least
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.taper_length import taper_length_check
from flankwise_service.core.units import written

LONG_ENGAGEMENT = 1.5
"""Thread length over diameter beyond which tolerances for the normal length of engagement no
longer hold (ASME B1.1, pitch diameter tolerance for lengths of engagement over 1.5 D; memory)."""
GROUPS: dict[Literal["S", "N", "L"], str] = {"S": "short", "N": "normal", "L": "long"}
"""Groups of ISO 965-1's lengths of engagement."""
LAST_BITS = 1e-9


class Normal(NamedTuple):
    """ISO 965-1's normal lengths of engagement of one thread: over `least`, up to `greatest`."""

    least: float
    greatest: float


def engagement_check(job: Job, at: Sizes) -> Check:
    """Return whether the thread is as long as its class's tolerances are meant for.

    ISO metric threads are held against their normal lengths of engagement, taper threads against
    what they need to be made up, all others against 1.5 diameters.

    >>> from flankwise_service.core.plan.job import HoleAsked, StockAsked, ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 32.0), StockAsked("6082"), hole=HoleAsked(38.0))
    >>> found = engagement_check(job, sizes(job.thread, job.unit))
    >>> found.state, found.figure, found.limit
    ('caution', 32.0, 16.0)
    """
    if job.thread.length < at.pitch:
        return at_least(
            "thread_length", job.thread.length, at.pitch, "thread length", job.unit,
            "a thread shorter than one pitch holds nothing: make it longer", acceptable=True,
        )  # fmt: skip
    if at.taper:
        return taper_length_check(job, at)
    normal = normal_engagement(at)
    return _by_diameters(job, at) if normal is None else _by_group(job, at, normal)


def normal_engagement(at: Sizes) -> Normal | None:
    """Return the thread's normal lengths of engagement; None where its standard's aren't held.

    >>> from flankwise_service.core.plan.job import ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> normal_engagement(sizes(ThreadAsked("M24x1.5-6G", 18.0), "mm"))
    Normal(least=6.3, greatest=19.0)
    """
    extra = at.limits.extra
    over, up_to = (extra.get(f"normal_engagement_{name}") for name in ("over", "up_to"))
    return None if over is None or up_to is None else Normal(float(over), float(up_to))


def _by_group(job: Job, at: Sizes, normal: Normal) -> Check:
    """Return whether the length lies in the group that the designation names, N where it doesn't.

    Source: ISO 965-1, lengths of thread engagement.
    """
    length, unit, meant = job.thread.length, job.unit, at.limits.engagement_group or "N"
    found = _group(length, normal)
    least, greatest = (written(one, unit) for one in normal)
    said = (
        f"{written(length, unit)} {unit} of thread is {GROUPS[found]} engagement, group {found} of "
        f"ISO 965-1 (normal is over {least}, up to {greatest} {unit})"
    )
    limit = normal.least if found == "S" else normal.greatest
    if found == meant:
        detail = f"{said}: the class's tolerance is for that"
        return Check("thread_length", "passed", detail, length, limit, unit)
    why = "over that length pitch errors add up, and the mate may bind"
    change = f"let its mate be no longer than {greatest} {unit}, gauge it over its whole length, or"
    if found != "L":
        why, change = "less thread carries the load", "see that it carries the load, or"
    return Check(
        "thread_length", "caution",
        f"{said}; the class's tolerance is for group {meant}: {why}", length, limit, unit,
        f"{change} name group {found} in the designation, with a class for it",
    )  # fmt: skip


def _group(length: float, normal: Normal) -> Literal["S", "N", "L"]:
    if length <= normal.least * (1 + LAST_BITS):
        return "S"
    return "N" if length <= normal.greatest * (1 + LAST_BITS) else "L"


def _by_diameters(job: Job, at: Sizes) -> Check:
    length, unit = job.thread.length, job.unit
    longest = LONG_ENGAGEMENT * float(at.limits.diameter)
    said = f"{written(length, unit)} {unit}"
    if length <= longest:
        detail = f"thread length {said} suits the class's tolerance"
        return Check("thread_length", "passed", detail, length, longest, unit)
    return Check(
        "thread_length", "caution",
        f"{said} of thread is longer than {LONG_ENGAGEMENT:g} diameters: over that length the "
        "pitch error adds up and the class may bind",
        length, longest, unit,
        "gauge it over its whole length, or name the length of engagement in the designation",
    )  # fmt: skip
