"""What the tolerances of a Unified thread are based on: its series and its length of engagement."""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.threads import unified_limits as step
from flankwise_service.core.threads.common import plain, to_places
from flankwise_service.core.threads.model import Thread

OLD = "ASME B1.1-1989"
BY_DIAMETER = ("UNC", "UNF")
"""Series whose tolerances are based on a length of engagement of one diameter."""
COARSEST_BY_DIAMETER = Decimal(8)
"""UN at this many threads per inch, and fewer, is based on one diameter too."""
_BORROWS_1989 = {
    Decimal("0.9375"): Decimal(1),
    Decimal("2.3750"): Decimal("2.5"),
    Decimal("5.7500"): Decimal(6),
}
"""Secondary sizes that the 1989 tables give the pitch tolerance of the next primary size, rounded
to 4 decimals: those seen (Machinery's Handbook 27), as fitted to their printed cells."""


def base_series(thread: Thread) -> str:
    """Return the series without the letter of its form, R or J.

    >>> from flankwise_service.core.threads import parse
    >>> base_series(parse("7/8-14 UNRF"))
    'UNF'
    """
    return thread.series[:2] + thread.series[2:].lstrip("RJ")


def threads_per_inch(thread: Thread) -> Decimal:
    """Return the threads per inch that every Unified thread has."""
    assert thread.threads_per_inch is not None
    return thread.threads_per_inch


def based_on_diameter(thread: Thread) -> bool:
    """Return whether the tolerances are based on one diameter of engagement, not on 9 pitches.

    So are UNC, UNF, 4-UN, 6-UN and 8-UN (ASME B1.1-2003, length of engagement).
    """
    series = base_series(thread)
    coarse = series == "UN" and threads_per_inch(thread) <= COARSEST_BY_DIAMETER
    return series in BY_DIAMETER or coarse


def standard_engagement(thread: Thread) -> Decimal:
    """Return the length the tabulated tolerances are based on: D, or 9 pitches, in.

    Source: ASME B1.1-2003, length of engagement.
    """
    if based_on_diameter(thread):
        return thread.diameter
    return 9 * step.pitch_of(threads_per_inch(thread))


def engagement_used(thread: Thread) -> tuple[Decimal, str | None]:
    """Return the length of engagement that sets the tolerance, and a note when it is special.

    Tables based on D hold up to 1.5 D, those based on 9 P from 5 P to 15 P (ASME B1.1-2003);
    beyond, the tolerance is computed with the length itself.
    """
    standard = standard_engagement(thread)
    asked = thread.engagement
    if asked is None:
        return standard, None
    if based_on_diameter(thread):
        least, greatest = Decimal(0), to_places(standard * Decimal("1.5"), 4)
    else:
        least, greatest = to_places(5 * thread.pitch, 4), to_places(15 * thread.pitch, 4)
    if least <= asked <= greatest:
        return standard, (
            f"length of engagement {plain(asked)} in is within the range of the tabulated "
            f"tolerances ({plain(least)} to {plain(greatest)} in)"
        )
    return asked, f"pitch diameter tolerance computed for {plain(asked)} in of engagement"


def tolerance_2a_of(
    thread: Thread, pitch: Decimal, edition: str
) -> tuple[Decimal, tuple[str, ...]]:
    """Return the pitch diameter tolerance of class 2A, in, and what to note of it.

    In the 1989 tables a secondary size takes that of the next primary size, to 4 decimals.
    """
    engagement, note = engagement_used(thread)
    notes = (note,) if note else ()
    primary = _BORROWS_1989.get(thread.diameter) if edition == OLD else None
    if primary is None:
        return step.pitch_tolerance_2a(thread.diameter, engagement, pitch), notes
    if based_on_diameter(thread) and engagement == thread.diameter:
        engagement = primary
    return to_places(step.pitch_tolerance_2a(primary, engagement, pitch), 4), notes
