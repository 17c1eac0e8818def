"""Reads the published rows under tests/published/data."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

DATA = Path(__file__).resolve().parents[1] / "published" / "data"


def rows(name: str) -> list[dict[str, str]]:
    """Return the rows of one file, each a dict by column."""
    with (DATA / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def cells(row: dict[str, str], columns: tuple[str, ...]) -> Iterator[tuple[str, Decimal]]:
    """Yield the figures that a row prints in `columns`, with their printed digits."""
    for column in columns:
        if row[column]:
            yield column, Decimal(row[column])


def digits(figure: Decimal) -> int:
    """Return how many decimals a figure is printed to."""
    exponent = figure.as_tuple().exponent
    assert isinstance(exponent, int)
    return -exponent
