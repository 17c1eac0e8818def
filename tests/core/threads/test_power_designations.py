"""Acme, trapezoidal and buttress threads: designations, classes, refusals, figures by hand."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from flankwise_service.core.errors import BadInput, UnknownThread
from flankwise_service.core.threads import Span, classes, limits, parse
from flankwise_service.core.threads.model import Side

SIDES: tuple[Side, ...] = ("external", "internal")


@pytest.mark.parametrize(
    ("text", "designation"),
    [
        ("0.500-10-ACME-2G", "1/2-10 ACME-2G"),
        ("1.750-6-acme-4c-lh", "1 3/4-6 ACME-4C-LH"),
        ("1/2-10 Stub Acme 2G", "1/2-10 STUB ACME-2G"),
        ("1/2-10 STUB-ACME", "1/2-10 STUB ACME"),
        ("2.875-0.4P-0.8L-ACME-3C", "2 7/8-0.4P-0.8L ACME-3C"),
        ("2.500-0.3333P-0.6667L-ACME-4C LH", "2 1/2-0.3333P-0.6667L ACME-4C-LH"),
        ("5-0.75P-0.75L ACME", "5-0.75P-0.75L ACME"),
        ("2 1/2-0.5P-0.5L ACME", "2 1/2-2 ACME"),
        ("2 1/2-0.5P-1L ACME", "2 1/2-0.5P-1L ACME"),
        ("1.3-5 ACME-2G", "1.3000-5 ACME-2G"),
        ("11/32-12 ACME-2G", "11/32-12 ACME-2G"),
        ("tr24x5-7e", "Tr 24x5-7e"),
        ("Tr 24 x 5 - 7H", "Tr 24x5-7H"),
        ("Tr 40x14(P7)LH-8c", "Tr 40x14(P7)-8c-LH"),
        ("TR40X14P7-7e-LH", "Tr 40x14(P7)-7e-LH"),
        ("Tr 8x1.5", "Tr 8x1.5"),
        ("Tr 40x7(P7)", "Tr 40x7"),
        ("2.500-8 butt-2a", "2 1/2-8 BUTT-2A"),
        ("2-8 PUSH BUTT 3B LH", "2-8 PUSH-BUTT-3B-LH"),
        ("8-2.5 BUTT", "8-2.5 BUTT"),
        ("17/32-12 BUTT", "17/32-12 BUTT"),
    ],
)
def test_reads_the_spellings_of_the_standards(text: str, designation: str) -> None:
    thread = parse(text)
    assert thread.designation == designation
    assert parse(designation) == thread


def test_what_a_power_thread_carries() -> None:
    two = parse("2 7/8-0.4P-0.8L ACME-3C")
    assert (two.starts, two.pitch, two.lead) == (2, Decimal("0.4"), Decimal("0.8"))
    assert (two.family, two.series, two.side) == ("acme", "special", None)
    assert parse("1/2-10 ACME").series == "ACME"
    assert parse("11/32-12 ACME").diameter == Decimal("0.3438")
    assert parse("17/32-12 BUTT").diameter == Decimal("0.5312")
    assert parse("1/2-10 STUB ACME").family == "stub_acme"
    tr = parse("Tr 40x14(P7)-7H-LH")
    assert (tr.starts, tr.pitch, tr.lead, tr.hand, tr.side) == (2, 7, 14, "left", "internal")
    assert parse("Tr 40x7-7e").side == "external"
    assert parse("Tr 40x7").side is None
    butt = parse("2-8 PUSH-BUTT-3B")
    assert (butt.family, butt.series, butt.side, butt.thread_class) == (
        "buttress", "PUSH-BUTT", "internal", "3B",
    )  # fmt: skip
    assert parse("2-8 BUTT-2A").side == "external"
    assert parse("2-8 BUTT").side is None


@pytest.mark.parametrize(
    ("text", "near", "words"),
    [
        ("1/8-20 ACME", ("1/4-16 ACME", "5/16-14 ACME", "3/8-12 ACME"), "from 0.25 to 5 in, not 1/8"),
        ("6-2 ACME", ("5-2 ACME", "4 1/2-2 ACME", "4-2 ACME"), "not 6"),
        ("3/3-2 ACME", ("1-5 ACME", "7/8-6 ACME", "1 1/8-5 ACME"), "not 3/3"),
        ("1/2-11 ACME", ("1/2-10 ACME", "1/2-12 ACME", "1/2-9 ACME"), "no standard Acme pitch"),
        ("1/2-0 ACME", ("1/2-4 ACME", "1/2-5 ACME", "1/2-6 ACME"), "no standard Acme pitch"),
        ("1/2-10 5/0 ACME", ("1/2-10 ACME", "7/16-12 ACME", "3/8-12 ACME"), "no standard Acme pitch"),
        ("1/2-.0P-1L ACME", ("1/2-16 ACME", "1/2-14 ACME", "1/2-12 ACME"), "a pitch of .0 in"),
        ("1/2-2 ACME", ("1/2-10 ACME", "7/16-12 ACME", "3/8-12 ACME"), "no core"),
        ("1/2-0.1P-0.25L ACME", ("1/2-10 ACME", "7/16-12 ACME", "3/8-12 ACME"), "whole number"),
        ("1/2-0.1P-0.9L ACME", ("1/2-10 ACME", "7/16-12 ACME", "3/8-12 ACME"), "whole number"),
        ("1/2-0.1P-0L ACME", ("1/2-10 ACME", "7/16-12 ACME", "3/8-12 ACME"), "whole number"),
        ("3/8-12 ACME-2C", ("3/8-12 ACME-2G", "3/8-12 ACME-3G", "3/8-12 ACME-4G"), "no class 2C"),
        ("1-5 STUB ACME-2C", ("1-5 STUB ACME-2G", "1-5 STUB ACME-3G", "1-5 STUB ACME-4G"), "STUB"),
        ("Tr 25x5", ("Tr 24x3", "Tr 26x3", "Tr 22x3"), "no diameter 25 mm"),
        ("Tr 24x4", ("Tr 24x3", "Tr 24x5", "Tr 24x8"), "no pitch 4 mm"),
        ("Tr 24x0", ("Tr 24x3", "Tr 24x5", "Tr 24x8"), "no pitch 0 mm"),
        ("Tr 40x15(P7)", ("Tr 40x7", "Tr 40x14(P7)", "Tr 40x21(P7)"), "a lead of 15 mm"),
        ("Tr 40x0(P7)", ("Tr 40x7", "Tr 40x14(P7)", "Tr 40x21(P7)"), "a lead of 0 mm"),
        ("Tr 40x3(P7)", ("Tr 40x7", "Tr 40x14(P7)", "Tr 40x21(P7)"), "a lead of 3 mm"),
        ("Tr 40x63(P7)", ("Tr 40x7", "Tr 40x14(P7)", "Tr 40x21(P7)"), "a lead of 63 mm"),
        (
            "Tr 24x5-6g",
            tuple(f"Tr 24x5-{name}" for name in ("7e", "8e", "8c", "9c", "7H", "8H", "9H")),
            "6g is no class",
        ),
        ("1/4-20 BUTT", ("1/2-20 BUTT", "5/8-20 BUTT", "11/16-20 BUTT"), "from 0.5 to 24 in"),
        ("5/5-8 BUTT", ("1-16 BUTT", "7/8-16 BUTT", "3/4-16 BUTT"), "not 5/5"),
        ("17/32-10 BUTT", ("17/32-12 BUTT", "17/32-16 BUTT", "17/32-20 BUTT"), "at 17/32 in"),
        ("2-20 BUTT", ("2-16 BUTT", "2-12 BUTT", "2-10 BUTT"), "no 20 threads per inch at 2 in"),
        ("2-4 4/4 BUTT", ("2-4 BUTT", "2-5 BUTT", "2-6 BUTT"), "no 4 4/4 threads"),
        (
            "2-8 BUTT-1A",
            ("2-8 BUTT-2A", "2-8 BUTT-3A", "2-8 BUTT-2B", "2-8 BUTT-3B"),
            "no class 1A",
        ),
    ],
)  # fmt: skip
def test_refuses_and_names_the_nearest(text: str, near: tuple[str, ...], words: str) -> None:
    with pytest.raises(UnknownThread) as refused:
        parse(text)
    fault = refused.value.faults[0]
    assert (fault.pointer, fault.near) == ("/designation", near)
    assert words in fault.detail
    for name in near:
        assert parse(name).designation == name


@pytest.mark.parametrize(
    ("text", "side", "near"),
    [
        ("1/4-16 ACME-LH", "external", ("1/4-16 ACME-2G", "1/4-16 ACME-3G", "1/4-16 ACME-4G")),
        ("Tr 24x5", "internal", ("Tr 24x5-7H", "Tr 24x5-8H", "Tr 24x5-9H")),
        ("Tr 24x5", "external", ("Tr 24x5-7e", "Tr 24x5-8e", "Tr 24x5-8c", "Tr 24x5-9c")),
        ("2-8 BUTT", "internal", ("2-8 BUTT-2B", "2-8 BUTT-3B")),
    ],
)
def test_assumes_no_class(text: str, side: Side, near: tuple[str, ...]) -> None:
    with pytest.raises(BadInput) as refused:
        limits(text, side=side)
    fault = refused.value.faults[0]
    assert (fault.pointer, fault.code, fault.near) == ("/designation", "class_missing", near)
    assert near[0] in fault.change


def test_offers_classes_of_both_sides_of_a_trapezoidal_thread_when_none_is_said() -> None:
    with pytest.raises(BadInput) as refused:
        limits("Tr 24x5")
    assert refused.value.faults[0].near == tuple(
        f"Tr 24x5-{name}" for name in ("7e", "8e", "8c", "9c", "7H", "8H", "9H")
    )


def test_classes_to_choose_from() -> None:
    general = ("2G", "3G", "4G")
    both = (*general, "2C", "3C", "4C")
    assert classes(parse("3/8-12 ACME")) == {"external": general, "internal": general}
    assert classes(parse("1/2-10 ACME")) == {"external": both, "internal": both}
    assert classes(parse("1/2-10 STUB ACME"))["external"] == general
    assert classes(parse("2-8 BUTT")) == {"external": ("2A", "3A"), "internal": ("2B", "3B")}
    assert classes(parse("Tr 24x5"))["internal"] == ("7H", "8H", "9H")


def test_acme_needs_a_side() -> None:
    with pytest.raises(BadInput) as refused:
        limits("1/2-10 ACME-2G")
    assert refused.value.faults[0].pointer == "/side"


def test_acme_nut_by_hand() -> None:
    """1/4-16-2G: 0.006 x 0.5 + 0.030 x 0.25 = 0.0105 on the pitch diameter (ASME B1.5's example)."""
    nut = limits("1/4-16 ACME-2G", side="internal")
    assert nut.pitch_diameter == Span(Decimal("0.2188"), Decimal("0.2293"))
    assert nut.major_diameter == Span(Decimal("0.2600"), Decimal("0.2700"))
    assert nut.minor_diameter == Span(Decimal("0.1875"), Decimal("0.1925"))
    assert nut.allowance == 0
    assert nut.tolerances.pitch_diameter == Decimal("0.0105")
    assert nut.tolerances.minor_diameter == Decimal("0.0050")
    assert nut.tolerances.major_diameter == Decimal("0.0100")
    screw = limits("1/4-16 ACME-2G", side="external")
    assert screw.allowance == Decimal("0.0040")
    assert screw.tolerances.minor_diameter == Decimal("0.0158")  # 1.5 x 0.0105


def test_acme_between_standard_diameters_takes_the_next_larger_increment() -> None:
    between, larger = (limits(f"{size}-8 ACME-2G", side="internal") for size in ("0.6", "0.625"))
    assert between.tolerances.pitch_diameter == larger.tolerances.pitch_diameter
    documents = [source.place for source in between.sources]
    assert any("intermediate diameter" in place for place in documents)
    assert not any("intermediate" in source.place for source in larger.sources)


def test_acme_notes_say_what_is_not_the_standards_own() -> None:
    assert limits("1/2-10 ACME-2G", side="external").notes == ()
    assert "one start" in limits("2 7/8-0.4P-0.8L ACME-3C", side="external").notes[0]
    stub = limits("1/2-10 STUB ACME-3G", side="external").notes
    assert "3G and 4G" in stub[0]
    assert "narrower" in stub[1]
    assert len(limits("1/2-10 STUB ACME-2G", side="external").notes) == 1
    places = [source.place for source in limits("1-5 ACME-2C", side="external").sources]
    assert "tolerance and allowance of the centralizing major" in places


def test_stub_acme_by_hand() -> None:
    """1/2-10: tolerance 0.006 sqrt(0.5) + 0.030 sqrt(0.1) = 0.013729, allowance 0.005657."""
    screw, nut = (limits("1/2-10 STUB ACME-2G", side=side) for side in SIDES)
    assert screw.pitch_diameter == Span(Decimal("0.4506"), Decimal("0.4643"))
    assert screw.minor_diameter == Span(Decimal("0.4063"), Decimal("0.4200"))
    assert screw.major_diameter == Span(Decimal("0.4950"), Decimal("0.5000"))
    assert nut.major_diameter == Span(Decimal("0.5200"), Decimal("0.5337"))
    assert nut.minor_diameter == Span(Decimal("0.4400"), Decimal("0.4450"))
    assert nut.pitch_diameter == Span(Decimal("0.4700"), Decimal("0.4837"))


def test_centralizing_acme_external_minor_and_class_3() -> None:
    screw, nut = (limits("1-5 ACME-3C", side=side) for side in SIDES)
    assert screw.major_diameter == Span(Decimal("0.9985"), Decimal("1.0000"))
    assert nut.major_diameter == Span(Decimal("1.0010"), Decimal("1.0045"))
    assert nut.minor_diameter == Span(Decimal("0.8200"), Decimal("0.8300"))
    assert screw.allowance == Decimal("0.0060")


def test_form_of_the_power_threads() -> None:
    for text, half, height in (
        ("1-5 ACME", 14.5, 0.1),
        ("1-5 STUB ACME", 14.5, 0.06),
        ("Tr 24x5", 15.0, 2.5),
    ):
        thread = parse(text)
        name = {"Tr 24x5": "7e"}.get(text, "2G")
        found = limits(f"{text}-{name}", side="external").basic
        assert found.flank_angle_upper == found.flank_angle_lower == half
        assert found.thread_height == pytest.approx(height)
        tangent = math.tan(math.radians(half))
        pitch = float(thread.pitch)
        assert found.fundamental_height == pytest.approx(pitch / 2 / tangent)
        assert found.crest_width + found.root_width + 2 * height * tangent == pytest.approx(pitch)
        assert float(found.major_diameter - found.minor_diameter) == pytest.approx(2 * height)
        middle = (found.major_diameter + found.minor_diameter) / 2
        assert middle == found.pitch_diameter
        assert (found.taper, found.root_radius, found.starts) == (0, None, 1)
    multi = limits("Tr 40x14(P7)-7e").basic
    assert (multi.starts, multi.lead) == (2, 14)


def test_trapezoidal_by_hand() -> None:
    """Tr 24x5-7e: es 106, Td2 300, Td 335, Td3 = 1.25 x 300 + 106 um (ISO 2903; memory)."""
    screw, nut = limits("Tr 24x5-7e"), limits("Tr 24x5-7H")
    assert screw.major_diameter == Span(Decimal("23.665"), Decimal("24.000"))
    assert screw.pitch_diameter == Span(Decimal("21.094"), Decimal("21.394"))
    assert screw.minor_diameter == Span(Decimal("18.019"), Decimal("18.500"))
    assert screw.allowance == Decimal("0.106")
    assert nut.major_diameter == Span(Decimal("24.500"), None)
    assert nut.pitch_diameter == Span(Decimal("21.500"), Decimal("21.900"))
    assert nut.minor_diameter == Span(Decimal("19.000"), Decimal("19.450"))
    assert nut.allowance == 0
    assert nut.extra["crest_clearance"] == Decimal("0.25")
    assert nut.extra["thread_height_total"] == Decimal("2.75")
    assert nut.extra["crest_radius_max"] == Decimal("0.125")
    assert nut.extra["root_radius_max"] == Decimal("0.25")
    assert nut.extra["internal_major_diameter"] == Decimal("24.500")
    assert screw.extra["external_minor_diameter"] == Decimal("18.500")


@pytest.mark.parametrize(
    ("starts", "factor"), [(1, "1"), (2, "1.12"), (3, "1.25"), (4, "1.4"), (5, "1.6"), (6, "1.6")]
)
def test_more_starts_widen_the_pitch_diameter(starts: int, factor: str) -> None:
    name = "Tr 40x7-8e" if starts == 1 else f"Tr 40x{7 * starts}(P7)-8e"
    found = limits(name)
    assert found.tolerances.pitch_diameter is not None
    exact = Decimal("0.450") * Decimal(factor)
    assert abs(found.tolerances.pitch_diameter - exact) <= Decimal("0.0005")
    multiple = any("multiple-start" in source.place for source in found.sources)
    assert multiple == (starts > 1)


def test_trapezoidal_notes_a_class_that_is_not_recommended() -> None:
    assert len(limits("Tr 24x5-7e").notes) == 1
    assert "not recommend" in limits("Tr 24x5-7c").notes[1]
    assert limits("Tr 18x2-7e").notes == ()  # read in a printed table
    assert len(limits("Tr 18x4(P2)-7e").notes) == 1


def test_buttress_by_hand() -> None:
    """2-4: tolerance 0.002 x 2^(1/3) + 0.0173 x 0.5 = 0.01117, class 3 two thirds = 0.00745."""
    screw, fine = limits("2-4 BUTT-2A"), limits("2-4 BUTT-3A")
    assert screw.allowance == fine.allowance == fine.tolerances.pitch_diameter == Decimal("0.0074")
    assert screw.tolerances.pitch_diameter == Decimal("0.0112")
    assert screw.tolerances.minor_diameter is None
    assert screw.major_diameter == Span(Decimal("1.9814"), Decimal("1.9926"))
    assert screw.pitch_diameter == Span(Decimal("1.8314"), Decimal("1.8426"))
    assert screw.minor_diameter == Span(Decimal("1.6294"), Decimal("1.6612"))
    nut = limits("2-4 BUTT-2B")
    assert nut.allowance == 0
    assert nut.tolerances.major_diameter is None
    assert nut.minor_diameter == Span(Decimal("1.7000"), Decimal("1.7112"))
    assert nut.major_diameter == Span(Decimal("2.0314"), Decimal("2.0632"))
    assert screw.extra["root_radius_min"] == Decimal("0.0089")
    assert screw.extra["height_of_engagement"] == Decimal("0.1500")
    assert screw.extra["root_radius_basic"] == Decimal("0.0179")
    assert screw.extra["thread_height"] == Decimal("0.1657")
    assert screw.extra["crest_width"] == Decimal("0.0408")
    assert screw.basic.minor_diameter == Decimal("1.6686")


def test_buttress_flanks_turn_with_the_way_it_is_loaded() -> None:
    pull, push = limits("2-4 BUTT-2A"), limits("2-4 PUSH-BUTT-2A")
    assert (pull.basic.flank_angle_upper, pull.basic.flank_angle_lower) == (45, 7)
    assert (push.basic.flank_angle_upper, push.basic.flank_angle_lower) == (7, 45)
    assert "clearance" in pull.notes[0]
    assert "pressure" in push.notes[0]
    assert len(pull.notes) == 1
    assert "free end points down" in limits("2-4 BUTT-2B").notes[1]
    basic = pull.basic
    tangents = math.tan(math.radians(7)) + math.tan(math.radians(45))
    pitch = float(basic.pitch)
    assert basic.fundamental_height == pytest.approx(pitch / tangents, rel=1e-5)
    across = basic.crest_width + basic.root_width + basic.thread_height * tangents
    assert across == pytest.approx(pitch, rel=1e-3)
