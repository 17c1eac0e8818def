"""Routes, contract and SDK are the same set of operations, seen from each side."""

from __future__ import annotations

import inspect
from typing import Any

import pytest

from flankwise import Client
from flankwise import __version__ as sdk_version
from flankwise.result import Result
from flankwise_service import __version__ as service_version
from support.contract import application, fresh, operations

IDS = sorted(operations())


def routes() -> set[tuple[str, str]]:
    return {
        (rule.rule, method)
        for rule in application().url_map.iter_rules()
        # What a person sees is no part of the contract.
        if not rule.endpoint.startswith(("page.", "docs."))
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
    }


def public_methods() -> dict[str, Any]:
    return {
        name: member
        for name, member in inspect.getmembers(Client, inspect.isfunction)
        if not name.startswith("_") and not hasattr(member, "is_composed")
    }


def test_every_route_is_in_the_contract_and_the_other_way_round() -> None:
    told = {(path, method) for path, method, _ in operations().values()}
    assert routes() == told


def test_pages_stay_out_of_the_versioned_paths() -> None:
    pages = [
        rule.rule
        for rule in application().url_map.iter_rules()
        if rule.endpoint.startswith(("page.", "docs."))
    ]
    assert {"/plan", "/docs"} <= set(pages)
    assert not [rule for rule in pages if rule.startswith("/v1")]


def test_every_operation_has_a_method_of_its_name_and_the_other_way_round() -> None:
    assert set(public_methods()) == set(IDS)


@pytest.mark.parametrize("operation_id", IDS)
def test_the_method_takes_what_the_operation_asks(operation_id: str) -> None:
    declared = application().extensions["flankwise"].operations[operation_id]
    asked = {name: field.required for name, field in declared.asks().fields.items()}
    if declared.takes != "application/json":  # a stream: the method takes what its lines hold
        asked = {"items": True}
    taken = {
        name: parameter.default is inspect.Parameter.empty
        for name, parameter in inspect.signature(public_methods()[operation_id]).parameters.items()
        if name != "self" and name not in Client.EXTRAS
    }
    assert taken == asked


@pytest.mark.parametrize("operation_id", IDS)
def test_the_method_is_documented_and_typed(operation_id: str) -> None:
    method = public_methods()[operation_id]
    assert ">>> " in method.__doc__  # run as doctests, against the recorded replies
    signature = inspect.signature(method)
    untyped = [
        name
        for name, parameter in signature.parameters.items()
        if name != "self" and parameter.annotation is inspect.Parameter.empty
    ]
    assert untyped == []
    assert signature.return_annotation is not inspect.Signature.empty


def test_the_schemas_in_the_contract_are_those_that_operations_use() -> None:
    from contract.writing.results import _collect

    used: dict[str, Any] = {}
    for declared in application().extensions["flankwise"].operations.values():
        if declared.replies is not None:
            _collect(declared.replies, used)
        if declared.method != "GET":
            _collect(declared.asks, used)
    assert set(fresh()["components"]["schemas"]) == set(used) | {"Problem", "Fault"}


def test_every_result_of_the_sdk_is_a_reply_of_the_contract() -> None:
    from flankwise import results

    made = {name: getattr(results, name) for name in results.__all__}
    assert all(issubclass(kind, Result) for kind in made.values())
    for name, kind in made.items():
        schema = fresh()["components"]["schemas"][name]
        fields = {name.rstrip("_") for name in kind.__dataclass_fields__} - {"raw"}
        assert fields == {key.rstrip("_") for key in schema["properties"]}


def test_one_version_everywhere() -> None:
    assert service_version == sdk_version == fresh()["info"]["version"]
