"""`flankwise limits`: the limits of size of a thread."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace

from flankwise.client import Client
from flankwise.commands import DONE
from flankwise.results import LimitSpan, LimitsReply

LEAST_DECIMALS = {"in": 4, "mm": 3}


def add_to(parser: ArgumentParser) -> None:
    """Declare the arguments of the command."""
    parser.add_argument("designation", help='the thread, such as "7/8-14 UNF-2A" or "M20x1.5-6H"')
    parser.add_argument("--unit", required=True, choices=("in", "mm"), help="unit of the limits")
    parser.add_argument("--side", choices=("external", "internal"),
                        help="needed where the designation doesn't say it")  # fmt: skip
    parser.add_argument("--edition", help="an older edition of the standard")
    parser.add_argument("--json", action="store_true", help="print the reply as it came")


def run(client: Client, options: Namespace) -> int:
    """Ask for the limits and print them."""
    limits = client.threads_limits(
        options.designation, unit=options.unit, side=options.side, edition=options.edition
    )
    if options.json:
        print(json.dumps(limits.to_dict(), indent=2, ensure_ascii=False))
    else:
        print(table(limits))
    return DONE


def table(limits: LimitsReply) -> str:
    """Return the limits as a table for people."""
    rows = [("", "min", "max")]
    for name in ("major_diameter", "pitch_diameter", "minor_diameter"):
        span: LimitSpan = getattr(limits, name)
        rows.append(
            (
                name.replace("_", " "),
                _figure(span.min, limits.unit),
                _figure(span.max, limits.unit),
            )
        )
    lines = [f"{limits.designation}  {limits.side}, {limits.unit}"]
    lines += [f"{name:<16}{least:>10}{greatest:>10}" for name, least, greatest in rows]
    lines.append(f"{'allowance':<16}{_figure(limits.allowance, limits.unit):>10}")
    return "\n".join(lines)


def _figure(value: float | None, unit: str) -> str:
    if value is None:
        return "-"
    text = f"{value:.10g}"
    decimals = len(text.partition(".")[2])
    return f"{value:.{max(decimals, LEAST_DECIMALS[unit])}f}"
