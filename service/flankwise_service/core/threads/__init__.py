"""Threads: a designation read, its basic profile and its limits of size, by its own standard.

One module per standard, registered in `families.py`; published tables in `tables/`.
"""

from __future__ import annotations

from flankwise_service.core.threads.model import (
    BasicProfile,
    Family,
    Hand,
    Limits,
    Side,
    Source,
    Span,
    Thread,
    Tolerances,
)
from flankwise_service.core.threads.register import (
    classes,
    designations,
    find,
    limits,
    limits_in,
    parse,
    read_in,
)

__all__ = [
    "BasicProfile",
    "Family",
    "Hand",
    "Limits",
    "Side",
    "Source",
    "Span",
    "Thread",
    "Tolerances",
    "classes",
    "designations",
    "find",
    "limits",
    "limits_in",
    "parse",
    "read_in",
]
