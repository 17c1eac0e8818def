"""Steps tried side by side, so that all they refuse is told together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from flankwise_service.core.errors import BadInput, Refusal, join

ResultT = TypeVar("ResultT")


@dataclass(slots=True)
class Tries:
    """Keeps what each step refuses, and raises it as one refusal.

    >>> tries = Tries()
    >>> tries(lambda: 3), tries.refusals
    (3, [])
    """

    refusals: list[Refusal] = field(default_factory=list)

    def __call__(self, step: Callable[[], ResultT]) -> ResultT | None:
        """Return what the step gives, or None where it refuses."""
        try:
            return step()
        except Refusal as refusal:
            self.refusals.append(refusal)
            return None

    def joined(self) -> Refusal:
        """Return all refusals as one: of their own kind where they have one, else `BadInput`."""
        kinds = {type(refusal) for refusal in self.refusals}
        return join(self.refusals, kinds.pop() if len(kinds) == 1 else BadInput)
