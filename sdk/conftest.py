"""What the examples in docstrings find: `service`, a fake one with the recorded replies, `shop`."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

import flankwise
from flankwise.testing import FakeService


@pytest.fixture(autouse=True)
def shop_for_doctests(doctest_namespace: dict[str, Any]) -> Iterator[None]:
    """Put both into the names that a docstring's example starts with."""
    with FakeService() as service, flankwise.Client(service.url) as shop:
        doctest_namespace.update(service=service, shop=shop, flankwise=flankwise)
        yield
