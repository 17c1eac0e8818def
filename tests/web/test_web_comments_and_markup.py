"""No text of a request leaves the comment, the element or the attribute it was put into.

Hostile texts stand in every free text of every operation that writes a program, a sheet or a
drawing. Programs are read by a reader of their own, written here: not the one the service uses.
"""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from typing import Any

import pytest
from flask.testing import FlaskClient

from support.wire import Example, examples, leaves, put

TEXTS = (
    "A\r\nG0 Z-99", "A) G1 X5 (", "A)\nM30\n%", "%G0Z-5", "A;G00 Z-1", "A\u2028G01 X1",
    "A\u0085G0 Z-9", "MSG, PRESS", "G0Z-99", "g 0 z - 9 9", "#1=5", "N10 G91 G28 Z0", "/G0 X0",
    "\u202eG0 Z-9\u202c", "\uff27\uff10 \uff3a\uff0d\uff19", "\uff08\uff09\uff1b G\u0660 X\u0661",
    "G\u00b2 X\u00b9", "G\u24ea", "A\x00B", "A\x1bB", "(((", ")))", "M8 (1) G0 Z-1", "G+.1", "G_0", "G=0",
    "<script>alert(1)</script>", '"><svg onload=alert(1)>', "' onmouseover='x", "]]><!-- -->",
    "</text></svg><script>x</script>", "</title><b>", "&lt;script&gt;", "{{7*7}}", "{% raw %}",
    "</style><style>*{display:none}", "<a href=javascript:x>", "\ufeff<b>", "<\u0131mg src=x>",
)  # fmt: skip
WRITERS = {"program", "plan", "plan_sheet", "plan_drawing", "drawing_section", "drawing_path",
           "drawing_hexagon", "drawing_setup"}  # fmt: skip
EXAMPLES = {example.operation: example for example in examples() if example.operation in WRITERS}


def free_texts(request: dict[str, Any]) -> list[tuple[str | int, ...]]:
    """Return the places of all texts."""
    return [place for place, value in leaves(request) if isinstance(value, str)]


def filled(example: Example) -> dict[str, Any]:
    """Return the example's request with every optional free text in it."""
    request = json.loads(json.dumps(example.request))
    if example.operation == "program":
        request["setup"] |= {"remarks": ["remark"]}
        for operation in request["operations"]:
            operation["title"] = "title"
            operation["tool"]["name"] = "tool"
    if example.operation.startswith("plan"):
        request["name"] = "part"
        for tool in ("cutter", "end_mill"):
            if isinstance(request.get(tool), dict):
                request[tool]["name"] = tool
    return request


CASES = [
    (operation, place)
    for operation, example in EXAMPLES.items()
    for place in free_texts(filled(example))
]


def media_types(web: FlaskClient, operation: str) -> tuple[str, ...]:
    offered: tuple[str, ...] = (
        web.application.extensions["flankwise"].operations[operation].media_types
    )
    return offered


def answered(web: FlaskClient, operation: str, asked: dict[str, Any], accept: str) -> Any:
    return web.post(EXAMPLES[operation].path, json=asked, headers={"Accept": accept})


def test_free_texts_are_among_what_is_tried() -> None:
    tried = {
        (operation, place[-1] if isinstance(place[-1], str) else place[-2])
        for operation, place in CASES
    }
    assert {("program", "remarks"), ("program", "title"), ("program", "name"), ("plan", "name"),
            ("plan_sheet", "name"), ("program", "designation")} <= tried  # fmt: skip


@pytest.mark.parametrize(
    ("operation", "place"), CASES, ids=[f"{o} {'/'.join(map(str, p))}" for o, p in CASES]
)
def test_texts_stay_where_they_were_put(
    web: FlaskClient, operation: str, place: tuple[str | int, ...]
) -> None:
    taken = 0
    asked = filled(EXAMPLES[operation])
    # Plans cost more; what one field refuses or tames it does for every operation.
    texts = TEXTS[:: 4 if operation.startswith("plan") else 1]
    for accept in media_types(web, operation):
        usual = answered(web, operation, asked, accept)
        assert usual.status_code == 200
        for text in texts:
            reply = answered(web, operation, put(asked, place, text), accept)
            assert reply.status_code in (200, 422)
            if reply.status_code == 200:
                taken += 1
                judge(reply, usual)
    if place[-1] in ("name", "title") or "remarks" in place:
        assert taken > 0, "nothing was proved: every text was refused"


NEVER = {
    "script",
    "iframe",
    "object",
    "embed",
    "foreignobject",
    "a",
    "img",
    "image",
    "form",
    "link",
}


def judge(reply: Any, usual: Any) -> None:
    """Hold a reply against the one to the same request with harmless texts."""
    kind = reply.content_type.partition(";")[0]
    assert kind == usual.content_type.partition(";")[0]
    if kind == "application/json":
        found = programs(reply.get_json())
        assert len(found) == len(programs(usual.get_json()))
        for program, harmless in zip(found, programs(usual.get_json()), strict=True):
            judge_program(program, harmless)
    elif kind in ("text/html", "image/svg+xml"):
        page, plain = Elements(reply.text), Elements(usual.text)
        assert not page.tags & NEVER
        assert page.attributes == plain.attributes
        assert page.shape == plain.shape, "a text made an element"
    else:
        judge_program(reply.text, usual.text)


def judge_program(program: str, harmless: str) -> None:
    assert outside_comments(program) == outside_comments(harmless)
    assert_comments_move_nothing(program)


def programs(value: Any) -> list[str]:
    """Return every program's text in a reply."""
    if isinstance(value, dict):
        return [text for item in value.values() for text in programs(item)]
    if isinstance(value, list):
        return [text for item in value for text in programs(item)]
    if isinstance(value, str) and re.search(r"^G(17|90|20|21|70|71)\b", value, re.MULTILINE):
        return [value]
    return []


def outside_comments(program: str) -> list[str]:
    """Return what stands outside parentheses, line by line; every line closes its own."""
    kept = []
    for line in re.split(r"\r\n|[\n\r\x0b\x0c\x85\u2028\u2029]", program):
        outside, depth = "", 0
        for letter in line:
            if letter == "(":
                assert depth == 0, f"a comment inside a comment: {line}"
                depth = 1
            elif letter == ")":
                assert depth == 1, f"a comment closed twice: {line}"
                depth = 0
            elif depth == 0:
                outside += letter
        assert depth == 0, f"a comment left open: {line}"
        kept.append(outside.strip())
    return [line for line in kept if line]


def assert_comments_move_nothing(program: str) -> None:
    for comment in re.findall(r"\(([^()]*)\)", program):
        assert re.fullmatch(r"[A-Za-z0-9 .,+\-/*='_]*", comment), comment
        if not comment.startswith("THREAD "):  # what a table spells, not what a request says
            assert not re.search(r"(?<![A-Za-z])[A-Za-z][ _=]*[+\-.\d]", comment), comment
        assert not re.match(r"\s*(MSG|DEBUG|PRINT|LOG)\b", comment, re.IGNORECASE), comment


class Elements(HTMLParser):
    """Notes elements and attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.shape: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}
        self.shape.append(tag)
