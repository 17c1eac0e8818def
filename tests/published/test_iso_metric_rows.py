"""ISO metric limits against published charts, and the stored tables against the formulas.

Rows: tests/published/data/iso_metric.csv, each with its source (charts after ASME B1.13M and
ISO 965-2). Tables: the five iso_*.csv files, complete, each cell marked seen or memory.
"""

from __future__ import annotations

from decimal import Decimal
from math import sqrt

import pytest

from flankwise_service.core.threads import Limits, limits
from flankwise_service.core.threads.tables import iso_965_1 as table
from support.published import cells, rows

ROWS = rows("iso_metric.csv")
COLUMNS = (
    "d_max", "d_min", "d2_max", "d2_min", "d1_max_flat", "d3_min",
    "D1_min", "D1_max", "D2_min", "D2_max", "D_min",
)  # fmt: skip
MISPRINT = ("M2.5x0.35-6g", "d3_min")
"""The chart prints 1.998; d2min - 0.616025 P is 2.191 - 0.2156 = 1.975, as in all its other rows."""


def designation(row: dict[str, str]) -> str:
    return f"{row['designation']}-{row['thread_class']}"


def figures(found: Limits) -> dict[str, Decimal | None]:
    if found.side == "external":
        return {
            "d_max": found.major_diameter.max,
            "d_min": found.major_diameter.min,
            "d2_max": found.pitch_diameter.max,
            "d2_min": found.pitch_diameter.min,
            "d1_max_flat": found.minor_diameter.max,
            "d3_min": found.extra["minor_diameter_rounded_min"],
        }
    return {
        "D1_min": found.minor_diameter.min,
        "D1_max": found.minor_diameter.max,
        "D2_min": found.pitch_diameter.min,
        "D2_max": found.pitch_diameter.max,
        "D_min": found.major_diameter.min,
    }


def test_the_file_holds_what_it_should() -> None:
    assert len(ROWS) == 95
    assert all(row["source"] == "seen" for row in ROWS)


@pytest.mark.parametrize("row", [r for r in ROWS if r["decimals"] == "3"], ids=designation)
def test_row_printed_to_the_micrometre(row: dict[str, str]) -> None:
    found = figures(limits(designation(row)))
    printed = {
        column: figure
        for column, figure in cells(row, COLUMNS)
        if (designation(row), column) != MISPRINT
    }
    assert {column: found[column] for column in printed} == printed


@pytest.mark.parametrize("row", [r for r in ROWS if r["decimals"] == "2"], ids=designation)
def test_row_printed_to_four_significant_figures(row: dict[str, str]) -> None:
    """The chart gives these to 0.01 mm, so they agree within half of that and our micrometre."""
    found = figures(limits(designation(row)))
    for column, printed in cells(row, COLUMNS):
        figure = found[column]
        assert figure is not None
        assert abs(figure - printed) <= Decimal("0.006"), column


def test_misprint_is_what_it_was_taken_for() -> None:
    assert figures(limits(MISPRINT[0]))[MISPRINT[1]] == Decimal("1.975")


def by_pitch(name: str, value: str, column: str) -> dict[tuple[Decimal, str], tuple[Decimal, bool]]:
    return {
        (Decimal(row["pitch_mm"]), row[column].split("_")[-1]): (
            abs(Decimal(row[value])) / 1000,
            row["status"] == "seen",
        )
        for row in rows(name)
    }


def by_range(name: str, value: str) -> dict[tuple[Decimal, Decimal, str], tuple[Decimal, bool]]:
    return {
        (Decimal(row["d_to_mm"]), Decimal(row["pitch_mm"]), row["grade"]): (
            Decimal(row[value]) / 1000,
            row["status"] == "seen",
        )
        for row in rows(name)
    }


@pytest.mark.parametrize(
    ("held", "published"),
    [
        (table.MINOR_INTERNAL, by_pitch("iso_minor_internal.csv", "TD1_um", "grade")),
        (table.MAJOR_EXTERNAL, by_pitch("iso_major_external.csv", "Td_um", "grade")),
        (table.PITCH_INTERNAL, by_range("iso_pitch_internal.csv", "TD2_um")),
        (table.PITCH_EXTERNAL, by_range("iso_pitch_external.csv", "Td2_um")),
        (table.DEVIATION, by_pitch("iso_fundamental_deviation.csv", "value_um", "deviation")),
    ],
    ids=["TD1", "Td", "TD2", "Td2", "deviations"],
)
def test_whole_table_with_the_standing_of_each_cell(held: object, published: object) -> None:
    assert isinstance(held, dict)
    assert {key: (cell.value, cell.standing == "seen") for key, cell in held.items()} == published


R40 = (
    "1.00 1.06 1.12 1.18 1.25 1.32 1.40 1.50 1.60 1.70 1.80 1.90 2.00 2.12 2.24 2.36 2.50 2.65 2.80 "
    "3.00 3.15 3.35 3.55 3.75 4.00 4.25 4.50 4.75 5.00 5.30 5.60 6.00 6.30 6.70 7.10 7.50 8.00 8.50 "
    "9.00 9.50"
)
"""Preferred numbers, ISO 3, rounded series R40 (memory)."""
PREFERRED = [float(text) * 10**power for power in range(5) for text in R40.split()]
RANGES = {
    1.4: 0.99, 2.8: 1.4, 5.6: 2.8, 11.2: 5.6, 22.4: 11.2, 45.0: 22.4, 90.0: 45.0, 180.0: 90.0,
    355.0: 180.0,
}  # fmt: skip


def preferred(value: float) -> float:
    return min(PREFERRED, key=lambda number: abs(number - value))


def pitch_tolerance_6(end: float, pitch: float) -> float:
    """90 P^0.4 d^0.1, d the geometric mean of the range (ISO 965-1:1998, clause 13; memory)."""
    return 90 * pitch**0.4 * sqrt(end * RANGES[end]) ** 0.1


def share_of_cells_off_the_formula(
    cells_and_formula: list[tuple[float, float]],
) -> tuple[float, float]:
    """Return the share of cells that aren't the preferred number, and the worst ratio."""
    off = [abs(held - preferred(by)) > 0.01 * held for held, by in cells_and_formula]
    worst = max(abs(held / by - 1) for held, by in cells_and_formula)
    return sum(off) / len(off), worst


EXTERNAL_RATIO = {"3": 0.5, "4": 0.63, "5": 0.8, "6": 1.0, "7": 1.25, "8": 1.6, "9": 2.0}
INTERNAL_RATIO = {"4": 0.85, "5": 1.06, "6": 1.32, "7": 1.7, "8": 2.12}


@pytest.mark.parametrize(
    ("held", "ratio"),
    [(table.PITCH_EXTERNAL, EXTERNAL_RATIO), (table.PITCH_INTERNAL, INTERNAL_RATIO)],
)
def test_pitch_tolerances_follow_the_formula_the_table_was_smoothed_from(
    held: dict[tuple[Decimal, Decimal, str], table.Cell], ratio: dict[str, float]
) -> None:
    """ISO 965-1 computes, rounds to R40, then smooths: few cells differ, none by 7 percent."""
    pairs = [
        (float(cell.value) * 1000, ratio[grade] * pitch_tolerance_6(float(end), float(pitch)))
        for (end, pitch, grade), cell in held.items()
    ]
    share, worst = share_of_cells_off_the_formula(pairs)
    assert share < 0.18
    assert worst < 0.065


def test_crest_tolerances_follow_their_formulas() -> None:
    """Td(6) = 180 P^(2/3) - 3.15 P^(-1/2); TD1(6) = 433 P - 190 P^1.22 or 230 P^0.7 (memory)."""
    major = {"4": 0.63, "6": 1.0, "8": 1.6}
    minor = {"4": 0.63, "5": 0.8, "6": 1.0, "7": 1.25, "8": 1.6}
    pairs = [
        (float(cell.value) * 1000, major[grade] * (180 * float(p) ** (2 / 3) - 3.15 / sqrt(p)))
        for (p, grade), cell in table.MAJOR_EXTERNAL.items()
    ]
    for (p, grade), cell in table.MINOR_INTERNAL.items():
        pitch = float(p)
        base = 230 * pitch**0.7 if pitch >= 1 else 433 * pitch - 190 * pitch**1.22
        pairs.append((float(cell.value) * 1000, minor[grade] * base))
    share, worst = share_of_cells_off_the_formula(pairs)
    assert share < 0.16
    assert worst < 0.08


def test_deviations_follow_their_formulas() -> None:
    """g and G 15 + 11 P, f 30 + 11 P, e 50 + 11 P micrometres (ISO 965-1:1998; memory)."""
    base = {"g": 15, "G": 15, "f": 30, "e": 50}
    for (pitch, position), cell in table.DEVIATION.items():
        by_formula = base[position] + 11 * float(pitch)
        assert float(cell.value) * 1000 == pytest.approx(by_formula, rel=0.1), (pitch, position)
