"""The plan's rarely walked ways: each refusal comes out at the job's own place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import Impossible, NoSource, Refusal
from flankwise_service.core.plan import shape
from flankwise_service.core.plan.check import at_most
from flankwise_service.core.plan.compose import milled, work
from flankwise_service.core.plan.job import (
    CuttingAsked,
    HoleAsked,
    Job,
    Machine,
    ProgramAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.preparing import prepared
from support.jobs import adapter


def pointers(job: Job, kind: type[Refusal]) -> set[str]:
    with pytest.raises(kind) as caught:
        work(job, "0")
    return {fault.pointer for fault in caught.value.faults}


def test_a_figure_near_its_limit_is_a_caution() -> None:
    near = at_most("power", 9.0, 10.0, "power", "kW", "cut less", caution_share=0.8)
    assert (near.state, near.change) == ("caution", "cut less")
    assert "comes close" in near.detail
    assert at_most("power", 7.9, 10.0, "power", "kW", "", caution_share=0.8).state == "passed"
    assert at_most("power", 8.0, 10.0, "power", "kW", "", caution_share=0.8).state == "passed"


def test_a_cutter_too_weak_for_any_pass_is_refused_below_cutting() -> None:
    asked = CuttingAsked(pass_method="stiffness", deflection_share=0.001)
    cutter = adapter().cutter
    assert cutter is not None
    weak = replace(cutter, neck_diameter=0.1, shank_diameter=0.1, overhang=6.0)
    found = pointers(adapter(cutting=asked, cutter=weak), Impossible)
    assert all(pointer.startswith("/cutting/") for pointer in found)


def test_a_tooth_that_cannot_be_is_refused_below_cutter() -> None:
    cutter = adapter().cutter
    assert cutter is not None
    deep = replace(cutter, tooth=Tooth(30, 30, 0.009, 0.26), tip_to_tooth=None)
    assert "/cutter/tooth/depth" in pointers(adapter(cutter=deep), Refusal)


def test_a_section_that_cannot_be_is_refused_below_cutter() -> None:
    ready = prepared(adapter())
    cut = milled(ready).cut
    with pytest.raises(Refusal) as caught:
        shape.as_cut(ready.sizes, ready.cutter, cut, 1e-9)
    assert caught.value.faults[0].pointer.startswith("/cutter/")


def test_a_thread_without_limits_of_its_crest_is_refused() -> None:
    thread = ThreadAsked("1/8-27 NPSC", 0.3, side="internal")
    job = adapter(thread=thread, boss=None, hole=HoleAsked(0.5))
    assert pointers(job, NoSource) == {"/thread/designation"}


def test_a_program_beyond_any_mill_is_refused_below_program() -> None:
    job = adapter(program=ProgramAsked(centre_x=2499.0 / 25.4))
    assert all(pointer.startswith("/program") for pointer in pointers(job, Refusal))


def test_the_feed_rises_while_the_lead_in_bites_and_nothing_else_changes() -> None:
    found = work(adapter(), "0")
    leads = [one for one in found.thread_segments if one.purpose == "lead_in"]
    assert len(leads) == 4 * len(found.plan.passes)
    first = leads[:4]
    feeds = [one.feed or 0.0 for one in first]
    # Half the feed at first contact, the full feed at the flank (common practice, no source).
    assert [feed / feeds[0] for feed in feeds] == pytest.approx([1, 11 / 9, 13 / 9, 15 / 9])
    assert sum(one.sweep for one in first) == pytest.approx(180.0)
    outs = {one.feed for one in found.thread_segments if one.purpose == "lead_out"}
    assert max(feeds) < min(feed for feed in outs if feed)
    lines = work(adapter(machine=Machine(helical_arcs=False)), "0").thread_segments
    assert not any(one.kind == "arc" for one in lines)
