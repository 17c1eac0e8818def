"""Limits over the wires at hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from flankwise_service.core.errors import BadInput, Impossible, NoSource
from flankwise_service.core.gauging import section
from flankwise_service.core.gauging.groove import groove_of
from flankwise_service.core.gauging.helicoid import rest
from flankwise_service.core.gauging.limits_over import (
    choose_wire,
    edges,
    limits_over,
    refuse_unfit,
    root_at,
    shallow_root,
    wire_sizes,
)
from flankwise_service.core.gauging.over_wires import notes_on, reading_over
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.model import Span

BOLT = limits("7/8-14 UNF-2A")
NUT = limits("M20x1.5-6H")


def test_the_limits_are_the_readings_at_the_pitch_diameters_limits() -> None:
    over = limits_over(BOLT, 0.04)
    groove = groove_of(BOLT.basic, "external")
    assert over.min == reading_over(groove, 0.8216, 0.04)
    assert over.max == reading_over(groove, 0.8270, 0.04)
    assert (over.wire, over.method, over.line) == (0.04, "three wires", "square to the axis")
    assert over.sizes == wire_sizes(BOLT)
    assert over.notes == notes_on(groove, "three wires", "square to the axis")
    assert {source.standing for source in over.sources} == {"computed", "memory"}


def test_a_ball_inside_is_read_the_other_way_round() -> None:
    over = limits_over(NUT, 0.866, "between balls", "through both centres")
    groove = groove_of(NUT.basic, "internal")
    size = (float(NUT.pitch_diameter.min or 0), float(NUT.pitch_diameter.max or 0))
    line = "through both centres"
    assert over.min == reading_over(groove, size[0], 0.866, "between balls", line)
    assert over.max == reading_over(groove, size[1], 0.866, "between balls", line)


def test_edges_are_the_worst_of_the_limits_and_basic_where_there_are_none() -> None:
    # An external UN thread: crest cut to 0.8631, standing to 0.8734, root filled to 0.7961.
    assert edges(BOLT) == (0.8631, 0.8734, 0.7961)
    # An internal one has no greatest major diameter; its least is where the flank ends.
    assert edges(NUT) == (18.676, 18.376, 20.0)


def test_wire_sizes_are_for_the_whole_tolerance() -> None:
    sizes = wire_sizes(BOLT)
    groove = groove_of(BOLT.basic, "external")
    assert sizes.best == section.best_wire(groove)
    assert sizes.best_exact == pytest.approx(sizes.best, rel=1e-3)
    assert sizes.best_exact != sizes.best
    assert sizes.least == section.least_wire(groove, 0.8216, 0.8734)
    assert sizes.greatest == section.greatest_wire(groove, 0.8270, 0.8631)
    inside = wire_sizes(NUT)
    groove = groove_of(NUT.basic, "internal")
    assert inside.least == section.least_wire(groove, 19.216, 18.376)
    assert inside.greatest == section.greatest_wire(groove, 19.026, 18.676)


def test_a_wire_a_little_inside_the_sizes_fits_and_a_little_outside_does_not() -> None:
    for thread, method in ((BOLT, "three wires"), (NUT, "between balls")):
        sizes = wire_sizes(thread)
        limits_over(thread, sizes.least * 1.002, method)  # type: ignore[arg-type]
        limits_over(thread, sizes.greatest * 0.998, method)  # type: ignore[arg-type]
        for wire in (sizes.least * 0.998, sizes.greatest * 1.002):
            with pytest.raises(Impossible):
                limits_over(thread, wire, method)  # type: ignore[arg-type]


def test_the_wire_nearest_the_best_is_chosen_and_the_others_are_told() -> None:
    chosen = choose_wire(BOLT, [0.08, 0.05, 0.04, 0.045, 0.04, 0.02, 1.5])
    assert chosen.limits.wire == 0.04
    assert chosen.others == (0.045, 0.05)
    assert [unfit.wire for unfit in chosen.unfit] == [0.08, 0.02, 1.5]
    assert "rides on the crest" in chosen.unfit[0].reasons[0]
    assert len(chosen.unfit[1].reasons) == 3
    groove = groove_of(BOLT.basic, "external")
    assert chosen.angle_sensitivity == section.angle_sensitivity(groove, 0.04)


def test_when_no_wire_will_do_every_reason_is_given() -> None:
    with pytest.raises(Impossible) as caught:
        choose_wire(BOLT, [0.08, 0.02])
    assert {fault.code for fault in caught.value.faults} == {
        "rides_on_crest", "below_flank", "below_crest", "bottoms_in_root",
    }  # fmt: skip


@pytest.mark.parametrize("count", [0, 201])
def test_no_wires_or_too_many_are_refused(count: int) -> None:
    with pytest.raises(BadInput) as caught:
        choose_wire(BOLT, [0.04] * count)
    assert [fault.code for fault in caught.value.faults] == ["wires_count"]


def test_wires_in_a_hole_and_taper_threads_are_refused() -> None:
    with pytest.raises(BadInput):
        choose_wire(NUT, [0.866], "three wires")
    with pytest.raises(BadInput):
        limits_over(NUT, 0.866)
    with pytest.raises(NoSource):
        wire_sizes(limits("1/2-14 NPT", side="external"))


def test_in_the_other_unit_everything_is_25_4_times_as_much() -> None:
    metric = limits_over(limits_in(BOLT, "mm"), 0.04 * 25.4)
    inch = limits_over(BOLT, 0.04)
    assert metric.min.reading == pytest.approx(25.4 * inch.min.reading, rel=1e-13)
    assert metric.max.handbook == pytest.approx(25.4 * inch.max.handbook, rel=1e-13)
    assert metric.sizes.greatest == pytest.approx(25.4 * inch.sizes.greatest, rel=1e-13)


def test_the_root_is_as_deep_below_the_pitch_line_as_the_basic_profiles() -> None:
    assert root_at(BOLT, 0.8270) == pytest.approx(0.8270 - (0.8286 - 0.7977))
    assert root_at(NUT, 19.1) == pytest.approx(19.1 + (20.0 - 19.026), abs=0.001)


def test_stub_threads_take_larger_wires_that_do_not_bottom() -> None:
    stub = limits("1/2-10 STUB ACME-2G", side="external")
    sizes = wire_sizes(stub)
    assert sizes.least > sizes.best
    assert sizes.use == pytest.approx(sizes.least + 0.1 * (sizes.greatest - sizes.least))
    with pytest.raises(Impossible) as caught:
        limits_over(stub, sizes.best)
    assert "bottoms_in_root" in [fault.code for fault in caught.value.faults]
    limits_over(stub, sizes.use or 0)


def test_the_best_is_used_where_it_will_do_and_else_one_that_fits() -> None:
    assert wire_sizes(BOLT).use == wire_sizes(BOLT).best
    tiny = limits("0.30 UNM", side="internal")
    sizes = wire_sizes(tiny, "over balls")
    assert sizes.use is not None
    # The hole's crest is cut past the pitch line: a ball as large as the best rides on it.
    assert sizes.use == pytest.approx(sizes.greatest - 0.1 * (sizes.greatest - sizes.least))
    limits_over(tiny, sizes.use, "over balls")


def test_between_no_wire_at_all_none_is_named() -> None:
    cut = replace(BOLT, major_diameter=Span(Decimal("0.8150"), Decimal("0.8734")))
    assert wire_sizes(cut).greatest < wire_sizes(cut).least
    assert wire_sizes(cut).use is None  # neither the best nor any other fits
    with pytest.raises(Impossible) as caught:
        refuse_unfit(cut, wire_sizes(cut).best, "three wires")
    assert caught.value.faults[0].change.startswith("no wire fits over the whole tolerance")


def test_over_balls_the_crest_is_not_in_the_gauges_way() -> None:
    small = wire_sizes(NUT).least * 0.97
    refuse_unfit(NUT, small, "over balls")
    refuse_unfit(BOLT, wire_sizes(BOLT).least * 0.99, "over balls")
    for thread, method in ((NUT, "between balls"), (BOLT, "three wires")):
        with pytest.raises(Impossible) as caught:
            refuse_unfit(thread, wire_sizes(thread).least * 0.97, method)  # type: ignore[arg-type]
        assert "below_crest" in [fault.code for fault in caught.value.faults]
    assert wire_sizes(NUT, "over balls").least < wire_sizes(NUT).least
    with pytest.raises(Impossible):
        refuse_unfit(NUT, 0.1, "over balls")


def test_a_root_left_shallow_is_warned_of_by_how_much_it_lifts() -> None:
    loose = limits("0-80 UNF-1A")
    best = wire_sizes(loose).best
    (note,) = shallow_root(loose, best)
    groove = groove_of(loose.basic, "external")
    low = float(loose.pitch_diameter.min or 0)
    inside = 2 * rest(groove, low, best).centre_radius - best
    over = float(loose.minor_diameter.max or 0) - inside
    assert over > 0
    assert f"up to {over:.2g}:" in note
    assert note in limits_over(loose, best).notes
    assert shallow_root(BOLT, 0.0412) == ()
    assert shallow_root(NUT, 0.866) == ()
    deep = replace(NUT, major_diameter=Span(Decimal("19.2"), None))
    assert "19.2" in shallow_root(deep, 0.866)[0]
