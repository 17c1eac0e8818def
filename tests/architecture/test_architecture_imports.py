"""Imports point one way: the folders of the house are its architecture."""

from __future__ import annotations

import sys

import pytest

from support.source import CORE, SDK, SERVICE, WEB, Source, sources

# A folder of core may import from itself and from those on lines above its own.
LEVELS = (
    {"units", "errors"},
    {"threads"},
    {"cutting", "stock"},
    {"path", "form", "gauging"},
    {"program", "drawing"},
    {"plan"},
)
LEVEL = {name: place for place, names in enumerate(LEVELS) for name in names}
CORE_PREFIX = "flankwise_service.core."

# What core may use beside itself: it computes, so no files, clock, network, process or chance.
CORE_USES = {
    "__future__", "bisect", "cmath", "collections", "dataclasses", "decimal", "difflib", "enum",
    "fractions", "functools", "heapq", "html", "importlib", "inspect", "itertools", "math",
    "numpy", "operator", "re", "string", "textwrap", "types", "typing", "unicodedata", "xml",
    "flankwise_service",
}  # fmt: skip
SDK_USES = {"requests", "urllib3", "flankwise"}
TESTING_USES = {"responses"}
"""Of the SDK's fake service, for tests of those who build on it: an extra of its own."""
WEB_ONLY = {"flask", "werkzeug", "marshmallow", "orjson", "prometheus_client"}


def ids(source: Source) -> str:
    return source.name


def roots(source: Source) -> set[str]:
    return {name.partition(".")[0] for name in source.imports() if name}


def place_in_core(module: str) -> str:
    return module.removeprefix(CORE_PREFIX).partition(".")[0]


@pytest.mark.parametrize("source", sources(CORE), ids=ids)
def test_core_imports_only_what_stands_below(source: Source) -> None:
    own = place_in_core(source.module)
    wrong = []
    for name in source.imports():
        if not name.startswith(CORE_PREFIX):
            continue
        other = place_in_core(name)
        if other != own and LEVEL[other] >= LEVEL[own]:
            wrong.append(name)
    assert wrong == []


@pytest.mark.parametrize("source", sources(CORE), ids=ids)
def test_core_uses_nothing_that_isnt_pure(source: Source) -> None:
    assert roots(source) - CORE_USES == set()
    assert [n for n in source.imports() if n.startswith("flankwise_service.web")] == []
    assert [n for n in source.imports() if n.startswith("flankwise_service.config")] == []


@pytest.mark.parametrize("source", sources(SERVICE), ids=ids)
def test_only_web_speaks_http(source: Source) -> None:
    if not source.path.is_relative_to(WEB):
        told = [name for name in source.imports() if name.partition(".")[0] in WEB_ONLY]
        allowed = {"flask", "flask.Flask"} if source.path == SERVICE / "__init__.py" else set()
        assert set(told) <= allowed
    assert "flankwise" not in roots(source)
    assert "requests" not in roots(source)


@pytest.mark.parametrize("source", sources(SDK), ids=ids)
def test_the_sdk_knows_only_requests_and_the_standard_library(source: Source) -> None:
    known = SDK_USES | (TESTING_USES if source.path.parent.name == "testing" else set())
    assert roots(source) - set(sys.stdlib_module_names) - known == set()


def test_every_folder_of_core_has_its_level() -> None:
    folders = {path.name for path in CORE.iterdir() if (path / "__init__.py").exists()}
    modules = {path.stem for path in CORE.glob("*.py")} - {"__init__"}
    assert folders | modules == set(LEVEL)


def test_one_word_for_a_subject_everywhere() -> None:
    """A module of web, its schemas and the calls of the SDK go by the same word."""
    from flankwise_service.web.app import SUBJECTS

    for subject in (*SUBJECTS, "health"):
        word = subject.rpartition(".")[2]
        assert (WEB / f"{word}.py").exists()
        assert (WEB / "schemas" / f"{word}.py").exists(), word
        assert (SDK / "calls" / f"{word}.py").exists(), word
