"""Properties of identify, mating, plating and strength that hold for every thread."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flankwise_service.core.errors import Refusal
from flankwise_service.core.threads import classes, designations, limits, limits_in, parse
from flankwise_service.core.threads.identify import identify
from flankwise_service.core.threads.mating import fit
from flankwise_service.core.threads.model import Limits, Side
from flankwise_service.core.threads.plating import plated
from flankwise_service.core.threads.sized import pitch_limits
from flankwise_service.core.threads.strength import strength
from flankwise_service.core.units import to_mm

NAMES = tuple(designations())
SAME = [name for name in NAMES if parse(name).family in ("unified", "iso_metric")]
numbers = st.floats(-1e3, 1e3) | st.sampled_from([0.0, 1e308, 5e-324, 10**400, -(10**400)])


def of_class(name: str, side: Side, data: st.DataObject) -> Limits:
    names = classes(parse(name)).get(side, ())
    assume(names)
    try:
        return limits(f"{name}-{data.draw(st.sampled_from(names))}", side=side)
    except Refusal:
        assume(False)
        raise


def shared(name: str) -> tuple[Limits, Limits]:
    """Return an external and an internal thread of the commonest classes."""
    out, inn = ("2A", "2B") if parse(name).unit == "in" else ("6g", "6H")
    try:
        return limits(f"{name}-{out}"), limits(f"{name}-{inn}")
    except Refusal:
        assume(False)
        raise


@settings(deadline=None, max_examples=150)
@given(st.sampled_from(SAME), st.data())
def test_threads_of_one_size_mate_in_every_class_and_unit(name: str, data: st.DataObject) -> None:
    external, internal = of_class(name, "external", data), of_class(name, "internal", data)
    inch, metric = fit(external, internal, "in"), fit(external, internal, "mm")
    assert inch.mates
    assert inch.pitch_diameter.runs == "always free"
    for diameter in ("pitch_diameter", "major_diameter", "minor_diameter"):
        one, other = getattr(inch, diameter), getattr(metric, diameter)
        if one.least is not None and one.greatest is not None:
            assert one.least <= one.greatest
        if one.least is not None:
            assert float(other.least) == pytest.approx(25.4 * float(one.least), abs=1e-12)
    assert inch.greatest_overlap_percent == pytest.approx(metric.greatest_overlap_percent)
    assert inch.least_overlap is not None
    assert 0 < inch.least_overlap < (inch.greatest_overlap or 0)


@settings(deadline=None, max_examples=150)
@given(st.sampled_from(SAME), st.data(), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_coat_of_any_thickness_between_keeps_the_limits(
    name: str, data: st.DataObject, thin: float, share: float
) -> None:
    side = data.draw(st.sampled_from(("external", "internal")))
    thread = of_class(name, side, data)  # type: ignore[arg-type]
    low, high = pitch_limits(thread)
    thick = (high - low) / 4.5
    ceiling: Any = data.draw(st.sampled_from(("basic size", "class limits")))
    try:
        told = plated(thread, thin * thick, thick, ceiling)
    except Refusal:
        assume(False)
    coat = thin * thick + share * (thick - thin * thick)
    way = 1 if side == "external" else -1
    before, after = told.before.pitch_diameter, told.after.pitch_diameter
    for size in (before.min, before.max):
        made = (size or 0) + way * told.pitch_diameter_factor * coat
        assert (after.min or 0) - 1e-12 <= made <= (after.max or 0) + 1e-12
    assert told.pitch_tolerance_left == pytest.approx(
        (after.max or 0) - (after.min or 0) - 4 * (thick - thin * thick), abs=1e-12
    )


@settings(deadline=None, max_examples=100)
@given(st.sampled_from(SAME), st.floats(1.0, 10.0), st.floats(0.2, 1.0), st.floats(1.01, 2.0))
def test_a_stronger_nut_never_needs_more_thread(
    name: str, turns: float, weak: float, stronger: float
) -> None:
    external, internal = shared(name)
    unit = external.thread.unit
    engagement = turns * float(external.basic.pitch)

    def joint(nut: float) -> Any:
        return strength(
            external, internal, engagement, unit=unit, external_strength=800,
            internal_strength=800 * nut,
        )  # fmt: skip

    one, other = joint(weak), joint(weak * stronger)
    assert other.least_engagement <= one.least_engagement
    assert one.engagement_is_enough is (one.weakest == "external part breaks")
    assert one.external_shear_area == other.external_shear_area


@settings(deadline=None, max_examples=60)
@given(st.sampled_from(NAMES), st.sampled_from(["external", "internal"]), st.floats(0.0, 1.0))
def test_a_thread_is_found_by_a_crest_inside_its_limits_in_either_unit(
    name: str, side: Any, share: float
) -> None:
    thread = parse(name)
    assume(side in classes(thread))
    names = classes(thread)[side]
    try:
        held = limits_in(limits(f"{name}-{names[0]}" if names else name, side=side), "mm")
    except Refusal:
        assume(False)
    span = held.major_diameter if side == "external" else held.minor_diameter
    assume(span.min is not None and span.max is not None)
    crest = float(span.min or 0) + share * float((span.max or 0) - (span.min or 0))
    pitch = to_mm(float(thread.pitch), thread.unit)
    found = identify(
        crest, side=side, unit="mm", pitch=pitch,
        diameter_uncertainty=0.0005, pitch_uncertainty=0.0005, most=50,
    )  # fmt: skip
    assert name in {one.designation for one in found if one.agrees}
    inch = identify(
        crest / 25.4, side=side, unit="in", pitch=pitch / 25.4,
        diameter_uncertainty=0.0005 / 25.4, pitch_uncertainty=0.0005 / 25.4, most=50,
    )  # fmt: skip
    assert {one.designation for one in found} == {one.designation for one in inch}


@settings(deadline=None, max_examples=200)
@given(numbers, numbers, numbers, numbers)
def test_any_numbers_give_an_answer_or_a_refusal(a: Any, b: Any, c: Any, d: Any) -> None:
    bolt, nut = limits("7/8-14 UNF-2A"), limits("7/8-14 UNF-2B")
    runs = (
        lambda: plated(bolt, a, b, "basic size"),
        lambda: strength(bolt, nut, a, unit="in", external_strength=b, internal_strength=c),
        lambda: identify(
            a, side="external", unit="mm", pitch=b, diameter_uncertainty=c, pitch_uncertainty=d
        ),
    )
    for run in runs:
        try:
            told = run()
        except Refusal:
            continue
        assert told is not None
