"""The hexagon bar with its boss or hole: plan and elevation, to one scale, dimensioned."""

from __future__ import annotations

import math
from dataclasses import replace

from flankwise_service.core.drawing.canvas import LETTER, Box, Canvas, View, length_text
from flankwise_service.core.drawing.part import bar_above, part_beside, scale_bar
from flankwise_service.core.drawing.scene import Scene, check_scene
from flankwise_service.core.errors import BadInput, Faults, plain

WIDTH, HEIGHT = 760.0, 430.0
PLAN = Box(40.0, 92.0, 260.0, 240.0)
ELEVATION = Box(420.0, 92.0, 230.0, 240.0)


def hexagon_drawing(scene: Scene, thread_diameter: float | None = None) -> str:
    """Return an SVG of the hexagon bar from above and from the side, two corners level.

    `scene.across_flats` is needed. `thread_diameter` draws the thread's thin lines: the minor
    diameter of an external, the major diameter of an internal thread. Told besides: across
    corners, and how far the corners stand out beyond boss or hole. Errors: `BadInput`.

    >>> boss = Scene("in", "external", 0.872, 0.875, across_flats=1.25, depth=1.05)
    >>> "across corners 1.4434 in" in hexagon_drawing(boss)
    True
    """
    _check(scene, thread_diameter)
    flats = scene.across_flats or 0.0
    corners = flats * 2 / math.sqrt(3)
    canvas = Canvas("hexagon", f"Hexagon bar {scene.name}".strip(), WIDTH, HEIGHT)
    words = f"hexagon bar, {length_text(flats, scene.unit)} across flats"
    canvas.entitle(scene.name or "Hexagon bar", f"{words}, to one scale")
    canvas.say(f"From above and from the side: {words}, "
               f"{length_text(corners, scene.unit)} across corners.")  # fmt: skip
    tall = 1.15 * scene.deep
    scale = min(PLAN.width / corners, ELEVATION.width / corners, ELEVATION.height / tall)
    plan = View(scale, PLAN.left + PLAN.width / 2, PLAN.top + PLAN.height / 2)
    middle = ELEVATION.top + ELEVATION.height / 2
    beside = View(scale, ELEVATION.left + ELEVATION.width / 2, middle - scale * tall / 2)
    at_zero = replace(scene, centre=(0.0, 0.0))
    bar_above(canvas, plan, at_zero)
    part_beside(canvas, beside, at_zero)
    if thread_diameter is not None:
        _thread_lines(canvas, plan, beside, scene, thread_diameter)
    _plan_sizes(canvas, plan, scene, flats, corners)
    _elevation_sizes(canvas, beside, scene, corners)
    scale_bar(canvas, scale, (ELEVATION.left, HEIGHT - 18.0), scene.unit)
    return canvas.text()


def _check(scene: Scene, thread_diameter: float | None) -> None:
    """Refuse what makes no hexagon part."""
    faults = Faults()
    check_scene(scene, faults)
    faults.need(
        scene.across_flats is not None, "/across_flats", "missing",
        "a hexagon is drawn from its across flats", "give across flats",
    )  # fmt: skip
    if thread_diameter is not None:
        faults.within("/thread_diameter", thread_diameter, least=scene.diameter / 2,
                      greatest=2 * scene.diameter, name="thread diameter")  # fmt: skip
    faults.raise_any(BadInput)
    flats = scene.across_flats or 0.0
    faults.need(
        scene.diameter <= flats, "/diameter", "wider_than_flats",
        f"a diameter of {plain(scene.diameter)} is more than the {plain(flats)} across flats",
        "take a larger bar", scene.diameter,
    )  # fmt: skip
    faults.need(
        scene.length <= scene.deep, "/length", "thread_longer_than_depth",
        f"a thread {plain(scene.length)} long doesn't fit a depth of {plain(scene.deep)}",
        "make boss or hole deeper, or the thread shorter", scene.length,
    )  # fmt: skip
    faults.raise_any(BadInput)


def _thread_lines(
    canvas: Canvas, plan: View, beside: View, scene: Scene, thread_diameter: float
) -> None:
    """Draw the thread as a drawing shows it: thin lines, and three quarters of a thin circle."""
    radius = plan.scale * thread_diameter / 2
    x, y = plan.spot(0.0, 0.0)
    path = f"M{x + radius:.2f} {y:.2f}A{radius:.2f} {radius:.2f} 0 1 1 {x:.2f} {y - radius:.2f}"
    canvas.add("path", d=path, class_="edge")
    for side in (-0.5, 0.5):
        top, base = (beside.spot(side * thread_diameter, z) for z in (0.0, -scene.length))
        canvas.line(top, base, "edge")
    half = max(thread_diameter, scene.diameter) / 2
    canvas.line(beside.spot(-half, -scene.length), beside.spot(half, -scene.length), "edge")


def _plan_sizes(canvas: Canvas, view: View, scene: Scene, flats: float, corners: float) -> None:
    """Dimension the plan."""
    unit = scene.unit
    (left, level), (right, _) = view.spot(-corners / 2, 0.0), view.spot(corners / 2, 0.0)
    top, base = view.spot(0.0, flats / 2)[1], view.spot(0.0, -flats / 2)[1]
    lowest = canvas.across(left, right, base + 44.0, f"across corners {length_text(corners, unit)}",
                           (level, level))  # fmt: skip
    (a, _), (b, _) = view.spot(-scene.diameter / 2, 0.0), view.spot(scene.diameter / 2, 0.0)
    text = scene.size_words
    canvas.across(a, b, top - 30.0, text, (level, level))
    side = view.spot(corners / 4, 0.0)[0]
    at = max(right + 40.0, view.left + LETTER * len(text) / 2)  # clear of the label above
    canvas.upright(top, base, at, f"across flats {length_text(flats, unit)}",
                   (side, side))  # fmt: skip
    if scene.side == "external":
        out = length_text((corners - scene.diameter) / 2, unit)
        said = f"corners stand out {out} beyond the boss"
    else:
        wall = length_text((flats - scene.diameter) / 2, unit)
        said = f"wall from hole to flat {wall}"
    canvas.write((view.left, max(base + 68.0, lowest + 20.0)), said, "small", "middle")
    canvas.say(f"{text[0].upper()}{text[1:]}; {said}.")


def _elevation_sizes(canvas: Canvas, view: View, scene: Scene, corners: float) -> None:
    """Dimension the elevation."""
    unit = scene.unit
    half = scene.diameter / 2 if scene.side == "external" else corners / 2
    edge, face = view.spot(half, 0.0)
    wide = view.spot(corners / 2, 0.0)[0]
    end, floor = view.spot(0.0, -scene.length)[1], view.spot(0.0, -scene.deep)[1]
    thread = f"thread {length_text(scene.length, unit)}"
    canvas.upright(face, end, wide + 36.0, thread, (edge, edge), ahead=True)
    depth = f"depth {length_text(scene.deep, unit)}"
    canvas.upright(face, floor, wide + 72.0, depth, (edge, wide))
    canvas.say(f"{thread[0].upper()}{thread[1:]} long; {depth} from the face.")
