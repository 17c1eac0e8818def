"""The project's own source as syntax trees, for tests of its architecture."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SERVICE = ROOT / "service" / "flankwise_service"
CORE = SERVICE / "core"
WEB = SERVICE / "web"
SDK = ROOT / "sdk" / "flankwise"

Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Source:
    """One file of Python."""

    path: Path

    @cached_property
    def text(self) -> str:
        return self.path.read_text("utf-8")

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text, str(self.path))

    @property
    def name(self) -> str:
        return str(self.path.relative_to(ROOT))

    @property
    def module(self) -> str:
        """The dotted name it is imported by."""
        base = ROOT / ("sdk" if self.path.is_relative_to(SDK) else "service")
        parts = self.path.relative_to(base).with_suffix("").parts
        return ".".join(part for part in parts if part != "__init__")

    def imports(self) -> Iterator[str]:
        """Yield the dotted name of every module that is imported, wherever in the file."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import):
                yield from (alias.name for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                base = node.module or ""
                yield base
                yield from (f"{base}.{alias.name}" for alias in node.names)

    def functions(self) -> Iterator[tuple[str, Function]]:
        """Yield every public function and method of a public class, by its name in the file."""
        yield from _public(self.tree, "")


def _public(node: ast.Module | ast.ClassDef, prefix: str) -> Iterator[tuple[str, Function]]:
    for child in node.body:
        if isinstance(child, ast.ClassDef) and not child.name.startswith("_"):
            yield from _public(child, f"{prefix}{child.name}.")
        elif isinstance(child, Function) and not child.name.startswith("_"):
            yield prefix + child.name, child


@cache
def sources(folder: Path) -> tuple[Source, ...]:
    """Return every Python file below `folder`."""
    return tuple(Source(path) for path in sorted(folder.rglob("*.py")))
