"""What is refused before anything is worked out, with every fault at once."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import BadInput, Refusal
from flankwise_service.core.form.correction import radius_correction
from flankwise_service.core.form.model import Cut, Pass, checked, single, tip_width_taken
from flankwise_service.core.form.section import section
from flankwise_service.core.form.tilt import tilt_effect

TOOTH = Tooth(30.0, 30.0, 0.15, 0.85)
CUT = single(TOOTH, 3.0, "internal", 1.25, 1.0)
ODD = [0.0, -1.0, 1e-310, 1e308, math.nan, math.inf, -math.inf, 10**400]


def codes(cut: Cut) -> list[tuple[str, str]]:
    with pytest.raises(BadInput) as refused:
        checked(cut)
    return [(fault.pointer, fault.code) for fault in refused.value.faults]


@pytest.mark.parametrize("value", ODD)
@pytest.mark.parametrize("name", ["cutter_radius", "pitch", "starts"])
def test_numbers_out_of_range(name: str, value: float) -> None:
    assert codes(replace(CUT, **{name: value})) == [(f"/{name}", "out_of_range")]  # type: ignore[arg-type]


@pytest.mark.parametrize("value", [1.0, -0.6, math.nan, 10**400])
def test_taper_out_of_range(value: float) -> None:
    assert codes(replace(CUT, taper=value)) == [("/taper", "out_of_range")]


@pytest.mark.parametrize(
    "name", ["flank_angle_upper", "flank_angle_lower", "tip_width", "tip_radius", "depth"]
)
@pytest.mark.parametrize("value", [-1.0, 1e308, math.nan, 10**400])
def test_tooth_out_of_range(name: str, value: float) -> None:
    tooth = replace(TOOTH, **{name: value})
    assert (f"/tooth/{name}", "out_of_range") in codes(replace(CUT, tooth=tooth))


def test_passes_out_of_range() -> None:
    assert codes(replace(CUT, passes=())) == [("/passes", "passes")]
    assert codes(replace(CUT, passes=(Pass(1.0),) * 2001)) == [("/passes", "passes")]
    found = codes(replace(CUT, passes=(Pass(1.0), Pass(0.0, math.nan))))
    assert found == [
        ("/passes/1/centre_radius", "out_of_range"),
        ("/passes/1/shift", "out_of_range"),
    ]


def test_every_fault_is_told_at_once() -> None:
    found = codes(replace(CUT, pitch=0.0, starts=0, taper=9.0, tooth=replace(TOOTH, depth=0.0)))
    assert [pointer for pointer, _ in found] == ["/tooth/depth", "/pitch", "/starts", "/taper"]


@pytest.mark.parametrize(
    ("cut", "pointer", "code"),
    [
        (replace(CUT, tooth=replace(TOOTH, tip_radius=0.2)), "/tooth/tip_radius", "tip_radius_too_large"),
        (replace(CUT, tooth=replace(TOOTH, depth=3.1)), "/tooth/depth", "tooth_deeper_than_cutter"),
        (replace(CUT, tooth=Tooth(0.0, 0.0, 0.15, 0.85)), "/tooth/flank_angle_upper", "square_tooth"),
        (replace(CUT, tooth=Tooth(0.09, 0.0, 0.15, 0.85)), "/tooth/flank_angle_upper", "square_tooth"),
        (replace(CUT, taper=0.4, tooth=Tooth(75.0, 70.0, 0.15, 0.85)), "/taper", "taper_steeper_than_flank"),
        (replace(CUT, taper=1 / 16, starts=4), "/taper", "lead_too_coarse_for_taper"),
        (single(TOOTH, 3.0, "external", 1.25, 3.0), "/passes/0/centre_radius", "cuts_through_axis"),
    ],
)  # fmt: skip
def test_values_that_do_not_fit_together(cut: Cut, pointer: str, code: str) -> None:
    assert codes(cut) == [(pointer, code)]


def test_full_round_tip_is_allowed_to_the_last_digit() -> None:
    """Two arcs that just meet: 2 q tan(45 - a/2) = tip width."""
    q = 0.15 / (2 * math.tan(math.radians(30)))
    assert tip_width_taken(replace(TOOTH, tip_radius=q)) == pytest.approx(0.15, abs=1e-16)
    assert checked(replace(CUT, tooth=replace(TOOTH, tip_radius=q))).tooth.tip_radius == q
    over = replace(CUT, tooth=replace(TOOTH, tip_radius=q * 1.001))
    assert codes(over) == [("/tooth/tip_radius", "tip_radius_too_large")]


def test_lead_root_and_moved() -> None:
    double = replace(CUT, starts=2)
    assert double.lead == 2.5
    assert double.moved(0.25).passes == (Pass(1.25, 0.0),)
    shaft = single(TOOTH, 3.0, "external", 1.25, 6.5)
    assert shaft.root_radius == 3.5
    assert shaft.moved(0.25).passes == (Pass(6.25, 0.0),)


anything = st.one_of(
    st.sampled_from(ODD), st.floats(allow_nan=True, allow_infinity=True), st.floats(0.01, 20.0)
)


@given(
    angles=st.tuples(anything, anything),
    rest=st.tuples(anything, anything, anything, anything, anything, anything),
    side=st.sampled_from(["internal", "external"]),
    starts=st.integers(-(10**30), 10**30),
    taper=st.sampled_from([0.0, 1 / 16, -1 / 16, 0.4]),
    crest=anything,
)
@settings(max_examples=150, deadline=None)
def test_nothing_but_refusals_comes_out(
    angles: tuple[float, float],
    rest: tuple[float, float, float, float, float, float],
    side: str,
    starts: int,
    taper: float,
    crest: float,
) -> None:
    """Whatever goes in, either finite figures or a refusal come out."""
    tip, depth, q, radius, pitch, centre = rest
    cut = single(Tooth(*angles, tip, depth, q), radius, side, pitch, centre, starts, taper)  # type: ignore[arg-type]
    _finite_or_refused(cut, crest)


@given(
    angles=st.tuples(st.floats(0, 80), st.floats(0, 80)),
    tip=st.floats(0, 2), depth=st.floats(0.01, 3), q=st.floats(0, 0.2), radius=st.floats(0.5, 20),
    pitch=st.floats(0.1, 20), centre=st.floats(0.1, 30), starts=st.integers(1, 8),
    side=st.sampled_from(["internal", "external"]), taper=st.sampled_from([0.0, 1 / 16, -0.3]),
    share=st.floats(-0.2, 1.5),
)  # fmt: skip
@settings(max_examples=150, deadline=None)
def test_near_misses_come_out_finite_or_refused(
    angles: tuple[float, float], tip: float, depth: float, q: float, radius: float, pitch: float,
    centre: float, starts: int, side: str, taper: float, share: float,
) -> None:  # fmt: skip
    cut = single(Tooth(*angles, tip, depth, q), radius, side, pitch, centre, starts, taper)  # type: ignore[arg-type]
    _finite_or_refused(cut, max(cut.root_radius - cut.outward * share * depth, 1e-6))


def _finite_or_refused(cut: Cut, crest: float) -> None:
    try:
        found = section(cut, crest, points=32, pitch_diameter_limits=(5.0, 6.0))
    except Refusal:
        pass
    else:
        figures = [
            found.pitch_diameter,
            found.functional_diameter,
            found.root_radius,
            found.crest_width,
        ]
        figures += [found.upper_flank.angle, found.lower_flank.straightness, *found.upper_edge]
        assert all(math.isfinite(one) for one in figures)
    for work in (lambda: radius_correction(cut, 6.0), lambda: tilt_effect(cut)):
        try:
            told = work()
        except Refusal:
            continue
        assert all(
            math.isfinite(getattr(told, name))
            for name in told.__slots__  # type: ignore[attr-defined]
        )
