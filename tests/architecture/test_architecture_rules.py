"""Rules of the house that a reader would otherwise have to trust."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest
import tomllib

from support.source import CORE, ROOT, SDK, SERVICE, Source, sources

LONGEST = 330
"""About 300, as the house says. Tables and schemas list things, and may be as long as the list."""

FACTS_OF_THE_TRADE = {"threads", "cutting", "stock", "gauging", "units.py"}
"""Folders whose figures come from outside; the others are geometry, which explains itself."""

INCH = re.compile(r"25\.40*|0\.0393700787\d*")
SOURCE_TOLD = re.compile(
    r"\b(?:[Ss]ource|[Ss]ources|ASME|ISO|BS|DIN|ASTM|NIST|RFC|IEC|FED-STD|SAE|handbook|geometry|"
    r"[Gg]eometric\w*|derived|[Dd]erivation|practice|memory|definition|by definition|our own)\b"
)


PLACES_OF_ANY_MACHINE = {
    Path(name) for name in ("/", "/home", "/opt", "/srv", "/tmp", "/usr", "/usr/local", "/var/tmp")
}
"""What stands on every machine tells nothing of this one."""

MAY_CATCH_ALL = {"service/flankwise_service/web/batch.py"}
"""Where one request of many fails, the others must not: it is logged, and answered 500."""


def ids(source: Source) -> str:
    return source.name


@pytest.mark.parametrize("source", sources(SERVICE) + sources(SDK), ids=ids)
def test_only_units_knows_how_long_an_inch_is(source: Source) -> None:
    if source.path == CORE / "units.py":
        return
    found = [
        f"line {node.lineno}: {node.value!r}"
        for node in ast.walk(source.tree)
        if isinstance(node, ast.Constant)
        and type(node.value) in (float, str)
        and INCH.fullmatch(str(node.value))
    ]
    assert found == []


def is_table(source: Source) -> bool:
    return "tables" in source.path.parts or "schemas" in source.path.parts


def is_generated(source: Source) -> bool:
    return "Made by tests/contract/write.py" in source.text


@pytest.mark.parametrize("source", sources(SERVICE) + sources(SDK), ids=ids)
def test_files_stay_short_enough_to_be_read(source: Source) -> None:
    if is_table(source) or is_generated(source):
        return
    assert len(source.text.splitlines()) <= LONGEST


@pytest.mark.parametrize("source", sources(CORE), ids=ids)
def test_core_touches_nothing_outside(source: Source) -> None:
    wrong = []
    for node in ast.walk(source.tree):
        if isinstance(node, (ast.Global, ast.Nonlocal)):
            wrong.append(f"line {node.lineno}: {type(node).__name__.lower()}")
        if (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id in ("open", "print", "input", "exec", "eval", "__import__")
        ):
            wrong.append(f"line {node.lineno}: {node.func.id}()")
    assert wrong == []


@pytest.mark.parametrize("source", sources(CORE), ids=ids)
def test_a_unit_is_never_assumed(source: Source) -> None:
    wrong = []
    for name, function in source.functions():
        arguments = function.args
        positional = arguments.posonlyargs + arguments.args
        given = (
            positional[len(positional) - len(arguments.defaults) :] if arguments.defaults else []
        )
        given += [
            argument
            for argument, default in zip(arguments.kwonlyargs, arguments.kw_defaults, strict=True)
            if default is not None
        ]
        for argument, default in zip(
            given, [*arguments.defaults, *(d for d in arguments.kw_defaults if d)], strict=True
        ):
            text = isinstance(default, ast.Constant) and default.value in ("in", "mm")
            if argument.arg == "unit" and text:
                wrong.append(name)
    assert wrong == []


@pytest.mark.parametrize("source", sources(CORE), ids=ids)
def test_public_angles_are_in_degrees(source: Source) -> None:
    wrong = [
        f"{name}({argument.arg})"
        for name, function in source.functions()
        for argument in function.args.posonlyargs + function.args.args + function.args.kwonlyargs
        if "." not in name and argument.arg.endswith("_rad")
    ]
    assert wrong == []


@pytest.mark.parametrize("source", sources(SERVICE) + sources(SDK), ids=ids)
def test_what_is_public_is_explained(source: Source) -> None:
    if not source.text.strip():
        return
    assert ast.get_docstring(source.tree), "the file says nothing about itself"
    bare = [name for name, function in source.functions() if not ast.get_docstring(function)]
    assert [name for name in bare if not name.rpartition(".")[2].startswith("__")] == []


@pytest.mark.parametrize("source", sources(CORE), ids=ids)
def test_core_shows_an_example_and_says_where_its_facts_come_from(source: Source) -> None:
    if not [name for name, _ in source.functions() if "." not in name]:
        return
    said = "\n".join(
        ast.get_docstring(node) or ""
        for node in ast.walk(source.tree)
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
    )
    assert ">>>" in said, "give one of its functions a doctest"
    if source.path.relative_to(CORE).parts[0] in FACTS_OF_THE_TRADE:
        assert SOURCE_TOLD.search(said), "say in a docstring where it comes from"


@pytest.mark.parametrize("source", sources(SERVICE) + sources(SDK), ids=ids)
def test_everything_public_is_typed_and_nothing_is_swallowed(source: Source) -> None:
    wrong = []
    for node in ast.walk(source.tree):
        if isinstance(node, ast.ExceptHandler):
            bare = node.type is None
            broad = isinstance(node.type, ast.Name) and node.type.id in (
                "Exception", "BaseException",
            )  # fmt: skip
            if bare or (broad and source.name not in MAY_CATCH_ALL):
                wrong.append(f"line {node.lineno}: catches everything")
    for name, function in source.functions():
        if function.returns is None:
            wrong.append(f"{name}: no return type")
    assert wrong == []


def test_no_test_expects_just_any_exception() -> None:
    wrong = []
    for source in sources(ROOT / "tests"):
        for node in ast.walk(source.tree):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Attribute)
                and node.func.attr == "raises"
                and node.args
                and isinstance(node.args[0], ast.Name)
                and node.args[0].id in ("Exception", "BaseException")
            ):
                wrong.append(f"{source.name}:{node.lineno}")
    assert wrong == []


IMPORT_NAMES = {
    "pyyaml": "yaml", "prometheus-client": "prometheus_client",
    "openapi-spec-validator": "openapi_spec_validator", "pytest-cov": "--cov",
    "pytest-xdist": "-n ", "pytest-timeout": "timeout =",
}  # fmt: skip
RUN_BY_COMMAND = {"ruff", "mypy", "pytest-cov", "pytest-xdist", "pytest-timeout", "gunicorn"}


def dependencies(extra: str | None) -> list[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    listed = project["optional-dependencies"][extra] if extra else project["dependencies"]
    return [re.split(r"[<>=!~\[; ]", name)[0].lower() for name in listed]


def imported(*folders: str) -> set[str]:
    return {
        name.partition(".")[0]
        for folder in folders
        for source in sources(ROOT / folder)
        for name in source.imports()
    }


@pytest.mark.parametrize(
    ("extra", "folders"),
    [(None, ("sdk",)), ("service", ("service", "deploy")), ("dev", ("tests", "deploy"))],
)
def test_no_dependency_is_listed_that_isnt_used(
    extra: str | None, folders: tuple[str, ...]
) -> None:
    used = imported(*folders)
    commands = "".join(
        path.read_text("utf-8", "replace")
        for path in [
            ROOT / "tests/run",
            ROOT / "pyproject.toml",
            *sorted((ROOT / "deploy").glob("*")),
        ]
        if path.is_file()
    )
    unused = []
    for name in dependencies(extra):
        if name.startswith("types-"):
            continue
        module = IMPORT_NAMES.get(name, name.replace("-", "_"))
        run = name in RUN_BY_COMMAND and (IMPORT_NAMES.get(name) or f"/{name}") in commands
        if module not in used and not run:
            unused.append(name)
    assert unused == []


def test_nothing_committed_knows_the_machine_it_was_made_on() -> None:
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=False
    ).stdout.decode()
    if not listed:
        pytest.skip("not a git clone")
    own = {ROOT, ROOT.parent, Path.home(), Path(sys.base_prefix)} - PLACES_OF_ANY_MACHINE
    telling = re.compile("|".join(rf"(?<![\w.-]){re.escape(str(path))}/" for path in own))
    wrong = []
    for name in listed.split("\0"):
        path = ROOT / name
        if not name or not path.is_file():
            continue
        text = path.read_bytes()
        if b"\0" not in text and telling.search(text.decode("utf-8", "replace")):
            wrong.append(name)
    assert wrong == []
