"""Every night: plan all stored jobs again, and say which come out differently, and where.

    python nightly.py FOLDER [--service URL]

FOLDER holds stored plans (*.plan.json, as `flankwise plan --out` and orders.py write them). Each
holds its own job document, so what it is compared with needs nothing else. Ends with 1 when any
differs: read why before its program is run again.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import flankwise
from flankwise.commands.files import Progress

SAID_ANEW = {"made_by", "assumed", "others", "proposed"}
"""What a settled job document says in other words: what was proposed once is now given."""
CLOSE = 1e-9
SHOWN = 5


def differences(old: Any, new: Any, where: str = "") -> Iterator[str]:
    """Yield each place where two plans differ by more than rounding."""
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        for name in sorted((old.keys() | new.keys()) - SAID_ANEW):
            yield from differences(old.get(name), new.get(name), f"{where}/{name}")
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for place, pair in enumerate(zip(old, new, strict=True)):
            yield from differences(*pair, f"{where}/{place}")
    elif isinstance(old, (int, float)) and isinstance(new, (int, float)):
        if abs(old - new) > CLOSE * max(1.0, abs(old)):
            yield f"{where}: {old} is now {new}"
    elif isinstance(old, str) and isinstance(new, str) and "\n" in old:
        lines = zip(old.splitlines(), new.splitlines(), strict=False)
        changed = [pair for pair in lines if pair[0] != pair[1] and not pair[0].startswith("(")]
        if changed or len(old.splitlines()) != len(new.splitlines()):
            first = changed[0] if changed else ("", "its length")
            yield f"{where}: {len(changed)} lines differ, the first: {first[0]} is now {first[1]}"
    elif old != new:
        yield f"{where}: {old!r} is now {new!r}"


def main() -> int:
    """Plan all stored jobs again."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--service")
    given = parser.parse_args()
    stored = {path: json.loads(path.read_text("utf-8"))
              for path in sorted(given.folder.rglob("*.plan.json"))}  # fmt: skip
    progress, changed = Progress(), 0
    items: list[Any] = [{"operation": "plan", "request": plan["job"]} for plan in stored.values()]
    with flankwise.Client(given.service) as shop:
        replies = list(shop.batch_stream(
            items, progress=lambda done: progress.count(done, len(items), "planning again")
        ))  # fmt: skip
    progress.end()
    for (path, old), told in zip(stored.items(), replies, strict=True):
        if told.problem is not None:
            found = [f"refused now: {told.problem['detail']}"]
        else:
            found = list(differences(old, told.reply))
        if found:
            changed += 1
            now = told.reply["made_by"] if told.reply else "this service"
            print(f"{path.name}: made by {old['made_by']}, otherwise by {now}")
            for line in found[:SHOWN]:
                print(f"  {line}")
            if len(found) > SHOWN:
                print(f"  … and {len(found) - SHOWN} more")
    print(f"{len(stored)} jobs planned again, {changed} differ")
    return 1 if changed else 0


if __name__ == "__main__":
    sys.exit(main())
