"""Whitworth and BA threads against published tables, cell by cell.

Rows: data/whitworth.csv (TR Fastenings BSW geometry table; a chart of threading tables; a list of
BSF threads; Machinery's Handbook 31, p. 2115, for BA to BS 93:1951).
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.threads import Limits, limits
from flankwise_service.core.threads.common import half_up
from flankwise_service.core.threads.tables import bs_93
from support.published import rows

ROWS = rows("whitworth.csv")
PRINTED_OTHERWISE = {
    # 7/32 = 0.21875: that list cuts it to 0.2187 and takes the depth off that; its minor diameter
    # 0.1654 is ours, from the exact size.
    ("7/32", "major"): "0.2188",
    ("7/32", "effective"): "0.1921",
}


def figure(row: dict[str, str], found: Limits) -> Decimal | None:
    return {
        "tpi": found.thread.threads_per_inch,
        "pitch": found.thread.pitch,
        "major": found.basic.major_diameter,
        "effective": found.basic.pitch_diameter,
        "minor": found.basic.minor_diameter,
        "depth": found.extra["thread_depth"],
        "radius": found.extra["crest_radius"],
    }[row["quantity"]]


def test_the_whole_file_is_seen() -> None:
    assert len(ROWS) == 65
    assert {row["source"] for row in ROWS} == {"seen"}


@pytest.mark.parametrize(
    "row", ROWS, ids=lambda r: f"{r['series'][:3]} {r['size']} {r['quantity']}"
)
def test_british_threads(row: dict[str, str]) -> None:
    name = (
        row["size"] if row["series"].startswith("BA") else f"{row['size']} {row['series']} medium"
    )
    found = limits(name, side="internal")
    want = PRINTED_OTHERWISE.get((row["size"], row["quantity"]), row["value"])
    assert figure(row, found) == Decimal(want)


def test_ba_table_holds_together() -> None:
    """BS 93 (Machinery's Handbook 31, p. 2115): effective = major - depth, minor = effective - depth,
    depth 0.6 p to 0.005 mm, radius 0.180834 p, pitch 0.9^n and major 6 p^1.2, both rounded."""
    for number, size in enumerate(bs_93.SIZES):
        assert size.major - size.depth == size.effective
        assert size.effective - size.depth == size.minor
        assert abs(size.depth - Decimal("0.6") * size.pitch) <= Decimal("0.0026")
        assert abs(Decimal("0.1808346") * size.pitch - size.radius) < Decimal("0.0001")
        assert abs(size.pitch - Decimal("0.9") ** number) < Decimal("0.006")
        assert abs(size.major - 6 * size.pitch ** Decimal("1.2")) < Decimal("0.07")


def test_ba_limits_by_the_formulas_of_bs_93() -> None:
    """Machinery's Handbook 31, p. 2115, tolerance formulas; BS 93:2008, Annex B."""
    close, normal = limits("0 BA close"), limits("0 BA normal")
    nut, small = limits("0 BA nut"), limits("12 BA normal")
    assert (close.major_diameter.min, close.major_diameter.max) == (Decimal("5.85"), Decimal(6))
    assert close.pitch_diameter.min == Decimal("5.300")
    assert close.minor_diameter.min == Decimal("4.600")
    assert normal.allowance == Decimal("0.025")
    assert (normal.major_diameter.min, normal.major_diameter.max) == (
        Decimal("5.775"), Decimal("5.975"),
    )  # fmt: skip
    assert normal.pitch_diameter.min == Decimal("5.250")
    assert normal.minor_diameter.min == Decimal("4.525")
    assert nut.pitch_diameter.max == Decimal("5.550")
    assert nut.minor_diameter.max == Decimal("5.175")
    assert small.allowance == 0
    assert small.tolerances.major_diameter == Decimal("0.070")  # 0.25 x 0.28


def test_whitworth_tolerances_by_the_formulas_of_bs_84() -> None:
    """BS 84:2007, Annex B (memory): T and its shares, worked here for 1 in, 8 threads, L = D."""
    t = 0.002 + 0.003 + 0.005 * 0.125**0.5
    root = 0.125**0.5
    want = {
        "close": (2 / 3 * t + 0.01 * root, 2 / 3 * t, 2 / 3 * t + 0.013 * root),
        "medium": (t + 0.01 * root, t, t + 0.02 * root),
        "free": (1.5 * t + 0.01 * root, 1.5 * t, 1.5 * t + 0.02 * root),
    }
    for name, figures in want.items():
        found = limits(f"1 BSW {name}", side="external")
        got = found.tolerances
        assert [got.major_diameter, got.pitch_diameter, got.minor_diameter] == [
            half_up(Decimal(figure), 4) for figure in figures
        ]
        assert found.allowance == 0  # over 3/4 in
        assert found.major_diameter.max == 1
    nut = limits("1 BSW normal")
    assert nut.tolerances.pitch_diameter == half_up(Decimal(1.5 * t), 4)
    assert nut.tolerances.minor_diameter == Decimal("0.0320")  # 0.2 p + 0.007


def test_whitworth_allowance_to_three_quarters() -> None:
    """BS 84:2007: medium and free screws to 3/4 in have an allowance (a gauge maker's page);
    three tenths of the medium effective tolerance (memory)."""
    medium = limits("3/4 BSW medium bolt")
    t = limits("3/4 BSW medium nut").tolerances.pitch_diameter
    assert t is not None
    assert abs(medium.allowance - t * Decimal("0.3")) < Decimal("0.0001")
    assert medium.allowance == limits("3/4 BSW free").allowance > 0
    assert limits("3/4 BSW close").allowance == limits("7/8 BSW medium bolt").allowance == 0
