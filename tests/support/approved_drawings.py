"""Drawings that were looked at and found right, kept as they were then.

    PYTHONPATH=service:sdk:tests python -m support.approved_drawings

writes them anew after a change that is meant. Look at every one that changes before committing.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.drawing.hexagon_views import hexagon_drawing
from flankwise_service.core.drawing.path_views import path_drawing
from flankwise_service.core.drawing.scene import Scene
from flankwise_service.core.drawing.section import EdgePoint, section_drawing
from flankwise_service.core.drawing.setup_sketch import Heights, setup_drawing
from flankwise_service.core.form.envelope import edges
from flankwise_service.core.form.model import Cut, single
from flankwise_service.core.path.request import RadialPass
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.model import Side, StatedLimits
from flankwise_service.core.units import Unit
from support.path_jobs import EXTERNAL, INTERNAL
from support.program_jobs import arc, hole, line

FOLDER = Path(__file__).parents[1] / "core" / "drawing" / "approved"

BOSS = Scene("in", "external", 0.872, 0.875, 0.37, across_flats=1.25, depth=1.05, name="boss")
PORT = Scene("mm", "internal", 18.5, 20.0, 12.0, bar_diameter=40.0, depth=26.0)
AWAY = replace(PORT, centre=(-7.0, 12.0), depth=None, cutter_diameter=None, name="away from zero")
TAPER = Scene("in", "internal", 0.7245, 0.6, 0.4, bar_diameter=1.25, taper=0.0625, name="1:16")
STUD = Scene("mm", "external", 19.9, 15.0, 6.0, bar_diameter=26.0, taper=0.0625, depth=17.0)


def _stated(designation: str, unit: Unit, side: Side | None = None) -> StatedLimits:
    return limits_in(limits(designation, side=side), unit)


def _cut(form: Cut, low: float, high: float, count: int = 13) -> list[EdgePoint]:
    """Return the groove that a tooth really cuts, between two radii."""
    radii = np.linspace(low, high, count)
    upper, lower = edges(form, radii)
    return [
        EdgePoint(float(r), -float(below), float(above))
        for r, above, below in zip(radii, upper, lower, strict=True)
        if math.isfinite(above)
    ]


def _port_section() -> str:
    tooth = Tooth(30.0, 30.0, 0.12, 1.0)
    form = single(tooth, 6.0, "internal", 1.5, 4.05)
    return section_drawing(_stated("M20x1.5-6H", "mm"), _cut(form, 9.25, 10.03), 19.12)


def _boss_section() -> str:
    tooth = Tooth(30.0, 30.0, 0.009, 0.06)
    form = single(tooth, 0.25, "external", 1 / 14, 0.645)
    return section_drawing(_stated("7/8-14 UNF-2A", "in"), _cut(form, 0.396, 0.436), 0.8265)


DRAWINGS: dict[str, Callable[[], str]] = {
    "section-external-inch": _boss_section,
    "section-internal-metric": _port_section,
    "section-limits-only": lambda: section_drawing(_stated("1/4-20 UNC-3A", "mm")),
    "section-acme-internal": lambda: section_drawing(_stated("1-5 ACME-2G", "in", "internal")),
    "section-buttress": lambda: section_drawing(_stated("2-8 BUTT-2A", "in", "external")),
    "hexagon-boss": lambda: hexagon_drawing(BOSS, 0.8736),
    "hexagon-port": lambda: hexagon_drawing(
        replace(PORT, bar_diameter=None, across_flats=27.0), 20.0
    ),
    "hexagon-bare": lambda: hexagon_drawing(replace(BOSS, name="", unit="mm", diameter=0.6)),
    "hexagon-thin": lambda: hexagon_drawing(
        Scene("mm", "external", 1.2, 3.0, across_flats=27.0, depth=4.0), 1.2
    ),
    "path-internal": lambda: path_drawing(PORT, hole()),
    "path-external-left": lambda: path_drawing(
        replace(STUD, taper=0.0, diameter=20.0, name="left hand"),
        list(thread_path(replace(EXTERNAL, hand="left", length=3.0))),
    ),
    "path-large": lambda: path_drawing(
        Scene("mm", "internal", 370.0, 400.0, 240.0, bar_diameter=800.0, depth=520.0),
        [line((0, 0, 20), (0, 0, -30)), line((0, 0, -30), (80, 0, -30)), arc((80, 0, -30), (0, 0), 360, 30)],
    ),
    "path-passes": lambda: path_drawing(
        replace(AWAY, diameter=6.65, length=4.0, bar_diameter=14.0, cutter_diameter=6.0),
        list(
            thread_path(
                replace(
                    INTERNAL, centre=(-7.0, 12.0), length=4.0,
                    passes=(RadialPass(0.4, 120.0), RadialPass(0.8, 120.0), RadialPass(1.0, 120.0)),
                )
            )
        ),
    ),
    "path-blank-and-rapid": lambda: path_drawing(
        replace(STUD, taper=0.0),
        [
            line((30, 0, 5), (30, 0, -1), None),
            arc((30, 0, -1), (0, 0), 200, -3, "clockwise")._replace(purpose="boss"),
            line((-28.19, 10.26, -4), (-28.19, 10.26, 5), None),
        ],
    ),
    "setup-boss": lambda: setup_drawing(BOSS, Heights(1.0, 0.1, "G55", 0.03, 7)),
    "setup-low": lambda: setup_drawing(BOSS, Heights(0.25, 0.1)),
    "setup-port": lambda: setup_drawing(PORT, Heights(25.0, 2.0, tip_to_tooth=1.0)),
    "setup-away": lambda: setup_drawing(replace(AWAY, centre=(-60.0, 12.0)), Heights(30.0, 5.0, "G54.1", 0.0, 12)),
    "setup-taper-hole": lambda: setup_drawing(TAPER, Heights(1.0, 0.1)),
    "setup-taper-stud": lambda: setup_drawing(replace(STUD, centre=(45.0, 0.0)), Heights(20.0, 3.0, "G56", 0.4, 2)),
}  # fmt: skip


def main() -> None:
    """Write every drawing that isn't as approved, and name it."""
    FOLDER.mkdir(exist_ok=True)
    for name, drawn in DRAWINGS.items():
        file, text = FOLDER / f"{name}.svg", drawn()
        if not file.exists() or file.read_text("utf-8") != text:
            file.write_text(text, "utf-8")
            print(f"written: {file.name}; look at it")


if __name__ == "__main__":
    main()
