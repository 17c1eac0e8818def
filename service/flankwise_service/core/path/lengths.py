"""Ranges that all path requests share, and the caps on a path's size."""

from __future__ import annotations

from collections.abc import Sequence

from flankwise_service.core.errors import Fault, Faults, Impossible, plain

LEAST_LENGTH = 1e-5
GREATEST_LENGTH = 1e5
"""Any length in any unit; with it, double precision holds a place to better than 1e-10."""
GREATEST_FEED = 1e6
MOST_SEGMENTS = 4_000_000


def choose(faults: Faults, name: str, value: object, choices: Sequence[object]) -> None:
    """Note a fault unless `value` is one of the choices.

    >>> faults = Faults()
    >>> choose(faults, "hand", "up", ("right", "left"))
    >>> faults.found[0].detail
    "hand 'up' is none of right, left"
    """
    listed = ", ".join(str(choice) for choice in choices)
    faults.need(
        value in choices,
        f"/{name}",
        "not_a_choice",
        f"{name.replace('_', ' ')} {value!r} is none of {listed}",
        f"give one of {listed}",
        value,
    )


def refuse_too_many(segments: float, pointer: str) -> None:
    """Raise Impossible where a path would take more than MOST_SEGMENTS segments."""
    if segments > MOST_SEGMENTS:
        raise Impossible(
            Fault(
                pointer,
                "too_many_segments",
                f"the path would take about {plain(segments, 3)} segments; at most {MOST_SEGMENTS} "
                "are made",
                "take fewer passes, a greater sweep of each arc, or a wider chord tolerance",
                segments,
                greatest=MOST_SEGMENTS,
                unit="segments",
            )
        )
