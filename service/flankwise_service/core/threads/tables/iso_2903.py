"""ISO 2901 to 2904: metric trapezoidal screw threads, the tables that govern. From memory.

Sizes (ISO 2902, Table 1), fundamental deviations and tolerances (ISO 2903:2016, Tables 1 to 6),
clearances (ISO 2901, Table 1). Tolerances in micrometres, the rest in millimetres. None was read on
a page of the standard. They equal 54 cells recalled by someone else, and the limits of 7e from 8 to
18 mm that an engineering reference prints (tests/published).
"""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.threads.model import Source

SIZES_SOURCE = Source("ISO 2902", "2016", "general plan, Table 1", "memory")
FORM = Source("ISO 2904", "2020", "formulas of d2, d3, D1, D4, in engineering references", "seen")
CLEARANCE = Source("ISO 2901", "2016", "Table 1, clearance at the crests", "memory")
TOLERANCES = Source("ISO 2903", "2016", "Tables 1 to 6: deviations and tolerances", "memory")
TOLERANCES_7E = Source(
    "engineering reference table", "DIN 103, class 7e", "limits of Tr 8 to Tr 18", "seen"
)
MULTIPLE_START = Source("ISO 2903", "2016", "clause 10, multiple-start threads", "memory")
POSITIONS = Source(
    "ISO 2903", "2016", "clause 6: d and d3 have position h, D1 and D4 position H", "seen"
)

_SIZES = """
8:1.5 9:1.5,2 10:1.5,2 11:2,3 12:2,3 14:2,3 16:2,4 18:2,4 20:2,4
22:3,5,8 24:3,5,8 26:3,5,8 28:3,5,8 30:3,6,10 32:3,6,10 34:3,6,10 36:3,6,10
38:3,7,10 40:3,7,10 42:3,7,10 44:3,7,12 46:3,8,12 48:3,8,12 50:3,8,12 52:3,8,12
55:3,9,14 60:3,9,14 65:4,10,16 70:4,10,16 75:4,10,16 80:4,10,16 85:4,12,18 90:4,12,18
95:4,12,18 100:4,12,20 105:4,12,20 110:4,12,20 115:6,12,22 120:6,14,22 125:6,14,22 130:6,14,22
135:6,14,24 140:6,14,24 145:6,14,24 150:6,16,24 155:6,16,24 160:6,16,28 165:6,16,28 170:6,16,28
175:8,16,28 180:8,18,28 185:8,18,32 190:8,18,32 195:8,18,32 200:8,18,32
210:8,20,36 220:8,20,36 230:8,20,36 240:8,22,36 250:12,22,40 260:12,22,40 270:12,24,40
280:12,24,40 290:12,24,44 300:12,24,44
"""


def _sizes() -> dict[Decimal, tuple[Decimal, ...]]:
    found = {}
    for entry in _SIZES.split():
        diameter, pitches = entry.split(":")
        found[Decimal(diameter)] = tuple(Decimal(pitch) for pitch in pitches.split(","))
    return found


SIZES: dict[Decimal, tuple[Decimal, ...]] = _sizes()
"""Pitches of each nominal diameter."""

# pitch; es c; es e; Td grade 4; TD1 grade 4
_BY_PITCH = """
1.5;140;67;150;190
2;150;71;180;236
3;170;85;236;315
4;190;95;300;375
5;212;106;335;450
6;236;118;375;500
7;250;125;425;560
8;265;132;450;630
9;280;140;500;670
10;300;150;530;710
12;335;160;600;800
14;355;180;670;900
16;375;190;710;1000
18;400;200;800;1120
20;425;212;850;1180
22;450;224;900;1250
24;475;236;950;1320
28;500;250;1060;1500
32;530;265;1120;1600
36;560;280;1250;1800
40;600;300;1320;1900
44;630;315;1400;2000
"""


def _column(place: int) -> dict[Decimal, int]:
    rows = [line.split(";") for line in _BY_PITCH.split()]
    return {Decimal(row[0]): int(row[place]) for row in rows}


DEVIATION = {"c": _column(1), "e": _column(2)}
"""-es of the external pitch diameter, by position and pitch."""
MAJOR_TOLERANCE = _column(3)
MINOR_TOLERANCE = _column(4)

# diameter over and up to; pitch; Td2 of grades 7, 8, 9; TD2 of grades 7, 8, 9
_PITCH_DIAMETER = """
5.6 11.2 1.5 170 212 265 224 280 355
5.6 11.2 2 190 236 300 250 315 400
5.6 11.2 3 212 265 335 280 355 450
11.2 22.4 2 200 250 315 265 335 425
11.2 22.4 3 224 280 355 300 375 475
11.2 22.4 4 265 335 425 355 450 560
11.2 22.4 5 280 355 450 375 475 600
11.2 22.4 8 355 450 560 475 600 750
22.4 45 3 250 315 400 335 425 530
22.4 45 5 300 375 475 400 500 630
22.4 45 6 335 425 530 450 560 710
22.4 45 7 355 450 560 475 600 750
22.4 45 8 375 475 600 500 630 800
22.4 45 10 400 500 630 530 670 850
22.4 45 12 425 530 670 560 710 900
45 90 3 265 335 425 355 450 560
45 90 4 300 375 475 400 500 630
45 90 8 400 500 630 530 670 850
45 90 9 425 530 670 560 710 900
45 90 10 425 530 670 560 710 900
45 90 12 475 600 750 630 800 1000
45 90 14 500 630 800 670 850 1060
45 90 16 530 670 850 710 900 1120
45 90 18 560 710 900 750 950 1180
90 180 4 315 400 500 425 530 670
90 180 6 375 475 600 500 630 800
90 180 8 425 530 670 560 710 900
90 180 12 500 630 800 670 850 1060
90 180 14 530 670 850 710 900 1120
90 180 16 560 710 900 750 950 1180
90 180 18 600 750 950 800 1000 1250
90 180 20 600 750 950 800 1000 1250
90 180 22 630 800 1000 850 1060 1320
90 180 24 670 850 1060 900 1120 1400
90 180 28 710 900 1120 950 1180 1500
180 355 8 450 560 710 600 750 950
180 355 12 530 670 850 710 900 1120
180 355 18 630 800 1000 850 1060 1320
180 355 20 670 850 1060 900 1120 1400
180 355 22 670 850 1060 900 1120 1400
180 355 24 710 900 1120 950 1180 1500
180 355 32 800 1000 1250 1060 1320 1700
180 355 36 850 1060 1320 1120 1400 1800
180 355 40 850 1060 1320 1120 1400 1800
180 355 44 900 1120 1400 1250 1500 1900
"""
GRADES = ("7", "8", "9")
DIAMETER_RANGE_ENDS = tuple(
    Decimal(end) for end in ("5.6", "11.2", "22.4", "45", "90", "180", "355")
)


def _by_grade(first: int) -> dict[tuple[Decimal, Decimal, str], int]:
    found = {}
    for row in (line.split() for line in _PITCH_DIAMETER.strip().split("\n")):
        for place, grade in enumerate(GRADES, start=first):
            found[(Decimal(row[1]), Decimal(row[2]), grade)] = int(row[place])
    return found


EXTERNAL_PITCH_DIAMETER = _by_grade(3)
"""Td2 by upper end of the diameter range, pitch and grade."""
INTERNAL_PITCH_DIAMETER = _by_grade(6)
"""TD2 likewise."""
START_FACTOR = {
    1: Decimal(1), 2: Decimal("1.12"), 3: Decimal("1.25"), 4: Decimal("1.4"), 5: Decimal("1.6"),
}  # fmt: skip
"""Factor on Td2 and TD2 for so many starts; 5 and more have the last."""


def crest_clearance(pitch: Decimal) -> Decimal:
    """Return ac, the clearance at major and minor, mm (ISO 2901, Table 1).

    >>> [str(crest_clearance(Decimal(p))) for p in ("1.5", "5", "12", "14")]
    ['0.15', '0.25', '0.5', '1']
    """
    if pitch < 2:
        return Decimal("0.15")
    if pitch <= 5:
        return Decimal("0.25")
    return Decimal("0.5") if pitch <= 12 else Decimal(1)
