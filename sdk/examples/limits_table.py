"""A spreadsheet of limits: designations in, every limit of size out, as CSV.

    python limits_table.py threads.csv limits.csv --unit mm [--service URL]

Each row names where its figures come from. A designation that names no standard thread keeps its
row, with the reason and what was likely meant.
"""

from __future__ import annotations

import argparse
import csv
import sys
from pathlib import Path
from typing import Any

import flankwise
from flankwise.results import LimitsReply

DIAMETERS = ("major_diameter", "pitch_diameter", "minor_diameter")
COLUMNS = (
    "designation", "side", "unit",
    *(f"{name}_{end}" for name in DIAMETERS for end in ("min", "max")),
    "allowance", "source", "reason",
)  # fmt: skip


def row_of(limits: LimitsReply) -> dict[str, Any]:
    """Return one row; empty where the standard sets no limit."""
    row: dict[str, Any] = {
        "designation": limits.designation, "side": limits.side, "unit": limits.unit,
        "allowance": limits.allowance,
        "source": "; ".join(f"{one.document} {one.edition}, {one.place}" for one in limits.source),
    }  # fmt: skip
    for name in DIAMETERS:
        span = getattr(limits, name)
        row |= {f"{name}_min": span.min, f"{name}_max": span.max}
    return row


def main() -> int:
    """Look every designation up."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("threads", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--unit", choices=("in", "mm"), required=True)
    parser.add_argument("--service")
    given = parser.parse_args()
    with given.threads.open(encoding="utf-8", newline="") as file:
        asked = list(csv.DictReader(file))
    rows: list[dict[str, Any]] = []
    with flankwise.Client(given.service) as shop:
        for one in asked:
            side: Any = one.get("side") or None
            try:
                limits = shop.threads_limits(one["designation"], unit=given.unit, side=side)
            except flankwise.Refused as error:
                rows.append({"designation": one["designation"], "reason": str(error)})
            else:
                rows.append(row_of(limits))
    with given.out.open("w", encoding="utf-8-sig", newline="") as file:  # opens in any spreadsheet
        writer = csv.DictWriter(file, COLUMNS)
        writer.writeheader()
        writer.writerows(rows)
    unknown = sum("reason" in row for row in rows)
    print(f"{len(rows) - unknown} of {len(rows)} threads, in {given.out}")
    return 1 if unknown else 0


if __name__ == "__main__":
    sys.exit(main())
