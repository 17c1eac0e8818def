"""How long the long tests are: as in CI, or with FLANKWISE_MANY=1 as before a release."""

from __future__ import annotations

import os

MANY = os.environ.get("FLANKWISE_MANY", "") == "1"
"""Whether to try all that there is time for. Hypothesis then tries ten times its examples."""
TIMES = 10


def many(few: int, most: int) -> int:
    """Return how many cases to try."""
    return most if MANY else few
