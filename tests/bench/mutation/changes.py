"""Which small changes a file's text offers: those of the library cosmic-ray, found and made by it.

Left out are places that aren't executed or computed with (annotations, decorators, citations,
imports, the marks of a signature), and kinds of change that would only flatter the count or can
make no difference: bits of a float (a TypeError in any test), `is` for `==` and back, the order
of words (`side >= "internal"`, where the only other side is "external").
"""

from __future__ import annotations

import random
import re
import warnings
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import chain, zip_longest
from typing import Any

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.operator import Operator
from cosmic_ray.plugins import get_operator, operator_names

LEFT_OUT = re.compile(
    r"RemoveDecorator|Invert$|Binary\w+_(Add|Sub|Mul|Div|FloorDiv|Mod|Pow)_(RShift|LShift|Bit\w+)$"
    r"|Comparison\w+_(Eq|NotEq|Lt|LtE|Gt|GtE)_(Is|IsNot)$"
    r"|Comparison\w+_(Is|IsNot)_(Eq|NotEq|Lt|LtE|Gt|GtE)$"
)
CITES = {"Source"}
"""Calls that only hold words: what stands in a citation isn't computed with."""

ORDERS = re.compile(r"Comparison\w+_(Eq|NotEq)_(Lt|LtE|Gt|GtE)$")
NOT_CODE = {"decorator", "tfpdef", "import_from", "import_name"}
MARKS = {"parameters", "lambdef"}
"""Where an operator (`*`, `/`) only tells how arguments are given."""

Place = tuple[tuple[int, int], tuple[int, int]]


@dataclass(frozen=True)
class Change:
    """One small change of one file."""

    line: int
    kind: str
    said: str
    """The changed line, before -> after."""
    text: str
    """The whole file with the change in it."""


@dataclass(frozen=True)
class Site:
    """Where in a text which of the library's changes can be made."""

    place: Place
    kind: str
    occurrence: int


def sites(source: str) -> list[Site]:
    """Return every change that the text offers, by kind and place."""
    nodes = list(ast_nodes(get_ast(source)))
    used = {id(node) for node in nodes if _is_code(node)}
    found = []
    for kind, operator in _operators():
        occurrence = 0
        for node in nodes:
            for place in operator.mutation_positions(node):
                if id(node) in used and not (ORDERS.search(kind) and _of_words(node, place)):
                    found.append(Site(place, kind, occurrence))
                occurrence += 1
    return found


def drawn(offered: dict[str, list[Site]], seed: int) -> Iterator[tuple[str, Site]]:
    """Yield the sites of all files in random order: every place once before any place again.

    A `+` has six changes, a `not` one: drawn by change, the sample would be mostly of `+`.
    """
    chance = random.Random(seed)
    by_place: dict[tuple[str, Place], list[Site]] = defaultdict(list)
    for name, of_file in sorted(offered.items()):
        for site in of_file:
            by_place[name, site.place].append(site)
    places = list(by_place)
    chance.shuffle(places)
    for here in by_place.values():
        chance.shuffle(here)
    rounds = zip_longest(*([(name, s) for s in by_place[name, at]] for name, at in places))
    yield from (one for one in chain.from_iterable(rounds) if one is not None)


def change(source: str, site: Site) -> Change | None:
    """Return the change made, None where the outcome isn't Python."""
    text = mutate_code(source, get_operator(site.kind)(), site.occurrence)
    if text is None or not _is_python(text):
        return None
    before, after = _differing(source, text)
    kind = site.kind.rpartition("/")[2]
    return Change(site.place[0][0], kind, f"{before} -> {after}", text)


@cache
def _operators() -> tuple[tuple[str, Operator], ...]:
    return tuple(
        (name, get_operator(name)())
        for name in operator_names()
        if not get_operator(name).arguments() and not LEFT_OUT.search(name)
    )


def _is_code(node: Any) -> bool:
    """Say whether a node of the library's tree is executed for what it gives."""
    if node.type == "operator" and node.parent.type in MARKS:
        return False
    child, parent = node, node
    while parent is not None:
        if parent.type in NOT_CODE or _is_annotation(parent, child) or _cites(parent):
            return False
        child, parent = parent, parent.parent
    return True


def _of_words(node: Any, place: Place) -> bool:
    """Say whether the comparison at a place is with a text."""
    signs = zip(node.children[1::2], node.children[2::2], strict=True)
    return any(sign.start_pos == place[0] and right.type == "string" for sign, right in signs)


def _is_annotation(parent: Any, child: Any) -> bool:
    if parent.type == "annassign":
        return child is parent.children[1]
    return parent.type == "funcdef" and child is parent.annotation


def _cites(node: Any) -> bool:
    if node.type not in ("atom_expr", "power"):
        return False
    return getattr(node.children[0], "value", "") in CITES


def _is_python(text: str) -> bool:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", SyntaxWarning)
            compile(text, "changed", "exec", dont_inherit=True)
    except SyntaxError:
        return False
    return True


def _differing(before: str, after: str) -> tuple[str, str]:
    """Return the lines in which two texts differ, each side in one."""
    old, new = before.splitlines(), after.splitlines()
    while old and new and old[0] == new[0]:
        del old[0], new[0]
    while old and new and old[-1] == new[-1]:
        del old[-1], new[-1]
    return " ".join(" ".join(old).split()), " ".join(" ".join(new).split())
