"""Plots as SVG: bars with a goal, and lines over logarithmic axes. Plain shapes and text only."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from math import ceil, floor, log10

from bench.goals import Goal

WIDE, HIGH = 760, 420
LEFT, RIGHT, TOP, BOTTOM = 80, 190, 46, 52
INKS = ("#0b5394", "#b45f06", "#38761d", "#741b47", "#444444")


def bars(title: str, goals: Sequence[Goal]) -> str:
    """Return one bar for each figure, a mark at its goal, and in words whether it was met."""
    step, text = 34, 330
    high = TOP + step * len(goals) + 20
    greatest = max(max(goal.figure, goal.aim or 0) for goal in goals) or 1.0
    scale = (WIDE - text - 130) / greatest
    parts = [_text(16, 26, title, size=16)]
    for place, goal in enumerate(goals):
        y = TOP + step * place
        ink = INKS[1] if goal.met is False else INKS[0]
        parts.append(_text(text - 10, y + 16, goal.name, anchor="end"))
        parts.append(
            f'<rect x="{text}" y="{y + 2}" width="{goal.figure * scale:.1f}" height="20" fill="{ink}"/>'
        )
        if goal.aim is not None:
            x = text + goal.aim * scale
            parts.append(_line(x, y - 2, x, y + 26, "#000", 2))
        said = {None: "", True: " met", False: " short"}[goal.met]
        end = text + max(goal.figure, goal.aim or 0) * scale
        parts.append(_text(end + 8, y + 16, f"{goal.figure:.3g} {goal.unit}{said}"))
    return _page(high, parts)


def lines(
    title: str, across: str, up: str, curves: Mapping[str, Sequence[tuple[float, float]]]
) -> str:
    """Return curves over logarithmic axes, with decades as grid."""
    points = [point for curve in curves.values() for point in curve]
    x_low, x_high = _decades([x for x, _ in points])
    y_low, y_high = _decades([y for _, y in points])

    def place(x: float, y: float) -> tuple[float, float]:
        return (
            LEFT + (log10(x) - x_low) / (x_high - x_low) * (WIDE - LEFT - RIGHT),
            HIGH - BOTTOM - (log10(y) - y_low) / (y_high - y_low) * (HIGH - TOP - BOTTOM),
        )

    parts = [_text(16, 26, title, size=16)]
    for power in range(x_low, x_high + 1):
        x, bottom = place(10.0**power, 10.0**y_low)
        parts += [
            _line(x, TOP, x, bottom, "#ddd"),
            _text(x, bottom + 18, f"{10.0**power:g}", anchor="middle"),
        ]
    for power in range(y_low, y_high + 1):
        left, y = place(10.0**x_low, 10.0**power)
        parts += [
            _line(left, y, WIDE - RIGHT, y, "#ddd"),
            _text(left - 8, y + 4, f"{10.0**power:g}", anchor="end"),
        ]
    parts.append(_text((LEFT + WIDE - RIGHT) / 2, HIGH - 12, across, anchor="middle"))
    parts.append(_text(16, TOP - 6, up))
    for ink, (name, curve) in zip(INKS, curves.items(), strict=False):
        spots = [place(x, y) for x, y in curve]
        way = " ".join(f"{x:.1f},{y:.1f}" for x, y in spots)
        parts.append(f'<polyline points="{way}" fill="none" stroke="{ink}" stroke-width="2"/>')
        parts += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3" fill="{ink}"/>' for x, y in spots]
        parts.append(_text(spots[-1][0] + 8, spots[-1][1] + 4, name, ink=ink))
    return _page(HIGH, parts)


def _decades(values: Sequence[float]) -> tuple[int, int]:
    low, high = floor(log10(min(values))), ceil(log10(max(values)))
    return low, max(high, low + 1)


def _text(
    x: float, y: float, words: str, anchor: str = "start", ink: str = "#000", size: int = 12
) -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="{ink}" font-size="{size}">'
        f"{escape(words)}</text>"
    )


def _line(x1: float, y1: float, x2: float, y2: float, ink: str, width: int = 1) -> str:
    return (
        f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="{ink}" '
        f'stroke-width="{width}"/>'
    )


def _page(high: float, parts: Sequence[str]) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {high}" width="{WIDE}" '
        f'height="{high}" font-family="sans-serif"><rect width="100%" height="100%" fill="#fff"/>'
        + "".join(parts) + "</svg>\n"
    )  # fmt: skip
