"""A service for tests of what you build on flankwise: no network, no server, true replies.

    from flankwise.testing import FakeService

    def test_our_travel_card():
        with FakeService() as service, flankwise.Client(service.url) as shop:
            limits = shop.threads_limits("7/8-14 UNF-2A", unit="in")

It answers with what the service of this very version really replied to each of the requests that
come with the package (`service.good_requests("plan")` lists them); one that isn't among them is
`NotRecorded`, an AssertionError that says what is, and is never made up. Give your own where you
need others: `reply`, `refuse`, `busy`, `away`.

Needs the package `responses`: pip install "flankwise[testing]".
"""

from __future__ import annotations

from flankwise.testing.fake import Asked, FakeService, NotRecorded

__all__ = ["Asked", "FakeService", "NotRecorded"]
