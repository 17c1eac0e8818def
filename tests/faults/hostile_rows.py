"""Requests no honest client sends, as bytes: bodies, and heads with what follows them."""

from __future__ import annotations

import gzip
import json

HEAD = "Host: a\r\nConnection: close\r\n"
POST = f"POST /v1/stock/hexagon HTTP/1.1\r\n{HEAD}"
JSON = "Content-Type: application/json\r\n"
GOOD = b'{"unit": "in", "across_flats": 1.25}'
MEGABYTE = b" " * 2**20


def post(body: bytes, extra: str = JSON) -> bytes:
    return f"{POST}{extra}Content-Length: {len(body)}\r\n\r\n".encode() + body


BODIES = {
    "nothing": b"",
    "nested a hundred thousand deep": b"[" * 100_000 + b"]" * 100_000,
    "objects nested a hundred thousand deep": b'{"a":' * 100_000 + b"1" + b"}" * 100_000,
    "not a number": b'{"unit":"in","across_flats":NaN}',
    "infinity": b'{"unit":"in","across_flats":-Infinity}',
    "beyond a double": b'{"unit":"in","across_flats":1e999}',
    "five thousand digits": b'{"unit":"in","across_flats":' + b"7" * 5_000 + b"}",
    "half a million digits": b'{"unit":"in","across_flats":' + b"7" * 500_000 + b"}",
    "a name twice": b'{"unit":"in","across_flats":1,"across_flats":2}',
    "a name twice, spelled otherwise": b'{"unit":"in","across_flats":1,"across_fl\\u0061ts":2}',
    "invalid utf-8": b'{"unit":"\xff\xfe"}',
    "utf-8 too long for its letter": b'{"unit":"\xc0\xae"}',
    "a lone surrogate": b'{"unit":"\\ud800"}',
    "utf-16": GOOD.decode().encode("utf-16"),
    "utf-32": GOOD.decode().encode("utf-32"),
    "a byte order mark": b"\xef\xbb\xbf" + GOOD,
    "gzip without saying so": b"\x1f\x8b\x08\x00\x00\x00\x00\x00\x00\x03" + GOOD,
    "text for a number": b'{"unit":"in","across_flats":"1.25"}',
    "true for a number": b'{"unit":"in","across_flats":true}',
    "minus zero": b'{"unit":"in","across_flats":-0.0}',
    "a subnormal": b'{"unit":"in","across_flats":5e-324}',
    "the greatest double": b'{"unit":"in","across_flats":1.7976931348623157e308}',
    "a nul": b'{"unit":"in\\u0000","across_flats":1}',
    "a bare nul": b'{"unit":"in\x00","across_flats":1}',
    "right to left": '{"unit":"\u202ein","across_flats":1}'.encode(),
    "a letter that looks like another": '{"unit":"\u0456n","across_flats":1}'.encode(),
    "no json": b"unit=in",
    "a list": b"[]",
    "null": b"null",
    "ten thousand unknown names": json.dumps({f"n{i}": i for i in range(10_000)}).encode(),
}  # fmt: skip

CHUNKED = f"{POST}{JSON}Transfer-Encoding: chunked\r\n\r\n".encode()
MEGABYTE_CHUNK = b"100000\r\n" + MEGABYTE + b"\r\n"
Row = tuple[tuple[bytes, ...], set[int]] | tuple[tuple[bytes, ...], set[int], set[int]]
REQUESTS: dict[str, Row] = {
    "100 MB with their length": (
        (f"{POST}{JSON}Content-Length: 104857600\r\n\r\n".encode(), *[MEGABYTE] * 100), {413, 0},
    ),
    "100 MB announced": ((f"{POST}{JSON}Content-Length: 104857600\r\n\r\n".encode(),), {413}),
    "100 MB without a length": ((f"{POST}{JSON}\r\n".encode(), *[MEGABYTE] * 100), {411, 400, 0}),
    "no length": ((f"{POST}{JSON}\r\n".encode(),), {411, 400}),
    "100 MB in chunks": ((CHUNKED, *[MEGABYTE_CHUNK] * 100, b"0\r\n\r\n"), {413, 0}, {411, 0}),
    "a chunk whose size is a lie": ((CHUNKED, b"fffffffffffffffff\r\nx"), {400, 413}, {411}),
    "a chunk of no number": ((CHUNKED, b"zz\r\nx\r\n0\r\n\r\n"), {400}, {411}),
    "just over the service's cap": ((post(b" " * (2**20 + 1)),), {413}),
    "three times the service's cap": ((post(b" " * 3 * 2**20),), {413, 0}),
    "a length of 10^30": ((f"{POST}{JSON}Content-Length: {10**30}\r\n\r\n".encode(),), {400, 413}),
    "gzip": ((post(gzip.compress(GOOD), f"{JSON}Content-Encoding: gzip\r\n"),), {415}),
    "gzip that unpacks to a thousandfold": (
        (post(gzip.compress(MEGABYTE * 16), f"{JSON}Content-Encoding: gzip\r\n"),), {415},
    ),
    "a form": ((post(GOOD, "Content-Type: application/x-www-form-urlencoded\r\n"),), {415}),
    "two lengths": ((post(GOOD, f"{JSON}Content-Length: 3\r\n"),), {400}),
    "length and chunks": ((post(GOOD, f"{JSON}Transfer-Encoding: chunked\r\n"),), {400}),
    "chunks spelled to be overlooked": (
        (post(GOOD, f"{JSON}Transfer-Encoding: xchunked\r\n"),), {400},
    ),
    "a length of letters": ((f"{POST}{JSON}Content-Length: abc\r\n\r\n".encode(),), {400}),
    "a negative length": ((f"{POST}{JSON}Content-Length: -5\r\n\r\n".encode(),), {400}),
    "up a folder": ((f"GET /../../etc/passwd HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400, 404}),
    "up a folder, encoded": (
        (f"GET /v1/%2e%2e/%2e%2e/%2e%2e/etc/passwd HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400, 404},
    ),
    "up a folder, encoded twice": (
        (f"GET /v1/..%252f..%252fetc/passwd HTTP/1.1\r\n{HEAD}\r\n".encode(),), {404},
    ),
    "up a folder with a backslash": (
        (f"GET /v1/..%5c..%5cetc/passwd HTTP/1.1\r\n{HEAD}\r\n".encode(),), {404},
    ),
    "the counts, from outside": ((f"GET /metrics HTTP/1.1\r\n{HEAD}\r\n".encode(),), {404}, {200}),
    "the counts, by another spelling": (
        (f"GET /./%6detrics HTTP/1.1\r\n{HEAD}\r\n".encode(),), {404},
    ),
    "a nul in the path": ((f"GET /%00 HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400, 404}),
    "a bare nul in the head": (
        (f"GET /livez HTTP/1.1\r\n{HEAD}X-Request-Id: a\0b\r\n\r\n".encode(),), {400},
    ),
    "five thousand headers": (
        (f"GET /livez HTTP/1.1\r\n{HEAD}".encode() + b"X-A: 1\r\n" * 5_000 + b"\r\n",),
        {431},
    ),
    "a header of a hundred thousand letters": (
        (f"GET /livez HTTP/1.1\r\n{HEAD}X-A: {'a' * 100_000}\r\n\r\n".encode(),), {431},
    ),
    "a line of a hundred thousand letters": (
        (f"GET /{'a' * 100_000} HTTP/1.1\r\n{HEAD}\r\n".encode(),), {414},
    ),
    "a line too long for the service alone": (
        (f"GET /v1/threads/limits?designation={'M' * 6_000} HTTP/1.1\r\n{HEAD}\r\n".encode(),),
        {414},
    ),
    "a header without a name": ((f"GET /livez HTTP/1.1\r\n{HEAD}: nameless\r\n\r\n".encode(),), {400}),
    "sixty headers": (
        (f"GET /livez HTTP/1.1\r\n{HEAD}".encode()
         + b"".join(b"X-%d: 1\r\n" % i for i in range(60)) + b"\r\n",), {431},
    ),
    "no host": ((b"GET /livez HTTP/1.1\r\nConnection: close\r\n\r\n",), {400}, {200}),
    "a host of another": (
        (b"GET /livez HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n",), {200},
    ),
    "two hosts": ((f"GET /livez HTTP/1.1\r\nHost: b\r\n{HEAD}\r\n".encode(),), {400}),
    "a folded header": ((f"GET /livez HTTP/1.1\r\n{HEAD}X-A: 1\r\n 2\r\n\r\n".encode(),), {200, 400}),
    "another version": ((f"GET /livez HTTP/9.9\r\n{HEAD}\r\n".encode(),), {400}),
    "tls": ((b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\0" * 64 + b"\r\n\r\n",), {400, 0}),
    "a thousand empty lines": ((b"\r\n" * 1_000 + b"x\r\n\r\n",), {400, 0}),
    "an own method": ((f"BREW /livez HTTP/1.1\r\n{HEAD}\r\n".encode(),), {405}),
    "trace": ((f"TRACE /livez HTTP/1.1\r\n{HEAD}\r\n".encode(),), {405}),
    "connect": ((f"CONNECT a:80 HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400, 405}, {404}),
    "text that isn't percent-encoded utf-8": (
        (f"GET /v1/threads/limits?designation=%ff%fe&unit=in HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400},
    ),
}  # fmt: skip
"""What is sent, how it may be answered (0: cut while the client still sends), and how directly
where no proxy is before the service."""

DESIGNATIONS = (
    "%F0%9F%94%A9", "M8%0AM9", "M8%0D%0AM9", "M8)(G0%20Z-99", "%3Cscript%3E", "%E2%80%AE6-8M",
    "%D0%9C8", "M8%00", "9" * 60, "1/0-14%20UNF", "1e308-14%20UN", "M" + "9" * 50, "-0", "M8x0",
    "Ph999999999P1", "..%2f..%2fetc%2fpasswd",
)  # fmt: skip
"""Percent-encoded, none of them a thread: that of a letter that only looks like M among them."""
FIGURES = (
    ("path_helix", "/length", "1e9"), ("path_helix", "/length", "1000000000"),
    ("path_helix", "/pitch", "5e-324"), ("path_helix", "/pitch", "-0.0"),
    ("path_helix", "/blank_diameter", "1e308"), ("path_helix", "/cutter/diameter", "5e-324"),
    ("plan", "/thread/length", "1e9"), ("plan", "/cutter/diameter", "1e308"),
    ("plan", "/quantity", "1000000000"), ("stock_hexagon", "/across_flats", "1e308"),
)  # fmt: skip
"""A thousand million turns (of a length at the example's pitch), and other sizes that are none."""
