"""Turns results of core into JSON bytes. The same result always gives the same bytes."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

import orjson

from flankwise_service.core.path.segment import Segment


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
        return segment(value)
    if type(value) is Decimal:
        return float(value)
    as_dict = getattr(value, "_asdict", None)
    if as_dict is not None:
        return as_dict()
    if isinstance(value, (set, frozenset)):
        return sorted(value)
    raise TypeError(f"{type(value).__name__} has no place in a reply")


def segment(piece: Segment) -> dict[str, object]:
    """Return a segment as the object of the contract (written out: it is the hot spot of dumps)."""
    kind, purpose, begin, end, centre, sense, sweep, feed, radial_pass, start = piece
    return {
        "kind": kind,
        "purpose": purpose,
        "begin": {"x": begin[0], "y": begin[1], "z": begin[2]},
        "end": {"x": end[0], "y": end[1], "z": end[2]},
        "centre": centre,
        "sense": sense,
        "sweep": sweep,
        "feed": feed,
        "radial_pass": radial_pass,
        "start": start,
    }
