"""Properties of gauging that hold for every thread."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flankwise_service.core.errors import Refusal
from flankwise_service.core.gauging import section
from flankwise_service.core.gauging.correction import correction, offset_change
from flankwise_service.core.gauging.gauges import gauges
from flankwise_service.core.gauging.groove import Groove, groove_of
from flankwise_service.core.gauging.helicoid import diameter_touching_at, rest
from flankwise_service.core.gauging.limits_over import limits_over, wire_sizes
from flankwise_service.core.gauging.measure import measured, narrow, verdict
from flankwise_service.core.gauging.over_wires import pitch_diameter_from, reading_over
from flankwise_service.core.threads import classes, designations, limits, limits_in, parse
from flankwise_service.core.threads.model import Limits

NAMES = tuple(designations())
angles = st.floats(5.0, 50.0)
starts = st.integers(1, 6)
sides = st.sampled_from(["external", "internal"])


@st.composite
def grooves(draw: st.DrawFn, *, equal: bool = False) -> Groove:
    pitch = draw(st.floats(0.2, 3.0))
    upper = draw(angles)
    lower = upper if equal else draw(angles)
    return Groove(pitch, pitch * draw(starts), upper, lower, draw(sides))


@st.composite
def sized(draw: st.DrawFn, *, equal: bool = False) -> tuple[Groove, float, float]:
    """A groove, a pitch diameter of at least twice its lead, a wire near the best."""
    groove = draw(grooves(equal=equal))
    diameter = draw(st.floats(2.0, 15.0)) * groove.lead + 2 * groove.pitch
    return groove, diameter, draw(st.floats(0.75, 1.3)) * section.best_wire(groove)


def over(groove: Groove) -> str:
    return "three wires" if groove.side == "external" else "between balls"


@settings(deadline=None, max_examples=150)
@given(sized())
def test_reading_and_pitch_diameter_are_each_others_inverse(
    case: tuple[Groove, float, float],
) -> None:
    groove, diameter, wire = case
    read = reading_over(groove, diameter, wire, over(groove))  # type: ignore[arg-type]
    back = pitch_diameter_from(groove, read.reading, wire, over(groove))  # type: ignore[arg-type]
    assert back.pitch_diameter == pytest.approx(diameter, rel=1e-12)


@settings(deadline=None, max_examples=150)
@given(sized(), st.floats(1e-6, 0.1))
def test_the_reading_grows_with_the_pitch_diameter(
    case: tuple[Groove, float, float], more: float
) -> None:
    groove, diameter, wire = case
    method = over(groove)
    less = reading_over(groove, diameter, wire, method).reading  # type: ignore[arg-type]
    grown = reading_over(groove, diameter * (1 + more), wire, method).reading  # type: ignore[arg-type]
    # By nearly as much: the lead's part shrinks as the thread grows, and is never the larger.
    assert 0.4 < (grown - less) / (diameter * more) < 1.6


@settings(deadline=None, max_examples=100)
@given(sized(equal=True))
def test_the_exact_reading_goes_to_the_handbooks_as_the_lead_angle_vanishes(
    case: tuple[Groove, float, float],
) -> None:
    groove, diameter, wire = case
    errors = []
    for larger in (3, 30):
        read = reading_over(groove, diameter * larger, wire, over(groove))  # type: ignore[arg-type]
        errors.append((abs(read.handbook_error), abs(read.handbook_with_lead_error or 0.0)))
    noise = 1e-13 * diameter * 30
    # Second order in the lead angle: ten times the diameter leaves near a hundredth.
    assert errors[1][0] <= errors[0][0] / 60 + noise
    # What the lead term leaves is of higher order still.
    assert errors[1][1] <= errors[0][1] / 300 + noise
    assert errors[1][1] <= errors[1][0] + noise


@settings(deadline=None, max_examples=100)
@given(sized(equal=True))
def test_the_exact_best_wire_touches_at_the_pitch_line(case: tuple[Groove, float, float]) -> None:
    groove, diameter, _ = case
    best = diameter_touching_at(groove, diameter, diameter)
    assert rest(groove, diameter, best).contact_diameter_upper == pytest.approx(diameter, rel=1e-11)
    assert best < section.best_wire(groove)


@settings(deadline=None, max_examples=100)
@given(sized(), st.sampled_from([25.4, 1 / 25.4]))
def test_a_thread_in_another_unit_is_the_same_thread(
    case: tuple[Groove, float, float], factor: float
) -> None:
    groove, diameter, wire = case
    other = Groove(
        groove.pitch * factor, groove.lead * factor,
        groove.flank_angle_upper, groove.flank_angle_lower, groove.side,
    )  # fmt: skip
    lies, scaled = rest(groove, diameter, wire), rest(other, diameter * factor, wire * factor)
    assert scaled.centre_radius == pytest.approx(lies.centre_radius * factor, rel=1e-12)
    assert scaled.tilt == pytest.approx(lies.tilt, rel=1e-12)


@settings(deadline=None, max_examples=300)
@given(
    st.floats(-1e9, 1e9) | st.sampled_from([0.0, 5e-324, 1e308, 10**400, -(10**400)]),
    st.floats(-1e9, 1e9) | st.sampled_from([0.0, 5e-324, 1e308, 10**400]),
    grooves(),
)
def test_any_number_gives_a_reading_or_a_refusal(size: float, wire: float, groove: Groove) -> None:
    try:
        read = reading_over(groove, size, wire, over(groove))  # type: ignore[arg-type]
    except Refusal:
        return
    assert 0 < read.reading < 1e5


def held(name: str, data: st.DataObject) -> Limits:
    by_side = {side: names for side, names in classes(parse(name)).items() if names}
    assume(by_side)
    side = data.draw(st.sampled_from(sorted(by_side)))
    thread_class = data.draw(st.sampled_from(by_side[side]))
    try:
        found = limits(f"{name}-{thread_class}", side=side)
    except Refusal:
        assume(False)
    assume(not found.basic.taper and found.pitch_diameter.min and found.pitch_diameter.max)
    return found


@settings(deadline=None, max_examples=150)
@given(st.sampled_from(NAMES), st.data())
def test_gauges_stand_at_the_limits_and_go_on_the_side_of_more_material(
    name: str, data: st.DataObject
) -> None:
    found = held(name, data)
    go, no_go = gauges(found)[:2]
    assert go.pitch_diameter is not None
    assert no_go.pitch_diameter is not None
    low, high = found.pitch_diameter.min, found.pitch_diameter.max
    for gauge in (go, no_go):
        assert low <= gauge.pitch_diameter <= high  # type: ignore[operator]
    if found.side == "external":
        assert (
            no_go.pitch_diameter
            < go.pitch_diameter
            <= found.basic.pitch_diameter + Decimal("0.001")
        )
    else:
        assert (
            no_go.pitch_diameter
            > go.pitch_diameter
            >= found.basic.pitch_diameter - Decimal("0.001")
        )
    ring = go.kind == "thread ring"
    for gauge in (go, no_go):
        if gauge.crest_diameter is not None:
            assert (gauge.crest_diameter < gauge.pitch_diameter) is ring


@settings(deadline=None, max_examples=150)
@given(st.sampled_from(NAMES), st.data())
def test_limits_over_the_best_wire_bracket_every_part_inside_its_limits(
    name: str, data: st.DataObject
) -> None:
    found = held(name, data)
    sizes = wire_sizes(found)
    assume(sizes.least < sizes.best < sizes.greatest)
    method = "three wires" if found.side == "external" else "between balls"
    try:
        limit = limits_over(found, sizes.best, method)  # type: ignore[arg-type]
    except Refusal:
        assume(False)
    low, high = float(found.pitch_diameter.min or 0), float(found.pitch_diameter.max or 0)
    share = data.draw(st.floats(0.001, 0.999))
    size = low + share * (high - low)
    groove = groove_of(found.basic, found.side)
    read = reading_over(groove, size, sizes.best, method).reading  # type: ignore[arg-type]
    assert limit.min.reading < read < limit.max.reading
    inch = limits_over(limits_in(found, "mm"), sizes.best * _scale(found), method)  # type: ignore[arg-type]
    assert inch.min.reading == pytest.approx(limit.min.reading * _scale(found), rel=1e-12)


def _scale(found: Limits) -> float:
    return 25.4 if found.thread.unit == "in" else 1.0


@settings(deadline=None)
@given(st.floats(10.0, 10.2), st.floats(0.0, 0.05), st.floats(10.05, 10.1), st.floats(10.1, 10.15))
def test_a_sure_verdict_holds_for_every_size_the_measurement_allows(
    size: float, uncertainty: float, least: float, greatest: float
) -> None:
    told = verdict(measured(size, uncertainty), least, greatest)
    for share in (-1.0, -0.5, 0.0, 0.5, 1.0):
        true = size + share * uncertainty
        if told.standing == "inside":
            assert least <= true <= greatest
        elif told.standing == "too small":
            assert true < least
        elif told.standing == "too large":
            assert true > greatest
    if told.standing == "can't be told":
        ends = {least <= size + way * uncertainty <= greatest for way in (-1, 1)}
        assert False in ends


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(9.9, 10.1), st.floats(0.0, 0.2)), min_size=1, max_size=5))
def test_narrowing_never_widens_and_never_leaves_a_range(pairs: list[tuple[float, float]]) -> None:
    found = [measured(*pair) for pair in pairs]
    try:
        both = narrow(found)
    except Refusal:
        assert max(one.least for one in found) > min(one.greatest for one in found)
        return
    assert both.uncertainty <= min(one.uncertainty for one in found) + 1e-12
    assert all(one.least <= both.least <= both.greatest <= one.greatest for one in found)


@settings(deadline=None)
@given(
    st.floats(9.96, 10.14), sides, st.floats(1.0, 3.5), st.sampled_from([None, 10.0, 10.05, 10.1])
)
def test_a_correction_lands_on_its_aim_and_mirrors_inside(
    size: float, side: str, response: float, aim: float | None
) -> None:
    told = correction(
        measured(size, 0.0), 10.0, 10.1,
        side=side, pitch=2.0, unit="mm", aim=aim, diameter_per_radius=response,  # type: ignore[arg-type]
    )  # fmt: skip
    sign = 1 if side == "external" else -1
    assert size + sign * response * told.radius_offset_change == pytest.approx(told.aim, abs=1e-12)
    other = "internal" if side == "external" else "external"
    mirrored = offset_change(size, told.aim, other, response)  # type: ignore[arg-type]
    assert mirrored == -told.radius_offset_change
    if told.rework:
        assert told.radius_offset_change < 0
