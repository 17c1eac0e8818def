"""Unified designations: every spelling that is read, every mistake that is refused, and how."""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.errors import UnknownThread
from flankwise_service.core.threads import parse
from flankwise_service.core.threads.tables.asme_b1_1 import PAIRS, SERIES, UN, UNC, UNEF, UNF, UNS
from flankwise_service.core.threads.unified_text import thread_of


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("7/8-14 UNF-2A", "7/8-14 UNF-2A"),
        ("7/8-14UNF-2A", "7/8-14 UNF-2A"),
        ("7/8 - 14 UNF - 2A", "7/8-14 UNF-2A"),
        ("7/8-14-UNF-2A", "7/8-14 UNF-2A"),
        ("7/8-14 unf 2a", "7/8-14 UNF-2A"),
        ("0.875-14 UNF-2A", "7/8-14 UNF-2A"),
        (".875-14 UNF", "7/8-14 UNF"),
        ("#10-24 UNC-2A", "10-24 UNC-2A"),
        ("10-24 UNC-2A", "10-24 UNC-2A"),
        ("0.190-24 UNC-2A", "10-24 UNC-2A"),
        ("1 1/4-7 UNC-2B", "1 1/4-7 UNC-2B"),
        ("1-1/4-7 UNC-2B", "1 1/4-7 UNC-2B"),
        ("1.25-7 UNC-2B", "1 1/4-7 UNC-2B"),
        ("1-8 UNC-2A", "1-8 UNC-2A"),
        ("1-64 UNC-2A", "1-64 UNC-2A"),
        ("6-32 UNC-2A", "6-32 UNC-2A"),
        ("6-14 UNS-2A", "6-14 UNS-2A"),
        ("6-12 UN-2A", "6-12 UN-2A"),
        ("#6-30 UNS-2A", "#6-30 UNS-2A"),
        ("6.0-30 UNS-2A", "6.0-30 UNS-2A"),
        ("4-48 UNS-2A".replace("UNS", "UNF"), "4-48 UNF-2A"),
        ("2-72 UNS-2A", "2-72 UNS-2A"),
        ("1-30 UNS", "1-30 UNS"),
        ("0.1-40 UNS", "0.1000-40 UNS"),
        ("2-40 UNS", "2-40 UNS"),
        ("5-18 UNS-2A", "5-18 UNS-2A"),
        ("8-32 UN-2A".replace("UN", "UNC"), "8-32 UNC-2A"),
        ("2-4.5 UNC-2A", "2-4.5 UNC-2A"),
        ("2-4 1/2 UNC-2A", "2-4.5 UNC-2A"),
        ("7/8-14 UNRF-2A", "7/8-14 UNRF-2A"),
        ("15/16-16 UNR-3A", "15/16-16 UNR-3A"),
        ("0.390-27 UNS-2A", "0.3900-27 UNS-2A"),
        ("7/8-14 UNF-2A-LH", "7/8-14 UNF-2A-LH"),
        ("7/8-14 UNF-2A LH", "7/8-14 UNF-2A-LH"),
        ("7/8-14 UNF-LH", "7/8-14 UNF-LH"),
        ("7/8-14 UNF-2A-RH", "7/8-14 UNF-2A"),
        ("7/8-14 UNF-2A LE 1.25", "7/8-14 UNF-2A LE 1.25"),
        ("7/8-14 UNF-2A-LH, LE 1.250", "7/8-14 UNF-2A-LH LE 1.25"),
        ("7/8-14 UNF-2A LE .5", "7/8-14 UNF-2A LE 0.5"),
        ("3/4-0.0625P-0.125L UNF-2A", "3/4-0.0625P-0.125L UNF-2A"),
        ("3/4-.0625P-.1875L (THREE STARTS) UNF-2A", "3/4-0.0625P-0.1875L UNF-2A"),
        ("7/8-0.0714P-0.1429L(2 starts) UNF-2A", "7/8-0.071429P-0.142857L UNF-2A"),
        ("7/8-.0714P-.0714L UNF-2A", "7/8-14 UNF-2A"),
        ("1-0.0371P-0.0742L UNS-2A", "1-0.0371P-0.0742L UNS-2A"),
        ("1/4-28 UNJF-3A", "1/4-28 UNJF-3A"),
        ("1/4-28 UNJF-3B-LH", "1/4-28 UNJF-3B-LH"),
        ("1/4-30 UNJS-3A", "1/4-30 UNJS-3A"),
    ],
)  # fmt: skip
def test_spellings(text: str, canonical: str) -> None:
    thread = parse(text)
    assert thread.designation == canonical
    assert parse(canonical) == thread


def test_what_is_read() -> None:
    thread = parse("3/4-0.0625P-0.1875L UNRF-2A-LH LE 1.5")
    assert thread.family == "unified"
    assert thread.series == "UNRF"
    assert thread.unit == "in"
    assert thread.diameter == Decimal("0.75")
    assert thread.pitch == Decimal("0.0625")
    assert (thread.starts, thread.lead) == (3, Decimal("0.1875"))
    assert thread.hand == "left"
    assert (thread.thread_class, thread.side) == ("2A", "external")
    assert thread.engagement == Decimal("1.5")
    assert thread.rounded_root
    assert thread.threads_per_inch == 16
    plain = parse("7/8-14 UNF-2B")
    assert (plain.side, plain.hand, plain.starts, plain.rounded_root) == (
        "internal",
        "right",
        1,
        False,
    )
    assert plain.pitch == 1 / Decimal(14)
    assert parse("1/4-28 UNJF-3A").family == "unified_j"
    assert parse("1/4-28 UNJF-3A").rounded_root


@pytest.mark.parametrize(
    ("text", "code", "near"),
    [
        ("15/16-18 UN", "not_in_series", ("15/16-12 UN", "15/16-16 UN", "15/16-20 UNEF", "15/16-18 UNS")),
        ("15/16-18 UNR-2A", "not_in_series", ("15/16-12 UNR", "15/16-16 UNR", "15/16-20 UNREF", "15/16-18 UNRS")),
        ("15/16-18 UNJ-3A", "not_in_series", ("15/16-12 UNJ", "15/16-16 UNJ", "15/16-20 UNJEF", "15/16-18 UNJS")),
        ("7/8-14 UNC-2A", "not_in_series", ("7/8-9 UNC", "7/8-12 UN", "7/8-14 UNF")),
        ("1-8 UN", "not_in_series", ("1-8 UNC", "1-12 UNF", "1-16 UN")),
        ("1 1/4-8 UNC", "not_in_series", ("1 1/4-7 UNC", "1 1/4-8 UN")),
        ("0.9-14 UNF", "not_in_series", ("7/8-14 UNF", "1-12 UNF", "0.9000-14 UNS")),
        ("1/4-20 UNS", "not_special", ("1/4-20 UNC",)),
        ("1/4-20 UNRS", "not_special", ("1/4-20 UNRC",)),
        ("7/8-14", "series_missing", ("7/8-14 UNF",)),
        ("10-24-2A", "series_missing", ("10-24 UNC",)),
        ("7/8-15", "series_missing", ()),
        ("9/17-15", "series_missing", ()),
        ("6-30", "series_missing", ()),
        ("6-30 UNS", "size_unclear", ("#6-30 UNS", "6.0-30 UNS")),
        ("9/17-20 UN", "unknown_size", ()),
        ("#7-20 UN", "unknown_size", ()),
        ("7/8-14 UNF-2C", "unknown_class", ()),
        ("7/8-14 UNF-4A", "unknown_class", ()),
        ("1/4-28 UNJF-2A", "unknown_class", ()),
        ("7/8-14 UNRF-2B", "form_is_external", ()),
        ("7/8 UNF", "unreadable", ("7/8-9 UNC", "7/8-12 UN", "7/8-14 UNF", "7/8-16 UN")),
        ("10 UNF-2A", "unreadable", ("10-24 UNC", "10-32 UNF")),
        ("9/17 UNF", "unreadable", ()),
        ("7/8-14 UNF-2A-LHX", "unreadable", ("7/8-9 UNC", "7/8-12 UN", "7/8-14 UNF", "7/8-16 UN")),
        ("7/8-14 UNF-2A LE 0.05", "unknown_thread", ()),
        ("7/8-14 UNF-2A LE 8.76", "unknown_thread", ()),
        ("0.05-80 UNS", "unknown_thread", ()),
        ("24.1-8 UNS", "unknown_thread", ()),
        ("1.0-81 UNS", "unknown_thread", ()),
        ("1.0-0.9 UNS", "unknown_thread", ()),
        ("1.5-0 UNS", "unknown_thread", ()),
        ("8-8 UNS-2A", "pitch_too_coarse", ()),
        ("3/4-.0625P-.1L UNF-2A", "lead_not_whole", ()),
        ("3/4-.0625P-.6L UNF-2A", "lead_not_whole", ()),
        ("3/4-.0625P-.03L UNF-2A", "lead_not_whole", ()),
        ("3/4-.0000P-.1L UNF-2A", "lead_not_whole", ()),
        ("3/4-1.5P-3.0L UNF-2A", "lead_not_whole", ()),
    ],
)  # fmt: skip
def test_refusals(text: str, code: str, near: tuple[str, ...]) -> None:
    with pytest.raises(UnknownThread) as caught:
        parse(text)
    [fault] = caught.value.faults
    assert (fault.pointer, fault.code, fault.near) == ("/designation", code, near)
    assert fault.detail
    assert fault.change
    for name in near:
        assert parse(name)


def test_the_refusal_reads_as_a_machinist_would_say_it() -> None:
    with pytest.raises(UnknownThread) as caught:
        parse("15/16-18 UN")
    [fault] = caught.value.faults
    assert fault.detail == (
        "15/16-18 UN is not in the series; 15/16-12 UN, 15/16-16 UN and 15/16-20 UNEF are; "
        "as a special: 15/16-18 UNS"
    )


def test_limits_of_what_is_read() -> None:
    for text in ("0.06-80 UNS".replace("UNS", "UNF"), "24.0-1 UNS-2A", "7/8-14 UNF-2A LE 8.75"):
        assert parse(text)
    assert parse("7/8-14 UNF-2A LE 0.0715").engagement == Decimal("0.0715")


def test_series_tables() -> None:
    """Counts and ends of the series (ASME B1.1-2003, Tables 1 to 3; memory)."""
    assert (len(UNC), len(UNF), len(UNEF)) == (33, 24, 25)
    assert UNC[Decimal("4.0000")] == 4
    assert UNF[Decimal("1.5000")] == 12
    assert UNEF[Decimal("1.6875")] == 18
    assert {threads: (str(row[0]), str(row[-1])) for threads, row in UN.items()} == {
        4: ("2.5000", "6.0000"), 6: ("1.3750", "6.0000"), 8: ("1.0000", "6.0000"),
        12: ("0.5625", "6.0000"), 16: ("0.3750", "6.0000"), 20: ("0.2500", "3.0000"),
        28: ("0.2160", "1.5000"), 32: ("0.1380", "1.0000"),
    }  # fmt: skip
    assert not any((d, n) in SERIES for d, n in UNS)
    assert len(PAIRS) == len(SERIES) + len(UNS)
    assert SERIES[Decimal("0.2160"), Decimal(28)] == "UNF"
    assert SERIES[Decimal("0.3750"), Decimal(28)] == "UN"


def test_parts_alone_make_a_thread_of_one_start() -> None:
    thread = thread_of("unified", Decimal("0.75"), Decimal(16), "UNF")
    assert (thread.designation, thread.starts, thread.hand) == ("3/4-16 UNF", 1, "right")
