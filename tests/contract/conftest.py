"""Keeps the long form out of runs that leave slow tests out: only to collect it takes a while."""

from __future__ import annotations

from pathlib import Path

import pytest


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Leave the long form alone where it would be deselected anyway."""
    unwanted = config.getoption("markexpr", "") == "not slow"
    return True if unwanted and collection_path.name.endswith("_long.py") else None
