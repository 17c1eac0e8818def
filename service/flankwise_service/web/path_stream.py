"""A path on its way out, segment by segment, in constant memory: JSON, CSV or JSON lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import chain, islice
from typing import Any

import orjson

from flankwise_service.core.path.segment import Segment
from flankwise_service.core.path.totals import Tally
from flankwise_service.web.dump import segments, to_json

CSV = "text/csv"
JSON = "application/json"
LINES = "application/x-ndjson"
BATCH = 500
"""Segments sent at a time."""
COLUMNS = (
    "kind", "purpose", "begin_x", "begin_y", "begin_z", "end_x", "end_y", "end_z", "centre_x",
    "centre_y", "sense", "sweep", "feed", "radial_pass", "start", "unit",
)  # fmt: skip


@dataclass(slots=True)
class PathReply:
    """What is told before the segments, and the segments, not walked yet."""

    head: dict[str, Any]
    segments: Iterable[Segment]
    tally: Tally = field(default_factory=Tally)

    def batches(self) -> Iterator[list[Segment]]:
        """Yield the segments in batches, adding them up on their way."""
        left = iter(self.segments)
        while batch := list(islice(left, BATCH)):
            self.tally.take(batch)
            yield batch


def as_json(reply: PathReply) -> Iterator[bytes]:
    """Yield one object: the head, `segments`, and after them `totals`; a short path in one go."""
    chunk = to_json(reply.head)[:-1] + b',"segments":['
    for number, batch in enumerate(reply.batches()):
        if number:
            yield chunk
            chunk = b","
        chunk += to_json(segments(batch))[1:-1]
    yield chunk + b'],"totals":' + to_json(reply.tally.totals()) + b"}"


def as_lines(reply: PathReply) -> Iterator[bytes]:
    """Yield one segment a line, as in the JSON reply; the last one holds unit and totals."""
    for batch in reply.batches():
        yield b"".join(to_json(segment) + b"\n" for segment in segments(batch))
    yield to_json({"unit": reply.head["unit"], "totals": reply.tally.totals()}) + b"\n"


def as_csv(reply: PathReply) -> Iterator[bytes]:
    """Yield a line of column names, then one segment a line; empty where there is no value."""
    yield ",".join(COLUMNS).encode() + b"\r\n"
    unit = reply.head["unit"]
    for batch in reply.batches():
        yield b"".join(_row(segment, unit) for segment in batch)


def _row(segment: Segment, unit: str) -> bytes:
    centre = (None, None) if segment.centre is None else segment.centre
    values = chain(
        (segment.kind, segment.purpose), segment.begin, segment.end, centre,
        (segment.sense, segment.sweep, segment.feed, segment.radial_pass, segment.start, unit),
    )  # fmt: skip
    return b",".join(_cell(value) for value in values) + b"\r\n"


def _cell(value: object) -> bytes:
    if value is None:
        return b""
    return value.encode() if isinstance(value, str) else orjson.dumps(value)


RENDERS = {JSON: as_json, CSV: as_csv, LINES: as_lines}
