"""Starts gunicorn with the project's own settings, for the service and for the floor servers."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import ProxyHandler, build_opener

from support.server import free_port

ROOT = Path(__file__).resolve().parents[2]
OUT = ROOT / ".cache" / "bench"
PATIENCE = 30.0
SERVICE = "flankwise_service.wsgi:app"
TICK = os.sysconf("SC_CLK_TCK")
PAGE = os.sysconf("SC_PAGE_SIZE")


@dataclass(frozen=True)
class Running:
    """A gunicorn with its workers."""

    url: str
    process: subprocess.Popen[bytes]
    ready_seconds: float
    """From the start of the process to the first reply."""

    def family(self) -> list[int]:
        """Return the process ids of the master and its workers."""
        children = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children").read_text()
        return [self.process.pid, *map(int, children.split())]

    def cpu_seconds(self) -> float:
        """Return the processor time that all of them have used."""
        return sum(map(_cpu_of, self.family()))

    def resident_bytes(self) -> int:
        """Return the memory of the workers (not the master's), pages shared counted in each."""
        return sum(
            int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * PAGE
            for pid in self.family()[1:]
        )

    def peak_bytes(self) -> int:
        """Return the most memory that any worker ever held."""
        return max(_peak_of(pid) for pid in self.family()[1:])


def _cpu_of(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / TICK


def _peak_of(pid: int) -> int:
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmHWM:"):
            return int(line.split()[1]) * 1024
    raise RuntimeError(f"/proc/{pid}/status has no VmHWM")


@contextmanager
def gunicorn(
    application: str = SERVICE,
    *,
    workers: int = 2,
    name: str = "service",
    environment: Mapping[str, str] | None = None,
    options: Sequence[str] = (),
) -> Iterator[Running]:
    """Run `application` under deploy/gunicorn.conf.py on a free port until the block ends."""
    OUT.mkdir(parents=True, exist_ok=True)
    port = free_port()
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "tests"), **(environment or {})}
    command = [
        sys.executable, "-m", "gunicorn", "--config", str(ROOT / "deploy" / "gunicorn.conf.py"),
        "--bind", f"127.0.0.1:{port}", "--workers", str(workers),
        *options, application,
    ]  # fmt: skip
    log = OUT / f"{name}.log"
    begun = time.perf_counter()
    with log.open("wb") as out:
        process = subprocess.Popen(command, stdout=out, stderr=out, env=surroundings, cwd=OUT)
    try:
        url = f"http://127.0.0.1:{port}"
        await_reply(url + "/readyz", process, log)
        yield Running(url, process, time.perf_counter() - begun)
    finally:
        stop(process)


def await_reply(url: str, process: subprocess.Popen[bytes], log: Path) -> None:
    """Wait until something answers at `url`, whatever its status."""
    opener = build_opener(ProxyHandler({}))
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline and process.poll() is None:
        try:
            with opener.open(url, timeout=2):
                return
        except HTTPError:
            return
        except OSError:
            time.sleep(0.005)
    raise RuntimeError(f"no server came up:\n{log.read_text('utf-8', 'replace')}")


def stop(process: subprocess.Popen[bytes]) -> None:
    """End a server that was started here."""
    if process.poll() is None:
        process.send_signal(signal.SIGTERM)
        try:
            process.wait(PATIENCE)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
