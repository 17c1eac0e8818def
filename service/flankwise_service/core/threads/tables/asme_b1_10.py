"""ASME B1.10M-2004: limits of size of Unified miniature screw threads, millimetres.

Seen in Machinery's Handbook 31, Table 5, Unified Miniature Screw Threads: Limits of Size and
Tolerances, which reprints the standard; every row is checked against the standard's formulas in
tests/published.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from flankwise_service.core.threads.model import Source, Span

SOURCE = Source(
    "ASME B1.10M", "2004, as in Machinery's Handbook 31", "Table 5, limits of size", "seen"
)


class Row(NamedTuple):
    """The limits of one size."""

    pitch: Decimal
    external_major: Span
    external_pitch: Span
    external_minor: Span
    internal_minor: Span
    internal_pitch: Span
    internal_major: Span


# Size and pitch; external major max min, pitch max min, minor max min;
# internal minor min max, pitch min max, major min max.
_ROWS = """
0.30 0.080  0.300 0.284  0.248 0.234  0.204 0.183  0.217 0.254  0.248 0.262  0.306 0.327
0.35 0.090  0.350 0.333  0.292 0.277  0.242 0.220  0.256 0.297  0.292 0.307  0.356 0.380
0.40 0.100  0.400 0.382  0.335 0.319  0.280 0.256  0.296 0.340  0.335 0.351  0.407 0.432
0.45 0.100  0.450 0.432  0.385 0.369  0.330 0.306  0.346 0.390  0.385 0.401  0.457 0.482
0.50 0.125  0.500 0.479  0.419 0.401  0.350 0.322  0.370 0.422  0.419 0.437  0.509 0.538
0.55 0.125  0.550 0.529  0.469 0.451  0.400 0.372  0.420 0.472  0.469 0.487  0.559 0.588
0.60 0.150  0.600 0.576  0.503 0.483  0.420 0.388  0.444 0.504  0.503 0.523  0.611 0.644
0.70 0.175  0.700 0.673  0.586 0.564  0.490 0.454  0.518 0.586  0.586 0.608  0.713 0.750
0.80 0.200  0.800 0.770  0.670 0.646  0.560 0.520  0.592 0.668  0.670 0.694  0.814 0.856
0.90 0.225  0.900 0.867  0.754 0.728  0.630 0.586  0.666 0.750  0.754 0.780  0.916 0.962
1.00 0.250  1.000 0.964  0.838 0.810  0.700 0.652  0.740 0.832  0.838 0.866  1.018 1.068
1.10 0.250  1.100 1.064  0.938 0.910  0.800 0.752  0.840 0.932  0.938 0.966  1.118 1.168
1.20 0.250  1.200 1.164  1.038 1.010  0.900 0.852  0.940 1.032  1.038 1.066  1.218 1.268
1.40 0.300  1.400 1.358  1.205 1.173  1.040 0.984  1.088 1.196  1.205 1.237  1.422 1.480
"""


def _row(pitch: Decimal, limits: list[Decimal]) -> Row:
    external = [Span(min=limits[i + 1], max=limits[i]) for i in (0, 2, 4)]
    internal = [Span(min=limits[i], max=limits[i + 1]) for i in (6, 8, 10)]
    return Row(pitch, *external, *internal)


def _rows() -> dict[Decimal, Row]:
    found = {}
    for line in _ROWS.strip().splitlines():
        size, pitch, *limits = (Decimal(figure) for figure in line.split())
        found[size] = _row(pitch, limits)
    return found


ROWS = _rows()
"""Limits by nominal size."""
