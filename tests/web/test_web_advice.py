"""What a passed check still asks for stands on the paper and the page, not only in the reply."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest
from flask.testing import FlaskClient

PORT = Path(__file__).resolve().parents[2] / "sdk" / "examples" / "coolant-port.json"


def seen(text: str) -> str:
    """Return what a person reads of an HTML text."""
    bare = re.sub(r"<(style|script|svg|textarea)\b.*?</\1>", "", text, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", bare)).split())


@pytest.mark.parametrize("path", ["/plan/sheet", "/plan"])
def test_advice_of_passed_checks_is_seen(web: FlaskClient, path: str) -> None:
    text = PORT.read_text("utf-8").replace('"depth": 22,', '"depth": 16, "through": true,')
    reply = web.post(path, data={"job": text})
    assert reply.status_code == 200, reply.text[:300]
    words = seen(reply.text)
    assert "free below the part" in words
    assert "hold the gauge square to the axis" in words
    assert "the drilled hole is 16 mm deep at its full diameter" in words
