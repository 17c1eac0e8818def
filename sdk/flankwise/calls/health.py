"""Calls of the subject health."""

from __future__ import annotations

import time
from typing import Any

from flankwise.calls.base import Calls, composed
from flankwise.errors import Unavailable, Unreachable
from flankwise.results import HealthReply


class HealthCalls(Calls):
    """Is the service there, and what does it speak?"""

    def livez(self) -> HealthReply:
        """Return that the service is alive.

        >>> shop.livez().status
        'alive'
        """
        return self._get("/livez", HealthReply)

    def readyz(self) -> HealthReply:
        """Return that the service may be sent requests.

        >>> shop.readyz().status
        'ready'
        """
        return self._get("/readyz", HealthReply)

    def contract(self) -> dict[str, Any]:
        """Return the contract (OpenAPI 3.1) that the service speaks.

        >>> service.reply("contract", ..., {"openapi": "3.1.0"})
        >>> shop.contract()["openapi"]
        '3.1.0'
        """
        contract: dict[str, Any] = self._transport.get_json("/openapi.json", {})
        return contract

    @composed
    def wait_until_ready(self, seconds: float = 30.0) -> None:
        """Return as soon as the service may be sent requests; raise `Unreachable` after `seconds`.

        With 0 it doesn't ask at all.
        """
        deadline = time.monotonic() + seconds
        while seconds:
            try:
                self.readyz()
            except (Unreachable, Unavailable):
                if time.monotonic() >= deadline:
                    raise
                time.sleep(0.1)
            else:
                return

    def metrics(self) -> str:
        """Return the service's counts in Prometheus' text format.

        >>> service.reply("metrics", ..., "flankwise_requests_total 3.0")
        >>> shop.metrics()
        'flankwise_requests_total 3.0'
        """
        return self._get_text("/metrics", "text/plain")
