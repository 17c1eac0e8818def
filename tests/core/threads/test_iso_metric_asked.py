"""ISO metric and MJ: spellings, refusals, classes, positions (figures against charts: published/)."""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.errors import BadInput, NoSource, UnknownThread
from flankwise_service.core.threads import classes, limits, parse
from flankwise_service.core.threads.iso_metric import greatest_rounded_minor
from flankwise_service.core.threads.model import Span
from flankwise_service.core.threads.tables.iso_965_1 import range_end
from flankwise_service.core.threads.tables.iso_965_1_engagement import (
    engagement_group,
    normal_length,
)


@pytest.mark.parametrize(
    ("text", "canonical", "series"),
    [
        ("M8", "M8", "coarse"),
        ("m8", "M8", "coarse"),
        ("M 8", "M8", "coarse"),
        ("M8x1.25", "M8", "coarse"),
        ("M8.0x1.250", "M8", "coarse"),
        ("M8X1", "M8x1", "fine"),
        ("M8×1", "M8x1", "fine"),
        ("M 8 x 1 - 6g", "M8x1-6g", "fine"),
        ("M8x0,75-6H", "M8x0.75-6H", "fine"),
        ("M8-6g", "M8-6g", "coarse"),
        ("M8 6g", "M8-6g", "coarse"),
        ("M8-6g6g", "M8-6g", "coarse"),
        ("M8-5g6g", "M8-5g6g", "coarse"),
        ("M8-4H5H", "M8-4H5H", "coarse"),
        ("M20x1.5-6H-LH", "M20x1.5-6H-LH", "fine"),
        ("M20x1.5-6H-rh", "M20x1.5-6H", "fine"),
        ("M6x0.75-5h6h-S-LH", "M6x0.75-5h6h-S-LH", "fine"),
        ("M20x2-7g6g-l", "M20x2-7g6g-L", "fine"),
        ("M8-N", "M8-N", "coarse"),
        ("M16xPh3P1.5-6H", "M16xPh3P1.5-6H", "fine"),
        ("M16xph3p1.5(two starts)-6H", "M16xPh3P1.5-6H", "fine"),
        ("M16xPh1.5P1.5", "M16x1.5", "fine"),
        ("M8xPh2.5P1.25-6H", "M8xPh2.5P1.25-6H", "coarse"),
        ("M50x4", "M50x4", "special"),
        ("M2.6x0.45-6g", "M2.6x0.45-6g", "special"),
        ("MJ6x1-4h6h", "MJ6x1-4h6h", "coarse"),
        ("mj 6-4H5H", "MJ6x1-4H5H", "coarse"),
        ("MJ8x1-4h6h-LH", "MJ8x1-4h6h-LH", "fine"),
    ],
)
def test_spellings(text: str, canonical: str, series: str) -> None:
    thread = parse(text)
    assert (thread.designation, thread.series) == (canonical, series)
    assert parse(canonical) == thread


def test_what_is_read() -> None:
    thread = parse("M16xPh3P1.5-5h6h-S-LH")
    assert (thread.family, thread.unit) == ("iso_metric", "mm")
    assert (thread.diameter, thread.pitch, thread.lead, thread.starts) == (16, Decimal("1.5"), 3, 2)
    assert (thread.hand, thread.side, thread.thread_class) == ("left", "external", "5h6h")
    assert (thread.engagement_group, thread.rounded_root) == ("S", False)
    assert parse("M8-6H").side == "internal"
    assert parse("M8").side is None
    assert (parse("MJ6x1-4h6h").family, parse("MJ6x1-4h6h").rounded_root) == ("metric_j", True)


@pytest.mark.parametrize(
    ("text", "code", "near"),
    [
        ("M8x3", "not_in_series", ("M8", "M8x1", "M8x0.75")),
        ("M8.3x1.25", "not_in_table", ()),
        ("M0x1", "not_in_series", ("M1", "M1x0.2", "M1.1", "M1.1x0.2")),
        ("M400x8", "not_in_series", ("M295x6", "M295x4", "M300x8", "M300x6")),
        ("M40", "pitch_missing", ("M40x3", "M40x2", "M40x1.5")),
        ("M13", "pitch_missing", ("M12", "M12x1.5", "M14", "M14x1.5")),
        ("M8-6H/6g", "fit", ()),
        ("M8-6k", "unknown_class", ()),
        ("M8-6gH", "unreadable", ("M8", "M8x1", "M8x0.75")),
        ("M8-6g6H", "unknown_class", ()),
        ("M8xPh3P1.25", "lead_not_whole", ()),
        ("M8xPh0P0", "lead_not_whole", ()),
        ("M8xPh12.5P1.25", "lead_not_whole", ()),
        ("M8xPh0P1.25", "lead_not_whole", ()),
        ("M8,", "unreadable", ("M8", "M8x1", "M8x0.75")),
        ("M8x", "unreadable", ("M8", "M8x1", "M8x0.75")),
        ("MJ8x3", "not_in_series", ("MJ8x1.25", "MJ8x1", "MJ8x0.75")),
        ("MJ8x1-6g", "unknown_class", ()),
        ("MJ8x", "unreadable", ("MJ8x1.25", "MJ8x1", "MJ8x0.75")),
    ],
)  # fmt: skip
def test_refusals(text: str, code: str, near: tuple[str, ...]) -> None:
    if code == "not_in_table":
        # A special diameter at a pitch that its range has tolerances for is read.
        assert parse(text).series == "special"
        return
    with pytest.raises(UnknownThread) as caught:
        parse(text)
    [fault] = caught.value.faults
    assert (fault.pointer, fault.code, fault.near) == ("/designation", code, near)
    for name in near:
        assert parse(name)


@pytest.mark.parametrize(
    ("text", "detail"),
    [
        ("M8-5g", "no major diameter tolerance of grade 5"),
        ("M8-9g", "no major diameter tolerance of grade 9"),
        ("M8-9H", "no pitch diameter tolerance of grade 9"),
        ("M8-3H", "no pitch diameter tolerance of grade 3"),
        ("M1-7h6h", "no pitch diameter tolerance of grade 7"),
        ("M1x0.2-4H5H", "no minor diameter tolerance of grade 5"),
        ("M1-6e", "no fundamental deviation e is held for pitch 0.25 mm"),
        ("M8-6d", "no fundamental deviation d is held for pitch 1.25 mm"),
        ("M8-6F", "no fundamental deviation F is held for pitch 1.25 mm"),
        ("M8-5h6g", "5h6g mixes two positions"),
    ],
)
def test_what_the_tables_do_not_hold_is_refused_with_what_they_do(text: str, detail: str) -> None:
    with pytest.raises(NoSource) as caught:
        limits(text)
    [fault] = caught.value.faults
    assert detail in fault.detail
    assert (fault.pointer, fault.code) == ("/designation", "no_tolerance")
    for name in fault.near:
        assert limits(name)


def test_mixed_positions_are_told_how_to_write_one() -> None:
    with pytest.raises(NoSource) as caught:
        limits("M8-5h6g")
    assert caught.value.faults[0].change == "use one letter, as 5h6h"


@pytest.mark.parametrize(
    ("text", "side", "means"),
    [
        ("M8", "external", "M8-6g"),
        ("M8", "internal", "M8-6H"),
        ("M1.4", "external", "M1.4-6h"),
        ("M1.4", "internal", "M1.4-5H"),
        ("M1.6", "internal", "M1.6-6H"),
        ("M16xPh3P1.5-S-LH", "internal", "M16xPh3P1.5-6H-S-LH"),
    ],
)
def test_without_a_class_it_stands_for_the_standard_default(
    text: str, side: str, means: str
) -> None:
    """6H/6g from M1.6, 5H/6h up to M1.4 (ISO 965-1:1998, designation; memory)."""
    found = limits(text, side=side)  # type: ignore[arg-type]
    assert found.thread == parse(means)
    assert found.notes[0].startswith("no class given")
    assert limits(means).pitch_diameter == found.pitch_diameter
    assert not any(note.startswith("no class") for note in limits(means).notes)


def test_without_class_or_side_nothing_is_guessed() -> None:
    with pytest.raises(BadInput, match="doesn't say whether"):
        limits("M8")


def test_default_that_the_tables_lack_is_refused() -> None:
    with pytest.raises(NoSource) as caught:
        limits("M1x0.2", side="internal")
    assert caught.value.faults[0].near == ("M1x0.2-4H",)


@pytest.mark.parametrize(
    ("text", "allowance", "major", "middle", "minor_max"),
    [
        # From the stored tables by hand: P 1.25: es e 63, f 42, g 28; Td 4/6/8 132 212 335;
        # Td2 (5.6 to 11.2) 4/5/6/8 75 95 118 190.
        ("M8-6e", "0.063", ("7.725", "7.937"), ("7.007", "7.125"), "6.584"),
        ("M8-6f", "0.042", ("7.746", "7.958"), ("7.028", "7.146"), "6.605"),
        ("M8-4h", "0.000", ("7.868", "8.000"), ("7.113", "7.188"), "6.647"),
        ("M8-5g6g", "0.028", ("7.760", "7.972"), ("7.065", "7.160"), "6.619"),
        ("M8-8g", "0.028", ("7.637", "7.972"), ("6.970", "7.160"), "6.619"),
    ],
)
def test_external_positions_and_grades(
    text: str, allowance: str, major: tuple[str, str], middle: tuple[str, str], minor_max: str
) -> None:
    found = limits(text)
    assert str(found.allowance) == allowance
    assert found.major_diameter == Span(*(Decimal(size) for size in major))
    assert found.pitch_diameter == Span(*(Decimal(size) for size in middle))
    assert found.minor_diameter == Span(None, Decimal(minor_max))


def test_internal_position_g() -> None:
    """EI G 28, TD1(6) 265, TD2(6) 160 micrometres for M8."""
    found = limits("M8-6G")
    assert found.allowance == Decimal("0.028")
    assert found.major_diameter == Span(Decimal("8.028"), None)
    assert found.pitch_diameter == Span(Decimal("7.216"), Decimal("7.376"))
    assert found.minor_diameter == Span(Decimal("6.675"), Decimal("6.940"))
    assert found.tolerances.major_diameter is None
    assert found.extra["major_diameter_max_by_form"] == Decimal("8.368")


def test_two_part_class_takes_pitch_then_crest() -> None:
    mixed, five, four = limits("M8-4H5H"), limits("M8-5H"), limits("M8-4H")
    assert mixed.pitch_diameter == four.pitch_diameter
    assert mixed.minor_diameter == five.minor_diameter
    assert mixed.pitch_diameter != five.pitch_diameter


def test_standing_of_each_source_is_that_of_its_cell() -> None:
    by_place = {s.place: s.standing for s in limits("M8-6g").sources}
    assert by_place["Td2, pitch diameter tolerance"] == "seen"
    assert by_place["Td, major diameter tolerance"] == "memory"
    assert by_place["es, fundamental deviation"] == "memory"
    assert not any("deviation" in s.place for s in limits("M8-6h").sources)
    internal = {s.place: s.standing for s in limits("M3-5H").sources}
    assert internal["TD1, minor diameter tolerance"] == "seen"


def test_notes() -> None:
    assert any("not in ISO 261" in note for note in limits("M50x4-6g").notes)
    assert limits("M8-6g-N").notes == limits("M8-6g").notes == ()
    assert any("engagement group" in note for note in limits("M8-6g-L").notes)
    assert any("engagement group" in note for note in limits("M8-6g-S").notes)


def test_rounded_root_stays_below_the_flat_one() -> None:
    """The rounded root bottoms deeper than the flat, even where Td2 exceeds 4 times the radius."""
    found = limits("M8-6g")
    rounded, flat = found.extra["minor_diameter_rounded_max"], found.minor_diameter.max
    assert rounded is not None
    assert flat is not None
    assert rounded < flat
    assert greatest_rounded_minor(Decimal(7), Decimal(2), Decimal(1)) < Decimal(7)
    # By the formula, worked by hand: 7.160 - (0.54127 + 0.3125 (1 - cos(60 - 35.786 deg))).
    assert rounded == Decimal("6.591")


def test_classes_are_those_tabulated() -> None:
    m8 = classes(parse("M8"))
    assert m8["internal"] == ("4H", "5H", "6H", "7H", "8H", "5G", "6G", "7G", "8G")
    assert "5g6g" in m8["external"]
    assert "5g" not in m8["external"]
    assert classes(parse("M1x0.2"))["internal"] == ("4H",)
    assert "6e" not in classes(parse("M1"))["external"]
    for size in ("M8", "M1x0.2", "M1", "M64", "M2.6x0.45", "M300x8"):
        for names in classes(parse(size)).values():
            for name in names:
                assert limits(f"{size}-{name}").thread.thread_class == name


def test_ranges_include_their_upper_end() -> None:
    assert range_end(Decimal("0.99")) is None
    assert range_end(Decimal(1)) == Decimal("1.4")
    assert range_end(Decimal(355)) == 355
    assert range_end(Decimal("355.1")) is None


def test_normal_engagement() -> None:
    assert normal_length(Decimal(20), Decimal("1.5")) == Span(Decimal("5.6"), Decimal(16))
    assert normal_length(Decimal(8), Decimal(3)) == Span()
    assert normal_length(Decimal(400), Decimal(3)) == Span()
    assert engagement_group(Decimal(8), Decimal(3), Decimal(5)) is None
    m8 = (Decimal(8), Decimal("1.25"))
    groups = [engagement_group(*m8, Decimal(length)) for length in ("4", "4.1", "12", "12.1")]
    assert groups == ["S", "N", "N", "L"]
    extra = limits("M20x1.5-6H").extra
    assert (extra["normal_engagement_over"], extra["normal_engagement_up_to"]) == (
        Decimal("5.6"),
        Decimal(16),
    )


def test_mj() -> None:
    """D1min = D - 0.97427858 P; root radius 0.15011 to 0.18042 P (ISO 5855-1; memory)."""
    bolt, nut = limits("MJ6x1-4h6h"), limits("MJ6x1-4H6H")
    assert bolt.major_diameter == Span(Decimal("5.820"), Decimal("6.000"))
    assert bolt.pitch_diameter == Span(Decimal("5.279"), Decimal("5.350"))
    assert bolt.minor_diameter == Span(None, Decimal("4.845"))
    assert bolt.extra == {
        "root_radius_min": Decimal("0.150"),
        "root_radius_max": Decimal("0.180"),
        "minor_diameter_at_least_radius": Decimal("4.713"),
    }
    assert nut.minor_diameter == Span(Decimal("5.026"), Decimal("5.262"))
    assert bolt.basic.thread_height == pytest.approx(0.5625 * 0.8660254, rel=1e-6)
    assert bolt.basic.root_width == 0.3125
    assert bolt.basic.root_radius == pytest.approx(0.15011)
    assert bolt.sources[0].document == "ISO 5855-1"
    assert bolt.notes[0].startswith("the root must be one radius")
    assert nut.sources[0].standing == "memory"


def test_mj_asks_for_a_class_and_for_one_that_is_tabulated() -> None:
    with pytest.raises(BadInput, match="MJ has no default one") as caught:
        limits("MJ6x1")
    for name in caught.value.faults[0].near:
        assert limits(name)
    with pytest.raises(NoSource, match="no tolerances of 4H6H") as none:
        limits("MJ1.6x0.2-4H6H")
    assert none.value.faults[0].change == "no class of MJ is held for this size"
    with pytest.raises(NoSource) as some:
        limits("MJ2x0.25-4H6H")
    assert some.value.faults[0].change == "use 4H5H"
    assert classes(parse("MJ6x1")) == {"external": ("4h6h", "4g6g"), "internal": ("4H5H", "4H6H")}
