from __future__ import annotations

from decimal import Decimal
from types import SimpleNamespace

import pytest

from flankwise_service.core.errors import BadInput, NoSource
from flankwise_service.core.stock.facts import (
    aim_for,
    blank_aim,
    blank_span,
    hexagon_facts,
    thread_for_drill,
)
from flankwise_service.core.threads import limits
from flankwise_service.core.threads.model import Span
from support.refused import told


def test_facts_leave_out_what_is_not_asked():
    bare = hexagon_facts("across_flats", 30.0, "mm")
    assert bare.mass is bare.wrong_turn is bare.corner_stand_out is bare.wall_to_flats is None
    assert bare.wrench is not None
    assert bare.wrench.name == "30"
    assert bare.readings[0].intended


def test_facts_put_all_together():
    full = hexagon_facts(
        "across_corners", 34.641016, "mm",
        density_g_per_cm3=7.9, diameter=20.0, drawn_across_flats=51.96,
    )  # fmt: skip
    assert full.hexagon.across_flats == pytest.approx(30.0)
    assert full.corner_stand_out == pytest.approx(7.3205, abs=1e-4)
    assert full.wall_to_flats == pytest.approx(5.0)
    assert full.wrong_turn is not None
    assert full.mass is not None
    assert full.mass.kilograms_per_metre == pytest.approx(6.157, abs=1e-3)
    assert full.readings[0].measure == "across_corners"


def test_external_blank_is_aimed_within_the_major_limits():
    # Source: ASME B1.1, 7/8-14 UNF-2A: major diameter 0.8631 to 0.8734 in.
    aim = blank_aim(limits("7/8-14 UNF-2A"), 0.0)
    assert (aim.least, aim.greatest, aim.diameter) == (0.8631, 0.8734, 0.8631)


def test_internal_blank_is_aimed_within_the_minor_limits():
    # Source: ISO 965-2, M20x1.5-6H: minor diameter 18.376 to 18.676 mm.
    found = limits("M20x1.5-6H")
    assert blank_span(found) == Span(Decimal("18.376"), Decimal("18.676"))
    assert blank_aim(found, 1.0).diameter == 18.676


@pytest.mark.parametrize(
    ("span", "words"),
    [(Span(None, Decimal(1)), "no least major"), (Span(Decimal(1), None), "no greatest major")],
)
def test_a_limit_the_standard_leaves_out_is_not_guessed(span, words):
    thread = SimpleNamespace(side="external", major_diameter=span, minor_diameter=Span())
    with pytest.raises(NoSource, match=words) as caught:
        blank_aim(thread)
    assert caught.value.faults[0].code == "no_limit"


def test_aim_by_designation_or_by_limits_but_not_both():
    assert aim_for("7/8-14 UNF-2A", None, None, None, "in").diameter == pytest.approx(0.86825)
    in_mm = aim_for("7/8-14 UNF-2A", None, None, None, "mm")
    assert in_mm.greatest == pytest.approx(0.8734 * 25.4)
    assert aim_for(None, None, 10.0, 11.0, "mm", 0.25).diameter == pytest.approx(10.25)
    both_ways = [
        ("M8-6g", None, 1.0, 2.0), ("M8-6g", None, 1.0, None), ("M8-6g", None, None, 2.0),
        (None, None, 1.0, None), (None, None, None, 2.0), (None, None, None, None),
    ]  # fmt: skip
    for given in both_ways:
        assert told(BadInput, aim_for, *given, "mm") == {("/designation", "one_way")}


def test_drill_by_designation_or_by_diameter_and_pitch():
    assert thread_for_drill(None, None, 8, 1.25, "mm") == (8.0, 1.25, None)
    # Source: ISO 965-2, M8-6H minor diameter 6.647 to 6.912 mm.
    assert thread_for_drill("M8-6H", None, None, None, "mm") == (8.0, 1.25, (6.647, 6.912))
    assert thread_for_drill("M8", "internal", None, None, "mm")[2] == (6.647, 6.912)
    for given in [
        ("M8-6H", None, 8.0, None), ("M8-6H", None, None, 1.25), ("M8-6H", None, 8.0, 1.25),
        (None, None, 8.0, None), (None, None, None, 1.25), (None, None, None, None),
    ]:  # fmt: skip
        assert told(BadInput, thread_for_drill, *given, "mm") == {("/designation", "one_way")}


@pytest.mark.parametrize(
    ("designation", "change"),
    [
        ("1/2-14 NPT", "bore it to its minor limits, 18.2072 to 18.5986 mm at the face, narrowing"),
        ("1/2-14 NPSM", "bore it to its minor limits, 18.9738 to 19.2786 mm"),
        ("G 1/2", "bore it to its minor limits, 18.631 to 19.172 mm"),
    ],
)
def test_other_holes_are_bored_to_their_limits(designation, change):
    # Minor limits in inches, x 25.4: 0.71682 to 0.73223 and 0.747 to 0.759.
    with pytest.raises(BadInput) as caught:
        thread_for_drill(designation, "internal", None, None, "mm")
    (fault,) = caught.value.faults
    assert fault.code == "not_for_a_drill"
    assert fault.change.startswith(change)


def test_an_external_thread_has_no_hole():
    with pytest.raises(BadInput, match="M8-6g: it is no internal thread") as caught:
        thread_for_drill("M8-6g", None, None, None, "mm")
    assert caught.value.faults[0].change == "name an internal 60 degree thread"


@pytest.mark.parametrize("designation", ["M8-6g", "G 1/2"])
def test_drills_are_for_internal_60_degree_threads_only(designation):
    side = "internal" if designation.startswith("G") else None
    assert told(BadInput, thread_for_drill, designation, side, None, None, "mm") == {
        ("/designation", "not_for_a_drill")
    }
