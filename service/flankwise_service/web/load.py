"""Loads what was asked through its schema, or says everything that is wrong with it at once."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any
from urllib.parse import parse_qsl

import marshmallow
from marshmallow import fields as base

from flankwise_service.core.errors import Fault
from flankwise_service.web.fields import (
    NOT_AN_OBJECT,
    UNKNOWN_FIELD,
    Flag,
    Number,
    Schema,
    asked_unit,
    near_misses,
)
from flankwise_service.web.problems import Problem, shown

MOST_FAULTS = 100
MOST_PARAMETERS = 50
_NUMBER = re.compile(r"-?(?:0|[1-9]\d{0,29})(?:\.\d{1,40})?(?:[eE][+-]?\d{1,3})?\Z", re.ASCII)
_WORDS = {"true": True, "false": False}


def load(schema: Schema, raw: Any) -> dict[str, Any]:
    """Return `raw` loaded by `schema`; raise the 422 problem that lists every fault."""
    unit = raw.get("unit") if type(raw) is dict else None
    token = asked_unit.set(unit if unit in ("in", "mm") else None)
    try:
        loaded: dict[str, Any] = schema.load(raw)
    except marshmallow.ValidationError as error:
        raise bad_values(list(faults_of(error.messages, schema, raw))) from None
    finally:
        asked_unit.reset(token)
    return loaded


def bad_values(faults: list[Fault]) -> Problem:
    """Return the 422 problem for faults found while loading."""
    more = f" (the first {MOST_FAULTS} of {len(faults)})" if len(faults) > MOST_FAULTS else ""
    told = faults[:MOST_FAULTS]
    detail = "; ".join(fault.detail for fault in told[:5])
    if len(told) > 5:
        detail += f"; and {len(faults) - 5} more"
    return Problem("bad_values", detail + more, told)


def faults_of(messages: Any, schema: Any, raw: Any, pointer: str = "") -> Iterator[Fault]:
    """Yield the faults in marshmallow's tree of messages, each with its pointer."""
    if isinstance(messages, dict):
        for key, inner in messages.items():
            if key == "_schema":
                yield from faults_of(inner, schema, raw, pointer)
            else:
                yield from faults_of(
                    inner, _schema_below(schema, key), _below(raw, key), f"{pointer}/{escaped(key)}"
                )
        return
    for message in messages:
        yield _fault_of(message, schema, raw, pointer)


def escaped(key: object) -> str:
    """Return `key` as one step of a JSON pointer (RFC 6901, section 3), long ones cut.

    >>> escaped("a/b~c")
    'a~1b~0c'
    """
    return str(shown(str(key))).replace("~", "~0").replace("/", "~1")


def query(schema: Schema, text: str, cap: int) -> dict[str, Any]:
    """Return the query `text` as the object it stands for, numbers and flags read as such."""
    if len(text) > cap:
        raise Problem("query_too_long", f"the query has {len(text)} characters, allowed are {cap}")
    try:
        pairs = parse_qsl(
            text, keep_blank_values=True, errors="strict", max_num_fields=MOST_PARAMETERS
        )
    except (UnicodeDecodeError, ValueError):
        raise Problem(
            "bad_request",
            f"the query isn't percent-encoded UTF-8 text of at most {MOST_PARAMETERS} parameters",
        ) from None
    asked: dict[str, Any] = {}
    twice: dict[str, Fault] = {}
    for name, value in pairs:
        if name in asked:
            detail = f"the query gives {shown(name)} more than once"
            twice[name] = Fault(
                "/" + escaped(name), "given_twice", detail, "give it once", shown(value)
            )
        asked[name] = _typed(schema.fields.get(name), value)
    if twice:
        raise bad_values(list(twice.values()))
    return asked


def number_in(text: str) -> float | int | None:
    """Return the JSON number that `text` is, None where it isn't one.

    >>> number_in("0.50"), number_in("12"), number_in("1,5")
    (0.5, 12, None)
    """
    if not _NUMBER.match(text):
        return None
    return float(text) if set(text) & set(".eE") else int(text)


def _typed(field: base.Field[Any] | None, text: str) -> Any:
    if isinstance(field, Number):
        number = number_in(text)
        return text if number is None else number
    if isinstance(field, Flag):
        return _WORDS.get(text, text)
    return text


def _fault_of(message: object, schema: Any, raw: Any, pointer: str) -> Fault:
    if isinstance(message, Fault):
        return message.under(pointer)
    name = pointer.rpartition("/")[2]
    if message == UNKNOWN_FIELD:
        known = tuple(schema.fields) if isinstance(schema, marshmallow.Schema) else ()
        return Fault(
            pointer,
            UNKNOWN_FIELD,
            f"there is no field named {name}",
            "leave it out, or use one of " + ", ".join(known),
            shown(raw),
            near=near_misses(name, known),
        )
    if message == NOT_AN_OBJECT:
        return Fault(
            pointer, NOT_AN_OBJECT, "this must be a JSON object", "give an object", shown(raw)
        )
    return Fault(pointer, "bad_value", str(message), "see the contract", shown(raw))


def _schema_below(schema: Any, key: object) -> Any:
    """Return the schema, or else the field, that judges what stands below `key`."""
    field: Any = schema.fields.get(str(key)) if isinstance(schema, marshmallow.Schema) else schema
    if field is None:
        return schema  # an unknown name: its neighbours are the near misses
    if isinstance(field, base.List) and isinstance(key, int):
        field = field.inner
    return field.schema if isinstance(field, base.Nested) else field


def _below(raw: Any, key: Any) -> Any:
    try:
        return raw[key]
    except (KeyError, IndexError, TypeError):  # what is missing has no value to show
        return None
