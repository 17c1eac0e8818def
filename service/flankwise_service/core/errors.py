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
from decimal import ROUND_CEILING, ROUND_FLOOR, Context, Decimal

WRITTEN_OUT = (1e-9, 1e12)
"""Figures beyond these are nobody's, and are told with a power of ten."""


SLACK = 1e-12
"""How far, as a share, a figure may lie beyond a limit that was computed: the last bits of it."""
MOST_DIGITS = 17
"""Enough to tell any float from its neighbour."""


def plain(value: float, digits: int = 6) -> str:
    """Return a figure rounded to so many digits as a person writes it, without a power of ten.

    >>> plain(1_000_000.0), plain(0.00001234), plain(-25.4), plain(1e10 / 3, 4), plain(-0.0)
    ('1000000', '0.00001234', '-25.4', '3333000000', '0')
    >>> plain(1e308), plain(5e-324), plain(10**400)
    ('1e+308', '4.94066e-324', '1e+400')
    """
    try:
        number = float(value)
    except OverflowError:  # an int beyond the range of a float, as JSON may carry
        return f"{Context(prec=digits).create_decimal(value).normalize():e}"
    shown = f"{number + 0.0:.{digits}g}"  # adding zero turns -0.0 into 0.0
    if "e" not in shown or not WRITTEN_OUT[0] <= abs(number) <= WRITTEN_OUT[1]:
        return shown
    return format(Decimal(shown), "f")


def plain_least(limit: float, digits: int = 6) -> str:
    """Return a least limit as `plain` does, rounded up: the figure told is allowed itself.

    >>> plain_least(20.86861), plain_least(-1.0000001), plain_least(0.1), plain_least(0.7 + 0.1)
    ('20.8687', '-1', '0.1', '0.8')
    """
    return _rounded(limit, digits, ROUND_CEILING)


def plain_greatest(limit: float, digits: int = 6) -> str:
    """Return a greatest limit as `plain` does, rounded down: the figure told is allowed itself.

    >>> plain_greatest(78.7401575), plain_greatest(25.4), plain_greatest(1.25 * 0.98)
    ('78.7401', '25.4', '1.225')
    """
    return _rounded(limit, digits, ROUND_FLOOR)


def plain_beyond(value: float, limit: str, digits: int = 6) -> str:
    """Return a value beyond a limit, with as many digits as it takes to differ from it.

    >>> plain_beyond(500.0000001, "500"), plain_beyond(501.0, "500"), plain_beyond(-0.0, "0.1")
    ('500.0000001', '501', '0')
    """
    for enough in range(digits, MOST_DIGITS):
        shown = plain(value, enough)
        if shown != limit:
            return shown
    return plain(value, MOST_DIGITS)


def neat(limit: float) -> float:
    """Return the figure of few digits that a limit is but for its last bits, else the limit.

    >>> neat(1.25 * 0.98), neat(0.1 + 0.2), neat(1 / 3)
    (1.225, 0.3, 0.3333333333333333)
    """
    near = float(f"{limit:.9g}")
    return near if 0 < abs(near - limit) <= SLACK * abs(limit) else limit


def at_least(value: float, least: float) -> bool:
    """Return whether a value reaches a computed limit, its last bits left out of account.

    >>> at_least(0.3, 0.1 + 0.2), at_least(0.29999, 0.3)
    (True, False)
    """
    return value >= least - SLACK * abs(least)


def at_most(value: float, greatest: float) -> bool:
    """Return whether a value keeps a computed limit, its last bits left out of account.

    >>> at_most(0.8, 0.7 + 0.1), at_most(0.80001, 0.8)
    (True, False)
    """
    return value <= greatest + SLACK * abs(greatest)


def _rounded(limit: float, digits: int, rounding: str) -> str:
    if not math.isfinite(limit):
        return plain(limit, digits)
    exact = Decimal(repr(float(neat(limit))))
    figure = Context(prec=digits, rounding=rounding).create_decimal(exact)
    return plain(float(figure), digits)


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
        bounds, (least, greatest) = (least, greatest), (neat(least), neat(greatest))
        if math.isfinite(number) and min(bounds[0], least) <= number <= max(bounds[1], greatest):
            return
        tail = f" {unit}" if unit else ""
        low, high = plain_least(least), plain_greatest(greatest)
        if number > greatest:
            limit, said = f"above the greatest allowed, {high}", plain_beyond(number, high)
        else:
            limit, said = f"below the least allowed, {low}", plain_beyond(number, low)
        detail = f"{name} {said}{tail} is {limit}{tail}"
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
