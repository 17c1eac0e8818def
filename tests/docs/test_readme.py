"""README and DEVELOPERS: what they show is what happens."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from support.server import Server

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")
BLOCK = re.compile(r"```(\w+)\n(.*?)```\s*(?:```text\n(.*?)```)?", re.DOTALL)
SHOWN = [(lang, code, reply) for lang, code, reply in BLOCK.findall(README) if reply]


def test_readme_opens_with_the_job_in_one_paragraph() -> None:
    title, paragraph, rest = README.split("\n\n", 2)
    assert title == "# flankwise"
    assert "\n" not in paragraph
    assert paragraph.startswith("A person in a small job shop")
    assert rest.startswith("## Two commands")


def test_both_kinds_of_call_are_shown() -> None:
    assert [lang for lang, _, _ in SHOWN] == ["sh", "python"]


@pytest.mark.parametrize(("lang", "code", "reply"), SHOWN)
def test_what_readme_shows_is_what_happens(
    lang: str, code: str, reply: str, server: Server
) -> None:
    code = code.replace("http://127.0.0.1:8000", server.url)
    # `python3` in the block is the caller's; here it must be the one that runs the tests.
    path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    source = [str(ROOT / "sdk"), str(ROOT / "service")]
    environment = {**os.environ, "PATH": path, "PYTHONPATH": os.pathsep.join(source)}
    command = ["sh", "-c", code] if lang == "sh" else [sys.executable, "-c", code]
    done = subprocess.run(
        command, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60, check=False
    )
    assert done.stderr == ""
    assert done.stdout == reply


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_files_and_folders_that_the_docs_name_exist(name: str) -> None:
    text = (ROOT / name).read_text("utf-8")
    for word in set(
        re.findall(r"`(?:sh )?((?:deploy|tests|openapi|sdk|core|web)/[\w./-]*\w)`", text)
    ):
        places = (ROOT / word, ROOT / "service/flankwise_service" / word)
        assert any(place.exists() for place in places), word
