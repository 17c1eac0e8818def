"""Unified designations: reading, and spelling in the one canonical way (ASME B1.1-2003, section 6).

Canonical: size-threads series-class-LH LE length, as in 1 1/4-7 UNC-2A-LH LE 1.5.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from flankwise_service.core.errors import UnknownThread
from flankwise_service.core.threads.common import plain, unknown
from flankwise_service.core.threads.model import Hand, Side, Thread
from flankwise_service.core.threads.sizes import (
    SIZE,
    inch_diameter,
    number_diameter,
    size_name,
)
from flankwise_service.core.threads.tables.asme_b1_1 import PAIRS, SERIES, UNS
from flankwise_service.core.threads.unified_limits import pitch_of

CLASSES: dict[Side, tuple[str, ...]] = {
    "external": ("1A", "2A", "3A"),
    "internal": ("1B", "2B", "3B"),
}
LEAST_DIAMETER, GREATEST_DIAMETER = Decimal("0.06"), Decimal(24)
LEAST_THREADS, GREATEST_THREADS = Decimal(1), Decimal(80)
LONGEST_ENGAGEMENT = 10
"""In diameters; a sanity limit (common practice, no source)."""

_FORM = re.compile(
    rf"(?P<size>{SIZE})-(?P<threads>\d{{1,3}}(?:\.\d{{1,3}}| 1/2)?)[ -]?"
    r"(?P<series>UNR?(?:C|F|EF|S)?)"
    r"(?:[ -]?(?P<class>\d[A-Z]))?(?:[ -](?P<hand>LH|RH))?"
    r"(?:,? ?LE ?(?P<engagement>\d{0,2}(?:\.\d{1,4})?))?",
    re.IGNORECASE,
)
_LOOSE = re.compile(rf"(?P<size>{SIZE})[ -].*\bUNR?(?:C|F|EF|S)?\b.*", re.IGNORECASE)
_BARE = re.compile(
    rf"(?P<size>{SIZE})-(?P<threads>\d{{1,3}}(?:\.\d{{1,3}}| 1/2)?)(?:-?\d[AB])?", re.IGNORECASE
)
_HYPHENS = re.compile(r" ?- ?")
Pair = tuple[Decimal, Decimal]


@dataclass(frozen=True, slots=True)
class _Written:
    """The parts of a designation, before they are held against the series."""

    text: str
    size: str
    threads: Decimal
    series: str
    thread_class: str | None
    hand: Hand
    engagement: Decimal | None

    @property
    def base_series(self) -> str:
        return self.series.replace("R", "", 1)


def read(text: str) -> Thread | None:
    """Return the Unified thread a cleaned text names; None when it isn't of this grammar.

    Errors: `UnknownThread` for a size, pairing, class or length that isn't in the standard.

    >>> read("0.875-14 unf-2a").designation
    '7/8-14 UNF-2A'
    >>> read("M8") is None
    True
    """
    joined = _HYPHENS.sub("-", text)
    if (match := _FORM.fullmatch(joined)) is None:
        if (bare := _BARE.fullmatch(joined)) is not None:
            raise _no_series(text, bare["size"], _threads(bare["threads"]))
        if (loose := _LOOSE.fullmatch(joined)) is not None:
            raise _misspelt(text, loose["size"])
        return None
    written = _Written(
        text=text,
        size=match["size"],
        threads=_threads(match["threads"]),
        series=match["series"].upper(),
        thread_class=match["class"] and match["class"].upper(),
        hand="left" if (match["hand"] or "").upper() == "LH" else "right",
        engagement=Decimal(match["engagement"]) if match["engagement"] else None,
    )
    return _thread_of(written, _diameter_of(written))


def _threads(text: str) -> Decimal:
    return Decimal(text.replace(" 1/2", ".5"))


def _thread_of(written: _Written, diameter: Decimal) -> Thread:
    side = _side_of(written)
    _check_series(written, diameter)
    _check_engagement(written, diameter)
    return thread_of(
        diameter,
        written.threads,
        written.series,
        thread_class=written.thread_class,
        side=side,
        hand=written.hand,
        engagement=written.engagement,
    )


def thread_of(
    diameter: Decimal,
    threads: Decimal,
    series: str,
    *,
    thread_class: str | None = None,
    side: Side | None = None,
    hand: Hand = "right",
    engagement: Decimal | None = None,
) -> Thread:
    """Return the thread of these parts, spelled canonically.

    >>> thread_of(Decimal("0.875"), Decimal(14), "UNF", thread_class="2A", side="external").series
    'UNF'
    """
    text = _size_text(diameter, threads, series) + f"-{plain(threads)} {series}"
    text += f"-{thread_class}" if thread_class else ""
    text += "-LH" if hand == "left" else ""
    text += f" LE {plain(engagement)}" if engagement is not None else ""
    return Thread(
        designation=text,
        family="unified",
        series=series,
        unit="in",
        diameter=diameter,
        pitch=1 / threads,
        hand=hand,
        thread_class=thread_class,
        side=side,
        engagement=engagement,
        rounded_root=series.startswith("UNR"),
        threads_per_inch=threads,
    )


def _size_text(diameter: Decimal, threads: Decimal, series: str) -> str:
    """Return the size, a number size without its # where it can't be taken for whole inches."""
    name = size_name(diameter)
    if not name.startswith("#"):
        return name if not name.isdigit() or _whole(int(name), threads) == diameter else f"{name}.0"
    return name[1:] if _whole(int(name[1:]), threads) == diameter else name


def _whole(number: int, threads: Decimal) -> Decimal | None:
    """Return the diameter of a bare whole number: No. 6 or six inches? None when it isn't plain.

    The series decides; outside the series, 40 threads per inch and finer is a number size,
    20 and coarser a size in inches.
    """
    by_number, by_inch = number_diameter(number), Decimal(number).quantize(Decimal("0.0001"))
    if by_number is None or number == 0 or number > 6:
        return by_inch if by_number is None else by_number
    listed = [d for d in (by_number, by_inch) if (d, threads) in SERIES or (d, threads) in UNS]
    if len(listed) == 1:
        return listed[0]
    if threads >= 40:
        return by_number
    return by_inch if threads <= 20 else None


def _diameter_of(written: _Written) -> Decimal:
    size = written.size
    diameter = _whole(int(size), written.threads) if size.isdigit() else inch_diameter(size)
    if diameter is None and size.isdigit():
        tail = f"-{plain(written.threads)} {written.series}"
        detail = f"{size}{tail} may mean No. {size} or {size} inches"
        near = (f"#{size}{tail}", f"{size}.0{tail}")
        raise unknown(written.text, detail, near, f"write {near[0]} or {near[1]}", "size_unclear")
    if diameter is None:
        detail = f"{size} is not an inch size: sizes are numbers 0 to 12, fractions or decimals"
        raise unknown(written.text, detail, code="unknown_size")
    return diameter


def _side_of(written: _Written) -> Side | None:
    if written.thread_class is None:
        return None
    for side, names in CLASSES.items():
        if written.thread_class in names:
            if side == "internal" and written.series.startswith("UNR"):
                detail = "UNR, the rounded root, is a form of external threads only"
                change = f"write {written.base_series} for the internal thread"
                raise unknown(written.text, detail, change=change, code="form_is_external")
            return side
    detail = f"{written.thread_class} is not a Unified class"
    change = "use 1A, 2A or 3A for an external thread, 1B, 2B or 3B for an internal one"
    raise unknown(written.text, detail, change=change, code="unknown_class")


def _check_series(written: _Written, diameter: Decimal) -> None:
    base, pair = written.base_series, (diameter, written.threads)
    if base == "UNS":
        _check_special(written, diameter)
    elif SERIES.get(pair) != base:
        raise _not_in_series(written, pair)


def _check_special(written: _Written, diameter: Decimal) -> None:
    standard = SERIES.get((diameter, written.threads))
    if standard is not None:
        named = name_of((diameter, written.threads), standard)
        detail = f"{size_name(diameter)}-{plain(written.threads)} is not special: it is {named}"
        raise unknown(written.text, detail, [named], code="not_special")
    _check_range(written, diameter)


def _check_range(written: _Written, diameter: Decimal) -> None:
    if not LEAST_DIAMETER <= diameter <= GREATEST_DIAMETER:
        detail = f"diameter {plain(diameter)} in is outside 0.06 to 24 in"
        raise unknown(written.text, detail, change="give a diameter in that range")
    if not LEAST_THREADS <= written.threads <= GREATEST_THREADS:
        detail = f"{plain(written.threads)} threads per inch is outside 1 to 80"
        raise unknown(written.text, detail, change="give threads per inch in that range")
    if diameter * written.threads < 4:
        detail = (
            f"{plain(written.threads)} threads per inch on {plain(diameter)} in leaves no sound "
            "core: the diameter is below 4 pitches"
        )
        raise unknown(written.text, detail, change="give a finer pitch", code="pitch_too_coarse")


def _check_engagement(written: _Written, diameter: Decimal) -> None:
    engagement = written.engagement
    if engagement is None:
        return
    least, greatest = pitch_of(written.threads), LONGEST_ENGAGEMENT * diameter
    if not least <= engagement <= greatest:
        detail = (
            f"length of engagement {plain(engagement)} in is outside one pitch to "
            f"{LONGEST_ENGAGEMENT} diameters, {plain(least)} to {plain(greatest)} in"
        )
        raise unknown(written.text, detail, change="give a length in that range, in inches")


def name_of(pair: Pair, series: str) -> str:
    """Return the canonical designation of a pairing, without class.

    >>> name_of((Decimal("0.19"), Decimal(24)), "UNC")
    '10-24 UNC'
    """
    diameter, threads = pair
    return f"{_size_text(diameter, threads, series)}-{plain(threads)} {series}"


def _at(diameter: Decimal) -> list[tuple[Decimal, str]]:
    return [(threads, series) for d, threads, series in PAIRS if d == diameter]


def _near_names(pair: Pair, wanted: str, count: int = 3) -> list[str]:
    """Return what the standard has nearest: this diameter's pitches, else the next diameters'."""
    diameter, threads = pair
    listed = [entry for entry in _at(diameter) if entry[1] != "UNS"]
    if not listed:
        return _near_diameters(diameter, wanted)
    listed.sort(key=lambda entry: (abs(entry[0] - threads), entry[0]))
    chosen = listed[: count - 1]
    chosen += [e for e in listed if e[1] == wanted and e not in chosen][: count - len(chosen)]
    return [name_of((diameter, t), s) for t, s in sorted(chosen)]


def _near_diameters(diameter: Decimal, wanted: str) -> list[str]:
    series = wanted if wanted != "UNS" else "UNC"
    listed = sorted((d, t, s) for d, t, s in PAIRS if s == series)
    listed.sort(key=lambda entry: abs(entry[0] - diameter))
    return [name_of((d, t), s) for d, t, s in sorted(listed[:2])]


def _not_in_series(written: _Written, pair: Pair) -> UnknownThread:
    diameter, threads = pair
    near = _near_names(pair, written.base_series)
    asked = f"{size_name(diameter).lstrip('#')}-{plain(threads)} {written.series}"
    detail = f"{asked} is not in the series; {_listed(near)}"
    if pair in SERIES:
        return unknown(written.text, detail, near, code="not_in_series")
    special = name_of(pair, "UNRS" if written.series.startswith("UNR") else "UNS")
    change = f"use one that exists ({', '.join(near)}); as a special: {special}"
    return unknown(
        written.text,
        f"{detail}; as a special: {special}",
        [*near, special],
        change,
        "not_in_series",
    )


def _listed(names: Iterable[str]) -> str:
    named = list(names)
    if len(named) == 1:
        return f"{named[0]} is"
    return f"{', '.join(named[:-1])} and {named[-1]} are"


def _no_series(text: str, size: str, threads: Decimal) -> UnknownThread:
    diameter = _whole(int(size), threads) if size.isdigit() else inch_diameter(size)
    series = SERIES.get((diameter, threads)) if diameter is not None else None
    near = [name_of((diameter, threads), series)] if diameter is not None and series else []
    detail = f"{text} doesn't say which series it is of, as UNC, UNF or BSW"
    change = f"add the series{', as ' + near[0] if near else ''}"
    return unknown(text, detail, near, change, "series_missing")


def _misspelt(text: str, size: str) -> UnknownThread:
    diameter = (number_diameter(int(size)) if size.isdigit() else None) or inch_diameter(size)
    near = [name_of((diameter, t), s) for t, s in _at(diameter) if s != "UNS"] if diameter else []
    detail = f"{text} can't be read as a Unified designation"
    change = "write size-threads per inch series-class, as 7/8-14 UNF-2A or 10-24 UNC-2B-LH"
    return unknown(text, detail, near[:4], change, "unreadable")
