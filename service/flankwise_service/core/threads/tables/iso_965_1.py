"""ISO 965-1:1998: tolerances and fundamental deviations, as tabulated, micrometres.

The table governs over the formula (ISO 965-1), so every cell is stored with its standing: `s`
seen on a page when the table was collected, `c` memory, confirmed by published limit rows, `m`
memory. A dash: the standard has no such cell, or none is held.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Literal, NamedTuple

from flankwise_service.core.threads.model import Source


class Cell(NamedTuple):
    """One tabulated value in millimetres, and how it got here."""

    value: Decimal
    standing: Literal["seen", "memory"]


def table_source(place: str, *cells: Cell) -> Source:
    """Return the source of a figure built on `cells`: seen only when every one was."""
    seen = all(cell.standing == "seen" for cell in cells)
    return Source("ISO 965-1", "1998", place, "seen" if seen else "memory")


_MINOR_INTERNAL = """
pitch 4 5 6 7 8
0.2 38s - - - -
0.25 45s 56s - - -
0.3 53s 67s 85s - -
0.35 63s 80s 100s - -
0.4 71s 90s 112s - -
0.45 80s 100s 125s - -
0.5 90s 112s 140s 180s -
0.6 100s 125s 160s 200s -
0.7 112s 140s 180s 224s -
0.75 118m 150m 190c 236m -
0.8 125m 160m 200c 250m 315m
1 150m 190m 236c 300m 375m
1.25 170m 212m 265c 335m 425m
1.5 190m 236m 300c 375m 475m
1.75 212m 265m 335c 425m 530m
2 236m 300m 375c 475m 600m
2.5 280m 355m 450c 560m 710m
3 315m 400m 500c 630m 800m
3.5 355m 450m 560c 710m 900m
4 375m 475m 600c 750m 950m
4.5 425m 530m 670c 850m 1060m
5 450m 560m 710c 900m 1120m
5.5 475m 600m 750c 950m 1180m
6 500m 630m 800c 1000m 1250m
8 630m 800m 1000m 1250m 1600m
"""
_MAJOR_EXTERNAL = """
pitch 4 6 8
0.2 36m 56c -
0.25 42m 67c -
0.3 48m 75m -
0.35 53m 85c -
0.4 60m 95c -
0.45 63m 100c -
0.5 67m 106c -
0.6 80m 125c -
0.7 90m 140c -
0.75 90m 140c -
0.8 95m 150c 236m
1 112m 180c 280m
1.25 132m 212c 335m
1.5 150m 236c 375m
1.75 170m 265c 425m
2 180m 280c 450m
2.5 212m 335c 530m
3 236m 375c 600m
3.5 265m 425c 670m
4 300m 475c 750m
4.5 315m 500c 800m
5 335m 530c 850m
5.5 355m 560c 900m
6 375m 600c 950m
8 450m 710m 1180m
"""
_PITCH_INTERNAL = """
over to pitch 4 5 6 7 8
0.99 1.4 0.2 40m - - - -
0.99 1.4 0.25 45m 56m - - -
0.99 1.4 0.3 48m 60m 75m - -
1.4 2.8 0.2 42m - - - -
1.4 2.8 0.25 48m 60m - - -
1.4 2.8 0.35 53m 67m 85c - -
1.4 2.8 0.4 56m 71m 90c - -
1.4 2.8 0.45 60m 75m 95c - -
2.8 5.6 0.35 56m 71m 90c - -
2.8 5.6 0.5 63m 80m 100c 125m -
2.8 5.6 0.6 71m 90m 112c 140m -
2.8 5.6 0.7 75m 95m 118c 150m -
2.8 5.6 0.75 75m 95m 118c 150m -
2.8 5.6 0.8 80m 100m 125c 160m 200m
5.6 11.2 0.75 85m 106m 132c 170m -
5.6 11.2 1 95m 118m 150c 190m 236m
5.6 11.2 1.25 100m 125m 160c 200m 250m
5.6 11.2 1.5 112m 140m 180c 224m 280m
11.2 22.4 1 100m 125m 160c 200m 250m
11.2 22.4 1.25 112m 140m 180c 224m 280m
11.2 22.4 1.5 118m 150m 190c 236m 300m
11.2 22.4 1.75 125m 160m 200c 250m 315m
11.2 22.4 2 132m 170m 212c 265m 335m
11.2 22.4 2.5 140m 180m 224c 280m 355m
22.4 45 1 106m 132m 170c 212m -
22.4 45 1.5 125m 160m 200c 250m 315m
22.4 45 2 140m 180m 224c 280m 355m
22.4 45 3 170m 212m 265c 335m 425m
22.4 45 3.5 180m 224m 280c 355m 450m
22.4 45 4 190m 236m 300c 375m 475m
22.4 45 4.5 200m 250m 315c 400m 500m
45 90 1.5 132m 170m 212c 265m 335m
45 90 2 150m 190m 236c 300m 375m
45 90 3 180m 224m 280c 355m 450m
45 90 4 200m 250m 315c 400m 500m
45 90 5 212m 265m 335c 425m 530m
45 90 5.5 224m 280m 355c 450m 560m
45 90 6 236m 300m 375c 475m 600m
90 180 2 160s 200s 250s 315s 400s
90 180 3 190s 236s 300s 375s 475s
90 180 4 212s 265s 335s 425s 530s
90 180 6 250s 315s 400s 500s 630s
90 180 8 280s 355s 450s 560s 710s
180 355 3 212s 265s 335s 425s 530s
180 355 4 236s 300s 375s 475s 600s
180 355 6 265s 335s 425s 530s 670s
180 355 8 300s 375s 475s 600s 750s
"""
_PITCH_EXTERNAL = """
over to pitch 3 4 5 6 7 8 9
0.99 1.4 0.2 24m 30m 38m 48m - - -
0.99 1.4 0.25 26m 34m 42m 53m - - -
0.99 1.4 0.3 28m 36m 45m 56m - - -
1.4 2.8 0.2 25s 32s 40s 50s - - -
1.4 2.8 0.25 28s 36s 45s 56s - - -
1.4 2.8 0.35 32s 40s 50s 63s 80s - -
1.4 2.8 0.4 34s 42s 53s 67s 85s - -
1.4 2.8 0.45 36s 45s 56s 71s 90s - -
2.8 5.6 0.35 34s 42s 53s 67s 85s - -
2.8 5.6 0.5 38s 48s 60s 75s 95s - -
2.8 5.6 0.6 42s 53s 67s 85s 106s - -
2.8 5.6 0.7 45s 56s 71s 90s 112s - -
2.8 5.6 0.75 45s 56s 71s 90s 112s - -
2.8 5.6 0.8 48s 60s 75s 95s 118s 150s 190s
5.6 11.2 0.75 50s 63s 80s 100s 125s - -
5.6 11.2 1 56s 71s 90s 112s 140s 180s 224s
5.6 11.2 1.25 60s 75s 95s 118s 150s 190s 236s
5.6 11.2 1.5 67s 85s 106s 132s 170s 212s 265s
11.2 22.4 1 60s 75s 95s 118s 150s 190s 236s
11.2 22.4 1.25 67s 85s 106s 132s 170s 212s 265s
11.2 22.4 1.5 71s 90s 112s 140s 180s 224s 280s
11.2 22.4 1.75 75s 95s 118s 150s 190s 236s 300s
11.2 22.4 2 80s 100s 125s 160s 200s 250s 315s
11.2 22.4 2.5 85s 106s 132s 170s 212s 265s 335s
22.4 45 1 63s 80s 100s 125s 160s 200s 250s
22.4 45 1.5 75s 95s 118s 150s 190s 236s 300s
22.4 45 2 85s 106s 132s 170s 212s 265s 335s
22.4 45 3 100s 125s 160s 200s 250s 315s 400s
22.4 45 3.5 106m 132m 170m 212c 265m 335m 425m
22.4 45 4 112m 140m 180m 224c 280m 355m 450m
22.4 45 4.5 118m 150m 190m 236c 300m 375m 475m
45 90 1.5 80m 100c 125m 160c 200m 250m 315m
45 90 2 90m 112c 140m 180c 224m 280m 355m
45 90 3 106m 132m 170m 212c 265m 335m 425m
45 90 4 118m 150m 190m 236c 300m 375m 475m
45 90 5 125m 160m 200m 250c 315m 400m 500m
45 90 5.5 132m 170m 212m 265c 335m 425m 530m
45 90 6 140m 180c 224m 280c 355m 450m 560m
90 180 2 95m 118m 150m 190c 236m 300m 375m
90 180 3 112m 140m 180m 224m 280m 355m 450m
90 180 4 125m 160m 200m 250m 315m 400m 500m
90 180 6 150m 190m 236m 300m 375m 475m 600m
90 180 8 170m 212m 265m 335m 425m 530m 670m
180 355 3 125m 160m 200m 250m 315m 400m 500m
180 355 4 140m 180m 224m 280m 355m 450m 560m
180 355 6 160m 200m 250m 315m 400m 500m 630m
180 355 8 180m 224m 280m 355m 450m 560m 710m
"""
_DEVIATION = """
pitch e f g G
0.2 - 32m 17c 17m
0.25 - 33m 18c 18m
0.3 - 33m 18m 18m
0.35 - 34m 19c 19m
0.4 - 34m 19c 19m
0.45 - 35m 20c 20m
0.5 50m 36m 20c 20m
0.6 53m 36m 21c 21m
0.7 56m 38m 22c 22m
0.75 56m 38m 22c 22m
0.8 60m 38m 24c 24m
1 60m 40m 26c 26m
1.25 63m 42m 28c 28m
1.5 67m 45m 32c 32m
1.75 71m 48m 34c 34m
2 71m 52m 38c 38m
2.5 80m 58m 42c 42m
3 85m 63m 48c 48m
3.5 90m 70m 53c 53m
4 95m 75m 60c 60m
4.5 100m 80m 63c 63m
5 106m 85m 71c 71m
5.5 112m 90m 75c 75m
6 118m 95m 80c 80m
8 140m 118m 100m 100m
"""


def _cell(text: str) -> Cell:
    standing: Literal["seen", "memory"] = "seen" if text.endswith("s") else "memory"
    return Cell(Decimal(text[:-1]).scaleb(-3), standing)


def _lines(text: str, keys: int) -> Iterator[tuple[list[str], list[str], list[str]]]:
    head, *body = (line.split() for line in text.split("\n") if line)
    for line in body:
        yield line[:keys], head[keys:], line[keys:]


def _by_pitch(text: str) -> dict[tuple[Decimal, str], Cell]:
    return {
        (Decimal(key[0]), column): _cell(cell)
        for key, columns, cells in _lines(text, 1)
        for column, cell in zip(columns, cells, strict=True)
        if cell != "-"
    }


def _by_range(text: str) -> dict[tuple[Decimal, Decimal, str], Cell]:
    return {
        (Decimal(key[1]), Decimal(key[2]), column): _cell(cell)
        for key, columns, cells in _lines(text, 3)
        for column, cell in zip(columns, cells, strict=True)
        if cell != "-"
    }


MAJOR_EXTERNAL = _by_pitch(_MAJOR_EXTERNAL)
"""Td by (pitch, grade)."""
MINOR_INTERNAL = _by_pitch(_MINOR_INTERNAL)
"""TD1 by (pitch, grade)."""
PITCH_EXTERNAL = _by_range(_PITCH_EXTERNAL)
"""Td2 by (upper end of diameter range, pitch, grade)."""
PITCH_INTERNAL = _by_range(_PITCH_INTERNAL)
"""TD2 by (upper end of diameter range, pitch, grade)."""
DEVIATION = _by_pitch(_DEVIATION)
"""Size of the fundamental deviation by (pitch, position); h and H are zero."""
LEAST_DIAMETER = Decimal("0.99")
"""The first range is over this."""
RANGE_ENDS = tuple(sorted({end for end, _, _ in PITCH_EXTERNAL}))


def range_end(diameter: Decimal) -> Decimal | None:
    """Return the upper end of the diameter range that holds `diameter`, None outside all.

    >>> range_end(Decimal("11.2")), range_end(Decimal("11.3")), range_end(Decimal(400))
    (Decimal('11.2'), Decimal('22.4'), None)
    """
    if diameter <= LEAST_DIAMETER:
        return None
    return next((end for end in RANGE_ENDS if diameter <= end), None)
