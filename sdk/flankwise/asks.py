"""The objects that requests hold, typed. Made by tests/contract/write.py; don't edit."""

from __future__ import annotations

__all__ = []
