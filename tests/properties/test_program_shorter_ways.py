"""What is done for many moves at once is what is done one by one: on good programs and broken ones.

Each shorter way is switched off in turn, and the answer has to stay the same to the last bit.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from flankwise_service.core.errors import Refusal
from flankwise_service.core.program import asked, interpreter, path_blocks, replay
from flankwise_service.core.program.asked import check_asked
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.program import write_program
from flankwise_service.core.program.reading import Reading
from flankwise_service.core.program.replay import replay_equals_path
from flankwise_service.core.program.setup import Operation, Setup
from flankwise_service.core.program.writer import program_lines
from support.many import many
from support.program_broken import broken_path, broken_text
from support.program_jobs import random_job

TRIES = 12
SEEDS = [
    pytest.param(seed, marks=[pytest.mark.slow] if seed >= 8 else [])
    for seed in range(many(30, 300))
]


def job(seed: int) -> tuple[Setup, list[Operation], random.Random]:
    rng = random.Random(seed)
    setup, operations = random_job(rng)
    return setup, operations, rng


def told(work: Callable[[], object]) -> str:
    """Return what comes out, or every fault of the refusal, to the last bit."""
    try:
        return repr(work())
    except Refusal as refusal:
        return f"{type(refusal).__name__}{refusal.faults!r}"


def read(text: str) -> list[str]:
    """Return all that a reading holds."""
    reading = read_program(text)
    whole = [field.name for field in fields(Reading) if field.name not in ("track", "kept")]
    return [repr(getattr(reading, name)) for name in [*whole, "motions"]]


@pytest.mark.parametrize("seed", SEEDS)
def test_lines_read_at_once_are_those_read_one_by_one(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    setup, operations, rng = job(seed)
    text = "\n".join(program_lines(setup, operations))
    texts = [text, text.replace("\n", "\r\n"), *(broken_text(text, rng) for _ in range(TRIES))]
    at_once = [read(one) for one in texts]
    monkeypatch.setattr(interpreter, "carried_out", lambda *_: False)
    for one, found in zip(texts, at_once, strict=True):
        assert read(one) == found, one


@pytest.mark.parametrize("seed", SEEDS)
def test_motions_compared_at_once_are_compared_as_one_by_one(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    setup, operations, rng = job(seed)
    text = "\n".join(program_lines(setup, operations))
    tries = [(text, operations)]
    for _ in range(TRIES):
        tries.append((broken_text(text, rng), operations))
        moved = [replace(one, segments=broken_path(list(one.segments), rng)) for one in operations]
        if not asked_for_nonsense(setup, moved):
            tries.append((text, moved))

    def proved() -> list[str]:
        return [told(lambda one=one: replay_equals_path(one[0], setup, one[1])) for one in tries]  # type: ignore[misc]

    at_once = proved()
    assert at_once[0].startswith("Replay(")
    assert any("differs" in one or "line" in one for one in at_once)
    monkeypatch.setattr(replay, "FEWEST", 10**9)
    assert proved() == at_once


def asked_for_nonsense(setup: Setup, operations: list[Operation]) -> bool:
    return told(lambda: check_asked(setup, operations)).startswith("BadInput")


@pytest.mark.parametrize("seed", SEEDS)
def test_a_path_seen_at_one_glance_has_no_fault_that_a_closer_look_finds(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    setup, operations, rng = job(seed)
    tries = [operations]
    for _ in range(2 * TRIES):
        path = broken_path(list(operations[0].segments), rng)
        tries.append([replace(operations[0], segments=path), *operations[1:]])

    def checked() -> list[bool | str]:
        found = [told(lambda one=one: check_asked(setup, one)) for one in tries]  # type: ignore[misc]
        return [one if one.startswith("BadInput") else True for one in found]

    at_once = checked()
    assert at_once[0] is True
    assert len(set(at_once)) > 3
    monkeypatch.setattr(asked, "sound", lambda *_: False)
    assert checked() == at_once


def all_in_doubt(begin: Any, *_: Any) -> tuple[Any, Any]:
    return np.zeros(begin.shape, np.int64), np.ones(begin.shape[1], np.bool_)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_program_is_the_same_whichever_way_it_was_written(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    setup, operations, _ = job(seed)
    text = write_program(setup, operations).text
    with monkeypatch.context() as one_by_one:
        one_by_one.setattr(path_blocks, "printable_centres", all_in_doubt)
        assert write_program(setup, operations).text == text
    for few in (1, 7):
        with monkeypatch.context() as in_parts:
            in_parts.setattr(asked, "AT_ONCE", few)
            in_parts.setattr(path_blocks, "AT_ONCE", few)
            assert write_program(setup, operations).text == text
