"""The closed form against a general-purpose mesh kernel (manifold3d 3.x, from the package index).

The kernel knows only solids and unions; see support/mesh_section for how fine it must be, which
the first test here measures. The quick tests always run; the slow ones are the long proof.
"""

from __future__ import annotations

import numpy as np
import pytest

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.form.envelope import edges
from flankwise_service.core.form.model import Cut, Pass, single
from support.form_cases import CASES, Case
from support.mesh_section import Stand, narrowed, reach, slices, solid, turns_in_contact

HALF_MICROMETRE = 5e-4
M8 = Stand(3.0, 1.0, 1.25, 30.0, 30.0, 1.25 / 8, 0.75)
M8_RADIUS = 3.5940505919760444
by_name = pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)


def _exact(cut: Cut, radius: float) -> tuple[float, float]:
    both = edges(cut, np.array([radius]))
    return float(both[0, 0]), float(both[1, 0])


@by_name
def test_form_agrees_with_mesh_within_half_a_micrometre(case: Case) -> None:
    facets = 720 if case.tip_radius else 1440
    mesh = narrowed(case.stand, case.radii, facets)
    exact = np.array([_exact(case.cut, radius) for radius in case.radii])
    assert exact == pytest.approx(mesh, abs=HALF_MICROMETRE)
    assert exact.mean(axis=1) == pytest.approx(mesh.mean(axis=1), abs=HALF_MICROMETRE)


def test_form_mesh_fineness() -> None:
    """Each doubling of facets quarters what the mesh misses; 360 by 0.02 is already enough."""
    exact = _exact(CASES[0].cut, M8_RADIUS)[0]
    turns = turns_in_contact(M8, M8_RADIUS, 0.02)
    missing = [exact - reach(slices(M8, turns, n), M8_RADIUS)[0] for n in (90, 180, 360)]
    assert 0 < missing[2] < 2e-4
    assert missing[0] > 2 * missing[1] > 4 * missing[2]
    wide = [
        exact - reach(slices(M8, turns_in_contact(M8, M8_RADIUS, step), 720), M8_RADIUS)[0]
        for step in (0.16, 0.02)
    ]
    assert wide[0] > 5 * wide[1] > 0


def test_two_passes_agree_with_mesh() -> None:
    """A roughing pass, then two at full depth set apart along Z: the groove is their union."""
    tooth = Tooth(30.0, 30.0, 0.1, 0.75)
    passes = (Pass(0.8, 0.0), Pass(1.0, -0.03), Pass(1.0, 0.05))
    cut = Cut(tooth, 3.0, "internal", 1.25, passes)
    for radius in (3.4, 3.7, 3.93):
        top, bottom = [], []
        for one in passes:
            stand = Stand(3.0, one.centre_radius, 1.25, 30, 30, 0.1, 0.75)
            try:
                up, down = reach(slices(stand, turns_in_contact(stand, radius, 0.02), 720), radius)
            except ValueError:
                continue
            top.append(up + one.shift)
            bottom.append(down - one.shift)
        assert _exact(cut, radius) == pytest.approx((max(top), max(bottom)), abs=HALF_MICROMETRE)


@pytest.mark.slow
@by_name
def test_form_agrees_with_very_fine_mesh(case: Case) -> None:
    """5760 facets, 4 narrowings: within 0.05 micrometre at the same radii; 0.1 for round tips."""
    facets, finest = (1440, 5) if case.tip_radius else (5760, 10)
    mesh = narrowed(case.stand, case.radii, facets, levels=4, pieces=48)
    exact = np.array([_exact(case.cut, radius) for radius in case.radii])
    assert exact == pytest.approx(mesh, abs=HALF_MICROMETRE / finest)


@pytest.mark.slow
@pytest.mark.parametrize("case", [CASES[0], CASES[3], CASES[5], CASES[11]], ids=lambda c: c.name)
def test_form_agrees_with_solids_united_in_space(case: Case) -> None:
    """No shortcut: the solids themselves united in space, then cut once."""
    pitch_line, crest = case.radii[1:]
    turns = max((turns_in_contact(case.stand, r, 0.04) for r in (pitch_line, crest)), key=len)
    polygons = solid(case.stand, turns, 360)
    for radius in (pitch_line, crest):
        assert _exact(case.cut, radius) == pytest.approx(
            reach(polygons, radius), abs=HALF_MICROMETRE
        )


def test_figures_of_the_design() -> None:
    """Worked out beforehand by an envelope and by a mesh of 720 facets and 281 stands."""
    tooth = Tooth(30.0, 30.0, 1.25 / 8, 0.9)
    internal = single(tooth, 3.0, "internal", 1.25, 1.0)
    assert _exact(internal, M8_RADIUS)[0] == pytest.approx(0.33758, abs=5e-6)
    assert 1.25 / 16 + (4.0 - M8_RADIUS) * np.tan(np.pi / 6) == pytest.approx(0.3125, abs=1e-9)
    minor = 8.0 / 2 - 1.25 * 3**0.5 / 2 * 5 / 8
    tip = 1.25 / 4
    external = single(Tooth(30.0, 30.0, tip, 0.9), 3.0, "external", 1.25, minor + 3.0)
    pitch_radius = 4.0 - 1.25 * 3**0.5 / 2 * 3 / 8
    nominal = tip / 2 + (pitch_radius - minor) * np.tan(np.pi / 6)
    assert _exact(external, pitch_radius)[0] - nominal == pytest.approx(0.00412, abs=5e-6)
