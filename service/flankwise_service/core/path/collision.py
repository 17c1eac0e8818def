"""How near cutter, neck, shank and holder come to the stock, over the whole path.

The tool is a stack of cylinders, the stock a stack of prisms (round or hexagonal), so a gap splits
into one in the plane and one along Z: the distance is their hypotenuse where both are open, the
open one where one is closed, and where both are closed the tool is in the stock, by the
smaller of the two depths (negative). Between the marks of an outline each gap is monotone, so
the least distance is found by closed form or a bracketed root; only where both gaps are open
and work against each other a bracketed search is made.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice, pairwise

from flankwise_service.core.errors import Collision, Fault, Impossible, plain
from flankwise_service.core.path.outline import Move, root
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.solids import (
    Cylinder,
    Prism,
    Stock,
    StockPart,
    ToolPart,
    stock_prisms,
)
from flankwise_service.core.path.stretch import Stretch, stretches

THREADED: frozenset[StockPart] = frozenset({"boss", "hole wall"})
MILLED: frozenset[StockPart] = frozenset({"boss", "hole wall", "shoulder", "hole bottom"})
"""What the teeth cut when threading, and when milling the blank."""
Spanned = tuple[Stretch, float, float, float, float]
MOST_STRETCHES = 40_000
"""Pieces searched one by one: some 0.2 to 0.5 ms each."""
GOLDEN = (math.sqrt(5) - 1) / 2
GOLDEN_STEPS = 30
"""Narrow to 5e-7 of the way; the distance itself, flat there, to the square of that."""


@dataclass(frozen=True, slots=True)
class Approach:
    """The least clearance of one part of the tool from one part of the stock."""

    clearance: float
    """Negative: the tool is in the stock, by that much at least."""
    tool: ToolPart
    stock: StockPart
    segment: int
    """Which segment of the path, from 0."""
    place: Point
    """Of the lowest tooth's mid-plane, then."""


def gap_along_z(tool: Cylinder, stock: Prism, z: float) -> float:
    """Return the gap along Z, negative where the heights overlap."""
    return max(tool.low + z - stock.high, stock.low - (tool.high + z))


def gap_in_plane(tool: Cylinder, stock: Prism, place: Point) -> float:
    """Return the gap seen along Z, negative where tool and stock overlap."""
    return stock.outline.signed(place.x, place.y) - tool.radius


def distance(tool: Cylinder, stock: Prism, place: Point) -> float:
    """Return the distance of a part of the tool from a part of the stock, the tool at a place."""
    return _together(gap_in_plane(tool, stock, place), gap_along_z(tool, stock, place.z))


def closest_approaches(
    segments: Iterable[Segment],
    tool: tuple[Cylinder, ...],
    stock: Stock,
    cut: frozenset[StockPart] = THREADED,
) -> tuple[Approach, ...]:
    """Return the least clearance of each part of the tool from each part of the stock.

    The nearest pair comes first. The teeth are not measured against what they `cut` while they
    cut it; on every other move they are.

    Raises:
        BadInput, Impossible: see `stock_prisms`; or the path is too long to be searched: more
            than MOST_STRETCHES pieces, arcs that follow one another round the axis being one.

    >>> from flankwise_service.core.path.segment import Point, Segment
    >>> down = Segment("rapid", "plunge", Point(13.0, 0.0, 5.0), Point(13.0, 0.0, -9.0))
    >>> tool = (Cylinder("teeth", 0.0, 1.0, 2.0),)
    >>> found = closest_approaches([down], tool, Stock("external", 20.0, 10.0))
    >>> [(near.clearance, near.stock) for near in found]
    [(1.0, 'boss'), (1.0, 'shoulder')]
    """
    held = tuple(islice(stretches(segments, stock.centre), MOST_STRETCHES + 1))
    if len(held) > MOST_STRETCHES:
        raise Impossible(
            Fault(
                "/segments", "too_many_segments",
                f"a path of more than {MOST_STRETCHES} pieces can't be searched; arcs that follow "
                "one another round the thread's axis count as one",
                "give the thread as arcs, a wider chord tolerance, fewer passes or a part of it",
                greatest=MOST_STRETCHES,
            )
        )  # fmt: skip
    prisms = [(prism, _spanned(prism, held)) for prism in stock_prisms(stock)]
    approaches = [
        found
        for part in tool
        for prism, spanned in prisms
        if (found := _closest(part, prism, spanned, part.name == "teeth" and prism.name in cut))
    ]
    return tuple(sorted(approaches, key=lambda approach: approach.clearance))


def _spanned(stock: Prism, held: Iterable[Stretch]) -> list[Spanned]:
    """Return stretches with the bounds of their heights and of their distance from the edge."""
    bounds = stock.outline.bounds
    return [(one, one.low, one.high, *bounds(one.near, one.far)) for one in held]


def _closest(
    tool: Cylinder, stock: Prism, spanned: Iterable[Spanned], cutting: bool
) -> Approach | None:
    """Return the least clearance of one pair, over all stretches but those that cut, if told so.

    Bounds first: a stretch that holds its distance in the plane, or lies over the stock with
    all of its way, is nearest at an end of its z. The others are searched, the lowest bound first,
    as long as their bound is below the least clearance found.
    """
    best = math.inf
    unsure: list[tuple[float, int, Stretch]] = []
    at: tuple[Stretch, float] | None = None
    level = (stock.high + stock.low - tool.low - tool.high) / 2
    tool_low, tool_high, radius, floor, top = (
        tool.low,
        tool.high,
        tool.radius,
        stock.low,
        stock.high,
    )
    for stretch, low, high, near, far in spanned:
        if cutting and stretch.cutting:
            continue
        # `gap_along_z` where it is least, written out: a few hundred are looked at for each plan
        z = low if level < low else high if level > high else level
        height, least = max(tool_low + z - top, floor - (tool_high + z)), near - radius
        if height >= best or least >= best:
            continue
        bound, greatest = _together(least, height), far - radius
        if bound < best:
            if least == greatest or greatest <= 0 <= height:
                best = bound if least == greatest else height
                at = stretch, z
            else:
                unsure.append((bound, len(unsure), stretch))
    found = None
    if at is not None:
        index, place = at[0].at_height(at[1])
        found = Approach(best, tool.name, stock.name, index, place)
    for bound, _, stretch in sorted(unsure):
        if bound >= best:
            break
        found = _searched(tool, stock, stretch, best) or found
        best = math.inf if found is None else found.clearance
    return found


def _searched(tool: Cylinder, stock: Prism, stretch: Stretch, best: float) -> Approach | None:
    """Return the least clearance over a stretch by searching each of its moves, if below best."""
    found = None
    for index, segment in enumerate(stretch.segments, stretch.first):
        move = Move(segment)
        # no place of the move is nearer than its middle, less the way from there
        if distance(tool, stock, move.at(0.5)) - move.reach() < best:
            clearance, place = nearest(tool, stock, move)
            if clearance < best:
                best = clearance
                found = Approach(clearance, tool.name, stock.name, index, place)
    return found


def nearest(tool: Cylinder, stock: Prism, move: Move) -> tuple[float, Point]:
    """Return the least distance of two parts over one move, and the place it is at."""
    marks = [0.0, 1.0, *stock.outline.marks(move), *_height_marks(tool, stock, move)]
    shares = sorted({share for share in marks if 0 <= share <= 1})
    gaps = [_gaps(tool, stock, move.at(share)) for share in shares]
    best = min((_together(plane, height), place) for plane, height, place in gaps)
    for (low, first), (high, last) in pairwise(zip(shares, gaps, strict=True)):
        # each gap is monotone between two marks: nowhere is the distance less than this
        if _together(min(first[0], last[0]), min(first[1], last[1])) < best[0]:
            places = (move.at(share) for share in _between(tool, stock, move, low, high))
            best = min([best, *((distance(tool, stock, place), place) for place in places)])
    return best


def _gaps(tool: Cylinder, stock: Prism, place: Point) -> tuple[float, float, Point]:
    return gap_in_plane(tool, stock, place), gap_along_z(tool, stock, place.z), place


def _together(plane: float, height: float) -> float:
    """Return the distance that two gaps make."""
    return math.hypot(plane, height) if plane > 0 and height > 0 else max(plane, height)


def _height_marks(tool: Cylinder, stock: Prism, move: Move) -> Iterator[float]:
    """Yield the shares where the gap along Z opens, closes, or changes sides."""
    begin, rise = move.segment.begin.z, move.segment.rise
    above, below = stock.high - tool.low, stock.low - tool.high
    for z in (above, below, (above + below) / 2):
        if rise and math.isfinite(z):
            yield (z - begin) / rise


def _between(tool: Cylinder, stock: Prism, move: Move, low: float, high: float) -> Iterator[float]:
    """Yield further shares between two marks where the distance may be least."""

    def plane(place: Point) -> float:
        return gap_in_plane(tool, stock, place)

    def excess(place: Point) -> float:
        return plane(place) - gap_along_z(tool, stock, place.z)

    inner = [low, *root(plane, move, low, high), high]
    for left, right in pairwise(inner):
        yield from inner[1:-1]
        yield from root(excess, move, left, right)
        middle = move.at((left + right) / 2)
        if plane(middle) > 0 and gap_along_z(tool, stock, middle.z) > 0:
            yield _least(tool, stock, move, left, right)


def _least(tool: Cylinder, stock: Prism, move: Move, low: float, high: float) -> float:
    """Return the share between two where the distance is least, by golden section."""

    def at(share: float) -> float:
        return distance(tool, stock, move.at(share))

    first, second = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_first, at_second = at(first), at(second)
    for _ in range(GOLDEN_STEPS):
        if at_first < at_second:
            high, second, at_second = second, first, at_first
            first = high - GOLDEN * (high - low)
            at_first = at(first)
        else:
            low, first, at_first = first, second, at_second
            second = low + GOLDEN * (high - low)
            at_second = at(second)
    return (low + high) / 2


def refuse_collision(approaches: Iterable[Approach], least_clearance: float = 0.0) -> None:
    """Raise Collision with every pair nearer than `least_clearance`; else return.

    Raises:
        Collision: one fault for each pair, with place, parts and by how much.
    """
    faults = [
        Fault(
            "/cutter",
            "too_near" if near.clearance >= 0 else "meets_stock",
            f"the {near.tool} comes within {plain(near.clearance)} of the {near.stock} at "
            f"X{plain(near.place.x)} Y{plain(near.place.y)} Z{plain(near.place.z)} (segment "
            f"{near.segment + 1}); {plain(least_clearance)} is wanted",
            "take a longer reach or a slimmer tool, a shorter thread, or a deeper blank",
            near.clearance,
            least_clearance,
        )
        for near in approaches
        if near.clearance < least_clearance
    ]
    if faults:
        raise Collision(*faults)
