"""Refusals: every fault kept, each limit inclusive, and figures that can't be shown left out."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    Impossible,
    Refusal,
    at_least,
    at_most,
    join,
    neat,
    plain,
    plain_beyond,
    plain_greatest,
    plain_least,
)


def fault(pointer: str = "/pitch", detail: str = "too fine") -> Fault:
    return Fault(
        pointer, "out_of_range", detail, "take a coarser one", 0.1, 0.2, 6.0, "mm", ("M8",)
    )


def within(value: float, unit: str | None = "mm") -> list[Fault]:
    faults = Faults()
    faults.within("/pitch", value, least=0.5, greatest=6.0, name="pitch", unit=unit)
    return faults.found


def test_a_refusal_says_all_its_faults_and_has_at_least_one() -> None:
    both = BadInput(fault(), fault("/length", "too short"))
    assert str(both) == "too fine; too short"
    assert [found.pointer for found in both.faults] == ["/pitch", "/length"]
    with pytest.raises(ValueError, match="at least one fault"):
        Refusal()


def test_a_refusal_moved_below_a_place_stays_of_its_kind_and_keeps_all_else() -> None:
    moved = Impossible(fault(), fault("/length")).under("/thread")
    assert type(moved) is Impossible
    assert [found.pointer for found in moved.faults] == ["/thread/pitch", "/thread/length"]
    assert moved.faults[0] == fault("/thread/pitch")


def test_faults_taken_from_a_refusal_are_moved_and_come_after_those_noted() -> None:
    faults = Faults()
    faults.add(fault("/first"))
    faults.take(BadInput(fault(), fault("/length")), "/thread")
    faults.take(BadInput(fault("/last")))
    assert [found.pointer for found in faults.found] == [
        "/first", "/thread/pitch", "/thread/length", "/last",
    ]  # fmt: skip


def test_need_notes_a_fault_only_where_something_lacks() -> None:
    faults = Faults()
    faults.need(True, "/a", "b", "c", "d", 1)
    faults.raise_any(BadInput)
    faults.need(False, "/a", "b", "c", "d", 1)
    assert faults.found == [Fault("/a", "b", "c", "d", 1)]
    with pytest.raises(Impossible, match="c"):
        faults.raise_any(Impossible)


@pytest.mark.parametrize("value", [0.5, 1.0, 6.0, 1, 6])
def test_a_value_at_a_limit_is_within(value: float) -> None:
    assert within(value) == []


@pytest.mark.parametrize("value", [1, 6])
def test_whole_numbers_at_whole_limits_are_within(value: int) -> None:
    faults = Faults()
    faults.within("/starts", value, least=1, greatest=6, name="starts")
    assert faults.found == []


ABOVE, BELOW = "is above the greatest allowed, 6 mm", "is below the least allowed, 0.5 mm"


@pytest.mark.parametrize(
    ("value", "said", "shown"),
    [
        (math.nextafter(6.0, 7.0), f"pitch 6.000000000000001 mm {ABOVE}", math.nextafter(6.0, 7.0)),
        (
            math.nextafter(0.5, 0.0),
            f"pitch 0.4999999999999999 mm {BELOW}",
            math.nextafter(0.5, 0.0),
        ),
        (7, f"pitch 7 mm {ABOVE}", 7),
        (0, f"pitch 0 mm {BELOW}", 0),
        (math.inf, f"pitch inf mm {ABOVE}", None),
        (-math.inf, f"pitch -inf mm {BELOW}", None),
        (10**400, f"pitch inf mm {ABOVE}", None),
        (-(10**400), f"pitch -inf mm {BELOW}", None),
        (math.nan, f"pitch nan mm {BELOW}", None),
    ],
)
def test_a_value_beyond_a_limit_is_told_with_its_limits(
    value: float, said: str, shown: float | None
) -> None:
    (found,) = within(value)
    change = "give pitch from 0.5 to 6 mm"
    assert found == Fault("/pitch", "out_of_range", said, change, shown, 0.5, 6.0, "mm")


def test_limits_that_are_endless_let_no_endless_value_in() -> None:
    faults = Faults()
    faults.within("/a", math.inf, least=-math.inf, greatest=math.inf, name="a")
    assert len(faults.found) == 1


def test_a_bare_number_is_told_without_a_unit() -> None:
    (found,) = within(7.0, None)
    assert found.detail == "pitch 7 is above the greatest allowed, 6"
    assert (found.change, found.unit) == ("give pitch from 0.5 to 6", None)


def test_refusals_joined_keep_all_faults_in_order() -> None:
    refusals = [Impossible(fault("/a")), BadInput(fault("/b"), fault("/c"))]
    joined = join(refusals)
    assert type(joined) is BadInput
    assert [found.pointer for found in joined.faults] == ["/a", "/b", "/c"]
    assert type(join(refusals, Impossible)) is Impossible


@pytest.mark.parametrize(
    ("value", "said"),
    [(1e12, "1000000000000"), (999_999_999_999.5, "1000000000000"),
     (1_000_000_000_000.5, "1e+12"), (1.0001e12, "1.0001e+12"), (1e-9, "0.000000001"),
     (0.999e-9, "9.99e-10"), (-1e12, "-1000000000000"), (math.inf, "inf")],
)  # fmt: skip
def test_figures_are_written_out_as_far_as_anybody_uses_them(value: float, said: str) -> None:
    assert plain(value) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [(-0.0, "0"), (0, "0"), (10**400, "1e+400"), (-(10**400), "-1e+400"), (123456789, "123457000")],
)
def test_no_figure_is_too_large_to_be_told(value: float, said: str) -> None:
    assert plain(value) == said


@given(st.floats(-1e12, 1e12), st.integers(2, 9))
def test_the_limits_told_are_allowed_themselves(limit: float, digits: int) -> None:
    """Told no farther from the limit than one count of the last digit, and never beyond it."""
    least, greatest = float(plain_least(limit, digits)), float(plain_greatest(limit, digits))
    assert at_least(least, limit)
    assert at_most(greatest, limit)
    count = 10.0 ** (math.floor(math.log10(abs(limit))) + 1 - digits) if limit else 0.0
    assert least - greatest <= count * (1 + 1e-6)


@given(st.floats(1e-6, 1e6), st.floats(1e-15, 1e-3))
def test_what_is_told_is_taken_when_given_back(limit: float, beyond: float) -> None:
    low, high = plain_least(limit), plain_greatest(limit)
    for value in (limit * (1 - beyond), limit * (1 + beyond)):
        faults = Faults()
        faults.within("/a", value, least=limit, greatest=limit, name="a")
        for fault in faults.found:
            assert fault.detail in {
                f"a {plain_beyond(value, high)} is above the greatest allowed, {high}",
                f"a {plain_beyond(value, low)} is below the least allowed, {low}",
            }
            back = Faults()
            assert fault.least is not None
            assert fault.greatest is not None
            told = (fault.least, fault.greatest)
            for figure in told:
                back.within("/a", figure, least=limit, greatest=limit, name="a")
            back.within("/a", float(low), least=limit, greatest=2e6, name="a")
            back.within("/a", float(high), least=0.0, greatest=limit, name="a")
            assert back.found == []


def test_the_last_bits_of_a_limit_are_not_told() -> None:
    faults = Faults()
    faults.within("/a", 0.4, least=0.1 + 0.2, greatest=0.1 + 0.2, name="a")
    faults.within("/a", 0.3, least=0.1 + 0.2, greatest=0.1 + 0.2, name="a")
    faults.within("/a", 0.1 + 0.2, least=0.1 + 0.2, greatest=0.1 + 0.2, name="a")
    (fault,) = faults.found
    assert (fault.least, fault.greatest, fault.change) == (0.3, 0.3, "give a from 0.3 to 0.3")


def test_a_limit_that_is_endless_or_nothing_is_told_as_it_is() -> None:
    assert [plain_least(-math.inf), plain_greatest(math.inf)] == ["-inf", "inf"]
    assert [plain_least(0.0), plain_greatest(-0.0)] == ["0", "0"]
    assert neat(1 / 3) == 1 / 3
    assert plain_beyond(6.0, "6") == "6"


def test_a_value_beyond_a_limit_has_six_digits_where_they_tell_it_apart() -> None:
    assert plain_beyond(1.23456789, "1") == "1.23457"
    assert plain_beyond(1.00000012, "1") == "1.0000001"
