"""A stranger's script, written from the contract alone: a client that a general-purpose generator
made of openapi/openapi.yaml runs the demo job.

The generator is openapi-python-client from the package index, in an environment of its own. Nothing
of the SDK and nothing of the service is on the script's path.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import venv
from pathlib import Path

import pytest

from support.contract import ROOT
from support.server import Server

GENERATOR = "openapi-python-client==0.29.1"
SCRIPT = """
import importlib, json, sys
sys.path.insert(0, sys.argv[3])
from shop_client import Client
from shop_client.api.plan import plan
from shop_client.api.threads import threads_limits
from shop_client.models import JobAsk, LimitsReply, PlanReply, Problem
from shop_client.models.threads_limits_unit import ThreadsLimitsUnit

client = Client(base_url=sys.argv[1], raise_on_unexpected_status=True)
limits = threads_limits.sync(client=client, designation="7/8-14 UNF-2A", unit=ThreadsLimitsUnit("in"))
assert isinstance(limits, LimitsReply), limits
job = json.load(open(sys.argv[2]))
made = plan.sync(client=client, body=JobAsk.from_dict(job))
assert isinstance(made, PlanReply), made
again = plan.sync(client=client, body=made.job)
assert again.program.text == made.program.text
job["boss"]["depth"] = "deep"
refused = plan.sync(client=client, body=JobAsk.from_dict(job))
assert isinstance(refused, Problem), refused
print(json.dumps({
    "pitch": limits.pitch_diameter.max_, "verdict": str(made.verdict), "turns": made.motion.turns,
    "program": made.program.text, "pointer": refused.faults[0].pointer,
    "flankwise": "flankwise" in sys.modules,
}))
"""


def run(*command: object, **options: object) -> subprocess.CompletedProcess[str]:
    kept = {
        name: text for name, text in os.environ.items() if name not in ("PYTHONPATH", "VIRTUAL_ENV")
    }
    done = subprocess.run(
        list(map(str, command)), capture_output=True, text=True, timeout=280, check=False, env=kept,
        **options,  # type: ignore[call-overload]
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-3000:]
    return done


@pytest.mark.slow
@pytest.mark.timeout(600)
def test_a_generated_client_runs_the_demo_job(server: Server, tmp_path: Path) -> None:
    venv.create(tmp_path / "env", with_pip=True)
    python = tmp_path / "env" / "bin" / "python"
    try:
        run(python, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", GENERATOR)
    except AssertionError as error:
        pytest.skip(f"the package index isn't in reach: {str(error)[-300:]}")
    (tmp_path / "config.yaml").write_text("project_name_override: shop-client\npost_hooks: []\n")
    run(
        tmp_path / "env" / "bin" / "openapi-python-client", "generate", "--path",
        ROOT / "openapi" / "openapi.yaml", "--config", tmp_path / "config.yaml",
        "--output-path", tmp_path / "made", cwd=tmp_path,
    )  # fmt: skip
    (tmp_path / "script.py").write_text(SCRIPT)
    job = ROOT / "sdk" / "examples" / "sensor-adapter.json"
    done = run(python, tmp_path / "script.py", server.url, job, tmp_path / "made", cwd=tmp_path)
    told = json.loads(done.stdout)
    assert told["pitch"] == 0.8270  # ASME B1.1-2003, row 7/8-14 UNF-2A
    assert (told["verdict"], told["turns"], told["flankwise"]) == ("ready", 12.25, False)
    assert told["program"].startswith("%")
    assert told["pointer"] == "/boss/depth"
    assert sys.version_info >= (3, 10)
