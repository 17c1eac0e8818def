"""Records what the service really answers to the requests in openapi/examples."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from flask import Flask
from flask.testing import FlaskClient

from flankwise_service.web.body import NDJSON
from flankwise_service.web.operation import Operation

FOLDER = Path(__file__).resolve().parents[3] / "openapi" / "examples"
REQUEST_ID = "recorded-example"


def stored(folder: Path = FOLDER) -> dict[str, list[dict[str, Any]]]:
    """Return the examples as they are stored, by operation id."""
    return {
        path.stem: json.loads(path.read_text("utf-8")) for path in sorted(folder.glob("*.json"))
    }


def recorded(app: Flask, folder: Path = FOLDER) -> dict[str, list[dict[str, Any]]]:
    """Return the same examples with status and reply as the service gives them now."""
    operations: dict[str, Operation] = app.extensions["flankwise"].operations
    client = app.test_client()
    found: dict[str, list[dict[str, Any]]] = {}
    for operation_id, examples in stored(folder).items():
        if operation_id not in operations:
            raise ValueError(f"openapi/examples/{operation_id}.json: there is no such operation")
        found[operation_id] = [play(client, operations[operation_id], each) for each in examples]
    return found


def play(client: FlaskClient, declared: Operation, example: dict[str, Any]) -> dict[str, Any]:
    """Return `example` with the status and reply that the service gives it."""
    headers = {"X-Request-Id": REQUEST_ID}
    if "accept" in example:
        headers["Accept"] = example["accept"]
    if declared.method == "GET":
        reply = client.get(declared.path, query_string=example["request"], headers=headers)
    elif declared.takes == NDJSON:
        reply = client.post(
            declared.path, data=example["request"], headers=headers, content_type=NDJSON
        )
    else:
        reply = client.post(declared.path, json=example["request"], headers=headers)
    if reply.status_code >= 500:
        raise RuntimeError(f"{declared.id}: {example['name']}: answered {reply.status_code}")
    kept = {key: value for key, value in example.items() if key not in ("status", "reply")}
    is_json = reply.mimetype.endswith("json") and reply.mimetype != NDJSON
    body = json.loads(reply.data) if is_json else reply.get_data(as_text=True)
    return kept | {"status": reply.status_code, "reply": body}


def text_of(examples: list[dict[str, Any]]) -> str:
    """Return examples as the text of their file."""
    return json.dumps(examples, indent=1, ensure_ascii=False) + "\n"


def for_the_sdk(operations: dict[str, Operation], played: dict[str, list[dict[str, Any]]]) -> str:
    """Return all examples as the SDK's fake service reads them: one operation a line."""
    return "".join(
        json.dumps(_told(declared, played.get(name, [])), ensure_ascii=False, separators=(",", ":"))
        + "\n"
        for name, declared in operations.items()
    )


def _told(declared: Operation, played: list[dict[str, Any]]) -> dict[str, Any]:
    spelled = {}
    for name, field in declared.schema.fields.items():
        default = field.load_default
        if not field.required and default is not None:
            value = default() if callable(default) else default
            spelled[name] = list(value) if isinstance(value, tuple) else value
    return {
        "id": declared.id, "method": declared.method, "path": declared.path,
        "takes": declared.takes, "defaults": spelled,
        "examples": [
            {
                "name": one["name"], "request": one["request"], "status": one["status"],
                "reply": one["reply"], "accept": one.get("accept", declared.media_types[0]),
            }
            for one in played
        ],
    }  # fmt: skip
