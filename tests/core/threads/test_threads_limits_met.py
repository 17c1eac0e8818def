"""Every documented range of what is asked of threads: taken at its ends, refused a step beyond."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.errors import BadInput, UnknownThread
from flankwise_service.core.threads import limits
from flankwise_service.core.threads.common import clean
from flankwise_service.core.threads.identify import identify
from flankwise_service.core.threads.listing import page
from flankwise_service.core.threads.mating import percent_of_thread
from flankwise_service.core.threads.plating import pitch_diameter_factor, plated
from flankwise_service.core.threads.strength import strength
from support.at_limits import assert_limits_hold
from support.refused import told

SEEN = {
    "crest_diameter": 20.0, "side": "external", "unit": "mm", "pitch": 2.0,
    "diameter_uncertainty": 0.05, "pitch_uncertainty": 0.01, "most": 3,
}  # fmt: skip
BY_COUNT = {**SEEN, "pitch": None, "threads_per_inch": 14, "pitch_uncertainty": 0.0}
JOINT = {
    "external": limits("M10-6g"), "internal": limits("M10-6H"), "unit": "mm", "engagement": 10.0,
    "external_strength": 800.0, "internal_strength": 310.0,
}  # fmt: skip

LIMITS = [
    (page, {"search": "M8", "offset": 0, "count": 5}, {"offset": (0, 1_000_000), "count": (1, 5000)}),
    (identify, SEEN,
     {"crest_diameter": (0.2, 1500), "diameter_uncertainty": (0, 5), "pitch": (0.05, 60),
      "most": (1, 50)}),
    (identify, BY_COUNT, {"threads_per_inch": (0.5, 500)}),
    (strength, JOINT,
     {"engagement": (1.5, 200), "external_strength": (0.01, 1e7),
      "internal_strength": (0.01, 1e7)}),  # one pitch to 20 diameters
    (percent_of_thread, {"major": 8.0, "hole": 6.8, "pitch": 1.25},
     {"major": (1e-4, 1e4), "hole": (1e-4, 1e4), "pitch": (1e-4, 1e4)}),
    (pitch_diameter_factor, {"flank_angle_upper": 30.0, "flank_angle_lower": 30.0},
     {"flank_angle_upper": (0, 60), "flank_angle_lower": (0, 60)}),
    # a twentieth of the pitch
    (plated,
     {"limits": limits("M10-6g"), "least_thickness": 0.002, "greatest_thickness": 0.003,
      "ceiling": "basic size"},
     {"least_thickness": (0, 0.05 * 1.5), "greatest_thickness": (0, 0.05 * 1.5)}),
]  # fmt: skip


@pytest.mark.parametrize(("call", "good", "held"), LIMITS, ids=[one[0].__name__ for one in LIMITS])
def test_each_limit_is_taken_and_a_step_beyond_it_is_not(call, good, held):
    assert_limits_hold(call, good, held)


def test_flanks_may_be_as_steep_as_two_degrees_together():
    assert pitch_diameter_factor(1.0, 1.0) == pytest.approx(2 / 0.017452406, rel=1e-7)
    assert pitch_diameter_factor(60.0, 60.0) == pytest.approx(2 / 0.866025404, rel=1e-8)
    assert pitch_diameter_factor(2.0, 0.0) > 0
    assert told(BadInput, pitch_diameter_factor, 1.0, 0.999999) == {
        ("/flank_angle_upper", "out_of_range")
    }


def test_a_pitch_is_as_vague_as_a_fifth_of_itself_and_no_vaguer():
    def given(uncertainty: float) -> dict[str, object]:
        return {**SEEN, "pitch_uncertainty": uncertainty}

    vague = {("/pitch_uncertainty", "out_of_range")}
    assert identify(**given(0.2 * 2.0))
    assert identify(**given(0.0))
    assert told(BadInput, identify, **given(math.nextafter(0.2 * 2.0, 1.0))) == vague
    assert told(BadInput, identify, **given(-5e-324)) == vague


def test_a_search_and_a_designation_may_have_sixty_characters():
    assert page("x" * 60).total == 0
    assert told(BadInput, page, "x" * 61) == {("/search", "too_long")}
    spaced = "7/8-14 UNF" + " " * 50
    assert clean(spaced) == "7/8-14 UNF"
    with pytest.raises(UnknownThread, match="61 characters is longer"):
        clean(spaced + " ")
