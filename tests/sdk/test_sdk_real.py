"""The SDK and the shell command against a real gunicorn, and against a service that stumbles."""

from __future__ import annotations

import ast
import json
import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest

import flankwise
from flankwise.__main__ import COMMANDS, main
from flankwise_service import __version__
from support.server import ROOT, Server


def test_the_whole_way_there_and_back(server: Server) -> None:
    with flankwise.Client(server.url) as shop:
        assert shop.readyz().status == "ready"
        limits = shop.threads_limits("7/8-14 UNF-2A", unit="in")
        # ASME B1.1-2003, table of limits of size, row 7/8-14 UNF-2A.
        assert (limits.pitch_diameter.min, limits.pitch_diameter.max) == (0.8216, 0.8270)
        assert shop.contract()["info"]["version"] == __version__
        with pytest.raises(flankwise.Refused) as caught:
            shop.threads_limits("7/8-14 UNF-2A", unit="cm")  # type: ignore[arg-type]
        assert caught.value.pointers == ("/unit",)
        assert caught.value.request_id


def test_many_threads_one_client_no_mixing(server: Server) -> None:
    asked = ["7/8-14 UNF-2A", "1/4-20 UNC-2B", "M20x1.5-6H", "M8x1.25-6g"] * 8
    seen: dict[int, str] = {}
    with flankwise.Client(server.url) as shop:

        def ask(place: int) -> None:
            seen[place] = shop.threads_limits(asked[place], unit="mm").designation

        threads = [threading.Thread(target=ask, args=(place,)) for place in range(len(asked))]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    expected = dict(zip(asked[:4], (seen[place] for place in range(4)), strict=True))
    assert (seen[0], seen[1]) == (asked[0], asked[1])
    assert len(set(expected.values())) == 4
    assert [seen[place] for place in range(len(asked))] == [expected[name] for name in asked]


class Stumbling(BaseHTTPRequestHandler):
    """Breaks off, then is busy, then answers."""

    tries: list[tuple[str, bytes]]
    protocol_version = "HTTP/1.1"

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.tries.append((self.command, body))
        if len(self.tries) == 1:
            self.close_connection = True
            return
        status = 503 if len(self.tries) == 2 else 200
        answer = b"{}"
        self.send_response(status)
        if status == 503:
            self.send_header("Retry-After", "0")
        self.send_header("Service-Version", __version__)
        self.send_header("Content-Length", str(len(answer)))
        self.end_headers()
        self.wfile.write(answer)

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002
        pass


@pytest.fixture
def stumbling() -> Iterator[tuple[str, list[tuple[str, bytes]]]]:
    tries: list[tuple[str, bytes]] = []
    handler = type("Handler", (Stumbling,), {"tries": tries})
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as httpd:
        thread = threading.Thread(target=httpd.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{httpd.server_port}", tries
        httpd.shutdown()


def test_a_post_survives_a_broken_connection_and_a_busy_moment(
    stumbling: tuple[str, list[tuple[str, bytes]]],
) -> None:
    from flankwise.transport import Transport

    url, tries = stumbling
    with Transport(url) as transport:
        assert transport.post_json("/x", {"unit": "in"}) == {}
    assert tries == [("POST", b'{"unit":"in"}')] * 3


def shell(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("FLANKWISE")}
    return subprocess.run(
        [sys.executable, "-m", "flankwise", *arguments],
        env={**kept, "PYTHONPATH": str(ROOT / "sdk"), **environment},
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip


def test_limits_at_a_shell(server: Server) -> None:
    done = shell("limits", "7/8-14 UNF-2A", "--unit", "in", "--json", FLANKWISE_URL=server.url)
    assert (done.returncode, done.stderr) == (0, "")
    told = json.loads(done.stdout)
    assert told["pitch_diameter"] == {"min": 0.8216, "max": 0.827}
    done = shell("limits", "7/8-14 UNF-2A", "--unit", "in", "--service", server.url)
    assert "pitch diameter      0.8216    0.8270" in done.stdout.splitlines()


def test_a_refusal_at_a_shell_says_what_to_change(server: Server) -> None:
    done = shell("limits", "7/8-14 UNG-2A", "--unit", "in", FLANKWISE_URL=server.url)
    assert (done.returncode, done.stdout) == (1, "")
    assert "/designation" in done.stderr
    assert "7/8-14 UNF" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        ((), 2), (("--help",), 0), (("--version",), 0), (("limits",), 2),
        (("limits", "M8", "--unit", "cm"), 2), (("nothing",), 2),
        (("limits", "M8-6g", "--unit", "mm"), 3),
        (("limits", "M8-6g", "--unit", "mm", "--service", "nowhere"), 3),
    ],
)  # fmt: skip
def test_exit_codes(
    arguments: tuple[str, ...], code: int, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    monkeypatch.delenv("FLANKWISE_URL", raising=False)
    try:
        found: Any = main(arguments)
    except SystemExit as stop:  # argparse ends so
        found = stop.code
    assert found == code
    said = capsys.readouterr()
    assert said.out or said.err


def test_help_needs_nothing_but_the_standard_library() -> None:
    script = (
        "import sys\nfrom flankwise.__main__ import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "print(sorted({n.partition('.')[0] for n in sys.modules}), file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        env={**os.environ, "PYTHONPATH": str(ROOT / "sdk")},
        capture_output=True, text=True, timeout=60, check=True,
    )  # fmt: skip
    for name in COMMANDS:
        assert name in done.stdout
    loaded = set(ast.literal_eval(done.stderr))
    assert not loaded & {"requests", "urllib3", "http", "ssl", "flankwise_service"}


def test_every_command_has_its_help(capsys: pytest.CaptureFixture[str]) -> None:
    for name in COMMANDS:
        with pytest.raises(SystemExit) as stop:
            main([name, "--help"])
        assert stop.value.code == 0
        assert "--service" in capsys.readouterr().out


def test_the_packages_names_are_all_there() -> None:
    for name in flankwise.__all__:
        assert getattr(flankwise, name) is not None
    assert set(flankwise.__all__) == set(dir(flankwise))
    with pytest.raises(AttributeError, match="nothing_like_it"):
        flankwise.nothing_like_it  # noqa: B018


CALLER = """
import json
from collections.abc import Iterator
import flankwise
from flankwise.asks import ToothAsk
from flankwise.results import PlanReply, RequestReply, SegmentReply
from flankwise.testing import FakeService

def done(count: int) -> None: ...

TOOTH: ToothAsk = {"flank_angle_upper": 30, "flank_angle_lower": 30, "tip_width": 0.1, "depth": 1}
with flankwise.Client("http://a", token="t", timeout=3.0, verify="/ca.pem") as shop:
    limits = shop.threads_limits("M8-6g", unit="mm")
    reveal_type(limits.pitch_diameter.max)
    plan = shop.plan(
        unit="mm", thread={"designation": "M8-6g", "length": 8}, boss={"depth": 10},
        stock={"material": "303", "shape": "round"},
    )
    reveal_type(plan.program)
    again = shop.plan(**plan.job)
    drawn: str = shop.plan_drawing(**plan.job, view="section")
    items = [{"operation": "plan", "request": dict(plan.job)}]
    told: Iterator[RequestReply] = shop.batch_stream([
        {"operation": "plan", "request": dict(plan.job)}], progress=done)
    pieces: Iterator[SegmentReply] = shop.path_helix_segments(
        progress=done, unit="mm", side="internal", pitch=1.5, length=16, blank_diameter=18.5,
        cutter={"diameter": 12, "flutes": 4, "tooth": TOOTH}, passes=[{"radius": 4, "feed": 200}],
        clearance=0.5, clearance_height=2,
    )
    table: str = flankwise.to_csv([limits, again.limits])
    print(plan.save_program("a.nc").name, json.dumps(plan.to_dict()))
try:
    pass
except flankwise.Refused as error:
    for fault in error.faults:
        print(fault.pointer, fault.change)
with FakeService() as service:
    service.busy()
"""
WRONG = {
    'shop.threads_limits("M8-6g")': "Missing named argument",
    'shop.threads_limits("M8-6g", unit="cm")': "incompatible type",
    "shop.livez().stat": "has no attribute",
    'shop.plan(unit="mm", thread={"designation": "M8"}, stock={"material": "303"})': "Missing key",
}


def typed(folder: Path, text: str) -> subprocess.CompletedProcess[str]:
    (folder / "caller.py").write_text(text)
    return subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--cache-dir", str(folder / "cache"), "caller.py"],
        env={**os.environ, "MYPYPATH": str(ROOT / "sdk")},
        capture_output=True, text=True, timeout=240, check=False, cwd=folder,
    )  # fmt: skip


def test_the_sdk_is_typed_for_its_callers(tmp_path: Path) -> None:
    done = typed(tmp_path, CALLER)
    assert done.returncode == 0, done.stdout
    assert 'Revealed type is "float | None"' in done.stdout
    assert 'Revealed type is "flankwise.results.ProgramReply | None"' in done.stdout
    lines = ["import flankwise", "shop = flankwise.Client()", *WRONG]
    done = typed(tmp_path, "\n".join(lines) + "\n")
    for number, told in enumerate(WRONG.values(), 3):
        assert any(
            line.startswith(f"caller.py:{number}: ") and told in line
            for line in done.stdout.splitlines()
        ), (number, done.stdout)


def test_options_of_all_commands_stand_before_or_behind(server: Server) -> None:
    for arguments in (
        ("--service", server.url, "--wait", "5", "limits", "M8-6g", "--unit", "mm"),
        ("limits", "M8-6g", "--unit", "mm", "--service", server.url, "--timeout", "9"),
    ):
        done = shell(*arguments)
        assert (done.returncode, done.stderr) == (0, "")


def test_waiting_for_a_service_ends() -> None:
    with pytest.raises(flankwise.Unreachable):
        flankwise.Client("http://127.0.0.1:9", retries=0).wait_until_ready(0.3)


def test_waiting_for_a_service_that_starts(
    stumbling: tuple[str, list[tuple[str, bytes]]], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []

    def readyz(self: Any) -> None:
        asked.append(1)
        if len(asked) < 3:
            raise flankwise.Unreachable("not yet")

    monkeypatch.setattr(flankwise.Client, "readyz", readyz)
    flankwise.Client(stumbling[0]).wait_until_ready(20)
    assert len(asked) == 3
    flankwise.Client(stumbling[0]).wait_until_ready(0)
    assert len(asked) == 3


@pytest.mark.parametrize("text", ["", "[1]", "{", "[" * 100_000, '{"a": NaN'])
def test_a_job_document_that_cant_be_read_is_said(
    text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "job.json"
    path.write_text(text)
    assert main(["plan", str(path), "--service", "http://127.0.0.1:9"]) == 2
    assert str(path) in capsys.readouterr().err


def test_a_whole_plan_is_no_job_document(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "saved.plan.json"
    path.write_text(json.dumps({"verdict": "ready", "checks": [], "job": {"unit": "in"}}))
    assert main(["plan", str(path), "--service", "http://127.0.0.1:9"]) == 2
    said = capsys.readouterr().err
    assert f'{path} is a whole plan: give its "job" alone' in said
    assert len([line for line in said.splitlines() if "error" in line]) == 1


def job_file(folder: Path, **changed: Any) -> Path:
    job = json.loads((ROOT / "sdk/examples/sensor-adapter.json").read_text("utf-8"))
    path = folder / "adapter.json"
    path.write_text(json.dumps(job | changed))
    return path


def test_a_job_is_planned_at_a_shell(
    server: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job, out = job_file(tmp_path), tmp_path / "out"
    assert main(["plan", str(job), "--service", server.url, "--out", str(out)]) == 0
    said = capsys.readouterr()
    assert "7/8-14 UNF-2A" in said.out
    assert "planning" in said.err
    names = {path.suffix for path in out.iterdir()}
    assert {".nc", ".svg", ".json", ".html"} <= names
    program = next(out.glob("*.nc")).read_text("utf-8")
    assert program.startswith("%")
    plan = json.loads(next(out.glob("*.plan.json")).read_text("utf-8"))
    assert plan["program"]["text"] == program


def test_a_job_that_cant_be_cut_ends_with_one(
    server: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """0.875 in of full thread on a blank milled only 0.750 in deep above a hexagon shoulder."""
    job = job_file(tmp_path, boss={"depth": 0.75, "shoulder": True})
    out = tmp_path / "out"
    assert main(["plan", str(job), "--service", server.url, "--out", str(out)]) == 1
    assert list(out.glob("*.nc")) == []
    assert "verdict: refused" in capsys.readouterr().out
    assert main(["plan", str(job), "--quiet", "--service", server.url]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    (line,) = [one for one in said.err.splitlines() if one.startswith("flankwise: the plan is")]
    assert line.startswith("flankwise: the plan is refused: ")
    assert "0.75" in line
    job = job_file(tmp_path, quantiti=3)
    assert main(["plan", str(job), "--service", server.url]) == 1
    assert "near: quantity" in capsys.readouterr().err


def test_who_stops_reading_the_output_is_told_nothing_more(server: Server) -> None:
    """As `| head -c 0` does: the pipe is closed before anything is written."""
    read, write = os.pipe()
    os.close(read)
    done = subprocess.run(
        [sys.executable, "-m", "flankwise", "limits", "M8-6g", "--unit", "mm"],
        env={"PYTHONPATH": str(ROOT / "sdk"), "FLANKWISE_URL": server.url},
        stdout=write, stderr=subprocess.PIPE, timeout=60, check=False,
    )  # fmt: skip
    os.close(write)
    assert (done.returncode, done.stderr) == (141, b"")


def test_limits_in_process(server: Server, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["limits", "M20x1.5-6H", "--unit", "mm", "--service", server.url]
    assert main(asked) == 0
    assert "pitch diameter      19.026    19.216" in capsys.readouterr().out.splitlines()
    assert main([*asked, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["major_diameter"] == {"min": 20.0, "max": None}
    assert main(["limits", "M20x1.5-9Z", "--unit", "mm", "--service", server.url]) == 1


def test_a_folder_that_cant_be_made_is_said(server: Server, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file is in the way")
    asked = [
        "plan",
        str(job_file(tmp_path)),
        "--service",
        server.url,
        "--out",
        str(tmp_path / "out"),
    ]
    assert main(asked) == 2


def test_progress_on_a_terminal_is_one_line() -> None:
    import io

    from flankwise.commands.files import Progress

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    screen = Terminal()
    progress = Progress(screen)
    progress.step("reading the job ...")
    progress.count(3, 10, "drawing")
    progress.end()
    assert "\n" not in screen.getvalue()
    assert "[#########....................." in screen.getvalue()
    plain = io.StringIO()
    progress = Progress(plain)
    for done in range(1, 101):
        progress.count(done, 100, "planning")
    progress.end()
    assert len(plain.getvalue().splitlines()) == 10
