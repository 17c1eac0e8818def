"""How Unified sizes and pairings are named, and which stand nearest to one that doesn't exist.

Names are written as ASME B1.1 does (its series tables, and its section on designations; memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from flankwise_service.core.threads.common import plain
from flankwise_service.core.threads.sizes import number_diameter, size_name
from flankwise_service.core.threads.tables.asme_b1_1 import PAIRS, SERIES, UNS

Pair = tuple[Decimal, Decimal]
"""Diameter in inches, threads per inch."""
_LARGEST_WHOLE = 6
_SURELY_A_NUMBER = 40
FEWEST_PITCHES = 4
"""Least diameter in pitches (common practice, no source; the coarsest standard size has 4.67)."""


def whole_size(number: int, threads: Decimal) -> Decimal | None:
    """Return the diameter of a bare whole number: No. 6 or six inches? None when it isn't plain.

    The series decides; outside it, a pitch too coarse for the number size means inches, and 40
    threads per inch or finer a number size.

    >>> whole_size(6, Decimal(32)), whole_size(6, Decimal(14)), whole_size(6, Decimal(30))
    (Decimal('0.1380'), Decimal('6.0000'), None)
    """
    by_number, by_inch = number_diameter(number), Decimal(number).quantize(Decimal("0.0001"))
    if by_number is None:
        return by_inch
    if not 0 < number <= _LARGEST_WHOLE:
        return by_number
    listed = [d for d in (by_number, by_inch) if (d, threads) in SERIES or (d, threads) in UNS]
    if len(listed) == 1:
        return listed[0]
    if by_number * threads < FEWEST_PITCHES:
        return by_inch
    return by_number if threads >= _SURELY_A_NUMBER else None


def size_text(diameter: Decimal, threads: Decimal) -> str:
    """Return a size as it stands in a designation.

    A number size goes without its #, and whole inches without a point, where they can't be
    taken for each other.

    >>> [size_text(Decimal(d), Decimal(n)) for d, n in (("0.138", 32), ("0.138", 30), ("6", 30))]
    ['6', '#6', '6.0']
    """
    name = size_name(diameter)
    if name.startswith("#"):
        return name[1:] if whole_size(int(name[1:]), threads) == diameter else name
    if name.isdigit() and whole_size(int(name), threads) != diameter:
        return f"{name}.0"
    return name


def name_of(pair: Pair, series: str) -> str:
    """Return the canonical designation of a pairing, without class.

    >>> name_of((Decimal("0.19"), Decimal(24)), "UNC")
    '10-24 UNC'
    """
    diameter, threads = pair
    return f"{size_text(diameter, threads)}-{plain(threads)} {series}"


def at_diameter(diameter: Decimal) -> list[tuple[Decimal, str]]:
    """Return the (threads per inch, series) that the standard series have at a diameter.

    >>> [(int(n), series) for n, series in at_diameter(Decimal("0.19"))]
    [(24, 'UNC'), (32, 'UNF')]
    """
    return [(threads, series) for d, threads, series in PAIRS if d == diameter and series != "UNS"]


def near_names(pair: Pair, base: str, form: str, count: int = 3) -> list[str]:
    """Return what the series have nearest: this diameter's pitches, else the next diameters'.

    `base` is the series asked for, `form` the letter R or J to spell them with, or nothing.

    >>> near_names((Decimal("0.9375"), Decimal(18)), "UN", "")
    ['15/16-12 UN', '15/16-16 UN', '15/16-20 UNEF']
    """
    diameter, threads = pair
    listed = at_diameter(diameter)
    if not listed:
        return near_diameters(diameter, base, form)
    listed.sort(key=lambda entry: (abs(entry[0] - threads), entry[0]))
    chosen = listed[: count - 1]
    chosen += [e for e in listed if e[1] == base and e not in chosen][: count - len(chosen)]
    return [name_of((diameter, t), with_form(s, form)) for t, s in sorted(chosen)]


def near_diameters(diameter: Decimal, base: str, form: str) -> list[str]:
    """Return the two nearest sizes of a series (of UNC for UNS).

    >>> near_diameters(Decimal("0.9"), "UNF", "")
    ['7/8-14 UNF', '1-12 UNF']
    """
    wanted = "UNC" if base == "UNS" else base
    listed = [(d, t) for d, t, series in PAIRS if series == wanted]
    listed.sort(key=lambda pair: abs(pair[0] - diameter))
    return [name_of(pair, with_form(wanted, form)) for pair in sorted(listed[:2])]


def with_form(series: str, form: str) -> str:
    """Return a series with the letter of its form.

    >>> with_form("UNEF", "R"), with_form("UN", "J"), with_form("UNC", "")
    ('UNREF', 'UNJ', 'UNC')
    """
    return series[:2] + form + series[2:]


def listed_in_words(names: Iterable[str]) -> str:
    """Return names with their verb.

    >>> listed_in_words(["A"]), listed_in_words(["A", "B", "C"])
    ('A is', 'A, B and C are')
    """
    *first, last = names
    return f"{', '.join(first)} and {last} are" if first else f"{last} is"
