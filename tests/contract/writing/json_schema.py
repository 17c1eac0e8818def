"""Our fields as JSON Schema (2020-12, as OpenAPI 3.1 uses it): descriptions, units, limits."""

from __future__ import annotations

import inspect
from typing import Any

import marshmallow
from marshmallow import fields as base

from flankwise_service.web import fields

REF = "#/components/schemas/"
VISIBLE = "^[^\\u0000-\\u001f\\u007f-\\u009f\\u2028\\u2029]*$"


class Components:
    """The named schemas met so far. Those a request uses take no names that aren't written."""

    def __init__(self) -> None:
        self.schemas: dict[str, dict[str, Any]] = {}
        self._made: dict[str, type[fields.Schema]] = {}

    def ref(self, schema: type[fields.Schema], *, asked: bool) -> dict[str, Any]:
        """Return a reference to `schema`, noting it and what it holds."""
        name = schema.__name__
        known = self._made.setdefault(name, schema)
        if known is not schema:
            raise ValueError(
                f"two schemas are named {name}: {known.__module__}, {schema.__module__}"
            )
        if name not in self.schemas:
            self.schemas[name] = {}
            self.schemas[name].update(self._object(schema, asked=asked))
        elif asked and "additionalProperties" not in self.schemas[name]:
            self.schemas[name].clear()
            self.schemas[name].update(self._object(schema, asked=True))
        return {"$ref": REF + name}

    def _object(self, schema: type[fields.Schema], *, asked: bool) -> dict[str, Any]:
        made = schema()
        described: dict[str, Any] = {"type": "object"}
        if schema.__doc__ and schema.__doc__ != fields.Schema.__doc__:
            described["description"] = inspect.cleandoc(schema.__doc__)
        described["properties"] = {
            name: self.of(field, asked=asked) for name, field in made.fields.items()
        }
        required = [name for name, field in made.fields.items() if field.required]
        if required:
            described["required"] = required
        if asked:
            described["additionalProperties"] = False
        return described

    def of(self, field: base.Field[Any], *, asked: bool) -> dict[str, Any]:
        """Return the JSON Schema of one field, limits included where it is asked for."""
        shape = self._shape(field, asked=asked)
        if field.allow_none:
            shape = _or_null(shape)
        description = field.metadata.get("description")
        if description:
            shape["description"] = _said(field, asked=asked)
        if field.metadata.get("example") is not None:
            shape["examples"] = [field.metadata["example"]]
        default = field.load_default
        if asked and default is not marshmallow.missing and default is not None:
            value = default() if callable(default) else default
            shape["default"] = list(value) if isinstance(value, tuple) else value
        return shape

    def _shape(self, field: base.Field[Any], *, asked: bool) -> dict[str, Any]:
        if isinstance(field, fields.Nested):
            return self.ref(type(field.schema), asked=asked)
        if isinstance(field, fields.ListOf):
            shape: dict[str, Any] = {"type": "array", "items": self.of(field.inner, asked=asked)}
            if asked or field.fewest == field.most:
                shape |= {"minItems": field.fewest, "maxItems": field.most}
            return shape
        if isinstance(field, fields.MapOf):
            return {
                "type": "object", "additionalProperties": self.of(field.inner, asked=asked),
            }  # fmt: skip
        if isinstance(field, fields.OneOf):
            return {"type": "string", "enum": list(field.choices)}
        if isinstance(field, fields.Text):
            return _text(field) if asked else {"type": "string"}
        if isinstance(field, fields.Number):
            return _number(field) if asked else {"type": field.json_type}
        if isinstance(field, fields.Flag):
            return {"type": "boolean"}
        if isinstance(field, fields.Anything):
            return {}
        raise TypeError(f"{type(field).__name__} has no JSON Schema here")


def _text(field: fields.Text) -> dict[str, Any]:
    shape = {"type": "string", "minLength": field.shortest, "maxLength": field.longest}
    return shape if isinstance(field, fields.Lines) else shape | {"pattern": VISIBLE}


def _number(field: fields.Number) -> dict[str, Any]:
    least, greatest = field.limits(None)
    low = "exclusiveMinimum" if field.above else "minimum"
    shape: dict[str, Any] = {"type": field.json_type, low: least, "maximum": greatest}
    by_unit = {unit: list(field.limits(unit)) for unit in ("in", "mm")}
    if by_unit["in"] != by_unit["mm"]:
        shape["x-limits-by-unit"] = by_unit
    return shape


def _or_null(shape: dict[str, Any]) -> dict[str, Any]:
    if not shape:
        return shape
    if "$ref" in shape:
        return {"anyOf": [shape, {"type": "null"}]}
    if "enum" in shape:
        return {"type": [shape["type"], "null"], "enum": [*shape["enum"], None]}
    return shape | {"type": [shape["type"], "null"]}


def _said(field: Any, *, asked: bool) -> str:
    description = str(field.metadata["description"]).rstrip()
    if not description.endswith((".", "!", "?", ":")):
        description += "."
    if not asked:
        return description
    if isinstance(field, (fields.Length, fields.Speed)):
        wanted = field.wanted()
        description += f" {wanted[0].upper()}{wanted[1:]}."
    elif isinstance(field, fields.Angle):
        description += " In degrees."
    return description
