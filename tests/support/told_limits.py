"""Takes refusals at their word: the least and greatest they tell are given back as the value."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from support.contract import application, fresh, operations

Schema = Mapping[str, Any]
Place = tuple[str | int, ...]
Layer = Literal["field", "work"]
"""Who refuses: the field for itself, or the computation."""
BEYOND: tuple[float, ...] = (1e15, -1e15)
FIGURE = r"(-?\d[\d.]*(?:e[+-]?\d+)?)(?!\d)"
OTHER_THINGS = r"(?!\.?\s*(?:percent|turns|passes|pieces|levels|rounds|digits|segments|pitches))"
RANGE = re.compile(rf"from {FIGURE} to {FIGURE}")
END = re.compile(rf"at (?:least|most) {FIGURE}{OTHER_THINGS}")
OPEN_END = re.compile(rf"{FIGURE}(?: \S+)? or (?:more|less)")
POWER_OF_TEN = re.compile(r"\d[eE][+-]?(?!15)\d")
"""But for the value asked for, which is nobody's."""
ROUNDED = 0.01
DEEPEST = 4
"""How many limits of one place are followed, each told where the last one was given back."""


NOT_ASKED = {"batch", "batch_stream"}
"""Each of their requests is one of another operation."""


@dataclass(frozen=True)
class Case:
    """One number of one example, in one unit."""

    operation_id: str
    path: str
    body: Mapping[str, Any]
    place: Place

    @property
    def pointer(self) -> str:
        return "/" + "/".join(map(str, self.place))

    def refusal(self, value: float) -> tuple[Layer, list[dict[str, Any]]]:
        """Return who refuses the number when it is `value`, and the faults at its own pointer."""
        body = put(_body_of(self.operation_id), self.body, self.place, value)
        reply = application().test_client().post(self.path, json=body)
        assert reply.status_code in (200, 422), (reply.status_code, reply.get_data(as_text=True))
        if reply.status_code == 200:
            return "work", []
        problem = reply.get_json()
        layer: Layer = "field" if problem["code"] == "bad_values" else "work"
        return layer, [one for one in problem["faults"] if one["pointer"] == self.pointer]


def asked() -> list[str]:
    """Return the operations that take a request of their own."""
    return sorted(
        name for name, (_, method, _) in operations().items() if method == "POST"
        and name not in NOT_ASKED
    )  # fmt: skip


def cases(operation_id: str) -> list[Case]:
    """Return every number of every example of an operation that works, in either unit."""
    path, _, described = operations()[operation_id]
    found: dict[tuple[Place, str], Case] = {}
    for example in _examples(described):
        for place in number_places(_body_of(operation_id), example):
            for unit in ("mm", "in") if "unit" in example else ("",):
                body = {**example, "unit": unit} if unit else example
                found.setdefault((place, unit), Case(operation_id, path, body, place))
    return list(found.values())


def refused_again(case: Case) -> list[str]:
    """Return what is refused for the same reason though it was told as allowed, in words.

    What a field allows can still be refused where it meets the other values, by limits that are
    narrower by more than a rounding; these are then given back in their turn.
    """
    found: list[str] = []
    tried: set[tuple[Layer, str, float]] = set()
    ask: list[tuple[float, Layer, str, int]] = [(value, "work", "", 0) for value in BEYOND]
    while ask:
        value, teller, reason, depth = ask.pop()
        layer, faults = case.refusal(value)
        for fault in faults:
            said = f"{case.pointer} {value!r} of {case.body.get('unit')}: {fault['detail']}"
            if POWER_OF_TEN.search(fault["detail"] + fault["change"]):
                found.append(f"a power of ten: {said} | {fault['change']}")
            narrower = teller == "field" and layer == "work" and not _near(value, told(fault))
            if fault["code"] == reason and not narrower:
                found.append(f"{said} | {fault['change']}")
            for figure in told(fault) if depth < DEEPEST else ():
                if (layer, fault["code"], figure) not in tried:
                    tried.add((layer, fault["code"], figure))
                    ask.append((figure, layer, fault["code"], depth + 1))
    return found


def _near(value: float, limits: list[float]) -> bool:
    return any(abs(value - limit) <= ROUNDED * abs(limit) for limit in limits)


def told(fault: Mapping[str, Any]) -> list[float]:
    """Return the limits that a fault tells, as figures and in the words of what to change.

    >>> told({"least": 1.5, "greatest": None, "change": "give a pitch from 1.5 to 2.25 mm"})
    [1.5, 1.5, 2.25]
    >>> told({"least": None, "greatest": None, "change": "give at most 3.2, or at most 5 turns"})
    [3.2]
    """
    figures = [fault[end] for end in ("least", "greatest") if fault[end] is not None]
    said = [text for found in RANGE.findall(fault["change"]) for text in found]
    for ends in (END, OPEN_END):
        said += ends.findall(fault["change"])
    return figures + [float(text.rstrip(".")) for text in said]


def number_places(schema: Schema, body: Any, before: Place = ()) -> Iterator[Place]:
    """Yield the place of every number that a request may have, of a list the first item's."""
    shapes = list(_shapes(schema))
    if any(_is_number(shape) for shape in shapes):
        yield before
        return
    for shape in shapes:
        for name, inner in shape.get("properties", {}).items():
            given = body.get(name) if isinstance(body, Mapping) else None
            yield from number_places(
                inner, _least_of(inner) if given is None else given, (*before, name)
            )
        if "items" in shape and isinstance(body, list) and body:
            yield from number_places(shape["items"], body[0], (*before, 0))


def put(schema: Schema, body: Mapping[str, Any], place: Place, value: float) -> dict[str, Any]:
    """Return the request with `value` at a place; objects on the way that it lacks are made."""
    whole = copy.deepcopy(dict(body))
    at: Any = whole
    for step in place[:-1]:
        schema = _inner(schema, step)
        if isinstance(at, dict) and at.get(step) is None:
            at[step] = _least_of(schema)
        at = at[step]
    at[place[-1]] = int(value) if float(value).is_integer() else value
    return whole


@cache
def _body_of(operation_id: str) -> Schema:
    content = operations()[operation_id][2]["requestBody"]["content"]
    schema: Schema = content["application/json"]["schema"]
    return schema


def _examples(described: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    examples = described["requestBody"]["content"]["application/json"]["examples"]
    for example in examples.values():
        yield example["value"]


def _shapes(schema: Schema) -> Iterator[Schema]:
    if "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        yield from _shapes(fresh()["components"]["schemas"][name])
        return
    yield schema
    for choice in ("anyOf", "oneOf", "allOf"):
        for inner in schema.get(choice, ()):
            yield from _shapes(inner)


def _is_number(shape: Schema) -> bool:
    kinds = shape.get("type")
    return not {"number", "integer"}.isdisjoint([kinds] if isinstance(kinds, str) else kinds or ())


def _inner(schema: Schema, step: str | int) -> Schema:
    for shape in _shapes(schema):
        if isinstance(step, int) and "items" in shape:
            return shape["items"]  # type: ignore[no-any-return]
        if step in shape.get("properties", {}):
            return shape["properties"][step]  # type: ignore[no-any-return]
    raise KeyError(step)


def _least_of(schema: Schema) -> Any:
    """Return the least that a schema takes: what it requires, its examples, its limits."""
    shapes = list(_shapes(schema))
    for shape in shapes:
        for known in (shape.get("example"), *shape.get("examples", ()), *shape.get("enum", ())):
            if known is not None:
                return known
    for shape in shapes:
        if "properties" in shape:
            required = shape.get("required", ())
            return {name: _least_of(shape["properties"][name]) for name in required}
        if _is_number(shape):
            return max(shape.get("minimum", 0), min(shape.get("maximum", 1), 1))
        if "items" in shape:
            return [_least_of(shape["items"])] * max(1, shape.get("minItems", 1))
    return None
