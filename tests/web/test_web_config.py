"""Settings come from the environment, and bad ones are told all at once."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import fields
from pathlib import Path

import pytest

from flankwise_service import config
from flankwise_service.config import ELSEWHERE, PREFIX, BadSettings, Settings
from flankwise_service.doors import warning
from flankwise_service.web.access import Access
from support.server import ROOT, free_port, gunicorn


def test_an_empty_environment_gives_the_defaults() -> None:
    assert Settings.from_environment({}) == Settings()


def test_the_process_environment_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_LOOKUP_AGE", "60")
    assert Settings.from_environment().lookup_age == 60


@pytest.mark.parametrize(("text", "value"), [("yes", True), ("0", False), ("False", False)])
def test_yes_and_no(text: str, value: bool) -> None:
    assert Settings.from_environment({"FLANKWISE_ACCESS_LOG": text}).access_log is value


def test_every_bad_setting_is_named() -> None:
    with pytest.raises(BadSettings) as caught:
        Settings.from_environment(
            {
                "FLANKWISE_BODY_CAP": "1 MB",
                "FLANKWISE_DEPTH_CAP": "3",
                "FLANKWISE_ACCESS_LOG": "perhaps",
                "FLANKWISE_QUERY_CAP": "500",
            }
        )
    said = str(caught.value)
    for name in ("BODY_CAP", "DEPTH_CAP", "ACCESS_LOG"):
        assert f"FLANKWISE_{name}=" in said
    assert "QUERY_CAP" not in said


@pytest.mark.parametrize("text", ["1_0", "٣", "-0", "+3", "3.0", "0x10", "", "9" * 30])
def test_a_whole_number_is_written_in_plain_figures(text: str) -> None:
    with pytest.raises(BadSettings, match="FLANKWISE_THREADS"):
        Settings.from_environment({"FLANKWISE_THREADS": text})


@pytest.mark.parametrize("text", ["60.1", "1e10", "nan", "inf", "-1", "", "1_0", "٣"])
def test_nobody_waits_for_a_turn_longer_than_a_minute(text: str) -> None:
    with pytest.raises(BadSettings, match="0 to 60"):
        Settings.from_environment({"FLANKWISE_TURN_WAIT": text})
    assert Settings.from_environment({"FLANKWISE_TURN_WAIT": "60"}).turn_wait == 60.0
    assert Settings.from_environment({"FLANKWISE_TURN_WAIT": " 0.5 "}).turn_wait == 0.5


def test_every_setting_can_be_read() -> None:
    assert {setting.name for setting in fields(Settings)} == set(config._READERS)


# -- names that none has


@pytest.mark.parametrize(
    ("rest", "near"),
    [("TOKENFILE", "TOKEN_FILE"), ("TOKEN_FILES", "TOKEN_FILE"), ("WORKER", "WORKERS"),
     ("", ""), ("XQZ", "")],
)  # fmt: skip
def test_a_misspelt_setting_is_refused_without_its_value(rest: str, near: str) -> None:
    with pytest.raises(BadSettings) as caught:
        Settings.from_environment({PREFIX + rest: "hidden", "FLANKWISE_BODY_CAP": "1 MB"})
    said = str(caught.value)
    assert f"'{PREFIX}{rest}' is set, and there is no such setting" in said
    assert (f"FLANKWISE_{near} is near" in said) is bool(near)
    assert "hidden" not in said
    assert "FLANKWISE_BODY_CAP=" in said, "every fault at once"


def test_a_setting_in_small_letters_is_refused() -> None:
    with pytest.raises(BadSettings, match="FLANKWISE_TOKEN_FILE is near"):
        Settings.from_environment({"flankwise_token_file": "/etc/tokens"})


@pytest.mark.parametrize(
    "rest",
    ["SERVICE_HOST", "SERVICE_PORT", "SERVICE_PORT_HTTP", "PORT", "PORT_80_TCP",
     "PORT_80_TCP_ADDR", "PORT_80_TCP_PORT", "PORT_80_TCP_PROTO"],
)  # fmt: skip
def test_what_kubernetes_sets_for_a_service_of_this_name_is_no_setting(rest: str) -> None:
    """The names are those of "Accessing the Service", kubernetes.io, from memory."""
    assert Settings.from_environment({PREFIX + rest: "10.0.0.11"}) == Settings()


def test_every_name_in_the_repository_is_known() -> None:
    tracked = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if tracked.returncode:
        pytest.skip("this is no checkout")
    named: dict[str, str] = {}
    for path in map(Path, filter(None, tracked.stdout.split("\0"))):
        if (ROOT / path).is_file():
            text = (ROOT / path).read_text("utf-8", "replace")
            named |= dict.fromkeys(re.findall(r"\bFLANKWISE_[A-Z][A-Z_]*[A-Z]\b", text), str(path))
    own = {PREFIX + setting.name.upper() for setting in fields(Settings)}
    cluster = {"FLANKWISE_SERVICE_HOST"}
    unknown = {name: path for name, path in named.items() if name not in own | ELSEWHERE | cluster}
    assert unknown == {}
    assert named.keys() >= ELSEWHERE, "one that nobody reads any more"


# -- what a start says


def started(folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Start the service as a shop does, with settings that it must refuse."""
    paths = f"{ROOT / 'service'}:{ROOT / 'sdk'}"
    return subprocess.run(
        [sys.executable, "-m", "gunicorn", "--config", str(ROOT / "deploy" / "gunicorn.conf.py"),
         "flankwise_service.wsgi:app"],
        cwd=folder, capture_output=True, text=True, check=False, timeout=60,
        env={"PYTHONPATH": paths, "FLANKWISE_BIND": f"127.0.0.1:{free_port()}", **environment},
    )  # fmt: skip


@pytest.mark.parametrize(
    ("rest", "value", "says"),
    [
        ("TOKENFILE", "/etc/tokens", "there is no such setting; FLANKWISE_TOKEN_FILE is near"),
        ("TOKEN_FILE", "/nonexistent", "FLANKWISE_TOKEN_FILE='/nonexistent' can't be read: No such"),
        ("TOKEN_FILE", "nonsense", "FLANKWISE_TOKEN_FILE='nonsense': lines 1: write name, scopes"),
        ("TOKEN_FILE", "binary", "FLANKWISE_TOKEN_FILE='binary' can't be read: 'utf-8'"),
        ("TOKENS", "office", "FLANKWISE_TOKENS: lines 1: write name, scopes"),
        ("WORKERS", "zero", "FLANKWISE_WORKERS='zero': give a whole number of processes"),
        ("WORKERS", "0", "FLANKWISE_WORKERS='0': give a whole number of processes"),
        ("THREADS", "many", "FLANKWISE_THREADS='many': give a whole number of threads"),
        ("BIND", "", "FLANKWISE_BIND='': give HOST:PORT"),
    ],
)  # fmt: skip
def test_a_start_that_is_refused_says_why_in_one_line(
    tmp_path: Path, rest: str, value: str, says: str
) -> None:
    (tmp_path / "nonsense").write_text("what is this")
    (tmp_path / "binary").write_bytes(b"\xff\xfe")
    before = set(Path("/dev/shm").glob("flankwise-counts-*"))
    found = started(tmp_path, **{PREFIX + rest: value})
    assert found.returncode == 1
    (line,) = found.stderr.splitlines()
    assert line.startswith("flankwise doesn't start: ")
    assert says in line
    left = set(Path("/dev/shm").glob("flankwise-counts-*")) - before
    assert not [one for one in left if not Path("/proc", one.name.split("-")[2]).exists()]


@pytest.mark.parametrize(
    ("name", "is_far"),
    [
        (("127.0.0.1", 80), False), (("127.9.9.9", 80), False), (("::1", 80, 0, 0), False),
        (("::ffff:127.0.0.1", 80, 0, 0), False), ("/run/flankwise/http.sock", False), (b"", False),
        (("0.0.0.0", 80), True), (("::", 80, 0, 0), True), (("192.0.2.7", 80), True),
        (("fe80::1%eth0", 80, 0, 2), True), (("::ffff:192.0.2.7", 80, 0, 0), True),
    ],
)  # fmt: skip
def test_a_door_that_others_reach_is_warned_of(name: object, is_far: bool) -> None:
    said = warning([name], Access())
    assert bool(said) is is_far
    assert ("FLANKWISE_TOKEN_FILE" in said) is is_far
    assert warning([name], Access("office read " + "0" * 64)) == ""


@pytest.mark.parametrize("guarded", [False, True])
def test_a_service_open_to_all_says_so_when_it_starts(tmp_path: Path, guarded: bool) -> None:
    (tmp_path / "tokens").write_text("office read " + "0" * 64)
    given = {"FLANKWISE_TOKEN_FILE": "tokens"} if guarded else {}
    with gunicorn(tmp_path, "--bind", f"0.0.0.0:{free_port()}", environment=given):
        said = (tmp_path / "gunicorn.log").read_text()
    assert said.count("OPEN TO ALL: 0.0.0.0 port") == (not guarded)
