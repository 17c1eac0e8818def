"""A real gunicorn on a free loopback port, for tests that need the whole way."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.request import ProxyHandler, build_opener

ROOT = Path(__file__).resolve().parents[2]
PATIENCE = 30.0


HAND_OVER = """
import os, sys
os.dup2(int(sys.argv[1]), 3, inheritable=True)
os.environ.update(LISTEN_FDS="1", LISTEN_PID=str(os.getpid()))
os.execv(sys.argv[2], sys.argv[2:])
"""
"""Starts a command with socket activation's variables: sd_listen_fds(3), systemd."""


@dataclass(frozen=True)
class Server:
    """A running service."""

    url: str
    process: subprocess.Popen[bytes]
    log: Path


def free_port() -> int:
    """Return a loopback port that was free a moment ago."""
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@contextmanager
def gunicorn(
    folder: Path,
    *options: str,
    application: str = "flankwise_service.wsgi:app",
    environment: Mapping[str, str] | None = None,
    port: int | None = None,
    prints_to: Path | None = None,
    door: socket.socket | None = None,
) -> Iterator[Server]:
    """Run gunicorn until the block ends; its output goes to `folder`/gunicorn.log.

    `port`: one to take again after a restart. `prints_to`: another place for its standard output.
    `door`: a listening socket to hand over as systemd does, held open by who gives it.
    """
    url = f"http://127.0.0.1:{port or free_port()}"
    paths = [str(ROOT / "service"), str(ROOT / "sdk"), str(ROOT / "tests")]
    surroundings = {**os.environ, "PYTHONPATH": os.pathsep.join(paths), **(environment or {})}
    command = [
        sys.executable, "-m", "gunicorn", "--config", str(ROOT / "deploy" / "gunicorn.conf.py"),
        "--bind", url.removeprefix("http://"), "--workers", "1",
        *options, application,
    ]  # fmt: skip
    handed: tuple[int, ...] = ()
    if door is not None:
        handed = (door.fileno(),)
        command = [sys.executable, "-c", HAND_OVER, str(door.fileno()), *command]
    log = folder / "gunicorn.log"
    with log.open("wb") as out, (prints_to or log).open("ab") as prints:
        process = subprocess.Popen(
            command, stdout=prints, stderr=out, env=surroundings, cwd=folder, pass_fds=handed
        )
    try:
        _await(url + "/readyz", process, log)
        yield Server(url, process, log)
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGTERM)
            try:
                process.wait(PATIENCE)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()


def _await(url: str, process: subprocess.Popen[bytes], log: Path) -> None:
    opener = build_opener(ProxyHandler({}))
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline:
        if process.poll() is not None:
            break
        try:
            with opener.open(url, timeout=2) as reply:
                if reply.status == 200:
                    return
        except OSError:
            time.sleep(0.05)
    raise RuntimeError(f"the service didn't start:\n{log.read_text('utf-8', 'replace')}")
