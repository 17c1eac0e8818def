"""What is fuzzed: each takes any bytes, and asserts what must hold of whatever they are."""

from __future__ import annotations

import functools
import json
import math
import re
from collections.abc import Callable

from flankwise_service.core.errors import Refusal
from flankwise_service.core.program.header import header_lines
from flankwise_service.core.program.interpreter import MOST_COMMENTS, MOST_FAULTS, read_program
from flankwise_service.core.program.setup import Setup
from flankwise_service.core.threads import parse
from flankwise_service.web.app import build_app
from flankwise_service.web.body import parse as parse_json
from flankwise_service.web.dump import to_json
from flankwise_service.web.load import load
from flankwise_service.web.operation import Operation, State
from flankwise_service.web.problems import Problem

COMMENT = re.compile(r"\(THREAD [A-Za-z0-9 .,+\-/*='_]*\)")
LIGHT = ("stock_hexagon", "stock_drill", "cutting_speed", "cutting_feed", "gauging_wires",
         "program_replay", "threads_read", "path_collision")  # fmt: skip


def _tells(refusal: Refusal) -> None:
    assert all(fault.detail and fault.change for fault in refusal.faults)


def designation(data: bytes) -> None:
    """A designation is read or refused; one read is spelled safely, and read again as itself."""
    text = data.decode("utf-8", "replace")
    try:
        thread = parse(text)
    except Refusal as refusal:
        _tells(refusal)
        return
    head = next(header_lines(Setup("mm", 25.0, thread=thread), ()))
    assert COMMENT.fullmatch(head), "a designation could leave its comment"
    assert math.isfinite(thread.pitch)
    assert thread.pitch > 0
    assert parse(thread.designation) == thread


def program(data: bytes) -> None:
    """A program's text is read, or its faults are named; motions hold finite places only."""
    reading = read_program(data.decode("utf-8", "replace"))
    assert len(reading.faults) <= MOST_FAULTS + 1
    assert len(reading.comments) <= MOST_COMMENTS
    assert reading.faults or reading.ended
    for motion in reading.motions:
        assert all(length is None or math.isfinite(length) for length in motion.end)
        assert motion.feed is None or motion.feed > 0


def request(data: bytes) -> None:
    """A body is loaded by any operation's schema, and computed by the light ones, or refused.

    The first byte chooses the operation, the rest is the body.
    """
    if not data:
        return
    every = operations()
    declared = every[data[0] % len(every)]
    try:
        asked = load(declared.schema, parse_json(data[1:], 32))
        if declared.id in LIGHT:
            json.loads(to_json(declared.compute(asked)))
    except (Problem, Refusal):
        return


@functools.cache
def operations() -> list[Operation]:
    """Return every operation, in the order of their names."""
    held: State = build_app().extensions["flankwise"]
    return [held.operations[name] for name in sorted(held.operations) if name != "batch_stream"]


TARGETS: dict[str, Callable[[bytes], None]] = {
    "designation": designation, "program": program, "request": request,
}  # fmt: skip
