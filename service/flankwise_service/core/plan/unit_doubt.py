"""A job in the wrong unit, asked about once, before everything that follows from it."""

from __future__ import annotations

from collections.abc import Iterator

from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.core.plan.job import Job
from flankwise_service.core.threads import parse
from flankwise_service.core.units import Unit, convert, written

SOUND = (0.3, 3.0)
"""Shares of the thread's diameter within which bars, blanks, cutters and end mills mostly are."""
ABSURD = (0.12, 7.5)
"""Shares beyond which none is (common practice, no source)."""
FEWEST = 2
NAMES: dict[Unit, str] = {"in": "inches", "mm": "millimetres"}


def with_unit_doubt(job: Job, refusal: Refusal) -> Refusal:
    """Return a refusal, and first the question whether the unit is right, where all sizes ask it.

    The thread's diameter is known from its designation. Only where every diameter stated is absurd
    beside it, at least two of them, and all would be sound in the other unit, is it asked.

    >>> from flankwise_service.core.plan.job import CutterAsked, HoleAsked, StockAsked, ThreadAsked
    >>> refusal = Refusal(Fault("/cutter", "", "", ""))
    >>> job = Job("in", ThreadAsked("M5-6H", 8.0), StockAsked("6082", "round", diameter=12.0),
    ...           hole=HoleAsked(12.0), cutter=CutterAsked(3.0, 3))
    >>> with_unit_doubt(job, refusal).faults[0].change
    'set unit to mm, or correct the sizes'
    """
    found = _doubt(job)
    return refusal if found is None else type(refusal)(found, *refusal.faults)


def _doubt(job: Job) -> Fault | None:
    """Return the question, None where there is nothing to ask."""
    try:
        thread = parse(job.thread.designation)
    except Refusal:
        return None
    other: Unit = "mm" if job.unit == "in" else "in"
    diameter = convert(float(thread.diameter), thread.unit, job.unit)
    sizes = dict(_stated(job))
    shares = [size / diameter for size in sizes.values()]
    absurd = all(not ABSURD[0] <= share <= ABSURD[1] for share in shares)
    sound = all(SOUND[0] <= convert(share, other, job.unit) <= SOUND[1] for share in shares)
    if len(sizes) < FEWEST or not absurd or not sound:
        return None
    told = ", ".join(f"{name} {written(size, job.unit)}" for name, size in sizes.items())
    return Fault(
        "/unit",
        "unit_doubtful",
        f"is the unit right? {thread.designation} is {written(diameter, job.unit)} {job.unit} in "
        f"diameter, and what is stated beside it ({told}) would suit it in {NAMES[other]}, not in "
        f"{NAMES[job.unit]}",
        f"set unit to {other}, or correct the sizes",
        job.unit,
        near=(other,),
    )


def _stated(job: Job) -> Iterator[tuple[str, float]]:
    """Yield the diameters that the job states, each by its name."""
    stock, boss, hole = job.stock, job.boss, job.hole
    places = {
        "bar": stock.across_flats or stock.across_corners or stock.diameter,
        "boss": boss and boss.diameter,
        "hole": hole and (hole.diameter or hole.drilled_diameter),
        "cutter": job.cutter and job.cutter.diameter,
        "end mill": job.end_mill and job.end_mill.diameter,
    }
    for name, size in places.items():
        if size:
            yield name, size
