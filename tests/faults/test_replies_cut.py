"""A reply that breaks off midway is asked for again, and never taken for a whole one."""

from __future__ import annotations

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

import flankwise

BODY = b'{"status":"alive","version":"%s"}' % flankwise.__version__.encode()
HEAD = (
    b"HTTP/1.1 200 OK\r\nContent-Type: application/json\r\nService-Version: %s\r\n"
    b"Connection: close\r\nContent-Length: %d\r\n\r\n"
) % (flankwise.__version__.encode(), len(BODY))
WHOLE = HEAD + BODY


@contextmanager
def speaker(*answers: bytes) -> Iterator[tuple[str, list[bytes]]]:
    """Serve the answers one after the other, each cut where its bytes end."""
    asked: list[bytes] = []
    with socket.create_server(("127.0.0.1", 0)) as door:

        def serve() -> None:
            for answer in answers:
                line, _ = door.accept()
                with line:
                    asked.append(line.recv(65_536))
                    line.sendall(answer)

        thread = threading.Thread(target=serve)
        thread.start()
        yield f"http://127.0.0.1:{door.getsockname()[1]}", asked
        thread.join(10)


@pytest.mark.parametrize("cut", [len(HEAD), len(HEAD) + 1, len(WHOLE) - 1])
def test_a_body_cut_is_asked_for_again(cut: int) -> None:
    with speaker(WHOLE[:cut], WHOLE) as (url, asked), flankwise.Client(url) as shop:
        assert shop.livez().status == "alive"
    assert len(asked) == 2


@pytest.mark.parametrize("cut", [1, len(HEAD) - 3])
def test_a_head_cut_is_asked_for_again(cut: int) -> None:
    with speaker(WHOLE[:cut], WHOLE) as (url, asked), flankwise.Client(url) as shop:
        assert shop.livez().status == "alive"
    assert len(asked) == 2


def test_what_is_always_cut_is_no_reply() -> None:
    cut = [WHOLE[:-1]] * 3
    with speaker(*cut) as (url, asked), flankwise.Client(url, retries=2) as shop:  # noqa: SIM117
        with pytest.raises(flankwise.Unreachable, match="broke off"):
            shop.livez()
    assert len(asked) == 3
