"""Bar, boss and hole as the drawings share them."""

from __future__ import annotations

import math

from flankwise_service.core.drawing.canvas import Canvas, Spot, View, length_text
from flankwise_service.core.drawing.scene import Scene
from flankwise_service.core.units import Unit

STEPS = (1.0, 2.0, 5.0)


def hexagon_spots(view: View, centre: Spot, across_flats: float) -> list[Spot]:
    """Return the corners of a hexagon with two corners on the level through its middle."""
    radius = across_flats / math.sqrt(3)
    return [
        view.spot(centre[0] + radius * math.cos(a_rad), centre[1] + radius * math.sin(a_rad))
        for a_rad in (math.radians(60.0 * k) for k in range(6))
    ]


def bar_above(canvas: Canvas, view: View, scene: Scene) -> None:
    """Draw the bar, and the boss or hole in it, from above."""
    middle = view.spot(*scene.centre)
    if scene.across_flats is not None:
        canvas.polygon(hexagon_spots(view, scene.centre, scene.across_flats), "bar")
    elif scene.bar_diameter is not None:
        canvas.circle(middle, view.scale * scene.bar_diameter / 2, "bar")
    kind = "part" if scene.side == "external" else "hole"
    radius = view.scale * scene.diameter / 2
    canvas.circle(middle, radius, kind)
    reach = view.scale * max(scene.diameter, scene.bar_width or 0.0) / 2 + 14.0
    canvas.line((middle[0] - reach, middle[1]), (middle[0] + reach, middle[1]), "axis")
    canvas.line((middle[0], middle[1] - reach), (middle[0], middle[1] + reach), "axis")


def part_beside(canvas: Canvas, view: View, scene: Scene, further: float = 0.0) -> None:
    """Draw the part from the side: boss on its shoulder, or the hole cut open.

    `further`: by how much more of the bar is drawn below.
    """
    cx, half = scene.centre[0], scene.diameter / 2
    below = -1.15 * scene.deep - further
    wide = (scene.bar_width or 1.25 * scene.diameter) / 2
    if scene.side == "external":
        _box(canvas, view, (cx - wide, below), (cx + wide, -scene.deep), "bar")
        if scene.across_flats is not None:
            for x in (cx - wide / 2, cx + wide / 2):
                canvas.line(view.spot(x, below), view.spot(x, -scene.deep), "edge")
        _core(canvas, view, scene, "part")
    else:
        wide = max(wide, 1.2 * half)
        _box(canvas, view, (cx - wide, below), (cx + wide, 0.0), "part")
        _core(canvas, view, scene, "hole")
    top, base = view.spot(cx, 0.0), view.spot(cx, below)
    canvas.line((top[0], top[1] - 16.0), (base[0], base[1] + 10.0), "axis")


def _core(canvas: Canvas, view: View, scene: Scene, kind: str) -> None:
    """Draw boss or hole; one that tapers as a cone along the thread, and straight below it."""
    cx, half = scene.centre[0], scene.diameter / 2
    if not scene.taper:
        _box(canvas, view, (cx - half, -scene.deep), (cx + half, 0.0), kind)
        return
    far = scene.far_diameter / 2
    edge = [(half, 0.0), (far, -scene.length), (far, -scene.deep)]
    right = [view.spot(cx + x, z) for x, z in edge]
    left = [view.spot(cx - x, z) for x, z in reversed(edge)]
    canvas.polygon([*right, *left], kind)


def _box(canvas: Canvas, view: View, low: Spot, high: Spot, kind: str) -> None:
    """Draw a rectangle given by its model corners."""
    left, base = view.spot(*low)
    right, top = view.spot(*high)
    canvas.add("rect", x=left, y=top, width=right - left, height=base - top, class_=kind)


def round_length(longest: float) -> float:
    """Return the greatest of 1, 2, 5 times a power of ten not above `longest`.

    >>> round_length(0.37), round_length(60.0)
    (0.2, 50.0)
    """
    power = 10.0 ** math.floor(math.log10(longest))
    return max((step * power for step in STEPS if step * power <= longest), default=power)


def scale_bar(canvas: Canvas, scale: float, at: Spot, unit: Unit) -> None:
    """Draw a bar of round length that tells the scale."""
    length = round_length(130.0 / scale)
    right = at[0] + scale * length
    canvas.line(at, (right, at[1]), "line")
    for x in (at[0], right):
        canvas.line((x, at[1] - 4), (x, at[1] + 4), "line")
    canvas.write((right + 10, at[1] + 4), f"{length:g} {unit}", "")
    canvas.say(f"A bar of {length_text(length, unit)} shows the scale.")
