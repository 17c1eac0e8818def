"""What a job states is used, or told, or refused: never thrown away in silence."""

from __future__ import annotations

import pytest

from flankwise_service.core.errors import BadInput, Fault, Refusal
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import BossAsked, HoleAsked, Job, ThreadAsked
from flankwise_service.core.plan.result import Plan
from support.jobs import adapter, port


def plan(job: Job) -> Plan:
    return work(job, "0").plan


def fault(job: Job, pointer: str) -> Fault:
    with pytest.raises(Refusal) as caught:
        work(job, "0")
    assert type(caught.value) is BadInput
    (found,) = [one for one in caught.value.faults if one.pointer == pointer]
    return found


# -- a blank's stated size (ISO 965-1, M20x1.5-6H: minor diameter 18.376 to 18.676)


def test_a_hole_wider_than_it_would_be_bored_is_refused() -> None:
    found = fault(port(hole=HoleAsked(22, diameter=19.9)), "/hole/diameter")
    assert (found.code, found.value, found.greatest, found.least) == (
        "past_size", 19.9, pytest.approx(18.526), None,
    )  # fmt: skip
    assert "the hole is 19.9 mm already, larger than the 18.526 mm it would be bored to" in (
        found.detail
    )
    assert "set hole.ready to true (it must be 18.376 to 18.676 mm)" in found.change
    assert "leave hole.diameter out" in found.change
    # Also where it is inside its limits: it is finished then, or it would be bored to less.
    assert fault(port(hole=HoleAsked(22, diameter=18.6)), "/hole/diameter").code == "past_size"
    aimed = ThreadAsked("M20x1.5-6H", 16, crest_aim=1.0)
    assert plan(port(thread=aimed, hole=HoleAsked(22, diameter=18.6))).verdict == "ready"


def test_a_boss_thinner_than_it_would_be_milled_is_refused() -> None:
    found = fault(adapter(boss=BossAsked(1.0, diameter=0.86)), "/boss/diameter")
    assert (found.code, found.least, found.greatest) == ("past_size", pytest.approx(0.86825), None)
    assert "smaller than the 0.86825 in it would be milled to: no cutter makes it thicker" in (
        found.detail
    )
    assert "set boss.ready to true (it must be 0.8631 to 0.8734 in)" in found.change


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (port(hole=HoleAsked(22, diameter=18.0)),
         "hole: the 18 mm stated is no finished size (hole.ready isn't set); it is bored from "
         "solid metal to 18.526 mm"),
        (port(hole=HoleAsked(22, diameter=18.526, drilled_diameter=16)),
         "hole: the 18.526 mm stated is no finished size (hole.ready isn't set); it is bored from "
         "the drilled 16 mm to 18.526 mm"),
        (adapter(boss=BossAsked(1.0, diameter=1.0)),
         "boss: the 1 in stated is no finished size (boss.ready isn't set); it is milled from "
         "the bar to 0.86825 in"),
    ],
)  # fmt: skip
def test_a_size_stated_of_an_unfinished_blank_is_told(job: Job, words: str) -> None:
    made = plan(job)
    assert words in made.assumed
    assert made.blank_path is not None


def test_nothing_is_told_where_nothing_is_stated() -> None:
    for job in (port(), adapter(), port(hole=HoleAsked(22, ready=True, diameter=18.5))):
        assert not any(line.startswith(("hole:", "boss:")) for line in plan(job).assumed)


def test_a_missing_blank_is_told_as_that() -> None:
    assert fault(port(hole=None), "/hole").code == "missing"
