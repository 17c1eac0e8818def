"""The base of all fields: what it takes, and what is wrong, in a machinist's words."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from typing import Any, Final

import marshmallow
from marshmallow import ValidationError
from marshmallow import fields as base

from flankwise_service.core.errors import Fault
from flankwise_service.web.problems import shown

REQUIRED: Final = marshmallow.missing
UNKNOWN_FIELD: Final = "unknown_field"
NOT_AN_OBJECT: Final = "not_an_object"


class Schema(marshmallow.Schema):
    """Base of all schemas: unknown names are refused, and order is kept."""

    error_messages = {"unknown": UNKNOWN_FIELD, "type": NOT_AN_OBJECT}  # noqa: RUF012

    class Meta:
        """Nothing is taken that isn't written in the contract."""

        unknown = marshmallow.RAISE


def refuse(
    code: str, detail: str, change: str, value: object = None, **rest: Any
) -> ValidationError:
    """Return the error a field raises; its pointer is filled in where the place is known."""
    return ValidationError([Fault("", code, detail, change, shown(value), **rest)])


class Saying(base.Field[Any]):
    """A field that says in words what it takes and what is wrong."""

    kind: str = "value"

    @property
    def description(self) -> str:
        """What the field holds, in one sentence."""
        return str(self.metadata["description"])

    @property
    def words(self) -> str:
        """The field's name as a person says it: "major diameter"."""
        return (self.name or "value").replace("_", " ")

    def wanted(self) -> str:
        """Return, in words, what the field takes."""
        return self.kind

    def _validate_missing(self, value: Any) -> None:
        if value is marshmallow.missing and self.required:
            raise refuse("missing", f"{self.words} is missing", self._plea())
        if value is None and not self.allow_none:
            raise refuse("null", f"{self.words} can't be null", self._plea())

    def _validate(self, value: Any) -> None:
        """Ask the validators where there are any: the library builds their chain each time."""
        if self.validators:
            super()._validate(value)

    def _plea(self) -> str:
        return f"give {self.words}: {self.wanted()}"


class Described(Saying):
    """What every field of a single value shares."""

    json_type: str = ""

    def __init__(
        self,
        description: str,
        *,
        default: Any = REQUIRED,
        nullable: bool = False,
        example: Any = None,
        **rest: Any,
    ) -> None:
        super().__init__(
            required=default is REQUIRED,
            load_default=default,
            allow_none=nullable or default is None,
            metadata={"description": description, "example": example},
            **rest,
        )


def near_misses(word: str, words: Sequence[str]) -> tuple[str, ...]:
    """Return those of `words` that `word` was likely meant to be, nearest first.

    >>> near_misses("hexagn", ["hexagon", "round"])
    ('hexagon',)
    """
    return tuple(difflib.get_close_matches(word[:64], words, n=3, cutoff=0.6))


_KINDS: Final[dict[type, str]] = {
    str: "text", bool: "true or false", int: "a number", float: "a number",
    dict: "an object", list: "a list", type(None): "null",
}  # fmt: skip


def kind_of(value: object) -> str:
    """Return, in words, the JSON kind of `value`.

    >>> kind_of(True)
    'true or false'
    """
    return _KINDS.get(type(value), "that")
