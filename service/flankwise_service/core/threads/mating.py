"""Two threads put together: clearance or interference at pitch, major and minor diameter.

Clearances are on the diameter: internal size less external size; negative is interference.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    Impossible,
    NoSource,
    Refusal,
    plain,
)
from flankwise_service.core.threads.model import Limits, Side, Source, Span, Thread
from flankwise_service.core.threads.register import classes, limits, limits_in, parse
from flankwise_service.core.units import Unit, convert

Runs = Literal["always free", "may bind", "always binds", "not limited"]

GEOMETRY = Source("limits of both threads", "as each states", "internal less external")
PERCENT = Source("Machinery's Handbook", "31", "p. 2155, table 2: (D - hole) n / 0.01299", "seen")
SIDES: tuple[Side, ...] = ("external", "internal")
_HUNDRED_PERCENT = 1.299
"""100 percent of thread, on the diameter, over the pitch: 3/2 of the sharp height."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Why two threads can't go together."""

    code: str
    words: str


@dataclass(frozen=True, slots=True)
class Clearance:
    """Least and greatest of internal less external size; None where a standard sets no limit."""

    least: Decimal | None
    greatest: Decimal | None
    runs: Runs


@dataclass(frozen=True, slots=True)
class Fit:
    """What happens when the two are screwed together. Lengths in `unit`."""

    external: str
    internal: str
    unit: Unit
    mates: bool
    obstacles: tuple[Obstacle, ...]
    pitch_diameter: Clearance
    major_diameter: Clearance
    minor_diameter: Clearance
    least_overlap: float | None
    """Radial height over which the flanks overlap, least; None where limits are missing."""
    greatest_overlap: float | None
    least_overlap_percent: float | None
    """Overlap over the basic profile's own, major less minor diameter."""
    greatest_overlap_percent: float | None
    least_percent_of_thread: float | None
    """The trade's percent of thread, 60 degree threads only: 100 is 1.299 pitches on diameter."""
    greatest_percent_of_thread: float | None
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class ClassPair:
    """Clearance on the pitch diameter of one pair of classes."""

    external_class: str
    internal_class: str
    least: Decimal | None
    greatest: Decimal | None
    runs: Runs


def obstacles(external: Limits, internal: Limits, unit: Unit) -> tuple[Obstacle, ...]:
    """Return all that keeps two threads from going together, sizes of one class aside.

    Its words tell lengths in `unit`.
    """
    found = []
    out, inn = external.basic, internal.basic
    if external.thread.hand != internal.thread.hand:
        found.append(Obstacle("hand", "one is right-hand, the other left-hand"))
    pitches = [convert(float(e.basic.pitch), e.thread.unit, unit) for e in (external, internal)]
    if abs(pitches[0] - pitches[1]) > 1e-4 * pitches[0]:
        told = " and ".join(f"{plain(pitch, 5)} {unit}" for pitch in pitches)
        found.append(Obstacle("pitch", f"pitches differ: {told}"))
    if out.starts != inn.starts:
        found.append(
            Obstacle("lead", f"starts differ, so leads do: {out.starts} and {inn.starts} starts")
        )
    angles = [(one.flank_angle_upper, one.flank_angle_lower) for one in (out, inn)]
    if sorted(angles[0]) != sorted(angles[1]):
        shown = [f"{plain(upper + lower)}" for upper, lower in angles]
        found.append(
            Obstacle("flank_angle", f"included angles differ: {shown[0]} and {shown[1]} degrees")
        )
    if external.thread.rounded_root and _is_j(external.thread) and not _is_j(internal.thread):
        found.append(
            Obstacle(
                "root_form",
                "the J thread's large root radius runs into the crests of an internal "
                "thread that isn't J",
            )
        )
    return tuple(found)


def _is_j(thread: Thread) -> bool:
    return thread.family in ("unified_j", "metric_j")


def refuse_unlike(external: Limits, internal: Limits, unit: Unit) -> None:
    """Raise BadInput for two of one side, Impossible where an obstacle keeps them apart."""
    _refuse_sides(external, internal)
    faults = Faults()
    for obstacle in obstacles(external, internal, unit):
        faults.add(
            Fault(
                "/internal",
                f"other_{obstacle.code}",
                f"{external.thread.designation} and {internal.thread.designation} don't mate: "
                f"{obstacle.words}",
                "give two threads of one form, pitch, lead and hand",
            )
        )
    faults.raise_any(Impossible)


def fit(external: Limits, internal: Limits, unit: Unit) -> Fit:
    """Return clearances and overlap of two threads, in `unit`; says why where they can't mate.

    Errors: BadInput where both are of one side. Tapered pairs are given at the gauge plane.
    """
    _refuse_sides(external, internal)
    out, inn = limits_in(external, unit), limits_in(internal, unit)
    found = list(obstacles(external, internal, unit))
    pitch = clearance(out.pitch_diameter, inn.pitch_diameter)
    major = clearance(out.major_diameter, inn.major_diameter)
    minor = clearance(out.minor_diameter, inn.minor_diameter)
    taper = max(out.basic.taper, inn.basic.taper) > 0
    for name, one in (("pitch", pitch), ("major", major), ("minor", minor)):
        if one.runs == "always binds" and not taper:
            found.append(
                Obstacle(f"{name}_binds", f"the {name} diameters interfere even at their loosest")
            )
    overlap = _overlap(out.major_diameter, inn.minor_diameter)
    whole = float(out.basic.major_diameter - out.basic.minor_diameter)
    sixty = out.basic.flank_angle_upper == out.basic.flank_angle_lower == 30.0
    trade = _HUNDRED_PERCENT * float(out.basic.pitch) if sixty else None
    height = _share(overlap, 2.0)
    percent, traded = _share(overlap, whole / 100), _share(overlap, trade and trade / 100)
    return Fit(
        external=external.thread.designation,
        internal=internal.thread.designation,
        unit=unit,
        mates=not found,
        obstacles=tuple(found),
        pitch_diameter=pitch,
        major_diameter=major,
        minor_diameter=minor,
        least_overlap=height[0],
        greatest_overlap=height[1],
        least_overlap_percent=percent[0],
        greatest_overlap_percent=percent[1],
        least_percent_of_thread=traded[0],
        greatest_percent_of_thread=traded[1],
        sources=tuple(dict.fromkeys((*external.sources, *internal.sources, GEOMETRY, PERCENT))),
    )


def clearance(external: Span, internal: Span) -> Clearance:
    """Return least and greatest clearance of an internal over an external diameter.

    >>> two_a, two_b = Span(Decimal("0.8216"), Decimal("0.8270")), Span(
    ...     Decimal("0.8286"), Decimal("0.8356")
    ... )
    >>> clearance(two_a, two_b)
    Clearance(least=Decimal('0.0016'), greatest=Decimal('0.0140'), runs='always free')
    """
    least = _less(internal.min, external.max)
    greatest = _less(internal.max, external.min)
    return Clearance(least, greatest, _runs(least, greatest))


def percent_of_thread(major: float, hole: float, pitch: float) -> float:
    """Return the trade's percent of thread of 60 degree threads: 100 (D - hole) / (1.299 P).

    Source: Machinery's Handbook 31, p. 2155, table 2, (D - hole) n / 0.01299. Errors: BadInput.

    >>> round(percent_of_thread(0.073, 0.0625, 1 / 72), 1)
    58.2
    """
    faults = Faults()
    for name, value in (("major", major), ("hole", hole), ("pitch", pitch)):
        faults.within(f"/{name}", value, least=1e-4, greatest=1e4, name=name)
    faults.raise_any(BadInput)
    return 100 * (major - hole) / (_HUNDRED_PERCENT * pitch)


def _less(larger: Decimal | None, smaller: Decimal | None) -> Decimal | None:
    return None if larger is None or smaller is None else larger - smaller


def _runs(least: Decimal | None, greatest: Decimal | None) -> Runs:
    if least is not None and least >= 0:
        return "always free"
    if greatest is not None and greatest < 0:
        return "always binds"
    return "not limited" if least is None else "may bind"


def _overlap(major: Span, minor: Span) -> tuple[float | None, float | None]:
    """Return least and greatest of external major less internal minor diameter."""
    least, greatest = _less(major.min, minor.max), _less(major.max, minor.min)
    return (
        None if least is None else float(least),
        None if greatest is None else float(greatest),
    )


def _share(
    overlap: tuple[float | None, float | None], of: float | None
) -> tuple[float | None, float | None]:
    if of is None:
        return None, None
    least, greatest = (None if height is None else height / of for height in overlap)
    return least, greatest


def class_pairs(designation: str, unit: Unit) -> tuple[ClassPair, ...]:
    """Return the clearance on pitch diameter of every pair of classes of one size.

    `designation` may have a class or not; its own is disregarded. A side whose standard has no
    classes stands with an empty class. Errors: `UnknownThread`, NoSource where neither side has
    classes, or no limits of one side can be stated.

    >>> [pair.runs for pair in class_pairs("7/8-14 UNF", "in")[:2]]
    ['always free', 'always free']
    """
    thread = parse(designation)
    by_side = classes(thread)
    held: dict[Side, list[tuple[str, Span]]] = {}
    for side in SIDES:
        names = by_side.get(side, ()) or ("",)
        held[side] = _spans(_of_classes(thread, names, side), unit)
    pairs = tuple(
        ClassPair(out[0], inn[0], *_of(clearance(out[1], inn[1])))
        for out in held["external"]
        for inn in held["internal"]
        if out[0] or inn[0]
    )
    if not pairs:
        raise NoSource(
            Fault(
                "/designation",
                "no_classes",
                f"{thread.designation} has no two classes to pair",
                "give a thread whose standard has classes",
                thread.designation,
            )
        )
    return pairs


def _of(found: Clearance) -> tuple[Decimal | None, Decimal | None, Runs]:
    return found.least, found.greatest, found.runs


def _of_classes(thread: Thread, names: tuple[str, ...], side: Side) -> Iterator[tuple[str, Limits]]:
    size = thread.designation.removesuffix("-LH")
    if thread.thread_class is not None:
        size = size.removesuffix(thread.thread_class).rstrip("- ")
    for name in names:
        try:
            yield name, limits(f"{size}-{name}" if name else size, side=side)
        except Refusal:  # a side or class whose limits can't be stated: not a pair to show
            continue


def _spans(held: Iterator[tuple[str, Limits]], unit: Unit) -> list[tuple[str, Span]]:
    return [(name, limits_in(one, unit).pitch_diameter) for name, one in held]


def _refuse_sides(external: Limits, internal: Limits) -> None:
    faults = Faults()
    for wanted, one in (("external", external), ("internal", internal)):
        faults.need(
            one.side == wanted,
            f"/{wanted}",
            "wrong_side",
            f"{one.thread.designation} is an {one.side} thread",
            f"give an {wanted} thread here",
            one.thread.designation,
        )
    faults.raise_any(BadInput)
