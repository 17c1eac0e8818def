"""BSW, BSF and BA threads: designations, sides, classes, refusals."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from flankwise_service.core.errors import BadInput, NoSource, UnknownThread
from flankwise_service.core.threads import Span, classes, limits, parse
from flankwise_service.core.threads.model import Side


@pytest.mark.parametrize(
    ("text", "designation", "side"),
    [
        ("1/2 BSW", "1/2-12 BSW", None),
        ("1/2-12 bsw medium", "1/2-12 BSW medium", None),
        ("1/2-12 BSW medium bolt", "1/2-12 BSW medium bolt", "external"),
        ("1/2-12 BSW medium (nut)-LH", "1/2-12 BSW medium nut-LH", "internal"),
        ("1/4 in. - 20 B.S.W., L.H.", None, None),
        ("1/4 in.-20 B.S.W., close (bolt)", "1/4-20 BSW close", "external"),
        ("1/4 BSW close screw", "1/4-20 BSW close", "external"),
        ("1-1/8 BSF Free", "1 1/8-9 BSF free", "external"),
        ("2-4 1/2 BSW normal", "2-4.5 BSW normal", "internal"),
        ("5 BSW nut", "5-2.75 BSW nut", "internal"),
        ("5 BSW bolt", "5-2.75 BSW bolt", "external"),
        ("2BA", "2 BA", None),
        ("No. 2 B.A. close", "2 BA close", "external"),
        ("BA 10 normal-LH", "10 BA normal-LH", "external"),
        ("0 ba nut", "0 BA nut", "internal"),
        ("0 BA bolt", "0 BA bolt", "external"),
        ("0 BA normal bolt", "0 BA normal", "external"),
    ],
)
def test_reads_the_spellings(text: str, designation: str | None, side: Side | None) -> None:
    if designation is None:
        with pytest.raises(UnknownThread):
            parse(text)
        return
    thread = parse(text)
    assert (thread.designation, thread.side) == (designation, side)
    assert parse(designation) == thread


def test_what_a_british_thread_carries() -> None:
    whitworth, fine, ba = parse("7/32 BSW"), parse("1/2 BSF"), parse("2 BA")
    assert whitworth.diameter == Decimal("0.21875")
    assert (whitworth.family, whitworth.unit, whitworth.series) == ("whitworth", "in", "BSW")
    assert (fine.series, fine.pitch, fine.threads_per_inch) == ("BSF", 1 / Decimal(16), 16)
    assert (ba.family, ba.unit, ba.diameter, ba.pitch) == (
        "ba", "mm", Decimal("4.70"), Decimal("0.81"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "near", "words"),
    [
        ("13/16 BSW", ("3/4-10 BSW", "7/8-9 BSW", "11/16-11 BSW"), "no size 13/16"),
        ("1/2-13 BSW", ("1/2-12 BSW", "1/2-16 BSF"), "12 threads per inch, not 13"),
        ("1/2-16 BSW", ("1/2-12 BSW", "1/2-16 BSF"), "not 16"),
        ("1/8 BSF", ("3/16-32 BSF", "7/32-28 BSF", "1/4-26 BSF"), "no size 1/8"),
        ("4/4 BSW", (), "is no size"),
        ("1/2 BSW free nut", ("1/2-12 BSW medium", "1/2-12 BSW normal"), "a nut has no class free"),
        (
            "1/2 BSW normal bolt",
            ("1/2-12 BSW close", "1/2-12 BSW medium", "1/2-12 BSW free"),
            "a bolt has no class normal",
        ),
        ("17 BA", ("16 BA", "15 BA", "14 BA"), "no 17 BA"),
        ("2 BA close nut", ("2 BA nut",), "one class"),
    ],
)
def test_refuses_and_names_the_nearest(text: str, near: tuple[str, ...], words: str) -> None:
    with pytest.raises(UnknownThread) as refused:
        parse(text)
    fault = refused.value.faults[0]
    assert (fault.pointer, fault.near) == ("/designation", near)
    assert words in fault.detail
    for name in near:
        assert parse(name).designation == name


def test_close_class_nuts_have_no_source() -> None:
    with pytest.raises(NoSource) as refused:
        parse("1/2 BSW close nut")
    fault = refused.value.faults[0]
    assert (fault.pointer, fault.near) == (
        "/designation", ("1/2-12 BSW medium", "1/2-12 BSW normal"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "side", "near"),
    [
        ("1/2 BSW", "external", ("1/2-12 BSW close", "1/2-12 BSW medium", "1/2-12 BSW free")),
        ("1/2 BSW nut", None, ("1/2-12 BSW medium", "1/2-12 BSW normal")),
        ("2 BA-LH", "external", ("2 BA close", "2 BA normal")),
    ],
)
def test_assumes_no_class(text: str, side: Side | None, near: tuple[str, ...]) -> None:
    with pytest.raises(BadInput) as refused:
        limits(text, side=side)
    fault = refused.value.faults[0]
    assert (fault.code, fault.near) == ("class_missing", near)


def test_medium_needs_a_side() -> None:
    with pytest.raises(BadInput) as refused:
        limits("1/2 BSW medium")
    assert refused.value.faults[0].pointer == "/side"
    assert limits("1/2 BSW medium", side="internal").side == "internal"


def test_classes_to_choose_from() -> None:
    bolts, nuts = ("close", "medium", "free"), ("medium", "normal")
    assert classes(parse("1/2 BSW")) == {"external": bolts, "internal": nuts}
    assert classes(parse("2 BA")) == {"external": ("close", "normal"), "internal": ()}


def test_whitworth_bolt_by_hand() -> None:
    """1/4-20: T = 0.00126 + 0.0015 + 0.001118 = 0.003878; allowance 0.3 T (BS 84; memory)."""
    bolt = limits("1/4 BSW medium bolt")
    assert bolt.allowance == Decimal("0.0012")
    assert bolt.major_diameter == Span(Decimal("0.2427"), Decimal("0.2488"))
    assert bolt.pitch_diameter == Span(Decimal("0.2129"), Decimal("0.2168"))
    assert bolt.minor_diameter == Span(Decimal("0.1764"), Decimal("0.1848"))
    assert "one diameter" in bolt.notes[0]


@pytest.mark.parametrize(
    ("text", "want"), [("1/4 BSF", "0.0117"), ("5/16 BSF", "0.0141"), ("3/16 BSW", "0.0133"),
                       ("1/4 BSW", "0.0170")],
)  # fmt: skip
def test_nut_minor_tolerance_steps_with_the_pitch(text: str, want: str) -> None:
    """0.2 p + 0.004 at 26, 0.005 at 22 and 24, 0.007 at 20 threads per inch (BS 84; memory)."""
    nut = limits(f"{text} normal")
    assert nut.tolerances.minor_diameter == Decimal(want)
    assert nut.major_diameter.max is None
    assert nut.major_diameter.min == nut.basic.major_diameter


def test_form_of_whitworth_and_ba() -> None:
    whitworth, ba = limits("1/2 BSW close").basic, limits("2 BA nut").basic
    assert whitworth.flank_angle_upper == whitworth.flank_angle_lower == 27.5
    assert ba.flank_angle_upper == ba.flank_angle_lower == 23.75
    tangent = math.tan(math.radians(23.75))
    assert ba.fundamental_height == pytest.approx(0.81 / 2 / tangent)
    assert ba.thread_height == 0.485
    assert ba.crest_width == ba.root_width
    assert ba.crest_width + ba.root_width + 2 * 0.485 * tangent == pytest.approx(0.81)
    assert ba.root_radius == 0.1465
    # A radius tangent to both flanks that reaches the crest, h and r of the standards' form.
    half = math.radians(27.5)
    pitch = float(whitworth.pitch)
    assert whitworth.root_radius is not None
    reach = whitworth.root_radius * (1 / math.sin(half) - 1)
    assert reach == pytest.approx(whitworth.fundamental_height / 6, rel=1e-4)
    assert whitworth.thread_height == pytest.approx(2 / 3 * whitworth.fundamental_height, rel=1e-5)
    assert whitworth.fundamental_height == pytest.approx(pitch / 2 / math.tan(half), rel=1e-5)


def test_ba_allowance_stops_after_10_ba() -> None:
    assert limits("10 BA normal").allowance == Decimal("0.025")
    assert limits("11 BA normal").allowance == 0
    assert limits("10 BA close").allowance == 0
    assert limits("10 BA normal").tolerances.major_diameter == Decimal("0.070")  # 0.20 x 0.35
    assert limits("11 BA normal").tolerances.major_diameter == Decimal("0.078")  # 0.25 x 0.31
    assert limits("2 BA nut").extra == {
        "thread_depth": Decimal("0.485"), "crest_radius": Decimal("0.1465"),
    }  # fmt: skip


def test_ba_nut_by_hand() -> None:
    """2 BA, pitch 0.81: 0.12 p + 0.03 = 0.1272, 0.375 p = 0.30375 (BS 93)."""
    nut = limits("2 BA nut")
    assert nut.pitch_diameter == Span(Decimal("4.215"), Decimal("4.342"))
    assert nut.minor_diameter == Span(Decimal("3.730"), Decimal("4.034"))
    assert nut.major_diameter == Span(Decimal("4.700"), None)
    assert nut.allowance == 0
    assert nut.tolerances.major_diameter is None
    bolt = limits("2 BA normal")
    assert bolt.minor_diameter == Span(Decimal("3.493"), Decimal("3.705"))
    assert bolt.tolerances.minor_diameter == Decimal("0.212")
