"""What the plan tells of the form really cut, and the limits it is held to."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from flankwise_service.core.plan import shape
from flankwise_service.core.plan.compose import milled
from flankwise_service.core.plan.job import Job, Machine, ThreadAsked
from flankwise_service.core.plan.preparing import prepared
from flankwise_service.core.plan.sizes import sizes
from support.jobs import adapter, port


@pytest.mark.parametrize("job", [adapter(), port()], ids=["boss", "hole"])
def test_the_form_is_told_as_the_section_has_it(job: Job) -> None:
    cut = milled(prepared(job))
    found, told = cut.section, shape.form_plan(cut.section, cut.correction)
    for name in ("pitch_diameter", "functional_diameter", "major_diameter", "minor_diameter",
                 "overcut_effect", "crest_width", "root_width", "root_radius"):  # fmt: skip
        assert getattr(told, name) == getattr(found, name)
    assert told.flank_angle_error_upper == found.upper_flank.angle_error
    assert told.flank_angle_error_lower == found.lower_flank.angle_error
    assert told.form_deviation == max(
        found.upper_flank.form_deviation, found.lower_flank.form_deviation
    )
    assert told.correction is cut.correction
    # What no radius takes back: functional less simple pitch diameter, of the tolerance.
    tolerance = sizes(job.thread, job.unit).pitch_diameter_tolerance
    used = abs(found.functional_diameter - found.pitch_diameter) / tolerance
    assert told.tolerance_used == pytest.approx(used)
    assert 0 < used < 1


HOLE = {"pitch_diameter": 19.1, "functional_diameter": 19.09, "major_diameter": 20.1,
        "minor_diameter": 18.5}  # fmt: skip
BOSS = {"pitch_diameter": 18.9, "functional_diameter": 18.95, "major_diameter": 19.85,
        "minor_diameter": 18.1}  # fmt: skip


def refused(name: str, figures: dict[str, float]) -> set[str]:
    at = sizes(ThreadAsked(name, 16), "mm")
    checks = shape.form_checks(at, SimpleNamespace(**figures))  # type: ignore[arg-type]
    assert len(checks) == 4
    assert not any(one.acceptable for one in checks)
    return {one.code for one in checks if one.state == "refused"}


@pytest.mark.parametrize(
    ("name", "good", "changed", "code"),
    [
        # ISO 965-2, M20x1.5: 6H pitch 19.026 to 19.216, minor 18.376 to 18.676, major from 20
        ("M20x1.5-6H", HOLE, {"pitch_diameter": 19.0259}, "pitch_diameter_as_cut"),
        ("M20x1.5-6H", HOLE, {"pitch_diameter": 19.2161}, "pitch_diameter_as_cut"),
        ("M20x1.5-6H", HOLE, {"functional_diameter": 19.0259}, "functional_diameter_as_cut"),
        ("M20x1.5-6H", HOLE, {"major_diameter": 19.9999}, "major_diameter_as_cut"),
        ("M20x1.5-6H", HOLE, {"minor_diameter": 18.6761}, "minor_diameter_as_cut"),
        # 6g: pitch 18.854 to 18.994, major 19.732 to 19.968, minor (rounded root) at most 18.344
        ("M20x1.5-6g", BOSS, {"pitch_diameter": 18.8539}, "pitch_diameter_as_cut"),
        ("M20x1.5-6g", BOSS, {"functional_diameter": 18.9941}, "functional_diameter_as_cut"),
        ("M20x1.5-6g", BOSS, {"major_diameter": 19.7319}, "major_diameter_as_cut"),
        ("M20x1.5-6g", BOSS, {"minor_diameter": 18.3441}, "minor_diameter_as_cut"),
    ],
)  # fmt: skip
def test_every_diameter_as_cut_is_held_to_its_own_limits(
    name: str, good: dict[str, float], changed: dict[str, float], code: str
) -> None:
    assert refused(name, good) == set()
    assert refused(name, {**good, **changed}) == {code}


@pytest.mark.parametrize(
    ("name", "figures", "room"),
    [
        # the least of what pitch, crest and root diameter have above their least limits
        ("M20x1.5-6H", {**HOLE, "pitch_diameter": 19.046}, 0.020),
        ("M20x1.5-6H", {**HOLE, "minor_diameter": 18.396}, 0.020),
        ("M20x1.5-6H", {**HOLE, "major_diameter": 20.020}, 0.020),
        ("M20x1.5-6g", {**BOSS, "major_diameter": 19.752}, 0.020),
        ("M20x1.5-6H", {**HOLE, "pitch_diameter": 19.0}, 0.0),
    ],
)
def test_chords_may_take_all_the_room_below_and_no_more(
    name: str, figures: dict[str, float], room: float
) -> None:
    job = port(machine=Machine(helical_arcs=False))
    at = sizes(ThreadAsked(name, 16), "mm")
    found = SimpleNamespace(**figures)
    # twice the chord tolerance is taken off the diameter
    for chord, state in [(room / 2 - 1e-6, "passed"), (room / 2 + 1e-6, "refused")]:
        (one,) = shape.chord_checks(job, at, found, chord)  # type: ignore[arg-type]
        if chord >= 0:
            assert (one.state, one.limit) == (state, pytest.approx(room, abs=1e-9))
        assert f"at most {room / 2:.4g} mm" in one.change or one.state == "passed"
    assert shape.chord_checks(port(), at, found, 9.0) == ()  # type: ignore[arg-type]
