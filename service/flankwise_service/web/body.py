"""Reads a request body: strict JSON, of known length, in plain UTF-8, and nothing else."""

from __future__ import annotations

import json
from tempfile import SpooledTemporaryFile
from typing import Any, BinaryIO, cast

import orjson

from flankwise_service.core.errors import Fault
from flankwise_service.web.load import bad_values, escaped
from flankwise_service.web.problems import Problem

JSON = "application/json"
NDJSON = "application/x-ndjson"
IN_MEMORY = 262_144
PIECE = 65_536
READ_AWAY = 2_097_152
"""As much as the proxy lets through. What is refused unread closes the connection while a sender is
still writing, who may then take the service for gone (and a proxy say 503) and not see the 413."""


def read_json(environ: dict[str, Any], cap: int, depth_cap: int) -> Any:
    """Return the JSON value in the body of the request, or raise the problem it has."""
    _check_kind(environ, JSON)
    return parse(read_bytes(environ, cap), depth_cap)


def read_bytes(environ: dict[str, Any], cap: int) -> bytes:
    """Return the body's bytes: at most `cap`, and as many as Content-Length tells."""
    length = _length_of(environ, cap)
    body: bytes = environ["wsgi.input"].read(length)
    if len(body) != length:
        raise Problem("body_cut_short", f"{len(body)} of {length} bytes arrived")
    return body


def _length_of(environ: dict[str, Any], cap: int) -> int:
    told = environ.get("CONTENT_LENGTH") or ""
    if not told or "HTTP_TRANSFER_ENCODING" in environ:
        raise Problem(
            "length_required",
            "the body has no Content-Length; send it whole, with its length, not in chunks",
        )
    if not (told.isascii() and told.isdigit()):
        raise Problem("bad_request", "Content-Length isn't a whole number")
    length = int(told[:20])
    if length > cap:
        left = length if length <= READ_AWAY else 0
        while left and (piece := environ["wsgi.input"].read(min(PIECE, left))):
            left -= len(piece)
        raise Problem("body_too_large", f"the body has {told[:20]} bytes, allowed are {cap}")
    return length


def spool(environ: dict[str, Any], cap: int) -> BinaryIO:
    """Return the body's bytes as a file, at its beginning; large ones lie on disk.

    The body is taken in whole before the first line is answered: who sends first and reads later
    would otherwise stand still once both directions are full.
    """
    _check_kind(environ, NDJSON)
    length = _length_of(environ, cap)
    file = SpooledTemporaryFile(IN_MEMORY)  # noqa: SIM115  # closed by who reads it
    left = length
    while left:
        piece = environ["wsgi.input"].read(min(PIECE, left))
        if not piece:
            file.close()
            raise Problem("body_cut_short", f"{length - left} of {length} bytes arrived")
        try:
            file.write(piece)
        except OSError as error:
            file.close()
            raise _no_room() from error
        left -= len(piece)
    file.seek(0)
    return cast(BinaryIO, file)


def _no_room() -> Problem:
    """Return what is said where the disk is full, or there is none: later there may be room."""
    return Problem(
        "not_ready",
        "there is no room to hold the body now; send it again later, or in smaller parts",
        headers={"Retry-After": "2"},
    )


def parse(body: bytes, depth_cap: int) -> Any:
    """Return the value of strict JSON text.

    Refused beside what the grammar (RFC 8259) refuses: NaN and Infinity, numbers beyond a
    double, a byte order mark, other encodings than UTF-8, nesting deeper than `depth_cap`, and
    one name twice in an object.

    >>> parse(b'{"pitch": 1.5}', 8)
    {'pitch': 1.5}
    """
    try:
        value = orjson.loads(body)
    except orjson.JSONDecodeError as error:
        raise _bad_json(body, error) from None
    # One colon stands between each name and its value. So when there are just as many colons as
    # names left after parsing, no name was given twice (and no text holds a colon): exact, and
    # far cheaper than parsing with a hook. Otherwise look closely.
    names, depth = _census(value, depth_cap)
    if depth > depth_cap:
        raise Problem("bad_json", f"objects and lists are nested deeper than {depth_cap}")
    if names != body.count(b":"):
        _refuse_names_twice(body, depth_cap)
    return value


def _check_kind(environ: dict[str, Any], wanted: str) -> None:
    coding = environ.get("HTTP_CONTENT_ENCODING", "")
    if coding and coding.strip().lower() != "identity":
        raise Problem(
            "unsupported_media_type",
            "the body is compressed; send it plain, without Content-Encoding",
            headers={"Accept-Encoding": "identity"},
        )
    given = environ.get("CONTENT_TYPE", "")
    if given == wanted:
        return
    kind, _, parameters = given.partition(";")
    charset = parameters.strip().lower().replace('"', "")
    if kind.strip().lower() != wanted or charset not in ("", "charset=utf-8"):
        raise Problem(
            "unsupported_media_type",
            f"the body must be sent as Content-Type: {wanted}, in UTF-8",
            headers={"Accept": wanted},
        )


def _census(value: Any, depth_cap: int, depth: int = 0) -> tuple[int, int]:
    """Return how many names the objects hold, and how deep they nest (stops past the cap)."""
    if type(value) is dict:
        names, inner = len(value), value.values()
    elif type(value) is list:
        names, inner = 0, value  # type: ignore[assignment]
    else:
        return 0, depth
    depth += 1
    deepest = depth
    if depth > depth_cap:
        return names, depth
    for item in inner:
        if type(item) is dict or type(item) is list:
            more, reached = _census(item, depth_cap, depth)
            names += more
            deepest = max(deepest, reached)
    return names, deepest


class _Twice(dict[str, Any]):
    """An object that gave `names` more than once."""

    names: tuple[str, ...] = ()


def _noting(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    value = _Twice(pairs)
    if len(value) != len(pairs):
        seen: set[str] = set()
        value.names = tuple(
            dict.fromkeys(name for name, _ in pairs if name in seen or seen.add(name))  # type: ignore[func-returns-value]
        )
        # Keep every value reachable: a fault may hide below the one that lost.
        for place, (_, item) in enumerate(pairs):
            value.setdefault(f"\0{place}", item)
    return value


def _refuse_names_twice(body: bytes, depth_cap: int) -> None:
    try:
        value = json.loads(body, object_pairs_hook=_noting)
    except RecursionError:
        raise Problem("bad_json", f"objects and lists are nested deeper than {depth_cap}") from None
    faults: list[Fault] = []
    waiting: list[tuple[str, Any]] = [("", value)]
    while waiting:
        pointer, item = waiting.pop()
        if isinstance(item, _Twice):
            faults += [
                Fault(
                    f"{pointer}/{escaped(name)}",
                    "given_twice",
                    f"the name {escaped(name)} is given more than once in one object",
                    "give it once",
                )
                for name in item.names
            ]
            waiting += [
                (f"{pointer}/{escaped(name)}", inner)
                for name, inner in item.items()
                if not name.startswith("\0")
            ]
        elif isinstance(item, list):
            waiting += [(f"{pointer}/{place}", inner) for place, inner in enumerate(item)]
    if faults:
        raise bad_values(faults)


def _bad_json(body: bytes, error: orjson.JSONDecodeError) -> Problem:
    if not body:
        return Problem("bad_json", "the body is empty")
    if body[:3] == b"\xef\xbb\xbf" or body[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\0" in body[:4]:
        return Problem("bad_json", "the body must be plain UTF-8, without a byte order mark")
    if "infinity" in error.msg:
        return Problem("bad_json", f"a number is beyond what a double holds (at {error.pos})")
    if "depth" in error.msg:
        return Problem("bad_json", "objects and lists are nested too deep")
    return Problem(
        "bad_json",
        f"at line {error.lineno}, column {error.colno}: {error.msg.partition(': line')[0]}",
    )
