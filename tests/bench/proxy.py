"""The project's own proxy settings, before instances on this machine."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from bench.servers import OUT, ROOT, Running, await_reply, stop
from support.server import free_port


def settings(instances: Sequence[Running], port: int) -> str:
    """Return deploy/proxy/nginx.conf for these instances, without its limits for one caller."""
    text = (ROOT / "deploy" / "proxy" / "nginx.conf").read_text()
    text = re.sub(r"^\s*limit_(req|conn)(_zone|_status)? [^;]*;\n", "", text, flags=re.MULTILINE)
    servers = "".join(f"server {one.url.removeprefix('http://')};\n" for one in instances)
    text = re.sub(r"server unix:/run/flankwise/http\.sock[^;]*;", servers, text)
    text = text.replace("listen 8080", f"listen 127.0.0.1:{port}")
    text = re.sub(r"pid [^;]*;", f"pid {OUT}/nginx.pid; daemon off;", text)
    return text.replace("/tmp/flankwise-proxy-", f"{OUT}/nginx-")


@contextmanager
def nginx(instances: Sequence[Running]) -> Iterator[Running]:
    """Run nginx before `instances` until the block ends."""
    port = free_port()
    conf, log = OUT / "nginx.conf", OUT / "nginx.log"
    conf.write_text(settings(instances, port))
    program = shutil.which("nginx") or "/usr/sbin/nginx"
    with log.open("wb") as out:
        process = subprocess.Popen(
            [program, "-c", str(conf), "-p", str(OUT)], stdout=out, stderr=out
        )
    try:
        url = f"http://127.0.0.1:{port}"
        await_reply(url + "/readyz", process, log)
        yield Running(url, process, 0.0)
    finally:
        stop(process)
