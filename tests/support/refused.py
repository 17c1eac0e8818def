"""Reads what a refusal says."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from flankwise_service.core.errors import Fault, Refusal


def faults_of(
    kind: type[Refusal], call: Callable[..., Any], *args: Any, **rest: Any
) -> list[Fault]:
    """Return the faults of the refusal of exactly this kind that the call must raise."""
    with pytest.raises(kind) as caught:
        call(*args, **rest)
    assert type(caught.value) is kind
    return list(caught.value.faults)


def told(
    kind: type[Refusal], call: Callable[..., Any], *args: Any, **rest: Any
) -> set[tuple[str, str]]:
    """Return pointer and code of every fault of the refusal the call must raise."""
    return {(fault.pointer, fault.code) for fault in faults_of(kind, call, *args, **rest)}
