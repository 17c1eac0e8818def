"""The contract as the reference pages show it: operations, and fields with units and ranges."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any
from urllib.parse import urlencode

from markupsafe import Markup, escape

from flankwise_service.core.errors import plain
from flankwise_service.web.health import contract_bytes

JSON = "application/json"
PROBLEM = "application/problem+json"
Json = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class FieldShown:
    """One field of a table."""

    name: str
    needed: bool
    kind: str
    of: str
    """Name of the schema it holds; empty where it holds none."""
    ranges: tuple[str, ...]
    left_out: str
    """What it means when it is left out."""
    words: str


@dataclass(frozen=True, slots=True)
class TableShown:
    """The fields of one object."""

    name: str
    words: str
    fields: tuple[FieldShown, ...]


@dataclass(frozen=True, slots=True)
class ExampleShown:
    """A request with what came of it."""

    name: str
    curl: str
    reply: str
    status: int
    faults: tuple[Json, ...] = ()


@dataclass(frozen=True, slots=True)
class OperationShown:
    """One operation."""

    id: str
    tag: str
    method: str
    path: str
    summary: str
    words: str
    asked: tuple[TableShown, ...]
    body_kind: str
    media_types: tuple[str, ...]
    replied: tuple[TableShown, ...]
    examples: tuple[ExampleShown, ...]
    refusals: tuple[ExampleShown, ...]
    statuses: tuple[tuple[str, str], ...]


@cache
def contract() -> dict[str, Any]:
    """Return the contract of this very version."""
    found: dict[str, Any] = json.loads(contract_bytes())
    return found


@cache
def operations() -> dict[str, OperationShown]:
    """Return every operation by its id, in the order of the contract."""
    return {
        described["operationId"]: _operation(path, method, described)
        for path, methods in contract()["paths"].items()
        for method, described in methods.items()
    }


def words(text: str) -> Markup:
    """Return a description as markup: paragraphs, lists and `code`; all else is escaped.

    >>> words("Feed in `unit` & minute.")
    Markup('<p>Feed in <code>unit</code> &amp; minute.</p>')
    """
    parts = []
    for block in re.split(r"\n\s*\n", text.strip()):
        lines = block.splitlines()
        if all(line.startswith(("- ", "  ")) for line in lines):
            items = re.split(r"^- ", block, flags=re.MULTILINE)[1:]
            parts.append(Markup("<ul>%s</ul>") % Markup("").join(map(_item, items)))
        else:
            parts.append(Markup("<p>%s</p>") % _inline(" ".join(lines)))
    return Markup("").join(parts)


def _item(text: str) -> Markup:
    return Markup("<li>%s</li>") % _inline(" ".join(text.split()))


def _inline(text: str) -> Markup:
    return Markup(re.sub(r"`([^`]+)`", r"<code>\1</code>", str(escape(text))))


def _operation(path: str, method: str, described: Json) -> OperationShown:
    responses = {status: _followed(reply) for status, reply in described["responses"].items()}
    content = responses["200"]["content"]
    body_kind, asked = _asked(described)
    refused = responses.get("422", {}).get("content", {}).get(PROBLEM, {}).get("examples", {})
    sent = _requests(described, body_kind)
    return OperationShown(
        id=described["operationId"],
        tag=described["tags"][0],
        method=method.upper(),
        path=path,
        summary=described["summary"],
        words=described["description"],
        asked=asked,
        body_kind=body_kind,
        media_types=tuple(content),
        replied=tuple(_tables(content.get(JSON, {}).get("schema", {}))),
        examples=tuple(_examples(path, content, sent, body_kind)),
        refusals=tuple(
            ExampleShown(
                one["summary"], _curl(path, sent.get(key), body_kind, ""),
                one["value"]["title"], one["value"]["status"], tuple(one["value"]["faults"]),
            )
            for key, one in refused.items()
        ),
        statuses=tuple((status, reply["description"]) for status, reply in responses.items()),
    )  # fmt: skip


def _asked(described: Json) -> tuple[str, tuple[TableShown, ...]]:
    body = described.get("requestBody")
    if body is None:
        fields = tuple(
            _field(one["name"], {**one["schema"], "description": one["description"]},
                   needed=one["required"])
            for one in described.get("parameters", ())
        )  # fmt: skip
        return "", (TableShown("", "", fields),) if fields else ()
    kind, media = next(iter(body["content"].items()))
    return kind, tuple(_tables(media["schema"].get("x-each-line", media["schema"])))


def _requests(described: Json, body_kind: str) -> dict[str, Any]:
    """Return the recorded requests by the key of their example."""
    body = described.get("requestBody")
    if body is not None:
        examples = body["content"][body_kind].get("examples", {})
        return {key: one["value"] for key, one in examples.items()}
    found: dict[str, dict[str, Any]] = {}
    for parameter in described.get("parameters", ()):
        for key, one in parameter.get("examples", {}).items():
            found.setdefault(key, {})[parameter["name"]] = one["value"]
    return dict(found)


def _examples(
    path: str, content: Json, sent: Mapping[str, Any], body_kind: str
) -> Iterator[ExampleShown]:
    first = next(iter(content))
    for kind, media in content.items():
        for key, one in media.get("examples", {}).items():
            value = one["value"]
            reply = value if isinstance(value, str) else _pretty(value)
            accept = "" if kind == first else kind
            yield ExampleShown(
                one["summary"], _curl(path, sent.get(key), body_kind, accept), reply, 200
            )


def _curl(path: str, asked: Any, body_kind: str, accept: str) -> str:
    parts = ["curl", "-s"]
    if accept:
        parts += ["-H", f"Accept: {accept}"]
    address = "http://127.0.0.1:8000" + path
    if asked is not None and not body_kind and asked:
        address += "?" + urlencode({name: _plain(value) for name, value in asked.items()})
    parts.append(address)
    line = shlex.join(parts)
    if not body_kind:
        return line
    text = asked if isinstance(asked, str) else _pretty(asked)
    how = f"-H 'Content-Type: {body_kind}' --data-binary @-"
    return f"{line} {how} <<'END'\n{text}\nEND"


def _plain(value: Any) -> str:
    return json.dumps(value) if isinstance(value, (bool, int, float)) else str(value)


def _pretty(value: Any) -> str:
    return json.dumps(value, indent=1, ensure_ascii=False)


def _followed(value: Json) -> Json:
    if "$ref" not in value:
        return value
    found: Any = contract()
    for step in value["$ref"].removeprefix("#/").split("/"):
        found = found[step]
    return dict(found)


def _tables(schema: Json) -> Iterator[TableShown]:
    """Yield the table of a schema, and then one of each that it holds, each once."""
    waiting, seen = list(_named(schema)), set[str]()
    while waiting:
        name = waiting.pop(0)
        if name in seen:
            continue
        seen.add(name)
        whole = contract()["components"]["schemas"][name]
        needed = whole.get("required", ())
        fields = whole.get("properties", {})
        yield TableShown(
            name, whole.get("description", ""),
            tuple(_field(key, inner, needed=key in needed) for key, inner in fields.items()),
        )  # fmt: skip
        waiting += [one for inner in fields.values() for one in _named(inner)]


def _named(schema: Json) -> Iterator[str]:
    if "$ref" in schema:
        yield schema["$ref"].rpartition("/")[2]
    for one in schema.get("anyOf", ()):
        yield from _named(one)
    for key in ("items", "additionalProperties"):
        if isinstance(schema.get(key), dict):
            yield from _named(schema[key])


def _field(name: str, schema: Json, *, needed: bool) -> FieldShown:
    left_out = "" if needed or "default" not in schema else json.dumps(schema["default"])
    return FieldShown(
        name, needed, _kind(schema), next(_named(schema), ""), tuple(_ranges(schema)), left_out,
        schema.get("description", ""),
    )  # fmt: skip


KINDS = {
    "string": "text", "number": "number", "integer": "whole number", "boolean": "true or false",
    "object": "object",
}  # fmt: skip


def _kind(schema: Json) -> str:
    """Return what a value is, in words."""
    kinds = schema.get("type", [])
    kinds = [kinds] if isinstance(kinds, str) else kinds
    or_null = " or null" if "null" in kinds or "anyOf" in schema else ""
    if "enum" in schema:
        return " | ".join(json.dumps(word) for word in schema["enum"])
    if "array" in kinds:
        return f"list of {_kind(schema['items'])}{or_null}"
    if isinstance(schema.get("additionalProperties"), dict):
        return f"{_kind(schema['additionalProperties'])}, by name"
    named = next(_named(schema), "")
    if named:
        return named + or_null
    return (KINDS[next(kind for kind in kinds if kind != "null")] + or_null) if kinds else "any"


def _ranges(schema: Json) -> Iterator[str]:
    """Yield the ranges of a value, one for each unit where they differ."""
    by_unit = schema.get("x-limits-by-unit")
    above = "above " if "exclusiveMinimum" in schema else ""
    if by_unit:
        yield from (
            f"{above}{plain(low)} to {plain(high)} {unit}" for unit, (low, high) in by_unit.items()
        )
        return
    low, high = schema.get("minimum", schema.get("exclusiveMinimum")), schema.get("maximum")
    if low is not None and high is not None:
        yield f"{above}{plain(low, 12)} to {plain(high, 12)}"
    if "maxLength" in schema:
        yield f"{schema.get('minLength', 0)} to {schema['maxLength']} characters"
    if "maxItems" in schema:
        yield f"{schema.get('minItems', 0)} to {schema['maxItems']} items"
    if isinstance(schema.get("items"), dict):
        yield from (f"each {one}" for one in _ranges(schema["items"]))
