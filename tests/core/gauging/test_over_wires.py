"""Readings over and between, both ways; what is refused."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.gauging import helicoid, section
from flankwise_service.core.gauging.groove import Groove
from flankwise_service.core.gauging.over_wires import (
    axial_offset,
    centres_apart,
    notes_on,
    pitch_diameter_from,
    reading_over,
    refuse_method,
)
from flankwise_service.core.gauging.wire_fit import refuse_unfit_wire

OUT = Groove(0.1, 0.3, 30.0, 30.0)
IN = Groove(0.1, 0.3, 30.0, 30.0, "internal")
BUTTRESS = Groove(0.1, 0.1, 7.0, 45.0)


def test_the_ways_of_measuring_differ_by_the_wire_alone() -> None:
    apart = 2 * helicoid.rest(OUT, 1.0, 0.06).centre_radius
    assert reading_over(OUT, 1.0, 0.06).reading == pytest.approx(apart + 0.06, rel=1e-15)
    for method in ("two wires", "over balls"):
        assert reading_over(OUT, 1.0, 0.06, method).reading == reading_over(OUT, 1.0, 0.06).reading
    inside = 2 * helicoid.rest(IN, 1.0, 0.06).centre_radius
    assert reading_over(IN, 1.0, 0.06, "over balls").reading == pytest.approx(inside + 0.06)
    assert reading_over(IN, 1.0, 0.06, "between balls").reading == pytest.approx(inside - 0.06)
    assert inside < 1.0 < apart


def test_through_both_centres_the_grooves_offset_comes_in() -> None:
    square = reading_over(IN, 1.0, 0.06, "between balls")
    tilted = reading_over(IN, 1.0, 0.06, "between balls", "through both centres")
    assert tilted.axial_offset == 0.05
    assert tilted.reading + 0.06 == pytest.approx(math.hypot(square.reading + 0.06, 0.05))
    assert tilted.handbook + 0.06 == pytest.approx(math.hypot(square.handbook + 0.06, 0.05))


@pytest.mark.parametrize(("starts", "offset"), [(1, 0.05), (2, 0.0), (3, 0.05), (4, 0.0)])
def test_opposite_grooves_are_half_a_pitch_off_for_odd_starts(starts: int, offset: float) -> None:
    assert axial_offset(Groove(0.1, starts * 0.1, 30.0, 30.0)) == offset
    # By the helix itself: opposite a groove it has moved half a lead, and grooves come each pitch.
    away = abs(starts * 0.1 / 2) % 0.1
    assert min(away, 0.1 - away) == pytest.approx(offset, abs=1e-15)


@pytest.mark.parametrize("groove", [OUT, IN, BUTTRESS])
def test_the_handbook_stands_beside_with_its_error(groove: Groove) -> None:
    method = "three wires" if groove.side == "external" else "between balls"
    sign = 1 if groove.side == "external" else -1
    read = reading_over(groove, 1.0, 0.06, method)
    stand_off = section.wire_constant(groove) * 0.06 - section.height_constant(groove)
    flat = 1.0 + sign * stand_off + sign * 0.06
    assert read.handbook == pytest.approx(flat, rel=1e-14)
    assert read.handbook_error == pytest.approx(read.handbook - read.reading, abs=1e-16)
    assert sign * read.handbook_error < 0
    assert read.lead_angle == pytest.approx(math.degrees(math.atan(groove.lead / math.pi)))
    if groove is BUTTRESS:
        assert read.handbook_with_lead is read.handbook_with_lead_error is None
        assert read.contact_diameter_upper > 1.0 > read.contact_diameter_lower
    else:
        term = section.lead_term(groove, 1.0, 0.06)
        assert term is not None
        assert read.handbook_with_lead == pytest.approx(flat + sign * term, rel=1e-14)
        assert read.handbook_with_lead_error == read.handbook_with_lead - read.reading
        assert abs(read.handbook_with_lead_error) < abs(read.handbook_error) / 5


@pytest.mark.parametrize("groove", [OUT, IN, BUTTRESS])
def test_a_reading_worked_back(groove: Groove) -> None:
    sign = 1 if groove.side == "external" else -1
    for method in ("over balls", "three wires") if sign > 0 else ("over balls", "between balls"):
        for line in ("square to the axis", "through both centres"):
            if method == "three wires" and line != "square to the axis":
                continue
            read = reading_over(groove, 1.0, 0.06, method, line)
            back = pitch_diameter_from(groove, read.reading, 0.06, method, line)
            assert back.pitch_diameter == pytest.approx(1.0, rel=1e-13)
            assert back.handbook_error == pytest.approx(back.handbook - 1.0, abs=1e-12)
            assert sign * back.handbook_error > 0
            assert back.contact_diameter_upper == pytest.approx(read.contact_diameter_upper)
            assert back.contact_diameter_lower == pytest.approx(read.contact_diameter_lower)
            if groove is BUTTRESS:
                assert back.handbook_with_lead is None
            else:
                assert back.handbook_with_lead is not None
                assert abs(back.handbook_with_lead - 1.0) < abs(back.handbook_error) / 5


def test_ways_that_do_not_suit_are_all_refused_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        refuse_method(IN, "three wires", "through both centres")
    assert [fault.code for fault in caught.value.faults] == ["wires_inside", "anvils_square"]
    with pytest.raises(BadInput) as caught:
        refuse_method(OUT, "between balls", "square to the axis")
    assert [fault.code for fault in caught.value.faults] == ["between_outside"]
    with pytest.raises(BadInput):
        reading_over(IN, 1.0, 0.06, "two wires")
    with pytest.raises(BadInput):
        pitch_diameter_from(IN, 1.0, 0.06, "two wires")
    refuse_method(OUT, "over balls", "through both centres")


def test_a_reading_that_leaves_no_room_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        centres_apart(OUT, 0.1, 0.06, "over balls", "through both centres")
    assert [fault.code for fault in caught.value.faults] == ["reading_too_small"]
    with pytest.raises(BadInput):
        pitch_diameter_from(OUT, 0.06, 0.06)
    with pytest.raises(BadInput):
        pitch_diameter_from(OUT, float("nan"), 0.06)
    # The wires are far enough apart, but the pitch diameter comes out below nothing.
    with pytest.raises(BadInput):
        pitch_diameter_from(Groove(0.1, 0.1, 30.0, 30.0), 0.33, 0.15)


# 7/8-14 UNF-2A: crest 0.8631 to 0.8734, root 0.7961, pitch diameter 0.8270.
FINE = Groove(1 / 14, 1 / 14, 30.0, 30.0)
NUT = Groove(1.5, 1.5, 30.0, 30.0, "internal")


def fit_codes(groove: Groove, *sizes: float) -> list[str]:
    with pytest.raises(Impossible) as caught:
        refuse_unfit_wire(groove, *sizes)
    assert all("is best" in fault.change for fault in caught.value.faults)
    assert {fault.pointer for fault in caught.value.faults} == {"/wire"}
    return [fault.code for fault in caught.value.faults]


def test_wires_that_cannot_tell_the_pitch_diameter() -> None:
    lies = refuse_unfit_wire(FINE, 0.827, 0.0412, 0.8631, 0.7961, 0.8734)
    assert lies == helicoid.rest(FINE, 0.827, 0.0412)
    assert fit_codes(FINE, 0.827, 0.07, 0.8631, 0.7961, 0.8734) == ["rides_on_crest"]
    assert fit_codes(FINE, 0.827, 0.0355, 0.8631, 0.7961, 0.8734) == ["below_crest"]
    assert fit_codes(FINE, 0.827, 0.02, 0.8631, 0.7961) == [
        "below_flank", "below_crest", "bottoms_in_root",
    ]  # fmt: skip
    # A root filled up to 0.815 is in the wire's way before the flanks are.
    assert fit_codes(FINE, 0.827, 0.0412, 0.8631, 0.815) == ["bottoms_in_root"]


def test_balls_inside_are_held_to_the_same() -> None:
    refuse_unfit_wire(NUT, 19.1, 0.866, 18.676, 20.0, 18.376)
    assert fit_codes(NUT, 19.1, 1.3, 18.676, 20.0, 18.376) == ["rides_on_crest"]
    assert fit_codes(NUT, 19.1, 0.66, 18.676, 20.0, 18.376) == ["below_crest"]
    assert fit_codes(NUT, 19.1, 0.4, 18.676, 20.0) == ["below_crest"]
    assert fit_codes(NUT, 19.1, 0.866, 18.676, 19.3) == ["bottoms_in_root"]


def test_the_edge_itself_is_allowed_and_a_hair_beyond_is_not() -> None:
    lies = helicoid.rest(FINE, 0.827, 0.0412)
    touch, top = lies.contact_diameter_upper, 2 * lies.centre_radius + 0.0412
    refuse_unfit_wire(FINE, 0.827, 0.0412, touch, 0.7961)
    assert fit_codes(FINE, 0.827, 0.0412, touch - 1e-9, 0.7961) == ["rides_on_crest"]
    refuse_unfit_wire(FINE, 0.827, 0.0412, 0.8631, 0.7961, top - 1e-9)
    assert fit_codes(FINE, 0.827, 0.0412, 0.8631, 0.7961, top) == ["below_crest"]


def test_an_unequal_pair_of_flanks_is_judged_by_each_contact() -> None:
    lies = helicoid.rest(BUTTRESS, 1.0, 0.054)
    high, low = lies.contact_diameter_upper, lies.contact_diameter_lower
    refuse_unfit_wire(BUTTRESS, 1.0, 0.054, high, 0.9)
    assert fit_codes(BUTTRESS, 1.0, 0.054, high - 1e-9, 0.9) == ["rides_on_crest"]
    assert "below_flank" in fit_codes(BUTTRESS, 1.0, 0.054, high, low + 1e-9)


def test_notes_tell_of_the_go_gauge_and_of_holding_the_gauge_square() -> None:
    assert len(notes_on(OUT, "three wires", "square to the axis")) == 1
    assert "go gauge" in notes_on(OUT, "three wires", "square to the axis")[0]
    for method in ("two wires", "over balls"):
        assert "0.05 apart" in notes_on(OUT, method, "square to the axis")[1]
    assert len(notes_on(IN, "between balls", "through both centres")) == 1
    double = Groove(0.1, 0.2, 30.0, 30.0)
    assert len(notes_on(double, "two wires", "square to the axis")) == 1
