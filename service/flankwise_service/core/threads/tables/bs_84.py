"""BS 84:2007: parallel screw threads of Whitworth form, sizes of B.S.W. and B.S.F.; inches.

Threads per inch were read in a gauge maker's list to BS 84:2007 (B.S.F. to 4 in); 5/32 and 7/32
B.S.W. in a fastener supplier's table.
"""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.threads.model import Source
from flankwise_service.core.threads.reading import inches

EDITION = "2007"
FORM = Source("BS 84", EDITION, "Fig. 1: H, h and r; basic sizes by formula", "computed")
SIZES_SOURCE = Source("BS 84", EDITION, "selected series, by a gauge maker's list", "seen")
TOLERANCES = Source("BS 84", EDITION, "Annex B, formulas of tolerances and allowances", "memory")
CLASSES_SOURCE = Source("BS 84", EDITION, "clause 5, classes, by a gauge maker's page", "seen")

_BSW = (
    "1/8-40 5/32-32 3/16-24 7/32-24 1/4-20 5/16-18 3/8-16 7/16-14 1/2-12 9/16-12 5/8-11 11/16-11 "
    "3/4-10 7/8-9 1-8 1_1/8-7 1_1/4-7 1_1/2-6 1_3/4-5 2-4.5 2_1/4-4 2_1/2-4 2_3/4-3.5 3-3.5 "
    "3_1/4-3.25 3_1/2-3.25 3_3/4-3 4-3 4_1/2-2.875 5-2.75 5_1/2-2.625 6-2.5"
)
_BSF = (
    "3/16-32 7/32-28 1/4-26 5/16-22 3/8-20 7/16-18 1/2-16 9/16-16 5/8-14 11/16-14 3/4-12 7/8-11 "
    "1-10 1_1/8-9 1_1/4-9 1_3/8-8 1_1/2-8 1_3/4-7 2-7 2_1/4-6 2_1/2-6 2_3/4-6 3-5 3_1/4-5 "
    "3_1/2-4.5 3_3/4-4.5 4-4.5"
)


def _series(text: str) -> dict[str, tuple[Decimal, Decimal]]:
    found = {}
    for pair in text.split():
        size, threads = pair.replace("_", " ").rsplit("-", 1)
        diameter = inches(size)
        assert diameter is not None, pair
        found[size] = (diameter, Decimal(threads))
    return found


SERIES = {"BSW": _series(_BSW), "BSF": _series(_BSF)}
"""Exact diameter and threads per inch of each size, by its name."""
ALLOWANCE_TO = Decimal("0.75")
"""Medium and free class screws have an allowance up to this diameter."""
ALLOWANCE_SHARE = Decimal("0.3")
EFFECTIVE_SHARE = {
    "close": Decimal(2) / 3, "medium": Decimal(1), "free": Decimal("1.5"), "normal": Decimal("1.5"),
}  # fmt: skip
"""Effective diameter tolerance of each class over that of medium."""
