"""The radius correction: the groove it asks for really has its pitch line on the aim."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.form.correction import aimed, radius_correction
from flankwise_service.core.form.model import Cut, Pass, single
from flankwise_service.core.form.pitchline import pitch_line
from support.form_search import reach

M8 = Tooth(30.0, 30.0, 0.1, 0.85, 0.03)


def test_aim_is_the_middle_by_default_and_any_fraction_asked() -> None:
    assert aimed((7.188, 7.348)) == pytest.approx(7.268, abs=1e-15)
    assert aimed((7.188, 7.348), 0.25) == pytest.approx(7.228, abs=1e-15)
    assert aimed((7.188, 7.348), 0.0) == 7.188
    assert aimed((7.188, 7.348), 1.0) == pytest.approx(7.348)


@pytest.mark.parametrize(
    ("limits", "fraction", "pointer"),
    [((7.3, 7.2), 0.5, "/pitch_diameter_limits"), ((7.2, 7.3), 1.01, "/fraction")],
)
def test_aim_refuses(limits: tuple[float, float], fraction: float, pointer: str) -> None:
    with pytest.raises(BadInput) as refused:
        aimed(limits, fraction)
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


@given(
    radius=st.floats(1.2, 3.3),
    start=st.floats(-0.3, 0.3),
    aim=st.floats(7.0, 7.4),
    starts=st.integers(1, 2),
)
@settings(max_examples=60, deadline=None)
def test_internal_groove_is_half_a_pitch_wide_at_the_aim(
    radius: float, start: float, aim: float, starts: int
) -> None:
    cut = single(M8, radius, "internal", 1.25, 4.0 + start - radius, starts)
    found = radius_correction(cut, aim)
    final = single(M8, radius, "internal", 1.25, found.centre_radius, starts)
    width = sum(reach(final, row, aim / 2) for row in (0, 1))
    assert width == pytest.approx(0.625, abs=2e-8)
    assert 2 * pitch_line(final).radius == pytest.approx(aim, abs=1e-10)
    assert found.root_diameter == pytest.approx(2 * (found.centre_radius + radius), abs=1e-12)
    assert found.change < 0 < found.error_without


@given(
    radius=st.floats(1.2, 30.0),
    aim=st.floats(7.0, 7.4),
    pair=st.tuples(st.floats(14, 45), st.floats(14, 45)),
)
@settings(max_examples=60, deadline=None)
def test_external_groove_is_half_a_pitch_wide_at_the_aim(
    radius: float, aim: float, pair: tuple[float, float]
) -> None:
    tooth = Tooth(*pair, 0.25, 0.85)
    cut = single(tooth, radius, "external", 1.25, 3.4 + radius)
    found = radius_correction(cut, aim)
    final = single(tooth, radius, "external", 1.25, found.centre_radius)
    width = sum(reach(final, row, aim / 2) for row in (0, 1))
    assert width == pytest.approx(0.625, abs=2e-8)
    assert found.change > 0 > found.error_without
    assert found.root_diameter == pytest.approx(2 * (found.centre_radius - radius), abs=1e-12)


@given(side=st.sampled_from(["internal", "external"]), aim=st.floats(9.0, 9.6))
@settings(max_examples=20, deadline=None)
def test_taper_lands_in_the_plane_of_the_face(side: str, aim: float) -> None:
    tooth = Tooth(30.0, 30.0, 0.06, 1.2, 0.02)
    centre, taper = (2.0, 1 / 16) if side == "internal" else (7.4, -1 / 16)
    cut = single(tooth, 3.0, side, 1.411, centre, 1, taper)  # type: ignore[arg-type]
    found = radius_correction(cut, aim)
    line = pitch_line(replace(cut, passes=(Pass(found.centre_radius),)))
    assert 2 * line.radius == pytest.approx(aim, abs=1e-9)
    assert line.upper_reach + line.lower_reach == pytest.approx(1.411 / 2, abs=1e-9)


def test_all_passes_move_together_and_the_deepest_is_told() -> None:
    cut = Cut(M8, 2.4, "internal", 1.25, (Pass(1.2), Pass(1.6, 0.01), Pass(1.6, -0.01)))
    found = radius_correction(cut, 7.268)
    final = cut.moved(found.centre_radius - 1.6)
    assert 2 * pitch_line(final).radius == pytest.approx(7.268, abs=1e-10)
    apart = radius_correction(single(M8, 2.4, "internal", 1.25, 1.6), 7.268)
    assert found.centre_radius < apart.centre_radius - 0.01


def test_what_the_triangle_would_have_cut_is_told() -> None:
    cut = single(M8, 3.0, "internal", 1.25, 1.0)
    found = radius_correction(cut, 7.268)
    triangle = single(M8, 3.0, "internal", 1.25, found.triangle_centre_radius)
    assert found.pitch_diameter_without == pytest.approx(2 * pitch_line(triangle).radius, abs=1e-11)
    assert found.error_without == found.pitch_diameter_without - 7.268
    assert found.change == found.centre_radius - found.triangle_centre_radius
    depth = (0.625 - 0.1) / (2 * 3**-0.5)
    assert found.triangle_centre_radius == pytest.approx(7.268 / 2 + depth - 3.0, abs=1e-12)


def test_far_start_lands_all_the_same() -> None:
    near = radius_correction(single(M8, 3.0, "internal", 1.25, 1.0), 7.268).centre_radius
    far = radius_correction(single(M8, 3.0, "internal", 1.25, 40.0), 7.268).centre_radius
    assert far == pytest.approx(near, abs=1e-10)


@pytest.mark.parametrize("aim", [0.0, -1.0, float("nan"), 1e308, 10**400])
def test_aim_that_is_no_length_is_refused(aim: float) -> None:
    with pytest.raises(BadInput) as refused:
        radius_correction(single(M8, 3.0, "internal", 1.25, 1.0), aim)
    assert [fault.pointer for fault in refused.value.faults] == ["/aim"]


@pytest.mark.parametrize(
    ("cut", "aim"),
    [
        (single(M8, 3.0, "internal", 1.25, 1.0), 0.5),
        (single(replace(M8, tip_width=0.7), 3.0, "internal", 1.25, 1.0), 7.268),
        (single(M8, 3.0, "external", 1.25, 6.3), 0.01),
    ],
)
def test_aim_no_depth_can_reach_is_refused(cut: Cut, aim: float) -> None:
    with pytest.raises((Impossible, BadInput)) as refused:
        radius_correction(cut, aim)
    assert {fault.code for fault in refused.value.faults} <= {"no_pitch_line", "out_of_range"}


def test_tooth_too_shallow_for_the_pitch_line_is_refused() -> None:
    """Groove 0.625 wide at the aim: (0.625 - 0.1)/2 tan 30 = 0.4547 above the root by the triangle."""
    shallow = single(Tooth(30.0, 30.0, 0.1, 0.3), 3.0, "internal", 1.25, 1.0)
    with pytest.raises(Impossible) as refused:
        radius_correction(shallow, 7.268)
    (fault,) = refused.value.faults
    assert (fault.pointer, fault.code, fault.value) == ("/tooth/depth", "tooth_too_shallow", 0.3)
    assert fault.least is not None
    assert 0.3 < fault.least < 0.4547


def test_correction_that_would_cut_through_the_axis_is_refused() -> None:
    tooth = Tooth(10.0, 10.0, 0.05, 3.0)
    with pytest.raises((BadInput, Impossible)) as refused:
        radius_correction(single(tooth, 3.0, "external", 1.25, 4.5), 2.0)
    assert refused.value.faults[0].code in {"cuts_through_axis", "no_pitch_line"}
