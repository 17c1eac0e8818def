"""The units of a shop without containers: read by systemd's own tools, and done as they say.

systemd itself needs a machine of its own; here its parts are tried one by one: the units by its
checker, the socket by its activator, the notice by its protocol (sd_notify(3)), and the filter of
system calls against the calls that the service really makes.
"""

from __future__ import annotations

import configparser
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from urllib.request import ProxyHandler, Request, build_opener

import gunicorn.config
import pytest

from support.server import ROOT, free_port
from support.server import gunicorn as running
from support.wire import examples

FOLDER = ROOT / "deploy" / "systemd"
SERVICE, SOCKET = FOLDER / "flankwise.service", FOLDER / "flankwise.socket"
DOCKERFILE = (ROOT / "deploy" / "Dockerfile").read_text("utf-8")
GUNICORN = "/opt/flankwise/bin/gunicorn"
PATIENCE = 30.0


def unit(path: Path) -> configparser.ConfigParser:
    parser = configparser.ConfigParser(strict=False, interpolation=None)
    parser.optionxform = str  # type: ignore[assignment,method-assign]
    parser.read_string(path.read_text("utf-8"))
    return parser


def lines(path: Path) -> list[tuple[str, str]]:
    """Return names and values of a unit in their order, repeated ones too."""
    kept = [line for line in path.read_text("utf-8").splitlines() if line and line[0] not in "#["]
    return [(name, value) for name, _, value in (line.partition("=") for line in kept)]


# -- the service


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("DynamicUser", "yes"), ("NoNewPrivileges", "yes"), ("ProtectSystem", "strict"),
        ("ProtectHome", "yes"), ("PrivateTmp", "yes"), ("PrivateDevices", "yes"),
        ("CapabilityBoundingSet", ""), ("RestrictNamespaces", "yes"), ("UMask", "0077"),
        ("MemoryDenyWriteExecute", "yes"), ("LockPersonality", "yes"), ("RestrictSUIDSGID", "yes"),
    ],
)  # fmt: skip
def test_the_unit_is_hardened(key: str, value: str) -> None:
    assert unit(SERVICE)["Service"][key] == value


def test_the_unit_starts_what_the_image_starts() -> None:
    (entry,) = re.findall(r"^ENTRYPOINT (.+)$", DOCKERFILE, re.MULTILINE)
    assert unit(SERVICE)["Service"]["ExecStart"].split() == json.loads(entry)


def head() -> str:
    return SERVICE.read_text("utf-8").partition("[Unit]")[0]


def test_the_head_installs_what_the_image_does() -> None:
    """The same two commands of pip, the same settings, and files that are there."""
    image = DOCKERFILE.replace("\\\n", " ")
    told = re.findall(r"pip install ([^&\n]+)", head())
    noise = r"--no-cache-dir |--disable-pip-version-check "
    done = [
        " ".join(re.sub(noise, "", one).split())
        for one in re.findall(r"pip install ([^&\n]+)", image)
    ]
    assert told == done
    for source in re.findall(r"\bdeploy/[\w./-]+\w", head()):
        assert (ROOT / source).exists(), source
    assert "/etc/flankwise/gunicorn.conf.py" in unit(SERVICE)["Service"]["ExecStart"].split()
    assert unit(SERVICE)["Service"]["EnvironmentFile"] == "-/etc/flankwise/environment"


def test_systemd_takes_the_lines_for_tokens(tmp_path: Path) -> None:
    found = re.findall(r"^#   ((?:LoadCredential|Environment)=.+)$", head(), re.MULTILINE)
    assert [line.partition("=")[0] for line in found] == ["LoadCredential", "Environment"]
    with_tokens = SERVICE.read_text("utf-8").replace(
        "DynamicUser=yes", "\n".join(["DynamicUser=yes", *found])
    )
    assert verified(tmp_path, service=with_tokens) == []
    wrong = with_tokens.replace("LoadCredential=tokens:", "LoadCredential=to/kens:")
    assert verified(tmp_path, service=wrong) != []


def test_it_is_stopped_as_gently_as_gunicorn_takes() -> None:
    told = unit(SERVICE)["Service"]
    settings = (ROOT / "deploy" / "gunicorn.conf.py").read_text("utf-8")
    (graceful,) = re.findall(r"^graceful_timeout = (\d+)", settings, re.MULTILINE)
    assert int(told["TimeoutStopSec"]) > int(graceful)
    assert (told["KillSignal"], told["KillMode"]) == ("SIGTERM", "mixed")
    assert told["ExecReload"] == "/bin/kill -HUP $MAINPID"


# -- the socket


def test_the_socket_opens_the_door_that_the_service_would() -> None:
    door = unit(SOCKET)["Socket"]
    assert set(unit(SOCKET).sections()) == {"Unit", "Socket", "Install"}
    bind = f"FLANKWISE_BIND={door['ListenStream']}"
    assert bind in unit(SERVICE)["Service"]["Environment"].split()
    assert int(door["Backlog"]) == gunicorn.config.Config().backlog
    assert "Accept" not in door, "one process for each connection is not what gunicorn is"
    assert SOCKET.stem == SERVICE.stem, "systemd joins them by their name"


# -- systemd's own tools


def tool(name: str) -> str:
    found = shutil.which(name)
    if found is None:
        pytest.skip(f"{name} isn't installed")
    return found


def verified(folder: Path, **changed: str) -> list[str]:
    """Return what systemd has to say of the units, with other texts for some of them."""
    for path in (SERVICE, SOCKET):
        text = changed.get(path.suffix[1:], path.read_text("utf-8"))
        (folder / path.name).write_text(text.replace(GUNICORN, sys.executable), "utf-8")
    found = subprocess.run(
        [tool("systemd-analyze"), "verify", "--man=no", *map(str, sorted(folder.glob("flank*")))],
        capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    return [line for line in found.stderr.splitlines() if "flankwise" in line]


def test_systemd_reads_every_line_of_both_units(tmp_path: Path) -> None:
    assert verified(tmp_path) == []


@pytest.mark.parametrize("path", [SERVICE, SOCKET], ids=lambda path: path.suffix)
def test_systemd_would_tell_of_a_misspelt_line(tmp_path: Path, path: Path) -> None:
    name = {".service": "MemoryMax", ".socket": "Backlog"}[path.suffix]
    wrong = path.read_text("utf-8").replace(f"{name}=", f"{name}imum=")
    assert verified(tmp_path, **{path.suffix[1:]: wrong}) != []


def test_systemd_rates_the_exposure_of_the_unit_as_low() -> None:
    """2.0 of 10 on its own scale; what is left is mostly the network, which a service needs."""
    found = subprocess.run(
        [tool("systemd-analyze"), "security", "--offline=true", "--threshold=20", str(SERVICE)],
        capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    if "unrecognized option" in found.stderr:
        pytest.skip("this systemd can't rate a file")
    assert found.returncode == 0, found.stdout[-200:] + found.stderr


# -- done as the units say


def command() -> list[str]:
    """Return the command of the unit, of this environment and this tree."""
    told = unit(SERVICE)["Service"]["ExecStart"].split()
    there = {
        GUNICORN: [sys.executable, "-m", "gunicorn"],
        "/etc/flankwise/gunicorn.conf.py": [str(ROOT / "deploy" / "gunicorn.conf.py")],
    }
    return [word for part in told for word in there.get(part, [part])]


def surroundings(**more: str) -> dict[str, str]:
    paths = os.pathsep.join([str(ROOT / "service"), str(ROOT / "sdk")])
    return {**os.environ, "PYTHONPATH": paths, "FLANKWISE_WORKERS": "1", **more}


@contextmanager
def started(command: Sequence[str], folder: Path, **more: str) -> Iterator[subprocess.Popen[bytes]]:
    with (folder / "log").open("wb") as log:
        process = subprocess.Popen(
            command, stdout=log, stderr=log, cwd=folder, env=surroundings(**more)
        )
    try:
        yield process
    finally:
        process.terminate()
        process.wait(PATIENCE)


def answer(url: str, body: bytes | None = None) -> bytes:
    request = Request(url, body, {"Content-Type": "application/json"})
    with build_opener(ProxyHandler({})).open(request, timeout=PATIENCE) as reply:
        told: bytes = reply.read()
        return told


def test_a_caller_waits_at_the_door_that_systemd_holds(tmp_path: Path) -> None:
    """systemd-socket-activate(1) listens at once, and starts the service for the first caller."""
    port = free_port()
    hold = [tool("systemd-socket-activate"), "-l", f"127.0.0.1:{port}"]
    passed = ("PYTHONPATH", "FLANKWISE_WORKERS", "FLANKWISE_BIND", "PATH", "HOME")
    hold += [word for name in passed for word in ("-E", name)]
    with started([*hold, *command()], tmp_path, FLANKWISE_BIND="192.0.2.1:1") as process:
        until = time.monotonic() + PATIENCE
        while b"Listening" not in (tmp_path / "log").read_bytes() and time.monotonic() < until:
            time.sleep(0.02)
        assert process.poll() is None
        assert b'"ready"' in answer(f"http://127.0.0.1:{port}/readyz")


def test_it_tells_systemd_when_it_may_be_sent_work(tmp_path: Path) -> None:
    """Type=notify: without the word READY=1 systemd would give the start up (sd_notify(3))."""
    assert unit(SERVICE)["Service"]["Type"] == "notify"
    address = str(tmp_path / "notify")
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as ear:
        ear.bind(address)
        ear.settimeout(PATIENCE)
        with running(tmp_path, environment={"NOTIFY_SOCKET": address}):
            assert b"READY=1" in ear.recv(4_096).split(b"\n")


SLOW = """
import time
print("loading", flush=True)
time.sleep(600)
"""


def test_the_first_process_of_a_container_can_be_stopped_while_it_starts(tmp_path: Path) -> None:
    """The kernel drops a TERM that the first process of a namespace doesn't handle (kill(2))."""
    alone = [tool("unshare"), "--pid", "--fork", "--kill-child"]
    if subprocess.run([*alone, "true"], capture_output=True, check=False).returncode:
        pytest.skip("a namespace of processes needs more rights")
    (tmp_path / "slow.py").write_text(SLOW)
    start = [*alone, *(word for word in command() if ":app" not in word), "slow:app"]
    with started(start, tmp_path, FLANKWISE_BIND=f"127.0.0.1:{free_port()}") as process:
        until = time.monotonic() + PATIENCE
        while b"loading" not in (tmp_path / "log").read_bytes() and time.monotonic() < until:
            time.sleep(0.02)
        (first,) = map(int, _children(process.pid))
        os.kill(first, signal.SIGTERM)
        assert process.wait(PATIENCE) == 0


def calls_of(group: str) -> set[str]:
    """Return the system calls of one of systemd's groups, those of the groups in it too."""
    told = subprocess.run(
        [tool("systemd-analyze"), "syscall-filter", group],
        capture_output=True, text=True, check=True, timeout=60,
    )  # fmt: skip
    found: set[str] = set()
    for line in map(str.strip, told.stdout.splitlines()[1:]):
        if line and not line.startswith("#"):
            found |= calls_of(line) if line.startswith("@") else {line}
    return found


def allowed() -> set[str]:
    """Return the calls that the unit lets through, read as systemd.exec(5) says."""
    found: set[str] = set()
    for name, value in lines(SERVICE):
        if name == "SystemCallFilter":
            for word in value.removeprefix("~").split():
                calls = calls_of(word) if word.startswith("@") else {word}
                found = found - calls if value.startswith("~") else found | calls
    return found


@pytest.mark.slow
def test_every_system_call_the_service_makes_is_let_through(tmp_path: Path) -> None:
    """Start, every operation, HUP, a worker's end, TERM: under strace, one call after the other."""
    through = allowed()
    assert "mount" not in through
    port, trace = free_port(), tmp_path / "trace"
    watch = [tool("strace"), "-f", "-qq", "-o", str(trace), *command()]
    with started(watch, tmp_path, FLANKWISE_BIND=f"127.0.0.1:{port}") as process:
        url, until = f"http://127.0.0.1:{port}", time.monotonic() + 2 * PATIENCE
        while time.monotonic() < until:
            try:
                answer(url + "/readyz")
                break
            except OSError:
                time.sleep(0.2)
        for example in examples():
            _, path, body = example.sent()
            answer(url + path, body)
        (master,) = map(int, _children(process.pid))
        os.kill(master, signal.SIGHUP)
        time.sleep(3)
        answer(url + "/readyz")
        os.kill(master, signal.SIGTERM)
        process.wait(PATIENCE)
    made = set(re.findall(r"^\d+ +(\w+)\(", trace.read_text("utf-8", "replace"), re.MULTILINE))
    assert len(made) > 40
    assert made - through - {"execve"} == set()
    written_and_run = re.findall(r"^.*PROT_WRITE\|PROT_EXEC.*$", trace.read_text(), re.MULTILINE)
    assert written_and_run == [], "MemoryDenyWriteExecute would refuse this"


def _children(pid: int) -> list[str]:
    return Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
