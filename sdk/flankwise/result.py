"""What every result shares: it is frozen, keeps the reply as it came, and prints well."""

from __future__ import annotations

import copy
import csv
import html
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class Result:
    """A reply of the service, or a part of one."""

    raw: Mapping[str, Any]
    """The JSON object as it came, with whatever a newer service adds."""

    def to_dict(self) -> dict[str, Any]:
        """Return a copy of the reply as plain dicts and lists, ready for json.dump."""
        return copy.deepcopy(dict(self.raw))

    def to_csv(self) -> str:
        """Return the result as CSV text (RFC 4180) of one row, nested names joined by dots."""
        return to_csv([self])

    # Compared here, not by what dataclass would make for each of 150 results: that takes longer to
    # import than all else. What a newer service adds to `raw` makes no difference.
    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return all(getattr(self, name) == getattr(other, name) for name in self._names())

    def __hash__(self) -> int:
        return hash(tuple(getattr(self, name) for name in self._names()))

    def _names(self) -> list[str]:
        return [item.name for item in fields(self) if item.name != "raw"]

    def __repr__(self) -> str:
        told = ", ".join(f"{name}={_short(getattr(self, name))}" for name in self._names())
        if len(told) > LONGEST_SHOWN:
            told = told[:LONGEST_SHOWN].rpartition(", ")[0] + ", …"
        return f"{type(self).__name__}({told})"

    def __str__(self) -> str:
        rows = list(_rows(self.raw))
        wide = max((len(name) for name, _ in rows), default=0)
        return "\n".join(f"{name:<{wide}}  {said}" for name, said in rows)

    def _repr_html_(self) -> str:
        cells = "".join(
            f"<tr><th style='text-align:left'>{html.escape(name)}</th>"
            f"<td>{html.escape(said)}</td></tr>"
            for name, said in _rows(self.raw)
        )
        return f"<table>{cells}</table>"


MOST_SHOWN = 6
LONGEST_SHOWN = 400


def _short(value: object) -> str:
    """Return a value in a few words: what is nested is only named."""
    if isinstance(value, Result):
        return f"<{type(value).__name__}>"
    if isinstance(value, tuple) and value and isinstance(value[0], Result):
        return f"<{len(value)} {type(value[0]).__name__}>"
    if isinstance(value, Mapping):
        return f"<{len(value)} by name>"
    said = repr(value)
    return said if len(said) <= 80 else f"{said[:79]}…"


def _rows(value: Any, name: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _rows(inner, f"{name} {key}".strip().replace("_", " "))
    elif isinstance(value, list) and any(isinstance(item, (Mapping, list)) for item in value):
        for place, inner in enumerate(value[:MOST_SHOWN], 1):
            yield from _rows(inner, f"{name} {place}")
        if len(value) > MOST_SHOWN:
            yield name, f"… and {len(value) - MOST_SHOWN} more"
    elif isinstance(value, list):
        yield name, ", ".join(_said(item) for item in value)
    else:
        yield name, _said(value)


def _said(value: Any) -> str:
    if value is None:
        return "-"
    if value is True or value is False:
        return "yes" if value else "no"
    text = f"{value:.10g}" if isinstance(value, float) else str(value)
    return text if len(text) <= 120 else text[:119] + "…"


def to_csv(results: Iterable[Result]) -> str:
    """Return results of one kind as CSV text (RFC 4180), nested names joined by dots.

    >>> print(to_csv([Result({"size": {"min": 1.5, "max": None}})]), end="")
    size.min,size.max
    1.5,
    """
    rows = [dict(_flat(result.raw)) for result in results]
    names: dict[str, None] = {}
    for row in rows:
        names.update(dict.fromkeys(row))
    text = io.StringIO()
    writer = csv.DictWriter(text, list(names), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def _flat(value: Mapping[str, Any], name: str = "") -> Iterator[tuple[str, Any]]:
    for key, inner in value.items():
        full = f"{name}.{key}" if name else key
        if isinstance(inner, Mapping):
            yield from _flat(inner, full)
        elif isinstance(inner, Sequence) and not isinstance(inner, str):
            yield full, "; ".join(_said(item) for item in inner)
        else:
            yield full, inner
