"""The setup at the machine: where zero is, where the tool comes in, which heights are safe."""

from __future__ import annotations

from dataclasses import dataclass
from textwrap import wrap

from flankwise_service.core.drawing.canvas import (
    LETTER,
    MARGIN,
    Box,
    Canvas,
    Spot,
    View,
    fitted,
    length_text,
)
from flankwise_service.core.drawing.part import part_beside, scale_bar
from flankwise_service.core.drawing.scene import Scene, check_scene
from flankwise_service.core.errors import BadInput, Faults
from flankwise_service.core.units import limit_from_mm

WIDTH, HEIGHT = 760.0, 430.0
PICTURE = Box(214.0, 92.0, 196.0, 286.0)
WORDS_AT = 452.0
HELD = 32.0
"""How much of the bar is drawn below the part, for the jaws to hold, in picture units."""
ARROW_TO_X, BEYOND_ARROW = 80.0, 22.0
"""Length of the arrow to X, and of its letter with some air."""
LINE = 34
"""Letters of a line of words, at most."""
CAUTIONS = (
    "Prove the program out in air above the part first.",
    "Guards closed, eye protection on, bar clamped so that it can't turn.",
    "The machine's manual goes before this sketch.",
)


@dataclass(frozen=True, slots=True)
class Heights:
    """Heights of the tool's tip above the face, and which zero they count from."""

    safe_height: float
    clearance_height: float
    work_offset: str = "G54"
    tip_to_tooth: float = 0.0
    tool_number: int = 1


def setup_drawing(scene: Scene, heights: Heights) -> str:
    """Return an SVG of the setup from the side (X right, Z up), to one scale. Errors: `BadInput`.

    `scene.cutter_diameter` draws the tool, waiting at the safe height over the middle.

    >>> boss = Scene("in", "external", 0.872, 0.875, across_flats=1.25, depth=1.05)
    >>> "safe height Z 1.0000 in" in setup_drawing(boss, Heights(1.0, 0.1))
    True
    """
    _check(scene, heights)
    canvas = Canvas("setup", f"Setup at the machine {scene.name}".strip(), WIDTH, HEIGHT)
    canvas.entitle(scene.name or "Setup at the machine", "setup from the side, to one scale")
    wide = max(scene.diameter * 1.25, scene.bar_width or 0.0, scene.cutter_diameter or 0.0)
    low, high = -1.15 * scene.deep, heights.safe_height * 1.45
    centre = scene.centre[0]
    left, right = min(0.0, centre - wide / 2), max(0.0, centre + wide / 2)
    view = _fitted((left, low), (right, high))
    scale = view.scale
    part_beside(canvas, view, scene, HELD / scale)
    _jaws(canvas, view, scene, wide)
    _levels(canvas, view, scene, heights, wide)
    if scene.cutter_diameter is not None:
        _tool(canvas, view, scene.cutter_diameter, centre, heights, high)
    tool_over = (scene.cutter_diameter or 0.0) / 2 >= abs(centre)
    _zero(canvas, view.spot(0.0, 0.0), scale * heights.safe_height if tool_over else HEIGHT)
    _words(canvas, scene, heights)
    scale_bar(canvas, scale, (WORDS_AT, HEIGHT - 18.0), scene.unit)
    return canvas.text()


def _fitted(low: Spot, high: Spot) -> View:
    """Return the view of all that stands there, with room for the arrow to X before the words."""
    view = fitted(PICTURE, low, high)
    beyond = view.spot(0.0, 0.0)[0] + ARROW_TO_X + BEYOND_ARROW - WORDS_AT
    if beyond <= 0:
        return view
    return fitted(PICTURE._replace(width=PICTURE.width - ARROW_TO_X), low, high)


def _check(scene: Scene, heights: Heights) -> None:
    """Refuse heights that make no sense."""
    faults = Faults()
    check_scene(scene, faults)
    greatest = limit_from_mm(2000.0, scene.unit)
    faults.within("/safe_height", heights.safe_height, least=limit_from_mm(0.1, scene.unit),
                  greatest=greatest, name="safe height", unit=scene.unit)  # fmt: skip
    faults.within("/tip_to_tooth", heights.tip_to_tooth, least=0.0, greatest=greatest,
                  name="tip to tooth", unit=scene.unit)  # fmt: skip
    faults.raise_any(BadInput)
    faults.within("/clearance_height", heights.clearance_height, least=0.0,
                  greatest=heights.safe_height, name="clearance height",
                  unit=scene.unit)  # fmt: skip
    faults.raise_any(BadInput)


def _jaws(canvas: Canvas, view: View, scene: Scene, wide: float) -> None:
    """Draw the jaws that hold the bar, below boss or thread."""
    half = (scene.bar_width or wide) / 2
    cx = scene.centre[0]
    top = -scene.deep if scene.side == "external" else -0.75 * scene.deep
    top_y, base_y = view.spot(0, top)[1] + 10.0, view.spot(0, -1.15 * scene.deep)[1] + HELD
    for x, way in ((view.spot(cx - half, 0)[0], -1.0), (view.spot(cx + half, 0)[0], 1.0)):
        left = min(x, x + way * 34.0)
        canvas.add("rect", x=left, y=top_y, width=34.0, height=base_y - top_y, class_="jaw")


def _levels(canvas: Canvas, view: View, scene: Scene, heights: Heights, wide: float) -> None:
    """Draw the heights that rapids keep."""
    right = view.spot(scene.centre[0] + wide / 2, 0)[0] + 20.0
    for name, height in (("safe height", heights.safe_height),
                         ("clearance", heights.clearance_height)):  # fmt: skip
        y = view.spot(0, height)[1]
        canvas.line((MARGIN, y), (right, y), "hidden")
        canvas.write((MARGIN, y - 6), f"{name} Z {length_text(height, scene.unit)}")
        canvas.say(f"{name.capitalize()} Z {length_text(height, scene.unit)}.")


def _tool(
    canvas: Canvas, view: View, diameter: float, centre: float, heights: Heights, high: float
) -> None:
    """Draw the tool waiting at the safe height."""
    half = diameter / 2
    left, tip = view.spot(centre - half, heights.safe_height)
    right, top = view.spot(centre + half, high)
    canvas.add("rect", x=left, y=top, width=right - left, height=tip - top, class_="tool")
    if heights.tip_to_tooth:
        y = view.spot(0, heights.safe_height + heights.tip_to_tooth)[1]
        canvas.line((left, y), (right, y), "lead")
    text = f"tool {heights.tool_number}, length set at the tip"
    middle = min((left + right) / 2, WORDS_AT - 8.0 - LETTER * len(text) / 2)
    canvas.write((middle, top - 8), text, anchor="middle")


def _zero(canvas: Canvas, at: Spot, room: float) -> None:
    """Draw the zero point with its axes: two filled quarters in a circle, arrows to X and Z.

    `room` is what lies free above it: the arrow to Z ends below the tool that waits there.
    """
    x, y = at
    up = min(80.0, max(26.0, room - 8.0))
    canvas.line(at, (x + ARROW_TO_X - 6.0, y), "zero-line")
    canvas.line(at, (x, y - up + 6.0), "zero-line")
    canvas.arrow((x + ARROW_TO_X, y), 0.0, "zero")
    canvas.arrow((x, y - up), -90.0, "zero")
    canvas.write((x + ARROW_TO_X + 4.0, y - 6.0), "X")
    canvas.write((x + 7.0, y - up + 10.0), "Z")
    canvas.circle(at, 9.0, "zero-ring")
    for way in (1, -1):
        end = f"M{x:.2f} {y:.2f}h{9 * way}a9 9 0 0 0 {-9 * way} {-9 * way}z"
        canvas.add("path", d=end, class_="zero")


def _taper(scene: Scene) -> tuple[str, ...]:
    words = scene.size_words
    return (f"{words[0].upper()}{words[1:]}",) if scene.taper else ()


def _words(canvas: Canvas, scene: Scene, heights: Heights) -> None:
    """Write what the operator sets and minds."""
    x, y = scene.centre
    where = "in the middle of boss or hole" if x == y == 0.0 else (
        f"boss or hole at X {length_text(x, scene.unit)}, Y {length_text(y, scene.unit)}"
    )  # fmt: skip
    tooth = length_text(heights.tip_to_tooth, scene.unit)
    lines = [
        f"Work offset {heights.work_offset}", f"X0 Y0: {where}", *_taper(scene),
        "Z0: face where the thread begins", f"Tip to tooth {tooth}", "", *CAUTIONS,
    ]  # fmt: skip
    wrapped = [part for line in lines for part in wrap(line, LINE) or [""]]
    for index, line in enumerate(wrapped):
        canvas.write((WORDS_AT, 92.0 + 22.0 * index), line, "")
    canvas.say(" ".join(line for line in lines if line))
