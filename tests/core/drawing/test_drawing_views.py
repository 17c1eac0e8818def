"""Path, hexagon and setup: to scale, whole, and refused where they can't be drawn."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.drawing.canvas import LETTER, MARGIN
from flankwise_service.core.drawing.hexagon_views import hexagon_drawing
from flankwise_service.core.drawing.path_views import MOST_PLACES, MOST_SEGMENTS, path_drawing
from flankwise_service.core.drawing.scene import Scene
from flankwise_service.core.drawing.setup_sketch import CAUTIONS, WORDS_AT, Heights, setup_drawing
from flankwise_service.core.errors import BadInput
from flankwise_service.core.path.segment import Point, Segment
from support.program_jobs import arc, hole, line
from support.svg import SVG, Spot, extent, of_class, parsed, places, words

BOSS = Scene("in", "external", 0.872, 0.875, 0.37, across_flats=1.25, depth=1.05, name="boss")
PORT = Scene("mm", "internal", 18.5, 20.0, 12.0, bar_diameter=40.0, depth=26.0)
HEIGHTS = Heights(1.0, 0.1, "G55", 0.03, 7)

lengths = st.floats(0.5, 70.0)
scenes = st.builds(
    Scene,
    st.sampled_from(["in", "mm"]),
    st.sampled_from(["external", "internal"]),
    lengths,
    lengths,
    st.none() | lengths,
    bar_diameter=st.none() | lengths,
    centre=st.tuples(st.floats(-70, 70), st.floats(-70, 70)),
    name=st.sampled_from(["", "M20x1.5-6H", "<b>&\"'"]),
)


def pointers(made: Any, *arguments: Any) -> list[str]:
    with pytest.raises(BadInput) as refused:
        made(*arguments)
    return [fault.pointer for fault in refused.value.faults]


# ---- the path


def test_the_path_is_drawn_to_the_scale_of_its_part() -> None:
    root = parsed(path_drawing(PORT, hole()))
    bar, hole_drawn = of_class(root, "bar", "circle")[0], of_class(root, "hole", "circle")[0]
    scale = float(bar.get("r") or 0) / 20.0
    assert float(hole_drawn.get("r") or 0) / scale == pytest.approx(9.25, rel=1e-3)
    tool = of_class(root, "tool", "circle")[0]
    assert float(tool.get("r") or 0) / scale == pytest.approx(6.0, rel=1e-3)
    above, beside = (places(node) for node in of_class(root, "cut", "polyline"))
    assert extent(above)[0] / scale == pytest.approx(8.0, rel=5e-3)
    assert extent(above)[1] / scale == pytest.approx(8.0, rel=5e-3)
    cuts = [segment for segment in hole() if segment.purpose == "thread"]
    rise = cuts[-1].end.z - cuts[0].begin.z
    assert extent(beside)[1] / scale == pytest.approx(rise, rel=1e-2)
    middle = (float(bar.get("cx") or 0), float(bar.get("cy") or 0))
    for spot in above:
        assert math.dist(spot, middle) / scale == pytest.approx(4.0, abs=0.02)
    assert "centre path diameter 8.000 mm" in words(root)
    assert "hole diameter 18.500 mm" in words(root)
    assert "thread 20.000 mm" in words(root)
    assert "segments" in (root.findtext(f"{SVG}desc") or "")


def test_kinds_of_path_are_told_apart_and_named() -> None:
    path = [
        line((30, 0, 5), (30, 0, -1), None), arc((30, 0, -1), (0, 0), 360, 0, "clockwise")._replace(purpose="boss"),
        line((30, 0, -1), (30, 0, 5), None), *hole(),
    ]  # fmt: skip
    root = parsed(path_drawing(replace(PORT, side="external"), path))
    for kind, name in (("boss", "blank to size"), ("cut", "thread"), ("rapid", "rapid"),
                       ("lead", "lead-in")):  # fmt: skip
        assert of_class(root, kind, "polyline")
        assert name in words(root)
    assert "boss diameter" in words(root)
    plain = parsed(path_drawing(replace(PORT, cutter_diameter=None), [line((0, 0, 1), (5, 0, 1))]))
    assert not of_class(plain, "tool", "circle")
    assert "cutter\n" not in words(plain) + "\n"
    assert "centre path" not in words(plain)


def test_a_path_without_thread_arcs_shows_the_cutter_at_its_begin() -> None:
    root = parsed(path_drawing(PORT, [line((0, 0, 1), (5, 0, 1))]))
    assert of_class(root, "tool", "circle")


def test_sense_of_arcs_is_kept() -> None:
    quarter = arc((9, 0, 0), (0, 0), 90)
    tops = []
    for segment in (quarter, arc((9, 0, 0), (0, 0), 90, 0, "clockwise")):
        above = places(of_class(parsed(path_drawing(PORT, [segment])), "cut", "polyline")[0])
        tops.append(above[-1][1] - above[0][1])
    assert tops[0] == pytest.approx(-tops[1])
    assert tops[0] < 0  # counter-clockwise goes up on the page


def test_long_paths_are_thinned_for_the_eye() -> None:
    turns = [arc((9, 0, 0.001 * k), (0, 0), 360, 0.001) for k in range(3000)]
    text = path_drawing(PORT, turns)
    root = parsed(text)
    for node in of_class(root, "cut", "polyline"):
        assert len(places(node)) <= 2 * MOST_PLACES + 2
    assert len(text) < 600_000
    many = [line((k % 7, 0, 1), ((k + 1) % 7, 0, 1)) for k in range(3 * MOST_PLACES)]
    drawn = of_class(parsed(path_drawing(PORT, many)), "rapid", "polyline")
    assert all(len(places(node)) <= 2 * MOST_PLACES for node in drawn)


@pytest.mark.parametrize(
    "segment",
    [
        arc((9, 0, 0), (0, 0), 90)._replace(centre=None),
        arc((9, 0, 0), (0, 0), 90)._replace(sense=None),
        arc((9, 0, 0), (0, 0), 90)._replace(sweep=0.0),
        arc((9, 0, 0), (0, 0), 90)._replace(sweep=math.inf),
        arc((9, 0, 0), (0, 0), 90)._replace(centre=(0.0, math.nan)),
        line((0, 0, 0), (math.nan, 0, 0)), line((0, 0, -1e9), (0, 0, 0)),
    ],
)  # fmt: skip
def test_paths_that_cannot_be_drawn(segment: Any) -> None:
    assert pointers(path_drawing, PORT, [line((0, 0, 0), (1, 0, 0)), segment]) == ["/segments/1"]


def test_paths_too_short_or_too_long() -> None:
    assert pointers(path_drawing, PORT, []) == ["/segments"]
    few = [line((0, 0, 0), (1, 0, 0))]
    assert pointers(path_drawing, PORT, few * (MOST_SEGMENTS + 1)) == ["/segments"]


@given(scenes, st.floats(0.2, 5.0))
@settings(deadline=None, max_examples=60)
def test_any_path_drawing_is_whole(scene: Scene, ratio: float) -> None:
    radius = scene.diameter / 2 * ratio
    x, y = scene.centre
    path = [arc((x + radius, y, 0.0), (x, y), 360, -scene.length)]
    parsed(path_drawing(scene, path))


# ---- the hexagon


def test_the_hexagon_has_its_flats_and_corners_to_scale() -> None:
    root = parsed(hexagon_drawing(BOSS, 0.79))
    corners = places(of_class(root, "bar", "polygon")[0])
    wide, tall = extent(corners)
    assert wide / tall == pytest.approx(2 / math.sqrt(3), rel=1e-3)
    boss = of_class(root, "part", "circle")[0]
    assert 2 * float(boss.get("r") or 0) / tall == pytest.approx(0.872 / 1.25, rel=1e-3)
    block, stub = of_class(root, "bar", "rect")[0], of_class(root, "part", "rect")[0]
    scale = tall / 1.25
    assert float(block.get("width") or 0) == pytest.approx(wide, abs=0.05)
    assert float(stub.get("width") or 0) / scale == pytest.approx(0.872, rel=1e-3)
    assert float(stub.get("height") or 0) / scale == pytest.approx(1.05, rel=1e-3)
    shown = words(root)
    for text in ("across flats 1.2500 in", "across corners 1.4434 in", "boss diameter 0.8720 in",
                 "thread 0.8750 in", "depth 1.0500 in", "corners stand out 0.2857 in"):  # fmt: skip
        assert text in shown
    assert "1.4434 in across corners" in (root.findtext(f"{SVG}desc") or "")


def test_a_hole_shows_its_wall() -> None:
    scene = replace(PORT, across_flats=36.0, bar_diameter=None)
    root = parsed(hexagon_drawing(scene, 20.0))
    assert "wall from hole to flat 8.750 mm" in words(root)
    assert of_class(root, "hole", "rect")
    assert len(of_class(root, "edge", "path")) == 1
    assert not of_class(parsed(hexagon_drawing(scene)), "edge", "path")


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"across_flats": None}, "/across_flats"), ({"across_flats": 0.8}, "/diameter"),
        ({"length": 1.06}, "/length"), ({"diameter": math.nan}, "/diameter"),
        ({"unit": "ft"}, "/unit"), ({"depth": -1.0}, "/depth"), ({"length": 1e308}, "/length"),
        ({"centre": (math.inf, 0.0)}, "/centre/0"), ({"cutter_diameter": 0.0}, "/cutter_diameter"),
        ({"bar_diameter": 1e-320}, "/bar_diameter"),
    ],
)  # fmt: skip
def test_scenes_that_make_no_part(changes: dict[str, Any], pointer: str) -> None:
    assert pointers(hexagon_drawing, replace(BOSS, **changes)) == [pointer]


def test_a_thread_line_far_from_its_thread_is_refused() -> None:
    assert pointers(hexagon_drawing, BOSS, 2.0) == ["/thread_diameter"]


@given(st.floats(0.5, 300.0), st.floats(0.1, 1.0), st.floats(0.05, 6.0), st.floats(0.1, 1.0),
       st.sampled_from(["external", "internal"]))  # fmt: skip
@settings(deadline=None, max_examples=60)
def test_any_hexagon_drawing_is_whole(
    flats: float, share: float, depth: float, part: float, side: Any
) -> None:
    scene = Scene("mm", side, max(0.05, flats * share), max(0.05, part * depth * flats),
                  across_flats=flats, depth=max(0.05, depth * flats))  # fmt: skip
    parsed(hexagon_drawing(scene, scene.diameter * 0.9))


# ---- the setup


def test_the_setup_shows_zero_heights_and_cautions() -> None:
    root = parsed(setup_drawing(BOSS, HEIGHTS))
    shown = words(root).replace("\n", " ")
    for text in ("Work offset G55", "safe height Z 1.0000 in", "clearance Z 0.1000 in",
                 "tool 7, length set at the tip", "Tip to tooth 0.0300 in",
                 "X0 Y0: in the middle of boss or hole", *CAUTIONS):  # fmt: skip
        assert text in shown
    safe, clearance = (places(node)[0][1] for node in of_class(root, "hidden", "line"))
    boss = of_class(root, "part", "rect")[0]
    scale = float(boss.get("width") or 0) / 0.872
    face = float(boss.get("y") or 0)
    assert (face - safe) / scale == pytest.approx(1.0, rel=1e-3)
    assert (face - clearance) / scale == pytest.approx(0.1, rel=1e-2)
    tool = of_class(root, "tool", "rect")[0]
    assert places(tool)[1][1] == pytest.approx(safe, abs=0.02)
    assert float(tool.get("width") or 0) / scale == pytest.approx(0.37, rel=1e-3)


@pytest.mark.parametrize(
    ("scene", "heights", "below"), [(BOSS, HEIGHTS, 1.05), (PORT, Heights(25.0, 5.0), 0.75 * 26.0)]
)
def test_the_jaws_hold_the_bar_below_boss_or_beside_hole(
    scene: Scene, heights: Heights, below: float
) -> None:
    """10 picture units under the shoulder, or three quarters down a hole; their insides on the bar,
    which reaches as far down as they do.
    """
    root = parsed(setup_drawing(scene, heights))
    safe, clearance = (places(node)[0][1] for node in of_class(root, "hidden", "line"))
    scale = (clearance - safe) / (heights.safe_height - heights.clearance_height)
    face = safe + heights.safe_height * scale
    left, right = sorted(
        (float(node.get("x") or 0), float(node.get("y") or 0), float(node.get("height") or 0))
        for node in of_class(root, "jaw", "rect")
    )
    assert left[1:] == right[1:]
    assert left[1] == pytest.approx(face + below * scale + 10, abs=0.3)
    assert left[1] + left[2] == pytest.approx(face + 1.15 * scene.deep * scale + 32, abs=0.3)
    (held,) = of_class(root, "bar" if scene.side == "external" else "part", "rect")
    top, bottom = (
        float(held.get("y") or 0),
        float(held.get("y") or 0) + float(held.get("height") or 0),
    )
    assert top <= left[1]
    assert bottom == pytest.approx(left[1] + left[2], abs=0.02)
    assert left[0] + 34 == pytest.approx(float(held.get("x") or 0), abs=0.02)
    assert right[0] - (left[0] + 34) == pytest.approx((scene.bar_width or 0) * scale, abs=0.5)


@pytest.mark.parametrize("scene", [BOSS, PORT])
def test_a_part_without_its_bar_is_drawn_a_quarter_wider_than_boss_or_hole(
    scene: Scene,
) -> None:
    """From the side, to one scale: bar or wall, boss or hole, each as wide as it is."""
    for bar, wide in ((None, 1.25 * scene.diameter), (2.0 * scene.diameter, 2.0 * scene.diameter)):
        alone = replace(scene, across_flats=None, bar_diameter=bar, cutter_diameter=None)
        root = parsed(setup_drawing(alone, Heights(1.0, 0.1)))
        names = ("part", "bar") if scene.side == "external" else ("hole", "part")
        narrow, around = (
            float(of_class(root, name, "rect")[0].get("width") or 0) for name in names
        )
        assert around / narrow == pytest.approx(wide / scene.diameter, rel=2e-3)


def test_a_setup_without_tool_and_off_the_middle() -> None:
    scene = replace(PORT, cutter_diameter=None, centre=(12.0, -7.0))
    root = parsed(setup_drawing(scene, Heights(25.0, 0.0)))
    assert not of_class(root, "tool")
    assert "boss or hole at X 12.000 mm, Y -7.000 mm" in words(root).replace("\n", " ")
    assert not of_class(root, "lead")


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"safe_height": 0.0}, "/safe_height"), ({"safe_height": math.nan}, "/safe_height"),
        ({"tip_to_tooth": -1.0}, "/tip_to_tooth"), ({"clearance_height": 1.1}, "/clearance_height"),
        ({"clearance_height": -0.1}, "/clearance_height"),
    ],
)  # fmt: skip
def test_heights_that_make_no_sense(changes: dict[str, Any], pointer: str) -> None:
    assert pointers(setup_drawing, BOSS, replace(HEIGHTS, **changes)) == [pointer]


@given(scenes, st.floats(0.1, 70.0), st.floats(0.0, 1.0))
@settings(deadline=None, max_examples=60)
def test_any_setup_drawing_is_whole(scene: Scene, safe: float, share: float) -> None:
    root = parsed(setup_drawing(scene, Heights(safe, safe * share)))
    (letter,) = [node for node in root.iter(f"{SVG}text") if node.text == "X"]
    assert float(letter.get("x") or 0) <= WORDS_AT - 15  # the axis ends before the words


def crossed(root: ET.Element) -> list[tuple[str, list[Spot]]]:
    """Return each dimension's label that an extension or dimension line runs through.

    All are level or upright. A letter is taken 6.6 wide and 11 high, less than fonts have.
    """
    lines = [sorted(places(node)) for node in of_class(root, "dim", "line")]
    found = []
    for node in of_class(root, "halo", "text"):
        x, y = float(node.get("x") or 0), float(node.get("y") or 0)
        half = 3.3 * len(node.text or "")
        if node.get("transform"):
            box = (x - 11, y - half, x, y + half)
        else:
            begin = x - half if node.get("text-anchor") == "middle" else x
            box = (begin, y - 11, begin + 2 * half, y)
        for (x1, y1), (x2, y2) in lines:
            low, high = min(y1, y2), max(y1, y2)
            if x2 > box[0] and x1 < box[2] and high > box[1] and low < box[3]:
                found.append((node.text or "", [(x1, y1), (x2, y2)]))
    return found


@given(
    st.sampled_from(["in", "mm"]), st.sampled_from(["external", "internal"]),
    st.floats(2.0, 12.0), st.floats(0.1, 0.95), st.floats(0.3, 6.0), st.floats(0.1, 1.0),
)  # fmt: skip
@settings(deadline=None, max_examples=100)
def test_no_line_runs_through_a_label_of_the_bar(
    unit: Any, side: Any, flats: float, wide: float, deep: float, part: float
) -> None:
    depth = deep * flats
    scene = Scene(unit, side, wide * flats, part * depth, across_flats=flats, depth=depth)
    assert crossed(parsed(hexagon_drawing(scene))) == []


@pytest.mark.parametrize("diameter", [0.5, 2.5, 6.0, 12.0, 18.5, 30.0])
@pytest.mark.parametrize("length", [1.0, 4.5, 16.0, 60.0])
@pytest.mark.parametrize("side", ["internal", "external"])
def test_no_line_runs_through_a_label_of_the_path(
    diameter: float, length: float, side: Any
) -> None:
    scene = Scene("mm", side, diameter, length, diameter / 2, bar_diameter=40.0, depth=1.2 * length)
    radius = diameter / 5 if side == "internal" else diameter
    turn = Segment("arc", "thread", Point(radius, 0, -length), Point(radius, 0, 0), (0, 0),
                   "counterclockwise", 3600.0, 200.0)  # fmt: skip
    root = parsed(path_drawing(scene, [turn]))
    assert "centre path diameter" in words(root)
    assert crossed(root) == []


@pytest.mark.parametrize("diameter", [1.5, 20.0, 110.0, 300.0])
def test_the_arrow_to_z_ends_below_the_tool(diameter: float) -> None:
    scene = Scene("mm", "external", diameter, diameter / 2, diameter / 5 + 1, depth=diameter / 2)
    root = parsed(setup_drawing(scene, Heights(25.0, 2.0)))
    (tool,) = of_class(root, "tool", "rect")
    tip = float(tool.get("y") or 0) + float(tool.get("height") or 0)
    highest = min(y for node in of_class(root, "zero", "polygon") for _, y in places(node))
    zero = float(of_class(root, "zero-ring")[0].get("cy") or 0)
    assert highest > tip or zero - highest == pytest.approx(26.0, abs=0.02), "as short as it can be"
    assert (zero - highest == pytest.approx(80.0, abs=0.02)) is (diameter <= 20.0)


@given(st.floats(0.5, 300.0), st.floats(0.5, 300.0))
@settings(deadline=None, max_examples=60)
def test_the_scale_stays_clear_of_the_edge(diameter: float, length: float) -> None:
    scene = Scene("mm", "internal", diameter, length, diameter / 2, bar_diameter=1.5 * diameter)
    turn = Segment("arc", "thread", Point(diameter / 5, 0, -length), Point(diameter / 5, 0, 0),
                   (0, 0), "counterclockwise", 3600.0, 200.0)  # fmt: skip
    root = parsed(path_drawing(scene, [turn]))
    wide = float((root.get("viewBox") or "").split()[2])
    labels = [
        node for node in root.iter(f"{SVG}text") if re.fullmatch(r"[\d.]+ mm", node.text or "")
    ]
    assert len(labels) == 1
    (scale,) = labels
    assert float(scale.get("x") or 0) + LETTER * len(scale.text or "") <= wide - MARGIN
