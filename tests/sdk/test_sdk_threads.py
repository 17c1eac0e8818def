"""The client's calls of the subject threads, against a real service."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

import flankwise
from flankwise_service.core.threads import designations
from support.server import Server


@pytest.fixture
def shop(server: Server) -> Iterator[flankwise.Client]:
    with flankwise.Client(server.url) as client:
        yield client


def test_limits_with_side_and_edition(shop: flankwise.Client) -> None:
    found = shop.threads_limits("M8", unit="mm", side="internal")
    assert (found.designation, found.side) == ("M8-6H", "internal")
    old = shop.threads_limits("10-48 UNS-2B", unit="in", edition="ASME B1.1-1989")
    new = shop.threads_limits("10-48 UNS-2B", unit="in")
    # A shop chart of 2B limits prints 0.172; the newest order of rounding gives 0.173.
    assert (old.minor_diameter.max, new.minor_diameter.max) == (0.172, 0.173)


def test_read(shop: flankwise.Client) -> None:
    thread = shop.threads_read("M16xPh3P1.5-6H", unit="mm")
    assert (thread.starts, thread.lead, thread.pitch) == (2, 3.0, 1.5)
    assert "4H" in thread.classes.internal


def test_each_runs_through_all_pages(shop: flankwise.Client) -> None:
    wanted = [name for name in designations() if "UNF" in name]
    assert [line.designation for line in shop.threads_each("unf", page=20)] == wanted
    assert list(shop.threads_each("no such thread")) == []
    page = shop.threads_list("unf", offset=1, limit=2)
    assert page.total == len(wanted)
    assert [line.designation for line in page.threads] == wanted[1:3]


def test_refusal_carries_the_nearest(shop: flankwise.Client) -> None:
    with pytest.raises(flankwise.Refused) as caught:
        shop.threads_limits("15/16-18 UN", unit="in")
    assert caught.value.pointers == ("/designation",)
    assert "15/16-18 UNS" in caught.value.faults[0].near
