"""Declares one operation of the service: load what was asked, compute, dump the result.

The decorator keeps all that the contract, the SDK and the tests need to know in one place, so
that routes, schemas and contract can't drift apart.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from flask import Blueprint, Response, current_app, request
from flask.blueprints import BlueprintSetupState
from werkzeug.datastructures import Headers

from flankwise_service import __version__
from flankwise_service.config import Settings
from flankwise_service.core.errors import Refusal
from flankwise_service.web.accept import choose
from flankwise_service.web.access import Access
from flankwise_service.web.body import JSON, NDJSON, read_json, spool
from flankwise_service.web.dump import to_json
from flankwise_service.web.fields import Schema
from flankwise_service.web.front import OPERATION
from flankwise_service.web.load import load, query
from flankwise_service.web.lookups import Lookups, Rendered, etag_of, key_of, same
from flankwise_service.web.metrics import Meter
from flankwise_service.web.problems import of_refusal
from flankwise_service.web.reply import Reply
from flankwise_service.web.turns import Turns

Compute = Callable[[Any], object]
Render = Callable[[Any], str | bytes | Iterable[bytes]]
BASE = "/v1"


@dataclass(frozen=True, slots=True)
class Operation:
    """All there is to know of one operation."""

    id: str
    method: str
    path: str
    """With its /v1, as the contract shows it."""
    tag: str
    summary: str
    description: str
    asks: type[Schema]
    schema: Schema
    compute: Compute
    replies: type[Schema] | None
    """None where the reply has no JSON form."""
    renders: Mapping[str, Render] = field(default_factory=dict)
    """Further media types, each with what turns the result into its bytes (or a stream)."""
    heavy: bool = False
    """Takes milliseconds to compute, so that it waits for its turn (web/turns.py)."""
    keep: bool = True
    """A GET whose reply may be kept: it depends on nothing but the query and the version."""
    takes: str = JSON
    """The media type of the body of a POST."""
    blueprint: str = ""
    pointers: Mapping[str, str] = field(default_factory=dict)
    """Where core's arguments stand in the request, by beginnings of pointers."""
    media_types: tuple[str, ...] = (JSON,)
    """What the reply can be given as, the one preferred first."""
    headers: Mapping[str, Headers] = field(default_factory=dict)
    """Those of a reply that isn't kept, by media type. Shared by all of them, never changed."""


@dataclass(slots=True)
class State:
    """What the application holds: settings, kept lookups, tokens, counts, and its operations."""

    settings: Settings
    lookups: Lookups
    access: Access
    meter: Meter
    turns: Turns
    operations: dict[str, Operation] = field(default_factory=dict)
    batchable: dict[str, Operation] = field(default_factory=dict)
    """Those that may stand in a batch: they reply with JSON, and aren't batches themselves."""


def state() -> State:
    """Return the state of the application that answers this request."""
    found: State = current_app.extensions["flankwise"]
    return found


def operation(
    blueprint: Blueprint,
    method: str,
    path: str,
    *,
    id: str,  # noqa: A002
    tag: str,
    asks: type[Schema],
    replies: type[Schema] | None,
    summary: str,
    renders: Mapping[str, Render] | None = None,
    pointers: Mapping[str, str] | None = None,
    heavy: bool = False,
    keep: bool = True,
    takes: str = JSON,
    under: str = BASE,
) -> Callable[[Compute], Compute]:
    """Register the decorated function as operation `id` at `path` (below /v1).

    `asks` loads the query of a GET or the JSON body of a POST; the function takes the loaded dict
    and returns a result of core, or a dict. A refusal it raises is answered 422, its pointers
    moved by `pointers` ({"/core_argument": "/place/in/request"}). `renders` offers other media
    types: {"text/csv": to_csv}, each given the result; a generator of bytes is streamed.
    `heavy=True` marks one that takes its turn, `keep=False` a GET whose reply changes with time.
    With `takes=NDJSON` the body isn't loaded: the function is given a file of its lines, which
    `asks` describes one by one.
    """

    media_types = tuple(dict.fromkeys(((JSON,) if replies else ()) + tuple(renders or {})))

    def declare(compute: Compute) -> Compute:
        declared = Operation(
            id=id,
            method=method,
            path=under + path,
            tag=tag,
            summary=summary,
            description=_dedented(compute.__doc__),
            asks=asks,
            schema=asks(),
            compute=compute,
            replies=replies,
            renders=dict(renders or {}),
            heavy=heavy,
            keep=keep,
            takes=takes,
            blueprint=blueprint.name,
            pointers=dict(pointers or {}),
            media_types=media_types,
            headers={one: _headers(one, media_types, "no-store") for one in media_types},
        )

        def view() -> Response:
            return _answer(declared)

        view.__name__ = id
        blueprint.add_url_rule(path, endpoint=id, view_func=view, methods=[method])
        blueprint.record(lambda setup: _note(setup, declared))
        return compute

    return declare


def _note(setup: BlueprintSetupState, declared: Operation) -> None:
    held: State = setup.app.extensions["flankwise"]
    if declared.id in held.operations:
        raise ValueError(f"operation {declared.id} is declared twice")
    held.operations[declared.id] = declared
    if declared.path.startswith(BASE) and declared.replies is not None and declared.tag != "batch":
        held.batchable[declared.id] = declared


def _answer(declared: Operation) -> Response:
    environ = request.environ
    environ[OPERATION] = declared.id
    held = state()
    media_type = choose(environ.get("HTTP_ACCEPT"), declared.media_types)
    asked = _asked(declared, environ, held.settings)
    try:
        with held.turns.taken(heavy=declared.heavy):
            result = declared.compute(asked)
            render = declared.renders.get(media_type, to_json)
            body = render(result)
    except Refusal as refusal:
        raise of_refusal(refusal, declared.pointers) from refusal
    if isinstance(body, str):
        body = body.encode()
    if declared.method == "GET" and declared.keep and isinstance(body, bytes):
        return _lookup_reply(declared, held, media_type, body)
    return Reply(body, declared.headers[media_type])


def _asked(declared: Operation, environ: dict[str, Any], settings: Settings) -> Any:
    if declared.takes == NDJSON:
        return spool(environ, settings.stream_cap)
    if declared.method == "GET":
        raw = query(declared.schema, environ.get("QUERY_STRING", ""), settings.query_cap)
    else:
        raw = read_json(environ, settings.body_cap, settings.depth_cap)
    return load(declared.schema, raw)


def _lookup_reply(declared: Operation, held: State, media_type: str, body: bytes) -> Response:
    environ = request.environ
    etag = etag_of(body, __version__)
    who = "private" if held.access.wanted else "public"
    caching = f"{who}, max-age={held.settings.lookup_age}"
    headers = _headers(media_type, declared.media_types, caching)
    headers.add("ETag", etag)
    response = Response(body, headers=headers)
    key = key_of(environ)
    if key is not None:
        kept = Rendered(declared.id, body, tuple(response.headers.to_wsgi_list()), etag)
        held.lookups.put(key, kept)
    if same(environ, etag):
        response.status_code = 304
        response.set_data(b"")
        del response.headers["Content-Length"], response.headers["Content-Type"]
    return response


def _headers(media_type: str, offered: Sequence[str], caching: str) -> Headers:
    full = f"{media_type}; charset=utf-8" if media_type.startswith("text/") else media_type
    vary = [("Vary", "Accept")] if len(offered) > 1 else []
    return Headers([("Content-Type", full), ("Cache-Control", caching), *vary])


def _dedented(text: str | None) -> str:
    return inspect.cleandoc(text or "")
