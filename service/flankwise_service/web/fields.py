"""Fields of requests and replies: strict, and in a machinist's words.

A request field takes JSON of its own kind only: no text for a number, no `true` for a number, no
number for text. What it refuses it refuses as a `Fault` with limits and what to change. The same
fields describe replies in the contract; there they never load or dump anything.

    Described                  description, default, nullable, example
    ├── Number                 a bare ratio or count with limits
    │   ├── Length             limits in mm or in, by the request's own `unit`
    │   ├── Angle  Fraction  Speed  Count
    ├── Text  Unit  OneOf  Flag
    └── Nested  ListOf         objects and lists of the above

Each field takes its description first; it is required unless it has a `default`.
"""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Mapping, Sequence
from contextvars import ContextVar
from typing import Any, Final

import marshmallow
from marshmallow import ValidationError
from marshmallow import fields as base

from flankwise_service.core.errors import Fault
from flankwise_service.core.units import UNITS, from_mm
from flankwise_service.core.units import Unit as UnitName
from flankwise_service.web.problems import shown

REQUIRED: Final = marshmallow.missing
UNKNOWN_FIELD: Final = "unknown_field"
NOT_AN_OBJECT: Final = "not_an_object"

asked_unit: ContextVar[UnitName | None] = ContextVar("asked_unit", default=None)
"""The `unit` at the top of the request being loaded, for lengths in nested objects."""


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


class Number(Described):
    """A number with limits; `least` is allowed itself unless `above` (greater than) is set."""

    kind = "a number"
    json_type = "number"
    unit_said: str | None = None

    def __init__(
        self,
        description: str,
        *,
        least: float = 0.0,
        greatest: float = 1e9,
        above: bool = False,
        **rest: Any,
    ) -> None:
        super().__init__(description, **rest)
        self.least, self.greatest, self.above = least, greatest, above

    def limits(self, unit: UnitName | None) -> tuple[float, float]:
        """Return the least and greatest value allowed; `unit` matters to lengths only."""
        return self.least, self.greatest

    def said(self, unit: UnitName | None) -> str | None:
        """Return the unit to name beside a value, None for a bare number."""
        return self.unit_said

    def wanted(self) -> str:
        """Return, in words, what the field takes."""
        return f"{self.kind} from {self.least:g} to {self.greatest:g}" + _tail(self.unit_said)

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> float:
        if type(value) is not float and type(value) is not int:
            raise refuse(
                "not_a_number",
                f"{self.words} must be a number, not {_kind_of(value)}",
                f"give {self.words} as a bare JSON number, without quotes or unit",
                value,
            )
        unit = _unit_beside(data)
        least, greatest = self.limits(unit)
        # A comparison is safe for an int of any size, and false for NaN.
        if least <= value <= greatest and not (self.above and value == least):
            return float(value) + 0.0  # adding zero turns -0.0 into 0.0
        raise self._out_of_range(value, least, greatest, self.said(unit))

    def _out_of_range(
        self, value: float, least: float, greatest: float, unit: str | None
    ) -> ValidationError:
        tail = _tail(unit)
        figure = shown(value)
        said = "" if figure is None else f" {figure:.10g}"
        if value > greatest:
            detail = f"{self.words}{said}{tail} is above the greatest allowed, {greatest:g}{tail}"
        elif self.above and value == least:
            detail = f"{self.words}{said}{tail} must be greater than {least:g}{tail}"
        else:
            detail = f"{self.words}{said}{tail} is below the least allowed, {least:g}{tail}"
        start = "greater than" if self.above else "from"
        change = f"give {self.words} {start} {least:g} to {greatest:g}{tail}"
        return refuse(
            "out_of_range", detail, change, value, least=least, greatest=greatest, unit=unit
        )


class Length(Number):
    """A length in the request's own `unit`; its limits are given in mm, and hold in inches too."""

    kind = "a length"

    def __init__(
        self,
        description: str,
        *,
        least: float = 0.001,
        greatest: float = 5000.0,
        **rest: Any,
    ) -> None:
        super().__init__(description, least=least, greatest=greatest, **rest)
        self.by_unit: dict[UnitName, tuple[float, float]] = {
            unit: (_neat(from_mm(least, unit)), _neat(from_mm(greatest, unit))) for unit in UNITS
        }

    def limits(self, unit: UnitName | None) -> tuple[float, float]:
        """Return the limits in `unit`; without one (itself a fault), the wider of both."""
        if unit is not None:
            return self.by_unit[unit]
        return (
            min(low for low, _ in self.by_unit.values()),
            max(high for _, high in self.by_unit.values()),
        )

    def said(self, unit: UnitName | None) -> str | None:
        """Return `unit` itself."""
        return unit

    def wanted(self) -> str:
        """Return, in words, what the field takes."""
        said = [f"{low:g} to {high:g} {unit}" for unit, (low, high) in self.by_unit.items()]
        return f"{self.kind} from " + " or ".join(said)


class Angle(Number):
    """An angle in degrees."""

    kind = "an angle"
    unit_said = "deg"

    def __init__(
        self, description: str, *, least: float = 0.0, greatest: float = 360.0, **rest: Any
    ) -> None:
        super().__init__(description, least=least, greatest=greatest, **rest)


class Fraction(Number):
    """A share between 0 and 1."""

    kind = "a share"

    def __init__(
        self, description: str, *, least: float = 0.0, greatest: float = 1.0, **rest: Any
    ) -> None:
        super().__init__(description, least=least, greatest=greatest, **rest)


class Speed(Number):
    """A surface speed: m/min where `unit` is mm, ft/min where it is in. Limits are in m/min."""

    kind = "a surface speed"

    def __init__(
        self, description: str, *, least: float = 1.0, greatest: float = 3000.0, **rest: Any
    ) -> None:
        super().__init__(description, least=least, greatest=greatest, **rest)

    def limits(self, unit: UnitName | None) -> tuple[float, float]:
        """Return the limits in m/min or ft/min."""
        from flankwise_service.core.units import surface_speed_from_m_per_min  # noqa: PLC0415

        if unit is None:
            return self.least, surface_speed_from_m_per_min(self.greatest, "in")
        return (
            _neat(surface_speed_from_m_per_min(self.least, unit)),
            _neat(surface_speed_from_m_per_min(self.greatest, unit)),
        )

    def said(self, unit: UnitName | None) -> str | None:
        """Return the unit of speed that goes with the unit of length."""
        return None if unit is None else ("ft/min" if unit == "in" else "m/min")

    def wanted(self) -> str:
        """Return, in words, what the field takes."""
        low, high = self.limits("in")
        return (
            f"{self.kind} from {self.least:g} to {self.greatest:g} m/min, "
            f"or {low:g} to {high:g} ft/min where unit is in"
        )


class Count(Number):
    """A whole number with limits."""

    kind = "a whole number"
    json_type = "integer"

    def __init__(
        self, description: str, *, least: int = 0, greatest: int = 1_000_000, **rest: Any
    ) -> None:
        super().__init__(description, least=least, greatest=greatest, **rest)

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> int:
        if type(value) is float and not value.is_integer():
            raise refuse(
                "not_whole",
                f"{self.words} must be a whole number, not {value:.10g}",
                f"give {self.words} without decimals",
                value,
            )
        return int(super()._deserialize(value, attr, data, **kwargs))


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
            f"{self.words} must be true or false, not {_kind_of(value)}",
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
                f"{self.words} must be text, not {_kind_of(value)}",
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
        said = f'"{shown(value)}"' if type(value) is str else _kind_of(value)
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
                f"{self.words} must be an object, not {_kind_of(value)}",
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
                f"{self.words} must be a list, not {_kind_of(value)}",
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


def near_misses(word: str, words: Sequence[str]) -> tuple[str, ...]:
    """Return those of `words` that `word` was likely meant to be, nearest first.

    >>> near_misses("hexagn", ["hexagon", "round"])
    ('hexagon',)
    """
    return tuple(difflib.get_close_matches(word[:64], words, n=3, cutoff=0.6))


_HIDDEN: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_KINDS: Final[dict[type, str]] = {
    str: "text", bool: "true or false", int: "a number", float: "a number",
    dict: "an object", list: "a list", type(None): "null",
}  # fmt: skip


def _kind_of(value: object) -> str:
    return _KINDS.get(type(value), "that")


def _tail(unit: str | None) -> str:
    return f" {unit}" if unit else ""


def _neat(figure: float) -> float:
    return float(f"{figure:.4g}")


def _unit_beside(data: Mapping[str, Any] | None) -> UnitName | None:
    unit: object = data.get("unit") if data else None
    if unit == "in":
        return "in"
    if unit == "mm":
        return "mm"
    return asked_unit.get()
