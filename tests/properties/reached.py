"""Tells which public functions of core no property test (hypothesis) runs.

    PYTHONPATH=service:sdk:tests python tests/properties/reached.py

It runs every property test once, some minutes. What a Protocol only declares can't be run.
"""

from __future__ import annotations

import ast
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import coverage
import pytest

TESTS = Path(__file__).resolve().parents[1]
CORE = TESTS.parent / "service" / "flankwise_service" / "core"


class OnlyProperties:
    """Leaves all other tests out."""

    def pytest_collection_modifyitems(
        self, config: pytest.Config, items: list[pytest.Item]
    ) -> None:
        from hypothesis import is_hypothesis_test  # not before pytest looks for its asserts

        kept = [one for one in items if is_hypothesis_test(getattr(one, "obj", None))]
        config.hook.pytest_deselected(items=[one for one in items if one not in set(kept)])
        items[:] = kept


def main() -> int:
    """Return 0 where every public function is reached."""
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder) / "coverage"
        settings = Path(folder) / "coverage.ini"
        settings.write_text(f"[run]\nbranch = false\nsource = {CORE}\ndata_file = {data}\n")
        status = pytest.main(
            ["-q", "-m", "not slow", "-p", "no:cacheprovider", "--cov", "--cov-report=",
             f"--cov-config={settings}", str(TESTS)],
            plugins=[OnlyProperties()],
        )  # fmt: skip
        ran = coverage.CoverageData(str(data))
        ran.read()
        functions = list(_functions())
        missed = [
            f"{file.relative_to(CORE)}: {name}"
            for file, name, lines in functions
            if not lines & set(ran.lines(str(file)) or ())
        ]
    print("\n".join(missed))
    print(f"{len(functions) - len(missed)} of {len(functions)} public functions reached")
    return 1 if missed or status else 0


def _functions() -> Iterator[tuple[Path, str, set[int]]]:
    """Yield every public function with the first lines of its statements."""
    for file in sorted(CORE.rglob("*.py")):
        tree = ast.parse(file.read_text("utf-8"))
        declared = {
            id(inner) for node in ast.walk(tree) if isinstance(node, ast.ClassDef)
            and any(ast.unparse(base) == "Protocol" for base in node.bases)
            for inner in ast.walk(node)
        }  # fmt: skip
        for node in ast.walk(tree):
            if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
                continue
            if id(node) not in declared:
                yield file, node.name, {line.lineno for line in node.body}


if __name__ == "__main__":
    sys.exit(main())
