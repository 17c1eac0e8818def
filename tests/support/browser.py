"""A real headless Chromium, driven by selenium, for tests that must see what a person sees.

Needs Debian's chromium and chromium-driver. Where they are missing these tests are skipped, unless
FLANKWISE_MUST_HAVE names chromium: then they fail.
"""

from __future__ import annotations

import base64
import os
import re
import shutil
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from selenium import webdriver
from selenium.common.exceptions import WebDriverException
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-dev-shm-usage", "--no-proxy-server", "--disable-extensions",
    "--no-default-browser-check", "--force-color-profile=srgb",
)  # fmt: skip
PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}
"""Width and height in inches, as the print command takes them."""


def browser_or_skip() -> tuple[str, str]:
    """Return chromium and its driver; skip the test, or fail it, where one is missing."""
    found = shutil.which("chromium"), shutil.which("chromedriver")
    if found[0] and found[1]:
        return found[0], found[1]
    words = "needs chromium and chromium-driver"
    if "chromium" in os.environ.get("FLANKWISE_MUST_HAVE", ""):
        pytest.fail(words)
    pytest.skip(words)


BETWEEN_PAGES = (
    "does not belong to the document",
    "Not attached to an active page",
    "Printing failed",
)
"""What the driver says, now and then, while the browser swaps one page's process for the next's."""


class Patient(webdriver.Chrome):
    """The browser, asked again where it was just between two pages."""

    def execute(self, driver_command: Any, params: dict[str, Any] | None = None) -> dict[str, Any]:
        """Send one command to the driver."""
        for _ in range(30):
            try:
                return dict(super().execute(driver_command, params))
            except WebDriverException as error:
                if not any(words in str(error.msg) for words in BETWEEN_PAGES):
                    raise
                time.sleep(0.1)
        return dict(super().execute(driver_command, params))


@contextmanager
def chromium(profile: Path) -> Iterator[Any]:
    """Run a browser with an empty profile until the block ends."""
    binary, driver = browser_or_skip()
    options = Options()
    options.binary_location = binary
    for flag in (*FLAGS, f"--user-data-dir={profile}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    running = Patient(options=options, service=Service(driver))
    try:
        running.set_page_load_timeout(60)
        yield running
    finally:
        running.quit()


def look(browser: Any, *, dark: bool) -> None:
    """Let the browser prefer a dark or a light look."""
    features = [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})


def script(browser: Any, *, on: bool) -> None:
    """Let pages run their scripts, or not."""
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": not on})


def width(browser: Any, pixels: int, height: int = 900) -> None:
    """Give the browser a window of this width."""
    size = {"width": pixels, "height": height, "deviceScaleFactor": 1, "mobile": False}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)


def picture(browser: Any, file: Path, pixels: int) -> None:
    """Save a picture of the whole page at this width."""
    width(browser, pixels)
    tall = browser.execute_script("return document.documentElement.scrollHeight")
    width(browser, pixels, min(int(tall) + 1, 12000))
    shot = browser.execute_cdp_cmd("Page.captureScreenshot", {"captureBeyondViewport": True})
    file.write_bytes(base64.b64decode(shot["data"]))


def printed(browser: Any, paper: str) -> bytes:
    """Return the page as a PDF on this paper, with the page's own margins."""
    wide, tall = PAPERS[paper]
    asked = {"paperWidth": wide, "paperHeight": tall, "printBackground": True,
             "preferCSSPageSize": False, "marginTop": 0, "marginBottom": 0, "marginLeft": 0,
             "marginRight": 0}  # fmt: skip
    return base64.b64decode(browser.execute_cdp_cmd("Page.printToPDF", asked)["data"])


MARGIN_MM = 8.0
"""The sheet's own margin, as its style sets it."""


@contextmanager
def on_paper(browser: Any, paper: str) -> Iterator[tuple[int, int]]:
    """Lay the page out as on this paper inside the sheet's margins; gives that room in pixels."""
    wide, tall = (int((inches - 2 * MARGIN_MM / 25.4) * 96) for inches in PAPERS[paper])
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    width(browser, wide, tall)
    try:
        yield wide, tall
    finally:
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})


_PAGE = re.compile(rb"/Type\s*/Page\b(?!s)")


def pages_of(pdf: bytes) -> int:
    """Return how many pages a PDF has (ISO 32000-1, 7.7.3: one page object each)."""
    count = len(_PAGE.findall(pdf))
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL):
        try:
            count += len(_PAGE.findall(zlib.decompress(stream)))
        except zlib.error:
            continue
    return count
