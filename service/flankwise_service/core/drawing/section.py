"""The thread in axial section: limits of size with their tolerance bands, and the form cut."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import NamedTuple

from flankwise_service.core.drawing.canvas import LETTER, Box, Canvas, View, fitted
from flankwise_service.core.drawing.outline import (
    Diameters,
    Place,
    groove_edges,
    material,
    outline,
    repeated,
    sharp_radius,
)
from flankwise_service.core.errors import BadInput, Fault, Faults, plain_greatest
from flankwise_service.core.threads.model import Span, StatedLimits

WIDTH, HEIGHT = 760.0, 430.0
PLOT = Box(20.0, 62.0, 330.0, 280.0)
LABELS_AT = 376.0
LINE_HEIGHT = 21.0
INSET = Box(612.0, 110.0, 132.0, 132.0)
MOST_POINTS = 5000


class EdgePoint(NamedTuple):
    """The groove as cut at one radius: z of its lower and upper edge, its middle near 0."""

    radius: float
    lower: float
    upper: float


def section_drawing(
    limits: StatedLimits, cut: Sequence[EdgePoint] = (), pitch_diameter_cut: float | None = None
) -> str:
    """Return an SVG of the section: part, tolerance band, basic profile and, if given, the cut.

    Lengths in the unit of `limits`; the picture is to one scale, and so is its magnified inset of
    a flank at the pitch line.

    Errors: `BadInput` for a taper thread, whose limits belong to one plane, and for a cut that
    isn't near the thread.
    """
    _check(limits, cut)
    canvas = Canvas("section", f"Section of {limits.designation}", WIDTH, HEIGHT)
    canvas.hatched("grain")
    section = _Section(limits, cut)
    view = fitted(PLOT, (-section.pitch, section.low), (section.pitch, section.high))
    _title(canvas, limits)
    left, top = view.spot(-section.pitch, section.high)
    right, base = view.spot(section.pitch, section.low)
    canvas.window("plot", Box(left, top, right - left, base - top))
    section.draw(canvas, view)
    canvas.end()
    canvas.across(
        view.spot(-section.pitch / 2, 0)[0], view.spot(section.pitch / 2, 0)[0], base + 34.0,
        f"pitch {section.pitch:.6g}", (base, base),
    )  # fmt: skip
    _labels(canvas, view, section, pitch_diameter_cut)
    _inset(canvas, section, view.scale)
    _legend(canvas, bool(cut))
    return canvas.text()


class _Section:
    """The outlines of one section, ready to be drawn at any scale."""

    def __init__(self, limits: StatedLimits, cut: Sequence[EdgePoint]) -> None:
        self.limits, self.cut = limits, sorted(cut)
        self.both = material(limits)
        self.pitch = float(limits.basic.pitch)
        self.low, self.high = _radial_room(limits, self.both.most, self.both.least)

    def outline(self, diameters: Diameters) -> list[Place]:
        """Return an outline over the three pitches round the one in the middle."""
        one = outline(self.limits.basic, self.limits.side, diameters)
        return repeated(one, self.pitch, range(-1, 2))

    def basic(self) -> Diameters:
        """Return the basic profile's diameters."""
        basic = self.limits.basic
        ends = float(basic.major_diameter), float(basic.minor_diameter)
        crest, root = ends if self.limits.side == "external" else ends[::-1]
        return Diameters(crest, float(basic.pitch_diameter), root)

    def draw(self, canvas: Canvas, view: View) -> None:
        """Draw what every part within limits has, hatched, the tolerance, basic profile and cut."""
        most, least = self.outline(self.both.most), self.outline(self.both.least)
        far = self.low if self.limits.side == "external" else self.high
        part = [*least, (least[-1][0], far), (least[0][0], far)]
        canvas.polygon((view.spot(*p) for p in part), "body")
        canvas.hatch(view.spot(*p) for p in part)
        canvas.polygon((view.spot(*p) for p in (*most, *reversed(least))), "band")
        canvas.polyline((view.spot(*p) for p in most), "edge")
        canvas.polyline((view.spot(*p) for p in least), "edge")
        canvas.polyline((view.spot(*p) for p in self.outline(self.basic())), "basic")
        for shift in (-self.pitch, 0.0, self.pitch) if self.cut else ():
            canvas.polyline((view.spot(z + shift, r) for z, r in self._groove()), "cut")

    def _groove(self) -> list[Place]:
        """Return the groove as cut, from crest down one edge, along the root and up the other."""
        down = self.cut[::-1] if self.limits.side == "external" else self.cut
        return [(p.lower, p.radius) for p in down] + [(p.upper, p.radius) for p in down[::-1]]


def _check(limits: StatedLimits, cut: Sequence[EdgePoint]) -> None:
    """Refuse what can't be drawn."""
    faults = Faults()
    faults.need(
        limits.basic.taper == 0.0, "/designation", "taper",
        "the limits of a taper thread belong to one plane of it, not to a section",
        "draw a parallel thread", limits.designation,
    )  # fmt: skip
    faults.need(
        len(cut) <= MOST_POINTS, "/cut", "too_many_points",
        f"a section of {len(cut)} points", f"give at most {MOST_POINTS}", len(cut),
    )  # fmt: skip
    faults.raise_any(BadInput)
    greatest = float(limits.basic.major_diameter)
    reach = 2 * float(limits.basic.pitch)
    for index, point in enumerate(cut):
        if not (0.0 <= point.radius <= greatest and abs(point.lower) <= reach
                and abs(point.upper) <= reach):  # fmt: skip
            raise BadInput(Fault(
                f"/cut/{index}", "out_of_range", "this point of the cut isn't near the thread",
                f"give radii up to {plain_greatest(greatest)} and edges within "
                f"{plain_greatest(reach)} of the groove's middle",
            ))  # fmt: skip


def _radial_room(limits: StatedLimits, most: Diameters, least: Diameters) -> Place:
    """Return the least and greatest radius shown."""
    pitch = float(limits.basic.pitch)
    radii = [r for _, r in outline(limits.basic, limits.side, most)]
    radii += [r for _, r in outline(limits.basic, limits.side, least)]
    body = 0.28 * pitch
    if limits.side == "external":
        return max(0.0, min(radii) - body), max(radii) + 0.1 * pitch
    return max(0.0, min(radii) - 0.1 * pitch), max(radii) + body


def _title(canvas: Canvas, limits: StatedLimits) -> None:
    """Write which thread it is, and say it."""
    unit = "inch" if limits.unit == "in" else "millimetre"
    starts = f", {limits.starts} starts" if limits.starts > 1 else ""
    words = f"{limits.side} thread, {limits.hand}-hand{starts}, lengths in {unit}"
    canvas.entitle(limits.designation, words)
    canvas.say(f"Axial section of {limits.designation}, {words}, to one scale.")


def _labels(
    canvas: Canvas, view: View, section: _Section, pitch_diameter_cut: float | None
) -> None:
    """Write the limits beside the plot, each led to its radius."""
    limits = section.limits
    rows: list[Row] = []
    for name, span in (("major", limits.major_diameter), ("pitch", limits.pitch_diameter),
                       ("minor", limits.minor_diameter)):  # fmt: skip
        rows += _rows(name, span)
        canvas.say(f"{name.capitalize()} diameter {_said(span)}.")
    if section.both.least.root is None:
        name, end = ("minor", "least") if limits.side == "external" else ("major", "greatest")
        rp = section.both.least.pitch / 2
        sharp = sharp_radius(limits.basic, limits.side, rp)
        rows.append(Row(sharp, f"{name} diameter: no {end} limit", "dim"))
    if pitch_diameter_cut is not None:
        text = f"pitch diameter as cut {pitch_diameter_cut:.6g}"
        rows.append(Row(pitch_diameter_cut / 2, text, "cut"))
        canvas.say(f"{text[0].upper()}{text[1:]}.")
    rows.sort(key=lambda row: -row.radius)
    edge = view.spot(section.pitch, 0.0)[0]
    true = [view.spot(0.0, row.radius)[1] for row in rows]
    at = spread(true, LINE_HEIGHT)
    for row, begin, end_at in zip(rows, true, at, strict=True):
        bent = [(edge + 2, begin), (edge + 8, begin), (LABELS_AT - 12, end_at)]
        canvas.polyline([*bent, (LABELS_AT - 5, end_at)], row.kind)
        canvas.write((LABELS_AT, end_at + 5.0), row.text, "")


def _inset(canvas: Canvas, section: _Section, scale: float) -> None:
    """Draw the flank at the pitch line, magnified so that the tolerance can be read."""
    box = INSET
    most, least = section.both.most.pitch / 2, section.both.least.pitch / 2
    middle = (most + least) / 2
    half = max(1.8 * abs(most - least), section.pitch / 200)
    edge = groove_edges(section.limits.basic, section.limits.side, middle, middle)[1]
    wide = half * box.width / box.height
    view = fitted(box, (edge - wide, middle - half), (edge + wide, middle + half))
    canvas.window("inset", box)
    section.draw(canvas, view)
    if section.cut:
        canvas.line(view.spot(edge - wide, middle), view.spot(edge + wide, middle), "axis")
    canvas.end()
    canvas.add("rect", x=box.left, y=box.top, width=box.width, height=box.height, class_="line")
    canvas.write((box.left, box.top - 24), "flank at the pitch line", "small")
    canvas.write((box.left, box.top - 8), f"{view.scale / scale:.3g} times the scale", "small")


class Row(NamedTuple):
    """A label: the radius it belongs to, its words, the kind of its line."""

    radius: float
    text: str
    kind: str


def _rows(name: str, span: Span) -> list[Row]:
    """Return a label for each limit that is set."""
    found: list[Row] = []
    for which, value in (("max", span.max), ("min", span.min)):
        if value is not None:
            text = f"{name} diameter {which} {_plain(value)}"
            found.append(Row(float(value) / 2, text, "dim"))
    return found


def _plain(value: Decimal) -> str:
    """Return a limit with its own digits, never with an exponent; a converted one, rounded.

    >>> _plain(Decimal("0.8270")), _plain(Decimal("0.8270") / Decimal("25.4"))
    ('0.8270', '0.03256')
    """
    exponent = value.as_tuple().exponent
    long = isinstance(exponent, int) and exponent < -5
    return f"{value.quantize(Decimal('0.00001')) if long else value:f}"


def _said(span: Span) -> str:
    """Return a pair of limits in words."""
    least = "no lower limit" if span.min is None else f"from {_plain(span.min)}"
    most = "no upper limit" if span.max is None else f"to {_plain(span.max)}"
    return f"{least} {most}" if span.min is not None and span.max is not None else (
        f"{least}, {most}"
    )  # fmt: skip


def spread(places: Sequence[float], least: float) -> list[float]:
    """Return ascending places moved apart to at least `least`, keeping their middle.

    >>> spread([10.0, 12.0, 40.0], 10.0)
    [6.0, 16.0, 40.0]
    """
    groups: list[tuple[float, int]] = []
    for place in places:
        groups.append((place, 1))
        while len(groups) > 1:
            (a, m), (b, n) = groups[-2:]
            if b - a >= least * (m + n) / 2:
                break
            groups[-2:] = [((a * m + b * n) / (m + n), m + n)]
    return [
        middle + (i - (count - 1) / 2) * least for middle, count in groups for i in range(count)
    ]


def _legend(canvas: Canvas, cut: bool) -> None:
    """Say what each line and area means."""
    at = HEIGHT - 14.0
    items = [("basic", "basic profile"), ("band", "tolerance, most to least material")]
    if cut:
        items.append(("cut", "groove as cut"))
    x = PLOT.left
    for kind, text in items:
        if kind == "band":
            canvas.add("rect", x=x, y=at - 11, width=24.0, height=12.0, class_=kind)
        else:
            canvas.line((x, at - 5), (x + 24, at - 5), kind)
        canvas.write((x + 30, at), text, "")
        x += 46 + 0.95 * LETTER * len(text)
