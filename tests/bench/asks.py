"""The requests that are measured, taken from the recorded examples of the contract."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from typing import Any
from urllib.parse import quote

from bench.servers import ROOT


@dataclass(frozen=True)
class Ask:
    """One request."""

    path: str
    body: bytes | None = None
    """None for a GET."""


def get(path: str, **query: str) -> Ask:
    """Return a GET."""
    return Ask(path + "?" + "&".join(f"{name}={quote(text)}" for name, text in query.items()))


def post(path: str, body: object) -> Ask:
    """Return a POST of JSON."""
    return Ask(path, json.dumps(body).encode())


@cache
def example(operation: str, place: int = 0) -> dict[str, Any]:
    """Return the request of a recorded example."""
    recorded = json.loads((ROOT / "openapi" / "examples" / f"{operation}.json").read_text())
    request: dict[str, Any] = recorded[place]["request"]
    return request


LIMITS = get("/v1/threads/limits", designation="7/8-14 UNF-2A", unit="in")
FEED = post("/v1/cutting/feed", example("cutting_feed"))
HEXAGON = post("/v1/stock/hexagon", example("stock_hexagon"))
PLAN = post("/v1/plan", example("plan"))


def helix(turns: float, passes: int = 1, sweep: int = 90) -> Ask:
    """Return the request for an internal M20x1.5 path of about `turns` turns a pass."""
    return post("/v1/path/helix", helix_body(turns, passes, sweep))


def helix_body(turns: float, passes: int = 1, sweep: int = 90) -> dict[str, Any]:
    """Return the body of that request; the pitch shrinks where the thread would grow too long."""
    pitch = min(1.5, 1500.0 / max(turns, 1.0))
    reach = turns * pitch + 10
    radii = [4.0 - 0.2 * (passes - 1 - place) / max(passes, 1) for place in range(passes)]
    return {
        "unit": "mm", "side": "internal", "pitch": pitch, "length": turns * pitch,
        "blank_diameter": 18.45, "greatest_sweep": sweep,
        "cutter": {
            "diameter": 12, "flutes": 4, "tip_to_tooth": 0.8, "neck_diameter": 9, "reach": reach,
            "tooth": {"flank_angle_upper": 30, "flank_angle_lower": 30,
                      "tip_width": 0.12 * pitch, "depth": 0.66 * pitch},
        },
        "passes": [{"radius": radius, "feed": 300} for radius in radii],
        "clearance": 0.3, "clearance_height": 5,
    }  # fmt: skip
