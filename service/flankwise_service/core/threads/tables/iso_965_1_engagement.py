"""ISO 965-1:1998: lengths of thread engagement, millimetres.

A length over N's least, up to its greatest, is normal (N); shorter is S, longer is L. Standing:
memory of the table; the normal lengths of coarse threads M1 to M6 confirmed by a published chart
of 6g limits (seen), and all near the standard's formula, in tests/published.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from flankwise_service.core.threads.model import Source, Span
from flankwise_service.core.threads.tables.iso_965_1 import range_end

SOURCE = Source("ISO 965-1", "1998", "lengths of thread engagement", "memory")

# Diameters over and up to; then pitch, normal length over, up to.
_ROWS = """
0.99 1.4 | 0.2 0.5 1.4 | 0.25 0.6 1.7 | 0.3 0.7 2
1.4 2.8 | 0.2 0.5 1.5 | 0.25 0.6 1.9 | 0.35 0.8 2.6 | 0.4 1 3 | 0.45 1.3 3.8
2.8 5.6 | 0.35 1 3 | 0.5 1.5 4.5 | 0.6 1.7 5 | 0.7 2 6 | 0.75 2.2 6.7 | 0.8 2.5 7.5
5.6 11.2 | 0.75 2.4 7.1 | 1 3 9 | 1.25 4 12 | 1.5 5 15
11.2 22.4 | 1 3.8 11 | 1.25 4.5 13 | 1.5 5.6 16 | 1.75 6 18 | 2 8 24 | 2.5 10 30
22.4 45 | 1 4 12 | 1.5 6.3 19 | 2 8.5 25 | 3 12 36 | 3.5 15 45 | 4 18 53 | 4.5 21 63
45 90 | 1.5 7.5 22 | 2 9.5 28 | 3 15 45 | 4 19 56 | 5 24 71 | 5.5 28 85 | 6 32 95
90 180 | 2 12 36 | 3 18 53 | 4 24 71 | 6 36 106 | 8 45 132
180 355 | 3 20 60 | 4 26 80 | 6 40 118 | 8 50 150
"""


def _rows() -> dict[tuple[Decimal, Decimal], Span]:
    found = {}
    for line in _ROWS.strip().splitlines():
        ends, *cells = line.split(" | ")
        for cell in cells:
            pitch, least, greatest = (Decimal(figure) for figure in cell.split())
            found[Decimal(ends.split()[1]), pitch] = Span(least, greatest)
    return found


NORMAL = _rows()
"""Normal length of engagement (over min, up to max) by (upper end of range, pitch)."""


def normal_length(diameter: Decimal, pitch: Decimal) -> Span:
    """Return the normal length of engagement, mm: over min, up to max; None where not held.

    >>> normal_length(Decimal(8), Decimal("1.25"))
    Span(min=Decimal('4'), max=Decimal('12'))
    """
    end = range_end(diameter)
    return NORMAL.get((end, pitch), Span()) if end is not None else Span()


def engagement_group(
    diameter: Decimal, pitch: Decimal, length: Decimal
) -> Literal["S", "N", "L"] | None:
    """Return the group that a length of engagement, mm, falls in; None where not held.

    >>> [engagement_group(Decimal(8), Decimal("1.25"), Decimal(n)) for n in (4, 5, 12, 13)]
    ['S', 'N', 'N', 'L']
    """
    normal = normal_length(diameter, pitch)
    if normal.min is None or normal.max is None:
        return None
    if length <= normal.min:
        return "S"
    return "N" if length <= normal.max else "L"
