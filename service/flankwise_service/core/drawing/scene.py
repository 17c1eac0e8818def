"""What stands in the machine while the path runs: the part and the cutter, for the drawings."""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.errors import BadInput, Faults
from flankwise_service.core.threads.model import Side
from flankwise_service.core.units import UNITS, Unit, from_mm

LEAST_MM, GREATEST_MM = 0.05, 2000.0


@dataclass(frozen=True, slots=True)
class Scene:
    """Part and cutter. Lengths in `unit`; Z 0 is the face where the thread begins."""

    unit: Unit
    side: Side
    diameter: float
    """Of the boss or hole before the thread is cut."""
    length: float
    """Of the thread."""
    cutter_diameter: float | None = None
    across_flats: float | None = None
    """Of the hexagon; None draws a round bar where `bar_diameter` is given."""
    bar_diameter: float | None = None
    depth: float | None = None
    """Of the boss down to its shoulder, or of the hole; None: as long as the thread."""
    centre: tuple[float, float] = (0.0, 0.0)
    name: str = ""
    """Title of the drawing, such as the designation."""

    @property
    def deep(self) -> float:
        """Depth of boss or hole."""
        return self.length if self.depth is None else self.depth

    @property
    def bar_width(self) -> float | None:
        """Widest size of the bar: across corners, or its diameter.

        >>> round(Scene("in", "external", 0.872, 0.875, across_flats=1.25).bar_width or 0, 4)
        1.4434
        """
        if self.across_flats is not None:
            return self.across_flats * 2 / 3**0.5
        return self.bar_diameter


def check_scene(scene: Scene, faults: Faults) -> None:
    """Note the faults of a scene; raise at once when its unit isn't one."""
    faults.need(scene.unit in UNITS, "/unit", "unknown_choice", f"unit {scene.unit!r} isn't known",
                "give in or mm", scene.unit)  # fmt: skip
    faults.raise_any(BadInput)
    least, greatest = from_mm(LEAST_MM, scene.unit), from_mm(GREATEST_MM, scene.unit)
    for name in ("diameter", "length", "cutter_diameter", "across_flats", "bar_diameter", "depth"):
        value = getattr(scene, name)
        if value is not None:
            faults.within(f"/{name}", value, least=least, greatest=greatest,
                          name=name.replace("_", " "), unit=scene.unit)  # fmt: skip
    for axis in (0, 1):
        faults.within(f"/centre/{axis}", scene.centre[axis], least=-greatest, greatest=greatest,
                      name="centre", unit=scene.unit)  # fmt: skip
