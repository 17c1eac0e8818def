"""Fields of requests and replies: strict, and in a machinist's words.

A request field takes JSON of its own kind only: no text for a number, no `true` for a number, no
number for text. What it refuses it refuses as a `Fault` with limits and what to change. The same
fields describe replies in the contract; there they never load or dump anything.

    Saying                     says what it takes (saying.py)
    ├── Described              description, default, nullable, example
    │   ├── Number             a bare ratio or count with limits (numbers.py)
    │   │   ├── Length         limits in mm or in, by the request's own `unit`
    │   │   └── Angle  Fraction  Speed  Count
    │   ├── Text  Lines  Flag  OneOf  Unit
    │   └── MapOf  Anything    objects with free names; any JSON value
    └── Nested  ListOf         objects and lists of the above

Each field takes its description first; it is required unless it has a `default`.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from typing import Any, Final

from marshmallow import ValidationError
from marshmallow import fields as base

from flankwise_service.core.units import UNITS
from flankwise_service.web.numbers import Angle, Count, Fraction, Length, Number, Speed, asked_unit
from flankwise_service.web.problems import shown
from flankwise_service.web.saying import (
    NOT_AN_OBJECT,
    REQUIRED,
    UNKNOWN_FIELD,
    Described,
    Saying,
    Schema,
    kind_of,
    near_misses,
    refuse,
)

__all__ = [
    "NOT_AN_OBJECT", "REQUIRED", "UNKNOWN_FIELD", "Angle", "Anything", "Count", "Described",
    "Flag", "Fraction", "Length", "Lines", "ListOf", "MapOf", "Nested", "Number", "OneOf", "Saying",
    "Schema", "Speed", "Text", "Unit", "asked_unit", "near_misses",
]  # fmt: skip

_HIDDEN: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


class Flag(Described):
    """true or false."""

    kind = "true or false"
    json_type = "boolean"

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> bool:
        if value is True or value is False:
            return value
        raise refuse(
            "not_true_or_false",
            f"{self.words} must be true or false, not {kind_of(value)}",
            f"give {self.words} as true or false, without quotes",
            value,
        )


class Text(Described):
    """Text of one line: no control characters, no marks that turn the direction of writing."""

    kind = "text"
    json_type = "string"

    def __init__(
        self, description: str, *, longest: int = 120, shortest: int = 0, **rest: Any
    ) -> None:
        super().__init__(description, **rest)
        self.longest, self.shortest = longest, shortest

    def wanted(self) -> str:
        """Return, in words, what the field takes."""
        return f"{self.kind} of {self.shortest} to {self.longest} characters"

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> str:
        if type(value) is not str:
            raise refuse(
                "not_text",
                f"{self.words} must be text, not {kind_of(value)}",
                f"give {self.words} in quotes",
                value,
            )
        if not self.shortest <= len(value) <= self.longest:
            raise refuse(
                "wrong_length",
                f"{self.words} has {len(value)} characters; allowed are {self.shortest} to "
                f"{self.longest}",
                f"give {self.words} with {self.shortest} to {self.longest} characters",
                value,
                least=self.shortest,
                greatest=self.longest,
                unit="characters",
            )
        if not (value.isascii() and value.isprintable()):
            self._refuse_hidden(value)
        return value

    def _refuse_hidden(self, value: str) -> None:
        hidden = sorted({c for c in value if unicodedata.category(c) in _HIDDEN})
        if hidden:
            named = ", ".join(f"U+{ord(c):04X}" for c in hidden[:5])
            raise refuse(
                "hidden_character",
                f"{self.words} holds characters that can't be seen: {named}",
                f"type {self.words} again without them, on one line",
                value,
            )


class Lines(Text):
    """Text of many lines, such as a program; whoever reads it judges its characters."""

    kind = "text of lines"

    def _refuse_hidden(self, value: str) -> None:
        """Take every character: the reader of the lines names the line with the bad one."""


class OneOf(Described):
    """One of a few words."""

    kind = "one of"
    json_type = "string"

    def __init__(self, description: str, words: Sequence[str], **rest: Any) -> None:
        super().__init__(description, **rest)
        self.choices = tuple(words)

    def wanted(self) -> str:
        """Return, in words, what the field takes."""
        return "one of " + ", ".join(self.choices)

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> str:
        if type(value) is str and value in self.choices:
            return value
        near = near_misses(value, self.choices) if type(value) is str else ()
        said = f'"{shown(value)}"' if type(value) is str else kind_of(value)
        raise refuse(
            "not_one_of",
            f"{self.words} can't be {said}",
            f"give {self.words} as {self.wanted()}",
            value,
            near=near,
        )


class Unit(OneOf):
    """The unit of every length in the request; there is no default, on purpose."""

    def __init__(
        self,
        description: str = "Unit of every length in this request and its reply. It has no default.",
        **rest: Any,
    ) -> None:
        super().__init__(description, UNITS, **rest)


class Nested(Saying, base.Nested):
    """An object with its own schema."""

    def __init__(
        self,
        schema: type[Schema],
        description: str,
        *,
        default: Any = REQUIRED,
        nullable: bool = False,
        **rest: Any,
    ) -> None:
        super().__init__(
            schema,
            required=default is REQUIRED,
            load_default=default,
            allow_none=nullable or default is None,
            metadata={"description": description, "example": None},
            **rest,
        )

    def wanted(self) -> str:
        """Return, in words, what the field takes."""
        return "an object with " + ", ".join(self.schema.fields)

    def _load(self, value: Any, partial: Any = None) -> Any:
        if type(value) is not dict:
            raise refuse(
                NOT_AN_OBJECT,
                f"{self.words} must be an object, not {kind_of(value)}",
                f"give {self.words} as {self.wanted()}",
                value,
            )
        return super()._load(value, partial)


class ListOf(Saying, base.List[Any]):
    """A list of one kind of thing, with a least and greatest count."""

    def __init__(
        self,
        inner: base.Field[Any],
        description: str,
        *,
        fewest: int = 0,
        most: int = 1000,
        default: Any = REQUIRED,
        nullable: bool = False,
        **rest: Any,
    ) -> None:
        super().__init__(
            inner,
            required=default is REQUIRED,
            load_default=default,
            allow_none=nullable or default is None,
            metadata={"description": description, "example": None},
            **rest,
        )
        self.fewest, self.most = fewest, most

    def wanted(self) -> str:
        """Return, in words, what the field takes."""
        return f"a list of {self.fewest} to {self.most}"

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> list[Any]:
        if type(value) is not list:
            raise refuse(
                "not_a_list",
                f"{self.words} must be a list, not {kind_of(value)}",
                f"give {self.words} as a JSON list in square brackets",
                value,
            )
        if not self.fewest <= len(value) <= self.most:
            raise refuse(
                "wrong_count",
                f"{self.words} has {len(value)} items; allowed are {self.fewest} to {self.most}",
                f"give {self.words} with {self.fewest} to {self.most} items",
                len(value),
                least=self.fewest,
                greatest=self.most,
                unit="items",
            )
        return super()._deserialize(value, attr, data, **kwargs)


class MapOf(Described):
    """An object with names that aren't fixed, each holding the same kind of value."""

    kind = "an object"
    json_type = "object"

    def __init__(
        self, inner: base.Field[Any], description: str, *, most: int = 100, **rest: Any
    ) -> None:
        super().__init__(description, **rest)
        self.inner, self.most = inner, most

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> dict[str, Any]:
        if type(value) is not dict or len(value) > self.most:
            raise refuse(
                NOT_AN_OBJECT,
                f"{self.words} must be an object with at most {self.most} names",
                f"give {self.words} as a JSON object in curly brackets",
                value,
            )
        loaded: dict[str, Any] = {}
        faults: dict[str, Any] = {}
        for name, item in value.items():
            try:
                loaded[name] = self.inner.deserialize(item, name, value)
            except ValidationError as error:
                faults[name] = error.messages
        if faults:
            raise ValidationError(faults)
        return loaded


class Anything(Described):
    """Any JSON value, passed on as it is."""

    kind = "any JSON value"

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> Any:
        return value
