"""SVG as text: elements, escaped; model lengths to picture units; dimension lines.

No script, no reference to anything outside, no text that isn't escaped.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

from flankwise_service.core.drawing.look import STYLE
from flankwise_service.core.units import Unit

Spot = tuple[float, float]
ARROW = 11.0
"""Length of an arrow head, in picture units."""
LONGEST_TEXT = 200
LETTER = 8.4
"""Width of a letter of plain text, on the generous side, in picture units."""
MARGIN = 20.0
TITLE_AT, UNDER_TITLE_AT = 28.0, 46.0
"""Heights of a drawing's title and of the line below it."""


def clean(text: str) -> str:
    """Return text that XML may hold: controls and halves of surrogate pairs become blanks.

    >>> clean("M8\\x00<b>")
    'M8 <b>'
    """
    cut = text if len(text) <= LONGEST_TEXT else text[: LONGEST_TEXT - 1] + "\u2026"
    return "".join(c if c.isprintable() else " " for c in cut)


def length_text(value: float, unit: Unit) -> str:
    """Return a length with the digits of the trade and its unit.

    >>> length_text(0.8243, "in"), length_text(20.0, "mm")
    ('0.8243 in', '20.000 mm')
    """
    return f"{value:.4f} in" if unit == "in" else f"{value:.3f} mm"


def number(value: float) -> str:
    """Return a picture coordinate with at most two decimals.

    >>> number(12.0), number(-0.001), number(3.14159)
    ('12', '0', '3.14')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def element(tag: str, content: str = "", **attributes: str | float | None) -> str:
    """Return one element; `content` is markup already, attribute values are escaped here.

    A name's trailing underscore falls away, others become hyphens.

    >>> element("circle", cx=1.5, r=2.0, class_="a & b")
    '<circle cx="1.5" r="2" class="a &amp; b"/>'
    """
    words = [tag]
    for name, value in attributes.items():
        if value is None:
            continue
        text = value if isinstance(value, str) else number(value)
        words.append(f"{name.rstrip('_').replace('_', '-')}={quoteattr(text)}")
    head = " ".join(words)
    return f"<{head}>{content}</{tag}>" if content else f"<{head}/>"


class View(NamedTuple):
    """Where a model stands in the picture: model y points up, picture y down."""

    scale: float
    left: float
    """Picture x of model x 0."""
    base: float
    """Picture y of model y 0."""

    def spot(self, x: float, y: float) -> Spot:
        """Return the picture place of a model place.

        >>> View(10.0, 100.0, 200.0).spot(1.0, 2.0)
        (110.0, 180.0)
        """
        return self.left + self.scale * x, self.base - self.scale * y


class Box(NamedTuple):
    """A rectangle of the picture."""

    left: float
    top: float
    width: float
    height: float


def fitted(box: Box, low: Spot, high: Spot) -> View:
    """Return the view that puts the model rectangle from `low` to `high` in the middle of a box.

    >>> fitted(Box(0, 0, 100, 100), (0.0, 0.0), (2.0, 1.0))
    View(scale=50.0, left=0.0, base=75.0)
    """
    wide, tall = high[0] - low[0], high[1] - low[1]
    scale = min(box.width / wide, box.height / tall)
    left = box.left + (box.width - scale * wide) / 2 - scale * low[0]
    base = box.top + (box.height + scale * tall) / 2 + scale * low[1]
    return View(scale, left, base)


class Canvas:
    """A drawing being made; `text()` gives it whole."""

    def __init__(self, name: str, title: str, width: float, height: float) -> None:
        self.name, self.title, self.width, self.height = name, title, width, height
        self.parts: list[str] = []
        self.over: list[str] = []
        self.said: list[str] = []

    def entitle(self, title: str, under: str) -> None:
        """Write the drawing's title and what it shows."""
        self.write((MARGIN, TITLE_AT), title, "head")
        self.write((MARGIN, UNDER_TITLE_AT), under, "small")

    def say(self, sentence: str) -> None:
        """Add a sentence to the text alternative."""
        self.said.append(sentence)

    def add(self, tag: str, content: str = "", **attributes: str | float | None) -> None:
        """Add one element."""
        self.parts.append(element(tag, content, **attributes))

    def hatched(self, kind: str) -> None:
        """Define a hatch, as the part is hatched where it is cut; used by `hatch_fill`."""
        stroke = element("path", d="M0 9L9 0", class_=kind)
        self.add("pattern", stroke, id=f"fw-{self.name}-hatch", width=9.0, height=9.0,
                 patternUnits="userSpaceOnUse")  # fmt: skip

    def hatch(self, spots: Iterable[Spot]) -> None:
        """Fill a closed area with the hatch."""
        self.add("polygon", points=_points(spots), fill=f"url(#fw-{self.name}-hatch)")

    def window(self, name: str, box: Box) -> None:
        """Begin a group seen through a rectangle; `end` closes it."""
        inside = element("rect", x=box.left, y=box.top, width=box.width, height=box.height)
        self.add("clipPath", inside, id=f"fw-{self.name}-{name}")
        self.parts.append(f'<g clip-path="url(#fw-{self.name}-{name})">')

    def end(self) -> None:
        """End a group."""
        self.parts.append("</g>")

    def line(self, a: Spot, b: Spot, kind: str) -> None:
        """Add a straight line."""
        self.add("line", x1=a[0], y1=a[1], x2=b[0], y2=b[1], class_=kind)

    def polyline(self, spots: Iterable[Spot], kind: str) -> None:
        """Add an open line through many places."""
        self.add("polyline", points=_points(spots), class_=kind)

    def polygon(self, spots: Iterable[Spot], kind: str) -> None:
        """Add a closed area."""
        self.add("polygon", points=_points(spots), class_=kind)

    def circle(self, middle: Spot, radius: float, kind: str) -> None:
        """Add a circle."""
        self.add("circle", cx=middle[0], cy=middle[1], r=radius, class_=kind)

    def write(
        self, at: Spot, text: str, kind: str = "halo", anchor: str = "start", turn: float = 0.0
    ) -> None:
        """Add a line of text, turned by `turn` degrees about its place."""
        turned = f"rotate({number(turn)} {number(at[0])} {number(at[1])})" if turn else None
        self.add(
            "text", escape(clean(text)), x=at[0], y=at[1], class_=kind,
            text_anchor=None if anchor == "start" else anchor, transform=turned,
        )  # fmt: skip

    def arrow(self, tip: Spot, direction: float, kind: str = "arrow") -> None:
        """Add an arrow head that points in `direction` (degrees, picture axes)."""
        spots = [tip]
        for side in (-13.0, 13.0):
            a_rad = math.radians(direction + 180.0 + side)
            spots.append((tip[0] + ARROW * math.cos(a_rad), tip[1] + ARROW * math.sin(a_rad)))
        self.polygon(spots, kind)

    def across(self, x1: float, x2: float, at: float, label: str, starts: Sequence[float]) -> float:
        """Add a level dimension line from x1 to x2 at height `at`; return its label's height.

        `starts` are the heights where the two extension lines begin. A label longer than the
        dimension stands beyond their ends, so that neither runs through it.
        """
        x1, x2, starts = (x1, x2, starts) if x1 <= x2 else (x2, x1, starts[::-1])
        for x, start in zip((x1, x2), starts, strict=True):
            self._extension((x, start), (x, at))
        self._dimension((x1, at), (x2, at), x2 - x1 > 3 * ARROW)
        if x2 - x1 <= 3 * ARROW:
            self._label((x2 + 22, at + 4), label, "start")
            return at + 4
        if x2 - x1 > LETTER * len(label):
            height = at - 8
        else:
            height = at - 10 if max(starts) > at else at + 22
        self._label(((x1 + x2) / 2, height), label, "middle")
        return height

    def upright(
        self, y1: float, y2: float, at: float, label: str, starts: Sequence[float],
        ahead: bool = False,
    ) -> None:  # fmt: skip
        """Add an upright dimension line from y1 to y2 at the place `at`, its label along it.

        A label longer than the dimension stands beyond the ends of the extension lines or, with
        `ahead`, level above the upper one: where another dimension follows outside.
        """
        y1, y2, starts = (y1, y2, starts) if y1 <= y2 else (y2, y1, starts[::-1])
        for y, start in zip((y1, y2), starts, strict=True):
            self._extension((start, y), (at, y))
        self._dimension((at, y1), (at, y2), y2 - y1 > 3 * ARROW)
        middle = (y1 + y2) / 2
        if y2 - y1 > LETTER * len(label):
            self._label((at - 8, middle), label, "middle", -90.0)
        elif ahead:
            self._label((at + 5 - LETTER * len(label) / 2, y1 - 24), label, "middle")
        else:
            self._label((at + 20, middle), label, "middle", -90.0)

    def _label(self, at: Spot, text: str, anchor: str, turn: float = 0.0) -> None:
        """Add a dimension's text; drawn after all lines, so that its halo parts them."""
        self.write(at, text, anchor=anchor, turn=turn)
        self.over.append(self.parts.pop())

    def _extension(self, a: Spot, b: Spot) -> None:
        """Add an extension line from a place to just beyond the dimension line."""
        length = math.dist(a, b)
        if length < 4.0:
            return
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        self.line((a[0] + 3 * ux, a[1] + 3 * uy), (b[0] + 5 * ux, b[1] + 5 * uy), "dim")

    def _dimension(self, a: Spot, b: Spot, inside: bool) -> None:
        """Add a dimension line with its two arrows, between its ends or, short, outside them."""
        heading = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
        if inside:
            self.line(a, b, "dim")
            self.arrow(a, heading + 180.0)
            self.arrow(b, heading)
            return
        ux, uy = math.cos(math.radians(heading)), math.sin(math.radians(heading))
        self.line((a[0] - 18 * ux, a[1] - 18 * uy), (b[0] + 18 * ux, b[1] + 18 * uy), "dim")
        self.arrow(a, heading)
        self.arrow(b, heading + 180.0)

    def text(self) -> str:
        """Return the whole drawing."""
        ids = f"fw-{self.name}-title", f"fw-{self.name}-text"
        inside = "".join((
            element("title", escape(clean(self.title)), id=ids[0]),
            element("desc", escape(" ".join(map(clean, self.said))), id=ids[1]),
            element("style", STYLE),
            element("rect", width=self.width, height=self.height, class_="paper"),
            *self.parts,
            *self.over,
        ))  # fmt: skip
        size = f"0 0 {number(self.width)} {number(self.height)}"
        return element(
            "svg", inside, xmlns="http://www.w3.org/2000/svg", viewBox=size, width=self.width,
            height=self.height, class_="fw", role="img", aria_labelledby=f"{ids[0]} {ids[1]}",
        )  # fmt: skip


def _points(spots: Iterable[Spot]) -> str:
    """Return places as an attribute's text."""
    return " ".join(f"{number(x)},{number(y)}" for x, y in spots)
