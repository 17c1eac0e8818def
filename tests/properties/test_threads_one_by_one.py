"""Properties of the small functions behind designations, lists, coats and taper gauges."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flankwise_service.core.errors import BadInput, NoSource, Refusal, UnknownThread
from flankwise_service.core.gauging.taper_gauge import taper_gauge
from flankwise_service.core.plan.taper import taper_words
from flankwise_service.core.threads import limits, limits_in, parse
from flankwise_service.core.threads.families import MODULES
from flankwise_service.core.threads.iso_metric import default_class
from flankwise_service.core.threads.listing import whole_list
from flankwise_service.core.threads.mating import percent_of_thread
from flankwise_service.core.threads.plating import Range, Sizes, coated
from flankwise_service.core.threads.tables.asme_b1_1 import PAIRS
from flankwise_service.core.threads.tables.iso_965_1_engagement import (
    engagement_group,
    normal_length,
)
from flankwise_service.core.threads.unified_names import near_diameters

QUICK = settings(deadline=None, max_examples=60)
LISTED = tuple(whole_list())
TAPERED = [
    f"{one.designation}" for one in LISTED if one.family in ("npt", "bsp_taper")
] + ["1/2-14 NPTF", "R 1/2", "Rc 3/4"]  # fmt: skip
decimals = st.decimals(Decimal("0.05"), Decimal(20), places=4)


@QUICK
@given(st.sampled_from(LISTED))
def test_a_line_of_the_list_is_what_its_designation_reads_as(line) -> None:
    thread = parse(line.designation)
    assert (thread.family, thread.unit) == (line.family, line.unit)
    assert (thread.diameter, thread.pitch) == (line.diameter, line.pitch)
    module = next(one for one in MODULES if line.family in one.FAMILIES)
    assert line.designation in set(module.designations())
    offered = module.classes(thread)
    assert {side: getattr(line.classes, side) for side in offered} == offered
    assert module.read(line.designation).designation == thread.designation


@QUICK
@given(st.sampled_from(LISTED), st.sampled_from(["external", "internal"]))
def test_limits_have_what_all_families_share(line, side) -> None:
    offered = getattr(line.classes, side)
    text = f"{line.designation}-{offered[-1]}" if offered else line.designation
    try:
        found = limits(text, side=side)
    except Refusal:
        assume(False)
    for given_ in (found, limits_in(found, "mm"), limits_in(found, "in")):
        assert given_.side == side
        assert given_.basic.major_diameter > given_.basic.minor_diameter
        assert given_.allowance >= 0
        spans = (given_.major_diameter, given_.pitch_diameter, given_.minor_diameter)
        known = [span.max for span in spans if span.max is not None]
        assert known == sorted(known, reverse=True)
    if found.basic.taper:
        for unit in ("mm", "in"):
            assert "1:16" in taper_words(limits_in(found, unit))
            words, source = taper_gauge(limits_in(found, unit))
            assert "hand tight" in words
            assert source.document
    else:
        assert taper_words(limits_in(found, "mm")) == ""
        with pytest.raises(NoSource):
            taper_gauge(limits_in(found, "mm"))


@QUICK
@given(st.sampled_from(TAPERED), st.sampled_from(["external", "internal"]))
def test_a_taper_gauge_is_told_for_either_unit(name, side) -> None:
    try:
        found = limits(name, side=side)
    except Refusal:
        assume(False)
    assert found.basic.taper
    for unit in ("in", "mm"):
        words, _ = taper_gauge(limits_in(found, unit))
        assert f" {unit}" in words
        assert ("ring" in words) == (side == "external")
        end = "small" if side == "external" else "large"
        assert taper_words(limits_in(found, unit)).endswith(f"the {end} end")


@QUICK
@given(
    st.decimals(Decimal("0.3"), Decimal(300), places=2), st.sampled_from(["external", "internal"])
)
def test_a_class_left_out_is_the_standards(diameter, side) -> None:
    found = default_class(diameter, side)
    assert found[0] == ("5" if diameter < Decimal("1.5") and side == "internal" else "6")
    assert found[1:].isupper() == (side == "internal")


@QUICK
@given(st.sampled_from(["1.25", "1.5", "2"]), decimals, decimals)
def test_a_longer_engagement_never_falls_in_a_shorter_group(pitch, one, more) -> None:
    groups = [engagement_group(Decimal(12), Decimal(pitch), length) for length in (one, one + more)]
    assert None not in groups
    order = ["SNL".index(group or "") for group in groups]
    assert order == sorted(order)
    normal = normal_length(Decimal(12), Decimal(pitch))
    assert normal.min is not None
    assert normal.max is not None
    assert (groups[0] == "N") == (normal.min < one <= normal.max)


@QUICK
@given(st.floats(1.0, 100.0), st.floats(0.1, 2.0), st.floats(0.1, 1.2))
def test_percent_of_thread_is_the_share_of_a_full_one(major, pitch, share) -> None:
    """A hole smaller by 1.299 P leaves 100 percent (the trade's own measure)."""
    hole = major - share * 1.299 * pitch
    assume(hole > 0.01)
    assert percent_of_thread(major, hole, pitch) == pytest.approx(100 * share, rel=1e-3)
    assert percent_of_thread(major / 25.4, hole / 25.4, pitch / 25.4) == pytest.approx(
        percent_of_thread(major, hole, pitch)
    )


@QUICK
@given(st.floats(5.0, 10.0), st.floats(0.0, 0.1), st.floats(2.0, 5.0))
def test_a_coat_on_one_side_taken_off_the_other_leaves_the_sizes(size, thick, factor) -> None:
    bare = Sizes(Range(size, size + 0.1), Range(size - 1, None), Range(None, size - 1.5))
    back = coated(coated(bare, factor, thick, "external"), factor, thick, "internal")
    for name in ("major_diameter", "pitch_diameter", "minor_diameter"):
        for end in ("min", "max"):
            was, now = getattr(getattr(bare, name), end), getattr(getattr(back, name), end)
            assert (was is None) == (now is None)
            assert was is None or now == pytest.approx(was)
    grown = coated(bare, factor, thick, "external")
    assert grown.pitch_diameter.min == pytest.approx(size - 1 + factor * thick)


@QUICK
@given(decimals, st.sampled_from(["UNC", "UNF", "UNEF", "UNS"]), st.sampled_from(["", "R", "J"]))
def test_the_two_nearest_sizes_are_offered(diameter, base, form) -> None:
    offered = near_diameters(diameter, base, form)
    series = "UNC" if base == "UNS" else base
    far = sorted(abs(d - diameter) for d, _, one in PAIRS if one == series)[:2]
    found = sorted(abs(parse(name).diameter - diameter) for name in offered)
    assert found == far


@QUICK
@given(st.integers(0, 12), st.integers(4, 80), st.sampled_from(["UNC", "UNF", "UNS"]))
def test_a_bare_number_may_be_a_number_size_or_inches(size, threads, series) -> None:
    known = {(d, t) for d, t, _ in PAIRS}
    numbered = (Decimal("0.060") + Decimal("0.013") * size, threads) in known
    inches = (Decimal(size), threads) in known
    try:
        thread = parse(f"{size}-{threads} {series}")
    except UnknownThread as refusal:
        (fault,) = refusal.faults
        assert fault.change
        if fault.code == "size_unclear":
            assert numbered == inches
            assert fault.near == (f"#{size}-{threads} {series}", f"{size}.0-{threads} {series}")
    else:
        assert thread.designation.endswith(series)
        assert numbered or inches or series == "UNS"


@QUICK
@given(st.sampled_from(sorted({(d, t) for d, t, _ in PAIRS})))
def test_a_size_without_its_series_is_asked_for_it(pair) -> None:
    diameter, threads = pair
    with pytest.raises(UnknownThread) as caught:
        parse(f"{diameter}-{threads}")
    (fault,) = caught.value.faults
    if fault.code == "series_missing":
        assert "series" in fault.change
        for near in fault.near:
            assert parse(near).diameter == diameter


@QUICK
@given(st.sampled_from(["1/2-13 UNC-2A", "3/8-24 UNF-3B", "1-8 UNC-2B"]))
def test_a_crest_modified_without_its_limits_is_refused_with_both_places(name) -> None:
    with pytest.raises(BadInput) as caught:
        limits(f"{name} MOD")
    assert [fault.pointer for fault in caught.value.faults] == ["/crest_least", "/crest_greatest"]


@QUICK
@given(st.floats(0.05, 0.4), st.floats(1.1, 6.9))
def test_a_lead_that_is_no_count_of_pitches_is_refused(pitch, times) -> None:
    lead = round(pitch * times, 4)
    pitch = round(pitch, 4)
    assume(abs(lead / pitch - round(lead / pitch)) > 0.01)
    with pytest.raises(Refusal) as caught:
        parse(f"1-{pitch}P-{lead}L UNS")
    assert caught.value.faults[0].code in ("lead_not_whole", "unknown_designation")
