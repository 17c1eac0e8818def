"""The fake service for those who build on the SDK: it says what the service says, or nothing."""

from __future__ import annotations

import json
from typing import Any

import pytest

import flankwise
from contract.writing import examples
from flankwise.testing import Asked, FakeService, NotRecorded
from flankwise.testing.recorded import recorded
from flankwise.transport import Transport

STORED = examples.stored()
STREAMS = {"batch", "batch_stream"}
EACH = [
    (name, place) for name in STORED if name not in STREAMS for place in range(len(STORED[name]))
]


@pytest.fixture(autouse=True)
def no_waiting(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("urllib3.util.retry.time.sleep", lambda seconds: None)


@pytest.mark.parametrize(
    ("name", "place"), EACH, ids=[f"{n}: {STORED[n][p]['name']}" for n, p in EACH]
)
def test_every_example_is_replied_as_recorded(name: str, place: int) -> None:
    """The examples are replayed against the service in tests/contract: so these replies are true."""
    example, one = STORED[name][place], recorded()[name]
    accept = example.get("accept", one.examples[place].accept)
    with FakeService() as service, Transport(service.url, retries=0) as transport:

        def ask() -> Any:
            if one.method == "GET":
                reply = transport.get(one.path, example["request"], accept)
            else:
                reply = transport.post(one.path, example["request"], accept)
            return reply.json() if isinstance(example["reply"], dict) else reply.text

        if example["status"] == 200:
            assert ask() == example["reply"]
        else:
            with pytest.raises(flankwise.FlankwiseError) as caught:
                ask()
            assert caught.value.raw == example["reply"]  # type: ignore[attr-defined]


def test_defaults_may_be_spelled_out_and_what_was_asked_is_kept() -> None:
    with FakeService() as service, flankwise.Client(service.url) as shop:
        plain = service.good_requests("path_helix")
        helix = shop.path_helix(**next(iter(plain.values())))
        assert helix.totals.segments == len(helix.segments)
        limits = shop.threads_limits("7/8-14 UNF-2A", unit="in", side=None)
    assert limits.pitch_diameter.min == 0.8216  # ASME B1.1-2003, row 7/8-14 UNF-2A
    assert [one.operation for one in service.asked] == ["path_helix", "threads_limits"]
    assert service.asked[1] == Asked(
        "threads_limits", {"designation": "7/8-14 UNF-2A", "unit": "in"}
    )


def test_what_isnt_recorded_is_never_made_up() -> None:
    with (
        FakeService() as service,
        flankwise.Client(service.url) as shop,
        pytest.raises(
            NotRecorded, match=r"threads_limits isn't recorded.*Recorded are: "
        ) as caught,
    ):
        shop.threads_limits("7/8-14 UNF-2A", unit="mm", side="external")
    assert isinstance(caught.value, AssertionError)
    with FakeService() as service, pytest.raises(NotRecorded, match="no operation"):
        flankwise.Client(service.url).batch([{"operation": "x", "request": {}}])


def test_replies_of_ones_own() -> None:
    with FakeService() as service, flankwise.Client(service.url) as shop:
        service.reply("livez", ..., {"status": "alive", "version": "9"})
        assert shop.livez().version == "9"
        service.refuse("plan", pointer="/stock/material", detail="no such bar", change="order some")
        job = next(iter(service.good_requests("plan").values()))
        with pytest.raises(flankwise.Refused, match="order some") as caught:
            shop.plan(**job)
        assert caught.value.pointers == ("/stock/material",)
        bad = next(iter(service.refused_requests("threads_read").values()))
        with pytest.raises(flankwise.Refused):
            shop.threads_read(**bad)


def test_a_service_that_stumbles() -> None:
    with FakeService() as service, flankwise.Client(service.url, retries=2) as shop:
        service.busy(times=2)
        assert shop.livez().status == "alive"
        service.busy(times=3)
        with pytest.raises(flankwise.Unavailable):
            shop.livez()
        service.fail()
        with pytest.raises(flankwise.ServiceFault):
            shop.livez()
        service.away()
        with pytest.raises(flankwise.Unreachable):
            shop.livez()
        service.away(away=False)
        assert shop.livez().status == "alive"
    with (
        FakeService(version="2.0.0") as service,
        pytest.raises(flankwise.Incompatible, match="speaks contract"),
    ):
        flankwise.Client(service.url).livez()


def test_batches_are_made_of_what_is_recorded() -> None:
    with FakeService() as service, flankwise.Client(service.url) as shop:
        good = next(iter(service.good_requests("threads_read").values()))
        bad = next(iter(service.refused_requests("threads_read").values()))
        items: Any = [
            {"operation": "threads_read", "request": good, "key": "a"},
            {"operation": "threads_read", "request": bad},
        ]
        told = shop.batch(items)
        assert (told.count, told.refused) == (2, 1)
        assert [one.key for one in told.results] == ["a", None]
        streamed = list(shop.batch_stream(items))
    assert [one.raw for one in streamed] == [one.raw for one in told.results]


def test_all_of_the_contract_is_in_it() -> None:
    assert set(recorded()) == set(STORED) | {"contract", "metrics"}  # told, not recorded
    for name in STORED:
        one = recorded()[name]
        assert json.dumps([example.reply for example in one.examples]) == json.dumps(
            [example["reply"] for example in STORED[name]]
        )
