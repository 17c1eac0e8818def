"""What a plan says is said so that a person can use it: plain figures, places that are there."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest

from flankwise_service.config import Settings
from flankwise_service.core.errors import Fault, Impossible
from flankwise_service.core.path.collision import Approach
from flankwise_service.core.path.segment import Point
from flankwise_service.core.plan import clear, route
from flankwise_service.core.plan.common import placed
from flankwise_service.web.app import build_app
from support.wire import CONTRACT, EXAMPLES, leaves, put

SCHEMAS: dict[str, Any] = json.loads(CONTRACT.read_text("utf-8"))["components"]["schemas"]
STORED = json.loads((EXAMPLES / "plan.json").read_text("utf-8"))
POWER = re.compile(r"\d[eE][+-]?\d")
FACTORS = (0.05, 0.3, 0.7, 1.4, 3.0, 20.0)


def stands_in(schema: dict[str, Any], pointer: str) -> bool:
    """Return whether the contract's schema has a value at this place."""
    for name in pointer.split("/")[1:]:
        schema = plain_of(schema)
        if name in schema.get("properties", {}):
            schema = schema["properties"][name]
        elif name.isdigit() and "items" in schema:
            schema = schema["items"]
        else:
            return False
    return True


def plain_of(schema: dict[str, Any]) -> dict[str, Any]:
    while "properties" not in schema and "items" not in schema:
        if "$ref" in schema:
            schema = SCHEMAS[schema["$ref"].rpartition("/")[2]]
            continue
        kinds = [one for name in ("oneOf", "anyOf", "allOf") for one in schema.get(name, ())]
        if not kinds:
            return schema
        schema = next(one for one in kinds if one.get("type") != "null")
    return schema


def sent_at(job: Any, pointer: str) -> tuple[bool, Any]:
    """Return whether the job itself has a value at this place, and that value."""
    for name in pointer.split("/")[1:]:
        if not isinstance(job, dict) or name not in job:
            return False, None
        job = job[name]
    return True, job


def changed_jobs(asked: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Yield a job, and before it each of its figures in turn made too large or too small."""
    for place, value in leaves(asked):
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            for factor in FACTORS:
                yield put(asked, place, type(value)(value * factor))
    yield asked


@pytest.mark.slow
@pytest.mark.parametrize("stored", STORED, ids=lambda stored: str(stored["name"]))
def test_every_refusal_of_a_plan_points_at_a_value_of_the_job(stored: dict[str, Any]) -> None:
    web = build_app(Settings(access_log=False)).test_client()
    seen: set[str] = set()
    for job in changed_jobs(stored["request"]):
        reply = web.post("/v1/plan", json=job)
        told = reply.get_json()
        assert reply.status_code in (200, 422)
        if reply.status_code == 422:
            pointers = {fault["pointer"] for fault in told["faults"]}
            lost = [one for one in pointers if not stands_in(SCHEMAS["JobAsk"], one)]
            assert lost == [], told["faults"]
            seen |= pointers
            for fault in told["faults"]:
                there, sent = sent_at(job, fault["pointer"])
                if there and fault["value"] is not None:
                    assert fault["value"] == sent, fault
        else:
            for line in told["assumed"]:
                assert not POWER.search(line), line
            for check in told["checks"]:
                where = re.findall(r"at X \S+ Y \S+ Z \S+", check["detail"])
                assert not any(POWER.search(one) for one in where), where
    assert len(seen) > 3


@pytest.mark.parametrize("pointer", ["/lead_in", "/lead_out", "/overlap", "/passes/0"])
def test_what_the_plan_chose_itself_is_laid_to_what_the_job_can_change(pointer: str) -> None:
    moved = placed(Impossible(Fault(pointer, "c", "d", "e")), route.PLACES, "/cutting")
    assert stands_in(SCHEMAS["JobAsk"], moved.faults[0].pointer)
    assert not stands_in(SCHEMAS["JobAsk"], "/cutting" + pointer)


def test_a_place_that_is_nought_is_said_to_be() -> None:
    near = Approach(-0.5, "shank", "bar", 1, Point(6e-15, -4e-17, -12.345678))
    (check,) = clear.collision_checks((near,), "mm")
    assert "at X 0 Y 0 Z -12.346" in check.detail
