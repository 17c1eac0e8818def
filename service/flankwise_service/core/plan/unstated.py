"""What the job doesn't state of its machine, and what the program then asks of it unchecked."""

from __future__ import annotations

from flankwise_service.core.cutting.speed import SpindleSpeed
from flankwise_service.core.errors import plain
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.milling import DRIVE_EFFICIENCY
from flankwise_service.core.plan.result import BlankPlan, PassPlan

COMMON_SPINDLE = 10_000.0
"""Greatest speed in rev/min that most spindles reach (common practice, no source)."""


def greatest_speed_asked(speed: SpindleSpeed, blank: BlankPlan) -> float:
    """Return the greatest spindle speed of the program's tools, rev/min."""
    return max(speed.speed, blank.speed.speed if blank.speed else 0.0)


def machine_words(
    job: Job, speed: SpindleSpeed, blank: BlankPlan, passes: tuple[PassPlan, ...]
) -> tuple[str, ...]:
    """Return in words which limits of the machine aren't checked, with what is asked of each.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> from flankwise_service.core.plan.compose import work
    >>> [line[:44] for line in work(job, "1.0.0").plan.assumed if line.startswith("machine")]
    ['machine: greatest spindle speed, greatest fe']
    """
    machine = job.machine
    feed = max(one.work.feed.path_feed for one in passes)
    power = max(one.work.force.power_kw for one in passes) / DRIVE_EFFICIENCY
    figures = (
        ("greatest spindle speed", machine.greatest_spindle_speed,
         f"{greatest_speed_asked(speed, blank):.0f} rev/min"),
        ("greatest feed", machine.greatest_feed, f"{plain(feed, 4)} {job.unit}/min"),
        ("spindle power", machine.spindle_power_kw, f"{plain(power, 2)} kW"),
    )  # fmt: skip
    open_ = [(name, asked) for name, stated, asked in figures if stated is None]
    if not open_:
        return ()
    names, asked = (_listed([pair[at] for pair in open_]) for at in (0, 1))
    verb = "is" if len(open_) == 1 else "are"
    return (f"machine: {names} not stated, so not checked; {asked} {verb} asked",)


def _listed(words: list[str]) -> str:
    """Return words with commas and an "and" before the last."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def unstated_speed_checks(job: Job, speed: SpindleSpeed, blank: BlankPlan) -> tuple[Check, ...]:
    """Return a caution where a speed that few spindles reach is asked of an unstated machine."""
    asked = greatest_speed_asked(speed, blank)
    if job.machine.greatest_spindle_speed is not None or asked <= COMMON_SPINDLE:
        return ()
    return (
        Check(
            "spindle_speed", "caution",
            f"{asked:.0f} rev/min is asked, and the machine's greatest spindle speed isn't stated: "
            f"many spindles stop at {COMMON_SPINDLE:.0f} (common practice, no source)",
            asked, COMMON_SPINDLE, "rev/min",
            "state machine.greatest_spindle_speed: a spindle that turns slower at the same feed "
            "bites too much a tooth and breaks the cutter",
        ),
    )  # fmt: skip
