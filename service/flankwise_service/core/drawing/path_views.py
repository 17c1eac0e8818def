"""The tool path from above and from the side, with the part and the cutter, to one scale."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from flankwise_service.core.drawing.canvas import (
    LETTER,
    MARGIN,
    Box,
    Canvas,
    Spot,
    View,
    length_text,
)
from flankwise_service.core.drawing.part import bar_above, part_beside, scale_bar
from flankwise_service.core.drawing.scene import Scene, check_scene
from flankwise_service.core.errors import BadInput, Faults, plain
from flankwise_service.core.path.segment import Segment

WIDTH, HEIGHT = 760.0, 430.0
ABOVE = Box(40.0, 82.0, 300.0, 238.0)
BESIDE = Box(440.0, 82.0, 230.0, 238.0)
MOST_SEGMENTS = 200_000
MOST_PLACES = 8000
"""Places drawn in one view: finer than the picture shows, and it keeps the text small."""
FINEST_STEP = 4.0
"""Degrees of arc between places drawn."""
REACH = 1e5
KINDS = {
    "thread": "cut", "lead_in": "lead", "lead_out": "lead", "boss": "boss", "bore": "boss",
}  # fmt: skip
LEGEND = (
    ("cut", "thread"), ("lead", "lead-in, lead-out"), ("boss", "blank to size"),
    ("rapid", "rapid, plunge, link"), ("tool", "cutter"),
)  # fmt: skip


class Track(NamedTuple):
    """A run of the path of one kind."""

    kind: str
    places: list[tuple[float, float, float]]


def path_drawing(scene: Scene, segments: Sequence[Segment]) -> str:
    """Return an SVG of the path from above (X right, Y up) and from the side (X right, Z up).

    Shown is the way of the cutter's axis at the mid-plane of its lowest tooth. Errors: `BadInput`.

    >>> from flankwise_service.core.path.segment import Point
    >>> turn = Segment("arc", "thread", Point(4, 0, 0), Point(4, 0, 1.5), (0, 0),
    ...                "counterclockwise", 360.0, 200.0)
    >>> scene = Scene("mm", "internal", 18.5, 1.5, 12.0)
    >>> "centre path diameter 8.000 mm" in path_drawing(scene, [turn])
    True
    """
    faults = Faults()
    check_scene(scene, faults)
    _check_segments(segments, faults)
    faults.raise_any(BadInput)
    tracks = list(_tracks(segments))
    low, high = _room(scene, tracks, _cutter_place(scene, segments))
    scale = min(
        ABOVE.width / (high[0] - low[0]), ABOVE.height / (high[1] - low[1]),
        BESIDE.width / (high[0] - low[0]), BESIDE.height / (high[2] - low[2]),
    )  # fmt: skip
    above = _centred(ABOVE, scale, (low[0], low[1]), (high[0], high[1]))
    beside = _centred(BESIDE, scale, (low[0], low[2]), (high[0], high[2]))
    canvas = Canvas("path", f"Tool path {scene.name}".strip(), WIDTH, HEIGHT)
    canvas.entitle(
        scene.name or "Tool path", "way of the cutter's axis at its lowest tooth, to one scale"
    )
    canvas.write((ABOVE.left, 68.0), "from above", "small")
    canvas.write((BESIDE.left, 68.0), "from the side", "small")
    bar_above(canvas, above, scene)
    part_beside(canvas, beside, scene)
    for track in tracks:
        canvas.polyline(_thinned([above.spot(x, y) for x, y, _ in track.places]), track.kind)
        canvas.polyline(_thinned([beside.spot(x, z) for x, _, z in track.places]), track.kind)
    _cutter(canvas, above, scene, segments)
    _dimensions(canvas, above, beside, scene, segments)
    scale_bar(canvas, scale, (BESIDE.left + 100.0, HEIGHT - 38.0), scene.unit)
    _legend(canvas, {track.kind for track in tracks}, scene.cutter_diameter is not None)
    return canvas.text()


def _check_segments(segments: Sequence[Segment], faults: Faults) -> None:
    """Note a path that can't be drawn."""
    faults.need(
        1 <= len(segments) <= MOST_SEGMENTS, "/segments", "segments",
        f"a path of {len(segments)} segments can't be drawn",
        f"give from 1 to {MOST_SEGMENTS}", len(segments),
    )  # fmt: skip
    for index, segment in enumerate(segments[:MOST_SEGMENTS]):
        values = (*segment.begin, *segment.end, *(segment.centre or (0.0, 0.0)))
        whole = segment.kind != "arc" or (
            segment.centre is not None and segment.sense is not None
            and 0.0 < segment.sweep <= 360_000.0
        )  # fmt: skip
        if not whole or not all(-REACH <= value <= REACH for value in values):
            faults.need(
                False, f"/segments/{index}", "bad_segment", "this segment can't be drawn",
                f"give places within {plain(REACH)}, and arcs with centre, sense and sweep",
            )  # fmt: skip
            return


def _tracks(segments: Sequence[Segment]) -> Iterator[Track]:
    """Yield the path as runs of one kind, arcs as close chords."""
    turn = sum(segment.sweep for segment in segments)
    step = max(FINEST_STEP, turn / MOST_PLACES)
    track: Track | None = None
    for segment in segments:
        kind = KINDS.get(segment.purpose, "rapid") if segment.kind != "rapid" else "rapid"
        if track is None or track.kind != kind:
            if track is not None:
                yield track
            track = Track(kind, [(segment.begin.x, segment.begin.y, segment.begin.z)])
        track.places.extend(_places(segment, step))
    yield from [track] if track else ()


def _places(segment: Segment, step: float) -> Iterator[tuple[float, float, float]]:
    """Yield places along a segment after its begin."""
    if segment.kind == "arc" and segment.centre is not None:
        count = max(1, math.ceil(segment.sweep / step))
        cx, cy = segment.centre
        x, y, z = segment.begin
        way = 1.0 if segment.sense == "counterclockwise" else -1.0
        for k in range(1, count):
            t_rad = way * math.radians(segment.sweep * k / count)
            cos, sin = math.cos(t_rad), math.sin(t_rad)
            yield (cx + (x - cx) * cos - (y - cy) * sin, cy + (x - cx) * sin + (y - cy) * cos,
                   z + segment.rise * k / count)  # fmt: skip
    yield segment.end.x, segment.end.y, segment.end.z


def _thinned(spots: list[Spot]) -> list[Spot]:
    """Return at most about `MOST_PLACES` of many places, the last one always."""
    every = max(1, len(spots) // MOST_PLACES)
    return spots if every == 1 else [*spots[:-1:every], spots[-1]]


def _room(
    scene: Scene, tracks: list[Track], cutter_at: Spot | None
) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Return the corners of the box that holds path, part and cutter."""
    places = [place for track in tracks for place in track.places]
    wide = max(scene.diameter, scene.bar_width or 0.0) / 2
    cx, cy = scene.centre
    places += [(cx - wide, cy - wide, -1.15 * scene.deep), (cx + wide, cy + wide, 0.0)]
    if cutter_at is not None:
        half = (scene.cutter_diameter or 0.0) / 2
        places += [(cutter_at[0] + k * half, cutter_at[1] + k * half, 0.0) for k in (-1, 1)]
    low, high = (tuple(pick(p[i] for p in places) for i in range(3)) for pick in (min, max))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _centred(box: Box, scale: float, low: Spot, high: Spot) -> View:
    """Return the view of a given scale with a model rectangle in the middle of a box."""
    left = box.left + (box.width - scale * (high[0] - low[0])) / 2 - scale * low[0]
    base = box.top + (box.height + scale * (high[1] - low[1])) / 2 + scale * low[1]
    return View(scale, left, base)


def _cutter_place(scene: Scene, segments: Sequence[Segment]) -> Spot | None:
    """Return where the cutter is drawn: where the last thread arc begins."""
    if scene.cutter_diameter is None:
        return None
    cuts = [segment for segment in segments if segment.purpose == "thread"] or [segments[0]]
    return cuts[-1].begin[:2]


def _cutter(canvas: Canvas, view: View, scene: Scene, segments: Sequence[Segment]) -> None:
    """Draw the cutter's circle."""
    place = _cutter_place(scene, segments)
    if place is None or scene.cutter_diameter is None:
        return
    at = view.spot(*place)
    canvas.circle(at, view.scale * scene.cutter_diameter / 2, "tool")
    canvas.line((at[0] - 6, at[1]), (at[0] + 6, at[1]), "line")
    canvas.line((at[0], at[1] - 6), (at[0], at[1] + 6), "line")


def _dimensions(
    canvas: Canvas, above: View, beside: View, scene: Scene, segments: Sequence[Segment]
) -> None:
    """Draw the sizes that matter, and say them."""
    unit, (cx, cy) = scene.unit, scene.centre
    bottom = ABOVE.top + ABOVE.height + 24.0
    deepest = _deepest(scene, segments)
    if deepest is not None:
        label = f"centre path diameter {length_text(2 * deepest, unit)}"
        label += " at the face" if scene.taper else ""
        left, at = above.spot(cx - deepest, cy)
        canvas.across(left, above.spot(cx + deepest, cy)[0], bottom, label, (at, at))
        canvas.say(f"{label[0].upper()}{label[1:]}.")
    left, face = beside.spot(cx - scene.diameter / 2, 0.0)
    right = beside.spot(cx + scene.diameter / 2, 0.0)[0]
    size = scene.size_words
    canvas.across(left, right, bottom, size, (beside.spot(0, -scene.deep)[1],) * 2)
    edge = BESIDE.left + BESIDE.width + 24.0
    end = beside.spot(0.0, -scene.length)[1]
    canvas.upright(face, end, edge, f"thread {length_text(scene.length, unit)}", (right, right))
    canvas.say(f"{size[0].upper()}{size[1:]}. Thread length {length_text(scene.length, unit)}.")
    lowest = min(min(segment.begin.z, segment.end.z) for segment in segments)
    canvas.say(f"Lowest place of the path Z {length_text(lowest, unit)}; "
               f"{len(segments)} segments.")  # fmt: skip


def _deepest(scene: Scene, segments: Sequence[Segment]) -> float | None:
    """Return the radius of the centre path of the last pass; that of a taper thread at the face.

    An arc of a taper thread has a centre beside the axis, so its ends tell the radius there.
    """
    way = 1.0 if scene.side == "external" else -1.0
    radii = [
        math.dist(segment.begin[:2], scene.centre) + way * scene.taper / 2 * segment.begin.z
        if scene.taper
        else math.dist(segment.begin[:2], segment.centre)
        for segment in segments
        if segment.purpose == "thread" and segment.centre is not None
    ]
    if not radii:
        return None
    return min(radii) if scene.side == "external" else max(radii)


def _legend(canvas: Canvas, kinds: set[str], cutter: bool) -> None:
    """Say what each line means."""
    x, at = MARGIN, HEIGHT - 10.0
    shown = kinds | {"tool"} if cutter else kinds
    for kind, text in LEGEND:
        if kind in shown:
            canvas.line((x, at - 5), (x + 24, at - 5), kind)
            canvas.write((x + 30, at), text, "")
            x += 46 + 0.9 * LETTER * len(text)
