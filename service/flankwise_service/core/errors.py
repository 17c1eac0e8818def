"""The tree of refusals. Everything flankwise won't compute is one of these.

    Refusal                  carries every fault found, not only the first
    ├── BadInput             a value is outside what the trade, or the function, allows
    ├── UnknownThread        a designation that can't be read, or isn't in the standard's series
    ├── NoSource             it exists, but no figure can be stated with a source
    └── Impossible           each value is fine; together they can't be cut
        └── Collision        tool or holder meets stock where it must not

A fault says where (`pointer`, RFC 6901, relative to the function's own arguments), what is wrong,
the value, its limits, and what to change, in a machinist's words.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal

WRITTEN_OUT = (1e-9, 1e12)
"""Figures beyond these are nobody's, and are told with a power of ten."""


def plain(value: float, digits: int = 6) -> str:
    """Return a figure rounded to so many digits as a person writes it, without a power of ten.

    >>> plain(1_000_000.0), plain(0.00001234), plain(-25.4), plain(1e10 / 3, 4), plain(0.0)
    ('1000000', '0.00001234', '-25.4', '3333000000', '0')
    >>> plain(1e308), plain(5e-324)
    ('1e+308', '4.94066e-324')
    """
    shown = f"{value:.{digits}g}"
    if "e" not in shown or not WRITTEN_OUT[0] <= abs(value) <= WRITTEN_OUT[1]:
        return shown
    return format(Decimal(shown), "f")


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with what was asked, and what to change."""

    pointer: str
    code: str
    detail: str
    change: str
    value: object = None
    least: float | None = None
    greatest: float | None = None
    unit: str | None = None
    near: tuple[str, ...] = ()

    def under(self, prefix: str) -> Fault:
        """Return the same fault with its pointer moved below `prefix`.

        >>> Fault("/pitch", "too_fine", "", "").under("/thread").pointer
        '/thread/pitch'
        """
        return replace(self, pointer=prefix + self.pointer)


class Refusal(Exception):
    """Base of all refusals; `faults` holds one or more `Fault`."""

    title = "This can't be worked out as asked"

    def __init__(self, *faults: Fault) -> None:
        if not faults:
            raise ValueError("a refusal names at least one fault")
        super().__init__("; ".join(fault.detail for fault in faults))
        self.faults = faults

    def under(self, prefix: str) -> Refusal:
        """Return the same refusal with every pointer moved below `prefix`."""
        return type(self)(*(fault.under(prefix) for fault in self.faults))


class BadInput(Refusal):
    """A value is outside what the trade, or the function, allows."""

    title = "A value can't be used"


class UnknownThread(Refusal):
    """A designation that can't be read, or a size that isn't in the series named."""

    title = "The thread designation doesn't name a standard thread"


class NoSource(Refusal):
    """It exists, but no figure for it can be stated with a source."""

    title = "No figure can be stated with a source"


class Impossible(Refusal):
    """Each value is fine alone; together they can't be cut."""

    title = "These values can't be cut together"


class Collision(Impossible):
    """The tool, its shank or its holder meets stock where it must not."""

    title = "The tool meets the stock where it must not"


@dataclass(slots=True)
class Faults:
    """Collects every fault of one request, then raises them together.

    >>> faults = Faults()
    >>> faults.within("/pitch", 0.0, least=0.01, greatest=50, unit="mm", name="pitch")
    >>> faults.raise_any(BadInput)
    Traceback (most recent call last):
    flankwise_service.core.errors.BadInput: pitch 0 mm is below the least allowed, 0.01 mm
    """

    found: list[Fault] = field(default_factory=list)

    def add(self, fault: Fault) -> None:
        """Note one fault."""
        self.found.append(fault)

    def take(self, refusal: Refusal, prefix: str = "") -> None:
        """Note every fault of a refusal, moved below `prefix`."""
        self.found.extend(fault.under(prefix) for fault in refusal.faults)

    def need(
        self, holds: bool, pointer: str, code: str, detail: str, change: str, value: object = None
    ) -> None:
        """Note a fault unless `holds`."""
        if not holds:
            self.add(Fault(pointer, code, detail, change, value))

    def within(
        self,
        pointer: str,
        value: float,
        *,
        least: float,
        greatest: float,
        name: str,
        unit: str | None = None,
    ) -> None:
        """Note a fault unless `least <= value <= greatest` (NaN fails)."""
        if type(value) is float and least <= value <= greatest and math.isfinite(value):
            return
        try:
            number = float(value)
        except OverflowError:  # an int beyond the range of a float, as JSON may carry
            number = math.inf if value > 0 else -math.inf
        if math.isfinite(number) and least <= number <= greatest:
            return
        tail = f" {unit}" if unit else ""
        low, high = plain(least), plain(greatest)
        if number > greatest:
            limit = f"above the greatest allowed, {high}"
        else:
            limit = f"below the least allowed, {low}"
        detail = f"{name} {plain(number)}{tail} is {limit}{tail}"
        change = f"give {name} from {low} to {high}{tail}"
        shown = value if math.isfinite(number) else None
        self.add(Fault(pointer, "out_of_range", detail, change, shown, least, greatest, unit))

    def raise_any(self, kind: type[Refusal]) -> None:
        """Raise `kind` with all faults noted, or return when there are none."""
        if self.found:
            raise kind(*self.found)


def join(refusals: Iterable[Refusal], kind: type[Refusal] = BadInput) -> Refusal:
    """Return one refusal of `kind` that carries the faults of all `refusals`."""
    return kind(*(fault for refusal in refusals for fault in refusal.faults))
