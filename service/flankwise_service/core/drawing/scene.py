"""What stands in the machine while the path runs: the part and the cutter, for the drawings."""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.drawing.canvas import length_text
from flankwise_service.core.errors import BadInput, Faults
from flankwise_service.core.threads.model import Side
from flankwise_service.core.units import UNITS, Unit, limit_from_mm

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

    taper: float = 0.0
    """Change of diameter for one unit of length, over the thread: a boss grows below the face, a
    hole narrows. `diameter` holds at the face."""

    @property
    def far_diameter(self) -> float:
        """Diameter of the boss or hole at the end of the thread.

        >>> Scene("in", "internal", 0.7245, 0.6, taper=0.0625).far_diameter
        0.687
        """
        way = 1.0 if self.side == "external" else -1.0
        return self.diameter + way * self.taper * self.length

    @property
    def size_words(self) -> str:
        """The boss or hole with its size, in words, and where it holds if it tapers.

        >>> Scene("in", "internal", 0.7245, 0.6, taper=0.0625).size_words
        'hole 0.7245 in at the face, bored 1:16'
        """
        what, made = ("boss", "turned") if self.side == "external" else ("hole", "bored")
        size = length_text(self.diameter, self.unit)
        if self.taper:
            return f"{what} {size} at the face, {made} 1:{1 / self.taper:g}"
        return f"{what} diameter {size}"

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
    least, greatest = (limit_from_mm(one, scene.unit) for one in (LEAST_MM, GREATEST_MM))
    for name in ("diameter", "length", "cutter_diameter", "across_flats", "bar_diameter", "depth"):
        value = getattr(scene, name)
        if value is not None:
            faults.within(f"/{name}", value, least=least, greatest=greatest,
                          name=name.replace("_", " "), unit=scene.unit)  # fmt: skip
    for axis in (0, 1):
        faults.within(f"/centre/{axis}", scene.centre[axis], least=-greatest, greatest=greatest,
                      name="centre", unit=scene.unit)  # fmt: skip
