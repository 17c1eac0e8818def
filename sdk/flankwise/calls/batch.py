"""Calls of the subject batch: many requests in one."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from tempfile import SpooledTemporaryFile
from typing import IO, Any, cast

from flankwise.asks import RequestAsk
from flankwise.calls.base import Calls, Progress, build, composed
from flankwise.errors import Incompatible, Unreachable
from flankwise.results import RequestBatchReply, RequestReply

NDJSON = "application/x-ndjson"
IN_MEMORY = 262_144


class BatchCalls(Calls):
    """Many requests in one, of any operations that reply with JSON."""

    def batch(self, items: Sequence[RequestAsk]) -> RequestBatchReply:
        """Return what came of each of up to 1000 requests, in their order.

        A request that is refused has a `problem` and keeps no other from its `reply`; the whole
        is `Refused` only where a request has no operation, or there are none or too many.

        >>> read = {"designation": "M16xPh3P1.5-6H", "unit": "mm"}
        >>> told = shop.batch([{"operation": "threads_read", "request": read}] * 2)
        >>> told.count, told.results[1].reply["pitch"]
        (2, 1.5)
        """
        return self._post("/v1/batch", RequestBatchReply, items=items)

    @composed
    def batch_each(
        self, items: Iterable[RequestAsk], *, size: int = 200, progress: Progress | None = None
    ) -> Iterator[RequestReply]:
        """Yield what came of each of any number of requests, sent `size` at a time.

        `progress` is called with the number done so far, after each batch.

        >>> items = [{"operation": "livez", "request": {}}] * 0
        >>> list(shop.batch_each(items))
        []
        """
        waiting, done = iter(items), 0
        while chunk := list(islice(waiting, size)):
            results = self.batch(chunk).results
            yield from results
            done += len(results)
            if progress is not None:
                progress(done)

    def batch_stream(
        self, items: Iterable[RequestAsk], *, progress: Progress | None = None
    ) -> Iterator[RequestReply]:
        """Yield what came of each of any number of requests, in one call and constant memory.

        Raises `Unreachable` where the reply ends before its summary: then some may be missing.

        >>> read = {"designation": "M16xPh3P1.5-6H", "unit": "mm"}
        >>> items = [{"operation": "threads_read", "request": read, "key": "a"}]
        >>> [told.key for told in shop.batch_stream(items)]
        ['a']
        """
        with SpooledTemporaryFile(IN_MEMORY) as spooled:
            file = cast("IO[bytes]", spooled)
            for item in items:
                file.write(json.dumps(item, allow_nan=False).encode() + b"\n")
            size = file.tell()
            file.seek(0)
            reply = self._transport.post_file("/v1/batch/stream", file, size, NDJSON)
            count = 0
            for line in self._transport.lines(reply):
                told = _line(line)
                if "summary" in told:
                    if told["summary"]["count"] != count:
                        raise Unreachable(f"{count} replies came, {told['summary']['count']} sent")
                    return
                yield build(RequestReply, told)
                count += 1
                if progress is not None:
                    progress(count)
        raise Unreachable(f"the reply was cut after {count} replies")


def _line(line: bytes) -> Any:
    try:
        return json.loads(line)
    except ValueError as error:
        raise Incompatible("a line of the reply isn't JSON") from error
