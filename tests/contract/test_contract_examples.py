"""Every recorded example is still what the service answers, and is what the contract promises."""

from __future__ import annotations

from typing import Any

import pytest

from contract.writing import examples
from support.contract import application, complaints, operations, reply_schema

STORED = examples.stored()
EACH = [(name, place) for name, stored in STORED.items() for place in range(len(stored))]


def ids(pair: tuple[str, int]) -> str:
    return f"{pair[0]}: {STORED[pair[0]][pair[1]]['name']}"


@pytest.mark.parametrize(("operation_id", "place"), EACH, ids=[ids(pair) for pair in EACH])
def test_an_example_replayed_gives_what_is_recorded(operation_id: str, place: int) -> None:
    example = STORED[operation_id][place]
    declared = application().extensions["flankwise"].operations[operation_id]
    assert examples.play(application().test_client(), declared, example) == example


@pytest.mark.parametrize(("operation_id", "place"), EACH, ids=[ids(pair) for pair in EACH])
def test_an_example_is_as_the_contract_promises(operation_id: str, place: int) -> None:
    example = STORED[operation_id][place]
    assert _against_contract(operation_id, example) == []


def _against_contract(operation_id: str, example: dict[str, Any]) -> list[str]:
    declared = application().extensions["flankwise"].operations[operation_id]
    status = example["status"]
    if status == 200:
        media_type = example.get("accept", declared.media_types[0])
    else:
        media_type = "application/problem+json"
    schema = reply_schema(operation_id, status, media_type)
    assert schema is not None, f"the contract has no {status} with {media_type}"
    found = complaints(example["reply"], schema)
    if status == 200 and declared.method == "POST":
        body = operations()[operation_id][2]["requestBody"]["content"][declared.takes]["schema"]
        found += complaints(example["request"], body)
    return found


# The contract can't hold itself as an example, and counts differ every time.
@pytest.mark.parametrize("operation_id", sorted(set(operations()) - {"contract", "metrics"}))
def test_every_operation_has_an_example_that_works(operation_id: str) -> None:
    assert any(each["status"] == 200 for each in STORED.get(operation_id, ()))


# A stream is never refused for what its lines say: each line has its own problem.
COMPUTATIONS = sorted(
    name
    for name, (_, method, _) in operations().items()
    if method == "POST" and name != "batch_stream"
)


@pytest.mark.parametrize("operation_id", COMPUTATIONS)
def test_every_computation_has_an_example_of_a_refusal(operation_id: str) -> None:
    refused = [each for each in STORED.get(operation_id, ()) if each["status"] == 422]
    assert refused
    for each in refused:
        assert each["reply"]["faults"]
        for fault in each["reply"]["faults"]:
            assert fault["detail"]
            assert fault["change"]
