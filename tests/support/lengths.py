"""Walks the fields of a schema, nested ones and lists' insides too."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from marshmallow import Schema
from marshmallow import fields as base


def fields_below(schema: Schema) -> Iterator[base.Field[Any]]:
    """Yield every field of a schema, whatever it stands in."""
    for field in schema.fields.values():
        yield from _within(field)


def _within(field: base.Field[Any]) -> Iterator[base.Field[Any]]:
    yield field
    if isinstance(field, base.Nested):
        yield from fields_below(field.schema)
    elif isinstance(field, base.List):
        yield from _within(field.inner)
