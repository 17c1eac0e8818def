"""ISO 261:1998: diameters and pitches of ISO metric threads, millimetres.

Standing: memory of Table 2; single sizes are confirmed by the published rows under
tests/published/data.
"""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.threads.model import Source

SERIES_SOURCE = Source("ISO 261", "1998", "Table 2, diameters and pitches", "memory")

# Diameter: coarse pitch (or -), then the fine ones.
_SIZES = """
1 0.25 0.2 | 1.1 0.25 0.2 | 1.2 0.25 0.2 | 1.4 0.3 0.2 | 1.6 0.35 0.2 | 1.8 0.35 0.2
2 0.4 0.25 | 2.2 0.45 0.25 | 2.5 0.45 0.35 | 3 0.5 0.35 | 3.5 0.6 0.35 | 4 0.7 0.5
4.5 0.75 0.5 | 5 0.8 0.5 | 5.5 - 0.5 | 6 1 0.75 | 7 1 0.75 | 8 1.25 1 0.75 | 9 1.25 1 0.75
10 1.5 1.25 1 0.75 | 11 1.5 1 0.75 | 12 1.75 1.5 1.25 1 | 14 2 1.5 1.25 1 | 15 - 1.5 1
16 2 1.5 1 | 17 - 1.5 1 | 18 2.5 2 1.5 1 | 20 2.5 2 1.5 1 | 22 2.5 2 1.5 1 | 24 3 2 1.5 1
25 - 2 1.5 1 | 26 - 1.5 | 27 3 2 1.5 1 | 28 - 2 1.5 1 | 30 3.5 3 2 1.5 1 | 32 - 2 1.5
33 3.5 3 2 1.5 | 35 - 1.5 | 36 4 3 2 1.5 | 38 - 1.5 | 39 4 3 2 1.5 | 40 - 3 2 1.5
42 4.5 4 3 2 1.5 | 45 4.5 4 3 2 1.5 | 48 5 4 3 2 1.5 | 50 - 3 2 1.5 | 52 5 4 3 2 1.5
55 - 4 3 2 1.5 | 56 5.5 4 3 2 1.5 | 58 - 4 3 2 1.5 | 60 5.5 4 3 2 1.5 | 62 - 4 3 2 1.5
64 6 4 3 2 1.5 | 65 - 4 3 2 1.5 | 68 6 4 3 2 1.5 | 70 - 6 4 3 2 1.5 | 72 - 6 4 3 2 1.5
75 - 4 3 2 1.5 | 76 - 6 4 3 2 1.5 | 78 - 2 | 80 - 6 4 3 2 1.5 | 82 - 2 | 85 - 6 4 3 2
90 - 6 4 3 2 | 95 - 6 4 3 2 | 100 - 6 4 3 2 | 105 - 6 4 3 2 | 110 - 6 4 3 2 | 115 - 6 4 3 2
120 - 6 4 3 2 | 125 - 8 6 4 3 2 | 130 - 8 6 4 3 2 | 135 - 6 4 3 2 | 140 - 8 6 4 3 2
145 - 6 4 3 2 | 150 - 8 6 4 3 2 | 155 - 6 4 3 | 160 - 8 6 4 3 | 165 - 6 4 3 | 170 - 8 6 4 3
175 - 6 4 3 | 180 - 8 6 4 3 | 185 - 6 4 3 | 190 - 8 6 4 3 | 195 - 6 4 3 | 200 - 8 6 4 3
205 - 6 4 3 | 210 - 8 6 4 3 | 215 - 6 4 3 | 220 - 8 6 4 3 | 225 - 6 4 3 | 230 - 8 6 4 3
235 - 6 4 3 | 240 - 8 6 4 3 | 245 - 6 4 3 | 250 - 8 6 4 3 | 255 - 6 4 | 260 - 8 6 4 | 265 - 6 4
270 - 8 6 4 | 275 - 6 4 | 280 - 8 6 4 | 285 - 6 4 | 290 - 8 6 4 | 295 - 6 4 | 300 - 8 6 4
"""


def _read(text: str) -> tuple[dict[Decimal, Decimal], dict[Decimal, tuple[Decimal, ...]]]:
    coarse, fine = {}, {}
    for size in text.replace("\n", "|").split("|"):
        if not size.strip():
            continue
        first, second, *rest = size.split()
        if second != "-":
            coarse[Decimal(first)] = Decimal(second)
        fine[Decimal(first)] = tuple(Decimal(pitch) for pitch in rest)
    return coarse, fine


COARSE, FINE = _read(_SIZES)
"""Coarse pitch by diameter; fine pitches by diameter, coarsest first."""
