"""Miniature threads and UNJ: what is read, stated, and refused."""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.errors import BadInput, NoSource, UnknownThread
from flankwise_service.core.threads import classes, limits, parse
from flankwise_service.core.threads.model import Span


@pytest.mark.parametrize(
    ("text", "canonical"),
    [("0.80 UNM", "0.80 UNM"), (".8unm", "0.80 UNM"), ("1 UNM", "1.00 UNM"), ("1.4 UNM-LH", "1.40 UNM-LH"), ("1.40 UNM RH", "1.40 UNM")],
)  # fmt: skip
def test_miniature_spellings(text: str, canonical: str) -> None:
    thread = parse(text)
    assert thread.designation == canonical
    assert parse(canonical) == thread
    assert (thread.family, thread.unit, thread.side) == ("unified_miniature", "mm", None)


@pytest.mark.parametrize(
    ("text", "code", "near"),
    [
        ("0.85 UNM", "not_in_series", ("0.80 UNM", "0.90 UNM")),
        ("1.41 UNM", "not_in_series", ("1.20 UNM", "1.40 UNM")),
        ("UNM 0.8", "unreadable", ()),
        ("80 UNM", "unreadable", ()),
    ],
)
def test_miniature_refusals(text: str, code: str, near: tuple[str, ...]) -> None:
    with pytest.raises(UnknownThread) as caught:
        parse(text)
    [fault] = caught.value.faults
    assert (fault.code, fault.near) == (code, near)


@pytest.mark.parametrize(
    ("text", "near"), [("S 0.8", ("0.80 UNM",)), ("S0,85-4H5", ("0.80 UNM", "0.90 UNM"))]
)
def test_miniature_of_iso_1501_has_no_table_here(text: str, near: tuple[str, ...]) -> None:
    with pytest.raises(NoSource, match="no table of ISO 1501 is held") as caught:
        parse(text)
    assert caught.value.faults[0].near == near


def test_miniature_needs_its_side_and_has_no_class() -> None:
    with pytest.raises(BadInput, match="doesn't say whether"):
        limits("0.80 UNM")
    assert classes(parse("0.80 UNM")) == {"external": (), "internal": ()}
    external, internal = limits("0.80 UNM", side="external"), limits("0.80 UNM", side="internal")
    assert external.major_diameter == Span(Decimal("0.770"), Decimal("0.800"))
    assert internal.minor_diameter == Span(Decimal("0.592"), Decimal("0.668"))
    assert external.tolerances.pitch_diameter == Decimal("0.024")
    assert external.tolerances.major_diameter == Decimal("0.030")
    assert external.basic.minor_diameter == Decimal("0.592")
    assert external.basic.crest_width == pytest.approx(0.025)
    assert external.basic.thread_height == pytest.approx(0.104)
    assert external.basic.fundamental_height == pytest.approx(0.8660254 * 0.2)
    assert external.basic.root_width == pytest.approx(0.27456 * 0.2, rel=1e-4)
    assert external.basic.major_diameter == Decimal("0.800")
    assert external.basic.pitch_diameter == Decimal("0.670")


def test_unj_external() -> None:
    """d3max = d2max - 0.50518 P; pitch and major as UN class 3A (ASME B1.15-1995; memory)."""
    found, un = limits("1/4-28 UNJF-3A"), limits("1/4-28 UNF-3A")
    assert found.major_diameter == un.major_diameter
    assert found.pitch_diameter == un.pitch_diameter
    assert found.minor_diameter == Span(None, Decimal("0.2088"))
    assert found.extra == {
        "root_radius_min": Decimal("0.0054"),
        "root_radius_max": Decimal("0.0064"),
        "minor_diameter_at_least_radius": Decimal("0.2041"),
    }
    assert found.thread == parse("1/4-28 UNJF-3A")
    assert found.basic.minor_diameter == Decimal("0.2152")
    assert [s.standing for s in found.sources] == ["memory", "memory"]
    assert found.notes == ("the root must be one radius between the limits in extra",)


def test_unj_keeps_its_own_notes_only() -> None:
    """3/8-28 UNJ would inherit what the 1989 tables print of UN, which says nothing of UNJ."""
    long = limits("1/4-28 UNJF-3A LE 1")
    assert long.notes[1] == "pitch diameter tolerance computed for 1 in of engagement"
    sizes = ("15/16-16", "5/8-16", "2 3/8-20")
    assert all(len(limits(f"{size} UNJ-3A").notes) == 1 for size in sizes)


def test_unj_internal_is_refused_with_what_is_known() -> None:
    with pytest.raises(NoSource) as caught:
        limits("1/4-28 UNJF-3B")
    [fault] = caught.value.faults
    assert "least minor diameter is 0.2152 in" in fault.detail
    assert fault.code == "no_table"


def test_unj_needs_its_class() -> None:
    with pytest.raises(BadInput, match="has no class") as caught:
        limits("1/4-28 UNJF")
    assert caught.value.faults[0].near == ("1/4-28 UNJF-3A", "1/4-28 UNJF-3B")
    assert classes(parse("1/4-28 UNJF")) == {"external": ("3A",), "internal": ("3B",)}
    with pytest.raises(BadInput, match="not internal"):
        limits("1/4-28 UNJF-3A", side="internal")


def test_a_miniature_thread_has_one_start() -> None:
    basic = limits("1.00 UNM", side="external").basic
    assert (basic.starts, basic.lead) == (1, basic.pitch)
