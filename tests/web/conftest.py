"""The echo subject: the web layer without the trade."""

from __future__ import annotations

import pytest
from flask import Flask
from flask.testing import FlaskClient

from flankwise_service.config import Settings
from flankwise_service.web.app import build_app

SMALL = Settings(access_log=False, body_cap=4_096, depth_cap=8, query_cap=400, lookup_entries=4)


@pytest.fixture
def echo_app() -> Flask:
    return build_app(SMALL, ("support.echo_subject",))


@pytest.fixture
def echo(echo_app: Flask) -> FlaskClient:
    return echo_app.test_client()
