"""Brings the compose file up in real containers, looks at their rights, and breaks them."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "service"), str(ROOT / "sdk"), str(ROOT / "tests")]

import flankwise  # noqa: E402
from faults.rig import Call, Callers, Outcome, calls  # noqa: E402
from faults.table import HEAD, tell  # noqa: E402
from flankwise.transport import Transport  # noqa: E402
from support.server import free_port  # noqa: E402

PROJECT = "flankwise-try"
SERVICE, PROXY = f"{PROJECT}_service_1", f"{PROJECT}_proxy_1"
PATIENCE = 60.0
STREAM = 100 * 2**20
PATIENT = 12
"""Tries of a caller. An only service is away while its container starts, a few seconds or more."""
ENGINE = """[containers]
default_ulimits = ["nofile=4096:4096", "nproc=4096:4096"]
[engine]
runtime = "runc"
cgroup_manager = "cgroupfs"
events_logger = "file"
"""
"""What works without systemd too: the engine's own guesses need it."""


def main() -> int:
    begun, faults = time.monotonic(), 0
    with TemporaryDirectory(prefix="flankwise-compose-") as name:
        shop = Shop(Path(name), image=sys.argv[1])
        with shop.up():
            print(f"compose file up, and ready after {time.monotonic() - begun:.1f} s\n")
            faults += told(looked_at(shop))
            print(f"\ncallers through the SDK, four at a time, each answer compared\n{HEAD}")
            for outcome in broken(shop, calls()):
                tell(outcome)
                faults += outcome.lost
    print(f"\nlost or wrong: {faults}; all of it took {time.monotonic() - begun:.0f} s")
    return 1 if faults else 0


def told(rows: Iterator[tuple[str, bool]]) -> int:
    wrong = 0
    for what, right in rows:
        print(f"{'ok' if right else 'WRONG':6} {what}", flush=True)
        wrong += not right
    return wrong


class Shop:
    """The compose file with a token and a free port, on the images of this machine."""

    def __init__(self, folder: Path, image: str) -> None:
        self.folder, self.port = folder, free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        (folder / "containers.conf").write_text(ENGINE)
        (folder / "images.yaml").write_text(f"services:\n  proxy:\n    image: {image}\n")
        self._surroundings = {
            **os.environ, "CONTAINERS_CONF": str(folder / "containers.conf"),
            "FLANKWISE_TOKENS_AT": str(folder / "tokens"), "FLANKWISE_PORT": str(self.port),
        }  # fmt: skip

    @contextmanager
    def up(self) -> Iterator[None]:
        self.give("office")
        try:
            self._compose("up", "-d")
            self.await_ready()
            yield
        finally:
            self._compose("down")
            for network in ("nowhere", "outside"):
                self.podman("network", "rm", "-f", f"{PROJECT}_{network}", check=False)
            self.podman("volume", "rm", f"{PROJECT}_door", check=False)

    def give(self, name: str) -> None:
        """Make a token as the head of the compose file says, use it, and allow it."""
        made = subprocess.run(
            [sys.executable, "-m", "flankwise_service.token", name, "read,plan"],
            capture_output=True, text=True, check=True,
        )  # fmt: skip
        os.environ["FLANKWISE_TOKEN"] = made.stdout.strip()
        (self.folder / "tokens").write_text(made.stderr)  # in place: a mount holds the file itself

    def podman(self, *words: str, check: bool = True) -> str:
        """Return what podman prints. Its complaints that no systemd is there don't matter."""
        found = subprocess.run(
            ["podman", *words], env=self._surroundings, capture_output=True, text=True,
            check=False, timeout=PATIENCE,
        )  # fmt: skip
        if check and found.returncode:
            raise RuntimeError(f"podman {' '.join(words)}: {found.stderr[-600:]}")
        return found.stdout.strip()

    def inside(self, container: str, script: str) -> str:
        """Return what a line of shell prints in a container, its complaints too."""
        return self.podman("exec", container, "sh", "-c", f"({script}) 2>&1", check=False)

    def crash(self, container: str) -> None:
        """Kill what runs in a container, behind the engine's back: it starts it again."""
        os.kill(int(self.podman("inspect", "-f", "{{.State.Pid}}", container)), signal.SIGKILL)

    def _compose(self, *words: str) -> None:
        files = [str(ROOT / "deploy" / "compose.yaml"), str(self.folder / "images.yaml")]
        found = subprocess.run(
            ["podman-compose", "-p", PROJECT, "-f", files[0], "-f", files[1], *words],
            env=self._surroundings, capture_output=True, text=True, check=False, timeout=300,
        )  # fmt: skip
        if found.returncode:
            raise RuntimeError(found.stdout[-2_000:] + found.stderr[-2_000:])

    def await_ready(self) -> None:
        until = time.monotonic() + PATIENCE
        with Transport(self.url, retries=0) as sdk:
            while True:
                try:
                    sdk.get_json("/readyz", {})
                    return
                except flankwise.FlankwiseError:
                    if time.monotonic() > until:
                        print(self.podman("logs", SERVICE, check=False)[-1_000:])
                        raise
                    time.sleep(0.1)


def looked_at(shop: Shop) -> Iterator[tuple[str, bool]]:
    """Yield what was looked at once it stands, and whether it is as it should be."""
    shop.podman("healthcheck", "run", SERVICE)
    yield "the image's own health check says healthy", True
    yield "a call without a token is refused", refused(shop, flankwise.NotAllowed, token="x")
    yield "the counts are kept inside", refused(shop, flankwise.NotOffered, path="/metrics")
    for container in (SERVICE, PROXY):
        short = container.split("_")[1]
        yield f"{short}: unprivileged user", "uid=65532" in shop.inside(container, "id")
        status = shop.inside(container, "cat /proc/self/status")
        yield f"{short}: no capability at all", "CapBnd:\t0000000000000000" in status
        yield f"{short}: no new privileges", "NoNewPrivs:\t1" in status
        written = shop.inside(container, "touch /x /etc/x /opt/x /usr/bin/x")
        yield f"{short}: nothing can be written", written.count("Read-only file system") == 4
    away = "python -c 'import socket; socket.create_connection((\"192.0.2.1\", 80), 3)'"
    yield "service: no way out", "Network is unreachable" in shop.inside(SERVICE, away)
    doors = [shop.podman("port", container) for container in (SERVICE, PROXY)]
    yield "only the proxy's door is open", doors == ["", f"8080/tcp -> 0.0.0.0:{shop.port}"]
    complaints = shop.podman("logs", SERVICE)
    yield "service: a start without one complaint", "ERROR" not in complaints
    yield f"a stream of {STREAM >> 20} MB passes", streamed(shop)
    old = os.environ["FLANKWISE_TOKEN"]
    shop.give("workshop")
    time.sleep(1.5)
    yield "a token taken from the list is refused", refused(shop, flankwise.NotAllowed, token=old)
    yield "a token put on the list is taken", not refused(shop, flankwise.NotAllowed)


def refused(
    shop: Shop,
    kind: type[flankwise.FlankwiseError],
    path: str = "/v1/threads/read",
    token: str | None = None,
) -> bool:
    with Transport(shop.url, retries=0, token=token) as sdk:
        try:
            sdk.get(path, {"unit": "mm", "designation": "M8-6g"}, "*/*")
        except kind:
            return True
        return False


def streamed(shop: Shop) -> bool:
    line = b" " * (2**20 - 1) + b"\n"
    body = io.BytesIO(line * (STREAM // len(line)))
    with (
        Transport(shop.url, retries=0) as sdk,
        sdk.post_file("/v1/batch/stream", body, len(body.getbuffer()), "application/x-ndjson") as r,
    ):
        return b"summary" in r.content


def broken(shop: Shop, made: list[Call], times: int = 3) -> Iterator[Outcome]:
    """Do each fault so many times while callers call."""
    faults: dict[str, Callable[[], object]] = {
        "HUP to the service": lambda: shop.podman("kill", "-s", "HUP", SERVICE),
        "HUP to the proxy": lambda: shop.podman("kill", "-s", "HUP", PROXY),
        "service container restarted": lambda: shop.podman("restart", SERVICE),
        "proxy container restarted": lambda: shop.podman("restart", PROXY),
        "service crashed (SIGKILL)": lambda: shop.crash(SERVICE),
        "proxy crashed (SIGKILL)": lambda: shop.crash(PROXY),
    }
    for fault, do in faults.items():
        outcome, begun = Outcome(fault), time.monotonic()
        with Callers(shop.url, made, retries=PATIENT) as callers:
            callers.more(len(made))
            for _ in range(times):
                do()
                callers.more(2 * len(made))
                outcome.times += 1
            callers.more(2 * len(made))
        outcome.calls, outcome.slowest = callers.calls, callers.slowest
        outcome.failed, outcome.different = callers.failed, callers.different
        outcome.seconds = time.monotonic() - begun
        yield outcome


if __name__ == "__main__":
    sys.exit(main())
