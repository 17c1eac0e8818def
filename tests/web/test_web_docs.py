"""The reference at /docs: complete, readable without script, from the package alone."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from flask.testing import FlaskClient

from flankwise_service import __version__
from flankwise_service.web import docs
from flankwise_service.web.app import load_templates
from flankwise_service.web.docs_read import _ranges, contract, operations, words
from flankwise_service.web.guard import hash_of
from flankwise_service.web.page_look import TEMPLATES
from flankwise_service.web.problems import CODES

IDS = [
    described["operationId"]
    for methods in contract()["paths"].values()
    for described in methods.values()
]
VOID = {"meta", "br", "link", "img", "input", "hr"}


class Page(HTMLParser):
    """What a page holds: text, links, ids, elements; open and close must match."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = ""
        self.links: set[str] = set()
        self.ids: list[str] = []
        self.names: set[str] = set()
        self.attributes: set[str] = set()
        self._open: list[str] = []
        self.feed(text)
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.names.add(tag)
        told = dict(attrs)
        self.attributes |= set(told)
        self.ids += [told["id"] or ""] if "id" in told else []
        if tag == "a":
            self.links.add(told["href"] or "")
        if tag not in VOID:
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data


def page(web: FlaskClient, path: str) -> Page:
    reply = web.get(path)
    assert (reply.status_code, reply.mimetype) == (200, "text/html")
    return Page(reply.text)


def test_the_reference_names_every_operation_and_every_problem(web: FlaskClient) -> None:
    found = page(web, "/docs")
    assert {f"/docs/{name}" for name in IDS} <= found.links
    for code in CODES:
        assert code in found.text
    for tag in contract()["tags"]:
        assert f"tag-{tag['name']}" in found.ids
    assert f"flankwise {__version__}" in found.text
    assert "eye protection" in found.text


@pytest.mark.parametrize("name", IDS)
def test_an_operation_is_told_whole(web: FlaskClient, name: str) -> None:
    found = page(web, f"/docs/{name}")
    one = operations()[name]
    assert one.path in found.text
    for table in (*one.asked, *one.replied):
        for field in table.fields:
            assert field.name in found.text
            assert field.words
    for example in (*one.examples, *one.refusals):
        assert example.name in found.text
    for refusal in one.refusals:
        for fault in refusal.faults:
            assert fault["change"] in found.text
    assert len(found.ids) == len(set(found.ids))
    inside = {link[1:] for link in found.links if link.startswith("#")}
    assert inside <= set(found.ids)


@pytest.mark.parametrize("path", ["/docs", "/docs/plan"])
def test_a_page_needs_nothing_and_may_do_nothing(web: FlaskClient, path: str) -> None:
    reply = web.get(path)
    found = Page(reply.text)
    assert not found.names & {"script", "link", "img", "iframe", "form"}
    assert not {name for name in found.attributes if name.startswith("on") or name == "style"}
    assert all(link.startswith(("/", "#")) for link in found.links)
    allowed = reply.headers["Content-Security-Policy"]
    style = re.search(r"<style>(.*?)</style>", reply.text, re.DOTALL)
    assert style is not None
    assert hash_of(style[1]) in allowed
    assert "default-src 'none'" in allowed
    assert "script-src" not in allowed
    assert "url(" not in style[1]


def test_links_of_the_reference_lead_somewhere(web: FlaskClient) -> None:
    for link in page(web, "/docs").links | page(web, "/docs/plan").links:
        if not link.startswith("#"):
            assert web.get(link.partition("#")[0]).status_code == 200, link


def test_units_and_ranges_are_told_for_both_units() -> None:
    boss = next(one for one in operations()["plan"].asked if one.name == "JobBossAsk")
    depth, shoulder, _, diameter = boss.fields
    assert (depth.name, depth.needed) == ("depth", True)
    assert depth.ranges == ("0.003937 to 78.74 in", "0.1 to 2000 mm")
    assert (shoulder.kind, shoulder.left_out) == ("true or false", "true")
    assert (diameter.kind, diameter.needed) == ("number or null", False)
    job = operations()["plan"].asked[0].fields
    told = {field.name: field for field in job}
    assert told["unit"].kind == '"in" | "mm"'
    assert told["accept"].kind == "list of text"
    assert told["accept"].ranges == ("0 to 20 items", "each 0 to 60 characters")
    assert told["boss"].kind == "JobBossAsk or null"
    assert told["quantity"].ranges == ("1 to 1000000",)
    limits = {field.name: field.kind for field in operations()["threads_limits"].replied[0].fields}
    assert limits["extra"] == "number or null, by name"
    assert limits["basic"] == "BasicProfileReply"


def test_a_range_that_leaves_its_end_out_says_so() -> None:
    both = {"in": [0.1, 2], "mm": [2.54, 50.8]}
    assert tuple(_ranges({"exclusiveMinimum": 0, "maximum": 2})) == ("above 0 to 2",)
    assert tuple(_ranges({"exclusiveMinimum": 2.54, "maximum": 50.8, "x-limits-by-unit": both})) == (
        "above 0.1 to 2 in", "above 2.54 to 50.8 mm",
    )  # fmt: skip


def test_a_command_line_can_be_pasted() -> None:
    limits = operations()["threads_limits"].examples[0]
    assert limits.curl.startswith("curl -s 'http://127.0.0.1:8000/v1/threads/limits?designation=")
    feed = operations()["cutting_feed"].examples[0]
    assert "--data-binary @- <<'END'\n{\n" in feed.curl
    plain = [one.curl for one in operations()["path_helix"].examples if "Accept" in one.curl]
    assert all("-H 'Accept: " in line for line in plain)
    assert operations()["livez"].examples[0].curl == "curl -s http://127.0.0.1:8000/livez"
    for told in operations().values():
        for shown in (*told.examples, *told.refusals) if told.body_kind else ():
            assert re.search(r"<<'END'\n[\[{].*[\]}]\s*\nEND$", shown.curl, re.DOTALL), shown.curl


def test_a_page_may_be_kept_and_is_not_sent_twice(web: FlaskClient) -> None:
    first = web.get("/docs/plan")
    assert first.headers["Cache-Control"] == "public, max-age=86400"
    again = web.get("/docs/plan", headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    assert web.head("/docs").data == b""
    assert web.get("/docs", headers={"If-None-Match": first.headers["ETag"]}).status_code == 200


def test_what_isnt_there_is_a_problem(web: FlaskClient) -> None:
    reply = web.get("/docs/nothing")
    assert (reply.status_code, reply.json["code"]) == (404, "no_such_path")
    reply = web.get("/docs", headers={"Accept": "image/png"})
    assert (reply.status_code, reply.json["code"]) == (406, "not_acceptable")


def test_words_are_escaped_and_lists_are_lists() -> None:
    assert words("a <b> `<i>`\nmore") == "<p>a &lt;b&gt; <code>&lt;i&gt;</code> more</p>"
    assert words("one\n\n- two\n  lines\n- three") == (
        "<p>one</p><ul><li>two lines</li><li>three</li></ul>"
    )


def test_every_template_is_read_before_the_first_request() -> None:
    """A file changed under a running service must not be met by older code."""
    load_templates()
    for templates in (docs.TEMPLATES, TEMPLATES):
        assert not templates.auto_reload
        assert templates.cache is not None
    held = {key[1] for key in TEMPLATES.cache or ()}
    assert {"sheet.html", "page/planned.html"} <= held
