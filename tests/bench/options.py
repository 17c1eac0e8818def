"""What the caller may choose."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Options:
    """How long and how often is measured."""

    seconds: float = 2.0
    """Length of one run of wrk."""
    rounds: int = 5
    """Runs of each contestant, in turns."""
    workers: int = 2
    soak: float = 30.0
    """Seconds of steady load whose memory and latency are watched."""
