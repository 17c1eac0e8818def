"""Files that commands read and write, and how they say what they are doing."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any, TextIO


class BadFile(Exception):
    """A file that can't be read, written or understood."""


def read_document(path: Path) -> dict[str, Any]:
    """Return the JSON object in the file at `path`."""
    try:
        document = json.loads(path.read_text("utf-8"))
    except OSError as error:
        raise BadFile(f"{path} can't be read: {error.strerror or error}") from error
    except (ValueError, RecursionError) as error:
        raise BadFile(f"{path} isn't JSON: {error}") from error
    if not isinstance(document, dict):
        raise BadFile(f"{path} holds no JSON object")
    return document


def write_text(folder: Path, name: str, text: str) -> Path:
    """Write `text` to the file `name` in `folder`, made where it isn't there; return its path."""
    path = folder / name
    try:
        folder.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8", newline="\n")
    except OSError as error:
        raise BadFile(f"{path} can't be written: {error.strerror or error}") from error
    return path


class Progress:
    """Says on standard error what is going on; on a terminal, in one line that is renewed."""

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = stream or sys.stderr
        self._live = self._stream.isatty()
        self._wide = 0

    def step(self, text: str) -> None:
        """Say what begins now."""
        if self._live:
            print("\r" + text.ljust(self._wide), end="", file=self._stream, flush=True)
            self._wide = len(text)
        else:
            print(text, file=self._stream, flush=True)

    def count(self, done: int, total: int, what: str) -> None:
        """Say how far it is, as a bar on a terminal and in tenths elsewhere."""
        if self._live:
            filled = 30 * done // max(total, 1)
            self.step(f"{what} [{'#' * filled}{'.' * (30 - filled)}] {done}/{total}")
        elif total and done * 10 // total > (done - 1) * 10 // total:
            self.step(f"{what} {done}/{total}")

    def end(self) -> None:
        """Leave the line."""
        if self._live and self._wide:
            print("\r" + " " * self._wide + "\r", end="", file=self._stream, flush=True)
