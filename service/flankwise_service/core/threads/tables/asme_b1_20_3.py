"""ASME B1.20.3-1976 (R2018): dryseal pipe threads, crest and root truncation (Table 1; memory).

Each figure is in pitches; the roots are cut with wider flats than the crests, so that crest and
root meet before the flanks do.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from flankwise_service.core.threads.model import Source

EDITION = "1976 (R2018)"
SOURCE = Source("ASME B1.20.3", EDITION, "Table 1, crest and root truncation", "memory")
DIMENSIONS = Source("ASME B1.20.3", EDITION, "Table 2: E0, E1, L1, L2 as ASME B1.20.1", "memory")
LARGEST = "3"


class Truncation(NamedTuple):
    """Truncation of crest and root in pitches."""

    crest_min: Decimal
    crest_max: Decimal
    root_min: Decimal
    root_max: Decimal


def _row(*cells: str) -> Truncation:
    return Truncation(*(Decimal(cell) for cell in cells))


TRUNCATION: dict[Decimal, Truncation] = {
    Decimal(27): _row("0.047", "0.094", "0.094", "0.140"),
    Decimal(18): _row("0.047", "0.078", "0.078", "0.109"),
    Decimal(14): _row("0.036", "0.060", "0.060", "0.085"),
    Decimal("11.5"): _row("0.040", "0.060", "0.060", "0.090"),
    Decimal(8): _row("0.042", "0.055", "0.055", "0.076"),
}
