"""The real nginx with the project's own settings, on a free loopback port."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.request import ProxyHandler, build_opener

import pytest

from support.server import ROOT, free_port

SETTINGS = ROOT / "deploy" / "proxy" / "nginx.conf"
PATIENCE = 15.0


@dataclass
class Proxy:
    """A running proxy."""

    url: str
    folder: Path
    process: subprocess.Popen[bytes]

    @property
    def port(self) -> int:
        return int(self.url.rpartition(":")[2])

    def restart(self) -> None:
        """Stop it at once, as a crash would, and start it again on the same port."""
        self.process.kill()
        self.process.wait()
        _end_children(self.folder)
        self.process = _start(self.folder, self.url)

    def reload(self) -> None:
        """Let it read its settings again."""
        self.process.send_signal(signal.SIGHUP)


def nginx_or_skip() -> str:
    """Return the path of nginx; without one skip the test, or fail where it must be there."""
    found = shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin:/usr/local/sbin")
    if found is None:
        if "nginx" in os.environ.get("FLANKWISE_MUST_HAVE", "").split():
            pytest.fail("nginx is missing, and FLANKWISE_MUST_HAVE asks for it")
        pytest.skip("nginx isn't installed")
    return found


def adapted(text: str, folder: Path, port: int, services: Sequence[str], rate: int | None) -> str:
    """Return the settings with addresses, ports and folders of this test; all else as it is."""
    servers = "\n".join(
        f"        server {service.removeprefix('http://')} max_fails=2 fail_timeout=1s;"
        for service in services
    )
    text = _put(r"/tmp/flankwise-proxy-(?=[a-z_]+;)", f"{folder}/", text)
    text = _put(r" *server unix:/run/flankwise/http\.sock [^\n]*", servers, text)
    text = _put(r"listen 8080\b", f"listen 127.0.0.1:{port}", text)
    text = _put(r"pid /tmp/flankwise-proxy\.pid", f"pid {folder}/nginx.pid", text)
    if rate is not None:
        text = _put(r"rate=\d+r/s", f"rate={rate}r/s", text)
    # Without this nginx gives up its rights, and can't enter a test's folder.
    return "user root root;\n" + text if os.geteuid() == 0 else text


def within(settings: str, lines: str) -> str:
    """Return the settings with further lines in their server block."""
    return _put(r"\n        location / \{", f"\n{lines}        location / {{", settings)


def tls_lines(folder: Path, port: int) -> str:
    """Return the project's own lines for TLS, with a certificate made for this test."""
    openssl = shutil.which("openssl")
    if openssl is None:
        pytest.skip("openssl isn't installed")
    subprocess.run(
        [openssl, "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "1", "-subj",
         "/CN=localhost", "-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1",
         "-keyout", str(folder / "flankwise.key"), "-out", str(folder / "flankwise.crt")],
        capture_output=True, check=True, timeout=60,
    )  # fmt: skip
    lines = (SETTINGS.parent / "tls.conf").read_text("utf-8")
    lines = _put("/etc/nginx/tls/", f"{folder}/", lines)
    return _put("listen 8443", f"listen 127.0.0.1:{port}", lines)


def _put(pattern: str, new: str, text: str) -> str:
    changed, times = re.subn(pattern, lambda _: new, text)
    if times == 0:
        raise ValueError(f"{SETTINGS.name} holds no {pattern}: adapt this too")
    return changed


@contextmanager
def nginx(*services: str, rate: int | None = None, inside: str = "") -> Iterator[Proxy]:
    """Run the proxy before `services` until the block ends.

    `rate`: another limit of requests. `inside`: further lines of its server block.
    """
    nginx_or_skip()
    with TemporaryDirectory(prefix="flankwise-proxy-") as name:
        folder = Path(name)
        port = free_port()
        settings = adapted(SETTINGS.read_text("utf-8"), folder, port, services, rate)
        (folder / "nginx.conf").write_text(within(settings, inside), "utf-8")
        url = f"http://127.0.0.1:{port}"
        proxy = Proxy(url, folder, _start(folder, url))
        try:
            yield proxy
        finally:
            proxy.process.terminate()
            try:
                proxy.process.wait(PATIENCE)
            except subprocess.TimeoutExpired:
                proxy.process.kill()
                proxy.process.wait()
            _end_children(folder)


def _start(folder: Path, url: str) -> subprocess.Popen[bytes]:
    command = [nginx_or_skip(), "-e", "stderr", "-p", str(folder), "-c", str(folder / "nginx.conf"),
               "-g", "daemon off;"]  # fmt: skip
    with (folder / "nginx.log").open("ab") as log:
        process = subprocess.Popen(command, stdout=log, stderr=log, start_new_session=True)
    (folder / "session").write_text(str(process.pid))
    opener = build_opener(ProxyHandler({}))
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until and process.poll() is None:
        try:
            with opener.open(url + "/livez", timeout=2):
                return process
        except OSError:
            time.sleep(0.02)
    raise RuntimeError(f"the proxy didn't start:\n{(folder / 'nginx.log').read_text()}")


def _end_children(folder: Path) -> None:
    """End the workers of a master that was killed: they keep the port."""
    with suppress(ProcessLookupError):
        os.killpg(int((folder / "session").read_text()), signal.SIGKILL)
