"""Every generated file and the text it should hold."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import yaml
from flask import Flask

from contract.writing import changes, examples, openapi, results
from flankwise_service.config import Settings
from flankwise_service.web.app import build_app

ROOT = Path(__file__).resolve().parents[3]
CONTRACT = ROOT / "openapi" / "openapi.yaml"
SERVED = ROOT / "service" / "flankwise_service" / "web" / "openapi.json"
RESULTS = ROOT / "sdk" / "flankwise" / "results.py"
ASKS = ROOT / "sdk" / "flankwise" / "asks.py"
RECORDED = ROOT / "sdk" / "flankwise" / "testing" / "recorded.ndjson"


def files() -> dict[Path, str]:
    """Return the text that each generated file should hold, by its path."""
    app = quiet_app()
    operations = app.extensions["flankwise"].operations
    played = examples.recorded(app)
    contract = openapi.document(app, played)
    found = {
        examples.FOLDER / f"{operation_id}.json": examples.text_of(each)
        for operation_id, each in played.items()
    }
    found[CONTRACT] = yaml_text(contract)
    found[SERVED] = json.dumps(contract, ensure_ascii=False, separators=(",", ":"))
    found[RESULTS] = formatted(results.results_text(operations))
    found[ASKS] = formatted(results.asks_text(operations))
    found[RECORDED] = examples.for_the_sdk(operations, played)
    return found


def released() -> dict[Path, str]:
    """Return the contract as a release freezes it: what callers rely on, without the words."""
    app = quiet_app()
    contract = openapi.document(app, examples.recorded(app))
    frozen = changes.relied_on(contract)
    head = "# What callers of this version rely on. Frozen by write.py --release; don't edit.\n"
    name = f"{contract['info']['version']}.yaml"
    return {CONTRACT.parent / "released" / name: head + yaml_text(frozen).partition("\n")[2]}


def quiet_app() -> Flask:
    """Return the application with its default settings, and no access log."""
    return build_app(Settings(access_log=False))


def yaml_text(contract: dict[str, Any]) -> str:
    """Return the contract as YAML."""
    head = "# Made by tests/contract/write.py from routes and schemas; don't edit.\n"
    dumper = _Dumper
    return head + yaml.dump(contract, Dumper=dumper, sort_keys=False, allow_unicode=True, width=100)


class _Dumper(yaml.SafeDumper):
    """Writes text of several lines as a block, and everything in full (no anchors)."""

    def ignore_aliases(self, data: object) -> bool:
        return True


def _text(dumper: yaml.SafeDumper, text: str) -> yaml.ScalarNode:
    style = "|" if "\n" in text else None
    return dumper.represent_scalar("tag:yaml.org,2002:str", text, style=style)


_Dumper.add_representer(str, _text)


def formatted(code: str) -> str:
    """Return Python `code` as the formatter writes it."""
    ruff = [sys.executable, "-m", "ruff"]
    for command in (
        [*ruff, "check", "--fix-only", "--quiet", "--select", "F401,I", "-"],
        [*ruff, "format", "--quiet", "-"],
    ):
        done = subprocess.run(
            [*command, "--stdin-filename", str(RESULTS)] if "check" in command else command,
            input=code, capture_output=True, text=True, check=True, cwd=ROOT,
        )  # fmt: skip
        code = done.stdout
    return code
