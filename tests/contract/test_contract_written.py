"""The committed contract, examples and SDK types are what routes and schemas say."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openapi_spec_validator import OpenAPIV31SpecValidator

from contract.writing.files import ROOT, files
from support.contract import fresh, operations


@pytest.fixture(scope="module")
def should_be() -> dict[Path, str]:
    return files()


def test_every_generated_file_is_committed_as_it_would_be_written(
    should_be: dict[Path, str],
) -> None:
    stale = [
        str(path.relative_to(ROOT))
        for path, text in should_be.items()
        if not path.exists() or path.read_text("utf-8") != text
    ]
    assert stale == [], "run: python tests/contract/write.py"


def test_the_contract_is_valid_openapi() -> None:
    errors = [error.message for error in OpenAPIV31SpecValidator(fresh()).iter_errors()]
    assert errors == []


def test_everything_in_the_contract_is_described() -> None:
    bare = []
    for operation_id, (_, _, described) in operations().items():
        bare += [
            f"{operation_id}: {part}" for part in ("summary", "description") if not described[part]
        ]
        bare += [
            f"{operation_id}?{parameter['name']}"
            for parameter in described.get("parameters", ())
            if not parameter["description"]
        ]
    for name, schema in fresh()["components"]["schemas"].items():
        bare += [
            f"{name}.{key}"
            for key, inner in schema["properties"].items()
            if "$ref" not in inner and not inner.get("description")
        ]
    assert bare == []


def test_tags_are_described_and_used() -> None:
    contract = fresh()
    told = {tag["name"] for tag in contract["tags"] if tag["description"]}
    used = {tag for _, _, described in operations().values() for tag in described["tags"]}
    assert told == used


def _told(value: Any, name: str = "") -> Iterator[str]:
    """Yield what a person reads: every text of the contract and its examples, not a program's."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _told(inner, key)
    elif isinstance(value, list):
        for inner in value:
            yield from _told(inner, name)
    elif isinstance(value, str) and name in {"description", "detail", "change", "note", "notes"}:
        yield value


def test_no_figure_in_words_has_a_power_of_ten() -> None:
    """Nobody at a machine reads 1e+06; how such figures are written is `errors.plain`."""
    examples = [
        json.loads(file.read_text("utf-8"))
        for file in sorted((ROOT / "openapi" / "examples").glob("*.json"))
    ]
    texts = list(_told([fresh(), *examples]))
    assert len(texts) > 1000
    assert [text for text in texts if re.search(r"\d[eE][+-]?\d", text)] == []
