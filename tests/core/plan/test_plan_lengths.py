"""The length of thread against what its class's tolerance, its gauge and its mate are for.

ISO 965-1:1998, lengths of thread engagement (memory): diameters over 22.4 up to 45, pitch 1.5,
normal over 6.3 up to 19; diameters over 11.2 up to 22.4, pitch 1.5, normal over 5.6 up to 16.
ASME B1.20.1-1983 Table 2 (memory): 1/2-14 NPT has L1 0.320, L2 0.5337 and L3 0.2143.
ISO 7-1:1994 (memory): R 1/2 has a gauge length of 8.2, greatest 10.0, and a useful thread of 13.2.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.engagement import engagement_check, normal_engagement
from flankwise_service.core.plan.job import BossAsked, HoleAsked, Job, StockAsked, ThreadAsked
from flankwise_service.core.plan.sizes import sizes
from flankwise_service.core.plan.taper_length import taper_length_check, taper_lengths
from support.jobs import plan, sizes_of


def length_check(designation: str, length: float, unit: str = "mm", **asked: object) -> Check:
    thread = ThreadAsked(designation, length, **asked)  # type: ignore[arg-type]
    job = Job(unit, thread, StockAsked("6082"))  # type: ignore[arg-type]
    return engagement_check(job, sizes(thread, job.unit))


@pytest.mark.parametrize(
    ("length", "state", "group", "limit"),
    [(1.5, "caution", "S", 6.3), (6.3, "caution", "S", 6.3), (6.31, "passed", "N", 19.0),
     (18.0, "passed", "N", 19.0), (19.0, "passed", "N", 19.0), (19.01, "caution", "L", 19.0),
     (34.0, "caution", "L", 19.0), (36.0, "caution", "L", 19.0)],
)  # fmt: skip
def test_a_metric_thread_is_held_against_its_normal_engagement(
    length: float, state: str, group: str, limit: float
) -> None:
    one = length_check("M24x1.5-6G", length)
    assert (one.state, one.figure, one.limit, one.unit) == (state, length, limit, "mm")
    assert f"group {group} of ISO 965-1 (normal is over 6.3, up to 19 mm)" in one.detail


def test_what_a_long_and_a_short_thread_are_told() -> None:
    long, short = length_check("M24x1.5-6G", 34.0), length_check("M24x1.5-6G", 4.0)
    assert "the class's tolerance is for group N: over that length pitch errors add" in long.detail
    assert long.change == (
        "let its mate be no longer than 19 mm, gauge it over its whole length, or name group L in "
        "the designation, with a class for it"
    )
    assert "less thread carries the load" in short.detail
    assert short.change.startswith("see that it carries the load, or name group S")


def test_a_designation_that_names_its_group_is_held_against_that() -> None:
    assert length_check("M24x1.5-7G-L", 34.0).state == "passed"
    assert length_check("M24x1.5-6G-S", 6.0).state == "passed"
    within = length_check("M24x1.5-7G-L", 18.0)
    assert (within.state, within.change) == (
        "caution", "see that it carries the load, or name group N in the designation, with a class "
        "for it",
    )  # fmt: skip


def test_the_same_length_in_inches_is_of_the_same_group() -> None:
    for length, state in ((6.3, "caution"), (19.0, "passed"), (19.01, "caution")):
        assert length_check("M24x1.5-6G", length / 25.4, "in").state == state
    assert "up to 0.748 in)" in length_check("M24x1.5-6G", 0.5, "in").detail


def test_threads_whose_normal_engagement_is_not_held_are_long_beyond_1_5_diameters() -> None:
    for designation, unit in (("7/8-14 UNF-2A", "in"), ("Tr24x5-7e", "mm"), ("G 1/2 A", "mm")):
        assert normal_engagement(sizes_of(designation, unit)) is None
    assert length_check("7/8-14 UNF-2A", 1.3125, "in").state == "passed"
    assert length_check("7/8-14 UNF-2A", 1.3126, "in").state == "caution"


def test_a_thread_below_one_pitch_is_refused_whatever_its_kind() -> None:
    for designation, unit, length in (
        ("M24x1.5-6G", "mm", 1.4), ("1/2-14 NPT", "in", 0.07), ("7/8-14 UNF-2A", "in", 0.07),
    ):  # fmt: skip
        one = length_check(designation, length, unit, side=None if "NPT" not in designation
                           else "internal")  # fmt: skip
        assert (one.state, one.acceptable) == ("refused", True)
        assert "make it longer" in one.change


# -- taper threads


@pytest.mark.parametrize(
    ("designation", "side", "unit", "hand_tight", "whole"),
    [("1/2-14 NPT", "internal", "in", 0.320, 0.5343), ("1/2-14 NPT", "external", "in", 0.320, 0.5337),
     ("1/2-14 NPTF", "internal", "in", 0.320, 0.5343),
     ("1/2-14 NPT", "internal", "mm", 8.128, 13.57122),
     ("R 1/2", None, "mm", 10.0, 13.2), ("Rc 1/2", None, "mm", 10.0, 13.2)],
)  # fmt: skip
def test_a_taper_thread_below_its_gauge_is_refused(
    designation: str, side: str | None, unit: str, hand_tight: float, whole: float
) -> None:
    off = 1e-4 * hand_tight
    for length, state, limit in (
        (hand_tight - off, "refused", hand_tight), (hand_tight, "caution", whole),
        (whole - off, "caution", whole), (whole, "passed", whole), (2 * whole, "passed", whole),
    ):  # fmt: skip
        one = length_check(designation, length, unit, side=side)
        assert (one.state, one.acceptable) == (state, state == "refused")
        assert (one.figure, one.limit) == (length, pytest.approx(limit))


def test_a_taper_threads_lengths_are_named() -> None:
    short = length_check("1/2-14 NPT", 0.1, "in", side="internal")
    assert short.detail == (
        "0.1 in of taper thread is shorter than 0.32 in (hand-tight engagement L1): its mate runs "
        "out of thread before it is hand tight, and its gauge can't judge it"
    )
    assert short.change == (
        "make the thread at least 0.5343 in (L1 + L3, hand tight and wrench) long"
    )
    outside = length_check("1/2-14 NPT", 0.4, "in", side="external")
    assert "shorter than 0.5337 in (effective length L2): little is left" in outside.detail
    hole = length_check("Rc 1/2", 9.0)
    assert "shorter than 10 mm (greatest gauge length of its mate)" in hole.detail
    assert "13.2 mm (useful thread length of its mate)" in hole.change
    assert "10 mm (greatest gauge length)" in length_check("R 1/2", 9.0).detail


def test_a_length_of_which_no_figure_is_held_is_said_to_be_unchecked() -> None:
    at = sizes_of("R 1/2")
    assert taper_lengths(at.limits) is not None
    bare = replace(at, limits=replace(at.limits, extra={"gauge_length_max": None}))
    assert taper_lengths(bare.limits) is None
    job = Job("mm", ThreadAsked("R 1/2", 1.0), StockAsked("6082"), boss=BossAsked(18, ready=True))
    one = taper_length_check(job, bare)
    assert (one.state, one.limit) == ("caution", None)
    assert one.detail == "1 mm of taper thread isn't checked: no gauge length of R 1/2 is held"


def test_a_port_too_short_is_refused_and_can_be_accepted() -> None:
    port = Job(
        "in", ThreadAsked("1/2-14 NPT", 0.1, side="internal"), StockAsked("6061", "round"),
        hole=HoleAsked(1.0, ready=True, diameter=0.7213),
    )  # fmt: skip
    made = plan(port)
    assert (made.verdict, made.program) == ("refused", None)
    assert plan(replace(port, accept=("thread_length",))).program is not None
