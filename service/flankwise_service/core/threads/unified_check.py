"""Holds a Unified designation against the standard: what is refused, and what to use instead.

Sizes, series and classes are those of ASME B1.1, listed in `tables/asme_b1_1.py`.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from flankwise_service.core.errors import UnknownThread
from flankwise_service.core.threads.common import plain, unknown
from flankwise_service.core.threads.model import Hand, Side
from flankwise_service.core.threads.sizes import inch_size, size_name
from flankwise_service.core.threads.tables.asme_b1_1 import SERIES
from flankwise_service.core.threads.unified_limits import pitch_of
from flankwise_service.core.threads.unified_names import (
    FEWEST_PITCHES,
    at_diameter,
    listed_in_words,
    name_of,
    near_names,
    with_form,
)

LEAST_DIAMETER, GREATEST_DIAMETER = Decimal("0.06"), Decimal(24)
LEAST_THREADS, GREATEST_THREADS = Decimal(1), Decimal(80)
LONGEST_ENGAGEMENT = 10
"""In diameters; a sanity limit (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Written:
    """The parts of a designation, before they are held against the series."""

    text: str
    size: str
    threads: Decimal
    starts: int
    series: str
    thread_class: str | None
    hand: Hand
    engagement: Decimal | None
    modified: bool

    @property
    def form(self) -> str:
        """The letter of the form: R, J, or nothing."""
        return self.series[2] if self.series[2:3] in ("R", "J") else ""

    @property
    def base_series(self) -> str:
        """The series without the letter of its form."""
        return self.series[:2] + self.series[2 + len(self.form) :]


def check_class(written: Written, classes: dict[Side, tuple[str, ...]]) -> Side | None:
    """Return the side that the class says, None without a class; refuse a class that isn't one."""
    if written.thread_class is None:
        return None
    side: Side = "internal" if written.thread_class in classes["internal"] else "external"
    if written.thread_class not in classes[side]:
        offered = f"{', '.join(classes['external'])} for an external thread"
        offered += f", {', '.join(classes['internal'])} for an internal one"
        detail = f"{written.thread_class} is not a class of {written.series} threads"
        raise unknown(written.text, detail, change=f"use {offered}", code="unknown_class")
    if side == "internal" and written.form == "R":
        detail = "UNR, the rounded root, is a form of external threads only"
        change = f"write {written.base_series} for the internal thread"
        raise unknown(written.text, detail, change=change, code="form_is_external")
    return side


def check_pairing(written: Written, diameter: Decimal) -> None:
    """Refuse a pairing of diameter and pitch that isn't in the series named."""
    pair = (diameter, written.threads)
    if written.base_series != "UNS":
        if SERIES.get(pair) != written.base_series:
            raise _not_in_series(written, diameter)
    elif pair in SERIES:
        named = name_of(pair, with_form(SERIES[pair], written.form))
        detail = f"{size_name(diameter)}-{plain(written.threads)} is not special: it is {named}"
        raise unknown(written.text, detail, [named], code="not_special")
    elif (refusal := _out_of_range(written, diameter)) is not None:
        raise refusal


def _not_in_series(written: Written, diameter: Decimal) -> UnknownThread:
    pair = (diameter, written.threads)
    near = near_names(pair, written.base_series, written.form)
    detail = f"{name_of(pair, written.series)} is not in the series; {listed_in_words(near)}"
    if pair in SERIES or _out_of_range(written, diameter) is not None:
        return unknown(written.text, detail, near, code="not_in_series")
    special = name_of(pair, with_form("UNS", written.form))
    detail += f"; as a special: {special}"
    change = f"use one that exists ({', '.join(near)}); as a special: {special}"
    return unknown(written.text, detail, [*near, special], change, "not_in_series")


def _out_of_range(written: Written, diameter: Decimal) -> UnknownThread | None:
    """Return the refusal of a special pairing that can't be made, None for one that can."""
    if not LEAST_DIAMETER <= diameter <= GREATEST_DIAMETER:
        detail = f"diameter {plain(diameter)} in is outside 0.06 to 24 in"
        return unknown(written.text, detail, change="give a diameter in that range")
    if not LEAST_THREADS <= written.threads <= GREATEST_THREADS:
        detail = f"{plain(written.threads)} threads per inch is outside 1 to 80"
        return unknown(written.text, detail, change="give threads per inch in that range")
    if diameter * written.threads < FEWEST_PITCHES:
        detail = (
            f"{plain(written.threads)} threads per inch on {plain(diameter)} in leaves no sound "
            f"core: the diameter is below {FEWEST_PITCHES} pitches"
        )
        change = "give a finer pitch"
        return unknown(written.text, detail, change=change, code="pitch_too_coarse")
    return None


def check_engagement(written: Written, diameter: Decimal) -> None:
    """Refuse a length of engagement that no nut has."""
    if (engagement := written.engagement) is None:
        return
    least, greatest = pitch_of(written.threads), LONGEST_ENGAGEMENT * diameter
    if not least <= engagement <= greatest:
        detail = (
            f"length of engagement {plain(engagement)} in is outside one pitch to "
            f"{LONGEST_ENGAGEMENT} diameters, {plain(least)} to {plain(greatest)} in"
        )
        raise unknown(written.text, detail, change="give a length in that range, in inches")


def size_unclear(written: Written) -> UnknownThread:
    """Return the refusal of a bare number that may be a number size or whole inches."""
    tail = f"-{plain(written.threads)} {written.series}"
    detail = f"{written.size}{tail} may mean No. {written.size} or {written.size} in"
    near = (f"#{written.size}{tail}", f"{written.size}.0{tail}")
    return unknown(written.text, detail, near, f"write {near[0]} or {near[1]}", "size_unclear")


def not_a_size(written: Written) -> UnknownThread:
    """Return the refusal of a size that isn't one.

    >>> asked = Written("9/17-20 UN", "9/17", Decimal(20), 1, "UN", None, "right", None, False)
    >>> not_a_size(asked).faults[0].detail
    '9/17 is not an inch size: sizes are numbers 0 to 12, fractions or decimals'
    """
    detail = f"{written.size} is not an inch size: sizes are numbers 0 to 12, fractions or decimals"
    return unknown(written.text, detail, code="unknown_size")


def not_whole_starts(text: str, most: int) -> UnknownThread:
    """Return the refusal of a lead that isn't a whole number of pitches."""
    detail = f"the lead of {text} is not 1 to {most} times its pitch"
    change = "give a pitch of 0.01 to 1 in and a lead that is starts times pitch"
    return unknown(text, detail, change=change, code="lead_not_whole")


def series_missing(text: str, diameter: Decimal | None, threads: Decimal) -> UnknownThread:
    """Return the refusal of a pairing without its series."""
    series = SERIES.get((diameter, threads)) if diameter is not None else None
    near = [name_of((diameter, threads), series)] if diameter is not None and series else []
    detail = f"{text} doesn't say which series it is of, as UNC, UNF or BSW"
    change = f"add the series, as {near[0]}" if near else "add the series"
    return unknown(text, detail, near, change, "series_missing")


def misspelt(text: str, size: str) -> UnknownThread:
    """Return the refusal of what is meant as Unified but can't be read."""
    diameter = inch_size(size)
    near = [name_of((diameter, t), s) for t, s in at_diameter(diameter)] if diameter else []
    detail = f"{text} can't be read as a Unified designation"
    change = "write size-threads per inch series-class, as 7/8-14 UNF-2A or 10-24 UNC-2B-LH"
    return unknown(text, detail, near[:4], change, "unreadable")
