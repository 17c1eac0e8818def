"""Results: frozen, comparable, printable, and back to plain data."""

from __future__ import annotations

import csv
import io
import json

from flankwise.result import Result, to_csv
from flankwise.results import HealthReply, LimitsReply
from support.contract import ROOT

EXAMPLE = json.loads((ROOT / "openapi/examples/threads_limits.json").read_text("utf-8"))[0]["reply"]


def test_a_reply_builds_whole() -> None:
    limits = LimitsReply.of(EXAMPLE)
    assert limits.pitch_diameter.max == EXAMPLE["pitch_diameter"]["max"]
    assert isinstance(limits.source, tuple)
    assert limits.source[0].document == EXAMPLE["source"][0]["document"]
    assert limits.basic.raw == EXAMPLE["basic"]
    assert limits == LimitsReply.of(dict(EXAMPLE, added=1))
    assert limits.to_dict() == EXAMPLE


def test_a_copy_is_a_copy() -> None:
    limits = LimitsReply.of(EXAMPLE)
    limits.to_dict()["basic"]["pitch"] = 0
    assert limits.basic.raw["pitch"] != 0


def test_results_print_well() -> None:
    health = HealthReply.of({"status": "alive", "version": "1"})
    assert repr(health) == "HealthReply(status='alive', version='1')"
    assert str(health) == "status   alive\nversion  1"
    text = str(LimitsReply.of(EXAMPLE))
    assert "pitch diameter max" in text
    assert "raw" not in repr(LimitsReply.of(EXAMPLE))


def test_long_lists_and_texts_are_cut_when_printed() -> None:
    result = Result({"items": [{"a": place} for place in range(9)], "text": "x" * 500, "no": []})
    text = str(result)
    assert "… and 3 more" in text
    assert max(map(len, text.splitlines())) < 160
    assert str(Result({"flag": True, "off": False, "none": None, "n": 0.1 + 0.2})) == (
        "flag  yes\noff   no\nnone  -\nn     0.3"
    )
    assert str(Result({})) == ""


def test_notebooks_get_a_table_without_markup_of_others() -> None:
    html = Result({"name": "<script>alert(1)</script>"})._repr_html_()
    assert html.startswith("<table>")
    assert "<script>" not in html


def test_csv_joins_nested_names_and_all_rows() -> None:
    text = to_csv([LimitsReply.of(EXAMPLE), Result({"designation": 'a, "b"', "more": [1, 2]})])
    rows = list(csv.DictReader(io.StringIO(text)))
    assert float(rows[0]["pitch_diameter.max"]) == EXAMPLE["pitch_diameter"]["max"]
    assert (rows[1]["designation"], rows[1]["more"]) == ('a, "b"', "1; 2")
