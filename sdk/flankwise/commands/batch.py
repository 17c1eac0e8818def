"""`flankwise batch`: a file of requests in, a file of replies out, with how far it is."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from flankwise.client import Client
from flankwise.commands import DONE, REFUSED
from flankwise.commands.files import BadFile, Progress


def add_to(parser: ArgumentParser) -> None:
    """Declare the arguments of the command."""
    parser.add_argument(
        "requests", type=Path, help="requests, one JSON object a line: operation, request, key"
    )
    parser.add_argument(
        "--out", type=Path, required=True, metavar="FILE", help="file for the replies, one a line"
    )


def run(client: Client, options: Namespace) -> int:
    """Send every request, write what came of each in the same order; 1 where one was refused."""
    items = list(_requests(options.requests))
    progress, refused = Progress(), 0
    try:
        with options.out.open("w", encoding="utf-8", newline="\n") as out:
            replies = client.batch_stream(
                items, progress=lambda done: progress.count(done, len(items), "asking")
            )
            for reply in replies:
                refused += reply.problem is not None
                out.write(json.dumps(reply.to_dict(), ensure_ascii=False) + "\n")
    except OSError as error:
        raise BadFile(f"{options.out} can't be written: {error.strerror or error}") from error
    finally:
        progress.end()
    print(f"{len(items)} asked, {refused} refused; written: {options.out}")
    return REFUSED if refused else DONE


def _requests(path: Path) -> Iterator[Any]:
    try:
        lines = path.read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise BadFile(f"{path} can't be read: {error}") from error
    for number, line in enumerate(lines, 1):
        if not line.strip():
            continue
        try:
            item = json.loads(line)
        except (ValueError, RecursionError) as error:
            raise BadFile(f"{path}, line {number}: no JSON: {error}") from error
        if not isinstance(item, dict):
            raise BadFile(f"{path}, line {number}: no JSON object")
        yield item
