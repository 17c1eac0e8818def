"""Where a line of Python can be broken a little, and how."""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import islice

SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div, ast.Mod: ast.FloorDiv, ast.Pow: ast.Mult,
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.And: ast.Or, ast.Or: ast.And,
}  # fmt: skip
NOT_CODE = {"annotation", "returns", "decorator_list"}
CITES = {"Source"}
"""Calls that only hold words: what stands in a citation isn't computed with."""


@dataclass(frozen=True)
class Mutant:
    """One small change of one file."""

    line: int
    kind: str
    before: str
    after: str
    text: str
    """The whole file with the change in it."""


def count(source: str) -> int:
    """Return how many mutants a file's text has."""
    return sum(1 for _ in _all(ast.parse(source)))


def mutant(source: str, place: int) -> Mutant:
    """Return one of them, by its place from 0."""
    tree = ast.parse(source)
    node, kind, change = next(islice(_all(tree), place, None))
    return _made(tree, node, kind, change())


def _all(tree: ast.Module) -> Iterator[tuple[ast.AST, str, Callable[[], ast.AST]]]:
    for node in _code(tree):
        for kind, change in _changes(node):
            yield node, kind, change


def _code(node: ast.AST) -> Iterator[ast.AST]:
    """Yield the nodes that are executed for their value: no annotations, decorators, citations."""
    yield node
    for name, value in ast.iter_fields(node):
        if name in NOT_CODE:
            continue
        for child in value if isinstance(value, list) else [value]:
            if not isinstance(child, ast.AST) or _is_text(child):
                continue
            if isinstance(child, ast.Call) and _called(child) in CITES:
                continue
            yield from _code(child)


def _is_text(node: ast.AST) -> bool:
    docstring = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    return docstring or isinstance(node, ast.JoinedStr | ast.Import | ast.ImportFrom)


def _called(call: ast.Call) -> str:
    return call.func.id if isinstance(call.func, ast.Name) else ""


def _changes(node: ast.AST) -> Iterator[tuple[str, Callable[[], ast.AST]]]:
    """Yield each change of one node, as what makes the changed copy."""
    if isinstance(node, ast.BinOp) and type(node.op) in SWAPS and not _joins_text(node):
        yield "operator", partial(_with, node, op=SWAPS[type(node.op)]())
    elif isinstance(node, ast.BoolOp):
        yield "and/or", partial(_with, node, op=SWAPS[type(node.op)]())
    elif isinstance(node, ast.Compare):
        for place, op in enumerate(node.ops):
            if type(op) in SWAPS:
                ops = [*node.ops[:place], SWAPS[type(op)](), *node.ops[place + 1 :]]
                yield "comparison", partial(_with, node, ops=ops)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        yield "sign", partial(copy.deepcopy, node.operand)
    elif isinstance(node, ast.Constant) and type(node.value) in (int, float, bool):
        yield "constant", partial(ast.Constant, _other(node.value))
    elif isinstance(node, ast.If | ast.IfExp | ast.While):
        test = ast.UnaryOp(ast.Not(), node.test)
        yield "condition", partial(_with, node, test=test)
    elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
        yield "left out", ast.Pass


def _joins_text(node: ast.BinOp) -> bool:
    sides = (node.left, node.right)
    return any(
        isinstance(side, ast.JoinedStr)
        or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in sides
    )


def _other(value: float) -> float:
    if type(value) is bool:
        return not value
    return value + 1 if type(value) is int else value * 1.25 + 0.125


def _with(node: ast.AST, **fields: object) -> ast.AST:
    changed = copy.copy(node)
    for name, value in fields.items():
        setattr(changed, name, value)
    return changed


def _made(tree: ast.Module, node: ast.AST, kind: str, changed: ast.AST) -> Mutant:
    """Return the mutant, its text written from the tree with one node in place of another."""

    class Put(ast.NodeTransformer):
        def visit(self, visited: ast.AST) -> ast.AST:
            return changed if visited is node else self.generic_visit(visited)

    line, before = getattr(node, "lineno", 0), _head(node)
    ast.copy_location(changed, node)
    text = ast.unparse(ast.fix_missing_locations(Put().visit(tree)))
    return Mutant(line, kind, before, _head(changed), text)


def _head(node: ast.AST) -> str:
    return ast.unparse(ast.fix_missing_locations(node)).splitlines()[0][:80]
