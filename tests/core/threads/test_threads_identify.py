"""Which thread is it?"""

from __future__ import annotations

from typing import Any

import pytest

from flankwise_service.core.errors import BadInput
from flankwise_service.core.threads import designations, limits
from flankwise_service.core.threads.identify import Candidate, identify


def ask(crest: float, **more: Any) -> tuple[Candidate, ...]:
    asked = {
        "side": "external", "unit": "in", "diameter_uncertainty": 0.001,
        "pitch_uncertainty": 0.0005, **more,
    }  # fmt: skip
    return identify(crest, **asked)


def names(found: tuple[Candidate, ...]) -> list[str]:
    return [one.designation for one in found]


def differences(found: tuple[Candidate, ...], name: str) -> dict[str, str]:
    (one,) = [one for one in found if one.designation == name]
    return {difference.by: difference.words for difference in one.tells_apart}


def test_the_first_candidate_is_the_commonest_that_agrees() -> None:
    found = ask(0.870, threads_per_inch=14)
    first = found[0]
    assert (first.designation, first.family, first.series) == ("7/8-14 UNF", "unified", "UNF")
    assert first.agrees
    assert first.misfit == 0 == first.outside_by
    assert first.tells_apart == ()
    assert first.threads_per_inch == 14
    assert first.pitch == pytest.approx(1 / 14)
    assert first.pitch_difference == 0
    assert (first.included_angle, first.taper) == (60.0, 0.0)
    # Over the classes 1A to 3A: the least is 1A's, the greatest 3A's.
    assert first.crest_min == float(limits("7/8-14 UNF-1A").major_diameter.min or 0)
    assert first.crest_max == float(limits("7/8-14 UNF-3A").major_diameter.max or 0)


def test_pitch_and_threads_per_inch_say_the_same() -> None:
    by_pitch = ask(0.870, pitch=1 / 14)
    assert by_pitch == ask(0.870, threads_per_inch=14)
    metric = ask(
        0.870 * 25.4, unit="mm", threads_per_inch=14, diameter_uncertainty=0.0254,
        pitch_uncertainty=0.0127,
    )  # fmt: skip
    assert names(metric) == names(by_pitch)
    assert metric[0].crest_min == pytest.approx(25.4 * by_pitch[0].crest_min)
    assert metric[0].pitch == pytest.approx(25.4 / 14)


def test_inside_the_minor_diameter_is_the_crest() -> None:
    found = ask(6.7, side="internal", unit="mm", pitch=1.25, pitch_uncertainty=0.05)
    assert found[0].designation == "M8"
    assert found[0].crest_min == float(limits("M8-5H").minor_diameter.min or 0)
    assert found[0].crest_max == float(limits("M8-8G").minor_diameter.max or 0)


def test_a_crest_outside_every_class_is_a_misfit_by_as_much() -> None:
    exact = ask(0.880, threads_per_inch=14, diameter_uncertainty=0.0)[0]
    assert exact.designation == "7/8-14 UNF"
    assert exact.outside_by == pytest.approx(0.005)
    assert exact.misfit == pytest.approx(0.005 * 14 / 0.1)
    assert not exact.agrees
    unsure = ask(0.880, threads_per_inch=14, diameter_uncertainty=0.004)[0]
    assert unsure.misfit == pytest.approx(0.001 * 14 / 0.1)
    assert ask(0.880, threads_per_inch=14, diameter_uncertainty=0.005001)[0].agrees
    below = ask(0.8559, threads_per_inch=14, diameter_uncertainty=0.0)[0]
    assert below.outside_by == pytest.approx(below.crest_min - 0.8559)


def test_a_pitch_that_is_off_counts_beyond_its_uncertainty() -> None:
    found = ask(0.870, pitch=1 / 14 + 0.001, pitch_uncertainty=0.0004)[0]
    assert found.designation == "7/8-14 UNF"
    assert found.pitch_difference == pytest.approx(0.001)
    assert found.misfit == pytest.approx(0.0006 * 14 / 0.01)


def test_what_is_far_off_is_not_named() -> None:
    assert ask(333.3, unit="mm", pitch=0.25) == ()
    assert "7/8-14 UNF" not in names(ask(0.870, pitch=1 / 14 * 1.05))
    assert "7/8-14 UNF" not in names(ask(0.870 + 0.04, threads_per_inch=14))


def test_flank_angle_taper_and_pitch_tell_apart() -> None:
    found = ask(20.8, unit="mm", pitch=1.81, diameter_uncertainty=0.05, pitch_uncertainty=0.02)
    assert found[0].designation == "1/2-14 NPT"
    g = differences(found, "G 1/2")
    assert "55 degrees apart, not 60" in g["flank angle"]
    assert "parallel" in g["taper"]
    assert set(differences(found, "R 1/2")) == {"flank angle"}
    assert differences(found, "1/2-14 NPTF") == {
        "name": "by its form and size this can't be told from 1/2-14 NPT"
    }
    other = ask(13.15, unit="mm", threads_per_inch=19, diameter_uncertainty=0.02,
                pitch_uncertainty=0.02)  # fmt: skip
    assert other[0].designation == "G 1/4"
    assert "0.0625" in differences(other, "R 1/4")["taper"]
    near = ask(6.7, side="internal", unit="mm", pitch=1.25, diameter_uncertainty=0.05,
               pitch_uncertainty=0.05, most=50)  # fmt: skip
    assert differences(near, "5/16-20 UN")["pitch"] == "10 pitches of it are 0.2 mm longer"
    swapped = ask(6.7, side="internal", unit="mm", pitch=1.27, diameter_uncertainty=0.05,
                  pitch_uncertainty=0.001, most=50)  # fmt: skip
    assert differences(swapped, "M8")["pitch"] == "10 pitches of it are 0.2 mm shorter"


def test_crest_and_starts_tell_apart() -> None:
    found = ask(0.880, threads_per_inch=14, diameter_uncertainty=0.02, most=50)
    words = differences(found, "G 5/8")["crest diameter"]
    assert words.startswith("its crest measures 0.89083 to 0.90201 in, 0.01")
    first = found[0]
    assert first.crest_max < 0.89083


def test_a_taper_crest_may_be_anywhere_along_the_thread() -> None:
    outside = ask(20.8, unit="mm", pitch=1.81, diameter_uncertainty=0.05, pitch_uncertainty=0.02)
    npt = outside[0]
    thread = limits("1/2-14 NPT", side="external")
    assert npt.crest_min == pytest.approx(25.4 * float(thread.major_diameter.min or 0))
    assert npt.crest_max == pytest.approx(25.4 * 0.840)
    assert npt.taper == 0.0625
    hole = limits("1/2-14 NPT", side="internal")
    inside = ask(float(hole.minor_diameter.max or 0), side="internal", threads_per_inch=14, most=50)
    (found,) = [one for one in inside if one.designation == "1/2-14 NPT"]
    assert found.crest_max == pytest.approx(float(hole.minor_diameter.max or 0))
    length = float(hole.extra["effective_length"] or 0)
    assert length > 0
    assert found.crest_min == pytest.approx(float(hole.minor_diameter.min or 0) - length / 16)


def test_one_side_only_threads_are_named_on_that_side() -> None:
    length = {"unit": "mm", "threads_per_inch": 14, "diameter_uncertainty": 0.3, "most": 50}
    assert "R 1/2" in names(ask(20.8, **length))
    assert "Rc 1/2" not in names(ask(20.8, **length))
    hole = names(ask(18.5, side="internal", **length))
    assert "Rc 1/2" in hole
    assert "R 1/2" not in hole


def test_candidates_come_by_misfit_and_as_many_as_asked() -> None:
    found = ask(
        0.5, threads_per_inch=20, diameter_uncertainty=0.01, pitch_uncertainty=0.005, most=50
    )
    assert [one.misfit for one in found] == sorted(one.misfit for one in found)
    assert len(found) > 3
    assert ask(0.5, threads_per_inch=20, diameter_uncertainty=0.01, pitch_uncertainty=0.005,
               most=3) == found[:3]  # fmt: skip


def test_everything_wrong_is_told_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        ask(-1.0, pitch=10**400, threads_per_inch=0.0, diameter_uncertainty=-1.0,
            pitch_uncertainty=float("nan"), most=0)  # fmt: skip
    assert [fault.pointer for fault in caught.value.faults] == [
        "/crest_diameter", "/diameter_uncertainty", "/pitch_uncertainty", "/pitch", "/pitch",
        "/threads_per_inch", "/most",
    ]  # fmt: skip
    with pytest.raises(BadInput) as caught:
        ask(0.5)
    assert [fault.code for fault in caught.value.faults] == ["pitch_once"]
    assert caught.value.faults[0].detail == "neither pitch nor threads per inch is given"
    with pytest.raises(BadInput, match="the pitch is given twice") as caught:
        ask(0.5, pitch=0.05, threads_per_inch=20.0)
    assert caught.value.faults[0].change.endswith("leave the other out")


def test_a_pitch_too_vague_to_name_a_thread_is_refused() -> None:
    ask(0.5, pitch=0.05, pitch_uncertainty=0.00999)
    for vague in ({"pitch": 0.05}, {"threads_per_inch": 20}):
        with pytest.raises(BadInput) as caught:
            ask(0.5, pitch_uncertainty=0.0101, **vague)
        assert [fault.pointer for fault in caught.value.faults] == ["/pitch_uncertainty"]
    with pytest.raises(BadInput):
        ask(0.5, pitch=0.05, diameter_uncertainty=0.2)


@pytest.mark.slow
def test_every_designation_is_found_by_its_own_measures() -> None:
    from flankwise_service.core.threads.identify import _window
    from flankwise_service.core.units import to_mm

    for name in designations():
        for side in ("external", "internal"):
            window = _window(name, side)
            if window is None:
                continue
            thread, _, low, high = window
            found = identify(
                (low + high) / 2, side=side, unit="mm",
                pitch=to_mm(float(thread.pitch), thread.unit),
                diameter_uncertainty=0.001, pitch_uncertainty=0.001, most=50,
            )  # fmt: skip
            assert name in {one.designation for one in found if one.agrees}
