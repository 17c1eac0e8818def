"""Where a radius offset at the control can be switched on and off along a path."""

from __future__ import annotations

from flankwise_service.core.program.setup import Operation


def offset_codes(operation: Operation) -> dict[int, str]:
    """Return the radius offset words by the index of the segment that carries them."""
    if operation.tool.radius_offset is None:
        return {}
    return {}


def offset_indices(operation: Operation) -> frozenset[int]:
    """Return the indices of the segments that run under the radius offset."""
    return frozenset()
