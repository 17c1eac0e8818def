"""The sample alerts and the dashboard ask for counts that the service really gives."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from contextlib import suppress
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
import yaml
from prometheus_client.parser import text_string_to_metric_families

from flankwise_service.web.problems import CODES
from support.server import ROOT, Server

FOLDER = ROOT / "deploy" / "monitoring"
ALERTS = yaml.safe_load((FOLDER / "alerts.yaml").read_text("utf-8"))
BOARD = json.loads((FOLDER / "dashboard.json").read_text("utf-8"))
RULES = [rule for group in ALERTS["groups"] for rule in group["rules"]]


@pytest.fixture(scope="module")
def given(server: Server) -> dict[str, set[str]]:
    """Return the labels of every count a real service gives, of all its samples together."""
    for designation in ("M8-6g", "none"):
        with suppress(HTTPError):
            urlopen(f"{server.url}/v1/threads/limits?designation={designation}&unit=mm").read()
    found: dict[str, set[str]] = {}
    for family in text_string_to_metric_families(urlopen(server.url + "/metrics").read().decode()):
        for sample in family.samples:
            found.setdefault(sample.name, set()).update(sample.labels)
    return found


PANELS = [
    (f"{panel['title']} {target['refId']}", target["expr"], target.get("legendFormat", ""))
    for panel in BOARD["panels"]
    for target in panel["targets"]
]
ASKED = [(rule["alert"], rule["expr"], json.dumps(rule["annotations"])) for rule in RULES] + PANELS
SCRAPED = {"instance", "job"}
"""Labels that Prometheus adds to whatever it takes in; `up` is its own too."""


@pytest.mark.parametrize(("name", "expression", "said"), ASKED, ids=[row[0] for row in ASKED])
def test_every_count_asked_for_is_given_with_the_labels_asked_for(
    given: dict[str, set[str]], name: str, expression: str, said: str
) -> None:
    asked = re.findall(r"\b(flankwise_\w+|up)\b(?:\{([^}]*)\})?", expression)
    assert asked
    grouped = {word.strip() for found in re.findall(r"by \(([^)]*)\)", expression)
               for word in found.split(",")}  # fmt: skip
    for count, chosen in asked:
        labels = SCRAPED | given.get(count, set())
        assert count in given or count == "up"
        assert grouped <= labels
        matched = re.findall(r"(\w+)\s*(=~|!~|!=|=)\s*\"([^\"]*)\"", chosen)
        assert {label for label, _, _ in matched} <= labels
        assert all(value in CODES for label, _, value in matched if label == "code")
    shown = set(re.findall(r"\{\{ *(?:\$labels\.)?(\w+) *\}\}", said))
    assert shown <= (grouped - {"le"} if expression.count("by (") else SCRAPED)


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
