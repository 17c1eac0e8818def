"""`flankwise plan`: a job document in; report, program, sheet and drawings out."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import Any

from flankwise.calls.plan import View
from flankwise.client import Client
from flankwise.commands import DONE, REFUSED
from flankwise.commands.files import BadFile, Progress, read_document, write_text
from flankwise.commands.report import report

VIEWS: tuple[View, ...] = ("section", "path", "setup", "bar")


def add_to(parser: ArgumentParser) -> None:
    """Declare the arguments of the command."""
    parser.add_argument("job", type=Path, help="job document (JSON)")
    parser.add_argument(
        "--out",
        type=Path,
        metavar="FOLDER",
        help="folder for program, sheet, drawings and the whole plan",
    )
    parser.add_argument(
        "--quiet", action="store_true", help="print no report; of a refused plan one line"
    )


def run(client: Client, options: Namespace) -> int:
    """Plan the job, print the report, write the files; a refused plan ends with exit code 1."""
    job = _job(options.job)
    progress = Progress()
    progress.step("planning ...")
    plan = client.plan_document(job)
    written: list[Path] = []
    if options.out is not None:
        name = options.job.stem
        written.append(write_text(options.out, f"{name}.plan.json", _as_json(plan.to_dict())))
        if plan.program is not None:
            written.append(write_text(options.out, f"{name}.nc", plan.program.text))
        progress.step("writing the sheet ...")
        written.append(write_text(options.out, f"{name}.sheet.html", client.plan_sheet(**job)))
        for view in _views(plan.to_dict()):
            progress.step(f"drawing the {view} ...")
            drawn = client.plan_drawing(**job, view=view)
            written.append(write_text(options.out, f"{name}.{view}.svg", drawn))
    progress.end()
    if not options.quiet:
        print(report(plan.to_dict()))
    elif plan.verdict == "refused":
        print(f"flankwise: {_why_refused(plan.to_dict())}", file=sys.stderr)
    for path in written:
        print(f"written: {path}")
    return REFUSED if plan.verdict == "refused" else DONE


def _job(path: Path) -> dict[str, Any]:
    """Return the job document at `path`; a whole plan, saved before, isn't one but holds one."""
    document = read_document(path)
    if {"verdict", "checks", "job"} <= document.keys():
        raise BadFile(f'{path} is a whole plan: give its "job" alone, as a file of its own')
    return document


def _why_refused(plan: dict[str, Any]) -> str:
    """Return a line that says the plan is refused, and by which checks."""
    found = [check["detail"] for check in plan["checks"] if check["state"] == "refused"]
    return f"the plan is refused: {'; '.join(found)}"


def _views(plan: dict[str, Any]) -> tuple[View, ...]:
    """Return the views there are: no section of a taper thread, no flats on round bar."""
    missing = {
        "section": plan["limits"]["basic"]["taper"] != 0,
        "bar": plan["bar"]["shape"] != "hexagon",
    }
    return tuple(view for view in VIEWS if not missing.get(view))


def _as_json(document: object) -> str:
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"
