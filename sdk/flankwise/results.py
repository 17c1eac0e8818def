"""What the service replies, typed. Made by tests/contract/write.py; don't edit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from flankwise.result import Result

__all__ = [
    "HealthReply",
]


@dataclass(frozen=True, slots=True, repr=False)
class HealthReply(Result):
    """How the service is."""

    status: Literal["alive", "ready"]
    """How it is"""
    version: str
    """Version of the service and its contract"""

    @classmethod
    def of(cls, raw: Mapping[str, Any]) -> HealthReply:
        """Return the result that `raw` holds."""
        return cls(
            raw=raw,
            status=raw["status"],
            version=raw["version"],
        )
