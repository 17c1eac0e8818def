"""How cost grows with what is asked: it must be a straight line, and memory flat when streamed."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from itertools import count

from bench import picture
from bench.asks import Ask, feed, get, helix_body, post
from bench.goals import Part
from bench.inside import answer, application, cpu_ms, peak_bytes
from bench.line import through
from bench.options import Options

TURNS = (1, 10, 100, 1_000, 10_000, 99_990)
"""100 000 with the run above the face, the most that is made."""
PASSES = (1, 2, 5, 10, 20, 50)
ITEMS = (1, 10, 100, 300, 1_000)
LISTED = (1, 10, 100, 300, 1_000)
STRAIGHT = 1.1
"""Greatest slope in a doubly logarithmic picture over the upper half: 1 is a straight line."""
FLAT_BYTES = 8 * 2**20
LONG_ENOUGH_MS = 60.0


def run(options: Options) -> Part:
    """Return slope and straightness for each kind of size, and the memory that streaming takes."""
    part = Part("size")
    app = application()
    curves: dict[str, list[tuple[float, float]]] = {}
    rows: tuple[tuple[str, str, Sequence[int], Callable[[int], Ask]], ...] = (
        ("turns", "turn", TURNS, _turns),
        ("passes", "pass", PASSES, lambda n: post("/v1/path/helix", helix_body(20, n, 90))),
        ("batch", "request", ITEMS, _batch),
        ("list of designations", "line", LISTED, _listed),
    )
    held = peak_bytes()
    for name, one, sizes, ask in rows:
        times = [_least(app, partial(ask, size)) for size in sizes]
        if name == "turns":
            grown = peak_bytes() - held
        curves[name] = list(zip(map(float, sizes), times, strict=True))
        part.raw[name] = curves[name]
        line = through(sizes, times)
        told = f"{line.slope * 1e3:,.1f} microseconds a {one}, {line.base:.2f} ms to begin"
        part.tell(
            f"{name} {sizes[0]} to {sizes[-1]}: exponent", line.exponent, aim=STRAIGHT, note=told
        )
    part.tell("memory grown by streaming 100 000 turns", grown / 2**20, "MiB", aim=FLAT_BYTES / 2**20,
              note="some 30 MB went through")  # fmt: skip
    part.pictures["size.svg"] = picture.lines(
        "Cost against size", "how many", "ms of one core", curves
    )
    return part


def _least(app: Callable[..., Iterable[bytes]], ask: Callable[[], Ask]) -> float:
    """Return the least processor time of a few tries, fewer where one takes long."""

    def once() -> float:
        made = ask()
        return cpu_ms(lambda: answer(app, made))

    once()
    first = once()
    tries = 1 if first > 1000 else max(3, min(30, int(LONG_ENOUGH_MS / first)))
    return min([first, *(once() for _ in range(tries))])


def _turns(turns: int) -> Ask:
    return post("/v1/path/helix", helix_body(turns, 1, 360))


def _batch(items: int) -> Ask:
    asks = feed()
    requests = [
        {"operation": "cutting_feed", "request": json.loads(asks[place % len(asks)].body or b"")}
        for place in range(items)
    ]
    return post("/v1/batch", {"items": requests})


_asked = count()


def _listed(lines: int) -> Ask:
    # from another place each time, so that no kept reply answers
    return get("/v1/threads", offset=next(_asked) % 500, limit=lines)
