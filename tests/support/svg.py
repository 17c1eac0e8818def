"""Drawings taken apart: elements by class, all places, and what every drawing must keep to."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

SVG = "{http://www.w3.org/2000/svg}"
ALLOWED = {
    "svg", "title", "desc", "style", "rect", "line", "polyline", "polygon", "circle", "path",
    "text", "g", "clipPath", "pattern",
}  # fmt: skip
ATTRIBUTES = {
    "id", "class", "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "d", "points", "width",
    "height", "viewBox", "role", "aria-labelledby", "text-anchor", "transform", "clip-path",
    "patternUnits", "fill",
}  # fmt: skip
WIDEST = 7.4
"""Picture units of one letter of 15 px text, on average, with room (measured: 6.2 to 7.2)."""

Spot = tuple[float, float]


def parsed(drawing: str) -> ET.Element:
    """Return the drawing's root, after everything that holds for every drawing."""
    root = ET.fromstring(drawing)
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    ids = [node.get("id") for node in root.iter() if node.get("id")]
    assert len(ids) == len(set(ids))
    assert (root.get("aria-labelledby") or "").split() == [
        child.get("id") for child in list(root)[:2]
    ]
    assert [child.tag for child in list(root)[:3]] == [f"{SVG}title", f"{SVG}desc", f"{SVG}style"]
    assert all(len(child.text or "") > 5 for child in list(root)[:2])
    for node in root.iter():
        assert node.tag.removeprefix(SVG) in ALLOWED
        assert set(node.keys()) <= ATTRIBUTES
        for name in ("fill", "clip-path"):
            value = node.get(name)
            assert value is None or re.fullmatch(r"url\(#fw-[a-z-]+\)", value)
            assert value is None or value[5:-1] in ids
    style = root.findtext(f"{SVG}style") or ""
    assert "url(" not in style
    assert "@import" not in style
    assert "prefers-color-scheme:dark" in style
    used = {word for node in root.iter() for word in (node.get("class") or "").split()}
    for word in used - {"fw"}:
        assert f".{word}" in style, word
    inside(root)
    return root


def inside(root: ET.Element) -> None:
    """Hold every place, and every text's likely width, inside the picture."""
    width, height = float(root.get("width") or 0), float(root.get("height") or 0)
    clipped = {id(node) for group in root.iter(f"{SVG}g") for node in group.iter()}
    for node in root.iter():
        if id(node) in clipped:
            continue
        for x, y in places(node):
            assert -1 <= x <= width + 1, (node.tag, node.attrib)
            assert -1 <= y <= height + 1, (node.tag, node.attrib)
        if node.tag == f"{SVG}text":
            long = WIDEST * len(node.text or "") * (0.84 if node.get("class") == "small" else 1)
            if node.get("transform"):
                assert float(node.get("y") or 0) - long / 2 >= 0, node.text
                assert float(node.get("y") or 0) + long / 2 <= height, node.text
                continue
            x = float(node.get("x") or 0)
            first = x - long / 2 if node.get("text-anchor") == "middle" else x
            assert first >= -1, node.text
            assert first + long <= width + 12, node.text


def places(node: ET.Element) -> list[Spot]:
    """Return the places that an element names."""

    def get(name: str) -> float:
        return float(node.get(name) or 0)

    if node.get("points"):
        return [(float(x), float(y)) for x, y in
                (pair.split(",") for pair in (node.get("points") or "").split())]  # fmt: skip
    tag = node.tag.removeprefix(SVG)
    if tag == "line":
        return [(get("x1"), get("y1")), (get("x2"), get("y2"))]
    if tag == "circle":
        r = get("r")
        return [(get("cx") - r, get("cy") - r), (get("cx") + r, get("cy") + r)]
    if tag == "rect":
        return [(get("x"), get("y")), (get("x") + get("width"), get("y") + get("height"))]
    return [(get("x"), get("y"))] if tag == "text" else []


def of_class(root: ET.Element, name: str, tag: str = "") -> list[ET.Element]:
    """Return the elements of one class."""
    return [node for node in root.iter() if name in (node.get("class") or "").split()
            and node.tag.endswith(tag)]  # fmt: skip


def words(root: ET.Element) -> str:
    """Return all visible text, a line for each."""
    return "\n".join(node.text or "" for node in root.iter(f"{SVG}text"))


def extent(spots: list[Spot]) -> tuple[float, float]:
    """Return width and height of the box round places."""
    xs, ys = zip(*spots, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)
