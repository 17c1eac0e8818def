"""What would tell one thread from another, in words for the one at the bench.

Lengths of a `Known` thread are in mm; words are said in the unit asked for. Source: the basic
profiles of the threads; how to look is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from flankwise_service.core.errors import plain
from flankwise_service.core.threads.model import BasicProfile, Thread
from flankwise_service.core.units import Unit, from_mm

_COUNTED_THREADS = 10


@dataclass(frozen=True, slots=True)
class Difference:
    """What would tell a candidate from the first one."""

    by: str
    words: str


class Known(NamedTuple):
    """A thread of the list with the crest it may have over all its classes."""

    thread: Thread
    basic: BasicProfile
    crest: tuple[float, float]
    pitch_mm: float


def differences(one: Known, first: Known, unit: Unit) -> Iterator[Difference]:
    """Yield what tells a candidate from the first one, the surest to measure first.

    >>> from flankwise_service.core.threads import limits, parse
    >>> def known(name: str, crest: tuple[float, float], pitch: float) -> Known:
    ...     return Known(parse(name), limits(name, side="external").basic, crest, pitch)
    >>> pipe, bolt = known("G 5/8 A", (22.6, 22.9), 1.8143), known(
    ...     "7/8-14 UNF-2A", (21.9, 22.2), 1.8143
    ... )
    >>> [difference.by for difference in differences(pipe, bolt, "mm")]
    ['flank angle', 'crest diameter']
    """
    mine, its = one.basic, first.basic
    found = False
    for by, words in (
        ("flank angle", _angle_words(mine, its)),
        ("taper", _taper_words(mine, its)),
        ("pitch", _pitch_words(one, first, unit)),
        ("starts", _start_words(one.thread, first.thread)),
        ("crest diameter", _crest_words(one, first, unit)),
    ):
        if words:
            found = True
            yield Difference(by, words)
    if not found:
        name = first.thread.designation
        yield Difference("name", f"by its form and size this can't be told from {name}")


def _angle_words(mine: BasicProfile, its: BasicProfile) -> str:
    own = mine.flank_angle_upper + mine.flank_angle_lower
    other = its.flank_angle_upper + its.flank_angle_lower
    if own == other:
        return ""
    return (
        f"its flanks stand {plain(own)} degrees apart, not {plain(other)}: hold a {plain(own)} "
        "degree thread "
        "gauge in it, or measure over two sizes of wire"
    )


def _taper_words(mine: BasicProfile, its: BasicProfile) -> str:
    if mine.taper == its.taper:
        return ""
    if not mine.taper:
        return "it is parallel: the crest measures the same all along"
    return (
        f"it tapers: measured along the axis, its diameter changes by {plain(mine.taper)} "
        "for one of length"
    )


def _pitch_words(one: Known, first: Known, unit: Unit) -> str:
    apart = from_mm(one.pitch_mm - first.pitch_mm, unit) * _COUNTED_THREADS
    if abs(one.pitch_mm - first.pitch_mm) < 1e-6 * one.pitch_mm:
        return ""
    more = "longer" if apart > 0 else "shorter"
    return f"{_COUNTED_THREADS} pitches of it are {plain(abs(apart), 4)} {unit} {more}"


def _start_words(mine: Thread, its: Thread) -> str:
    if mine.starts == its.starts:
        return ""
    plural = "" if mine.starts == 1 else "s"
    return (
        f"it has {mine.starts} start{plural}, not {its.starts}: count the thread ends at its face"
    )


def _crest_words(one: Known, first: Known, unit: Unit) -> str:
    gap = max(one.crest[0] - first.crest[1], first.crest[0] - one.crest[1])
    if gap <= 0:
        return ""
    low, high = (plain(from_mm(size, unit), 5) for size in one.crest)
    return f"its crest measures {low} to {high} {unit}, {plain(from_mm(gap, unit), 3)} apart"
