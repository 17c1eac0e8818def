"""What the uses of a thread's limits need of them: either `Limits` or `StatedLimits` has it.

Source: none of its own; the figures carry theirs.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Protocol

from flankwise_service.core.errors import Fault, NoSource
from flankwise_service.core.threads.model import BasicProfile, Hand, Side, Span


class Sized(Protocol):
    """Limits of size in one unit, whichever that is."""

    @property
    def side(self) -> Side:
        """External or internal."""

    @property
    def hand(self) -> Hand:
        """Right or left."""

    @property
    def designation(self) -> str:
        """In its canonical spelling."""

    @property
    def major_diameter(self) -> Span:
        """Limits of the major diameter."""

    @property
    def pitch_diameter(self) -> Span:
        """Limits of the pitch diameter."""

    @property
    def minor_diameter(self) -> Span:
        """Limits of the minor diameter."""

    @property
    def allowance(self) -> Decimal:
        """Distance of the maximum material limit from the basic size; not negative."""

    @property
    def basic(self) -> BasicProfile:
        """Basic profile in the same unit."""


def set_limit(limit: Decimal | None, pointer: str, name: str) -> Decimal:
    """Return a limit; NoSource at `pointer` where the standard sets none.

    >>> set_limit(Decimal("0.8270"), "/limits/pitch_diameter", "pitch diameter")
    Decimal('0.8270')
    """
    if limit is None:
        raise NoSource(
            Fault(
                pointer,
                "no_limits",
                f"its standard sets no complete limits of the {name}",
                f"give a thread whose standard sets its {name}, or limits of your own",
            )
        )
    return limit


def both_limits(span: Span, pointer: str, name: str) -> tuple[Decimal, Decimal]:
    """Return least and greatest of a span; NoSource at `pointer` where the standard sets none.

    >>> both_limits(Span(Decimal(1), Decimal(2)), "/limits/pitch_diameter", "pitch diameter")
    (Decimal('1'), Decimal('2'))
    """
    return set_limit(span.min, pointer, name), set_limit(span.max, pointer, name)


def pitch_limits(limits: Sized) -> tuple[float, float]:
    """Return least and greatest pitch diameter; NoSource where the standard sets none."""
    low, high = both_limits(limits.pitch_diameter, "/limits/pitch_diameter", "pitch diameter")
    return float(low), float(high)


def or_basic(limit: Decimal | None, basic: Decimal) -> Decimal:
    """Return a limit, or the basic size where the standard sets none.

    >>> or_basic(None, Decimal("0.5"))
    Decimal('0.5')
    """
    return basic if limit is None else limit
