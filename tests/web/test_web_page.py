"""The page without a browser: what it says, what it refuses, what it never lets through."""

from __future__ import annotations

import base64
import hashlib
import io
import json
import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from flankwise_service.config import Settings
from flankwise_service.web import page, page_form, page_plan
from flankwise_service.web.app import build_app
from flankwise_service.web.page_look import STYLE

EXAMPLES = Path(__file__).resolve().parents[2] / "sdk" / "examples"
ADAPTER = (EXAMPLES / "sensor-adapter.json").read_text("utf-8")
PORT = (EXAMPLES / "coolant-port.json").read_text("utf-8")
CORRECTION = {
    "designation": "7/8-14 UNF-2A", "unit": "in", "method": "three wires", "wire": ".04",
    "reading": "0.8877", "reading_uncertainty": "0.0001",
}  # fmt: skip
HOSTILE = [
    '"><script>alert(1)</script>', "' onmouseover='alert(1)", "</textarea><b>x</b>", "{{ 7*7 }}",
    "{% raw %}", "</style><script>x</script>", "a\x00b", "\u202etxet", "javascript:alert(1)",
    "9" * 400, "1e999", "NaN", "-0", "\ud7ff", "%s%n", "../../etc/passwd",
]  # fmt: skip


def seen(reply: TestResponse) -> str:
    """Return what a person reads: the page without its tags, styles and script."""
    bare = re.sub(r"<(style|script)\b.*?</\1>", "", reply.text, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", bare)).split())


def refused(reply: TestResponse, place: str, words: str) -> None:
    """Hold that the page told a fault, beside the field and in a summary that leads there."""
    assert reply.status_code == 422
    summary = reply.text.partition('id="told"')[2].partition("</section>")[0]
    assert f'href="#{place}"' in summary
    assert words in unescape(summary)
    assert f'id="{place}-fault-1"' in reply.text


# -- what every page is


PAGES = {
    "first": "/", "thread": "/thread", "hexagon": "/hexagon", "correction": "/correction",
    "plan": "/plan", "thread found": "/thread?designation=M8-6g&unit=mm",
    "thread refused": "/thread?designation=M8-6g",
    "hexagon found": "/hexagon?size=30&unit=mm&measure=across_flats",
}  # fmt: skip


@pytest.mark.parametrize("path", PAGES.values(), ids=PAGES)
def test_a_page_needs_nothing_from_elsewhere_and_keeps_nothing(web: FlaskClient, path: str) -> None:
    reply = web.get(path)
    assert reply.mimetype == "text/html"
    assert "Set-Cookie" not in reply.headers
    assert reply.headers["Cache-Control"] == "no-store"
    assert reply.headers["Referrer-Policy"] == "no-referrer"
    assert reply.headers["X-Content-Type-Options"] == "nosniff"
    assert reply.headers["X-Request-Id"] in reply.text
    # The one address allowed is the name of the SVG language.
    assert set(re.findall(r"https?://[^\"' <]+", reply.text)) <= {"http://www.w3.org/2000/svg"}
    assert not re.search(r"\sstyle=|\son[a-z]+=|<link|<img|<iframe", reply.text)


def hashes(text: str, tag: str) -> set[str]:
    found = re.findall(rf"<{tag}>(.*?)</{tag}>", text, re.DOTALL)
    return {
        f"'sha256-{base64.b64encode(hashlib.sha256(one.encode()).digest()).decode()}'"
        for one in found
    }


@pytest.mark.parametrize("path", [*PAGES.values(), "/plan/sheet", "POST /plan"])
def test_the_policy_lets_run_what_the_page_brings_and_nothing_else(
    web: FlaskClient, path: str
) -> None:
    if path in ("/plan/sheet", "POST /plan"):
        reply = web.post(path.removeprefix("POST "), data={"job": ADAPTER})
    else:
        reply = web.get(path)
    rules = dict(
        rule.strip().split(" ", 1) for rule in reply.headers["Content-Security-Policy"].split(";")
    )
    assert rules["default-src"] == "'none'"
    assert rules["base-uri"] == rules["frame-ancestors"] == "'none'"
    assert rules["form-action"] == "'self'"
    assert hashes(reply.text, "style") <= set(rules["style-src"].split())
    assert hashes(reply.text, "script") == set(rules.get("script-src", "").split())
    assert "unsafe" not in reply.headers["Content-Security-Policy"]


def test_the_sheet_of_the_service_brings_its_policy_along(web: FlaskClient) -> None:
    reply = web.post("/v1/plan/sheet", json=json.loads(PORT), headers={"Accept": "text/html"})
    told = re.search(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)"', reply.text)
    assert told
    rules = unescape(told[1])
    assert rules.startswith("default-src 'none'; style-src ")
    assert all(one in rules for one in hashes(reply.text, "style"))
    assert "script-src" not in rules


def luminance(colour: str) -> float:
    """Return the relative luminance of #rrggbb (WCAG 2.2, definition of relative luminance)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("look", [0, 1], ids=["light", "dark"])
def test_text_stands_out_from_its_ground(look: int) -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    blocks = re.findall(r":root \{([^}]*)\}", STYLE)
    named = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", blocks[look]))
    grounds = ("paper", "panel")
    pairs = [(ink, ground) for ink in ("ink", "quiet", "lead", "wrong") for ground in grounds]
    pairs += [
        ("on-lead", "lead"), ("ink", "tint"), ("ink", "wrong-tint"), ("wrong", "wrong-tint"),
        ("ink", "mind-tint"), ("mind", "mind-tint"), ("right", "panel"),
    ]  # fmt: skip
    # WCAG 2.2, 1.4.3: 4.5 to 1 for text; 1.4.11: 3 to 1 for what shows a field or the focus.
    assert [pair for pair in pairs if contrast(named[pair[0]], named[pair[1]]) < 4.5] == []
    marks = [(mark, ground) for mark in ("edge", "ring") for ground in grounds]
    assert [pair for pair in marks if contrast(named[pair[0]], named[pair[1]]) < 3] == []


# -- lookups


def test_the_thread_page_shows_the_figures_of_the_service(web: FlaskClient) -> None:
    asked = {"designation": "M20x1.5-6H", "unit": "mm"}
    said = seen(web.get("/thread", query_string=asked))
    told = web.get("/v1/threads/limits", query_string=asked).get_json()
    for name in ("pitch_diameter", "minor_diameter"):
        assert f"{told[name]['min']:.3f} {told[name]['max']:.3f}" in said
    wires = web.get("/v1/gauging/wires", query_string=asked).get_json()
    assert f"Best {wires['best']:.4f}" in said
    assert "18.5 mm" in said  # a drill inside 18.376 to 18.676


@pytest.mark.parametrize("path", ["/thread", "/correction"])
def test_no_unit_is_ever_assumed(web: FlaskClient, path: str) -> None:
    reply = web.get(path, query_string={**CORRECTION, "unit": ""} if "corr" in path else
                    {"designation": "M8-6g"})  # fmt: skip
    refused(reply, "at-unit", "unit is missing")
    assert 'value="in" checked' not in reply.text
    assert 'value="mm" checked' not in reply.text


def test_a_taper_thread_is_looked_up_as_far_as_it_goes(web: FlaskClient) -> None:
    reply = web.get("/thread?designation=1/2-14+NPT&unit=in&side=internal")
    assert reply.status_code == 200
    assert "Limits of size" in seen(reply)
    assert "taper" in seen(reply)


def test_unknown_names_and_bad_numbers_are_told_at_their_fields(web: FlaskClient) -> None:
    refused(web.get("/thread?designation=M8-6x&unit=mm"), "at-designation", "6x")
    reply = web.get("/thread?designation=M8-6H&unit=mm&percent=seventy&nonsense=1")
    refused(reply, "at-percent", '"seventy" in percent can\'t be read as a number')
    assert "there is no field named nonsense" in seen(reply)
    assert "without quotes" not in seen(reply)


def test_the_hexagon_page_needs_all_three(web: FlaskClient) -> None:
    reply = web.get("/hexagon?size=")
    for place, words in (
        ("at-size", "size is missing"), ("at-unit", "unit is missing"),
        ("at-measure", "measure is missing"),
    ):  # fmt: skip
        refused(reply, place, words)


def test_the_hexagon_page_tells_weight_wall_and_every_reading(web: FlaskClient) -> None:
    asked = {"size": "1 1/4", "unit": "in", "measure": "across_flats", "diameter": "7/8",
             "material": "303", "drawn_across_flats": "2.165"}  # fmt: skip
    said = seen(web.get("/hexagon", query_string=asked))
    assert "1.2500 in across flats, 1.4434 in across corners" in said
    assert "The drawing took a wrong turn" in said
    assert "wall to the flats 0.1875" in said
    assert "lb/ft" in said
    unlike = seen(web.get("/hexagon", query_string={**asked, "drawn_across_flats": "1.7"}))
    assert "No known wrong turn" in unlike
    metric = seen(web.get("/hexagon?size=30&unit=mm&measure=across_flats&material=6082"))
    assert "kg/m" in metric


@pytest.mark.parametrize("measure", ["across_corners", "side", "inscribed_radius",
                                     "circumscribed_radius"])  # fmt: skip
def test_every_measure_of_a_hexagon_will_do(web: FlaskClient, measure: str) -> None:
    page_says = seen(web.get(f"/hexagon?size=20&unit=mm&measure={measure}"))
    told = web.post("/v1/stock/hexagon", json={"unit": "mm", measure: 20}).get_json()["hexagon"]
    assert f"{told['across_flats']:.3f} mm across flats" in page_says


def test_the_correction_says_the_sign_in_words(web: FlaskClient) -> None:
    said = seen(web.get("/correction", query_string={**CORRECTION, "radius_offset": "-.001"}))
    told = web.post("/v1/gauging/inspection", json={
        **CORRECTION, "wire": 0.04, "reading": 0.8877, "reading_uncertainty": 0.0001,
    }).get_json()["correction"]  # fmt: skip
    assert told["words"][1:] in said
    assert f"set it to {-0.001 + told['radius_offset_change']:.4f} in" in said
    without = seen(web.get("/correction", query_string=CORRECTION))
    assert "set it to" not in without
    small = seen(web.get("/correction", query_string={**CORRECTION, "reading": "0.8790"}))
    assert "Metal is missing" in small
    inside = web.get("/correction", query_string={**CORRECTION, "reading": "0.8825"}).text
    assert '<div class="answer" role="status">' in inside


def test_an_absurd_correction_is_refused(web: FlaskClient) -> None:
    reply = web.get("/correction", query_string={**CORRECTION, "reading": "0.95"})
    assert reply.status_code == 422
    assert "tenth of the pitch" in seen(reply) or "correction" in seen(reply)
    assert 'class="answer' not in reply.text


# -- the whole job


def test_a_form_typed_in_plans_what_the_service_plans(web: FlaskClient) -> None:
    document = json.loads(PORT)
    typed = dict(page_form.typed_from(document))
    typed["thread/length"] = "16.0"
    reply = web.post("/plan", data=typed)
    assert reply.status_code == 200
    plan = web.post("/v1/plan", json=document).get_json()
    area = re.search(r"<textarea id=\"program-text\"[^>]*>(.*?)</textarea>", reply.text, re.DOTALL)
    assert area
    assert unescape(area[1]).split() == plan["program"]["text"].split()
    assert plan["verdict"].capitalize() in seen(reply)
    assert reply.text.count("<svg ") == 4


@pytest.mark.parametrize("text", [ADAPTER, PORT], ids=["in", "mm"])
def test_form_and_document_are_the_same_job(text: str) -> None:
    document = json.loads(text)
    typed = page.Typed(page_form.typed_from(document))
    assert page_form.read(page_plan.JOB, typed) == document


def leaves(schema: Any, pointer: str = "") -> list[str]:
    found = []
    for name, field in schema.fields.items():
        inner = getattr(field, "schema", None)
        found += leaves(inner, f"{pointer}/{name}") if inner else [f"{pointer}/{name}"]
    return found


def test_the_form_holds_every_field_of_a_job() -> None:
    shown = [pointer for group in page_plan.GROUPS for pointer in group.pointers]
    assert len(shown) == len(set(shown))
    assert set(leaves(page_plan.JOB)) - set(shown) == {"/accept", "/made_by"}
    # Labels in one part of the form are told apart.
    for group in page_plan.GROUPS:
        labels = [page_plan.LABELS.get(one, one.rpartition("/")[2]) for one in group.pointers]
        assert len(labels) == len(set(labels))


def test_every_fault_of_a_job_stands_at_its_field(web: FlaskClient) -> None:
    typed = {
        "unit": "mm", "thread/designation": "M20x1.5-6H", "thread/length": "1,5",
        "stock/material": "6082", "stock/across_flats": "-3", "hole/depth": "deep",
        "cutter/flutes": "2.5", "quantity": "x",
    }  # fmt: skip
    reply = web.post("/plan", data=typed)
    refused(reply, "at-thread-length", '"1,5" in length can\'t be read as a number')
    refused(reply, "at-stock-across_flats", "below the least allowed")
    refused(reply, "at-hole-depth", "can't be read as a number")
    refused(reply, "at-cutter-flutes", "must be a whole number")
    refused(reply, "at-cutter-diameter", "diameter is missing")
    refused(reply, "at-quantity", "such as 4")
    assert re.search(r'<details class="sheaf" id="part-cutter" open>', reply.text)
    assert 'value="deep"' in reply.text


def test_an_empty_form_says_what_it_cannot_do_without(web: FlaskClient) -> None:
    reply = web.post("/plan", data={"unit": "", "thread/designation": " "})
    assert reply.status_code == 422
    for words in ("unit is missing", "thread is missing", "stock is missing"):
        assert words in seen(reply)
    assert "fill this part of the form in" in seen(reply)


def test_a_core_refusal_stands_at_its_field_too(web: FlaskClient) -> None:
    document = json.loads(ADAPTER)
    document["thread"]["designation"] = "7/8-14 UNF-2B"
    reply = web.post("/plan", data={"job": json.dumps(document)})
    assert reply.status_code == 422
    assert 'href="#at-boss-depth"' in reply.text  # the whole part /boss is at fault
    assert "it is cut on a hole" in seen(reply)


def test_a_document_is_opened_from_a_file_or_pasted(web: FlaskClient) -> None:
    file = web.post("/plan/open", data={"file": (io.BytesIO(PORT.encode()), "port.json")})
    pasted = web.post("/plan/open", data={"job": PORT})
    for reply in (file, pasted):
        assert reply.status_code == 200
        assert 'value="M20x1.5-6H"' in reply.text
    # The form shows what a document holds though some of it can't be used.
    document = json.loads(PORT) | {"unit": "feet", "nonsense": {"a": 1}}
    reply = web.post("/plan/open", data={"job": json.dumps(document)})
    refused(reply, "at-unit", 'unit can\'t be "feet"')
    assert "there is no field named nonsense" in seen(reply)
    assert 'value="M20x1.5-6H"' in reply.text


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        ({}, "there is no job document yet"),
        ({"job": "[1]"}, "isn't an object"),
        ({"job": "{"}, "can't be read"),
        ({"job": '{"a": 1, "a": 2}'}, "more than once"),
        ({"job": '{"a":' * 100 + "1" + "}" * 100}, "can't be read"),
        ({"job": '{"unit": NaN}'}, "can't be read"),
        ({"job": "<!doctype html>"}, "can't be read"),
    ],
)  # fmt: skip
def test_what_is_no_document_is_told_beside_the_text(
    web: FlaskClient, sent: dict[str, str], words: str
) -> None:
    for path in ("/plan/open", "/plan/job") if sent else ("/plan/open",):
        reply = web.post(path, data=sent)
        assert reply.status_code == 422
        assert words in seen(reply)
    binary = web.post("/plan/open", data={"file": (io.BytesIO(b"\xff\xfe\x00"), "x.json")})
    assert binary.status_code == 422


def test_program_and_job_are_saved_as_files(web: FlaskClient) -> None:
    program = web.post("/plan/program", data={"job": ADAPTER})
    plan = web.post("/v1/plan", json=json.loads(ADAPTER)).get_json()
    assert program.text == plan["program"]["text"]
    assert program.mimetype == "text/plain"
    assert program.headers["Content-Disposition"] == 'attachment; filename="sensor-adapter.nc"'
    saved = web.post("/plan/job", data={"job": ADAPTER})
    assert json.loads(saved.text) == json.loads(ADAPTER)
    assert saved.headers["Content-Disposition"] == 'attachment; filename="sensor-adapter.json"'
    assert "sandbox" in saved.headers["Content-Security-Policy"]


@pytest.mark.parametrize(
    ("name", "stem"),
    [("", "job"), ('a"\\/..; filename=x', "a-filename-x"), ("../../etc", "etc"), ("é", "job")],
)
def test_a_file_name_holds_nothing_but_letters_and_digits(
    web: FlaskClient, name: str, stem: str
) -> None:
    reply = web.post("/plan/job", data={"job": json.dumps(json.loads(PORT) | {"name": name})})
    assert reply.headers["Content-Disposition"] == f'attachment; filename="{stem}.json"'


def test_a_refused_plan_has_no_program_and_tells_why(web: FlaskClient) -> None:
    document = json.loads(ADAPTER)
    document["boss"]["depth"] = 0.875
    reply = web.post("/plan", data={"job": json.dumps(document)})
    assert reply.status_code == 200
    assert "so there is no program" in seen(reply)
    assert "program-text" not in reply.text
    assert "make the boss 0.05969 in deeper" in seen(reply)
    nothing = web.post("/plan/program", data={"job": json.dumps(document)})
    assert nothing.status_code == 422
    assert "it has no program" in seen(nothing)


def test_a_refused_check_can_be_taken_on_where_it_may(web: FlaskClient) -> None:
    document = json.loads(PORT)
    document["stock"]["across_flats"] = 22
    text = json.dumps(document)
    first = web.post("/plan", data={"job": text})
    assert 'name="accept" value="wall_thickness"' in first.text
    assert "program-text" not in first.text
    taken = web.post("/plan", data={"job": text, "accept": "wall_thickness"})
    assert "Accepted : wall" in seen(taken)
    assert "ACCEPTED BY THE CALLER, CHECK wall_thickness" in unescape(taken.text)
    # What was taken on goes along when the job is changed, and can be taken back.
    carried = unescape(re.search(r'name="job" value="([^"]*)"', taken.text)[1])  # type: ignore[index]
    assert json.loads(carried)["accept"] == ["wall_thickness"]
    form = web.post("/plan/open", data={"job": carried})
    assert 'name="accept" value="wall_thickness" checked' in form.text
    odd = web.post("/plan", data={"job": json.dumps(document | {"accept": "x"}), "accept": "y"})
    assert odd.status_code == 422


# -- what must never get through


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
@pytest.mark.parametrize("path", ["/thread", "/hexagon", "/correction", "/plan"])
def test_what_is_typed_never_becomes_markup(web: FlaskClient, path: str, text: str) -> None:
    schema = {"/thread": page.THREAD, "/hexagon": page.HEXAGON, "/correction": page.CORRECTION,
              "/plan": page_plan.JOB}[path]  # fmt: skip
    typed = {pointer[1:]: text for pointer in leaves(schema)} | {text: text}
    replies = [web.get(path, query_string={name: text}) for name in [*list(typed)[:3], text]]
    if path == "/plan":
        replies += [web.post("/plan", data=typed), web.post("/plan/open", data={"job": text})]
        replies.append(web.post("/plan/open", data={"job": json.dumps({"unit": text, text: text})}))
        good = json.loads(PORT) | {"name": text[:60]}
        good["cutter"]["name"] = text[:40]
        replies += [
            web.post(f"/plan{where}", data={"job": json.dumps(good)})
            for where in ("", "/sheet", "/job", "/program", "/open")
        ]
    else:
        replies.append(web.get(path, query_string=typed))
    for reply in replies:
        assert reply.status_code in (200, 414, 422), reply.text[:300]
        if reply.mimetype != "text/html":
            continue
        assert marks(reply.text) == []


class Marks(HTMLParser):
    """Notes every element and attribute that a page of ours never holds."""

    NEVER = ("iframe", "img", "object", "embed", "link", "base", "template", "math", "audio")

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.scripts = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.scripts += tag == "script"
        if tag in self.NEVER or self.scripts > 1:
            self.found.append(tag)
        for name, value in attrs:
            at = name == "href" and not (value or "").startswith(("/", "#", "?"))
            if name.startswith("on") or name in ("style", "src", "srcdoc") or at:
                self.found.append(f"{tag} {name}={value}")

    handle_startendtag = handle_starttag


def marks(text: str) -> list[str]:
    parser = Marks()
    parser.feed(text)
    parser.close()
    return parser.found


def test_markup_that_got_through_would_be_seen() -> None:
    for text in (
        '<a href="javascript:x">',
        "<p onclick='x'>",
        "<script></script><script>",
        "<img>",
    ):
        assert marks(text) != []


def test_what_is_too_long_is_told_as_a_page(web: FlaskClient) -> None:
    long = web.get("/thread?designation=" + "W" * 5000)
    assert long.status_code == 414
    assert long.mimetype == "text/html"
    assert "longer than allowed" in seen(long)
    large = web.post("/plan", data={"job": "x" * 1_100_000})
    assert large.status_code == 413
    assert "larger than allowed" in seen(large)


def test_a_failure_inside_tells_its_request_id_and_nothing_else(
    app: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_raw: object) -> None:
        raise RuntimeError("secret of the house")

    monkeypatch.setattr(page, "thread_found", fails)
    reply = app.test_client().get("/thread?designation=M8&unit=mm")
    assert reply.status_code == 500
    assert reply.mimetype == "text/html"
    assert "secret of the house" not in reply.text
    assert reply.headers["X-Request-Id"] in reply.text


# -- tokens


def named(name: str, secret: str) -> dict[str, str]:
    both = base64.b64encode(f"{name}:{secret}".encode()).decode()
    return {"Authorization": f"Basic {both}"}


@pytest.fixture
def locked() -> FlaskClient:
    lines = [
        f"{name} {scopes} {hashlib.sha256(secret.encode()).hexdigest()}"
        for name, scopes, secret in (("office", "read,plan", "both"), ("wall", "read", "look:er"))
    ]
    return build_app(Settings(access_log=False, tokens=";".join(lines))).test_client()


def test_the_first_page_is_open_and_the_rest_asks_for_the_token(locked: FlaskClient) -> None:
    assert locked.get("/").status_code == 200
    for path in ("/thread", "/hexagon", "/correction", "/plan"):
        reply = locked.get(path)
        assert reply.status_code == 401
        assert reply.headers["WWW-Authenticate"] == 'Basic realm="flankwise", charset="UTF-8"'
        assert "give the token as the password" in seen(reply)
    for path in ("/plan", "/plan/open", "/plan/program", "/plan/job", "/plan/sheet"):
        assert locked.post(path, data={"job": PORT}).status_code == 401


def test_the_token_is_the_password_whatever_the_name(locked: FlaskClient) -> None:
    asked = "/thread?designation=M8-6g&unit=mm"
    assert locked.get(asked, headers=named("me", "both")).status_code == 200
    assert locked.get(asked, headers=named("", "look:er")).status_code == 200
    assert locked.get(asked, headers={"Authorization": "Bearer both"}).status_code == 200
    assert locked.post("/plan", data={"job": PORT}, headers=named("a", "both")).status_code == 200


def test_a_token_for_reading_does_not_plan(locked: FlaskClient) -> None:
    reply = locked.get("/plan", headers=named("me", "look:er"))
    assert reply.status_code == 403
    assert "this needs plan" in seen(reply)


@pytest.mark.parametrize(
    "header",
    ["Basic", "Basic !!!", "Basic " + "A" * 5000, "Basic /w==", "Basic Ym90aA==", "Digest x",
     "Basic " + base64.b64encode(b"both:nope").decode()],
)  # fmt: skip
def test_a_password_that_makes_no_sense_is_refused(locked: FlaskClient, header: str) -> None:
    reply = locked.get("/plan", headers={"Authorization": header})
    assert reply.status_code == 401


def test_a_browsers_password_does_not_open_the_service_itself(locked: FlaskClient) -> None:
    asked = "/v1/threads/limits?designation=M8-6g&unit=mm"
    assert locked.get(asked, headers=named("me", "both")).status_code == 401


def test_pages_are_counted_by_their_names() -> None:
    client = build_app(Settings(access_log=False)).test_client()
    client.get("/thread").close()
    told = client.get("/metrics").text
    assert 'operation="page_thread"' in told
