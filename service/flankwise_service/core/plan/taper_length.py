"""A taper thread's length against what it must have to be made up, and to be gauged."""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.threads.model import StatedLimits
from flankwise_service.core.units import written


@dataclass(frozen=True, slots=True)
class TaperLengths:
    """What a taper thread needs along its axis, and what its standard calls it."""

    hand_tight: float
    """Without so much of it neither mate nor gauge comes to its place."""
    hand_tight_name: str
    whole: float
    """With the turns of the wrench."""
    whole_name: str


def taper_lengths(limits: StatedLimits) -> TaperLengths | None:
    """Return the lengths a taper thread needs, in the limits' unit; None where none are held.

    American: the hand-tight engagement L1; with the wrench L1 + L3 in a hole, and the effective
    length L2 outside. British: the greatest gauge length, and the useful thread length, both of
    the external thread, which a hole must take in. Sources: those of the limits.

    >>> from flankwise_service.core.threads import limits as limits_of, limits_in
    >>> port = taper_lengths(limits_in(limits_of("1/2-14 NPT", side="internal"), "in"))
    >>> port.hand_tight, round(port.whole, 4), port.whole_name
    (0.32, 0.5343, 'L1 + L3, hand tight and wrench')
    >>> pipe = taper_lengths(limits_in(limits_of("R 1/2"), "mm"))
    >>> pipe.hand_tight, pipe.whole
    (10.0, 13.2)
    """
    held = {name: float(value) for name, value in limits.extra.items() if value is not None}
    external = limits.side == "external"
    american = {"hand_tight_engagement", "wrench_makeup_length", "effective_length"}
    of = "" if external else "external_"
    british = {f"{of}gauge_length_max", f"{of}useful_thread_length"}
    if american <= held.keys():
        whole = held["hand_tight_engagement"] + held["wrench_makeup_length"]
        name = "L1 + L3, hand tight and wrench"
        if external:
            whole, name = held["effective_length"], "effective length L2"
        return TaperLengths(held["hand_tight_engagement"], "hand-tight engagement L1", whole, name)
    if british <= held.keys():
        mate = "" if external else " of its mate"
        return TaperLengths(
            held[f"{of}gauge_length_max"], f"greatest gauge length{mate}",
            held[f"{of}useful_thread_length"], f"useful thread length{mate}",
        )  # fmt: skip
    return None


def taper_length_check(job: Job, sizes: Sizes) -> Check:
    """Return whether a taper thread is long enough to be gauged, and to be made up.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> asked = ThreadAsked("1/2-14 NPT", 0.1, side="internal")
    >>> job = Job("in", asked, StockAsked("6061"), hole=HoleAsked(1.0, ready=True))
    >>> taper_length_check(job, sizes(asked, "in")).state
    'refused'
    """
    length, unit, needs = job.thread.length, job.unit, taper_lengths(sizes.limits)
    said = f"{written(length, unit)} {unit} of taper thread"
    if needs is None:
        return Check(
            "thread_length", "caution",
            f"{said} isn't checked: no gauge length of {sizes.limits.designation} is held",
            length, None, unit, "see that gauge and mate come to their place on so much of it",
        )  # fmt: skip
    hand_tight, whole = (
        f"{written(one, unit)} {unit} ({name})"
        for one, name in (
            (needs.hand_tight, needs.hand_tight_name),
            (needs.whole, needs.whole_name),
        )
    )
    if _short(length, needs.hand_tight):
        return Check(
            "thread_length", "refused",
            f"{said} is shorter than {hand_tight}: its mate runs out of thread before it is hand "
            "tight, and its gauge can't judge it",
            length, needs.hand_tight, unit, f"make the thread at least {whole} long",
            acceptable=True,
        )  # fmt: skip
    if _short(length, needs.whole):
        return Check(
            "thread_length", "caution",
            f"{said} holds its mate hand tight, {hand_tight}, but is shorter than {whole}: little "
            "is left for the wrench, and it may leak",
            length, needs.whole, unit, f"make the thread {whole} long",
        )  # fmt: skip
    detail = f"{said} covers what gauge and mate need, {whole}"
    return Check("thread_length", "passed", detail, length, needs.whole, unit)


def _short(length: float, needed: float) -> bool:
    """Return whether it falls short by more than a conversion's last bits."""
    return length < needed * (1 - 1e-9)
