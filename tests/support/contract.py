"""The contract as the tests use it: made afresh, not read from the committed file."""

from __future__ import annotations

import copy
from functools import cache
from pathlib import Path
from typing import Any

from flask import Flask
from jsonschema import Draft202012Validator

from contract.writing import examples, openapi
from contract.writing.files import quiet_app

ROOT = Path(__file__).resolve().parents[2]


@cache
def application() -> Flask:
    """Return the application the contract is made of."""
    return quiet_app()


@cache
def fresh() -> dict[str, Any]:
    """Return the contract as routes and schemas say it now, with the examples as stored."""
    return openapi.document(application(), examples.stored())


@cache
def closed() -> dict[str, Any]:
    """Return the contract with every object closed: names that aren't written are refused."""
    contract = copy.deepcopy(fresh())
    for schema in contract["components"]["schemas"].values():
        schema.setdefault("additionalProperties", False)
    return contract


def operations() -> dict[str, tuple[str, str, dict[str, Any]]]:
    """Return path, method and description of every operation, by id."""
    return {
        described["operationId"]: (path, method.upper(), described)
        for path, methods in fresh()["paths"].items()
        for method, described in methods.items()
    }


def complaints(value: Any, schema: dict[str, Any], *, strict: bool = True) -> list[str]:
    """Return what `schema` (it may refer to components) has against `value`."""
    whole = {**schema, "components": (closed() if strict else fresh())["components"]}
    return [
        f"{error.json_path}: {error.message[:300]}"
        for error in Draft202012Validator(whole).iter_errors(value)
    ]


def reply_schema(operation_id: str, status: int, media_type: str) -> dict[str, Any] | None:
    """Return the schema the contract has for a reply; None where it has none."""
    responses = operations()[operation_id][2]["responses"]
    response = responses.get(str(status))
    if response is None:
        return None
    if "$ref" in response:
        response = fresh()["components"]["responses"][response["$ref"].rpartition("/")[2]]
    content = response.get("content", {}).get(media_type)
    return None if content is None else content["schema"]
