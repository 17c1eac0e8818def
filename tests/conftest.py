"""Fixtures that several folders of tests share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import settings

from flankwise_service.config import Settings
from flankwise_service.web.app import build_app
from support.many import MANY, TIMES
from support.server import Server, gunicorn

collect_ignore_glob = ["bench/*", "faults/fuzz/*"]
"""Programs, not tests: some need more than the tests do."""

# The same examples in every run, so that a change is judged by what it changed; at length, new ones.
settings.register_profile("check", derandomize=not MANY, deadline=None)
settings.load_profile("check")

OWN_SETTINGS = "_hypothesis_internal_use_settings"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Let hypothesis try more examples of everything when FLANKWISE_MANY asks for it."""
    if not MANY:
        return
    for test in {getattr(item, "obj", None) for item in items}:
        own = getattr(test, OWN_SETTINGS, None)
        if own is not None:
            setattr(test, OWN_SETTINGS, settings(own, max_examples=TIMES * own.max_examples))


@pytest.fixture(scope="session")
def app() -> Flask:
    """The application with its default settings, and no access log."""
    return build_app(Settings(access_log=False))


@pytest.fixture
def web(app: Flask) -> FlaskClient:
    """An in-process client of the application."""
    return app.test_client()


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A real gunicorn on loopback that lasts for the whole run."""
    with gunicorn(tmp_path_factory.mktemp("gunicorn")) as running:
        yield running
