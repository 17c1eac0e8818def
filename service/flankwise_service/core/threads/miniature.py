"""Unified miniature screw threads, UNM (ASME B1.10M): designation to limits of size, millimetres.

Miniature threads S of ISO 1501 share these sizes, but no table of theirs is held: refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from flankwise_service.core.errors import Fault, NoSource
from flankwise_service.core.threads.common import side_of, to_places, unknown
from flankwise_service.core.threads.model import (
    BasicProfile,
    Family,
    Hand,
    Limits,
    Side,
    Span,
    Thread,
    Tolerances,
)
from flankwise_service.core.threads.tables.asme_b1_10 import ROWS, SOURCE, Row

FAMILIES: tuple[Family, ...] = ("unified_miniature",)
EDITIONS: tuple[str, ...] = ("ASME B1.10M-2004",)
EXAMPLES = ("0.80 UNM",)
_FORM = re.compile(r"(?P<size>[01]?\.\d{1,2}|1) ?UNM(?:[ -](?P<hand>LH|RH))?", re.IGNORECASE)
_LOOSE = re.compile(r".*\bUNM\b.*", re.IGNORECASE)
_ISO_1501 = re.compile(r"S ?(?P<size>[01]?[.,]\d{1,2}|1)(?:[ -].*)?", re.IGNORECASE)
_H = 0.8660254037844386
_TAN_30 = 0.5773502691896257


def read(text: str) -> Thread | None:
    """Return the miniature thread a cleaned text names; None when it isn't of this grammar.

    Errors: `UnknownThread` for a size that isn't there, `NoSource` for S threads of ISO 1501.

    >>> read(".8 unm").designation
    '0.80 UNM'
    """
    if (metric := _ISO_1501.fullmatch(text)) is not None:
        raise _no_iso_1501(text, Decimal(metric["size"].replace(",", ".")))
    if (match := _FORM.fullmatch(text)) is None:
        if _LOOSE.fullmatch(text) is None:
            return None
        change = "write the diameter in millimetres, then UNM, as 0.80 UNM"
        raise unknown(text, f"{text} can't be read as a miniature thread", (), change, "unreadable")
    size = Decimal(match["size"]).quantize(Decimal("0.01"))
    if size not in ROWS:
        detail = f"{size} mm is not a size of UNM"
        raise unknown(text, detail, _near(size), code="not_in_series")
    return _thread(size, "left" if (match["hand"] or "").upper() == "LH" else "right")


def _thread(size: Decimal, hand: Hand) -> Thread:
    return Thread(
        designation=f"{size} UNM" + ("-LH" if hand == "left" else ""),
        family="unified_miniature",
        series="UNM",
        unit="mm",
        diameter=size,
        pitch=ROWS[size].pitch,
        hand=hand,
    )


def _near(asked: Decimal) -> list[str]:
    size = asked.quantize(Decimal("0.01"))
    if size in ROWS:
        return [f"{size} UNM"]
    around = sorted(ROWS, key=lambda held: abs(held - size))[:2]
    return [f"{held} UNM" for held in sorted(around)]


def _no_iso_1501(text: str, size: Decimal) -> NoSource:
    near = tuple(_near(size))
    detail = "no table of ISO 1501 is held, so no limit of an S thread can be stated"
    change = f"the Unified miniature threads share these sizes: {', '.join(near)}"
    return NoSource(Fault("/designation", "no_table", detail, change, text, near=near))


def designations() -> Iterator[str]:
    """Yield the fourteen sizes.

    >>> next(designations())
    '0.30 UNM'
    """
    return (f"{size} UNM" for size in ROWS)


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return no classes: the standard has one for all."""
    return {"external": (), "internal": ()}


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return the limits of size as tabulated, mm.

    Errors: `BadInput` at /side. Source: ASME B1.10M-2004, in Machinery's Handbook 31, Table 5.

    >>> limits(read("0.80 UNM"), "internal", EDITIONS[0]).pitch_diameter
    Span(min=Decimal('0.670'), max=Decimal('0.694'))
    """
    definite = side_of(thread, side)
    row = ROWS[thread.diameter]
    major, middle, minor = _spans(row, definite)
    return Limits(
        thread=thread,
        side=definite,
        allowance=Decimal("0.000"),
        major_diameter=major,
        pitch_diameter=middle,
        minor_diameter=minor,
        basic=basic_profile(thread),
        tolerances=Tolerances(*(_width(span) for span in (major, middle, minor))),
        sources=(SOURCE,),
    )


def _spans(row: Row, side: Side) -> tuple[Span, Span, Span]:
    if side == "external":
        return row.external_major, row.external_pitch, row.external_minor
    return row.internal_major, row.internal_pitch, row.internal_minor


def _width(span: Span) -> Decimal | None:
    return None if span.min is None or span.max is None else span.max - span.min


def basic_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile, mm: 60 degrees, height 0.52 P, crest P/8.

    Source: ASME B1.10M-2004, basic form (memory).

    >>> round(basic_profile(read("1.00 UNM")).root_width / 0.25, 4)
    0.2746
    """
    pitch = float(thread.pitch)
    height = 0.52 * pitch
    return BasicProfile(
        pitch=thread.pitch,
        lead=thread.lead,
        starts=1,
        flank_angle_upper=30.0,
        flank_angle_lower=30.0,
        fundamental_height=_H * pitch,
        thread_height=height,
        crest_width=pitch / 8,
        root_width=pitch * 7 / 8 - 2 * height * _TAN_30,
        root_radius=None,
        major_diameter=to_places(thread.diameter, 3),
        pitch_diameter=to_places(thread.diameter - Decimal("0.649519") * thread.pitch, 3),
        minor_diameter=to_places(thread.diameter - Decimal("1.04") * thread.pitch, 3),
    )
