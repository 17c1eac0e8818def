"""What the lean application and reply keep of Flask's: HEAD, lengths, any host; and no session."""

from __future__ import annotations

import pytest
from flask import session
from flask.testing import FlaskClient

JOB = {"unit": "mm", "across_flats": 30}


def test_a_reply_tells_its_length_and_kind(web: FlaskClient) -> None:
    reply = web.post("/v1/stock/hexagon", json=JOB)
    assert reply.status == "200 OK"
    assert reply.headers["Content-Length"] == str(len(reply.data))
    assert reply.headers["Content-Type"] == "application/json"
    assert reply.headers["Cache-Control"] == "no-store"


def test_replies_share_their_headers_and_none_changes_them(web: FlaskClient) -> None:
    first = web.post("/v1/stock/hexagon", json=JOB)
    longer = web.post("/v1/stock/hexagon", json={**JOB, "drawn_across_flats": 51.96})
    again = web.post("/v1/stock/hexagon", json=JOB)
    assert len(longer.data) > len(first.data)
    ours = [name for name, _ in first.headers if name != "X-Request-Id"]
    assert len(ours) == len(set(ours))
    for name in ours:
        assert again.headers.getlist(name) == first.headers.getlist(name)


def test_a_head_request_is_answered_without_a_body(web: FlaskClient) -> None:
    got, head = web.get("/livez"), web.head("/livez")
    assert head.status == got.status == "200 OK"
    assert head.data == b""
    assert head.headers["Content-Length"] == got.headers["Content-Length"] != "0"


@pytest.mark.parametrize("host", ["elsewhere.example:81", "", "a" * 300, "münchen", "[::1]", "a b"])
def test_routes_are_the_same_under_every_host_name(web: FlaskClient, host: str) -> None:
    reply = web.get("/livez", headers={"Host": host})
    assert reply.status_code == 200
    assert web.get("/nowhere", headers={"Host": host}).json["code"] == "no_such_path"  # type: ignore[index]


def test_a_request_to_upgrade_is_answered_as_if_it_asked_for_nothing_more(web: FlaskClient) -> None:
    reply = web.get("/livez", headers={"Connection": "Upgrade", "Upgrade": "websocket"})
    assert reply.status_code == 200


def test_nothing_can_be_kept_in_a_session(web: FlaskClient) -> None:
    with web.application.test_request_context("/livez"):
        assert not session
        with pytest.raises(RuntimeError, match="session"):
            session["who"] = "anybody"
    assert "Set-Cookie" not in web.get("/livez", headers={"Cookie": "session=x"}).headers


def test_outside_a_request_no_address_is_known(web: FlaskClient) -> None:
    assert web.application.create_url_adapter(None) is None
