"""Calls the application in this process, for costs that a network would only hide."""

from __future__ import annotations

import io
import os
import time
from collections.abc import Callable, Iterable
from typing import Any

from bench.asks import Ask


def application() -> Any:
    """Return the service as a WSGI function, its access lines going nowhere."""
    from flankwise_service import create_app
    from flankwise_service.config import Settings

    return create_app(Settings(access_log=False))


def answer(app: Callable[..., Iterable[bytes]], ask: Ask) -> int:
    """Ask once, and return how many bytes came back, none of them kept."""
    path, _, query = ask.path.partition("?")
    environ: dict[str, Any] = {
        "REQUEST_METHOD": "GET" if ask.body is None else "POST", "PATH_INFO": path,
        "QUERY_STRING": query, "SCRIPT_NAME": "", "SERVER_NAME": "bench", "SERVER_PORT": "80",
        "SERVER_PROTOCOL": "HTTP/1.1", "wsgi.version": (1, 0), "wsgi.url_scheme": "http",
        "wsgi.input": io.BytesIO(ask.body or b""), "wsgi.errors": io.StringIO(),
        "wsgi.multithread": True, "wsgi.multiprocess": True, "wsgi.run_once": False,
    }  # fmt: skip
    if ask.body is not None:
        environ |= {"CONTENT_TYPE": "application/json", "CONTENT_LENGTH": str(len(ask.body))}
    status: list[str] = []
    chunks = app(environ, lambda told, headers, exc_info=None: status.append(told))
    size = sum(map(len, chunks))
    close = getattr(chunks, "close", None)
    if close is not None:
        close()
    if not status[0].startswith("2"):
        raise RuntimeError(f"{ask.path}: {status[0]}")
    return size


def cpu_ms(work: Callable[[], object]) -> float:
    """Return the processor time of one call in milliseconds."""
    begun = time.process_time()
    work()
    return (time.process_time() - begun) * 1e3


def peak_bytes() -> int:
    """Return the most memory this process ever held."""
    with open(f"/proc/{os.getpid()}/status", encoding="ascii") as status:
        for line in status:
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) * 1024
    raise RuntimeError("no VmHWM")
