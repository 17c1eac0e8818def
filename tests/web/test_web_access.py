"""Tokens: who may ask, and that nothing about them leaks."""

from __future__ import annotations

import hashlib
import logging
import os
import re
from concurrent.futures import ThreadPoolExecutor, wait
from pathlib import Path
from threading import Event
from typing import Any

import pytest
import yaml
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from flankwise_service import token
from flankwise_service.config import BadSettings, Settings
from flankwise_service.web.access import Access, BadTokens, tokens_in
from flankwise_service.web.app import build_app
from support.server import ROOT

NAME = "/v1/echo/name?name=a&unit=in"
BODY = {"unit": "in", "length": 1}


def line(secret: str, name: str = "office", scopes: str = "read,plan") -> str:
    return f"{name} {scopes} {hashlib.sha256(secret.encode()).hexdigest()}"


def client(**settings: Any) -> FlaskClient:
    chosen = Settings(access_log=False, **settings)
    return build_app(chosen, ("support.echo_subject",)).test_client()


def bearer(secret: str) -> dict[str, str]:
    return {"Authorization": f"Bearer {secret}"}


def code(reply: TestResponse) -> tuple[int, str]:
    assert reply.mimetype == "application/problem+json"
    assert reply.headers["Cache-Control"] == "no-store"
    assert reply.headers["X-Request-Id"] == reply.json["request_id"]
    return reply.status_code, reply.json["code"]


@pytest.fixture
def guarded() -> FlaskClient:
    listed = [line("both"), line("look", "wall", "read"), line("work", "mill", "plan")]
    return client(tokens=";".join(listed))


@pytest.mark.parametrize("secret", ["both", "look"])
def test_a_lookup_needs_a_token_that_may_read(guarded: FlaskClient, secret: str) -> None:
    reply = guarded.get(NAME, headers=bearer(secret))
    assert reply.status_code == 200
    assert reply.headers["Cache-Control"] == "private, max-age=86400"


@pytest.mark.parametrize("secret", ["both", "work"])
def test_a_computation_needs_a_token_that_may_plan(guarded: FlaskClient, secret: str) -> None:
    assert guarded.post("/v1/echo/body", json=BODY, headers=bearer(secret)).status_code == 200


def test_a_token_for_something_else_is_403(guarded: FlaskClient) -> None:
    reply = guarded.post("/v1/echo/body", json=BODY, headers=bearer("look"))
    assert code(reply) == (403, "not_allowed")
    assert 'error="insufficient_scope", scope="plan"' in reply.headers["WWW-Authenticate"]
    assert code(guarded.get(NAME, headers=bearer("work"))) == (403, "not_allowed")


@pytest.mark.parametrize(
    "header", ["", "Bearer", "Bearer ", "Basic Ym90aDo=", "both", "Token both"]
)
def test_without_a_token_it_is_401(guarded: FlaskClient, header: str) -> None:
    reply = guarded.get(NAME, headers={"Authorization": header})
    assert code(reply) == (401, "not_authorized")
    assert reply.headers["WWW-Authenticate"] == 'Bearer realm="flankwise"'


@pytest.mark.parametrize(
    "secret", ["bot", "both2", "BOTH", "x" * 600, "b\u00f6th", hashlib.sha256(b"both").hexdigest()]
)
def test_an_unknown_token_is_401(guarded: FlaskClient, secret: str) -> None:
    reply = guarded.get(NAME, environ_overrides={"HTTP_AUTHORIZATION": f"Bearer {secret}"})
    assert code(reply) == (401, "not_authorized")
    assert 'error="invalid_token"' in reply.headers["WWW-Authenticate"]


def test_a_token_longer_than_any_is_not_cut_to_fit() -> None:
    secret = "x" * 512
    shop = client(tokens=line(secret))
    assert shop.get(NAME, headers=bearer(secret)).status_code == 200
    assert shop.get(NAME, headers=bearer(secret + "y")).status_code == 401


def test_what_was_kept_for_one_is_not_given_to_another(guarded: FlaskClient) -> None:
    assert guarded.get(NAME, headers=bearer("both")).status_code == 200
    assert guarded.get(NAME).status_code == 401
    assert guarded.head(NAME).status_code == 401
    assert guarded.head(NAME).data == b""


def test_health_and_contract_ask_for_none(guarded: FlaskClient) -> None:
    for path in ("/livez", "/readyz", "/openapi.json", "/metrics"):
        assert guarded.get(path).status_code == 200
    assert guarded.options("/v1/echo/body").status_code == 200


def test_paths_that_are_none_tell_nothing_without_a_token(guarded: FlaskClient) -> None:
    assert guarded.get("/v1/nothing").status_code == 401
    assert guarded.get("/v1/nothing", headers=bearer("both")).status_code == 404


def test_without_settings_nothing_is_asked_for() -> None:
    shop = client()
    assert shop.get(NAME).status_code == 200
    assert shop.get(NAME, headers=bearer("any")).status_code == 200


def test_a_changed_file_is_read_again_without_a_restart(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    file = tmp_path / "tokens"
    file.write_text("# of the office\n\n" + line("first") + "\n")
    access = Access(file=str(file), every=0.0)
    ask = {"REQUEST_METHOD": "GET", "PATH_INFO": "/v1/x"}

    def allowed(secret: str) -> bool:
        return access.check(ask | {"HTTP_AUTHORIZATION": f"Bearer {secret}"}) is None

    assert allowed("first")
    assert not allowed("second")
    file.write_text(line("second") + "\n# a longer file\n")
    with caplog.at_level(logging.WARNING):
        assert allowed("second")
    assert not allowed("first")
    assert "1 in force" in caplog.text
    for broken in (b"what is this\n" * 9, b"\xff\xfe\n"):
        file.write_bytes(broken)
        with caplog.at_level(logging.ERROR):
            assert allowed("second")
        assert "stay as they were" in caplog.text
    os.unlink(file)
    assert allowed("second")
    file.write_text("")
    assert not allowed("second")
    assert access.wanted
    assert "second" not in caplog.text


def test_the_file_is_looked_at_once_in_a_while(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "tokens"
    file.write_text(line("first"))
    access = Access(file=str(file), every=1e9)
    access._looked = float("inf")
    file.unlink()
    ask = {"REQUEST_METHOD": "GET", "PATH_INFO": "/v1/x", "HTTP_AUTHORIZATION": "Bearer first"}
    assert access.check(ask) is None


def test_a_start_with_a_file_that_isnt_there_fails(tmp_path: Path) -> None:
    with pytest.raises(BadSettings, match=r"FLANKWISE_TOKEN_FILE='.*nowhere' can't be read"):
        build_app(Settings(token_file=str(tmp_path / "nowhere")))


@pytest.mark.parametrize(
    "text",
    ["office", "office read", "office read xyz", "office write " + "0" * 64,
     "of fice read " + "0" * 64, "office read, " + "0" * 64, "office read " + "0" * 63],
)  # fmt: skip
def test_lines_that_make_no_sense_are_named(text: str) -> None:
    with pytest.raises(BadTokens, match="lines 2:"):
        tokens_in(["# first", text, line("good")])


def test_no_token_is_logged(capsys: pytest.CaptureFixture[str]) -> None:
    app = build_app(Settings(tokens=line("very-secret")), ("support.echo_subject",))
    for secret in ("very-secret", "other-secret"):
        app.test_client().get(NAME, headers=bearer(secret)).close()
    said = capsys.readouterr()
    assert "secret" not in said.out + said.err
    assert '"status":401' in said.out


def test_a_token_made_here_works_here(capsys: pytest.CaptureFixture[str]) -> None:
    assert token.main(["wall", "read"]) == 0
    secret, made = capsys.readouterr()
    assert secret.strip() not in made
    shop = client(tokens=made.strip())
    assert shop.get(NAME, headers=bearer(secret.strip())).status_code == 200
    assert shop.post("/v1/echo/body", json=BODY, headers=bearer(secret.strip())).status_code == 403


@pytest.mark.parametrize("arguments", [[], ["a", "b", "c"], ["a b"], ["a", "write"]])
def test_how_to_make_one_is_said(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    try:
        code: object = token.main(arguments)
    except SystemExit as ended:
        code = ended.code
    assert code == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "read" in said.err or "NAME" in said.err


@pytest.mark.parametrize("word", ["--help", "-h"])
def test_help_is_no_name_of_a_token(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        token.main([word])
    assert ended.value.code == 0
    said = capsys.readouterr()
    assert "usage: python -m flankwise_service.token" in said.out
    assert not re.search(r"[0-9a-f]{64}", said.out + said.err)
    with pytest.raises(SystemExit) as ended:
        token.main(["--halp"])
    assert ended.value.code == 2


def test_the_compose_file_wants_tokens_and_says_how_to_make_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (ROOT / "deploy" / "compose.yaml").read_text("utf-8")
    told = yaml.safe_load(text)
    service = told["services"]["service"]
    (name,) = service["secrets"]
    assert service["environment"]["FLANKWISE_TOKEN_FILE"] == f"/run/secrets/{name}"
    assert told["secrets"][name]["file"].startswith("${FLANKWISE_TOKENS_AT:?")  # or it won't start
    assert "-m flankwise_service.token office >token 2>tokens" in text
    assert token.main(["office"]) == 0
    said = capsys.readouterr()
    (tmp_path / "tokens").write_text(said.err)
    asked = client(token_file=str(tmp_path / "tokens"))
    assert asked.get(NAME, headers=bearer(said.out.strip())).status_code == 200
    assert asked.get(NAME).status_code == 401


def test_an_empty_list_of_tokens_lets_nobody_in(tmp_path: Path) -> None:
    (tmp_path / "tokens").write_text("")
    assert client(token_file=str(tmp_path / "tokens")).get(NAME).status_code == 401


def test_nobody_is_judged_by_the_old_list_while_the_new_one_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "tokens"
    file.write_text("")
    access = Access(file=str(file), every=0.05)
    new = "fw_new"
    file.write_text(f"new read,plan {hashlib.sha256(new.encode()).hexdigest()}\n")
    reading, go_on, read = Event(), Event(), access._read

    def slowly(path: Path) -> Any:
        reading.set()
        assert go_on.wait(30)
        return read(path)

    monkeypatch.setattr(access, "_read", slowly)
    asked = {"REQUEST_METHOD": "GET", "PATH_INFO": "/v1/threads/limits"}
    asked["HTTP_AUTHORIZATION"] = f"Bearer {new}"
    with ThreadPoolExecutor(2) as callers:
        first = callers.submit(access.check, asked)
        assert reading.wait(30)
        second = callers.submit(access.check, asked)
        assert wait([second], 0.2).not_done, "judged by a list that is being replaced"
        go_on.set()
        assert (first.result(30), second.result(30)) == (None, None)
