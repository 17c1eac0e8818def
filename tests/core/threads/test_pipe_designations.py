"""Pipe threads: what a designation reads as, and what is refused with the nearest sizes named."""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.errors import BadInput, NoSource, UnknownThread
from flankwise_service.core.threads import Span, classes, limits, parse
from flankwise_service.core.threads.model import Side

SIDES: tuple[Side, ...] = ("external", "internal")


@pytest.mark.parametrize(
    ("text", "designation"),
    [
        ("1/2 NPT", "1/2-14 NPT"),
        ("1/2-14npt", "1/2-14 NPT"),
        ("1-1/4-11.5 NPT", "1 1/4-11.5 NPT"),
        ("1 1/4-11 1/2 NPT", "1 1/4-11.5 NPT"),
        ("1-11-1/2 NPT-LH", "1-11.5 NPT-LH"),
        ("14 OD NPT", "14 OD-8 NPT"),
        ("14OD-8 NPT", "14 OD-8 NPT"),
        ("14-8 NPT", "14 OD-8 NPT"),
        ("1/8-27 NPTF-2", "1/8-27 NPTF-2"),
        ("1/8 nptf 1", "1/8-27 NPTF-1"),
        ("1/4-18 NPSM LH", "1/4-18 NPSM-LH"),
        ("G1/2", "G 1/2"),
        ("g 1 1/2 a", "G 1 1/2 A"),
        ("G 1-1/2-11 B-LH", "G 1 1/2 B-LH"),
        ("BSPP 3/4", "G 3/4"),
        ("3/4-14 BSPP A", "G 3/4 A"),
        ("R 2 LH", "R 2-LH"),
        ("RC1/8", "Rc 1/8"),
        ("rp 1", "Rp 1"),
        ("1/2 BSPT", "BSPT 1/2"),
        ("BSPT 1/2-14", "BSPT 1/2"),
    ],
)
def test_reads_the_spellings_of_the_trade(text: str, designation: str) -> None:
    thread = parse(text)
    assert thread.designation == designation
    assert parse(designation) == thread


def test_what_a_pipe_thread_carries() -> None:
    npt = parse("1/2-14 NPT-LH")
    assert (npt.family, npt.series, npt.unit, npt.hand) == ("npt", "NPT", "in", "left")
    assert (npt.diameter, npt.pitch, npt.side) == (Decimal("0.840"), 1 / Decimal(14), None)
    g = parse("G 1/2")
    assert (g.family, g.unit, g.diameter, g.side) == (
        "bsp_parallel", "mm", Decimal("20.955"), "internal",
    )  # fmt: skip
    assert g.pitch == Decimal("25.4") / 14
    assert parse("G 1/2 A").side == parse("R 1/2").side == "external"
    assert parse("Rc 1/2").family == parse("BSPT 1/2").family == "bsp_taper"
    assert parse("Rp 1/2").family == "bsp_parallel"
    assert parse("1/8 NPTF").family == "nptf"
    assert parse("1/8 NPSC").side == "internal"
    assert parse("1/8 NPSM").family == "nps"


@pytest.mark.parametrize(
    ("text", "near", "words"),
    [
        ("7/16 NPT", ("3/8-18 NPT", "1/2-14 NPT", "1/4-18 NPT"), "no size 7/16"),
        ("1/2-16 NPT", ("1/2-14 NPT",), "14 threads per inch, not 16"),
        ("1/2-14 NPT-1", ("1/2-14 NPT",), "no classes"),
        ("1/0 NPT", (), "is no size"),
        ("2 OD NPT", ("2-11.5 NPT", "1 1/2-11.5 NPT", "2 1/2-8 NPT"), "no size 2 OD"),
        ("4 NPTF", ("3-8 NPTF", "2 1/2-8 NPTF", "2-11.5 NPTF"), "no size 4"),
        ("5 NPSC", ("4-8 NPSC", "3 1/2-8 NPSC", "3-8 NPSC"), "no size 5"),
        ("8 NPSM", ("6-8 NPSM", "5-8 NPSM", "4-8 NPSM"), "no size 8"),
        ("G 9/16", ("G 1/2", "G 5/8", "G 3/8"), "no size 9/16"),
        ("G 1/2-16", ("G 1/2",), "14 threads per inch, not 16"),
        ("G 0/2", (), "is no size"),
        ("R 1/2 A", ("R 1/2",), "no class A"),
        ("R 5/8", ("R 1/2", "R 3/4", "R 3/8"), "no size 5/8"),
        ("1/2 BSP", ("G 1/2", "R 1/2", "Rc 1/2", "Rp 1/2"), "doesn't say parallel or taper"),
        ("5/8 BSP", ("G 5/8",), "doesn't say parallel or taper"),
        ("BSP 9", ("G 6", "G 5 1/2", "G 5"), "no size 9"),
    ],
)
def test_refuses_and_names_the_nearest(text: str, near: tuple[str, ...], words: str) -> None:
    with pytest.raises(UnknownThread) as refused:
        parse(text)
    fault = refused.value.faults[0]
    assert (fault.pointer, fault.near) == ("/designation", near)
    assert words in fault.detail
    assert fault.change
    for name in near:
        assert parse(name).designation == name


@pytest.mark.parametrize("series", ["NPSL", "NPSF", "NPSI", "NPSH", "NPTR"])
def test_refuses_what_has_no_source(series: str) -> None:
    with pytest.raises(NoSource) as refused:
        parse(f"1/4-18 {series}")
    fault = refused.value.faults[0]
    assert (fault.pointer, fault.code) == ("/designation", "no_source")
    assert series in fault.detail


def test_needs_a_side_where_the_designation_says_none() -> None:
    for text in ("1/2 NPT", "1/2 NPTF", "1/2 NPSM", "BSPT 1/2"):
        with pytest.raises(BadInput) as refused:
            limits(text)
        assert refused.value.faults[0].code == "side_missing"
    for text, side in (("G 1/2", SIDES[0]), ("G 1/2 A", SIDES[1]), ("1/2 NPSC", SIDES[0])):
        with pytest.raises(BadInput) as refused:
            limits(text, side=side)
        assert refused.value.faults[0].pointer == "/side"


def test_classes_to_choose_from() -> None:
    assert classes(parse("G 1/2")) == {"external": ("A", "B"), "internal": ()}
    assert classes(parse("1/2 NPTF")) == {"external": ("1", "2"), "internal": ("1", "2")}
    assert classes(parse("1/2 NPT")) == {"external": (), "internal": ()}
    assert classes(parse("1/2 NPSC")) == classes(parse("Rc 1/2")) == {"internal": ()}
    assert classes(parse("R 1/2")) == {"external": ()}
    assert classes(parse("BSPT 1/2")) == {"external": (), "internal": ()}


def test_npt_limits_lie_at_the_face_of_the_part() -> None:
    outside, inside = (limits("1/2 NPT", side=side) for side in SIDES)
    turn = Decimal("0.0625") / 14
    for found, basic in ((outside, Decimal("0.75843")), (inside, Decimal("0.77843"))):
        assert found.basic.pitch_diameter == basic
        assert found.pitch_diameter.min is not None
        assert found.pitch_diameter.max is not None
        assert abs(found.pitch_diameter.min - (basic - turn)) < Decimal("0.00002")
        assert abs(found.pitch_diameter.max - (basic + turn)) < Decimal("0.00002")
        assert found.basic.major_diameter == basic + Decimal("0.05714")
        assert found.basic.minor_diameter == basic - Decimal("0.05714")
        assert (found.basic.taper, found.basic.starts) == (0.0625, 1)
        assert found.basic.thread_height == pytest.approx(0.8 / 14)
        assert found.basic.crest_width == pytest.approx(0.03812 / 14, rel=1e-3)
        assert found.basic.crest_width == found.basic.root_width
    # The crest may be truncated 0.0056 where the pitch diameter is least, 0.033 p where greatest.
    assert outside.major_diameter.min == Decimal("0.80462")
    assert outside.major_diameter.max == Decimal("0.82004")
    assert outside.minor_diameter.min == Decimal("0.69682")
    assert outside.minor_diameter.max == Decimal("0.71223")
    assert "small end" in outside.notes[0]
    assert "E1" in inside.notes[0]


def test_nptf_has_sharper_crests_than_roots_on_both_sides() -> None:
    outside, inside = (limits("1/2 NPTF-1", side=side) for side in SIDES)
    for found in (outside, inside):
        crest, root = found.basic.crest_width, found.basic.root_width
        sharp, blunt = (crest, root) if found.side == "external" else (root, crest)
        assert sharp < blunt
        assert found.extra["crest_truncation_max"] == found.extra["root_truncation_min"]
        assert "memory" in {source.standing for source in found.sources}
    # 14 threads: crest 0.036 p to 0.060 p, root 0.060 p to 0.085 p (ASME B1.20.3, Table 1; memory).
    assert outside.extra["crest_truncation_min"] == Decimal("0.0026")
    assert outside.extra["crest_truncation_max"] == Decimal("0.0043")
    assert outside.extra["root_truncation_max"] == Decimal("0.0061")
    assert outside.extra["thread_height_max"] == Decimal("0.05500")
    # By hand, E0 0.758429, E1 0.778429, p/16 0.004464, H 0.061859; crest 2f 0.005143 to 0.008571,
    # root 2f 0.008571 to 0.012143.
    assert outside.major_diameter == Span(Decimal("0.80725"), Decimal("0.81961"))
    assert outside.minor_diameter == Span(Decimal("0.70068"), Decimal("0.71318"))
    assert inside.major_diameter == Span(Decimal("0.82368"), Decimal("0.83618"))
    assert inside.minor_diameter == Span(Decimal("0.71725"), Decimal("0.72961"))


def test_npt_lengths_in_threads_and_their_sum() -> None:
    extra = limits("1/2 NPT", side="external").extra
    assert extra["overall_length"] == Decimal("0.7815")  # L2 + V
    assert extra["complete_thread_length"] == Decimal("0.3909")  # L2 - 2 p
    assert extra["wrench_makeup_length"] == Decimal("0.2143")  # 3 p
    assert extra["pitch_diameter_at_wrench_makeup"] == Decimal("0.74503")  # E0 - 3 p/16
    assert extra["minor_diameter_at_small_end"] == Decimal("0.70129")
    assert extra["diameter_increase_per_thread"] == Decimal("0.00446")
    assert extra["vanish_length_turns"] == Decimal("3.47")
    assert extra["wrench_makeup_turns"] == Decimal("3.00")
    assert "one turn off" in limits("1/2 NPT", side="external").notes[3]
    assert limits("3 NPT", side="external").extra["wrench_makeup_length"] == Decimal("0.2500")
    standings = {
        size: [s.standing for s in limits(f"{size} NPT", side="external").sources]
        for size in ("2", "10")
    }
    assert standings == {"2": ["computed", "seen", "seen"], "10": ["computed", "memory", "seen"]}


def test_npsm_limits_are_the_table() -> None:
    outside, inside = (limits("1-11.5 NPSM", side=side) for side in SIDES)
    assert str(outside.major_diameter) == "Span(min=Decimal('1.281'), max=Decimal('1.293'))"
    assert str(outside.pitch_diameter) == "Span(min=Decimal('1.2311'), max=Decimal('1.2369'))"
    assert outside.minor_diameter.max is None
    assert outside.allowance == Decimal("0.0017")
    assert outside.tolerances.major_diameter == Decimal("0.012")
    assert str(inside.minor_diameter) == "Span(min=Decimal('1.201'), max=Decimal('1.211'))"
    assert str(inside.pitch_diameter) == "Span(min=Decimal('1.2386'), max=Decimal('1.2462'))"
    assert inside.major_diameter.min is None
    assert inside.allowance == 0
    assert inside.tolerances.major_diameter is None
    assert inside.basic.taper == 0
    assert inside.basic.pitch_diameter == Decimal("1.2386")


def test_taper_threads_of_iso_7_shift_with_the_gauge_plane() -> None:
    outside, inside = limits("R 1/2"), limits("Rc 1/2")
    assert outside.basic.major_diameter == Decimal("20.442")  # 20.955 - 8.2/16
    assert inside.basic.major_diameter == Decimal("21.012")  # 20.955 + P/32
    assert outside.major_diameter.max is not None
    assert outside.major_diameter.max == Decimal("20.555")  # + 1.8/16
    assert outside.major_diameter.min == Decimal("20.330")
    assert inside.pitch_diameter.max == Decimal("19.993")  # 19.793 + P/32 + 2.3/16
    assert outside.tolerances.pitch_diameter == Decimal("0.225")
    assert outside.basic.taper == inside.basic.taper == 0.0625
    assert outside.extra["useful_thread_length_at_gauge_length_max"] == Decimal("15.0")
    assert outside.extra["useful_thread_length_at_gauge_length_min"] == Decimal("11.4")
    assert "gauge_length" not in inside.extra
    for side, found in (("external", outside), ("internal", inside)):
        either = limits("BSPT 1/2", side=side)  # type: ignore[arg-type]
        assert either.pitch_diameter == found.pitch_diameter
        assert either.extra == found.extra


def test_g_has_one_minor_limit_outside_and_one_major_inside() -> None:
    outside, inside, wide = limits("G 1/2 A"), limits("G 1/2"), limits("G 1/2 B")
    assert outside.minor_diameter.min is None
    assert outside.minor_diameter.max == Decimal("18.631")
    assert inside.major_diameter.max is None
    assert inside.minor_diameter.max == Decimal("19.172")
    assert wide.pitch_diameter.min == Decimal("19.509")
    basic = inside.basic
    assert basic.flank_angle_upper == basic.flank_angle_lower == 27.5
    assert basic.fundamental_height == pytest.approx(0.960491 * 25.4 / 14)
    assert basic.thread_height == pytest.approx(0.640327 * 25.4 / 14)
    assert basic.root_radius == pytest.approx(0.137329 * 25.4 / 14)
    assert basic.crest_width == basic.root_width == pytest.approx(25.4 / 14 / 6)


def test_rp_may_lie_either_way_of_basic() -> None:
    """Rp 1/2: every diameter of ISO 228-1 plus or minus 0.142 mm (ISO 7-1, Table 1; memory)."""
    found = limits("Rp 1/2")
    for span, basic in (
        (found.major_diameter, "20.955"),
        (found.pitch_diameter, "19.793"),
        (found.minor_diameter, "18.631"),
    ):
        assert span.min == Decimal(basic) - Decimal("0.142")
        assert span.max == Decimal(basic) + Decimal("0.142")
    tolerances = found.tolerances
    assert (
        tolerances.major_diameter
        == tolerances.pitch_diameter
        == tolerances.minor_diameter
        == Decimal("0.284")
    )
    assert found.allowance == 0
    assert found.basic.taper == 0
    assert found.extra == {"thread_height": Decimal("1.162")}


def test_taper_extra_names_the_gauge_plane() -> None:
    for name in ("R 1/2", "Rc 1/2"):
        extra = limits(name).extra
        assert extra["major_diameter_at_gauge_plane"] == Decimal("20.955")
        assert extra["pitch_diameter_at_gauge_plane"] == Decimal("19.793")
        assert extra["minor_diameter_at_gauge_plane"] == Decimal("18.631")
        assert extra["thread_height"] == Decimal("1.162")
        assert extra["diameter_increase_per_thread"] == Decimal("0.113")  # P/16
    outside = limits("R 1/2")
    assert outside.allowance == limits("Rc 1/2").allowance == 0
    assert outside.extra["gauge_length_turns"] == Decimal("4.52")
    assert outside.extra["gauge_length_tolerance_turns"] == Decimal("0.99")
    assert outside.extra["useful_thread_length_turns"] == Decimal("7.28")
    assert limits("Rc 1/2").extra["gauge_plane_tolerance_turns"] == Decimal("1.27")
    assert outside.minor_diameter == Span(Decimal("18.006"), Decimal("18.231"))
    assert outside.pitch_diameter == Span(Decimal("19.168"), Decimal("19.393"))
    assert outside.basic.pitch_diameter == Decimal("19.280")
    assert outside.basic.minor_diameter == Decimal("18.118")
    assert outside.tolerances.major_diameter == outside.tolerances.minor_diameter
    assert "gauge length" in outside.notes[0]
    assert "half a pitch" in limits("Rc 1/2").notes[0]
    assert "one turn off" in outside.notes[2]
