"""The blank of a taper thread: it is turned or bored to the taper before it is threaded.

Its size is told at the face. From there a boss grows and a hole narrows, 1 on the diameter for 16
along the axis.
"""

from __future__ import annotations

from flankwise_service.core.errors import BadInput, Fault
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.threads.model import StatedLimits
from flankwise_service.core.units import written

MADE = {"external": "turned", "internal": "bored"}
"""How a blank gets its taper."""


def far_diameter(sizes: Sizes, at_face: float, depth: float) -> float:
    """Return a diameter of the blank at a depth below the face: `at_face` -+ taper * depth.

    A hole narrows, a boss grows; a straight thread's blank is as wide all along.

    >>> from flankwise_service.core.plan.job import ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> asked = ThreadAsked("1/2-14 NPT", 0.64, side="internal")
    >>> round(far_diameter(sizes(asked, "in"), 0.7245, 0.64), 4)
    0.6845
    """
    return at_face - sizes.outward * sizes.taper * depth


def taper_words(limits: StatedLimits) -> str:
    """Return how the blank tapers and where its size holds, in words; empty when it is straight.

    >>> from flankwise_service.core.threads import limits, limits_in
    >>> taper_words(limits_in(limits("R 1/2"), "mm"))
    'turned 1:16 on the diameter, this size at the face, the small end'
    """
    taper = limits.basic.taper
    if not taper:
        return ""
    end = "small" if limits.side == "external" else "large"
    return (
        f"{MADE[limits.side]} 1:{1 / taper:g} on the diameter, this size at the face, the {end} end"
    )


def taper_remarks(job: Job, sizes: Sizes, at_face: float) -> tuple[str, ...]:
    """Return what the program's header says of a taper blank and its gauge; short, without colons.

    >>> from flankwise_service.core.plan.job import BossAsked, Job, StockAsked, ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> asked = ThreadAsked("R 1/2", 13.0)
    >>> job = Job("mm", asked, StockAsked("CW614N"), boss=BossAsked(18.0, ready=True))
    >>> for line in taper_remarks(job, sizes(asked, "mm"), 20.442):
    ...     print(line)
    Boss is turned 1 to 16 on the diameter before this program
    Boss measures 21.255 mm at the end of the thread, 13 mm down
    Gauge with a taper ring, hand tight, as the sheet says
    """
    if not sizes.taper:
        return ()
    external, unit, length = sizes.side == "external", job.unit, job.thread.length
    what, gauge = ("Boss", "ring") if external else ("Hole", "plug")
    ratio = f"1 to {1 / sizes.taper:g} on the diameter"
    far = far_diameter(sizes, at_face, length)
    return (
        f"{what} is {MADE[sizes.side]} {ratio} before this program",
        f"{what} measures {written(far, unit, 5)} {unit} at the end of the thread, "
        f"{written(length, unit)} {unit} down",
        f"Gauge with a taper {gauge}, hand tight, as the sheet says",
    )


def refuse_straight_blank(job: Job, sizes: Sizes) -> None:
    """Refuse to mill the blank of a taper thread straight: its crests would be wrong all the way.

    Errors: at /boss/ready or /hole/ready, for the program mills no taper.
    """
    kind, asked = ("boss", job.boss) if sizes.side == "external" else ("hole", job.hole)
    if not sizes.taper or (asked and asked.ready):
        return
    name, ratio = sizes.limits.designation, f"1:{1 / sizes.taper:g}"
    if kind == "boss":
        detail = f"{name} needs a boss turned to the taper {ratio}; it can't be milled straight"
        first = "turn the taper first"
    else:
        detail = (
            f"{name} needs a hole bored or reamed to the taper {ratio}: bored straight, it would "
            "be too wide below the face, and the thread's crests would be missing there. A "
            "straight hole drilled narrower, as for a tap, isn't taken: a tap cuts the crests too, "
            "a thread mill doesn't, and they would stand too far in toward the face"
        )
        first = "bore or ream the taper first"
    change = f"{first}, set {kind}.ready to true, and give {kind}.diameter as measured at the face"
    raise BadInput(Fault(f"/{kind}/ready", f"taper_{kind}", detail, change, False))


def taper_checks(job: Job, sizes: Sizes, at_face: float) -> tuple[Check, ...]:
    """Return what a taper blank must measure at the far end of the thread; none when straight."""
    if not sizes.taper:
        return ()
    unit, length = job.unit, job.thread.length
    what = "boss" if sizes.side == "external" else "hole"
    far = far_diameter(sizes, at_face, length)
    least, greatest = (
        written(far_diameter(sizes, one, length), unit, 5) for one in sizes.crest_diameter
    )
    measure = f"measure the {what} {written(length, unit)} {unit} below the face too: "
    detail = (
        f"the {what} is taken as {MADE[sizes.side]} 1:{1 / sizes.taper:g}: "
        f"{written(at_face, unit, 5)} {unit} at the face, {written(far, unit, 5)} {unit} at the "
        f"end of the thread, {written(length, unit)} {unit} below it "
        f"({least} to {greatest} {unit} there)"
    )
    return (
        Check(
            "blank_taper", "passed", detail, far, None, unit,
            f"{measure}{least} to {greatest} {unit}"
            f"{_left_straight(sizes, at_face, length)}",
        ),
    )  # fmt: skip


def _left_straight(sizes: Sizes, at_face: float, length: float) -> str:
    """Return from where on a blank left straight is outside its limits, in words; "" if nowhere."""
    least, greatest = sizes.crest_diameter
    room = greatest - at_face if sizes.side == "internal" else at_face - least
    down = max(room, 0.0) / sizes.taper
    if down >= length:
        return ""
    return (
        f"; one left straight is outside its limits from {down:.2g} {sizes.unit} down, and its "
        "crests would be missing there"
    )
