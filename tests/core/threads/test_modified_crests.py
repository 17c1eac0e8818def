"""Unified threads with modified crests: what is read, what replaces the standard's, what is refused.

The example 3/8-24 UNF-3A MOD with a major diameter of 0.3648 to 0.3720 in stands in ASME B1.1
(memory).
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.errors import BadInput, UnknownThread
from flankwise_service.core.threads import limits, limits_in, parse
from flankwise_service.core.threads.model import Span
from flankwise_service.core.threads.modified import crest_span

CREST = Span(Decimal("0.3648"), Decimal("0.3720"))


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("3/8-24 UNF-3A MOD", "3/8-24 UNF-3A MOD"),
        ("3/8-24 unf-3a-mod", "3/8-24 UNF-3A MOD"),
        ("3/8-24 UNF-3A-LH LE 1 MOD", "3/8-24 UNF-3A-LH LE 1 MOD"),
        ("1/4-28 UNJF-3A MOD", "1/4-28 UNJF-3A MOD"),
    ],
)
def test_mod_is_read(text: str, canonical: str) -> None:
    thread = parse(text)
    assert (thread.designation, thread.modified) == (canonical, True)
    assert parse(canonical) == thread
    assert not parse("3/8-24 UNF-3A").modified


def test_mod_is_of_unified_threads() -> None:
    with pytest.raises(UnknownThread):
        parse("M8-6g MOD")
    with pytest.raises(BadInput, match="MOD is for Unified threads") as caught:
        limits("M8-6g", crest=Span(Decimal("7.8"), Decimal("7.9")))
    assert [fault.pointer for fault in caught.value.faults] == ["/designation"]


@pytest.mark.parametrize("text", ["3/8-24 UNF-3A MOD", "3/8-24 UNF-3A"])
def test_external_crest_is_the_major_diameter(text: str) -> None:
    found, plain = limits(text, crest=CREST), limits("3/8-24 UNF-3A")
    assert found.thread == parse("3/8-24 UNF-3A MOD")
    assert found.major_diameter == CREST
    assert found.tolerances.major_diameter == Decimal("0.0072")
    assert found.pitch_diameter == plain.pitch_diameter
    assert found.minor_diameter == plain.minor_diameter
    assert found.sources[-1].standing == "stated by the caller"
    assert "given with MOD" in found.notes[-1]
    assert limits_in(found, "in").modified
    assert not limits_in(plain, "in").modified


def test_internal_crest_is_the_minor_diameter() -> None:
    crest = Span(Decimal("0.3310"), Decimal("0.3400"))
    found, plain = limits("3/8-24 UNF-3B MOD", crest=crest), limits("3/8-24 UNF-3B")
    assert found.minor_diameter == crest
    assert found.tolerances.minor_diameter == Decimal("0.0090")
    assert found.tolerances.major_diameter is None
    assert found.major_diameter == plain.major_diameter
    assert found.pitch_diameter == plain.pitch_diameter


def test_mod_without_its_limits_is_refused() -> None:
    for text, which in (("3/8-24 UNF-3A MOD", "major"), ("3/8-24 UNF-3B MOD", "minor")):
        with pytest.raises(BadInput, match=f"its {which} diameter's limits") as caught:
            limits(text)
        assert [f.pointer for f in caught.value.faults] == ["/crest_least", "/crest_greatest"]
        with pytest.raises(BadInput, match=f"its {which} diameter's limits"):
            limits(text, crest=Span())


@pytest.mark.parametrize(
    ("least", "greatest", "expected"),
    [
        (None, "0.3720", [("/crest_least", "missing")]),
        ("0.3648", None, [("/crest_greatest", "missing")]),
        ("0.3720", "0.3648", [("/crest_least", "wrong_order")]),
        ("0.3648", "0.3751", [("/crest_greatest", "out_of_range")]),
        ("0.3478", "0.3700", [("/crest_least", "out_of_range")]),
        ("0.9", "0.1", [("/crest_least", "wrong_order"), ("/crest_least", "out_of_range"), ("/crest_greatest", "out_of_range")]),
    ],
)  # fmt: skip
def test_limits_that_are_no_crest(
    least: str | None, greatest: str | None, expected: list[tuple[str, str]]
) -> None:
    """3/8-24 UNF-3A: pitch diameter up to 0.3479, major up to 0.3750."""
    ends = [None if end is None else Decimal(end) for end in (least, greatest)]
    with pytest.raises(BadInput) as caught:
        limits("3/8-24 UNF-3A MOD", crest=Span(*ends))
    assert [(fault.pointer, fault.code) for fault in caught.value.faults] == expected


def test_room_ends_are_allowed() -> None:
    whole = Span(Decimal("0.3479"), Decimal("0.3750"))
    assert limits("3/8-24 UNF-3A MOD", crest=whole).major_diameter == whole
    same = Span(Decimal("0.3700"), Decimal("0.3700"))
    assert limits("3/8-24 UNF-3A MOD", crest=same).tolerances.major_diameter == 0
    internal = Span(Decimal("0.3300"), Decimal("0.3479"))
    assert limits("3/8-24 UNF-3B MOD", crest=internal).minor_diameter == internal
    with pytest.raises(BadInput):
        limits("3/8-24 UNF-3B MOD", crest=Span(Decimal("0.3299"), Decimal("0.3400")))


def test_crest_is_taken_in_either_unit() -> None:
    thread = parse("3/8-24 UNF-3A MOD")
    assert crest_span(thread, 0.3648, 0.372, "in") == CREST
    metric = crest_span(thread, 9.26592, 9.4488, "mm")
    assert (metric.min, metric.max) == (CREST.min, CREST.max)
    assert crest_span(thread, None, None, "mm") == Span()
    assert crest_span(thread, None, 0.372, "in") == Span(None, CREST.max)
