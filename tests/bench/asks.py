"""The requests that are measured, made from the recorded examples of the contract.

Each kind is a row of requests that differ, so that nothing kept from one helps the next (but for
lookups, which are there to be kept).
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from functools import cache
from typing import Any
from urllib.parse import quote

from bench.servers import ROOT

Asks = tuple["Ask", ...]
VARIANTS = 32


@dataclass(frozen=True)
class Ask:
    """One request."""

    path: str
    body: bytes | None = None
    """None for a GET."""


def get(path: str, **query: object) -> Ask:
    """Return a GET."""
    return Ask(path + "?" + "&".join(f"{name}={quote(str(text))}" for name, text in query.items()))


def post(path: str, body: object) -> Ask:
    """Return a POST of JSON."""
    return Ask(path, json.dumps(body).encode())


def elsewhere(asks: Asks, path: str) -> Asks:
    """Return the same bodies for another path."""
    return tuple(replace(ask, path=path) for ask in asks)


@cache
def example(operation: str, place: int = 0) -> dict[str, Any]:
    """Return the request of a recorded example."""
    recorded = json.loads((ROOT / "openapi" / "examples" / f"{operation}.json").read_text())
    request: dict[str, Any] = recorded[place]["request"]
    return request


def limits() -> Asks:
    """Return lookups of as many sizes and classes."""
    sizes = ("1/4-20 UNC", "5/16-18 UNC", "3/8-16 UNC", "1/2-13 UNC", "5/8-11 UNC", "3/4-10 UNC",
             "7/8-14 UNF", "1-12 UNF")  # fmt: skip
    classes = ("2A", "3A", "2B", "3B")
    return tuple(
        get("/v1/threads/limits", designation=f"{size}-{grade}", unit="in")
        for size in sizes
        for grade in classes
    )


def feed() -> Asks:
    """Return requests for the feed at the tool centre."""
    body = example("cutting_feed")
    return tuple(
        post("/v1/cutting/feed", {**body, "diameter_cut": 50 + place / 8})
        for place in range(VARIANTS)
    )


def hexagon() -> Asks:
    """Return requests for a hexagon bar."""
    return tuple(
        post("/v1/stock/hexagon", {"unit": "mm", "across_flats": 20 + place / 4})
        for place in range(VARIANTS)
    )


def plan() -> Asks:
    """Return whole jobs that differ in length of thread, depth of blank and aim."""
    asks = []
    for place in range(VARIANTS):
        job = json.loads(json.dumps(example("plan")))
        job["thread"]["length"] -= place * 0.001
        job["cutter"]["overhang"] += place * 0.001
        asks.append(post("/v1/plan", job))
    return tuple(asks)


def helix(turns: float, passes: int = 1, sweep: int = 90) -> Asks:
    """Return requests for an internal M20x1.5 path of about `turns` turns a pass."""
    return tuple(
        post("/v1/path/helix", helix_body(turns, passes, sweep, 300 + place))
        for place in range(VARIANTS)
    )


def helix_body(turns: float, passes: int, sweep: int, feed: float = 300) -> dict[str, Any]:
    """Return the body of one; the pitch shrinks where the thread would grow too long."""
    pitch = min(1.5, 1100.0 / max(turns, 1.0)) * (1 - feed / 1e6)
    deepest = 9.225 + 0.5 * pitch - 6.0  # no deeper than the tooth, whatever the pitch
    radii = [deepest - 0.1 * pitch * (passes - 1 - place) / passes for place in range(passes)]
    return {
        "unit": "mm", "side": "internal", "pitch": pitch, "length": turns * pitch,
        "blank_diameter": 18.45, "greatest_sweep": sweep,
        "cutter": {
            "diameter": 12, "flutes": 4, "tip_to_tooth": 0.8, "neck_diameter": 9,
            "reach": min(turns * pitch + 10, 1000),
            "tooth": {"flank_angle_upper": 30, "flank_angle_lower": 30,
                      "tip_width": 0.12 * pitch, "depth": 0.66 * pitch},
        },
        "passes": [{"radius": radius, "feed": feed} for radius in radii],
        "clearance": 0.3, "clearance_height": 5,
    }  # fmt: skip
