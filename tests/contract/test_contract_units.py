"""Every request that holds a length states its unit, and every reply says its own."""

from __future__ import annotations

from typing import Any

import pytest

from contract.writing import examples
from flankwise_service.web.fields import Length, Unit
from flankwise_service.web.operation import Operation
from support.contract import application
from support.lengths import fields_below

OPERATIONS: dict[str, Operation] = application().extensions["flankwise"].operations
WITH_LENGTHS = sorted(
    name
    for name, declared in OPERATIONS.items()
    if any(isinstance(field, Length) for field in fields_below(declared.schema))
)
WITH_UNIT = sorted(
    name for name, declared in OPERATIONS.items() if "unit" in declared.schema.fields
)
PLACED = {"program": "replay", "plan_sheet": "plan"}
"""Replies whose unit stands in the part that holds the lengths."""
PLAYED = [
    (name, each)
    for name in WITH_UNIT
    for each in examples.stored().get(name, ())
    if each["status"] == 200
]


def test_lengths_are_found_at_all() -> None:
    assert len(WITH_LENGTHS) > 30


@pytest.mark.parametrize("name", WITH_LENGTHS)
def test_a_request_with_a_length_must_state_its_unit(name: str) -> None:
    unit = OPERATIONS[name].schema.fields["unit"]
    assert isinstance(unit, Unit)
    assert unit.required


@pytest.mark.parametrize(("name", "example"), PLAYED, ids=[name for name, _ in PLAYED])
def test_a_reply_says_the_unit_asked_for(name: str, example: dict[str, Any]) -> None:
    wanted, reply = example["request"]["unit"], example["reply"]
    if isinstance(reply, dict):
        part = reply[PLACED[name]] if name in PLACED else reply
        assert part["unit"] == wanted
    else:
        words: tuple[str, ...] = {"in": ("inch", "G20", " in"), "mm": ("millimetre", "G21", " mm")}[
            wanted
        ]
        words += (f",{wanted}\r\n", f'"unit":"{wanted}"')
        assert any(word in reply for word in words)


@pytest.mark.parametrize("name", WITH_UNIT)
def test_the_contract_promises_it(name: str) -> None:
    replies = OPERATIONS[name].replies
    if replies is None:
        return
    held: dict[str, Any] = replies().fields
    if name in PLACED:
        held = held[PLACED[name]].schema.fields
    assert held["unit"].required
