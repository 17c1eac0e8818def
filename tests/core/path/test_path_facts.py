"""What a path comes to, against the path itself."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from flankwise_service.core.errors import BadInput
from flankwise_service.core.path.facts import checked_facts, helix_facts
from flankwise_service.core.path.gouge import lead_gouge
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.path.totals import totals
from support.path_jobs import CUTTER, EXTERNAL, INTERNAL


def test_turns_run_in_and_run_out_follow_the_motion() -> None:
    down = helix_facts(replace(EXTERNAL, turns_above_face=1.0, turns_below_length=0.25))
    assert (down.motion, down.sense) == ("downward", "clockwise")
    assert (down.run_in_turns, down.run_out_turns) == (1.0, 0.25)
    up = helix_facts(replace(INTERNAL, turns_above_face=1.0, turns_below_length=0.25))
    assert (up.motion, up.sense) == ("upward", "counterclockwise")
    assert (up.run_in_turns, up.run_out_turns) == (0.25, 1.0)
    assert up.thread_turns == pytest.approx(8.0)
    assert up.total_turns == pytest.approx(2 * 9.25)


@pytest.mark.parametrize("rows", [1, 4])
def test_totals_of_the_path_agree(rows: int) -> None:
    job = replace(EXTERNAL, cutter=replace(CUTTER, rows=rows, row_pitch=1.5))
    facts, path = helix_facts(job), list(thread_path(job))
    assert totals(path).arc_turns == pytest.approx(facts.total_turns)
    leads = sum(1 for s in path if s.purpose == "lead_in")
    assert leads == len(job.passes) * facts.runs_in_one_pass
    assert facts.total_turns == pytest.approx(leads * facts.turns_in_one_run)
    assert facts.blunt_start_steps == 0


def test_lead_angle_and_gouge() -> None:
    facts = helix_facts(replace(INTERNAL, blunt_start=True))
    assert math.tan(math.radians(facts.lead_angle)) == pytest.approx(1.25 / math.tau)
    assert facts.lead == 1.25
    assert facts.lead_in_gouge == facts.lead_out_gouge == 0
    assert facts.blunt_start_steps == 8
    with pytest.raises(BadInput):
        helix_facts(replace(INTERNAL, pitch=0.0))


def test_the_gouge_told_is_that_of_the_last_pass() -> None:
    job = replace(INTERNAL, lead_in="quarter_arc", lead_out="half_arc", lead_arc_radius=1.5)
    facts = checked_facts(job)  # refused as a path, for it would cut the flanks
    first, last = (
        [lead_gouge(job, entry, number) for entry in (job.lead_in, job.lead_out)]
        for number in (0, 1)
    )
    assert [facts.lead_in_gouge, facts.lead_out_gouge] == last
    assert first[0] > last[0] > 0
    assert first[1] > last[1] > 0
