"""Every documented limit of gauging: taken at the limit, refused one step beyond."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.gauging import helicoid, section
from flankwise_service.core.gauging.correction import correction, correction_table, in_words
from flankwise_service.core.gauging.groove import Groove, lead_angle, refuse_bad_sizes
from flankwise_service.core.gauging.inspection import inspection
from flankwise_service.core.gauging.limits_over import choose_wire, refuse_unfit
from flankwise_service.core.gauging.measure import (
    flank_angle_of_two,
    measured,
    measured_over,
    narrow,
    verdict,
)
from flankwise_service.core.gauging.over_wires import centres_apart, pitch_diameter_from
from flankwise_service.core.gauging.response import response
from flankwise_service.core.gauging.wire_fit import last_fitting, refuse_unfit_wire
from flankwise_service.core.threads import limits
from flankwise_service.core.threads.model import Side
from support.at_limits import assert_limits_hold
from support.refused import faults_of, told

LENGTH = (1e-5, 1e4)
BOLT = Groove(0.1, 0.1, 30.0, 30.0)
HOLE = Groove(0.1, 0.1, 30.0, 30.0, "internal")


def groove_with(**changed: Any) -> Groove:
    return replace(BOLT, **changed)


def over_with(**changed: Any) -> object:
    return measured_over(BOLT, 1.08, 0.06, **{"reading_uncertainty": 0.0001, **changed})


def correction_with(**changed: Any) -> object:
    given = {"least": 0.99, "greatest": 1.01, "side": "external", "pitch": 0.1, **changed}
    return correction(measured(1.0, 0.0001), unit="in", **given)


def table_with(**changed: Any) -> object:
    given = {"least": 0.99, "greatest": 1.01, **changed}
    return correction_table(BOLT, 0.06, unit="in", **given)


def response_with(changed_by: float) -> object:
    sizes = [measured(1.01, 0.0001), measured(1.0, 0.0001)]
    return response(sizes, changed_by, 0.99, 1.01, side="external", pitch=0.1, unit="in")


@pytest.mark.parametrize(
    ("call", "good", "bounds"),
    [
        (
            groove_with,
            {},
            {
                "pitch": LENGTH,
                "lead": LENGTH,
                "flank_angle_upper": (0.0, 60.0),
                "flank_angle_lower": (0.0, 60.0),
            },
        ),
        (lead_angle, {"lead": 0.1, "diameter": 1.0}, {"lead": LENGTH, "diameter": LENGTH}),
        (
            refuse_bad_sizes,
            {"groove": Groove(1e-5, 1e-5, 30.0, 30.0), "pitch_diameter": 1.0, "wire": None},
            {"pitch_diameter": LENGTH},
        ),
        (
            centres_apart,
            {"groove": BOLT, "reading": 1.08, "wire": 0.06},
            {"reading": LENGTH, "wire": LENGTH},
        ),
        (section.angle_sensitivity, {"groove": BOLT, "wire": 0.06}, {"wire": LENGTH}),
        *(
            (call, {"groove": BOLT, "pitch_diameter": 1.0, name: 0.95}, {name: LENGTH})
            for call, name in (
                (section.least_wire, "crest_diameter"),
                (section.greatest_wire, "crest_diameter"),
                (section.least_touching_wire, "root_diameter"),
                (section.clear_wire, "root_diameter"),
                (section.lead_term, "wire"),
                (helicoid.diameter_touching_at, "contact_diameter"),
            )
        ),
        (
            measured,
            {"pitch_diameter": 1.0, "uncertainty": 0.001},
            {"pitch_diameter": LENGTH, "uncertainty": (0.0, 100.0)},
        ),
        (
            verdict,
            {"found": measured(1.0, 0.001), "least": 0.9, "greatest": 1.1},
            {"least": LENGTH, "greatest": LENGTH},
        ),
        (
            over_with,
            {},
            {
                "reading_uncertainty": (0.0, 0.1),
                "wire_uncertainty": (0.0, 0.1),
                "flank_angle_uncertainty": (0.0, 10.0),
            },
        ),
        (
            correction_with,
            {"aim": 1.0},
            {"aim": (0.99, 1.01), "diameter_per_radius": (1.0, 3.5), "pitch": LENGTH},
        ),
        (table_with, {}, {"rows": (3, 201), "aim": (0.99, 1.01)}),
        (response_with, {"changed_by": -0.005}, {"changed_by": (-100.0, 100.0)}),
    ],
)
def test_taken_at_each_limit_and_refused_beyond(
    call: Any, good: dict[str, Any], bounds: dict[str, Any]
) -> None:
    assert_limits_hold(call, good, bounds)


@pytest.mark.parametrize("name", ["flank_angle_upper", "flank_angle_lower"])
def test_flanks_two_degrees_apart_are_just_enough(name: str) -> None:
    given = {"flank_angle_upper": 1.5, "flank_angle_lower": 1.5, name: 0.5}
    assert replace(BOLT, **given).pitch == 0.1
    given[name] = math.nextafter(0.5, 0.0) - 1e-15
    (fault,) = faults_of(BadInput, groove_with, **given)
    assert (fault.pointer, fault.code) == ("/flank_angle_upper", "too_steep")
    assert fault.change == "flank angles need to add up to 2 degrees or more"


@pytest.mark.parametrize("starts", [1, 2, 7, 30])
def test_a_lead_may_be_off_its_starts_by_a_millionth_and_no_more(starts: int) -> None:
    assert Groove(0.1, 0.1 * starts * (1 + 0.9e-6), 30.0, 30.0).pitch == 0.1
    for off in (1.1e-6, -1.1e-6):
        lead = 0.1 * starts * (1 + off)
        assert told(BadInput, groove_with, lead=lead) == {("/lead", "lead_not_starts")}


def test_a_helix_of_45_degrees_is_the_steepest() -> None:
    size = 3.0 / math.pi
    steep = Groove(0.1, 3.0, 30.0, 30.0)
    refuse_bad_sizes(steep, size * (1 - 1e-13), 0.06)
    (fault,) = faults_of(BadInput, refuse_bad_sizes, steep, size * (1 - 1e-11), 0.06)
    assert (fault.pointer, fault.code) == ("/pitch_diameter", "out_of_range")
    assert fault.least == pytest.approx(size, rel=1e-12)
    assert fault.least is not None
    refuse_bad_sizes(steep, fault.least, 0.06)
    refuse_bad_sizes(steep, 0.95493, 0.06)
    assert fault.change.startswith("give a pitch diameter of at least 0.95493,")


def test_a_wire_is_from_a_twentieth_to_five_times_the_pitch_and_smaller_than_the_thread() -> None:
    quarter = Groove(0.25, 0.25, 30.0, 30.0)
    for wire, beyond in ((0.0125, 0.01249999), (1.25, 1.25000001)):
        refuse_bad_sizes(quarter, 2.0, wire)
        (fault,) = faults_of(BadInput, refuse_bad_sizes, quarter, 2.0, beyond)
        assert (fault.pointer, fault.code) == ("/wire", "out_of_range")
        assert (fault.value, fault.least, fault.greatest) == (beyond, 0.0125, 1.25)
    refuse_bad_sizes(quarter, 1.0, math.nextafter(1.0, 0.0))
    assert told(BadInput, refuse_bad_sizes, quarter, 1.0, 1.0) == {("/wire", "wire_too_big")}


def test_two_hundred_wires_may_be_at_hand() -> None:
    """The 200th of them is the one that fits."""
    bolt = limits("7/8-14 UNF-2A")
    assert choose_wire(bolt, [0.08] * 199 + [0.04]).limits.wire == 0.04
    assert told(BadInput, choose_wire, bolt, [0.04] * 201) == {("/wires", "wires_count")}


def test_wires_a_fiftieth_of_the_pitch_apart_are_too_alike() -> None:
    coarse, given = Groove(100.0, 100.0, 30.0, 30.0), (2090.0, 2096.0)
    assert told(BadInput, flank_angle_of_two, coarse, given, (56.0, 58.0)) == {
        ("/wires", "wires_alike")
    }
    angle, size = flank_angle_of_two(
        Groove(1.0, 1.0, 30.0, 30.0), (20.9, 20.9 + 0.021 * 3.0), (0.56, 0.581)
    )
    assert angle == pytest.approx(30.0, abs=0.1)
    assert size == pytest.approx(20.9 - 3 * 0.56 + 0.866, abs=2e-3)


@pytest.mark.parametrize(("side", "sign"), [("external", 1.0), ("internal", -1.0)])
def test_an_answer_from_1_to_3_and_a_half_is_believed(side: Side, sign: float) -> None:
    """Pitch diameter moved by 1, and by 3.5, for one unit of radius offset; in binary exact."""
    for moved, believed in ((0.5, True), (1.75, True), (0.4999, False), (1.7501, False)):
        sizes = [measured(64.0, 0.001), measured(64.0 + moved, 0.001)]
        ask = (sizes, sign * 0.5, 60.0, 70.0)
        if believed:
            found = response(*ask, side=side, pitch=32.0, unit="mm")
            assert found.diameter_per_radius == moved / 0.5
            assert found.correction.aim == 65.0
        else:
            assert told(Impossible, response, *ask, side=side, pitch=32.0, unit="mm") == {
                ("/sizes/1", "no_answer")
            }


def test_a_change_equal_to_the_uncertainty_of_both_measurements_is_lost_in_it() -> None:
    sizes = [measured(64.0, 0.25), measured(65.0, 0.25)]
    ask = {"side": "external", "pitch": 32.0, "unit": "mm"}
    assert told(BadInput, response, sizes, 0.5, 60.0, 70.0, **ask) == {
        ("/changed_by", "lost_in_uncertainty")
    }
    more = math.nextafter(0.5, 1.0)
    assert response(sizes, more, 60.0, 70.0, **ask).diameter_per_radius == pytest.approx(2.0)  # type: ignore[arg-type]


@pytest.mark.parametrize("side", ["external", "internal"])
def test_a_tenth_of_the_pitch_is_the_greatest_correction(side: Side) -> None:
    """Pitch 10: an offset change of 1 is a change of 2 in diameter."""
    ask: dict[str, Any] = {"side": side, "pitch": 10.0, "unit": "mm", "aim": 64.0}
    for size in (62.0, 66.0):
        found = correction(measured(size, 0.001), 60.0, 70.0, **ask)
        assert abs(found.radius_offset_change) == 1.0
        assert abs(found.diameter_offset_change) == 2.0
        assert found.pitch_diameter_change == 64.0 - size
    for size in (61.999, 66.001):
        (fault,) = refused(correction, measured(size, 0.001), 60.0, 70.0, **ask)
        assert (fault.code, fault.least, fault.greatest) == ("absurd_correction", 62.0, 66.0)


def refused(call: Any, *args: Any, **rest: Any) -> Any:
    with pytest.raises(Impossible) as caught:
        call(*args, **rest)
    return caught.value.faults


def test_cautions_begin_just_beyond_their_bounds() -> None:
    """Twice the tolerance of 1: a shift of 2 is not yet warned of. A shift as doubtful as the size."""

    def said(size: float, doubt: float = 0.0) -> list[str]:
        ask: dict[str, Any] = {"side": "external", "pitch": 100.0, "unit": "mm", "aim": 64.5}
        return [word[:25] for word in correction(measured(size, doubt), 64.0, 65.0, **ask).cautions]

    twice, noise = "the change is more than t", "the change is smaller tha"
    assert twice not in said(66.5)
    assert twice in said(66.500001)
    assert noise not in said(64.75, 0.25)
    assert noise in said(64.75, 0.250001)
    assert noise not in said(64.5, 0.25)


def test_a_measurement_that_just_touches_a_limit_is_inside() -> None:
    """64 to 65, known to 0.25: from 64.25 to 64.75 it is sure, below 63.75 it is surely too small."""
    expected = {
        63.749: ("too small", None),
        63.75: ("can't be told", "the least limit"),
        64.249: ("can't be told", "the least limit"),
        64.25: ("inside", None),
        64.75: ("inside", None),
        64.751: ("can't be told", "the greatest limit"),
        65.25: ("can't be told", "the greatest limit"),
        65.251: ("too large", None),
    }
    for size, standing in expected.items():
        found = verdict(measured(size, 0.25), 64.0, 65.0)
        assert (found.standing, found.doubt) == standing
        assert found.room_to_min == size - 64.0
        assert found.room_to_max == 65.0 - size
    wide = verdict(measured(64.5, 0.6), 64.0, 65.0)
    assert wide.doubt == "both limits"


def test_measurements_that_just_touch_agree() -> None:
    both = narrow([measured(64.0, 0.25), measured(64.5, 0.25)])
    assert (both.pitch_diameter, both.uncertainty) == (64.25, 0.0)
    (fault,) = refused(narrow, [measured(64.0, 0.25), measured(64.75, 0.25)])
    assert (fault.code, fault.value) == ("disagree", 0.25)


@pytest.mark.parametrize(("groove", "sign"), [(BOLT, 1), (HOLE, -1)])
def test_a_wire_that_just_touches_each_edge_will_do(groove: Groove, sign: int) -> None:
    """Crest's edge, flank's end, standing crest and root, each put where the wire itself is."""
    lies = helicoid.rest(groove, 1.0, 0.06)
    touches = lies.contact_diameter_upper
    top = 2 * lies.centre_radius + sign * 0.06
    floor = 2 * lies.centre_radius - sign * 0.06

    def codes(
        crest: float, root: float, standing: float | None = None, bottom: float | None = None
    ) -> set[str]:
        try:
            refuse_unfit_wire(groove, 1.0, 0.06, crest, root, standing, bottom)
        except Impossible as refusal:
            return {fault.code for fault in refusal.faults}
        return set()

    step = sign * 1e-12
    inner, outer = 1.0 - sign * 0.04, 1.0 + sign * 0.03
    assert codes(touches, inner, outer, floor) == set()
    assert codes(touches - step, inner, outer, floor) == {"rides_on_crest"}
    assert codes(outer, touches, outer, floor) == set()
    assert codes(outer, touches + step, outer, floor) == {"below_flank"}
    assert codes(outer, inner, top - step, floor) == set()
    assert codes(outer, inner, top, floor) == {"below_crest"}
    assert codes(outer, inner, outer, floor + step) == {"bottoms_in_root"}
    assert codes(top, floor) == {"below_crest"}
    # what just touches is no fault beside another one either
    assert codes(touches, inner, top, floor) == {"below_crest"}
    assert codes(outer, touches, top, floor) == {"below_crest"}


@pytest.mark.parametrize("side", ["external", "internal"])
@pytest.mark.parametrize(("lead", "angle"), [(0.1, 30.0), (0.4, 14.5), (0.1, 45.0)])
def test_where_a_ball_touches_the_normal_is_the_flanks_own(
    side: Side, lead: float, angle: float
) -> None:
    """The gradient of z - s r tan(angle) - h theta at the contact, to the last digits."""
    sign = 1 if side == "external" else -1
    centre = helicoid.rest(Groove(0.1, lead, angle, angle, side), 1.0, 0.06).centre_radius
    found = helicoid.touch(0.03, centre, angle, lead, sign)
    x, y = centre + 0.03 * found.normal[0], 0.03 * found.normal[1]
    r, h = math.hypot(x, y), lead / (2 * math.pi)
    slope = sign * math.tan(math.radians(angle))
    gradient = (-slope * x / r + h * y / r**2, -slope * y / r - h * x / r**2, 1.0)
    size = math.sqrt(sum(part * part for part in gradient))
    assert found.normal == pytest.approx([part / size for part in gradient], abs=3e-15)
    assert found.radius == r
    height = 0.03 * found.normal[2] - slope * r - h * math.atan2(y, x)
    assert found.offset == pytest.approx(height, abs=1e-16)


def test_words_say_nothing_of_a_change_that_prints_as_nought() -> None:
    assert in_words(0.00005001, "in").endswith("larger by 0.0001 in")
    assert in_words(-0.00004999, "in") == "leave the radius offset as it is"
    assert in_words(-0.0005001, "mm").endswith("smaller by 0.001 mm")
    assert in_words(0.0004999, "mm") == "leave the radius offset as it is"


def test_a_ball_without_a_resting_place_is_told_by_its_diameter() -> None:
    (fault,) = refused(helicoid.touch, 0.75, 0.2, 30.0, 3.0, -1)
    assert (fault.code, fault.value) == ("no_rest", 1.5)


def test_a_reading_is_never_told_limits_of_a_pitch_diameter() -> None:
    """A size worked back from a reading is refused at the reading, with its caution."""
    bolt = limits("7/8-14 UNF-2A")
    ask: dict[str, Any] = {"unit": "in", "reading_uncertainty": 0.0001}
    (far,) = faults_of(Impossible, inspection, bolt, 0.95, 0.04, "three wires", **ask)
    assert (far.pointer, far.code, far.value) == ("/reading", "absurd_correction", 0.95)
    assert (far.least, far.greatest) == (None, None)
    assert "this is no correction" in far.change
    steep = Groove(0.1, 3.0, 30.0, 30.0)
    (thin,) = faults_of(BadInput, pitch_diameter_from, steep, 0.5, 0.06)
    assert (thin.pointer, thin.code, thin.value) == ("/reading", "out_of_range", 0.5)
    assert (thin.least, thin.greatest) == (None, None)
    assert thin.change.startswith("check the reading")
    both = faults_of(BadInput, pitch_diameter_from, steep, 1.5, 0.6)
    assert [fault.pointer for fault in both] == ["/reading", "/wire"]


def test_the_wires_told_fit_at_both_ends_of_the_tolerance() -> None:
    for name, way in (("7/8-14 UNF-2A", "three wires"), ("M20x1.5-6H", "between balls")):
        thread = limits(name)
        pitch = float(thread.basic.pitch)
        for wire in (0.2 * pitch, 2.0 * pitch):
            said = faults_of(Impossible, refuse_unfit, thread, wire, way)[0].change
            words = said.rpartition(";")[0].split()
            least, greatest = float(words[3]), float(words[5])
            assert 0.0 < least < greatest < 2.0 * pitch
            for given_back in (least, greatest):
                refuse_unfit(thread, given_back, way)  # type: ignore[arg-type]


def test_the_last_wire_that_fits_is_looked_for_no_farther_than_asked() -> None:
    assert last_fitting(lambda wire: wire > 0.1, 0.5, 0.2) == 0.2
    assert 0.2499 < last_fitting(lambda wire: wire < 0.25, 0.2, 0.4) < 0.25
