"""What some results can do: save a program, show a drawing, be a table; and the batch command."""

from __future__ import annotations

import csv
import io
import json
import pickle
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
import responses

import flankwise
from flankwise.__main__ import main
from flankwise.results import HelixReply, PlanReply, ProgramReply, SheetReply
from support.contract import ROOT
from support.server import Server

URL = "http://shop.test"
OURS = {"Service-Version": flankwise.__version__}


def example(operation: str, words: str = "") -> dict[str, Any]:
    stored = json.loads((ROOT / f"openapi/examples/{operation}.json").read_text("utf-8"))
    return next(
        one for one in stored
        if one["status"] == 200 and words in one["name"] and isinstance(one["reply"], dict)
    )  # fmt: skip


PLAN = PlanReply.of(example("plan")["reply"])
REFUSED = PlanReply.of(example("plan", "too shallow")["reply"])


def test_a_program_is_saved_byte_for_byte(tmp_path: Path) -> None:
    assert PLAN.program is not None
    path = PLAN.save_program(tmp_path / "a.nc")
    assert path.read_bytes() == PLAN.program.text.encode("ascii")
    assert PLAN.program.save_program(str(tmp_path / "b.nc")).read_bytes() == path.read_bytes()
    program = ProgramReply.of(example("program")["reply"])
    assert program.save_program(tmp_path / "c.nc").read_bytes() == program.text.encode("ascii")


def test_there_is_no_program_of_a_refused_plan(tmp_path: Path) -> None:
    with pytest.raises(flankwise.NoProgram, match="is missing") as caught:
        REFUSED.save_program(tmp_path / "a.nc")
    assert isinstance(caught.value, flankwise.FlankwiseError)
    assert list(tmp_path.iterdir()) == []


def test_a_plan_prints_in_a_dozen_lines() -> None:
    text = str(PLAN)
    assert len(text.splitlines()) <= 16
    for words in ("7/8-14 UNF-2A", "ready", "12.25 turns", "three wires", "flankwise 1.0.0"):
        assert words in text
    told = str(REFUSED)
    assert "refused" in told
    assert "is missing" in told
    taper = dict(PLAN.raw, gauging=None, name="")
    assert "gauging" not in str(PlanReply.of(taper))
    markup = PlanReply.of(dict(PLAN.raw, name="<b>"))._repr_html_()
    assert markup.startswith("<table>")
    assert "&lt;b&gt;" in markup


def test_every_result_says_itself_in_a_line() -> None:
    said = repr(PLAN)
    assert said.startswith("PlanReply(unit='in', made_by='flankwise 1.0.0', name='sensor adapter'")
    assert "limits=<LimitsReply>" in said
    assert len(said) < 440
    assert said.endswith(", …)")
    assert "passes=<" in repr(PLAN.gauging) or "table=<9 CorrectionRowReply>" in repr(PLAN.gauging)


def test_segments_are_the_table_that_the_service_writes() -> None:
    stored = json.loads((ROOT / "openapi/examples/path_helix.json").read_text("utf-8"))
    table = next(one for one in stored if one.get("accept") == "text/csv")
    whole = next(
        one for one in stored if "accept" not in one and one["request"] == table["request"]
    )
    ours = list(csv.reader(io.StringIO(HelixReply.of(whole["reply"]).to_csv())))
    theirs = list(csv.reader(io.StringIO(table["reply"])))
    assert ours[0] == theirs[0]
    assert len(ours) == len(theirs) > 10

    def figures(row: list[str]) -> list[object]:
        return [float(cell) if cell.lstrip("-")[:1].isdigit() else cell for cell in row]

    assert [figures(row) for row in ours] == [figures(row) for row in theirs]


def test_any_result_is_a_table_of_one_row() -> None:
    (row,) = csv.DictReader(io.StringIO(PLAN.limits.to_csv()))
    assert float(row["pitch_diameter.max"]) == 0.827


def test_a_drawing_is_text_that_shows_itself(tmp_path: Path) -> None:
    stored = json.loads((ROOT / "openapi/examples/plan_drawing.json").read_text("utf-8"))
    text = next(one["reply"] for one in stored if one["status"] == 200)
    with responses.RequestsMock() as mock:
        mock.post(f"{URL}/v1/plan/drawing", body=text, headers=OURS)
        drawn = flankwise.Client(URL).plan_drawing(**PLAN.job, view="section")
        assert json.loads(mock.calls[0].request.body)["made_by"] == "flankwise 1.0.0"
    assert isinstance(drawn, flankwise.Drawing)
    assert ET.fromstring(drawn._repr_svg_()).tag.endswith("svg")
    assert drawn.save(tmp_path / "a.svg").read_bytes() == text.encode()
    assert repr(drawn) == f"<Drawing of {len(text)} characters>"
    assert drawn == text
    assert pickle.loads(pickle.dumps(drawn)) == drawn


def test_a_sheet_shows_itself_where_it_can_do_nothing() -> None:
    with responses.RequestsMock() as mock:
        mock.post(f"{URL}/v1/plan/sheet", body='<p class="a">é</p>', headers=OURS)
        sheet = flankwise.Client(URL).plan_sheet(**PLAN.job)
    shown = sheet._repr_html_()
    assert "<iframe sandbox " in shown
    assert "&lt;p class=&quot;a&quot;&gt;é" in shown
    drawings = SheetReply.of(example("plan_sheet")["reply"]).drawings
    assert ET.fromstring(drawings[0]._repr_svg_()).tag.endswith("svg")


def test_a_plans_own_job_gives_the_same_plan(server: Server) -> None:
    job = json.loads((ROOT / "sdk/examples/coolant-port.json").read_text("utf-8"))
    with flankwise.Client(server.url) as shop:
        first = shop.plan(**job)
        stored = json.loads(json.dumps(first.job))
        again = shop.plan_document(stored)
    assert again.program == first.program
    assert again.job == first.job
    assert stored["made_by"] == first.made_by == f"flankwise {flankwise.__version__}"


def test_a_long_path_tells_how_far_it_is_and_when_it_was_cut(server: Server) -> None:
    asked = example("path_helix")["request"]
    seen: list[int] = []
    with flankwise.Client(server.url) as shop:
        whole = shop.path_helix(**asked)
        pieces = list(shop.path_helix_segments(**asked, progress=seen.append))
        passes = [one for one in asked["passes"] for _ in range(50)]
        fine = asked | {"greatest_sweep": 90, "passes": passes}
        many = list(shop.path_helix_segments(**fine, progress=seen.append))
    assert tuple(pieces) == whole.segments
    assert seen[0] == len(pieces)
    assert seen[1:-1] == list(range(1000, len(many) + 1, 1000))[: len(seen) - 2]
    assert seen[-1] == len(many) > 1000
    line = json.dumps(pieces[0].to_dict())
    with responses.RequestsMock() as mock:
        mock.post(f"{URL}/v1/path/helix", body=line + "\n", headers=OURS)
        with pytest.raises(flankwise.Unreachable, match="cut after 1 segments"):
            list(flankwise.Client(URL).path_helix_segments(**asked))


GOOD = {"operation": "threads_read", "request": {"designation": "M8-6g", "unit": "mm"}, "key": "a"}
BAD = {"operation": "threads_read", "request": {"designation": "M8-6g", "unit": "cm"}, "key": "b"}


def batch(server: Server, folder: Path, text: str, out: str = "out.ndjson") -> int:
    (folder / "in.ndjson").write_text(text)
    asked = ["batch", str(folder / "in.ndjson"), "--out", str(folder / out)]
    return main([*asked, "--service", server.url])


def test_a_batch_at_a_shell(
    server: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = [json.dumps(one) for one in (GOOD, BAD, GOOD)]
    assert batch(server, tmp_path, "\n\n".join(lines)) == 1
    told = capsys.readouterr()
    assert told.out.startswith("3 asked, 1 refused; written: ")
    assert "asking 3/3" in told.err
    replies = [json.loads(line) for line in (tmp_path / "out.ndjson").read_text().splitlines()]
    assert [(one["key"], one["status"]) for one in replies] == [("a", 200), ("b", 422), ("a", 200)]
    assert batch(server, tmp_path, lines[0]) == 0


@pytest.mark.parametrize("text", ["{", "[1]", "[" * 100_000, "\udcff"])
def test_a_file_of_requests_that_cant_be_read_is_said(
    text: str, server: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "in.ndjson").write_text(text, "utf-8", errors="surrogateescape")
    asked = ["batch", str(tmp_path / "in.ndjson"), "--out", str(tmp_path / "o")]
    assert main([*asked, "--service", server.url]) == 2
    assert "in.ndjson" in capsys.readouterr().err


def test_a_batch_that_cant_be_written_is_said(server: Server, tmp_path: Path) -> None:
    assert batch(server, tmp_path, json.dumps(GOOD), "no/such/folder") == 2
