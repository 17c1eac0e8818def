"""What the processes of a server hold, read from /proc."""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import NamedTuple


class Load(NamedTuple):
    """Of all workers of one server together."""

    memory: int
    """Bytes that are theirs alone or written to since the fork."""
    files: int


def workers_of(master: int) -> tuple[int, ...]:
    """Return the processes a master has started and that live."""
    found = Path(f"/proc/{master}/task/{master}/children").read_text().split()
    return tuple(sorted(int(number) for number in found))


def ended(process: int) -> bool:
    """Return whether a process is gone; one that nobody has waited for yet (a zombie) is."""
    try:
        told = Path(f"/proc/{process}/stat").read_text()
    except (FileNotFoundError, ProcessLookupError):
        return True
    return told.rpartition(")")[2].split()[0] in "ZX"


def load_of(master: int) -> Load:
    """Return what the workers hold now."""
    memory = files = 0
    for worker in workers_of(master):
        lines = Path(f"/proc/{worker}/smaps_rollup").read_text().splitlines()
        memory += sum(int(line.split()[1]) for line in lines if line.startswith("Private_")) * 1024
        files += len(os.listdir(f"/proc/{worker}/fd"))
    return Load(memory, files)


def settled(master: int, aim: Load, seconds: float = 5.0) -> Load:
    """Return what they hold once closed connections are gone, at most `seconds` later."""
    until = time.monotonic() + seconds
    while (now := load_of(master)).files > aim.files + 40 and time.monotonic() < until:
        time.sleep(0.05)
    return now
