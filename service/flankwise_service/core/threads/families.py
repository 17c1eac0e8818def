"""The register of thread families, in the order a designation is tried.

To add a standard: write its module with FAMILIES, EDITIONS, EXAMPLES, read, limits, designations
and classes (see `FamilyModule`), import it here, and put it in `MODULES`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol, cast

from flankwise_service.core.threads import (
    acme,
    ba,
    buttress,
    iso_metric,
    metric_j,
    miniature,
    pipe_bsp,
    pipe_npt,
    trapezoidal,
    unified,
    unified_j,
    whitworth,
)
from flankwise_service.core.threads.model import Family, Limits, Side, Thread


class FamilyModule(Protocol):
    """What the module of a family offers."""

    FAMILIES: tuple[Family, ...]
    EDITIONS: tuple[str, ...]
    EXAMPLES: tuple[str, ...]

    def read(self, text: str) -> Thread | None:
        """Return the thread, None if the text isn't of this family; refuse what is but is wrong."""

    def limits(self, thread: Thread, side: Side | None, edition: str) -> Limits:
        """Return the limits of size by one of EDITIONS."""

    def designations(self) -> Iterator[str]:
        """Yield every size of the standard's series, canonical, without class and hand."""

    def classes(self, thread: Thread) -> dict[Side, tuple[str, ...]]:
        """Return the classes to choose from."""


MODULES: tuple[FamilyModule, ...] = tuple(
    cast("FamilyModule", module)
    for module in (
        unified,
        unified_j,
        miniature,
        iso_metric,
        metric_j,
        pipe_npt,
        pipe_bsp,
        acme,
        trapezoidal,
        buttress,
        whitworth,
        ba,
    )
)
BY_FAMILY: dict[str, FamilyModule] = {
    family: module for module in MODULES for family in module.FAMILIES
}
