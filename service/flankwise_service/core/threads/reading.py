"""What the pipe, power and British families share when they read a designation and refuse one."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from flankwise_service.core.errors import BadInput, Fault, NoSource
from flankwise_service.core.threads.model import Hand, Side, Thread

SIZE = r"(?P<size>\d{1,2}[ -]\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{0,2}\.\d{1,5}|\d{1,3})"
"""Pattern of an inch size in a pipe, power or British designation: 1/2, 1 1/4, 1-1/4, 1.25, 2."""
THREADS_PER_INCH = r"(?P<tpi>\d{1,2}(?:\.\d{1,4}|[ -]\d/\d)?)"
"""Pattern of threads per inch: 14, 11.5, 11 1/2, 11-1/2."""
GAUGE_TURN = (
    "A gauge that stands one turn off means diameter_increase_per_thread on the diameter: half of "
    "it on the cutter's radius."
)
"""What a taper thread's gauge tells the one who mills it: geometry of the taper."""


def take_hand(text: str) -> tuple[str, Hand]:
    """Return a designation without its LH, and the hand it names.

    >>> take_hand("G 1/2 A-LH"), take_hand("2 BA")
    (('G 1/2 A', 'left'), ('2 BA', 'right'))
    """
    if text[-2:].upper() != "LH":
        return text, "right"
    return text[:-2].rstrip(" -,"), "left"


def hand_mark(hand: Hand) -> str:
    """Return what a canonical designation ends in: -LH for a left-hand thread.

    >>> hand_mark("left"), hand_mark("right")
    ('-LH', '')
    """
    return "-LH" if hand == "left" else ""


def inches(text: str) -> Decimal | None:
    """Return the exact value of a size or a count of threads written whole, decimal or fractional.

    None where the fraction makes no sense.

    >>> inches("7/32"), inches("1-1/4"), inches("11 1/2"), inches(".5"), inches("3/0")
    (Decimal('0.21875'), Decimal('1.25'), Decimal('11.5'), Decimal('0.5'), None)
    """
    if "/" not in text:
        return Decimal(text)
    whole, _, fraction = text.replace("-", " ").rpartition(" ")
    above, below = (Decimal(part) for part in fraction.split("/"))
    if not 0 < above < below:
        return None
    return Decimal(whole or 0) + above / below


def closest(
    wanted: Decimal, names: Iterable[tuple[Decimal, str]], count: int = 3
) -> tuple[str, ...]:
    """Return the names whose sizes lie closest to the one wanted, closest first.

    >>> closest(Decimal("0.6"), [(Decimal("0.5"), "1/2"), (Decimal("0.625"), "5/8")], 1)
    ('5/8',)
    """
    ranked = sorted(names, key=lambda pair: (abs(pair[0] - wanted), pair[0]))
    return tuple(name for _, name in ranked[:count])


def class_missing(thread: Thread, side: Side, choices: Iterable[str]) -> BadInput:
    """Return the refusal of limits for a thread whose class the designation doesn't say."""
    names = tuple(choices)
    detail = f"{thread.designation} names no class for its {side} thread, and none is assumed"
    return BadInput(
        Fault("/designation", "class_missing", detail, f"give one: {', '.join(names)}", near=names)
    )


def no_source(pointer: str, detail: str, change: str, near: Iterable[str] = ()) -> NoSource:
    """Return the refusal of figures that can't be stated with a source."""
    return NoSource(Fault(pointer, "no_source", detail, change, near=tuple(near)))
