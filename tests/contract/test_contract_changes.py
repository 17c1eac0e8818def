"""The contract keeps what the last released one promised, unless the version says otherwise."""

from __future__ import annotations

import copy
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from contract.writing.changes import breaking, is_raised, relied_on, wanted_raise
from support.contract import ROOT, fresh

RELEASED = ROOT / "openapi" / "released"
Json = dict[str, Any]


def last_released() -> Json:
    newest = max(RELEASED.glob("*.yaml"), key=lambda path: _version(path.stem))
    released: Json = yaml.load(newest.read_text("utf-8"), Loader=yaml.CSafeLoader)
    assert released["info"]["version"] == newest.stem
    return released


def _version(text: str) -> tuple[int, ...]:
    return tuple(map(int, text.split(".")))


def test_the_version_says_what_changed_since_the_last_release() -> None:
    old, new = last_released(), fresh()
    wanted = wanted_raise(old, new)
    versions = old["info"]["version"], new["info"]["version"]
    assert not wanted or is_raised(*versions, wanted), (
        f"raise the {wanted} number of {versions[1]} (released: {versions[0]}), note it in "
        "openapi/CHANGES.md; or, before anybody has the release, freeze it anew: "
        f"python tests/contract/write.py --release\n{breaking(old, new)}"
    )


def test_every_released_version_is_told_in_the_changes() -> None:
    changes = (ROOT / "openapi" / "CHANGES.md").read_text("utf-8")
    told = [line.removeprefix("## ") for line in changes.splitlines() if line.startswith("## ")]
    assert {path.stem for path in RELEASED.glob("*.yaml")} <= set(told)
    assert told[0] == fresh()["info"]["version"]
    assert told == sorted(told, key=_version, reverse=True)


def properties(contract: Json, schema: str) -> Json:
    found: Json = contract["components"]["schemas"][schema]["properties"]
    return found


def operation(contract: Json, path: str, method: str) -> Json:
    found: Json = contract["paths"][path][method]
    return found


def post(contract: Json) -> Json:
    return operation(contract, "/v1/plan", "post")


def lookup(contract: Json) -> Json:
    return operation(contract, "/v1/threads/limits", "get")


def parameter(contract: Json, name: str) -> Json:
    return next(one for one in lookup(contract)["parameters"] if one["name"] == name)


def _nullable(schema: Json) -> None:
    schema["type"] = [schema["type"], "null"]


BREAKS: dict[str, tuple[Callable[[Json], Any], str]] = {
    "a path gone": (lambda c: c["paths"].pop("/v1/plan"), "POST /v1/plan: taken away"),
    "another method": (
        lambda c: c["paths"]["/v1/plan"].update(put=c["paths"]["/v1/plan"].pop("post")),
        "POST /v1/plan: taken away",
    ),
    "another operation id": (
        lambda c: post(c).update(operationId="planned"),
        "POST /v1/plan: operation id plan is now planned",
    ),
    "a token needed": (
        lambda c: post(c).update(security=[{"bearer": []}]), "POST /v1/plan: a token is needed now",
    ),
    "a parameter gone": (
        lambda c: lookup(c)["parameters"].remove(parameter(c, "side")),
        "GET /v1/threads/limits ?side: taken away",
    ),
    "a parameter required": (
        lambda c: parameter(c, "side").update(required=True),
        "GET /v1/threads/limits ?side: required now",
    ),
    "a new required parameter": (
        lambda c: lookup(c)["parameters"].append(
            {"name": "shop", "in": "query", "required": True, "schema": {"type": "string"}}
        ),
        "GET /v1/threads/limits ?shop: new and required",
    ),
    "a word less in a query": (
        lambda c: parameter(c, "unit")["schema"]["enum"].remove("mm"),
        "GET /v1/threads/limits ?unit: the word mm isn't taken any more",
    ),
    "a body of a lookup": (
        lambda c: lookup(c).update(requestBody={"required": True, "content": {}}),
        "GET /v1/threads/limits: a body is needed now",
    ),
    "another kind of body": (
        lambda c: post(c)["requestBody"].update(content={"text/csv": {"schema": {}}}),
        "POST /v1/plan: a body of application/json isn't taken any more",
    ),
    "no body at all": (
        lambda c: post(c).pop("requestBody"),
        "POST /v1/plan: a body of application/json isn't taken any more",
    ),
    "a field gone": (
        lambda c: properties(c, "JobBossAsk").pop("depth"), "JobBossAsk.depth: taken away",
    ),
    "a field renamed": (
        lambda c: properties(c, "JobBossAsk").update(deep=properties(c, "JobBossAsk").pop("ready")),
        "JobBossAsk.ready: taken away",
    ),
    "a field required": (
        lambda c: c["components"]["schemas"]["JobBossAsk"]["required"].append("ready"),
        "JobBossAsk.ready: required now",
    ),
    "a new required field": (
        lambda c: (
            properties(c, "JobBossAsk").update(finish={"type": "string"}),
            c["components"]["schemas"]["JobBossAsk"]["required"].append("finish"),
        ),
        "JobBossAsk.finish: new and required",
    ),
    "null not taken": (
        lambda c: properties(c, "JobBossAsk")["diameter"].update(type="number"),
        "JobBossAsk.diameter: null isn't taken any more",
    ),
    "text for a number": (
        lambda c: properties(c, "JobBossAsk")["depth"].update(type="string"),
        "JobBossAsk.depth: number isn't taken any more",
    ),
    "whole numbers only": (
        lambda c: properties(c, "JobBossAsk")["depth"].update(type="integer"),
        "JobBossAsk.depth: number isn't taken any more",
    ),
    "a greater least": (
        lambda c: properties(c, "JobAsk")["quantity"].update(minimum=2),
        "JobAsk.quantity: minimum 1 is now 2",
    ),
    "a smaller greatest": (
        lambda c: properties(c, "JobAsk")["quantity"].update(maximum=10),
        "JobAsk.quantity: maximum 1000000 is now 10",
    ),
    "a limit where there was none": (
        lambda c: properties(c, "JobAsk")["quantity"].update(exclusiveMaximum=5),
        "JobAsk.quantity: exclusiveMaximum none is now 5",
    ),
    "a limit of one unit": (
        lambda c: properties(c, "JobBossAsk")["depth"]["x-limits-by-unit"]["in"].__setitem__(1, 9),
        "JobBossAsk.depth: limits in in",
    ),
    "shorter text": (
        lambda c: properties(c, "JobAsk")["name"].update(maxLength=8),
        "JobAsk.name: maxLength 60 is now 8",
    ),
    "another pattern": (
        lambda c: properties(c, "JobAsk")["name"].update(pattern="^[a-z]*$"),
        "JobAsk.name: another pattern",
    ),
    "fewer items": (
        lambda c: properties(c, "JobAsk")["accept"].update(maxItems=1),
        "JobAsk.accept: maxItems 20 is now 1",
    ),
    "another default": (
        lambda c: properties(c, "JobAsk")["quantity"].update(default=2),
        "JobAsk.quantity: left out it meant 1, now 2",
    ),
    "other items": (
        lambda c: properties(c, "JobAsk")["accept"].update(items={"type": "integer"}),
        "JobAsk.accept[]: string isn't taken any more",
    ),
    "a word less in a body": (
        lambda c: properties(c, "JobStockAsk")["shape"]["enum"].remove("round"),
        "JobStockAsk.shape: the word round isn't taken any more",
    ),
    "words where any text was": (
        lambda c: properties(c, "JobStockAsk")["material"].update(enum=["303"]),
        "JobStockAsk.material: the word (any) isn't taken any more",
    ),
    "a line of a stream": (
        lambda c: properties(c, "RequestLineAsk").pop("key"), "RequestLineAsk.key: taken away",
    ),
    "no 304": (
        lambda c: lookup(c)["responses"].pop("304"),
        "GET /v1/threads/limits: no reply 304 any more",
    ),
    "a media type gone": (
        lambda c: post(c)["responses"]["200"]["content"].pop("text/plain"),
        "POST /v1/plan 200: text/plain can't be asked for any more",
    ),
    "a header gone": (
        lambda c: lookup(c)["responses"]["200"]["headers"].pop("ETag"),
        "GET /v1/threads/limits 200: header ETag taken away",
    ),
    "a figure gone": (
        lambda c: properties(c, "PlanReply").pop("verdict"), "PlanReply.verdict: taken away",
    ),
    "a figure not promised": (
        lambda c: c["components"]["schemas"]["PlanReply"]["required"].remove("passes"),
        "PlanReply.passes: may be left out now",
    ),
    "null where a figure was": (
        lambda c: _nullable(properties(c, "PassPlanReply")["centre_radius"]),
        "PassPlanReply.centre_radius: may be null now",
    ),
    "null where an object was": (
        lambda c: properties(c, "PlanReply").update(
            form={"anyOf": [{"$ref": "#/components/schemas/FormPlanReply"}, {"type": "null"}]}
        ),
        "PlanReply.form: may be null now",
    ),
    "no kind said": (
        lambda c: properties(c, "PlanReply").update(material={}),
        "PlanReply.material: may be string now",
    ),
    "text for a figure": (
        lambda c: properties(c, "PassPlanReply")["centre_radius"].update(type="string"),
        "PassPlanReply.centre_radius: may be string now",
    ),
    "a word more in a reply": (
        lambda c: properties(c, "PlanReply")["verdict"]["enum"].append("perhaps"),
        "PlanReply.verdict: may be the word perhaps now",
    ),
    "any word in a reply": (
        lambda c: properties(c, "PlanReply")["verdict"].pop("enum"),
        "PlanReply.verdict: may be the word (any) now",
    ),
    "a problem's pointer gone": (
        lambda c: properties(c, "Fault").pop("pointer"), "Fault.pointer: taken away",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BREAKS)
def test_a_change_that_breaks_a_caller_is_found(name: str) -> None:
    change, told = BREAKS[name]
    old = fresh()
    new = copy.deepcopy(old)
    change(new)
    found = breaking(relied_on(old), new)
    assert any(one.startswith(told) for one in found), found
    assert wanted_raise(old, new) == "major"
    assert not is_raised("1.4.2", "1.99.0", "major")
    assert is_raised("1.4.2", "2.0.0", "major")


ADDS: dict[str, Callable[[Json], Any]] = {
    "a path": lambda c: c["paths"].update({"/v1/new": {}}),
    "an optional parameter": lambda c: lookup(c)["parameters"].append(
        {"name": "shop", "in": "query", "required": False, "schema": {"type": "string"}}
    ),
    "an optional field": lambda c: properties(c, "JobBossAsk").update(finish={"type": "string"}),
    "a figure": lambda c: properties(c, "PlanReply").update(finish={"type": "string"}),
    "a wider limit": lambda c: properties(c, "JobAsk")["quantity"].update(maximum=10_000_000),
    "a word in a request": lambda c: properties(c, "JobStockAsk")["shape"]["enum"].append("square"),
    "null taken": lambda c: _nullable(properties(c, "JobBossAsk")["depth"]),
    "anything taken": lambda c: properties(c, "JobBossAsk").update(depth={}),
    "a media type": lambda c: post(c)["responses"]["200"]["content"].update({"text/csv": {}}),
    "a code of a problem": lambda c: properties(c, "Problem")["code"]["enum"].append("tired"),
    "a status of a problem": lambda c: post(c)["responses"].update({"451": {}}),
    "a figure promised never null": lambda c: properties(c, "PlanReply").update(
        cost={"$ref": "#/components/schemas/BatchCostReply"}
    ),
}


@pytest.mark.parametrize("name", ADDS)
def test_a_change_that_only_adds_wants_the_second_number(name: str) -> None:
    old = fresh()
    new = copy.deepcopy(old)
    ADDS[name](new)
    assert breaking(old, new) == []
    assert wanted_raise(old, new) == "minor"
    assert not is_raised("1.4.2", "1.4.3", "minor")
    assert is_raised("1.4.2", "1.5.0", "minor")


def test_words_and_examples_want_nothing() -> None:
    old = fresh()
    new = copy.deepcopy(old)
    post(new).update(summary="Other words", description="Other words")
    properties(new, "JobBossAsk")["depth"].update(description="Other", examples=[1])
    assert relied_on(old) == relied_on(new)
    assert wanted_raise(relied_on(old), new) == ""
    assert is_raised("1.4.2", "1.4.2", "")
    assert not is_raised("1.4.2", "1.4.1", "")


def test_a_field_named_as_a_word_is_still_looked_at(tmp_path: Path) -> None:
    old = fresh()
    new = copy.deepcopy(old)
    del properties(new, "Problem")["title"]
    assert "Problem.title: taken away" in breaking(relied_on(old), relied_on(new))
