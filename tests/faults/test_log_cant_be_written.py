"""The access log is never what a request waits for, or dies of."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import TextIO

import pytest

from flankwise_service.web.log import AccessLog


def write(log: AccessLog, number: int = 1) -> None:
    log.write(f"r-{number}", "GET", "livez", 200, 1.0)


@pytest.fixture
def pipe() -> Iterator[tuple[int, TextIO]]:
    reader, writer = os.pipe()
    with os.fdopen(writer, "w") as stream:
        yield reader, stream
    with suppress(OSError):  # the test may have closed it
        os.close(reader)


def test_a_pipe_nobody_reads_holds_no_one_and_the_lines_left_out_are_told(
    pipe: tuple[int, TextIO],
) -> None:
    reader, stream = pipe
    log = AccessLog(True, stream)
    for number in range(3_000):  # a pipe takes 64 KiB, half of this
        write(log, number)
    held = os.read(reader, 1_000_000).splitlines()
    assert 100 < len(held) < 3_000
    write(log, 3_000)
    last = json.loads(os.read(reader, 4_096))
    assert last["lines_left_out"] == 3_000 - len(held)
    write(log, 3_001)
    assert "lines_left_out" not in json.loads(os.read(reader, 4_096))


def test_a_pipe_whose_reader_is_gone_is_borne(pipe: tuple[int, TextIO]) -> None:
    reader, stream = pipe
    os.close(reader)
    write(AccessLog(True, stream))


def test_a_full_disk_is_borne_and_lines_come_whole_once_there_is_room(tmp_path: Path) -> None:
    with Path("/dev/full").open("w") as full:
        log = AccessLog(True, full)
        write(log, 1)
        write(log, 2)
        with (tmp_path / "log").open("w") as room:
            os.dup2(room.fileno(), full.fileno())
            write(log, 3)
    (line,) = (tmp_path / "log").read_text().splitlines()
    assert (json.loads(line)["request_id"], json.loads(line)["lines_left_out"]) == ("r-3", 2)


def test_a_standard_output_that_was_closed_before_the_start_is_borne(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.stdout", None)
    write(AccessLog(True))
