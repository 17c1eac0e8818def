"""At the machine: a reading over wires in, what to change at the control out, part by part.

    python correction_loop.py job.json readings.csv [--service URL]
    python correction_loop.py job.json -            readings typed in, one a line

The aim, the wires and how far a change of the offset moves the diameter come from the job's own
plan. Each change is added up, so the last line is the offset to leave in the control. The readings
are inventions. Check tool and offset before the next cut.
"""

from __future__ import annotations

import argparse
import csv
import json
import sys
from collections.abc import Iterator
from pathlib import Path

import flankwise

UNCERTAINTY = {"in": 0.0001, "mm": 0.002}


def readings(source: str) -> Iterator[tuple[str, float]]:
    """Yield part and reading, from a file of two columns or typed in."""
    if source == "-":
        for number, line in enumerate(filter(str.strip, sys.stdin), 1):
            yield str(number), float(line)
        return
    with Path(source).open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            yield row["part"], float(row["reading"])


def main() -> int:
    """Say for each reading what to change."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("job", type=Path)
    parser.add_argument("readings")
    parser.add_argument("--service")
    given = parser.parse_args()
    job = json.loads(given.job.read_text("utf-8"))
    unit = job["unit"]
    offset, scrap = 0.0, 0
    with flankwise.Client(given.service) as shop:
        plan = shop.plan_document(job)
        gauging = plan.gauging
        if gauging is None:
            print("a taper thread is gauged by how far it screws on", file=sys.stderr)
            return 1
        print(f"{gauging.method} of {gauging.wire:.5g} {unit}, aim {gauging.aimed_reading:.5f}")
        for part, reading in readings(given.readings):
            told = shop.gauging_inspection(
                plan.limits.designation,
                unit=unit,
                side=plan.limits.side,
                wire=gauging.wire,
                method="three wires" if plan.limits.side == "external" else "between balls",
                reading=reading,
                reading_uncertainty=UNCERTAINTY[unit],
                aim=plan.form.correction.aim,
            )
            change = told.correction
            offset += change.radius_offset_change
            scrap += change.rework is False and change.verdict.standing != "inside"
            print(f"part {part}: {reading:.5f}  {change.verdict.words}; {change.words}; "
                  f"offset now {offset:+.5f}")  # fmt: skip
    print(f"leave {offset:+.5f} {unit} in the radius offset, on top of what is there")
    return 1 if scrap else 0


if __name__ == "__main__":
    sys.exit(main())
