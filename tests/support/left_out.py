"""What may be left out of a call: its documented value stands in for it, and another differs."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

Case = tuple[Callable[..., Any], dict[str, Any], str, Any, Any]
"""A function, what it is given, the name left out, its documented value, and another one."""


def case_id(case: Case) -> str:
    """Return how a case is named."""
    return f"{case[0].__name__}-{case[2]}"


def assert_documented(case: Case) -> None:
    """Assert that leaving the value out is giving the documented one, which isn't any other."""
    call, given, name, documented, other = case
    assert call(**given) == call(**given, **{name: documented})
    assert call(**given) != call(**given, **{name: other})
