"""Every field: what it takes, what it refuses, and that it says the limits and what to change."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from marshmallow import ValidationError

from flankwise_service.core.units import from_mm
from flankwise_service.web import fields
from flankwise_service.web.load import MOST_FAULTS, load
from flankwise_service.web.problems import Problem


class Inner(fields.Schema):
    width = fields.Length("Width", least=1, greatest=10)


class Asked(fields.Schema):
    unit = fields.Unit(default=None)
    length = fields.Length("A length", least=0.01, greatest=1000, default=None)
    angle = fields.Angle("An angle", least=1, greatest=90, default=None)
    share = fields.Fraction("A share", default=None)
    ratio = fields.Number("A ratio", least=0, greatest=5, above=True, default=None)
    count = fields.Count("A count", least=1, greatest=9, default=None)
    speed = fields.Speed("A speed", least=1, greatest=1000, default=None)
    name = fields.Text("A name", shortest=1, longest=8, default=None)
    hand = fields.OneOf("A hand", ("right", "left"), default="right")
    deep = fields.Flag("Deep", default=None)
    inner = fields.Nested(Inner, "Inner", default=None)
    many = fields.ListOf(fields.Nested(Inner, "One"), "Many", fewest=1, most=3, default=None)
    figures = fields.ListOf(fields.Number("Figure", greatest=9), "Figures", default=None)
    by_name = fields.MapOf(fields.Count("Count", greatest=9), "By name", most=2, default=None)
    free = fields.Anything("Anything", default=None)


SCHEMA = Asked()


def loaded(**asked: Any) -> dict[str, Any]:
    return load(SCHEMA, asked)


def faults(**asked: Any) -> list[tuple[str, str]]:
    with pytest.raises(Problem) as caught:
        load(SCHEMA, asked)
    assert caught.value.code == "bad_values"
    for fault in caught.value.faults:
        assert fault.detail
        assert fault.change
    return [(fault.pointer, fault.code) for fault in caught.value.faults]


def only_fault(**asked: Any) -> Any:
    with pytest.raises(Problem) as caught:
        load(SCHEMA, asked)
    (fault,) = caught.value.faults
    return fault


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("length", 1.5), ("length", 2), ("length", 0.01), ("length", 1000), ("angle", 90),
        ("share", 0), ("share", 1.0), ("ratio", 5), ("ratio", 5e-324), ("count", 9), ("count", 3.0),
        ("speed", 1000), ("name", "\u00e9t\u00e9 \u2300"), ("hand", "left"), ("deep", False),
        ("figures", []), ("free", {"a": [1, None]}), ("by_name", {"x": 1}),
    ],
)  # fmt: skip
def test_what_is_inside_the_limits_is_taken(name: str, value: Any) -> None:
    assert loaded(unit="mm", **{name: value})[name] == value


@pytest.mark.parametrize("name", ["length", "angle", "share", "ratio", "count", "speed"])
@pytest.mark.parametrize("value", ["1", "1.5", True, False, [], [1], {}, "NaN", "1 mm"])
def test_what_is_no_number_is_no_number(name: str, value: Any) -> None:
    assert faults(unit="mm", **{name: value}) == [(f"/{name}", "not_a_number")]


@pytest.mark.parametrize("name", ["length", "angle", "share", "ratio", "speed", "count"])
@pytest.mark.parametrize(
    "value", [-1, -1e308, 1e308, 10**400, -(10**400), 1e19, 2**63, -1e-300]
)  # fmt: skip
def test_numbers_outside_are_refused_with_their_limits(name: str, value: Any) -> None:
    if name == "count" and value == -1e-300:
        assert faults(unit="mm", count=value) == [("/count", "not_whole")]
        return
    fault = only_fault(unit="mm", **{name: value})
    assert (fault.pointer, fault.code) == (f"/{name}", "out_of_range")
    assert fault.least is not None
    assert fault.greatest > fault.least
    assert f"{fault.greatest:g}" in fault.change


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("name", ["length", "ratio", "count"])
def test_what_is_not_finite_is_refused_even_past_the_parser(name: str, value: float) -> None:
    (fault,) = faults(unit="mm", **{name: value})
    assert fault[0] == f"/{name}"


def test_limits_of_a_length_go_with_the_unit() -> None:
    assert loaded(unit="in", length=39.37)["length"] == 39.37
    fault = only_fault(unit="in", length=39.38)
    assert (fault.greatest, fault.unit) == (39.37, "in")
    assert fault.detail == "length 39.38 in is above the greatest allowed, 39.37 in"
    fault = only_fault(unit="mm", length=0.009)
    assert fault.detail == "length 0.009 mm is below the least allowed, 0.01 mm"
    assert fault.change == "give length from 0.01 to 1000 mm"
    assert from_mm(1000, "in") == pytest.approx(39.37, rel=1e-4)


def test_limits_of_a_speed_go_with_the_unit() -> None:
    assert loaded(unit="in", speed=3281)["speed"] == 3281
    fault = only_fault(unit="in", speed=3282)
    assert (fault.greatest, fault.unit) == (3281, "ft/min")
    assert only_fault(unit="mm", speed=1001).unit == "m/min"


def test_without_a_good_unit_the_wider_limits_hold_and_the_unit_is_the_fault() -> None:
    assert faults(unit="cm", length=500, speed=2000) == [("/unit", "not_one_of")]
    assert faults(unit="cm", length=5000) == [("/unit", "not_one_of"), ("/length", "out_of_range")]


def test_a_length_in_an_inner_object_follows_the_unit_at_the_top() -> None:
    assert loaded(unit="mm", inner={"width": 10})["inner"] == {"width": 10.0}
    fault = only_fault(unit="in", inner={"width": 10})
    assert (fault.pointer, fault.greatest, fault.unit) == ("/inner/width", 0.3937, "in")


def test_the_unit_of_one_request_never_reaches_the_next() -> None:
    loaded(unit="in")
    assert load(Inner(), {"width": 5}) == {"width": 5.0}


def test_least_itself_is_refused_where_the_field_says_above() -> None:
    fault = only_fault(ratio=0)
    assert fault.detail == "ratio 0 must be greater than 0"


def test_minus_zero_becomes_zero() -> None:
    assert math.copysign(1, loaded(share=-0.0)["share"]) == 1


def test_a_whole_number_has_no_decimals() -> None:
    assert faults(count=1.5) == [("/count", "not_whole")]
    assert type(loaded(count=3.0)["count"]) is int


@pytest.mark.parametrize("value", [1, 1.0, True, None, [], {}])
def test_what_is_no_text_is_no_text(value: Any) -> None:
    if value is None:
        assert loaded(name=None)["name"] is None
        return
    assert faults(name=value) == [("/name", "not_text")]


@pytest.mark.parametrize("value", ["", "123456789"])
def test_text_has_a_shortest_and_longest(value: str) -> None:
    fault = only_fault(name=value)
    assert (fault.code, fault.least, fault.greatest) == ("wrong_length", 1, 8)


@pytest.mark.parametrize(
    "hidden", ["\0", "\n", "\r", "\t", "\x1b", "\x7f", "\x85", "\u2028", "\u2029", "\u202e",
               "\u200b", "\ufeff", "\u2066", "\ue000"],
)  # fmt: skip
def test_text_holds_nothing_that_cant_be_seen(hidden: str) -> None:
    fault = only_fault(name="a" + hidden)
    assert fault.code == "hidden_character"
    assert f"U+{ord(hidden):04X}" in fault.detail


@pytest.mark.parametrize("value", ["rigth", "RIGHT", "", 1, None, ["right"]])
def test_only_the_words_of_the_list_are_taken(value: Any) -> None:
    if value is None:
        assert faults(hand=None) == [("/hand", "null")]
        return
    assert faults(hand=value) == [("/hand", "not_one_of")]


def test_a_word_close_to_one_is_named() -> None:
    assert only_fault(hand="rigth").near == ("right",)


@pytest.mark.parametrize("value", [0, 1, "true", "yes", []])
def test_a_flag_is_true_or_false(value: Any) -> None:
    assert faults(deep=value) == [("/deep", "not_true_or_false")]


@pytest.mark.parametrize("value", [1, "x", [], [1]])
def test_what_is_no_object_is_no_object(value: Any) -> None:
    assert faults(inner=value) == [("/inner", "not_an_object")]
    assert faults(by_name=value) == [("/by_name", "not_an_object")]


def test_a_list_has_a_fewest_and_a_most() -> None:
    assert faults(many=[]) == [("/many", "wrong_count")]
    assert faults(many=[{"width": 1}] * 4, unit="mm") == [("/many", "wrong_count")]
    assert faults(many={"width": 1}) == [("/many", "not_a_list")]


def test_faults_deep_inside_carry_their_whole_pointer() -> None:
    found = faults(
        unit="mm",
        many=[{"width": 1}, {"width": "1"}, {"wdth": 1}],
        figures=[1, 2, True],
        by_name={"a/b": 10, "c": 1},
    )
    assert found == [
        ("/many/1/width", "not_a_number"),
        ("/many/2/width", "missing"),
        ("/many/2/wdth", "unknown_field"),
        ("/figures/2", "not_a_number"),
        ("/by_name/a~1b", "out_of_range"),
    ]


def test_a_map_has_a_most() -> None:
    assert faults(by_name={"a": 1, "b": 2, "c": 3}) == [("/by_name", "not_an_object")]


def test_an_unknown_name_is_refused_with_the_nearest_ones() -> None:
    fault = only_fault(lenght=1)
    assert (fault.code, fault.near[0], fault.value) == ("unknown_field", "length", 1)
    fault = only_fault(unit="mm", inner={"width": 1, "widht": 1})
    assert (fault.pointer, fault.near) == ("/inner/widht", ("width",))


@pytest.mark.parametrize("raw", [[], 1, "x", None, True])
def test_a_request_that_is_no_object_is_refused(raw: Any) -> None:
    with pytest.raises(Problem) as caught:
        load(SCHEMA, raw)
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.code) == ("", "not_an_object")


def test_very_many_faults_are_told_up_to_a_number() -> None:
    with pytest.raises(Problem) as caught:
        load(SCHEMA, {f"x{place}": 1 for place in range(250)})
    assert len(caught.value.faults) == MOST_FAULTS
    assert "the first 100 of 250" in caught.value.detail


def test_a_default_that_is_made_is_made_anew() -> None:
    class Lists(fields.Schema):
        items = fields.ListOf(fields.Number("Item"), "Items", default=list)

    first = load(Lists(), {})["items"]
    first.append(1)
    assert load(Lists(), {})["items"] == []


def test_a_validator_of_the_library_is_told_too() -> None:
    class Checked(fields.Schema):
        even = fields.Count("Even", validate=_even)
        words = fields.ListOf(fields.Text("Word"), "Words", fewest=1, default=None)

    with pytest.raises(Problem) as caught:
        load(Checked(), {"even": 3})
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.code, fault.detail, fault.value) == (
        "/even", "bad_value", "must be even", 3,
    )  # fmt: skip
    with pytest.raises(Problem) as caught:
        load(Checked(), {"even": 2, "words": None, "even2": [1]})
    assert caught.value.faults[0].near == ("even",)


def _even(value: int) -> None:
    if value % 2:
        raise ValidationError("must be even")


@pytest.mark.parametrize("name", list(SCHEMA.fields))
def test_every_field_says_what_it_takes(name: str) -> None:
    field: Any = SCHEMA.fields[name]
    assert field.wanted()
    assert field.description


def test_what_is_missing_is_told_with_what_is_wanted() -> None:
    class Needed(fields.Schema):
        depth = fields.Length("Depth", least=1, greatest=254)
        turns = fields.Count("Turns", greatest=7)
        feed = fields.Speed("Speed", least=1, greatest=100)
        label = fields.Text("Label", longest=5)
        items = fields.ListOf(fields.Text("Item"), "Items", most=3)
        inner = fields.Nested(Inner, "Inner")

    with pytest.raises(Problem) as caught:
        load(Needed(), {})
    assert {fault.pointer: fault.change for fault in caught.value.faults} == {
        "/depth": "give depth: a length from 0.03937 to 10 in or 1 to 254 mm",
        "/turns": "give turns: a whole number from 0 to 7",
        "/feed": "give feed: a surface speed from 1 to 100 m/min, or 3.281 to 328.1 ft/min where "
        "unit is in",
        "/label": "give label: text of 0 to 5 characters",
        "/items": "give items: a list of 0 to 3",
        "/inner": "give inner: an object with width",
    }


@given(
    st.dictionaries(
        st.sampled_from([*SCHEMA.fields, "other"]),
        st.recursive(
            st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=9),
            lambda inner: (
                st.lists(inner, max_size=3)
                | st.dictionaries(st.text(max_size=4), inner, max_size=3)
            ),
            max_leaves=6,
        ),
        max_size=6,
    )
)
def test_whatever_comes_is_loaded_or_refused_with_a_pointer_into_it(asked: dict[str, Any]) -> None:
    for pointer in pointers_of_faults(asked):
        assert pointer.split("/")[1] in asked


def pointers_of_faults(asked: dict[str, Any]) -> list[str]:
    try:
        load(SCHEMA, asked)
    except Problem as problem:
        return [fault.pointer for fault in problem.faults] or ["/no fault told"]
    return []
