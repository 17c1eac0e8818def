"""ISO 7-1:1994: pipe threads R, Rc, Rp for joints made on the threads. Table 1, from memory.

Diameters at the gauge plane are those of ISO 228-1. Lengths in millimetres. Every row obeys:
greatest and least gauge length = basic +- tolerance, tolerances = whole turns times pitch.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from flankwise_service.core.threads.model import Source

EDITION = "1994"
SOURCE = Source("ISO 7-1", EDITION, "Table 1, gauge lengths, useful threads, tolerances", "memory")
GAUGE_PLANE = Source(
    "ISO 7-1",
    EDITION,
    "3.3: gauge plane of an internal thread half a pitch behind the face",
    "seen",
)


class TaperSize(NamedTuple):
    """One size of ISO 7-1."""

    gauge_length: Decimal
    gauge_length_tolerance: Decimal
    """Either way; of external threads."""
    internal_tolerance: Decimal
    """Either way, axial position of the gauge plane of an internal taper thread."""
    useful_length: Decimal
    """Least useful thread at basic gauge length."""
    parallel_tolerance: Decimal
    """Either way, on the diameters of an internal parallel thread Rp."""


_TABLE_1 = """
1/16;4.0;0.9;1.1;6.5;0.071
1/8;4.0;0.9;1.1;6.5;0.071
1/4;6.0;1.3;1.7;9.7;0.104
3/8;6.4;1.3;1.7;10.1;0.104
1/2;8.2;1.8;2.3;13.2;0.142
3/4;9.5;1.8;2.3;14.5;0.142
1;10.4;2.3;2.9;16.8;0.180
1 1/4;12.7;2.3;2.9;19.1;0.180
1 1/2;12.7;2.3;2.9;19.1;0.180
2;15.9;2.3;2.9;23.4;0.180
2 1/2;17.5;3.5;3.5;26.7;0.216
3;20.6;3.5;3.5;29.8;0.216
4;25.4;3.5;3.5;35.8;0.216
5;28.6;3.5;3.5;40.1;0.216
6;28.6;3.5;3.5;40.1;0.216
"""


def _size(line: str) -> tuple[str, TaperSize]:
    name, *cells = line.split(";")
    return name, TaperSize(*(Decimal(cell) for cell in cells))


SIZES: dict[str, TaperSize] = dict(_size(line) for line in _TABLE_1.split("\n") if line)
