"""Small steps of threads whose every figure is worked by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from flankwise_service.core.errors import UnknownThread
from flankwise_service.core.threads import limits
from flankwise_service.core.threads.common import nearest
from flankwise_service.core.threads.families import MODULES
from flankwise_service.core.threads.identify import identify
from flankwise_service.core.threads.model import Span
from flankwise_service.core.threads.plating import plated
from flankwise_service.core.threads.register import parse
from support.refused import faults_of


def test_letters_in_another_order_are_not_alike():
    assert nearest("ab", ["ba"]) == ()
    assert nearest("ab", ["xab"]) == ("xab",)


def test_an_unknown_designation_is_shown_one_of_each_standard():
    (fault,) = faults_of(UnknownThread, parse, "nothing known")
    shown = fault.change.removeprefix("write it as its standard does (").removesuffix(")")
    assert shown.split(", ") == [module.EXAMPLES[0] for module in MODULES]


@pytest.mark.parametrize(
    ("name", "crest"), [("M10-6g", "major_diameter"), ("M10-6G", "minor_diameter")]
)
def test_a_crest_without_a_limit_gives_a_coat_no_room(name, crest):
    """6g and 6G stand 32 micrometres off the basic size: 8 micrometres of coat, at the flanks."""
    thread = limits(name)
    whole = plated(thread, 0.001, 0.002, "basic size")
    assert whole.greatest_thickness_uncut == pytest.approx(0.032 / 4)
    open_end = replace(thread, **{crest: Span(None, None)})
    assert plated(open_end, 0.001, 0.002, "basic size").greatest_thickness_uncut == 0.0


# Decimals of limits, of basic sizes and of tolerances as the standards print or carry them.
DIGITS = [
    ("7/8-14 UNF-2A", None, 4, 4, 6), ("7/8-14 UNF-3B", None, 4, 4, 6),
    ("1/4-28 UNJF-3A", None, 4, 4, 6), ("M20x1.5-6g", None, 3, 3, 3),
    ("M20x1.5-6H", None, 3, 3, 3), ("MJ6x1-4h6h", None, 3, 3, 3), ("MJ6x1-4H5H", None, 3, 3, 3),
    ("0.80 UNM", "external", 3, 3, 3), ("5/8-8 ACME-2G", "external", 4, 4, 4),
    ("1/2-10 STUB ACME-2G", "internal", 4, 4, 4), ("Tr 24x5-7e", None, 3, 3, 3),
    ("1/2-14 NPT", "external", 5, 5, 5), ("G 1/2 A", None, 3, 3, 3), ("R 1/2", "external", 3, 3, 3),
    ("1/4-20 BSW close", "external", 4, 4, 4), ("2-8 BUTT-2A", "external", 4, 4, 4),
]  # fmt: skip


@pytest.mark.parametrize(("name", "side", "sizes", "basic", "tolerance"), DIGITS)
def test_figures_have_the_digits_of_their_standard(name, side, sizes, basic, tolerance):
    found = limits(name, side=side)

    def digits(*figures: Decimal | None) -> set[int]:
        return {-one.as_tuple().exponent for one in figures if one is not None}

    spans = (found.major_diameter, found.pitch_diameter, found.minor_diameter)
    assert digits(*(end for span in spans for end in (span.min, span.max))) == {sizes}
    profile = found.basic
    three = (profile.major_diameter, profile.pitch_diameter, profile.minor_diameter)
    assert digits(*three) == {basic}
    given = found.tolerances
    assert digits(given.major_diameter, given.pitch_diameter, given.minor_diameter) == {tolerance}


@pytest.mark.parametrize(
    ("number", "pitch"),
    [(0, "1.0"), (2, "0.81"), (5, "0.59"), (8, "0.43"), (10, "0.35"), (11, "0.31"), (14, "0.23"),
     (16, "0.19")],
)  # fmt: skip
def test_a_ba_nut_by_its_formulas(number, pitch):
    """Effective 0.12 P + 0.03, minor 0.375 P, no allowance (BS 93:2008, Annex B)."""
    nut = limits(f"{number} BA", side="internal")
    third = Decimal("0.001")
    effective = (Decimal("0.12") * Decimal(pitch) + Decimal("0.03")).quantize(third)
    minor = (Decimal("0.375") * Decimal(pitch)).quantize(third)
    assert nut.pitch_diameter.max - nut.pitch_diameter.min == effective
    assert nut.minor_diameter.max - nut.minor_diameter.min == minor
    assert nut.minor_diameter.min == nut.basic.minor_diameter
    assert nut.pitch_diameter.min == nut.basic.pitch_diameter


@pytest.mark.parametrize(
    ("off", "room"), [("0.032", 0.008), ("0.004", 0.002), ("0", 0.0), ("-0.004", 0.0)]
)
@pytest.mark.parametrize(
    ("name", "crest", "end", "sign"),
    [("M10-6g", "major_diameter", "max", -1), ("M10-6G", "minor_diameter", "min", 1)],
)
def test_a_coat_takes_no_more_than_was_taken_off_the_crest(name, crest, end, sign, off, room):
    """Half of what the crest stands off its basic size, or a quarter of the flanks' allowance."""
    thread = limits(name)
    size = getattr(thread.basic, crest) + sign * Decimal(off)
    moved = replace(thread, **{crest: replace(getattr(thread, crest), **{end: size})})
    found = plated(moved, 0.0, 0.002, "basic size")
    assert found.greatest_thickness_uncut == pytest.approx(room, abs=1e-12)
    assert found.fits_uncut == (room >= 0.002)


# Decimals of the further figures of a thread, as its standard prints them.
FURTHER = [
    ("2-8 BUTT-2A", "external", {"root_radius": 4, "thread_height": 4, "height_of_engagement": 4,
                                 "crest_width": 4}),
    ("5/8-8 ACME-2G", "external", {"thread_height_basic": 5, "thread_height_total": 4,
                                   "thread_thickness_basic": 5, "crest_flat": 4, "root_flat": 4}),
    ("1/2-14 NPT", "external",
     {"pitch_diameter": 5, "minor_diameter": 5, "effective_length_turns": 2, "wrench_makeup_turns": 2,
      "hand_tight_engagement_turns": 2, "vanish_length_turns": 2, "effective_length": 4,
      "wrench_makeup_length": 4, "vanish_length": 4, "overall_length": 4,
      "complete_thread_length": 4, "hand_tight_engagement": 3, "diameter_increase": 5,
      "thread_height": 5, "crest_truncation": 4, "root_truncation": 4}),
    ("1/2-14 NPTF", "internal", {"thread_height": 5, "crest_truncation": 4, "root_truncation": 4}),
    ("R 1/2", "external",
     {"gauge_length_turns": 2, "gauge_length_tolerance_turns": 2, "useful_thread_length_turns": 2,
      "gauge_length": 1, "useful_thread_length": 1, "diameter_increase": 3, "major_diameter": 3,
      "pitch_diameter": 3, "minor_diameter": 3, "thread_height": 3}),
    ("7/8-14 UNF-2A", None, {"minor_diameter": 4}), ("7/8-14 UNF-2B", None, {"major_diameter": 4}),
    ("1/4-28 UNJF-3A", None, {"root_radius": 4, "minor_diameter": 4}),
    ("M20x1.5-6g", None, {"minor_diameter": 3}), ("M20x1.5-6H", None, {"major_diameter": 3}),
    ("MJ6x1-4h6h", None, {"root_radius": 3, "minor_diameter": 3}),
    ("Tr 24x5-7e", None, {"external_minor": 3, "internal_major": 3}),
    ("1/4-20 BSW close", "external", {"thread_depth": 4, "crest_radius": 4}),
    ("2 BA", "internal", {"thread_depth": 3, "crest_radius": 4}),
]  # fmt: skip


@pytest.mark.parametrize(("name", "side", "digits"), FURTHER)
def test_further_figures_have_their_digits_too(name, side, digits):
    seen = set()
    for what, figure in limits(name, side=side).extra.items():
        begin = next((one for one in digits if what.startswith(one)), None)
        if begin is not None and figure is not None:
            seen.add(begin)
            assert -figure.as_tuple().exponent == digits[begin], what
    assert seen == set(digits)


@pytest.mark.parametrize(
    ("side", "crest", "threads", "order"),
    [
        # pipe threads come before a constant pitch series, that before UNJ and an older name
        ("external", 9.5, 28, ["R", "G", "UN", "UNJ", "BSPT"]),
        ("internal", 18.6, 14, ["NPT", "G", "Rp", "Rc", "BSPT"]),
        ("external", 20.9, 14, ["NPT", "G", "R", "NPTF", "NPSM", "BSPT"]),
    ],
)
def test_of_those_that_agree_the_commoner_comes_first(side, crest, threads, order):
    """Which a shop meets more often is common practice, no source."""
    found = identify(
        crest, side=side, unit="mm", threads_per_inch=threads, diameter_uncertainty=0.05,
        pitch_uncertainty=0.005,
    )  # fmt: skip
    agreeing = [one.series for one in found if one.agrees]
    assert [one for one in agreeing if one in order] == order


@pytest.mark.parametrize(
    ("size", "gauge", "useful"),
    [
        # basic, greatest, least (ISO 7-1:1994, Table 1, memory)
        ("1/8", ("4.0", "4.9", "3.1"), ("6.5", "7.4", "5.6")),
        ("1/4", ("6.0", "7.3", "4.7"), ("9.7", "11.0", "8.4")),
        ("1/2", ("8.2", "10.0", "6.4"), ("13.2", "15.0", "11.4")),
        ("1", ("10.4", "12.7", "8.1"), ("16.8", "19.1", "14.5")),
    ],
)
def test_gauge_and_useful_lengths_of_a_taper_pipe_thread(size, gauge, useful):
    extra = limits(f"R {size}", side="external").extra
    assert [str(extra[f"gauge_length{end}"]) for end in ("", "_max", "_min")] == list(gauge)
    names = ("", "_at_gauge_length_max", "_at_gauge_length_min")
    assert [str(extra[f"useful_thread_length{end}"]) for end in names] == list(useful)
