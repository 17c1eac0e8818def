"""The sheet on paper: one page of A4 or Letter, whatever the job, with nothing cut off."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from selenium.webdriver.common.by import By

from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import BossAsked, CuttingAsked, Job, Machine
from flankwise_service.web.sheet import sheet, sheet_html
from support.browser import PAPERS, look, on_paper, pages_of, printed, width
from support.jobs import adapter, others, port
from support.person import complaints

pytestmark = pytest.mark.browser
REQUEST_ID = "a" * 64
LONG = "Long name of a part that goes on and on until the field is full"[:60]


def crowded() -> dict[str, Job]:
    """Jobs with more to say than most: many passes, many refusals, the longest names."""
    return {
        "fifty passes": adapter(cutting=CuttingAsked(passes=50, spring_passes=5), name=LONG),
        "all goes wrong": replace(
            others()["left-hand"],
            boss=BossAsked(14.0),
            machine=Machine(500, 10, 0.01),
            name="W" * 60,
            cutting=CuttingAsked(passes=12),
        ),
        "no blank to say": port(name='<b>"&amp;\u202f\u00e9' + "x" * 40),
    }


JOBS = {"sensor adapter": adapter(), "coolant port": port(), **others(), **crowded()}

OUTSIDE = """
const wide = arguments[0], tall = arguments[1], found = [];
for (const one of document.querySelectorAll("body *")) {
  if (one.closest("svg") && one.tagName !== "svg") continue;
  const box = one.getBoundingClientRect();
  if (box.width && (box.right > wide + 1 || box.left < -1 || box.bottom > tall + 1))
    found.push(one.tagName + " " + (one.textContent || "").slice(0, 40) + [box.right, box.bottom]);
  if (one.scrollWidth > one.clientWidth + 1 && one.clientWidth && one.tagName !== "svg")
    found.push("inside " + one.tagName + " " + (one.textContent || "").slice(0, 40));
}
return found;
"""
OVERLAPS = """
const parts = Array.from(document.body.children).map(one => one.getBoundingClientRect());
return parts.slice(1).filter((box, at) => box.top < parts[at].bottom - 1).length;
"""
SMALLEST = """
const sizes = Array.from(document.querySelectorAll(".picture svg")).map(
  one => one.getBoundingClientRect().height);
return Math.min(...sizes);
"""
LETTERS = "return parseFloat(getComputedStyle(document.querySelector('td')).fontSize);"


def opened(browser: Any, job: Job, folder: Path) -> Any:
    page = folder / "sheet.html"
    page.write_text(sheet_html(sheet(work(job, "1.0.0")), REQUEST_ID), "utf-8")
    browser.get(page.as_uri())
    return browser


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_the_sheet_is_one_page_with_nothing_cut_off(browser: Any, job: Job, tmp_path: Path) -> None:
    opened(browser, job, tmp_path)
    for paper in PAPERS:
        assert pages_of(printed(browser, paper)) == 1, paper
        with on_paper(browser, paper) as (wide, tall):
            assert browser.execute_script(OUTSIDE, wide, tall) == [], paper
            assert browser.execute_script(OVERLAPS) == 0, paper
            assert browser.execute_script(SMALLEST) >= 75, paper  # px: 20 mm
            assert browser.execute_script(LETTERS) >= 7.9, paper  # px: 6 pt
    for pixels in (360, 768, 1280):
        width(browser, pixels)
        assert browser.execute_script("return document.documentElement.scrollWidth") <= pixels
    assert complaints(browser) == []


def test_the_sheet_is_paper_even_where_the_browser_likes_the_dark(
    browser: Any, tmp_path: Path
) -> None:
    opened(browser, adapter(), tmp_path)
    drawing = browser.find_element(By.CSS_SELECTOR, "svg .paper")
    light = drawing.value_of_css_property("fill")
    look(browser, dark=True)
    assert drawing.value_of_css_property("fill") == light
    body = browser.find_element(By.TAG_NAME, "body")
    assert body.value_of_css_property("background-color") == "rgba(255, 255, 255, 1)"


def test_counting_pages_can_count_to_two(browser: Any, tmp_path: Path) -> None:
    page = tmp_path / "two.html"
    page.write_text("<p>one<p style='break-before: page'>two", "utf-8")
    browser.get(page.as_uri())
    assert pages_of(printed(browser, "A4")) == 2
