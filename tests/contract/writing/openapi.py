"""The contract: an OpenAPI 3.1 document made from the operations of the application."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from typing import Any

from flask import Flask

from contract.writing.json_schema import Components
from flankwise_service import __version__
from flankwise_service.web.access import GUARDED
from flankwise_service.web.operation import Operation
from flankwise_service.web.problems import CODES, MEDIA_TYPE, TYPE_PREFIX

JSON = "application/json"
MOST_EXAMPLE_BYTES = 6_000
ANY_PROBLEMS = (400, 406, 422, 429, 431, 500, 503)
GET_PROBLEMS = (*ANY_PROBLEMS, 414)
POST_PROBLEMS = (*ANY_PROBLEMS, 411, 413, 415)
ABOUT = """\
Thread milling, worked out whole: limits of size, bar stock, cutter, path, speeds and feeds, the
form really cut, program and gauging.

Every call is a pure computation: the same body gives the same bytes, nothing is kept, and any call
may be sent again. Every request that has lengths names its `unit` ("in" or "mm"); there is no
default. Angles are in degrees. What can't be computed with confidence is refused with a problem
(RFC 9457) that lists every fault, each with a JSON pointer into the request, the limits, and what
to change.

A figure from here can move a machine. Prove every program out in air, check tool and offset, keep
guards closed and wear eye protection; the machine's own manual, local codes and qualified people
come first.
"""

Examples = Mapping[str, list[dict[str, Any]]]


def document(app: Flask, examples: Examples) -> dict[str, Any]:
    """Return the whole contract as a plain dict."""
    operations: dict[str, Operation] = app.extensions["flankwise"].operations
    components = Components()
    paths: dict[str, dict[str, Any]] = {}
    for declared in operations.values():
        described = _operation(declared, components, examples.get(declared.id, []))
        paths.setdefault(declared.path, {})[declared.method.lower()] = described
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "flankwise",
            "version": __version__,
            "summary": "Thread milling, worked out whole",
            "description": ABOUT,
        },
        "servers": [{"url": "/", "description": "The service this document came from"}],
        "tags": _tags(app, operations),
        "paths": paths,
        "components": {
            "schemas": dict(sorted((components.schemas | _problem_schemas()).items())),
            "responses": _problem_responses(),
            "headers": HEADERS,
            "securitySchemes": {"bearer": BEARER},
        },
    }


BEARER = {
    "type": "http",
    "scheme": "bearer",
    "description": "Asked for only where the shop has set tokens. Scope `read` is for GET, `plan` "
    "for POST.",
}
HEADERS: dict[str, Any] = {
    "X-Request-Id": {
        "description": "The caller's own X-Request-Id, or one made for this request.",
        "schema": {"type": "string"},
    },
    "Service-Version": {
        "description": "Version of the service that made the reply.",
        "schema": {"type": "string", "examples": [__version__]},
    },
    "ETag": {
        "description": "Strong entity tag of exactly these bytes.",
        "schema": {"type": "string"},
    },
    "Cache-Control": {
        "description": "How long the reply may be kept.",
        "schema": {"type": "string"},
    },
}


def _tags(app: Flask, operations: Mapping[str, Operation]) -> list[dict[str, str]]:
    said: dict[str, str] = {}
    for declared in operations.values():
        module = sys.modules[app.blueprints[declared.blueprint].import_name]
        first = (module.__doc__ or "").strip().split("\n\n")[0]
        said.setdefault(declared.tag, " ".join(first.split()))
    return [{"name": name, "description": text} for name, text in said.items()]


def _operation(
    declared: Operation, components: Components, examples: list[dict[str, Any]]
) -> dict[str, Any]:
    described: dict[str, Any] = {
        "operationId": declared.id,
        "tags": [declared.tag],
        "summary": declared.summary,
        "description": declared.description or declared.summary,
    }
    if declared.method == "GET":
        parameters = _parameters(declared, components, examples)
        if parameters:
            described["parameters"] = parameters
    else:
        content: dict[str, Any] = {"schema": components.ref(declared.asks, asked=True)}
        if declared.takes != JSON:  # lines, each of that schema; as a whole it is text
            content = {"schema": {"type": "string", "x-each-line": content["schema"]}}
        named = {
            _slug(each["name"]): {"summary": each["name"], "value": each["request"]}
            for each in examples
        }
        if named:
            content["examples"] = named
        described["requestBody"] = {"required": True, "content": {declared.takes: content}}
    if declared.path.startswith(GUARDED):
        described["security"] = [{}, {"bearer": []}]
    described["responses"] = _responses(declared, components, examples)
    return described


def _parameters(
    declared: Operation, components: Components, examples: list[dict[str, Any]]
) -> list[dict[str, Any]]:
    found = []
    for name, field in declared.asks().fields.items():
        schema = components.of(field, asked=True)
        parameter: dict[str, Any] = {
            "name": name,
            "in": "query",
            "required": field.required,
            "description": schema.pop("description", ""),
            "schema": _without_null(schema),
        }
        named = {
            _slug(each["name"]): {"summary": each["name"], "value": each["request"][name]}
            for each in examples
            if each["status"] == 200 and name in each["request"]
        }
        if named:
            parameter["examples"] = named
        found.append(parameter)
    return found


def _without_null(schema: dict[str, Any]) -> dict[str, Any]:
    """A query can leave a parameter out, but it can't say null."""
    kept = dict(schema)
    if isinstance(kept.get("type"), list):
        kept["type"] = kept["type"][0]
    if "enum" in kept:
        kept["enum"] = [word for word in kept["enum"] if word is not None]
    return kept


def _responses(
    declared: Operation, components: Components, examples: list[dict[str, Any]]
) -> dict[str, Any]:
    content: dict[str, Any] = {}
    for media_type in declared.media_types:
        if media_type == JSON and declared.replies is not None:
            content[JSON] = {"schema": components.ref(declared.replies, asked=False)}
        else:
            kind = "object" if media_type == JSON else "string"
            content[media_type] = {"schema": {"type": kind}}
        named = {
            _slug(each["name"]): {"summary": each["name"], "value": each["reply"]}
            for each in examples
            if each["status"] == 200
            and each.get("accept", declared.media_types[0]) == media_type
            and len(str(each["reply"])) <= MOST_EXAMPLE_BYTES
        }
        if named:
            content[media_type]["examples"] = named
    headers = ["X-Request-Id", "Service-Version", "Cache-Control"]
    if declared.method == "GET" and declared.keep:
        headers.append("ETag")
    replies: dict[str, Any] = {
        "200": {"description": "Computed.", "headers": _headers(headers), "content": content}
    }
    if declared.method == "GET" and declared.keep:
        replies["304"] = {
            "description": "The caller holds these bytes already (If-None-Match).",
            "headers": _headers(headers),
        }
    told = GET_PROBLEMS if declared.method == "GET" else POST_PROBLEMS
    guarded = (401, 403) if declared.path.startswith(GUARDED) else ()
    for status in sorted((*told, *guarded)):
        replies[str(status)] = {"$ref": f"#/components/responses/Problem{status}"}
    refused = {
        _slug(each["name"]): {"summary": each["name"], "value": each["reply"]}
        for each in examples
        if each["status"] == 422
    }
    if refused:
        replies["422"] = _problem_response(422)
        replies["422"]["content"][MEDIA_TYPE]["examples"] = refused
    return replies


def _headers(names: list[str]) -> dict[str, Any]:
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}


def _slug(name: str) -> str:
    kept = "".join(letter if letter.isalnum() else "_" for letter in name.lower())
    return "_".join(part for part in kept.split("_") if part)


def _problem_responses() -> dict[str, Any]:
    statuses = sorted({status for status, _ in CODES.values()})
    return {f"Problem{status}": _problem_response(status) for status in statuses}


def _problem_response(status: int) -> dict[str, Any]:
    said = [f"`{code}`: {title}." for code, (known, title) in CODES.items() if known == status]
    headers = _headers(["X-Request-Id", "Service-Version", "Cache-Control"])
    if status in (401, 403):
        headers["WWW-Authenticate"] = {
            "description": "How to authenticate (RFC 6750).", "schema": {"type": "string"},
        }  # fmt: skip
    if status in (429, 503):
        headers["Retry-After"] = {
            "description": "Seconds to wait before asking again, where that is known.",
            "schema": {"type": "integer"},
        }
    return {
        "description": " ".join(said),
        "headers": headers,
        "content": {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}},
    }


def _problem_schemas() -> dict[str, Any]:
    figure = {"type": ["number", "null"]}
    return {
        "Problem": {
            "type": "object",
            "description": "Why a request has no result (RFC 9457), every fault in one reply.",
            "properties": {
                "type": {
                    "type": "string",
                    "format": "uri-reference",
                    "description": f"`{TYPE_PREFIX}` and the code.",
                },
                "title": {"type": "string", "description": "The kind of problem, in words."},
                "status": {"type": "integer", "description": "The HTTP status."},
                "detail": {"type": "string", "description": "What is wrong this time."},
                "code": {
                    "type": "string",
                    "description": "The kind of problem; it never changes, but kinds may be added.",
                    "enum": sorted(CODES),
                },
                "instance": {
                    "type": "string",
                    "format": "uri-reference",
                    "description": "Names this one occurrence.",
                },
                "request_id": {"type": "string", "description": "To quote when asking about it."},
                "faults": {
                    "type": "array",
                    "description": "Everything that is wrong with the request, at once.",
                    "items": {"$ref": "#/components/schemas/Fault"},
                },
            },
            "required": [
                "type", "title", "status", "detail", "code", "instance", "request_id", "faults",
            ],
        },
        "Fault": {
            "type": "object",
            "description": "One thing wrong with what was asked, and what to change.",
            "properties": {
                "pointer": {
                    "type": "string",
                    "description": "Where in the request (JSON pointer, RFC 6901). "
                    "A query parameter is named as if the query were an object.",
                },
                "code": {"type": "string", "description": "The kind of fault; it never changes."},
                "detail": {"type": "string", "description": "What is wrong, in words."},
                "value": {"description": "The value given, long text cut, null for objects."},
                "least": {"description": "The least value allowed.", **figure},
                "greatest": {"description": "The greatest value allowed.", **figure},
                "unit": {"type": ["string", "null"], "description": "Unit of value and limits."},
                "change": {"type": "string", "description": "What to change."},
                "near": {
                    "type": "array",
                    "items": {"type": "string"},
                    "description": "What was likely meant.",
                },
            },
            "required": [
                "pointer", "code", "detail", "value", "least", "greatest", "unit", "change", "near",
            ],
        },
    }  # fmt: skip
