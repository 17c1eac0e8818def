"""One real browser for the whole run, at the real service."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from support.browser import chromium, look, script, width
from support.server import Server


@pytest.fixture(scope="session")
def running_browser(server: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    assert server.url  # set up first: it is to end last, or it waits for the browser's connections
    with chromium(tmp_path_factory.mktemp("chromium") / "profile") as running:
        yield running


@pytest.fixture
def browser(running_browser: Any) -> Any:
    """The browser, with a light look and a tablet's width."""
    look(running_browser, dark=False)
    script(running_browser, on=True)
    width(running_browser, 820)
    running_browser.get_log("browser")
    return running_browser


@pytest.fixture
def at(browser: Any, server: Server) -> Any:
    """Go to a path of the service; returns the browser."""

    def go(path: str) -> Any:
        browser.get(server.url + path)
        return browser

    return go
