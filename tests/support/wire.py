"""Plain bytes over a plain socket, and requests made hostile one value at a time."""

from __future__ import annotations

import json
import re
import socket
from collections.abc import Iterable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from typing import Any, NamedTuple
from urllib.parse import urlencode

from support.server import ROOT

EXAMPLES = ROOT / "openapi" / "examples"
CONTRACT = ROOT / "service" / "flankwise_service" / "web" / "openapi.json"
TIMEOUT = 30.0


class Answer(NamedTuple):
    """What came back; status 0 where the line was closed without a word."""

    status: int
    head: bytes
    body: bytes


def talk(url: str, *pieces: bytes, timeout: float = TIMEOUT) -> Answer:
    """Send the pieces and return the answer, read until the other side closes."""
    host, port = url.removeprefix("http://").split(":")
    with socket.create_connection((host, int(port)), timeout=timeout) as line:
        try:
            for piece in pieces:
                line.sendall(piece)
        except (BrokenPipeError, ConnectionResetError):
            pass  # refused before all was sent; the answer may still be there
        answer = b""
        try:
            while chunk := line.recv(65_536):
                answer += chunk
        except ConnectionResetError:
            pass
    return _read(answer)


def _read(answer: bytes) -> Answer:
    head, _, body = answer.partition(b"\r\n\r\n")
    while re.match(rb"HTTP/1\.1 1\d\d", head):  # such as 100 Continue
        head, _, body = body.partition(b"\r\n\r\n")
    status = re.match(rb"HTTP/1\.1 (\d{3})", head)
    return Answer(int(status[1]) if status else 0, head, body)


@dataclass(frozen=True)
class Example:
    """A request the contract shows, one that is answered 200."""

    operation: str
    method: str
    path: str
    request: dict[str, Any]
    accept: str = "*/*"

    def sent(self, request: dict[str, Any] | None = None) -> tuple[str, str, bytes | None]:
        """Return method, path with query, and body of the request (or of one like it)."""
        asked = self.request if request is None else request
        if self.method == "GET":
            plain = {name: value for name, value in asked.items() if value is not None}
            return "GET", self.path + ("?" + urlencode(plain) if plain else ""), None
        return "POST", self.path, written(asked)


def examples() -> Iterator[Example]:
    """Yield the first good example of every operation that takes JSON or a query."""
    paths = json.loads(CONTRACT.read_text("utf-8"))["paths"]
    for path, methods in paths.items():
        for method, told in methods.items():
            name = told.get("operationId")
            file = EXAMPLES / f"{name}.json"
            if name == "batch_stream" or not file.exists():
                continue
            for shown in json.loads(file.read_text("utf-8")):
                if shown.get("status") == 200 and isinstance(shown.get("request", {}), dict):
                    yield Example(name, method.upper(), path, shown.get("request") or {},
                                  shown.get("accept", "*/*"))  # fmt: skip
                    break


@dataclass(frozen=True)
class Raw:
    """A value that stands in JSON text as it is, right or wrong."""

    text: str


def written(value: Any) -> bytes:
    """Return `value` as JSON, each `Raw` in it put in as it is."""
    held: list[str] = []

    def mark(found: Any) -> str:
        held.append(found.text)
        return f"@raw{len(held) - 1}@"

    text = json.dumps(value, default=mark)
    return re.sub(r'"@raw(\d+)@"', lambda found: held[int(found[1])], text).encode()


Place = tuple[str | int, ...]


def leaves(value: Any, place: Place = ()) -> Iterator[tuple[Place, Any]]:
    """Yield every number, text and flag of a request, with its place; of lists the first."""
    if isinstance(value, dict):
        for name, item in value.items():
            yield from leaves(item, (*place, name))
    elif isinstance(value, list):
        for number, item in enumerate(value[:1]):
            yield from leaves(item, (*place, number))
    else:
        yield place, value


def put(request: dict[str, Any], place: Place, value: Any) -> dict[str, Any]:
    """Return a copy of `request` with another value at one place."""
    changed = deepcopy(request)
    inner: Any = changed
    for step in place[:-1]:
        inner = inner[step]
    inner[place[-1]] = value
    return changed


NUMBERS: tuple[Any, ...] = (
    Raw("NaN"), Raw("Infinity"), Raw("1e999"), Raw("7" * 5_000), Raw("-0.0"), Raw("5e-324"),
    Raw("1e308"), Raw("-1e308"), Raw("1000000000"), Raw("1e-9"), Raw("0"), True, "1.25", None,
    Raw("[" * 40 + "]" * 40), {"a": 1},
)  # fmt: skip
TEXTS: tuple[Any, ...] = (
    "A\r\nG0 Z-99", "A) G1 X5 (", "A)\nM30\n%", "A%G0Z-5", "A;G00 Z-1", "A\u2028G01 X1", "A\u0085G0 Z-9",
    "MSG, PRESS START", "G0Z-99", "g 0 z - 9 9", "#1=5", "N10 G91 G28 Z0", "$H", "/G0 X0",
    "\u202eG0 Z-9\u202c", "\u041c8x1", "\uff27\uff10 \uff3a\uff0d\uff19", "\uff08\uff09\uff1b",
    "A\x00B", "A\x1bB", Raw('"\\ud800"'), "<script>alert(1)</script>", "\"><svg onload=alert(1)>",
    "' onmouseover='x", "]]><!--", "</text></svg><script>x</script>", "&lt;script&gt;",
    "{{7*7}}", "{% raw %}", "javascript:alert(1)", "../../etc/passwd", "A" * 5_000, "", "\u0301" * 40,
    "\U0001f529", "%0d%0aG0", "\\u000aG0", "(((", ")))", "M8x1 (1) G0 Z-1", "1/2-13 UNC) G0 (",
)  # fmt: skip


def hostile(
    example: Example, values: Iterable[Any] | None = None
) -> Iterator[tuple[Place, Any, bytes]]:
    """Yield hostile variants of one request: where, what, and the body (or query) itself."""
    for place, value in leaves(example.request):
        texts = isinstance(value, str)
        for bad in values if values is not None else (TEXTS if texts else NUMBERS):
            changed = put(example.request, place, bad)
            if example.method == "GET":
                changed = {
                    name: item.text if isinstance(item, Raw) else item
                    for name, item in changed.items()
                }
                _, path, _ = example.sent(changed)
                yield place, bad, path.encode()
            else:
                yield place, bad, written(changed)
