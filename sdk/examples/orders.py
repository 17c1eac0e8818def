"""An order list in, plans out: a program, a sheet and a stored plan for every order.

    python orders.py orders.csv OUT [--service URL]

One row is one order; a size left empty is proposed. A row that is refused has its reason in
OUT/orders.csv and no program. Ends with 1 where any was. The orders are inventions.
"""

from __future__ import annotations

import argparse
import csv
import json
import sys
from pathlib import Path
from typing import Any

import flankwise
from flankwise.commands.files import Progress
from flankwise.results import PlanReply, RequestReply

SIZES = {"hexagon": "across_flats", "round": "diameter"}
COLUMNS = ("order", "verdict", "bar", "seconds", "program", "reason")


def job_of(order: dict[str, str]) -> dict[str, Any]:
    """Return the job document of one row; what the row leaves empty is left to the plan."""
    external = order["side"] == "external" or order["designation"].rstrip().endswith(("A", "g"))
    job: dict[str, Any] = {
        "unit": order["unit"],
        "name": f"{order['order']} {order['name']}",
        "quantity": int(order["quantity"]),
        "thread": {"designation": order["designation"], "length": float(order["length"])},
        "stock": {"material": order["material"], "shape": order["shape"]},
        "boss" if external else "hole": {"depth": float(order["depth"])},
    }
    if order["side"]:
        job["thread"]["side"] = order["side"]
    if order["size"]:
        job["stock"][SIZES[order["shape"]]] = float(order["size"])
    if order["drilled"]:
        job["hole"]["drilled_diameter"] = float(order["drilled"])
    return job


def row_of(
    order: dict[str, str], told: RequestReply, out: Path, shop: flankwise.Client
) -> dict[str, Any]:
    """Write the files of one order; return its row of the summary."""
    row: dict[str, Any] = {"order": order["order"]}
    if told.problem is not None:
        faults = (f"{one['pointer']}: {one['detail']}" for one in told.problem["faults"])
        return row | {"verdict": "refused", "reason": "; ".join(faults)}
    plan = PlanReply.of(told.reply)
    stem = out / order["order"]
    stem.with_suffix(".plan.json").write_text(json.dumps(plan.to_dict()), "utf-8")
    shop.plan_sheet(**plan.job).save(stem.with_suffix(".sheet.html"))
    row |= {"verdict": plan.verdict, "bar": plan.bar.size, "seconds": round(plan.time.total_s)}
    try:
        row["program"] = plan.save_program(stem.with_suffix(".nc")).name
    except flankwise.NoProgram as error:
        row["reason"] = str(error)
    return row


def main() -> int:
    """Plan every order of the list."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("orders", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--service")
    given = parser.parse_args()
    with given.orders.open(encoding="utf-8", newline="") as file:
        orders = list(csv.DictReader(file))
    given.out.mkdir(parents=True, exist_ok=True)
    progress = Progress()
    items: list[Any] = [{"operation": "plan", "request": job_of(one)} for one in orders]
    with flankwise.Client(given.service) as shop:
        replies = shop.batch_each(
            items, size=20, progress=lambda done: progress.count(done, len(items), "planning")
        )
        rows = [row_of(*pair, given.out, shop) for pair in zip(orders, replies, strict=True)]
    progress.end()
    with (given.out / "orders.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS)
        writer.writeheader()
        writer.writerows(rows)
    refused = [row for row in rows if row["verdict"] == "refused"]
    for row in refused:
        print(f"{row['order']} refused: {row['reason']}", file=sys.stderr)
    print(f"{len(rows) - len(refused)} of {len(rows)} orders planned, in {given.out}")
    return 1 if refused else 0


if __name__ == "__main__":
    sys.exit(main())
