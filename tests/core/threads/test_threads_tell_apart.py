"""What tells two threads apart, where the list holds no such pair."""

from __future__ import annotations

from flankwise_service.core.threads import limits, parse
from flankwise_service.core.threads.tell_apart import Known, differences


def known(name: str) -> Known:
    thread = parse(name)
    return Known(thread, limits(name, side="external").basic, (39.0, 40.0), float(thread.pitch))


def test_starts_are_counted_at_the_face() -> None:
    two, one = known("Tr 40x14(P7)-7e"), known("Tr 40x7-7e")
    (told,) = differences(two, one, "mm")
    assert (told.by, told.words) == (
        "starts", "it has 2 starts, not 1: count the thread ends at its face",
    )  # fmt: skip
    assert next(differences(one, two, "mm")).words.startswith("it has 1 start, not 2")
