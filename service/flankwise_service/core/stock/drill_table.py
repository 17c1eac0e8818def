"""Diameters of standard drills: number and letter sizes in 0.0001 in, runs of the other lists.

Number and letter sizes: ANSI B94.11M-1993, recalled from memory; numbers 97 to 54 were then
compared with a public-domain list (CircuitousRoot, "Metric, Inch, & Fractional Inch: Drills,
Sizes, Threads & Preferred Sizes", v.2, 2007) that quotes the standard.
"""

from __future__ import annotations

from flankwise_service.core.threads.model import Source

NUMBERS_SOURCE = Source("ANSI B94.11M", "1993", "Table 1, number sizes", "memory")
LETTERS_SOURCE = Source("ANSI B94.11M", "1993", "Table 1, letter sizes", "memory")
METRIC_SOURCE = Source("ISO 235", "1980", "recommended series of diameters", "memory")

NUMBERS: dict[str, int] = {
    "97": 59, "96": 63, "95": 67, "94": 71, "93": 75, "92": 79, "91": 83, "90": 87, "89": 91,
    "88": 95, "87": 100, "86": 105, "85": 110, "84": 115, "83": 120, "82": 125, "81": 130,
    "80": 135, "79": 145, "78": 160, "77": 180, "76": 200, "75": 210, "74": 225, "73": 240,
    "72": 250, "71": 260, "70": 280, "69": 292, "68": 310, "67": 320, "66": 330, "65": 350,
    "64": 360, "63": 370, "62": 380, "61": 390, "60": 400, "59": 410, "58": 420, "57": 430,
    "56": 465, "55": 520, "54": 550, "53": 595, "52": 635, "51": 670, "50": 700, "49": 730,
    "48": 760, "47": 785, "46": 810, "45": 820, "44": 860, "43": 890, "42": 935, "41": 960,
    "40": 980, "39": 995, "38": 1015, "37": 1040, "36": 1065, "35": 1100, "34": 1110, "33": 1130,
    "32": 1160, "31": 1200, "30": 1285, "29": 1360, "28": 1405, "27": 1440, "26": 1470, "25": 1495,
    "24": 1520, "23": 1540, "22": 1570, "21": 1590, "20": 1610, "19": 1660, "18": 1695, "17": 1730,
    "16": 1770, "15": 1800, "14": 1820, "13": 1850, "12": 1890, "11": 1910, "10": 1935, "9": 1960,
    "8": 1990, "7": 2010, "6": 2040, "5": 2055, "4": 2090, "3": 2130, "2": 2210, "1": 2280,
}  # fmt: skip

LETTERS: dict[str, int] = {
    "A": 2340, "B": 2380, "C": 2420, "D": 2460, "E": 2500, "F": 2570, "G": 2610, "H": 2660,
    "I": 2720, "J": 2770, "K": 2810, "L": 2900, "M": 2950, "N": 3020, "O": 3160, "P": 3230,
    "Q": 3320, "R": 3390, "S": 3480, "T": 3580, "U": 3680, "V": 3770, "W": 3860, "X": 3970,
    "Y": 4040, "Z": 4130,
}  # fmt: skip

METRIC_RUNS = (
    (20, 295, 5),
    (300, 1390, 10),
    (1400, 3175, 25),
    (3200, 5050, 50),
    (5100, 10000, 100),
)
"""First, last and step in 0.01 mm."""

FRACTIONS = ((1, 64, 1), (66, 128, 2))
"""First, last and step in 64ths of an inch."""
