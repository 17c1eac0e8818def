"""Unified designations: reading, and spelling in the one canonical way (ASME B1.1-2003, section 6).

Canonical: size-threads series-class-LH LE length MOD, as in 1 1/4-7 UNC-2A-LH LE 1.5; with more
than one start, pitch and lead in inches: 3/4-0.0625P-0.125L UNF-2A (memory).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from flankwise_service.core.threads.common import plain, to_places
from flankwise_service.core.threads.model import Family, Hand, Side, Thread
from flankwise_service.core.threads.sizes import SIZE, inch_diameter, number_diameter
from flankwise_service.core.threads.unified_check import (
    Written,
    check_class,
    check_engagement,
    check_pairing,
    misspelt,
    not_a_size,
    not_whole_starts,
    series_missing,
    size_unclear,
)
from flankwise_service.core.threads.unified_names import size_text, whole_size

_TPI = r"\d{1,3}(?:\.\d{1,3}| 1/2)?"
_INCH = r"\d{0,2}\.\d{1,6}"
_STARTS = r"(?: ?\((?:\d|TWO|THREE|FOUR|FIVE|SIX|SEVEN|EIGHT) STARTS?\))?"
MOST_STARTS = 8
_HYPHENS = re.compile(r" ?- ?")
_SYSTEM = r"(?: ?\(2[123]A?\))?"
"""A system of gauging, ASME B1.3, that a drawing adds in brackets; it doesn't touch the limits."""
_NUMBER_WITH_DECIMAL = re.compile(r"#?(?P<number>\d{1,2}) ?\((?P<inches>0?\.\d{2,4})\)")


@dataclass(frozen=True, slots=True)
class Grammar:
    """The designations of one standard: its family, form letters, classes, and patterns."""

    family: Family
    forms: str
    """Letters after UN that belong to it; "" allows none."""
    classes: dict[Side, tuple[str, ...]]
    strict: re.Pattern[str]
    loose: re.Pattern[str]


def grammar(family: Family, forms: str, classes: dict[Side, tuple[str, ...]]) -> Grammar:
    """Return the grammar of a standard whose series are UN, the form letters, C F EF S."""
    series = rf"UN{forms}(?:C|F|EF|S)?"
    return Grammar(
        family,
        forms,
        classes,
        strict=re.compile(
            rf"(?P<size>{SIZE})-(?:(?P<threads>{_TPI})|(?P<pitch>{_INCH})P-(?P<lead>{_INCH})L"
            rf"{_STARTS})[ -]?(?P<series>{series})"
            rf"(?:[ -]?(?P<class>\d[A-Z]))?{_SYSTEM}(?:[ -](?P<hand>LH|RH))?{_SYSTEM}"
            r"(?:,? ?LE ?(?P<engagement>\d{1,2}(?:\.\d{1,4})?|\.\d{1,4}))?"
            r"(?P<modified>[ -]MOD)?",
            re.IGNORECASE,
        ),
        loose=re.compile(rf"(?P<size>{SIZE})[ -].*\b{series}\b.*", re.IGNORECASE),
    )


def _number_alone(text: str) -> str:
    """Return 10-24 for "10 (0.190)-24", as ASME B1.1 also writes a number size."""
    match = _NUMBER_WITH_DECIMAL.match(text)
    if match is None or number_diameter(int(match["number"])) != Decimal(match["inches"]):
        return text
    return f"#{match['number']}{text[match.end() :]}"


_BARE = re.compile(rf"(?P<size>{SIZE})-(?P<threads>{_TPI})(?:-?\d[AB])?", re.IGNORECASE)


def read_with(rules: Grammar, text: str) -> Thread | None:
    """Return the thread a cleaned text names by these rules; None when it isn't of this grammar.

    Errors: `UnknownThread` for a size, pairing, class or length that isn't in the standard.
    """
    joined = _HYPHENS.sub("-", _number_alone(text))
    if (match := rules.strict.fullmatch(joined)) is None:
        if (loose := rules.loose.fullmatch(joined)) is not None:
            raise misspelt(text, loose["size"])
        return None
    written = _written(text, match)
    diameter = _diameter_of(written)
    side = check_class(written, rules.classes)
    check_pairing(written, diameter)
    check_engagement(written, diameter)
    return thread_of(
        rules.family,
        diameter,
        written.threads,
        written.series,
        starts=written.starts,
        thread_class=written.thread_class,
        side=side,
        hand=written.hand,
        engagement=written.engagement,
        modified=written.modified,
    )


def refuse_bare(text: str) -> None:
    """Refuse a size and threads per inch with no series: 3/4-10 is UNC, and BSW too."""
    if (bare := _BARE.fullmatch(_HYPHENS.sub("-", text))) is not None:
        threads = _threads(bare["threads"])
        size = bare["size"]
        diameter = whole_size(int(size), threads) if size.isdigit() else inch_diameter(size)
        raise series_missing(text, diameter, threads)


def _threads(text: str) -> Decimal:
    return Decimal(text.replace(" 1/2", ".5"))


def _written(text: str, match: re.Match[str]) -> Written:
    threads, starts = (
        (_threads(match["threads"]), 1) if match["threads"] else _threads_and_starts(text, match)
    )
    return Written(
        text=text,
        size=match["size"],
        threads=threads,
        starts=starts,
        series=match["series"].upper(),
        thread_class=match["class"] and match["class"].upper(),
        hand="left" if (match["hand"] or "").upper() == "LH" else "right",
        engagement=Decimal(match["engagement"]) if match["engagement"] else None,
        modified=match["modified"] is not None,
    )


def _threads_and_starts(text: str, match: re.Match[str]) -> tuple[Decimal, int]:
    """Return threads per inch (halves, when the decimal pitch allows it) and starts."""
    pitch, lead = Decimal(match["pitch"]), Decimal(match["lead"])
    if not Decimal("0.01") <= pitch <= 1:
        raise not_whole_starts(text, MOST_STARTS)
    halves = Decimal(round(2 / pitch)) / 2
    near = abs(1 / halves - pitch) <= Decimal("0.00006")
    threads = halves if near else to_places(1 / pitch, 3)
    starts = round(lead * threads)
    whole = abs(lead - starts / threads) <= Decimal("0.0001") * starts
    if not (1 <= starts <= MOST_STARTS and whole):
        raise not_whole_starts(text, MOST_STARTS)
    return threads, starts


def _diameter_of(written: Written) -> Decimal:
    size = written.size
    diameter = whole_size(int(size), written.threads) if size.isdigit() else inch_diameter(size)
    if diameter is None:
        raise size_unclear(written) if size.isdigit() else not_a_size(written)
    return diameter


def thread_of(
    family: Family,
    diameter: Decimal,
    threads: Decimal,
    series: str,
    *,
    starts: int = 1,
    thread_class: str | None = None,
    side: Side | None = None,
    hand: Hand = "right",
    engagement: Decimal | None = None,
    modified: bool = False,
) -> Thread:
    """Return the thread of these parts, spelled canonically.

    >>> thread_of("unified", Decimal("0.75"), Decimal(16), "UNF", starts=2).designation
    '3/4-0.0625P-0.125L UNF'
    """
    text = f"{size_text(diameter, threads)}-{_pitch_text(threads, starts)} {series}"
    text += f"-{thread_class}" if thread_class else ""
    text += "-LH" if hand == "left" else ""
    text += f" LE {plain(engagement)}" if engagement is not None else ""
    text += " MOD" if modified else ""
    return Thread(
        designation=text,
        family=family,
        series=series,
        unit="in",
        diameter=diameter,
        pitch=1 / threads,
        starts=starts,
        hand=hand,
        thread_class=thread_class,
        side=side,
        engagement=engagement,
        rounded_root=series[2:3] in ("R", "J"),
        threads_per_inch=threads,
        modified=modified,
    )


def _pitch_text(threads: Decimal, starts: int) -> str:
    if starts == 1:
        return plain(threads)
    pitch, lead = to_places(1 / threads, 6), to_places(starts / threads, 6)
    return f"{plain(pitch)}P-{plain(lead)}L"
