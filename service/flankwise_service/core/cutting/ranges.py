"""One way to check many arguments of a function: all faults together, pointers by name.

The ranges are wide: they keep out what no shop has (source: common practice, no source).
"""

from __future__ import annotations

from flankwise_service.core.errors import BadInput, Faults

LEAST_LENGTH = 1e-6
GREATEST_LENGTH = 1e6
"""Any length in any unit, inch or millimetre."""

Range = tuple[float, float, float, str | None]


def length(value: float, least: float = LEAST_LENGTH) -> Range:
    """Return the range a length has to keep.

    >>> length(2.0)
    (2.0, 1e-06, 1000000.0, None)
    """
    return (value, least, GREATEST_LENGTH, None)


def refuse_outside(**ranges: Range) -> None:
    """Raise BadInput with every (value, least, greatest, unit) that lies outside.

    >>> refuse_outside(flutes=(0, 1, 100, None))
    Traceback (most recent call last):
    flankwise_service.core.errors.BadInput: flutes 0 is below the least allowed, 1
    """
    for value, least, greatest, _unit in ranges.values():
        if not least <= value <= greatest:  # NaN lies nowhere; the ends are finite
            break
    else:
        return
    faults = Faults()
    for name, (value, least, greatest, unit) in ranges.items():
        faults.within(
            f"/{name}",
            value,
            least=least,
            greatest=greatest,
            name=name.replace("_", " "),
            unit=unit,
        )
    faults.raise_any(BadInput)
