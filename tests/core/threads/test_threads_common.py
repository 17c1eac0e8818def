"""Cleaning, refusing, taking a side, rounding, nearness: what all thread families share."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from flankwise_service.core.errors import BadInput, UnknownThread
from flankwise_service.core.threads import parse
from flankwise_service.core.threads.common import (
    clean,
    half_up,
    nearest,
    plain,
    side_of,
    to_places,
    unknown,
)


@pytest.mark.parametrize(
    ("given", "cleaned"),
    [
        ("7/8-14 UNF-2A", "7/8-14 UNF-2A"),
        ("  7/8-14   UNF-2A ", "7/8-14 UNF-2A"),
        ("M8×1–6g", "M8x1-6g"),
        ("M8\u00a0x\t1", "M8 x 1"),
        ("1½-6 UNC", "1 1/2-6 UNC"),
        ("7⁄8-14−UNF", "7/8-14-UNF"),
        ('7/8"-14 UNF', "7/8-14 UNF"),
        ("1 1/4 ″-12 UNF", "1 1/4-12 UNF"),
        ("No. 10-24 UNC", "#10-24 UNC"),
        ("no 6-32 UNC", "#6-32 UNC"),
        ("1/2-10 ACME-2G (LH)", "1/2-10 ACME-2G LH"),
    ],
)  # fmt: skip
def test_clean_spells_in_plain_ascii(given: str, cleaned: str) -> None:
    assert clean(given) == cleaned


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("", "no thread designation is given"),
        (" \t ", "no thread designation is given"),
        (None, "no thread designation is given"),
        (5, "no thread designation is given"),
        ("M8\0", "U+0000 (unnamed)"),
        ("M8\n", "U+000A (unnamed)"),
        ("\u202e6-8M", "U+202E (right-to-left override)"),
        ("7/8-14 UNF-2\u0410", "U+0410 (cyrillic capital letter a)"),
        ("M８", "U+FF18 (fullwidth digit eight)"),
        ("M8\ud800", "U+D800 (unnamed)"),
        ("M" + "9" * 5000, "a designation of 5001 characters"),
    ],
)
def test_clean_refuses_what_no_designation_holds(given: object, said: str) -> None:
    with pytest.raises(UnknownThread) as caught:
        clean(given)
    [fault] = caught.value.faults
    assert fault.pointer == "/designation"
    assert said in fault.detail
    assert fault.change
    assert str(fault.value).isascii() or "…" in str(fault.value)
    assert len(str(fault.value)) < 100


def test_sixty_characters_are_read_and_sixty_one_are_not() -> None:
    assert clean("M" * 60) == "M" * 60
    with pytest.raises(UnknownThread, match="61 characters"):
        clean("M" * 61)


def test_unknown_names_what_exists() -> None:
    [fault] = unknown("M8x3", "no such size", ["M8", "M8x1"]).faults
    assert (fault.code, fault.near) == ("unknown_thread", ("M8", "M8x1"))
    assert fault.change == "use one that exists: M8, M8x1"
    assert unknown("x", "bad").faults[0].change == "check the designation"
    assert unknown("x", "bad", change="write it").faults[0].change == "write it"


def test_side_is_said_by_the_class_or_asked_for_and_never_guessed() -> None:
    bare, bolt = parse("M8"), parse("M8-6g")
    assert side_of(bolt, None) == "external"
    assert side_of(bolt, "external") == "external"
    assert side_of(bare, "internal") == "internal"
    with pytest.raises(BadInput, match="doesn't say whether") as missing:
        side_of(bare, None)
    assert [(f.pointer, f.code) for f in missing.value.faults] == [("/side", "side_missing")]
    with pytest.raises(BadInput, match="is an external thread, not internal") as differs:
        side_of(bolt, "internal")
    assert [(f.pointer, f.code) for f in differs.value.faults] == [("/side", "side_differs")]
    nut = replace(bare, side="internal")
    assert side_of(nut, None) == "internal"


def test_rounding_of_an_exact_half() -> None:
    assert to_places(Decimal("0.08165"), 4) == Decimal("0.0816")
    assert half_up(Decimal("0.08165"), 4) == Decimal("0.0817")
    assert to_places(Decimal("0.08155"), 4) == Decimal("0.0816")
    assert str(to_places(Decimal(1), 3)) == "1.000"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("1.50", "1.5"),
        ("20", "20"),
        ("100", "100"),
        ("1E+2", "100"),
        ("0.2500", "0.25"),
        ("2.0", "2"),
    ],
)
def test_plain_writes_no_needless_digit(value: str, text: str) -> None:
    assert plain(Decimal(value)) == text


def test_nearest_prefers_the_likest_and_leaves_out_the_unlike() -> None:
    names = ["M8", "M8x1", "M80x1.5", "1/4-20 UNC"]
    assert nearest("m8x1.5", names) == ("M80x1.5", "M8x1", "M8")
    assert nearest("m8x1.5", names, 1) == ("M80x1.5",)
    assert nearest("zzzz", names) == ()
    assert nearest("", names) == ()
