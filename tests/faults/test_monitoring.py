"""The sample alerts and the dashboard ask for counts that the service really gives."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Iterator

import pytest
import yaml
from flask.testing import FlaskClient

from support.server import ROOT

FOLDER = ROOT / "deploy" / "monitoring"
ALERTS = yaml.safe_load((FOLDER / "alerts.yaml").read_text("utf-8"))
BOARD = json.loads((FOLDER / "dashboard.json").read_text("utf-8"))
RULES = [rule for group in ALERTS["groups"] for rule in group["rules"]]


def expressions() -> Iterator[str]:
    for rule in RULES:
        yield rule["expr"]
    for panel in BOARD["panels"]:
        for target in panel["targets"]:
            yield target["expr"]


def test_every_count_asked_for_is_given_with_the_labels_asked_for(web: FlaskClient) -> None:
    for designation in ("M8-6g", "none"):
        web.get(f"/v1/threads/limits?designation={designation}&unit=mm").close()
    given = web.get("/metrics").text
    for expression in expressions():
        for name in re.findall(r"\bflankwise_\w+", expression):
            assert re.search(rf"^{name}(\{{|\s)", given, re.MULTILINE), name
        labels = re.findall(r"by \(([\w, ]+)\)", expression)
        for label in {word for found in labels for word in found.split(", ")} - {"instance"}:
            assert f'{label}="' in given, label


def test_every_alert_says_what_to_do() -> None:
    assert len({rule["alert"] for rule in RULES}) == len(RULES) == 6
    for rule in RULES:
        assert set(rule) == {"alert", "expr", "for", "labels", "annotations"}
        assert rule["labels"]["severity"] in ("page", "ticket")
        assert set(rule["annotations"]) == {"summary", "change"}


def test_panels_dont_overlap() -> None:
    places = [(panel["gridPos"]["x"], panel["gridPos"]["y"]) for panel in BOARD["panels"]]
    assert len(set(places)) == len(places) == 6
    assert len({panel["id"] for panel in BOARD["panels"]}) == 6


def test_prometheus_takes_the_rules() -> None:
    promtool = shutil.which("promtool")
    if promtool is None:
        pytest.skip("promtool isn't installed")
    told = subprocess.run(
        [promtool, "check", "rules", str(FOLDER / "alerts.yaml")],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert told.returncode == 0, told.stdout + told.stderr
