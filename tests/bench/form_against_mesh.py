"""The form of one thread, 200 radii: closed form against a mesh kernel, in one run.

    python tests/bench/form_against_mesh.py [file.json]

Both work out the same section of an internal M8 x 1.25 cut by a cutter of 6 mm. The mesh kernel
(manifold3d) gets every help: solids made once outside the clock, only stands that touch, each cut
by the half plane and the cuts united, which is much faster than uniting the solids in space.
Accuracy is told against a third way, a plain search sampled to 1e-12. Prints a table, writes JSON;
status 1 when the ratio falls under 1000, the closed form is less exact, or cost isn't linear.
"""

from __future__ import annotations

import json
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "service"), str(ROOT / "sdk"), str(ROOT / "tests")]

import manifold3d  # noqa: E402
import numpy as np  # noqa: E402

from flankwise_service.core.cutting.cutter import Tooth  # noqa: E402
from flankwise_service.core.form.correction import radius_correction  # noqa: E402
from flankwise_service.core.form.envelope import edges  # noqa: E402
from flankwise_service.core.form.model import Cut, Pass, single  # noqa: E402
from flankwise_service.core.form.section import section  # noqa: E402
from support.form_search import reach as searched  # noqa: E402
from support.mesh_section import (  # noqa: E402
    Stand,
    reach,
    standing,
    tooth_solid,
    turns_in_contact,
)

TOOTH = Tooth(30.0, 30.0, 1.25 / 8, 0.75)
CUT = single(TOOTH, 3.0, "internal", 1.25, 1.0)
STAND = Stand(3.0, 1.0, 1.25, 30.0, 30.0, 1.25 / 8, 0.75)
RADII = np.linspace(3.35, 3.95, 200)
LEAST_RATIO = 1000.0


def median_seconds(work: Callable[[], object], rounds: int) -> float:
    times = []
    for _ in range(rounds):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return statistics.median(times)


def mesh_section(tooth: manifold3d.Manifold, turns: np.ndarray) -> np.ndarray:
    cuts = [solid.slice(0.0) for solid in standing(tooth, STAND, turns)]
    whole = manifold3d.CrossSection.batch_boolean(cuts, manifold3d.OpType.Add)
    polygons = [np.asarray(p) for p in whole.to_polygons()]
    return np.array([reach(polygons, r) for r in RADII]).T


def against_mesh() -> dict[str, float]:
    turns = turns_in_contact(STAND, float(RADII[0]), 0.005)
    tooth = tooth_solid(STAND, 720)
    mesh = mesh_section(tooth, turns)
    exact = edges(CUT, RADII)
    true = np.array([[searched(CUT, row, float(r)) for r in RADII] for row in (0, 1)])
    by_mesh = median_seconds(lambda: mesh_section(tooth, turns), 3)
    by_form = median_seconds(lambda: edges(CUT, RADII), 400)
    return {
        "radii": len(RADII),
        "stands": len(turns),
        "mesh_seconds": by_mesh,
        "form_seconds": by_form,
        "ratio": by_mesh / by_form,
        "mesh_error_mm": float(np.abs(mesh - true).max()),
        "form_error_mm": float(np.abs(exact - true).max()),
    }


def least_cpu_seconds(work: Callable[[], object], rounds: int) -> float:
    """Return the least processor time: growth is to be told apart from a busy machine."""
    times = []
    for _ in range(rounds):
        begin = time.process_time()
        work()
        times.append(time.process_time() - begin)
    return min(times)


def growth(sizes: list[int], work: Callable[[int], Callable[[], object]]) -> list[dict[str, float]]:
    return [{"size": n, "seconds": least_cpu_seconds(work(n), 40)} for n in sizes]


def by_points(n: int) -> Callable[[], object]:
    radii = np.linspace(3.35, 3.999, n)
    return lambda: edges(CUT, radii)


def by_passes(n: int) -> Callable[[], object]:
    passes = tuple(Pass(float(c)) for c in np.linspace(0.5, 1.0, n))
    cut = Cut(TOOTH, 3.0, "internal", 1.25, passes)
    return lambda: edges(cut, RADII)


def slope(rows: list[dict[str, float]]) -> float:
    """Return the exponent by which seconds grow with size over the last doublings; 1 is linear."""
    first, last = rows[-3], rows[-1]
    return float(np.log(last["seconds"] / first["seconds"]) / np.log(last["size"] / first["size"]))


def main() -> int:
    found: dict[str, object] = {"against_mesh": against_mesh()}
    points = growth([1000, 4000, 16_000, 64_000, 256_000], by_points)
    passes = growth([1, 10, 100, 400, 1600], by_passes)
    found |= {
        "by_points": points,
        "by_passes": passes,
        "points_exponent": slope(points),
        "passes_exponent": slope(passes),
        "section_200_seconds": median_seconds(lambda: section(CUT, 3.375), 200),
        "correction_seconds": median_seconds(lambda: radius_correction(CUT, 7.268), 200),
    }
    one = against_mesh_row = found["against_mesh"]
    assert isinstance(against_mesh_row, dict)
    print(f"{'':24}{'mesh kernel':>16}{'closed form':>16}")
    print(f"{'seconds, 200 radii':24}{one['mesh_seconds']:16.4f}{one['form_seconds']:16.7f}")
    print(f"{'worst error, mm':24}{one['mesh_error_mm']:16.2e}{one['form_error_mm']:16.2e}")
    print(f"ratio {one['ratio']:.0f} (at least {LEAST_RATIO:.0f} wanted), {one['stands']} stands")
    for name, rows in (("points", points), ("passes", passes)):
        told = ", ".join(f"{r['size']:.0f}: {1e3 * r['seconds']:.3f} ms" for r in rows)
        print(f"cost by {name}: {told}; exponent {found[name + '_exponent']:.2f}")
    print(f"section measured: {1e3 * float(found['section_200_seconds']):.3f} ms")  # type: ignore[arg-type]
    print(f"radius correction: {1e3 * float(found['correction_seconds']):.3f} ms")  # type: ignore[arg-type]
    if len(sys.argv) > 1:
        Path(sys.argv[1]).write_text(json.dumps(found, indent=2) + "\n")
    linear = all(float(found[f"{name}_exponent"]) < 1.25 for name in ("points", "passes"))  # type: ignore[arg-type]
    exact = one["form_error_mm"] <= one["mesh_error_mm"]
    return 0 if one["ratio"] >= LEAST_RATIO and exact and linear else 1


if __name__ == "__main__":
    sys.exit(main())
