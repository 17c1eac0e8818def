"""Inch sizes: numbers, fractions, decimals, and their names."""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.threads.sizes import (
    inch_diameter,
    inch_size,
    number_diameter,
    size_name,
)

# ASME B1.1-2003, Table 1, basic diameters (memory).
NUMBER_SIZES = {
    0: "0.0600", 1: "0.0730", 2: "0.0860", 3: "0.0990", 4: "0.1120", 5: "0.1250", 6: "0.1380",
    8: "0.1640", 10: "0.1900", 12: "0.2160",
}  # fmt: skip


@pytest.mark.parametrize(("number", "diameter"), NUMBER_SIZES.items())
def test_number_sizes(number: int, diameter: str) -> None:
    assert str(number_diameter(number)) == diameter
    assert inch_size(str(number)) == inch_diameter(f"#{number}") == Decimal(diameter)
    assert size_name(Decimal(diameter)) == f"#{number}"


@pytest.mark.parametrize("number", [7, 9, 11, 13, 14, 99])
def test_numbers_that_are_no_size(number: int) -> None:
    assert number_diameter(number) is None
    assert inch_diameter(f"#{number}") is None


@pytest.mark.parametrize(
    ("text", "diameter"),
    [
        ("7/8", "0.8750"),
        ("1-1/4", "1.2500"),
        ("1 1/4", "1.2500"),
        ("19/64", "0.2969"),
        ("5/32", "0.1562"),
        ("3/32", "0.0938"),
        ("2 4/8", "2.5000"),
        (".875", "0.8750"),
        ("0.39", "0.3900"),
        ("6", "6.0000"),
        ("2.0", "2.0000"),
    ],
)
def test_sizes_in_inches(text: str, diameter: str) -> None:
    assert str(inch_diameter(text)) == diameter


@pytest.mark.parametrize(
    "text",
    ["8/7", "8/8", "0/8", "1/0", "0/0", "1/3", "9/17", "1/128", "x", "", "1e5", "1 1", "7/8/9"],
)
def test_what_is_no_size(text: str) -> None:
    assert inch_diameter(text) is None


def test_bare_whole_number_is_a_number_size_where_there_is_one() -> None:
    assert inch_size("12") == Decimal("0.2160")
    assert inch_size("7") == Decimal("7.0000")
    assert inch_size("1/2") == Decimal("0.5000")


@pytest.mark.parametrize(
    ("diameter", "name"),
    [("0.875", "7/8"), ("1.25", "1 1/4"), ("2", "2"), ("0.2969", "19/64"), ("0.39", "0.3900"), ("0.005", "0.0050"), ("1.0156", "1 1/64")],
)  # fmt: skip
def test_names(diameter: str, name: str) -> None:
    assert size_name(Decimal(diameter)) == name
