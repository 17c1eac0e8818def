"""Whatever least or greatest a refusal tells, as a figure or in words, is taken when given back.

Every number of every operation's examples is asked for far beyond both its ends, in both units.
The long form, in test_contract_limits_told_long.py, leaves none out.
"""

from __future__ import annotations

import pytest

from support.told_limits import Case, asked, cases, refused_again, told

QUICK = 12
"""Numbers asked for of an operation: a few hundred in all."""


def some(operation_id: str) -> list[Case]:
    """Return a few numbers of an operation, spread over all of its request."""
    every = cases(operation_id)
    return every[:: max(1, -(-len(every) // QUICK))]


@pytest.mark.parametrize("operation_id", asked())
def test_a_limit_told_is_taken_when_given_back(operation_id: str) -> None:
    found = [said for case in some(operation_id) for said in refused_again(case)]
    assert found == []


def test_every_operation_is_asked() -> None:
    assert len(asked()) > 25
    assert all(some(operation_id) for operation_id in asked())
    assert sum(len(some(operation_id)) for operation_id in asked()) > 150


def the_case(operation_id: str, pointer: str, unit: str) -> Case:
    (case,) = (
        one
        for one in cases(operation_id)
        if one.pointer == pointer and one.body.get("unit") == unit
    )
    return case


@pytest.mark.parametrize(
    ("operation_id", "pointer"),
    [
        ("cutting_feed", "/cutter_diameter"),
        ("drawing_setup", "/safe_height"),
        ("form_correction", "/cutter/tooth/depth"),
        ("gauging_correction", "/pitch_diameter"),
        ("gauging_correction", "/aim"),
        ("gauging_inspection", "/reading"),
        ("gauging_inspection", "/wire"),
        ("gauging_reading", "/pitch_diameter"),
        ("gauging_reading", "/wire"),
        ("path_helix", "/lead_arc_radius"),
        ("path_helix", "/passes/0/radius"),
        ("path_helix", "/relief_width"),
        ("plan", "/cutting/surface_speed"),
        ("program", "/operations/0/segments/0/begin/z"),
        ("stock_blank", "/depth/blank_depth"),
    ],
)
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_limits_once_told_wrong(operation_id: str, pointer: str, unit: str) -> None:
    assert refused_again(the_case(operation_id, pointer, unit)) == []


@pytest.mark.parametrize(
    ("change", "figures"),
    [
        ("give x from 0.5 to 6 mm", [0.5, 6.0]),
        ("give a radius of at least 0.25, or a deeper tooth", [0.25]),
        ("give 7.25 or more", [7.25]),
        ("order the passes: give 7.25 mm or less.", [7.25]),
        ("take a cutter smaller than 12", []),
        ("take deeper or wider cuts: at most 1000 rounds", []),
    ],
)
def test_limits_in_words_are_read(change: str, figures: list[float]) -> None:
    assert told({"least": None, "greatest": None, "change": change}) == figures


def test_what_was_refused_again_would_be_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """A limit told a little beyond the one that holds is noticed, and so is a power of ten."""
    case = the_case("stock_hexagon", "/across_flats", "in")
    assert refused_again(case) == []
    plainly = Case.refusal

    def told_wrong(self: Case, value: float) -> object:
        layer, faults = plainly(self, value)
        return layer, [
            {**one, "greatest": one["greatest"] * 1.001, "change": "give less than 1e+03"}
            for one in faults
            if one["code"] == "out_of_range"
        ]

    monkeypatch.setattr(Case, "refusal", told_wrong)
    found = refused_again(case)
    assert any("is above the greatest allowed" in said for said in found)
    assert any(said.startswith("a power of ten: ") for said in found)
