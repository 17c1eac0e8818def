"""Two threads put together."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput, Impossible, NoSource
from flankwise_service.core.threads import classes, limits, parse
from flankwise_service.core.threads.mating import (
    class_pairs,
    clearance,
    fit,
    obstacles,
    percent_of_thread,
    refuse_unlike,
)
from flankwise_service.core.threads.model import Span

BOLT, NUT = limits("7/8-14 UNF-2A"), limits("7/8-14 UNF-2B")


def span(low: Any, high: Any) -> Span:
    return Span(*(None if size is None else Decimal(str(size)) for size in (low, high)))


def test_clearances_are_internal_less_external() -> None:
    found = fit(BOLT, NUT, "in")
    assert (found.external, found.internal, found.unit) == ("7/8-14 UNF-2A", "7/8-14 UNF-2B", "in")
    assert found.mates
    assert found.pitch_diameter.least == Decimal("0.8286") - Decimal("0.8270")
    assert found.pitch_diameter.greatest == NUT.pitch_diameter.max - Decimal("0.8216")  # type: ignore[operator]
    assert found.major_diameter.least == Decimal("0.8750") - Decimal("0.8734")
    assert found.major_diameter.greatest is None
    assert found.minor_diameter.least == Decimal("0.798") - Decimal("0.7961")
    assert found.minor_diameter.greatest is None


def test_overlap_of_the_flanks_in_three_measures() -> None:
    found = fit(BOLT, NUT, "in")
    assert found.least_overlap == pytest.approx((0.8631 - 0.813) / 2)
    assert found.greatest_overlap == pytest.approx((0.8734 - 0.798) / 2)
    # Basic: 0.8750 less 0.7977. The trade's: 1.299/14.
    assert found.least_overlap_percent == pytest.approx(100 * (0.8631 - 0.813) / (0.8750 - 0.7977))
    assert found.greatest_overlap_percent == pytest.approx(100 * 0.0754 / 0.0773)
    assert found.least_percent_of_thread == pytest.approx(100 * 0.0501 * 14 / 1.299)
    assert found.greatest_percent_of_thread == pytest.approx(100 * 0.0754 * 14 / 1.299)


def test_percent_of_thread_is_for_60_degrees_only() -> None:
    pipe = fit(limits("G 1/2 A"), limits("G 1/2", side="internal"), "mm")
    assert pipe.mates
    assert pipe.least_percent_of_thread is pipe.greatest_percent_of_thread is None
    assert pipe.greatest_overlap_percent is not None


def test_in_the_other_unit_every_length_is_exact() -> None:
    inch, metric = fit(BOLT, NUT, "in"), fit(BOLT, NUT, "mm")
    assert metric.pitch_diameter.least == Decimal("0.0016") * Decimal("25.4")
    assert metric.least_overlap == pytest.approx(25.4 * (inch.least_overlap or 0))
    assert metric.least_overlap_percent == pytest.approx(inch.least_overlap_percent)
    assert metric.least_percent_of_thread == pytest.approx(inch.least_percent_of_thread)


@pytest.mark.parametrize(
    ("external", "internal", "least", "greatest", "runs"),
    [
        ((1.0, 2.0), (2.0, 3.0), 0.0, 2.0, "always free"),
        ((1.0, 2.0), (1.9, 3.0), -0.1, 2.0, "may bind"),
        ((1.0, 2.0), (0.5, 0.9), -1.5, -0.1, "always binds"),
        ((1.0, 2.0), (0.5, 1.0), -1.5, 0.0, "may bind"),
        ((None, 2.0), (1.9, 3.0), -0.1, None, "may bind"),
        ((1.0, None), (1.9, 3.0), None, 2.0, "not limited"),
        ((1.0, None), (1.9, 0.9), None, -0.1, "always binds"),
        ((1.0, None), (1.9, None), None, None, "not limited"),
    ],
)
def test_how_a_pair_of_spans_runs(
    external: Any, internal: Any, least: float, greatest: float, runs: str
) -> None:
    found = clearance(span(*external), span(*internal))
    assert found.runs == runs
    for size, expected in ((found.least, least), (found.greatest, greatest)):
        assert size is None if expected is None else float(size or 0) == pytest.approx(expected)


def codes(external: str, internal: str) -> list[str]:
    out = limits(external, side="external")
    inn = limits(internal, side="internal")
    found = obstacles(out, inn, "mm")
    if found:
        with pytest.raises(Impossible) as caught:
            refuse_unlike(out, inn, "mm")
        assert [f"other_{one.code}" for one in found] == [one.code for one in caught.value.faults]
        assert not fit(out, inn, "mm").mates
    else:
        refuse_unlike(out, inn, "mm")
    return [one.code for one in found]


def test_what_keeps_two_threads_apart() -> None:
    assert codes("7/8-14 UNF-2A", "7/8-14 UNF-2B") == []
    assert codes("7/8-14 UNF-2A-LH", "7/8-14 UNF-2B") == ["hand"]
    assert codes("M8-6g", "M8x1-6H") == ["pitch"]
    assert codes("5/16-20 UN-2A", "M8-6H") == ["pitch"]
    assert codes("Tr 40x14P7-7e", "Tr 40x7-7H") == ["lead"]
    assert codes("3/4-10 BSW medium bolt", "3/4-10 UNC-2B") == ["flank_angle"]
    assert codes("G 1/2 A", "7/8-14 UNF-2B-LH") == ["hand", "flank_angle"]


def test_both_angles_and_both_counts_of_starts_are_told_bolt_first() -> None:
    bolt, nut = limits("3/4-10 BSW medium bolt"), limits("3/4-10 UNC-2B")
    (angle,) = obstacles(bolt, nut, "in")
    assert angle.words == "included angles differ: 55 and 60 degrees"
    rod, collar = limits("Tr 40x14P7-7e"), limits("Tr 40x7-7H")
    (starts,) = obstacles(rod, collar, "mm")
    assert starts.words == "starts differ, so leads do: 2 and 1 starts"


def test_a_j_bolt_needs_a_j_nut_but_a_j_nut_takes_any_bolt() -> None:
    assert codes("3/8-16 UNJC-3A", "3/8-16 UNC-3B") == ["root_form"]
    bolt = limits("3/8-16 UNC-3A")
    nut = limits("3/8-16 UNC-3B")
    j_nut = replace(nut, thread=replace(nut.thread, family="unified_j", rounded_root=True))
    assert obstacles(bolt, j_nut, "in") == ()
    j_bolt = limits("3/8-16 UNJC-3A")
    assert obstacles(j_bolt, j_nut, "in") == ()


def test_a_pair_that_interferes_even_at_its_loosest_does_not_mate() -> None:
    small = limits("7/8-14 UNF-2B")
    tight = replace(
        small,
        pitch_diameter=Span(Decimal("0.8100"), Decimal("0.8200")),
        minor_diameter=Span(Decimal("0.7700"), Decimal("0.7800")),
    )
    found = fit(BOLT, tight, "in")
    assert not found.mates
    assert [one.code for one in found.obstacles] == ["pitch_binds"]
    assert found.pitch_diameter.runs == "always binds"
    assert found.minor_diameter.runs == "may bind"


def test_tapered_threads_bind_by_design() -> None:
    found = fit(limits("1/2-14 NPT", side="external"), limits("1/2-14 NPT", side="internal"), "in")
    assert "pitch_binds" not in [one.code for one in found.obstacles]


def test_missing_limits_leave_no_overlap() -> None:
    bare = replace(NUT, minor_diameter=Span(None, None))
    found = fit(BOLT, bare, "in")
    assert found.least_overlap is found.greatest_overlap is None
    assert found.least_overlap_percent is found.greatest_percent_of_thread is None


def test_two_of_one_side_are_refused_and_both_are_told() -> None:
    with pytest.raises(BadInput) as caught:
        fit(NUT, BOLT, "in")
    assert [(one.pointer, one.code) for one in caught.value.faults] == [
        ("/external", "wrong_side"), ("/internal", "wrong_side"),
    ]  # fmt: skip
    with pytest.raises(BadInput):
        refuse_unlike(BOLT, BOLT, "in")


def test_class_pairs_cover_all_classes() -> None:
    pairs = class_pairs("7/8-14 UNF", "in")
    assert [(one.external_class, one.internal_class) for one in pairs] == [
        (out, inn) for out in ("1A", "2A", "3A") for inn in ("1B", "2B", "3B")
    ]
    for one in pairs:
        out = limits(f"7/8-14 UNF-{one.external_class}").pitch_diameter
        inn = limits(f"7/8-14 UNF-{one.internal_class}").pitch_diameter
        found = clearance(out, inn)
        assert (one.least, one.greatest, one.runs) == (found.least, found.greatest, found.runs)


def test_class_pairs_disregard_a_class_and_keep_the_hand() -> None:
    assert class_pairs("7/8-14 UNF-2A", "in") == class_pairs("7/8-14 UNF", "in")
    assert class_pairs("7/8-14 UNF-2A-LH", "in") == class_pairs("7/8-14 UNF", "in")
    metric = class_pairs("M8-6g", "mm")
    by_side = classes(parse("M8"))
    assert len(metric) == len(by_side["external"]) * len(by_side["internal"])


def test_classes_that_both_sides_share_are_paired_too() -> None:
    acme = class_pairs("1/2-10 ACME-2G", "in")
    assert ("2G", "2G") in [(one.external_class, one.internal_class) for one in acme]
    assert all(one.least is not None and one.least >= 0 for one in acme)
    assert len(class_pairs("2 BA close", "mm")) == len(class_pairs("2 BA", "mm")) > 0


def test_a_side_without_classes_stands_with_an_empty_one() -> None:
    pipe = class_pairs("G 1/2", "mm")
    assert [(one.external_class, one.internal_class) for one in pipe] == [("A", ""), ("B", "")]
    # One side's limits can't be stated (no table of UNJ holes held): no pair at all.
    with pytest.raises(NoSource):
        class_pairs("0-80 UNJF", "in")


def test_families_without_classes_are_refused() -> None:
    for name in ("1/2-14 NPT", "R 1/2"):
        with pytest.raises(NoSource) as caught:
            class_pairs(name, "in")
        assert caught.value.faults[0].code == "no_classes"


@pytest.mark.parametrize("bad", [(0.5, 0.4, 0.0), (-1.0, 0.4, 0.1), (0.5, 10**400, 0.1)])
def test_percent_of_thread_of_nonsense_is_refused(bad: tuple[float, float, float]) -> None:
    with pytest.raises(BadInput):
        percent_of_thread(*bad)


def test_percent_of_thread_is_counted_on_the_diameter() -> None:
    assert percent_of_thread(0.5, 0.4, 0.1) == pytest.approx(100 * 0.1 / 0.1299)


@pytest.mark.parametrize(
    ("unit", "words"),
    [
        ("in", "pitches differ: 0.05 in and 0.03937 in"),
        ("mm", "pitches differ: 1.27 mm and 1 mm"),
    ],
)
def test_words_tell_pitches_in_the_unit_asked_for(unit: Any, words: str) -> None:
    told = fit(limits("1/4-20 UNC-2A"), limits("M6-6H"), unit)
    assert [one.words for one in told.obstacles if one.code == "pitch"] == [words]
