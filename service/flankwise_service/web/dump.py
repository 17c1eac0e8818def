"""Turns results of core into JSON bytes. The same result always gives the same bytes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

import orjson

from flankwise_service.core.path.segment import Point, Segment


def to_json(result: object) -> bytes:
    """Return `result` as JSON: dataclasses, named tuples and dicts as objects, Decimal as number.

    >>> from flankwise_service.core.path.segment import Point
    >>> to_json({"pitch": Decimal("1.50"), "at": Point(0.0, 1.0, 2.0)})
    b'{"pitch":1.5,"at":{"x":0.0,"y":1.0,"z":2.0}}'
    """
    return orjson.dumps(result, default=plain, option=orjson.OPT_SERIALIZE_NUMPY)


def in_unit(unit: str, result: object) -> dict[str, Any]:
    """Return a result's fields with the unit of its lengths, so that a reply stands alone.

    >>> from flankwise_service.core.path.segment import Point
    >>> in_unit("mm", Point(0.0, 1.0, 2.0))
    {'unit': 'mm', 'x': 0.0, 'y': 1.0, 'z': 2.0}
    """
    if is_dataclass(result):
        return {"unit": unit, **{each.name: getattr(result, each.name) for each in fields(result)}}
    as_dict = getattr(result, "_asdict", None)
    return {"unit": unit, **(result if as_dict is None else as_dict())}  # type: ignore[dict-item]


def plain(value: object) -> Any:
    """Return a value that orjson doesn't know as one that it does."""
    if type(value) is Segment:
        return _segment(value, _place(value.begin), _place(value.end))
    if type(value) is Decimal:
        return float(value)
    as_dict = getattr(value, "_asdict", None)
    if as_dict is not None:
        return as_dict()
    if isinstance(value, (set, frozenset)):
        return sorted(value)
    raise TypeError(f"{type(value).__name__} has no place in a reply")


def segments(pieces: Iterable[Segment]) -> list[dict[str, object]]:
    """Return the segments of a path as the objects of the contract.

    Each begins where the one before ends, so most places are made into an object only once.
    """
    objects = []
    known, place = None, {}
    for piece in pieces:
        begin = place if piece[2] is known else _place(piece[2])
        known = piece[3]
        place = _place(known)
        objects.append(_segment(piece, begin, place))
    return objects


def _segment(piece: Segment, first: dict[str, float], last: dict[str, float]) -> dict[str, object]:
    # written out: it is the hot spot of dumps
    kind, purpose, _, _, centre, sense, sweep, feed, radial_pass, start = piece
    return {
        "kind": kind,
        "purpose": purpose,
        "begin": first,
        "end": last,
        "centre": centre,
        "sense": sense,
        "sweep": sweep,
        "feed": feed,
        "radial_pass": radial_pass,
        "start": start,
    }


def _place(point: Point) -> dict[str, float]:
    return {"x": point[0], "y": point[1], "z": point[2]}
