"""Long computations of a worker take turns; none waits long, and short ones never do."""

from __future__ import annotations

import threading
import time
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

import pytest
from flask import Blueprint, Flask

from flankwise_service.config import Settings
from flankwise_service.core.errors import BadInput, Fault
from flankwise_service.web import fields
from flankwise_service.web.app import build_app
from flankwise_service.web.operation import Operation, operation, state
from flankwise_service.web.turns import Turns
from support.contract import operations

LONG = 30.0
"""Seconds that no test waits unless something is wrong."""


@dataclass
class Together:
    """Counts how many work at the same time."""

    now: int = 0
    most: int = 0
    lock: threading.Lock = field(default_factory=threading.Lock)

    def __enter__(self) -> None:
        with self.lock:
            self.now += 1
            self.most = max(self.most, self.now)

    def __exit__(self, *_: object) -> None:
        with self.lock:
            self.now -= 1


def most_together(turns: Turns, *, heavy: bool, count: int = 4) -> int:
    """Return how many of `count` threads worked at once; each waits for a fellow if it may."""
    together, met = Together(), threading.Barrier(count)

    def work() -> None:
        with turns.taken(heavy=heavy), together, suppress(threading.BrokenBarrierError):
            met.wait(0.05 if turns.busy else LONG)

    threads = [threading.Thread(target=work) for _ in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(LONG)
        assert not thread.is_alive()
    return together.most


def test_heavy_work_is_done_one_after_the_other_and_light_work_side_by_side() -> None:
    assert most_together(Turns(LONG), heavy=True) == 1
    assert most_together(Turns(LONG), heavy=False) == 4
    assert most_together(Turns(0.0), heavy=True) == 4


def test_who_has_waited_long_enough_goes_ahead_and_gives_nothing_back() -> None:
    turns = Turns(0.01)
    with turns.taken(heavy=True):
        with turns.taken(heavy=True):
            assert turns.busy
        assert turns.busy  # the turn is still the first one's
    assert not turns.busy


def test_turns_come_in_the_order_they_were_asked_for() -> None:
    turns, order = Turns(LONG), []
    threads = []
    with turns.taken(heavy=True):
        for number in range(5):

            def work(number: int = number) -> None:
                with turns.taken(heavy=True):
                    order.append(number)

            threads.append(threading.Thread(target=work))
            threads[-1].start()
            while len(turns._queue) <= number:
                time.sleep(0.001)
    with turns.taken(heavy=True):  # one that comes at once is behind those who wait
        order.append(5)
    for thread in threads:
        thread.join(LONG)
    assert order == [0, 1, 2, 3, 4, 5]
    assert not turns.busy


def test_a_turn_that_comes_while_one_gives_up_is_taken() -> None:
    """Called between the end of its patience and its leaving the queue."""
    turns = Turns(0.01)

    class Late(threading.Event):
        def wait(self, timeout: float | None = None) -> bool:
            turns._give()
            return False

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("flankwise_service.web.turns.threading.Event", Late)
        assert turns._take()
        assert turns._take()
    assert turns.busy
    turns._give()
    assert not turns.busy


def test_the_turn_is_given_back_by_work_that_fails() -> None:
    turns = Turns(LONG)
    with pytest.raises(ZeroDivisionError), turns.taken(heavy=True):
        raise ZeroDivisionError
    assert not turns.busy


class Asked(fields.Schema):
    unit = fields.Unit()


def served(*, heavy: bool) -> tuple[Flask, list[bool]]:
    """Return an application with an operation that notes whether it has the turn, or refuses."""
    app = build_app(Settings(access_log=False), ("batch",))
    seen: list[bool] = []
    blueprint = Blueprint("noting", __name__)

    @operation(
        blueprint, "GET", "/noting", id="noting", tag="echo", asks=Asked, replies=Asked,
        summary="Notes", heavy=heavy, keep=False,
    )  # fmt: skip
    def noting(asked: dict[str, Any]) -> object:
        """Note whether somebody has the turn."""
        seen.append(state().turns.busy)
        if len(seen) % 2 == 0:
            raise BadInput(Fault("/unit", "even", "every second one", "ask again"))
        return asked

    app.register_blueprint(blueprint, url_prefix="/v1")
    return app, seen


@pytest.mark.parametrize("heavy", [True, False])
def test_an_operation_takes_its_turn_if_it_is_heavy_also_in_a_batch(heavy: bool) -> None:
    app, seen = served(heavy=heavy)
    client = app.test_client()
    asked = {"unit": "mm"}
    statuses = [client.get("/v1/noting", query_string=asked).status_code for _ in range(2)]
    items = [{"operation": "noting", "request": asked}] * 2
    told = client.post("/v1/batch", json={"items": items}).get_json()
    statuses += [result["status"] for result in told["results"]]
    assert statuses == [200, 422, 200, 422]
    assert seen == [heavy] * 4
    assert not app.extensions["flankwise"].turns.busy


def test_plans_paths_and_programs_are_heavy_and_lookups_are_not() -> None:
    declared: dict[str, Operation] = build_app(Settings()).extensions["flankwise"].operations
    heavy = {name for name, one in declared.items() if one.heavy}
    assert {"plan", "plan_sheet", "path_helix", "program"} <= heavy
    assert not heavy & {"batch", "batch_stream"}  # each of their requests takes its own turn
    light = {name for name, (_, method, _) in operations().items() if method == "GET"}
    assert not heavy & light
