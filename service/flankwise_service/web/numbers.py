"""Fields of numbers, with limits that are told where they are broken."""

from __future__ import annotations

from collections.abc import Mapping
from contextvars import ContextVar
from typing import Any

from marshmallow import ValidationError

from flankwise_service.core.errors import plain, plain_beyond, plain_greatest, plain_least
from flankwise_service.core.units import UNITS, limit_from_mm, surface_speed_from_m_per_min
from flankwise_service.core.units import Unit as UnitName
from flankwise_service.web.problems import shown
from flankwise_service.web.saying import Described, kind_of, refuse

asked_unit: ContextVar[UnitName | None] = ContextVar("asked_unit", default=None)
"""The `unit` at the top of the request being loaded, for lengths in nested objects."""


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
        return f"{self.kind} from {plain(self.least)} to {plain(self.greatest)}" + _tail(
            self.unit_said
        )

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> float:
        if type(value) is not float and type(value) is not int:
            raise refuse(
                "not_a_number",
                f"{self.words} must be a number, not {kind_of(value)}",
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
        low, high = plain_least(least), plain_greatest(greatest)
        beyond = high if value > greatest else low
        said = f" {plain_beyond(figure, beyond, 10)}" if isinstance(figure, (int, float)) else ""
        if value > greatest:
            limit = f"is above the greatest allowed, {high}"
        elif self.above and value == least:
            limit = f"must be greater than {low}"
        else:
            limit = f"is below the least allowed, {low}"
        detail = f"{self.words}{said}{tail} {limit}{tail}"
        start = "greater than" if self.above else "from"
        change = f"give {self.words} {start} {low} to {high}{tail}"
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
            unit: (limit_from_mm(least, unit), limit_from_mm(greatest, unit)) for unit in UNITS
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
        said = [
            f"{plain(low)} to {plain(high)} {unit}" for unit, (low, high) in self.by_unit.items()
        ]
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
        if unit is None:
            return self.limits("mm")[0], self.limits("in")[1]
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
            f"{self.kind} from {plain(self.least)} to {plain(self.greatest)} m/min, "
            f"or {plain(low)} to {plain(high)} ft/min where unit is in"
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
