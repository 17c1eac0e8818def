"""BS 93:1951, unchanged in 2008: British Association threads 0 to 16 BA; millimetres.

The whole table of basic dimensions (Machinery's Handbook 31, page 2115) and the formulas of
tolerance (the same page; BS 93:2008, Annex B).
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from flankwise_service.core.threads.model import Source

BASIC = Source("Machinery's Handbook 31, p. 2115", "BS 93:1951", "basic dimensions", "seen")
TOLERANCES = Source("BS 93", "2008", "Annex B, formulas of tolerances and allowances", "seen")


class Size(NamedTuple):
    """Basic dimensions of one BA size."""

    pitch: Decimal
    depth: Decimal
    major: Decimal
    effective: Decimal
    minor: Decimal
    radius: Decimal


_TABLE = """
1.0000 0.600 6.00 5.400 4.80 0.1808
0.9000 0.540 5.30 4.760 4.22 0.1627
0.8100 0.485 4.70 4.215 3.73 0.1465
0.7300 0.440 4.10 3.660 3.22 0.1320
0.6600 0.395 3.60 3.205 2.81 0.1193
0.5900 0.355 3.20 2.845 2.49 0.1067
0.5300 0.320 2.80 2.480 2.16 0.0958
0.4800 0.290 2.50 2.210 1.92 0.0868
0.4300 0.260 2.20 1.940 1.68 0.0778
0.3900 0.235 1.90 1.665 1.43 0.0705
0.3500 0.210 1.70 1.490 1.28 0.0633
0.3100 0.185 1.50 1.315 1.13 0.0561
0.2800 0.170 1.30 1.130 0.96 0.0506
0.2500 0.150 1.20 1.050 0.90 0.0452
0.2300 0.140 1.00 0.860 0.72 0.0416
0.2100 0.125 0.90 0.775 0.65 0.0380
0.1900 0.115 0.79 0.675 0.56 0.0344
"""


def _size(line: str) -> Size:
    return Size(*(Decimal(cell) for cell in line.split()))


SIZES: tuple[Size, ...] = tuple(_size(line) for line in _TABLE.strip().split("\n"))
"""By designation number, 0 to 16."""
NUMBER_OF = {size.major: number for number, size in enumerate(SIZES)}
LAST_WITH_ALLOWANCE = 10
ALLOWANCE = Decimal("0.025")
"""Of normal class bolts, 0 to 10 BA."""
