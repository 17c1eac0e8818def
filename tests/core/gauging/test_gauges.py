"""Go and no-go gauges."""

from __future__ import annotations

from decimal import Decimal

import pytest

from flankwise_service.core.errors import NoSource
from flankwise_service.core.gauging.gauges import gauges
from flankwise_service.core.threads import limits, limits_in


def test_rings_for_an_external_thread() -> None:
    go, no_go, plain_go, plain_no_go = gauges(limits("1/4-20 UNC-2A"))
    assert (go.kind, go.duty, go.pitch_diameter) == ("thread ring", "go", Decimal("0.2164"))
    assert (no_go.kind, no_go.duty, no_go.pitch_diameter) == (
        "thread ring", "no-go", Decimal("0.2127"),
    )  # fmt: skip
    # ASME B1.2 prints 0.1947 and 0.2019 for the minor diameters (memory).
    assert go.crest_diameter == pytest.approx(0.1947, abs=0.0001)
    assert no_go.crest_diameter == pytest.approx(0.2019, abs=0.0001)
    assert (plain_go.kind, plain_go.duty, plain_go.plain_diameter) == (
        "plain ring", "go", Decimal("0.2489"),
    )  # fmt: skip
    assert (plain_no_go.duty, plain_no_go.plain_diameter) == ("no-go", Decimal("0.2408"))
    assert "major diameter" in plain_go.checks
    assert "on freely" in go.checks
    assert "on more than three" in no_go.checks
    assert go.plain_diameter is plain_go.pitch_diameter is plain_go.crest_diameter is None
    assert {source.standing for gauge in (go, no_go) for source in gauge.sources} == {"memory"}


def test_plugs_for_an_internal_thread() -> None:
    go, no_go, plain_go, plain_no_go = gauges(limits("1/4-20 UNC-2B"))
    assert (go.kind, go.duty, go.pitch_diameter) == ("thread plug", "go", Decimal("0.2175"))
    assert (no_go.duty, no_go.pitch_diameter) == ("no-go", Decimal("0.2224"))
    # ASME B1.2 prints 0.2500 and 0.2440 for the major diameters (memory).
    assert go.crest_diameter == 0.25
    assert no_go.crest_diameter == pytest.approx(0.2440, abs=0.0001)
    assert plain_go.plain_diameter == Decimal("0.196")
    assert plain_no_go.plain_diameter == Decimal("0.207")
    assert (plain_go.kind, plain_go.duty) == ("plain plug", "go")
    assert "minor diameter" in plain_go.checks
    assert "in freely" in go.checks


def test_a_no_go_plug_is_never_larger_than_the_full_form() -> None:
    thread = limits("M8-8H")
    loose = [one for one in gauges(thread) if one.duty == "no-go" and one.pitch_diameter]
    assert loose[0].crest_diameter is not None
    assert loose[0].crest_diameter <= 8.0


def test_a_go_plug_is_full_to_the_least_major_diameter_not_to_the_basic_size() -> None:
    """ISO 965-1:2013: position G leaves 0.032 mm for P = 1.5, so the hole begins at 20.032."""
    go = gauges(limits("M20x1.5-6G"))[0]
    assert go.crest_diameter == pytest.approx(20.032, abs=1e-9)


def test_a_limit_the_standard_does_not_set_makes_no_plain_gauge() -> None:
    held = gauges(limits("1 1/2-6 UNC-1A"))
    assert [one.kind for one in held].count("plain ring") == 2
    # G threads have 55 degree flanks: the crest of their gauges isn't stated.
    pipe = gauges(limits("G 1/2 A"))
    assert [one.crest_diameter for one in pipe] == [None] * len(pipe)
    assert len(pipe[0].sources) == 1


def test_in_the_other_unit() -> None:
    go = gauges(limits_in(limits("1/4-20 UNC-2A"), "mm"))[0]
    assert go.pitch_diameter == Decimal("0.2164") * Decimal("25.4")
    assert go.crest_diameter == pytest.approx(25.4 * 0.19475, abs=0.001)


def test_taper_threads_are_refused() -> None:
    with pytest.raises(NoSource) as caught:
        gauges(limits("1/2-14 NPT", side="external"))
    assert caught.value.faults[0].code == "tapered"
