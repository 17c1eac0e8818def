"""Which doors of the service are open to other machines: for a word of warning at the start."""

from __future__ import annotations

from collections.abc import Iterable
from ipaddress import IPv6Address, ip_address
from typing import Any

from flankwise_service.web.access import Access


def warning(names: Iterable[Any], access: Access) -> str:
    """Return what to say of listening sockets, given their `getsockname()`; empty when nothing.

    >>> warning([("127.0.0.1", 8000), "/run/flankwise/http.sock"], Access())
    ''
    """
    far = [f"{name[0]} port {name[1]}" for name in names if _is_far(name)]
    if access.wanted or not far:
        return ""
    return (
        f"OPEN TO ALL: {', '.join(far)} answers whoever reaches it, for no token is asked for; "
        "set FLANKWISE_TOKEN_FILE to the file of tokens, or listen on 127.0.0.1 only"
    )


def _is_far(name: Any) -> bool:
    if not isinstance(name, tuple):  # a socket in the file system, whose rights guard it
        return False
    address = ip_address(name[0])
    if isinstance(address, IPv6Address) and address.ipv4_mapped is not None:
        address = address.ipv4_mapped
    return not address.is_loopback
