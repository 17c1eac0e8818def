"""The gauges of taper threads, all from memory: ASME B1.20.1, B1.20.5 and ISO 7-2."""

from __future__ import annotations

import pytest

from flankwise_service.core.errors import NoSource
from flankwise_service.core.gauging.taper_gauge import taper_gauge
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.model import Side
from flankwise_service.core.units import Unit


def told(designation: str, unit: Unit, side: Side | None = None) -> tuple[str, str]:
    words, source = taper_gauge(limits_in(limits(designation, side=side), unit))
    assert source.standing == "memory"
    return words, source.document


def test_american_pipe_is_flush_within_one_turn() -> None:
    ring, document = told("1/2-14 NPT", "in", "external")
    assert document == "ASME B1.20.1"
    assert "L1 taper thread ring gauge" in ring
    assert "flush with the small end of the part within one turn large or small" in ring
    # A turn of 14 threads an inch: 1/14 in, and a sixteenth of it on the diameter.
    assert "0.07143 in along the axis, 0.00446 in on the diameter" in ring
    plug, _ = told("1/2-14 NPT", "mm", "internal")
    assert "plug gauge" in plug
    assert "its notch flush with the face of the part" in plug
    assert "1.814 mm along the axis" in plug


def test_dryseal_asks_for_more() -> None:
    words, document = told("1/2-14 NPTF-2", "in", "external")
    assert document == "ASME B1.20.5"
    assert "the L3 gauge and the crest check" in words


def test_whitworth_pipe_stands_between_the_steps() -> None:
    """ISO 7-1, Table 1, R 1/2: gauge length 8.2, 6.4 to 10.0; Rc 1/2: 2.3 either way."""
    ring, document = told("R 1/2", "mm")
    assert document == "ISO 7-2"
    assert "between the gauge's two steps (gauge length 6.4 to 10.0 mm)" in ring
    plug, _ = told("Rc 1/2", "mm")
    assert "taper plug gauge by ISO 7-2" in plug
    assert "within 2.3 mm either way" in plug
    inch, _ = told("BSPT 1/2", "in", "external")
    assert "gauge length 0.25" in inch


def test_a_parallel_thread_has_none() -> None:
    with pytest.raises(NoSource) as caught:
        taper_gauge(limits_in(limits("G 1/2 A"), "mm"))
    assert caught.value.faults[0].code == "parallel"
