"""Counts requests for Prometheus, added up over all workers of the process group.

Under several workers each counts in files of the folder PROMETHEUS_MULTIPROC_DIR names, and
whichever worker is asked adds them up. Labels are few on purpose: operation, method, status.
"""

from __future__ import annotations

import os
from functools import cached_property
from typing import Any

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, generate_latest
from prometheus_client.multiprocess import MultiProcessCollector

from flankwise_service import __version__

METHODS = frozenset({"GET", "HEAD", "POST", "OPTIONS"})
BUCKETS = (0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 10.0)
MEDIA_TYPE = "text/plain; version=0.0.4"


class Meter:
    """What one application counts."""

    def __init__(self) -> None:
        self._registry = CollectorRegistry()
        self._requests = Counter(
            "flankwise_requests", "Requests answered.", ["operation", "method", "status"],
            registry=self._registry,
        )  # fmt: skip
        self._seconds = Histogram(
            "flankwise_request_seconds", "Time to answer.", ["operation"],
            buckets=BUCKETS, registry=self._registry,
        )  # fmt: skip
        self._problems = Counter(
            "flankwise_problems", "Requests answered with a problem.", ["operation", "code"],
            registry=self._registry,
        )  # fmt: skip
        self._under_way = Gauge(
            "flankwise_requests_in_flight", "Requests being answered now.",
            registry=self._registry, multiprocess_mode="livesum",
        )  # fmt: skip
        build = Gauge(
            "flankwise_build_info", "1, with the version as a label.", ["version"],
            registry=self._registry, multiprocess_mode="livemax",
        )  # fmt: skip
        build.labels(__version__).set(1)
        self._children: dict[tuple[str, str, int], tuple[Any, Any]] = {}

    def begin(self) -> None:
        """Note that a request is under way."""
        self._under_way.inc()

    def done(self, operation: str, method: str, status: int, seconds: float, code: str) -> None:
        """Note that a request was answered; `code` is that of its problem, or empty."""
        self._under_way.dec()
        key = (operation, method if method in METHODS else "other", status)
        found = self._children.get(key)
        if found is None:
            found = self._children[key] = (
                self._requests.labels(*key),
                self._seconds.labels(operation),
            )
        found[0].inc()
        found[1].observe(seconds)
        if code:
            self._problems.labels(operation, code).inc()

    @cached_property
    def _source(self) -> CollectorRegistry:
        if "PROMETHEUS_MULTIPROC_DIR" not in os.environ:
            return self._registry
        summed = CollectorRegistry()
        MultiProcessCollector(summed)  # type: ignore[no-untyped-call]
        return summed

    def text(self) -> bytes:
        """Return all counts in Prometheus' text format."""
        return generate_latest(self._source)
