"""Unified limits: classes, editions, engagement, notes, profile (figures against tables: published/)."""

from __future__ import annotations

from decimal import Decimal
from math import sqrt

import pytest

from flankwise_service.core.errors import BadInput, NoSource
from flankwise_service.core.threads import classes, limits, parse
from flankwise_service.core.threads.model import Span
from flankwise_service.core.threads.unified_base import (
    base_series,
    engagement_used,
    standard_engagement,
)
from flankwise_service.core.threads.unified_limits import (
    minor_tolerance,
    pitch_of,
    pitch_tolerance_2a,
)


@pytest.mark.parametrize(
    ("text", "side", "near"),
    [
        ("7/8-14 UNF", None, ("1A", "2A", "3A", "1B", "2B", "3B")),
        ("7/8-14 UNF-LH", "external", ("1A", "2A", "3A")),
        ("7/8-14 UNF LE 1", "internal", ("1B", "2B", "3B")),
        ("7/8-14 UNRF", None, ("1A", "2A", "3A")),
    ],
)
def test_without_a_class_the_classes_are_offered(
    text: str, side: str, near: tuple[str, ...]
) -> None:
    with pytest.raises(BadInput, match="has no class") as caught:
        limits(text, side=side)  # type: ignore[arg-type]
    [fault] = caught.value.faults
    base = text.removesuffix("-LH").removesuffix(" LE 1")
    assert (fault.pointer, fault.code) == ("/designation", "class_missing")
    assert fault.near == tuple(f"{base}-{name}" for name in near)
    for name in fault.near:
        assert limits(name)


def test_rounded_root_asked_for_on_the_internal_side_offers_what_there_is() -> None:
    with pytest.raises(BadInput) as caught:
        limits("7/8-14 UNRF", side="internal")
    assert caught.value.faults[0].near == ("7/8-14 UNRF-1A", "7/8-14 UNRF-2A", "7/8-14 UNRF-3A")


def test_side_asked_against_the_class_is_refused() -> None:
    with pytest.raises(BadInput, match="is an external thread, not internal"):
        limits("7/8-14 UNF-2A", side="internal")
    with pytest.raises(BadInput, match="is an internal thread, not external"):
        limits("7/8-14 UNF-2B", side="external")


def test_edition_not_held_is_refused() -> None:
    with pytest.raises(BadInput, match=r"can't be stated by ASME B1\.1-1974") as caught:
        limits("7/8-14 UNF-2A", edition="ASME B1.1-1974")
    [fault] = caught.value.faults
    assert fault.pointer == "/edition"
    assert fault.change.endswith("ASME B1.1-2019, ASME B1.1-2003, ASME B1.1-1989")


def test_sources_say_the_edition() -> None:
    assert [s.edition for s in limits("7/8-14 UNF-2A").sources] == ["2019", "2003, unchanged 2019"]
    old = limits("7/8-14 UNF-2A", edition="ASME B1.1-1989").sources
    assert old[0].edition == "1989"
    assert "Machinery's Handbook 27" in old[0].place
    assert [s.standing for s in old] == ["computed", "memory"]


def test_minor_diameter_is_that_of_the_form_asked_for() -> None:
    flat, rounded = limits("7/8-14 UNF-2A"), limits("7/8-14 UNRF-2A")
    assert flat.minor_diameter == Span(None, Decimal("0.7961"))
    assert rounded.minor_diameter == Span(None, Decimal("0.7883"))
    assert flat.extra["minor_diameter_rounded_max"] == rounded.minor_diameter.max
    assert rounded.extra["minor_diameter_flat_max"] == flat.minor_diameter.max
    assert flat.basic.root_radius is None
    assert rounded.basic.root_radius == pytest.approx(0.10825318 / 14)
    assert base_series(rounded.thread) == base_series(flat.thread) == "UNF"


def test_internal_thread_has_no_greatest_major_diameter() -> None:
    found = limits("7/8-14 UNF-2B")
    assert found.major_diameter == Span(Decimal("0.8750"), None)
    assert found.allowance == 0
    assert found.tolerances.major_diameter is None
    # By the form: D2max + 0.793857 P (Machinery's Handbook 27, p. 1794).
    assert found.extra["major_diameter_max_by_form"] == Decimal("0.8923")
    assert limits("7/8-14 UNF-2A").tolerances.minor_diameter is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("7/8-14 UNF", "0.8750"),
        ("7/8-9 UNC", "0.8750"),
        ("3-4 UN".replace("UN", "UNC"), "3.0000"),
        ("2 5/8-4 UN".replace("2 5/8", "2 3/4").replace("UN", "UNC"), "2.7500"),
        ("3 1/4-6 UN", "3.2500"),
        ("1 1/2-8 UN", "1.5000"),
        ("7/8-12 UN", "0.75"),
        ("7/8-20 UNEF", "0.45"),
        ("7/8-10 UNS", "0.9"),
        ("7/8-10 UNRS", "0.9"),
    ],
)
def test_length_of_engagement_behind_the_tables(text: str, expected: str) -> None:
    assert standard_engagement(parse(text)) == pytest.approx(Decimal(expected), abs=Decimal("1e-6"))


@pytest.mark.parametrize(
    ("text", "used", "within"),
    [
        ("7/8-14 UNF-2A", "0.875", None),
        ("7/8-14 UNF-2A LE 0.2", "0.875", True),
        ("7/8-14 UNF-2A LE 1.3125", "0.875", True),
        ("7/8-14 UNF-2A LE 1.3126", "1.3126", False),
        ("7/8-12 UN-2A LE 0.4166", "0.4166", False),
        ("7/8-12 UN-2A LE 0.4167", "0.75", True),
        ("7/8-12 UN-2A LE 1.25", "0.75", True),
        ("7/8-12 UN-2A LE 1.2501", "1.2501", False),
        # 9 pitches of 9/16-16 are one diameter, but its tables hold from 5 to 15 pitches all the same.
        ("9/16-16 UN-2A LE 0.3", "0.3", False),
        ("9/16-16 UN-2A LE 0.9", "0.5625", True),
    ],
)
def test_special_length_of_engagement(text: str, used: str, within: bool | None) -> None:
    length, note = engagement_used(parse(text))
    assert length == pytest.approx(Decimal(used), abs=Decimal("1e-6"))
    assert (note is None) == (within is None)
    if note is not None:
        assert ("within the range" in note) == within
        assert note in limits(text).notes


def test_special_length_widens_tolerance_and_allowance() -> None:
    plain, long = limits("7/8-14 UNF-2A"), limits("7/8-14 UNF-2A LE 3")
    pitch, diameter = 1 / 14, 0.875
    by_hand = 0.0015 * diameter ** (1 / 3) + 0.0015 * sqrt(3) + 0.015 * pitch ** (2 / 3)
    assert float(long.tolerances.pitch_diameter or 0) == pytest.approx(by_hand, abs=6e-7)
    assert long.allowance == round(Decimal(0.3 * by_hand), 4) > plain.allowance
    assert limits("7/8-14 UNF-2A LE 1").pitch_diameter == plain.pitch_diameter
    old = limits("5 3/4-12 UN-2A LE 6", edition="ASME B1.1-1989")
    assert old.pitch_diameter != limits("5 3/4-12 UN-2A", edition="ASME B1.1-1989").pitch_diameter


def test_secondary_size_by_diameter_borrows_both_diameter_and_length() -> None:
    """5 3/4-8 is based on LE = D, so the 1989 tables' borrowed tolerance takes 6 in for both."""
    found = limits("5 3/4-8 UN-2A", edition="ASME B1.1-1989")
    borrowed = pitch_tolerance_2a(Decimal(6), Decimal(6), pitch_of(Decimal(8)))
    assert found.tolerances.pitch_diameter == round(borrowed, 4)


@pytest.mark.parametrize(
    ("text", "noted"),
    [
        ("1/4-20 UNC-1A", False),
        ("10-24 UNC-1A", True),
        ("15/16-16 UN-1B", True),
        ("15/16-16 UN-2B", False),
        ("1/4-28 UNRF-1A", False),
    ],
)
def test_class_1_beyond_the_tables_is_noted(text: str, noted: bool) -> None:
    assert any("class 1" in note for note in limits(text).notes) == noted


def test_diameter_beyond_the_tables_is_noted() -> None:
    assert any("above 6 in" in note for note in limits("8-8 UNS-2A".replace("8-8", "8.0-8")).notes)
    assert not any("above 6 in" in note for note in limits("6-8 UN-2A").notes)


@pytest.mark.parametrize(
    ("text", "has"),
    [
        ("7/8-9 UNC-2A", True),
        ("7/8-9 UNRC-2A", True),
        ("7/8-9 UNC-3A", False),
        ("7/8-14 UNF-2A", False),
        ("2 1/2-8 UN-2A", True),
        ("2 3/8-8 UN-2A", False),
        ("2 1/2-6 UN-2A", False),
    ],
)
def test_hot_rolled_stock_has_its_own_least_major_diameter(text: str, has: bool) -> None:
    found = limits(text)
    assert ("major_diameter_min_hot_rolled" in found.extra) == has
    if has:
        hot, least = found.extra["major_diameter_min_hot_rolled"], found.major_diameter.min
        assert hot is not None
        assert least is not None
        assert hot < least


def test_minor_tolerance_takes_each_branch_of_the_formula() -> None:
    """Formulas of ASME B1.1 for the internal minor diameter (memory, confirmed by the rows)."""

    def by(name: str, diameter: str, threads: str) -> float:
        return float(minor_tolerance(name, Decimal(diameter), pitch_of(Decimal(threads))))

    def small(diameter: float, p: float) -> float:
        return 0.05 * p ** (2 / 3) + 0.03 * p / diameter - 0.002

    assert by("2B", "0.25", "4") == pytest.approx(0.25 / 4 - 0.4 / 16, abs=1e-6)
    assert by("2B", "3", "3.5") == pytest.approx(0.15 / 3.5, abs=1e-6)
    assert by("2B", "0.2499", "20") == pytest.approx(0.25 / 20 - 0.4 / 400, abs=1e-6)
    assert by("2B", "0.138", "32") == pytest.approx(small(0.138, 1 / 32), abs=1e-6)
    assert by("2B", "0.06", "80") == pytest.approx(0.394 / 80, abs=1e-6)
    assert by("3B", "4", "12") == pytest.approx(0.12 / 12, abs=1e-6)
    assert by("3B", "0.5", "12") == pytest.approx(small(0.5, 1 / 12), abs=1e-6)
    assert by("3B", "2", "13") == pytest.approx(0.23 / 13 - 1.5 / 169, abs=1e-6)
    assert by("3B", "0.3125", "24") == pytest.approx(small(0.3125, 1 / 24), abs=1e-6)


def test_basic_profile() -> None:
    """H = 0.8660254 P, 5/8 H, P/8, P/4 (ASME B1.1-2003, basic profile)."""
    found = limits("3/4-0.0625P-0.125L UNF-2A")
    basic = found.basic
    assert (basic.pitch, basic.lead, basic.starts) == (Decimal("0.0625"), Decimal("0.125"), 2)
    assert basic.flank_angle_upper == basic.flank_angle_lower == 30.0
    height = sqrt(3) / 2 / 16
    assert basic.fundamental_height == pytest.approx(height, rel=1e-12)
    assert basic.thread_height == pytest.approx(0.625 * height, rel=1e-12)
    assert (basic.crest_width, basic.root_width) == (0.0625 / 8, 0.0625 / 4)
    assert basic.major_diameter == Decimal("0.7500")
    assert float(basic.pitch_diameter) == pytest.approx(0.75 - 0.75 * height, abs=5e-5)
    assert float(basic.minor_diameter) == pytest.approx(0.75 - 1.25 * height, abs=5e-5)
    assert basic.taper == 0


def test_minor_diameter_of_2b_is_printed_to_three_decimals_from_no_6_up() -> None:
    """ASME B1.1: 6-32 UNC 2B 0.104 to 0.114, 5-40 UNC 2B 0.0979 to 0.1062 (memory; the latter seen)."""
    assert str(limits("6-32 UNC-2B").minor_diameter.max) == "0.114"
    assert str(limits("6-32 UNC-2B").minor_diameter.min) == "0.104"
    assert str(limits("6-32 UNC-3B").minor_diameter.min) == "0.1040"
    assert str(limits("5-40 UNC-2B").minor_diameter.max) == "0.1062"


def test_classes() -> None:
    assert classes(parse("7/8-14 UNF")) == {
        "external": ("1A", "2A", "3A"),
        "internal": ("1B", "2B", "3B"),
    }
    assert classes(parse("7/8-14 UNRF"))["internal"] == ()


@pytest.mark.parametrize(
    ("text", "stated"),
    [
        ("5.9654-68 UNS-1A", False),
        ("5.9654-68 UNS-3A", True),
        ("5.9654-60 UNS-1A", True),
        ("20-80 UNS-1B", False),
        ("20-60 UNS-3B", True),
    ],
)
def test_pitch_so_fine_that_the_tolerance_swallows_the_thread(text: str, stated: bool) -> None:
    if stated:
        assert limits(text)
        return
    with pytest.raises(NoSource, match="as large as the thread is deep") as caught:
        limits(text)
    assert caught.value.faults[0].code == "tolerance_too_wide"
