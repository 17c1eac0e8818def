"""Nothing sticks out, nothing is too small to touch, nothing is without a name; at every width."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from selenium.webdriver.common.by import By

from support.browser import look, width
from support.person import complaints, press

pytestmark = pytest.mark.browser
Go = Callable[[str], Any]
EXAMPLES = Path(__file__).resolve().parents[2] / "sdk" / "examples"
WIDTHS = (360, 768, 1280)
LOOKUPS = {
    "first page": "/",
    "thread, in": "/thread?designation=7/8-14+UNF-2A&unit=in",
    "thread, mm": "/thread?designation=M20x1.5-6H&unit=mm",
    "taper thread": "/thread?designation=1/2-14+NPT&unit=in&side=internal",
    "thread refused": "/thread?designation=" + 60 * "W",
    "hexagon": "/hexagon?size=30&unit=mm&measure=across_flats&drawn_across_flats=51.96&diameter=20"
    "&material=6082",
    "correction": "/correction?designation=7/8-14+UNF-2A&unit=in&reading=.8877&wire=.04"
    "&method=three+wires&reading_uncertainty=.0001&radius_offset=0",
    "correction refused": "/correction?reading=x&unit=feet&wire=-1",
    "empty plan": "/plan",
}

STICKS_OUT = """
const wide = document.documentElement.clientWidth, found = [];
if (document.documentElement.scrollWidth > wide) found.push("page " + document.documentElement.scrollWidth);
for (const one of document.querySelectorAll("body *")) {
  if (one.closest(".scroll, .picture, .skip, svg")) continue;
  const box = one.getBoundingClientRect();
  if (box.width && (box.right > wide + 1 || box.left < -1))
    found.push(one.tagName + " " + (one.textContent || "").slice(0, 40));
}
return found;
"""
TOO_SMALL = """
return Array.from(document.querySelectorAll(
    "button, select, input:not([type=hidden]):not([type=radio]):not([type=checkbox]), summary, nav a, " +
    "a.button, .pick label, label.tick"))
  .filter(one => one.getClientRects().length && one.getBoundingClientRect().height < 44)
  .map(one => one.outerHTML.slice(0, 80));
"""
NAMELESS = """
return Array.from(document.querySelectorAll("input:not([type=hidden]), select, textarea, button, a, svg"))
  .filter(one => !(one.labels && one.labels.length) && !one.textContent.trim()
                 && !one.getAttribute("aria-label") && !one.getAttribute("aria-labelledby"))
  .map(one => one.outerHTML.slice(0, 80));
"""
TWICE = """
const ids = Array.from(document.querySelectorAll("[id]")).map(one => one.id);
return ids.filter((one, at) => ids.indexOf(one) !== at);
"""
DANGLING = """
const found = [];
for (const name of ["for", "aria-describedby", "aria-labelledby", "href"])
  for (const one of document.querySelectorAll("[" + name + "]"))
    for (const id of one.getAttribute(name).split(" ")) {
      if (name === "href" && !id.startsWith("#")) continue;
      if (!document.getElementById(id.replace(/^#/, ""))) found.push(name + " " + id);
    }
return found;
"""
HEADINGS = """
return Array.from(document.querySelectorAll("h1, h2, h3")).map(one => Number(one.tagName[1]));
"""


def judged(browser: Any) -> Iterator[str]:
    """Yield what is wrong with the page that is open, whatever its width."""
    for words, question in (
        ("too small to touch", TOO_SMALL), ("without a name", NAMELESS), ("id given twice", TWICE),
        ("leads nowhere", DANGLING),
    ):  # fmt: skip
        yield from (f"{words}: {one}" for one in browser.execute_script(question))
    levels = browser.execute_script(HEADINGS)
    if levels.count(1) != 1:
        yield f"{levels.count(1)} first headings"
    yield from (
        f"heading {after} after {before}"
        for before, after in pairwise(levels)
        if after > before + 1
    )
    yield from complaints(browser)


def sticks_out(browser: Any) -> list[str]:
    found = []
    for dark in (False, True):
        look(browser, dark=dark)
        for pixels in WIDTHS:
            width(browser, pixels)
            found += [f"at {pixels}: {one}" for one in browser.execute_script(STICKS_OUT)]
    return found


@pytest.mark.parametrize("path", LOOKUPS.values(), ids=LOOKUPS)
def test_a_page_fits_and_can_be_touched_and_named(at: Go, path: str) -> None:
    browser = at(path)
    browser.execute_script("document.querySelectorAll('details').forEach(one => one.open = true)")
    assert sticks_out(browser) == []
    width(browser, 360)
    assert list(judged(browser)) == []


@pytest.mark.parametrize("job", ["sensor-adapter", "coolant-port"])
def test_a_whole_plan_fits_and_can_be_touched_and_named(at: Go, job: str) -> None:
    browser = at("/plan")
    text = (EXAMPLES / f"{job}.json").read_text("utf-8")
    browser.execute_script("document.getElementById('at-job').value = arguments[0]", text)
    press(browser, "Fill the form with it")
    assert sticks_out(browser) == []
    width(browser, 820)
    press(browser, "Work it out")
    browser.execute_script("document.querySelectorAll('details').forEach(one => one.open = true)")
    assert sticks_out(browser) == []
    width(browser, 360)
    assert list(judged(browser)) == []


def test_dark_and_light_are_two_looks(at: Go) -> None:
    browser = at("/thread?designation=M8-6g&unit=mm")
    page = browser.find_element(By.TAG_NAME, "body")
    drawing = browser.find_element(By.CSS_SELECTOR, "svg .paper")
    light = page.value_of_css_property("background-color"), drawing.value_of_css_property("fill")
    look(browser, dark=True)
    dark = page.value_of_css_property("background-color"), drawing.value_of_css_property("fill")
    assert light[0] != dark[0]
    assert light[1] != dark[1]
