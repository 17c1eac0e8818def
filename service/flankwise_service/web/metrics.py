"""Counts requests for Prometheus, added up over all workers of the process group.

Under several workers each counts in files of the folder PROMETHEUS_MULTIPROC_DIR names, and
whichever worker is asked adds them up. Labels are few on purpose: operation, method, status.

Counting never costs an answer: where it can't be done it is left, and the log says so once.
"""

from __future__ import annotations

import logging
import os
import stat
import struct
from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import Any

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, generate_latest
from prometheus_client.multiprocess import MultiProcessCollector

from flankwise_service import __version__

METHODS = frozenset({"GET", "HEAD", "POST", "OPTIONS"})
BUCKETS = (0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 10.0)
MEDIA_TYPE = "text/plain; version=0.0.4"
SHARED = "PROMETHEUS_MULTIPROC_DIR"
FAILURES = (OSError, TypeError, ValueError, RuntimeError, struct.error)
"""What counting raises when its folder went away, is full, or holds files that are none of ours."""

logger = logging.getLogger("flankwise_service")


class Meter:
    """What one application counts."""

    def __init__(self) -> None:
        self._registry = CollectorRegistry()
        self._counting = True
        self._children: dict[tuple[str, str, int], tuple[Any, Any]] = {}
        self._attempt(self._make)

    def _make(self) -> None:
        make_shared_folder()
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
        self._build = Gauge(
            "flankwise_build_info", "1, with the version as a label.", ["version"],
            registry=self._registry, multiprocess_mode="livemax",
        )  # fmt: skip
        self._build.labels(__version__).set(1)

    def begin_worker(self) -> None:
        """Make this process's own files, and their folder anew where it is gone."""
        self._attempt(self._open)

    def _open(self) -> None:
        make_shared_folder()
        self._under_way.inc(0)
        self._build.labels(__version__).set(1)
        # Files are opened at the first use of their kind: with these, none is left to be opened.
        self._requests.labels("livez", "GET", 200)
        self._seconds.labels("livez")

    def begin(self) -> None:
        """Note that a request is under way."""
        if self._counting:
            try:
                self._under_way.inc()
            except FAILURES as error:
                self._leave(error)

    def done(self, operation: str, method: str, status: int, seconds: float, code: str) -> None:
        """Note that a request was answered; `code` is that of its problem, or empty."""
        if self._counting:
            try:
                self._count(operation, method, status, seconds, code)
            except FAILURES as error:
                self._leave(error)

    def _count(self, operation: str, method: str, status: int, seconds: float, code: str) -> None:
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

    def turned_away(self, status: int, code: str) -> None:
        """Note a request that was answered with a problem before the application could see it."""
        self._attempt(lambda: self._count_unread(status, code))

    def _count_unread(self, status: int, code: str) -> None:
        self._requests.labels("", "other", status).inc()
        self._problems.labels("", code).inc()

    def _attempt(self, step: Callable[[], None]) -> None:
        if self._counting:
            try:
                step()
            except FAILURES as error:
                self._leave(error)

    def _leave(self, error: Exception) -> None:
        if self._counting:  # several threads may come here at once; one line is enough for them
            self._counting = False
            logger.error("requests are no longer counted by process %d: %s", os.getpid(), error)

    @cached_property
    def _source(self) -> CollectorRegistry:
        if SHARED not in os.environ:
            return self._registry
        summed = CollectorRegistry()
        MultiProcessCollector(summed)  # type: ignore[no-untyped-call]
        return summed

    def text(self) -> bytes:
        """Return all counts in Prometheus' text format.

        Where those of all workers can't be had, this one's own; where not even these, none.
        """
        try:
            if SHARED not in os.environ or Path(os.environ[SHARED]).is_dir():
                return generate_latest(self._source)
        except FAILURES as error:
            logger.warning("the counts of all workers can't be read: %s", error)
        try:
            return generate_latest(self._registry)
        except FAILURES:
            return b""


def make_shared_folder() -> None:
    """Make the folder that workers share, where one is named and it isn't there.

    Raises OSError where it can't be made, or where something stands in its place that another
    user made: what this process counts would go where they chose.
    """
    if SHARED not in os.environ:
        return
    folder = Path(os.environ[SHARED])
    try:
        folder.mkdir(0o700)
    except FileExistsError:
        found = folder.lstat()
        if not stat.S_ISDIR(found.st_mode) or found.st_uid not in (0, os.geteuid()):
            raise
