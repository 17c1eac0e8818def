"""flankwise: the whole thread-milling job, asked of a flankwise service.

>>> import flankwise
>>> with flankwise.Client("http://127.0.0.1:8080") as shop:  # doctest: +SKIP
...     limits = shop.threads_limits(designation="7/8-14 UNF-2A", unit="in")
...     print(limits.pitch_diameter.max)
0.8270

Names are loaded when first used, so that `import flankwise` alone costs next to nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

__version__ = "1.0.0"

if TYPE_CHECKING:
    from flankwise import results
    from flankwise.client import Client
    from flankwise.documents import Drawing, Sheet
    from flankwise.errors import (
        Fault,
        FlankwiseError,
        Incompatible,
        NoProgram,
        NotAllowed,
        NotConfigured,
        NotOffered,
        Refused,
        ServiceFault,
        Unavailable,
        Unreachable,
    )
    from flankwise.result import to_csv

_HOMES = {
    "Client": "flankwise.client",
    "Drawing": "flankwise.documents",
    "Sheet": "flankwise.documents",
    "to_csv": "flankwise.result",
    "Fault": "flankwise.errors",
    "FlankwiseError": "flankwise.errors",
    "Incompatible": "flankwise.errors",
    "NoProgram": "flankwise.errors",
    "NotAllowed": "flankwise.errors",
    "NotConfigured": "flankwise.errors",
    "NotOffered": "flankwise.errors",
    "Refused": "flankwise.errors",
    "ServiceFault": "flankwise.errors",
    "Unavailable": "flankwise.errors",
    "Unreachable": "flankwise.errors",
}

__all__ = [
    "Client", "Drawing", "Fault", "FlankwiseError", "Incompatible", "NoProgram", "NotAllowed",
    "NotConfigured", "NotOffered", "Refused", "ServiceFault", "Sheet", "Unavailable",
    "Unreachable", "__version__", "results", "to_csv",
]  # fmt: skip


def __getattr__(name: str) -> Any:
    if name == "results":
        return import_module("flankwise.results")
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module 'flankwise' has no attribute {name!r}")
    value = getattr(import_module(home), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
