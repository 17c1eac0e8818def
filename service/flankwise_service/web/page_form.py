"""Forms of the page: what was typed, read for the service's own schemas, and shown again.

A form's fields are named by their place in the request they stand for, `thread/length` for what
has the JSON pointer (RFC 6901) `/thread/length`. So every fault of a schema or of core already says
which field it belongs to.
What is left empty is left out; a length may be typed as a fraction, as the trade does: 1-1/4.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Literal

import orjson
from marshmallow import fields as base
from werkzeug.datastructures import MultiDict

from flankwise_service.core.errors import Fault
from flankwise_service.web.fields import (
    Count,
    Described,
    Flag,
    ListOf,
    Nested,
    Number,
    OneOf,
    Schema,
)
from flankwise_service.web.load import number_in

LONGEST_TYPED = 200
_FRACTION = re.compile(
    r"(?P<sign>[-+]?)(?:(?P<whole>\d{1,4})(?:\s*-\s*|\s+))?(?P<over>\d{1,4})\s*/\s*(?P<under>\d{1,4})",
    re.ASCII,
)
_DECIMAL = re.compile(
    r"(?P<sign>[-+]?)(?P<whole>\d*)(?:\.(?P<part>\d*))?(?P<power>[eE][-+]?\d{1,3})?", re.ASCII
)
_FLAGS = {"true": True, "false": False}
Kind = Literal["number", "text", "choice", "radio", "tick"]


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the words a field takes, and how it is shown."""

    value: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Input:
    """One field as the page shows it."""

    name: str
    id: str
    kind: Kind
    label: str
    hint: str
    required: bool
    value: str
    choices: tuple[Choice, ...]
    faults: tuple[Fault, ...]


def field_at(schema: Schema, pointer: str) -> base.Field[Any] | None:
    """Return the field of a single value, or list of them, that `pointer` names, else None."""
    fields = _fields_to(schema, pointer)
    return None if not fields or isinstance(fields[-1], Nested) else fields[-1]


def _fields_to(schema: Schema, pointer: str) -> list[base.Field[Any]]:
    """Return the fields on the way to the one that `pointer` names; none where there's none."""
    inside: Any = schema
    found: list[base.Field[Any]] = []
    for step in pointer.split("/")[1:]:
        field = inside.fields.get(step) if inside is not None else None
        if field is None:
            return []
        found.append(field)
        inside = field.schema if isinstance(field, Nested) else None
    return found


def read(schema: Schema, typed: MultiDict[str, str], skip: Iterable[str] = ()) -> dict[str, Any]:
    """Return the request that the typed fields stand for; names that aren't fields stay at the top.

    >>> from flankwise_service.web.schemas.plan import JobAsk
    >>> read(JobAsk(), MultiDict({"stock/across_flats": "1-1/4", "boss/depth": " ", "x": "1"}))
    {'stock': {'across_flats': 1.25}, 'x': '1'}
    """
    asked: dict[str, Any] = {}
    for name in dict.fromkeys(typed):
        texts = [text.strip() for text in typed.getlist(name) if text.strip()]
        if not texts or name in skip:
            continue
        field = field_at(schema, "/" + name)
        if field is None:
            asked[name] = texts[0]
            continue
        *above, last = name.split("/")
        place = asked
        for step in above:
            place = place.setdefault(step, {})
        place[last] = texts if isinstance(field, ListOf) else _value(field, texts[0])
    return asked


def _value(field: base.Field[Any], text: str) -> Any:
    if isinstance(field, Flag):
        return _FLAGS.get(text, text)
    if isinstance(field, Number):
        return _number(text, isinstance(field, Count))
    return text


def _number(text: str, whole: bool) -> Any:
    """Return the number a person means, or the text itself where it can't be told.

    >>> [_number(text, False) for text in ("7/8", "1 1/4", ".5", "+2", "-1/2", "3/0", "1,5")]
    [0.875, 1.25, 0.5, 2, -0.5, '3/0', '1,5']
    """
    cut = _FRACTION.fullmatch(text)
    if cut and int(cut["under"]) and not whole:
        size = int(cut["whole"] or 0) + Fraction(int(cut["over"]), int(cut["under"]))
        return float(-size if cut["sign"] == "-" else size)
    loose = _DECIMAL.fullmatch(text)
    if loose is None or not (loose["whole"] or loose["part"]):
        return text
    sign = "-" if loose["sign"] == "-" else ""
    part = f".{loose['part']}" if loose["part"] else ""
    found = number_in(f"{sign}{loose['whole'].lstrip('0') or '0'}{part}{loose['power'] or ''}")
    return text if found is None else found


def typed_from(document: Any, pointer: str = "") -> Iterator[tuple[str, str]]:
    """Yield the fields that fill a form with a request, as `MultiDict` takes them.

    >>> list(typed_from({"thread": {"length": 0.5}, "accept": ["a"], "boss": None}))
    [('thread/length', '0.5'), ('accept', 'a')]
    """
    if isinstance(document, dict):
        for name, value in document.items():
            yield from typed_from(value, f"{pointer}/{name}".lstrip("/"))
    elif isinstance(document, list):
        for value in document:
            yield from typed_from(value, pointer)
    elif isinstance(document, str):
        yield pointer, document
    elif document is not None:
        yield pointer, orjson.dumps(document).decode()


def said(fault: Fault, schema: Schema) -> Fault:
    """Return a fault in words for someone who types into a form instead of writing JSON."""
    field = field_at(schema, fault.pointer)
    if fault.code == "not_a_number" and isinstance(field, Number):
        example = "4" if isinstance(field, Count) else "0.875"
        return replace(
            fault,
            detail=f'"{fault.value}" in {field.words} can\'t be read as a number',
            change=f"type digits with a point for decimals and no unit, such as {example}",
        )
    if fault.code == "missing" and isinstance(field, OneOf):
        return replace(fault, change="choose " + " or ".join(field.choices).replace("_", " "))
    if fault.code == "missing" and field is None:
        return replace(fault, change="fill this part of the form in")
    return fault


def inputs(
    schema: Schema,
    pointers: Sequence[str],
    typed: Mapping[str, str],
    faults: Sequence[Fault],
    words: Mapping[str, str],
) -> list[Input]:
    """Return the fields at `pointers` as the page shows them, each with its own faults."""
    return [_input(schema, pointer, typed, faults, words) for pointer in pointers]


def _input(
    schema: Schema,
    pointer: str,
    typed: Mapping[str, str],
    faults: Sequence[Fault],
    words: Mapping[str, str],
) -> Input:
    fields = _fields_to(schema, pointer)
    field = fields[-1] if fields else None
    if not isinstance(field, Described):
        raise LookupError(f"the form shows a field the request doesn't have: {pointer}")
    value = typed.get(pointer[1:], "")[:LONGEST_TYPED]
    label = words.get(pointer) or field.words.capitalize()
    kind, choices = _kind(field, value)
    return Input(
        name=pointer[1:],
        id=id_of(pointer),
        kind=kind,
        label=label,
        hint="" if _alike(field.description, label) else field.description,
        required=all(one.required for one in fields),
        value=value,
        choices=choices,
        faults=tuple(one for one in faults if one.pointer == pointer),
    )


def _alike(hint: str, label: str) -> bool:
    """Return whether a hint only says the label again."""
    return hint.lower().strip(" .") == label.lower()


def _kind(field: base.Field[Any], value: str) -> tuple[Kind, tuple[Choice, ...]]:
    default = None if callable(field.load_default) else field.load_default
    if isinstance(field, OneOf):
        shown = tuple(Choice(word, word, word == value) for word in field.choices)
        if field.required:
            return "radio", shown
        usual = f"as usual: {default}" if default else "not stated"
        return "choice", (Choice("", usual, not value), *shown)
    if isinstance(field, Flag) and default is True:
        pairs = (("", "as usual: yes"), ("true", "yes"), ("false", "no"))
        return "choice", tuple(Choice(word, text, word == value) for word, text in pairs)
    if isinstance(field, Flag):
        return "tick", (Choice("true", "", value == "true"),)
    return ("number" if isinstance(field, Number) else "text"), ()


def id_of(pointer: str) -> str:
    """Return the id of the field (or part of a form) that a pointer names.

    >>> id_of("/thread/length")
    'at-thread-length'
    """
    return "at" + re.sub(r"[^A-Za-z0-9_]", "-", pointer)
