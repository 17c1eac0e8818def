"""The searchable list of all designations, in pages of one fixed order.

Which there are is said by each family's standard, with its source in `tables/`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from flankwise_service.core.errors import BadInput, Fault, Faults
from flankwise_service.core.threads.common import nearest
from flankwise_service.core.threads.model import Classes, Family, Thread
from flankwise_service.core.threads.register import classes_of, designations, find, parse
from flankwise_service.core.units import Unit

LONGEST_PAGE = 5000


@dataclass(frozen=True, slots=True)
class ListedThread:
    """One line of the list; lengths in the thread's own unit."""

    designation: str
    family: Family
    series: str
    unit: Unit
    diameter: Decimal
    pitch: Decimal
    threads_per_inch: Decimal | None
    classes: Classes


@dataclass(frozen=True, slots=True)
class ThreadPage:
    """One page of the list of designations that match a search."""

    search: str
    total: int
    """How many match, on all pages."""
    offset: int
    threads: tuple[ListedThread, ...]
    near: tuple[str, ...]
    """Where nothing matches: the nearest in spelling."""


def listed(thread: Thread) -> ListedThread:
    """Return the line of the list for a thread.

    >>> listed(parse("M8")).classes.internal[:2]
    ('4H', '5H')
    """
    return ListedThread(
        designation=thread.designation,
        family=thread.family,
        series=thread.series,
        unit=thread.unit,
        diameter=thread.diameter,
        pitch=thread.pitch,
        threads_per_inch=thread.threads_per_inch,
        classes=classes_of(thread),
    )


@lru_cache(maxsize=1)
def _all_listed() -> tuple[ListedThread, ...]:
    return tuple(listed(parse(name)) for name in designations())


def whole_list() -> Iterator[ListedThread]:
    """Yield every line of the list, in its fixed order.

    >>> next(whole_list()).designation
    '0-80 UNF'
    """
    return iter(_all_listed())


def page(
    search: str = "", *, family: str | None = None, offset: int = 0, count: int = 100
) -> ThreadPage:
    """Return `count` lines from `offset` on, of those whose designation holds every word searched.

    A search with nothing found names the nearest spellings. Errors: `BadInput`.

    >>> [line.designation for line in page("7/8 unf").threads]
    ['7/8-14 UNF']
    """
    faults = Faults()
    faults.within("/offset", offset, least=0, greatest=1_000_000, name="offset")
    faults.within("/count", count, least=1, greatest=LONGEST_PAGE, name="count")
    if len(search) > 60:
        detail = f"a search of {len(search)} characters is longer than any designation"
        faults.add(Fault("/search", "too_long", detail, "give at most 60 characters", search[:20]))
    faults.raise_any(BadInput)
    names = set(find(search))
    found = [
        line
        for line in _all_listed()
        if line.designation in names and (family is None or line.family == family)
    ]
    return ThreadPage(
        search=search,
        total=len(found),
        offset=offset,
        threads=tuple(found[offset : offset + count]),
        near=() if found else nearest(search, designations()),
    )
