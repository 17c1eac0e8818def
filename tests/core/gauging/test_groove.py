"""The groove: what is refused, and the lead angle."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from flankwise_service.core.errors import BadInput, NoSource
from flankwise_service.core.gauging.groove import (
    Groove,
    groove_of,
    lead_angle,
    refuse_bad_sizes,
)
from flankwise_service.core.threads import limits

UNIFIED = Groove(1 / 14, 1 / 14, 30.0, 30.0)


def codes(**changed: float) -> set[tuple[str, str]]:
    """Return what is wrong with 7/8-14, its sizes, or a 0.04 wire when something is changed."""
    sizes = {"pitch_diameter": 0.827, "wire": 0.04}
    sizes.update((name, changed.pop(name)) for name in tuple(changed) if name in sizes)
    with pytest.raises(BadInput) as caught:
        refuse_bad_sizes(replace(UNIFIED, **changed), sizes["pitch_diameter"], sizes["wire"])  # type: ignore[arg-type]
    return {(fault.pointer, fault.code) for fault in caught.value.faults}


def test_a_groove_is_taken_from_the_basic_profile() -> None:
    taken = groove_of(limits("7/8-14 UNF-2A").basic, "external")
    assert taken == UNIFIED
    assert taken.is_symmetric
    assert not Groove(1.0, 1.0, 7.0, 45.0).is_symmetric


def test_a_taper_thread_is_refused() -> None:
    with pytest.raises(NoSource) as caught:
        groove_of(limits("1/2-14 NPT", side="external").basic, "external")
    assert [fault.code for fault in caught.value.faults] == ["tapered"]
    assert caught.value.faults[0].value == 0.0625


def test_lead_angle_is_the_helix_unrolled() -> None:
    assert lead_angle(math.pi, 1.0) == pytest.approx(45.0, abs=1e-12)
    assert lead_angle(math.pi * math.tan(math.radians(5)), 1.0) == pytest.approx(5.0, abs=1e-12)


def test_good_sizes_pass() -> None:
    refuse_bad_sizes(UNIFIED, 0.827, 0.04)
    refuse_bad_sizes(UNIFIED, 0.827, None)
    # A square flank on one side is fine as long as the other slopes.
    refuse_bad_sizes(Groove(0.1, 0.3, 0.0, 2.0), 0.827, None)


@pytest.mark.parametrize("name", ["pitch", "lead", "pitch_diameter", "wire"])
@pytest.mark.parametrize(
    "bad",
    [0.0, -1.0, 1e308, 5e-324, float("nan"), float("inf"), 10**400],
    ids=lambda n: f"{n!s:.9}",
)
def test_lengths_out_of_all_bounds_are_refused(name: str, bad: float) -> None:
    assert codes(**{name: bad}) == {(f"/{name}", "out_of_range")}


def test_every_fault_is_told_at_once() -> None:
    assert codes(pitch=-1.0, lead=float("nan"), flank_angle_upper=61.0, flank_angle_lower=-1.0) == {
        ("/pitch", "out_of_range"),
        ("/lead", "out_of_range"),
        ("/flank_angle_upper", "out_of_range"),
        ("/flank_angle_lower", "out_of_range"),
    }
    assert codes(pitch_diameter=-1.0, wire=-1.0) == {
        ("/pitch_diameter", "out_of_range"),
        ("/wire", "out_of_range"),
    }
    assert codes(lead=0.1, flank_angle_upper=0.9, flank_angle_lower=1.0) == {
        ("/flank_angle_upper", "too_steep"),
        ("/lead", "lead_not_starts"),
    }


@pytest.mark.parametrize("lead", [0.07, 0.0357, 0.1072, 1e-4])
def test_a_lead_that_is_no_whole_number_of_pitches_is_refused(lead: float) -> None:
    assert codes(lead=lead) == {("/lead", "lead_not_starts")}


def test_a_helix_steeper_than_45_degrees_is_refused() -> None:
    assert codes(lead=3.0) == {("/pitch_diameter", "out_of_range")}


def test_a_wire_out_of_proportion_is_refused() -> None:
    assert codes(wire=0.003) == {("/wire", "out_of_range")}
    assert codes(wire=0.4) == {("/wire", "out_of_range")}
    assert codes(pitch_diameter=0.2, wire=0.2) == {("/wire", "wire_too_big")}


def test_too_steep_a_lead_is_refused_without_a_wire_too() -> None:
    steep = Groove(1.0, 1.0, 30.0, 30.0)
    refuse_bad_sizes(steep, 0.32, None)
    with pytest.raises(BadInput) as caught:
        refuse_bad_sizes(steep, 0.31, None)
    assert [(fault.pointer, fault.code) for fault in caught.value.faults] == [
        ("/pitch_diameter", "out_of_range")
    ]
