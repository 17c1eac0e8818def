"""Each task of the page done by a person's steps, in a real browser, at a real service."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from support.browser import script
from support.person import choose, complaints, field, press, text, write

pytestmark = pytest.mark.browser
Go = Callable[[str], Any]
EXAMPLES = Path(__file__).resolve().parents[2] / "sdk" / "examples"


def test_a_thread_is_looked_up_from_the_first_page(at: Go) -> None:
    browser = at("/")
    write(browser, "Designation", "7/8-14 UNF-2A")
    choose(browser, "Unit", "in")
    press(browser, "Look it up")
    said = text(browser)
    # ASME B1.1-2003, table 2: 7/8-14 UNF-2A
    assert "0.8216" in said
    assert "0.8270" in said
    assert "Turn or mill it to 0.868" in said
    assert "Three wires of 0.04124 in" in said
    drawing = browser.find_element(By.CSS_SELECTOR, ".picture svg")
    assert drawing.size["width"] > 500
    assert "0.8270" in drawing.get_attribute("textContent")
    assert complaints(browser) == []


def test_an_internal_thread_shows_its_drills_in_the_other_unit(at: Go) -> None:
    browser = at("/thread")
    write(browser, "Designation", "1/4-20 UNC-2B")
    choose(browser, "Unit", "mm")
    press(browser, "Look it up")
    said = text(browser)
    assert "stated in inches" not in said
    assert "Its standard states it in inches" in said
    assert "4.978" in said  # 0.196 in, ASME B1.1 least minor diameter
    rows = browser.find_elements(By.CSS_SELECTOR, "section[aria-labelledby=drill] tbody tr")
    assert len(rows) == 5


def test_a_missing_unit_is_told_beside_its_field_and_the_summary_leads_there(at: Go) -> None:
    browser = at("/thread")
    write(browser, "Designation", "M8-6g")
    press(browser, "Look it up")
    assert browser.switch_to.active_element.get_attribute("id") == "told"
    assert browser.title.startswith("Fault: ")
    link = browser.find_element(By.LINK_TEXT, "unit is missing")
    link.click()
    group = browser.find_element(By.ID, "at-unit")
    assert browser.switch_to.active_element == group
    assert group.get_attribute("aria-invalid") == "true"
    told = group.get_attribute("aria-describedby").split()
    assert any("unit is missing" in browser.find_element(By.ID, one).text for one in told)
    assert field(browser, "Designation").get_attribute("value") == "M8-6g"


def test_a_near_miss_is_one_press_away(at: Go) -> None:
    browser = at("/thread")
    write(browser, "Designation", "7/8-15 UNF-2A")
    choose(browser, "Unit", "in")
    press(browser, "Look it up")
    assert "is not in the series" in text(browser, "#told")
    near = [one.text for one in browser.find_elements(By.CSS_SELECTOR, ".near a")]
    assert near
    press(browser, near[0])
    assert "Limits of size" in text(browser) or "class" in text(browser, "#told")


def test_the_wrong_turn_of_a_hexagon_is_named(at: Go) -> None:
    browser = at("/hexagon")
    write(browser, "Size", "30")
    choose(browser, "Unit", "mm")
    choose(browser, "That is the", "across flats")
    write(browser, "Drawn across flats", "51.96")
    press(browser, "Convert")
    said = text(browser)
    assert "The drawing took a wrong turn" in said
    assert "34.641 mm across corners" in said
    assert "circumscribed radius" in said


def test_a_right_drawing_is_told_to_be_right(at: Go) -> None:
    browser = at("/hexagon?size=1-1/4&unit=in&measure=across_flats&drawn_across_flats=1.25")
    said = text(browser)
    assert "The drawing is right." in said
    assert "1.4434 in across corners" in said


def test_a_reading_becomes_the_new_offset_its_sign_in_words(at: Go) -> None:
    browser = at("/thread?designation=7/8-14+UNF-2A&unit=in")
    press(browser, "Correct a measured part")
    assert field(browser, "Designation").get_attribute("value") == "7/8-14 UNF-2A"
    assert not browser.find_elements(By.ID, "told")
    choose(browser, "Method", "three wires")
    write(browser, "Wire or ball diameter", ".04")
    write(browser, "Reading of the gauge", "0.8877")
    write(browser, "Uncertainty of the reading", "0.0001")
    write(browser, "Radius offset now", "0.0010")
    press(browser, "Tell the new offset")
    said = text(browser, ".answer")
    assert "Make the radius offset smaller by 0.0026 in" in said
    assert "set it to -0.0016 in" in said
    assert "Another pass brings this part to size" in said


def test_an_absurd_correction_is_refused_at_the_reading(at: Go) -> None:
    browser = at(
        "/correction?designation=7/8-14+UNF-2A&unit=in&method=three+wires&wire=.04&reading=.95"
        "&reading_uncertainty=.0001"
    )
    assert not browser.find_elements(By.CSS_SELECTOR, ".answer")
    browser.find_element(By.CSS_SELECTOR, "#told a").click()
    assert browser.switch_to.active_element.get_attribute("id") == "at-reading"


def saved(folder: Path, name: str) -> str:
    file = folder / name
    for _ in range(200):
        if file.exists() and not list(folder.glob("*.crdownload")):
            return file.read_text("utf-8")
        time.sleep(0.05)
    raise AssertionError(f"{name} was not saved: {sorted(folder.iterdir())}")


def test_a_job_is_planned_copied_saved_and_printed(at: Go, tmp_path: Path) -> None:
    browser = at("/plan")
    allow = {"behavior": "allow", "downloadPath": str(tmp_path)}
    browser.execute_cdp_cmd("Browser.setDownloadBehavior", allow)
    choose(browser, "Unit", "mm")
    write(browser, "Name of the part", "coolant port")
    write(browser, "Designation", "M20x1.5-6H")
    write(browser, "Length of full thread", "16")
    write(browser, "Material", "6082")
    write(browser, "Across flats", "30")
    write(browser, "Depth", "22", inside="Hole, for an internal thread")
    press(browser, "Work it out")
    assert text(browser, ".answer .big") == "Ready with cautions"
    program = browser.find_element(By.ID, "program-text").get_attribute("value")
    assert program.startswith("%")
    assert "M20x1.5-6H" in program
    press(browser, "Copy the program", away=False)
    for _ in range(40):
        if text(browser, "#copied"):
            break
        time.sleep(0.05)
    assert text(browser, "#copied") == "Copied."
    press(browser, "Save the program", away=False)
    assert saved(tmp_path, "coolant-port.nc").splitlines() == program.splitlines()
    press(browser, "Save the job", away=False)
    assert '"designation": "M20x1.5-6H"' in saved(tmp_path, "coolant-port.json")
    assert len(browser.find_elements(By.CSS_SELECTOR, ".picture svg")) == 4

    before = set(browser.window_handles)
    press(browser, "Open the sheet", away=False)
    for _ in range(100):
        if more := set(browser.window_handles) - before:
            break
        time.sleep(0.05)
    first = browser.current_window_handle
    browser.switch_to.window(more.pop())
    for _ in range(100):
        if browser.find_elements(By.TAG_NAME, "footer"):
            break
        time.sleep(0.05)
    assert "coolant port: M20x1.5-6H" in text(browser, "header")
    assert "request " in text(browser, "footer")
    browser.close()
    browser.switch_to.window(first)
    assert complaints(browser) == []


def test_a_saved_job_fills_the_form_is_changed_and_its_refusal_told(at: Go) -> None:
    browser = at("/plan")
    file = EXAMPLES / "sensor-adapter.json"
    field(browser, "Job document, a file").send_keys(str(file))
    press(browser, "Fill the form with it")
    assert field(browser, "Designation").get_attribute("value") == "7/8-14 UNF-2A"
    boss = "Boss, for an external thread"
    write(browser, "Depth", "7/8", inside=boss)  # as deep as the thread is long: too shallow
    press(browser, "Work it out")
    assert text(browser, ".answer .big") == "Refused"
    assert "so there is no program" in text(browser)
    assert not browser.find_elements(By.ID, "program-text")
    press(browser, "Change the job")
    assert field(browser, "Depth", inside=boss).get_attribute("value") == "0.875"
    write(browser, "Depth", "1", inside=boss)
    press(browser, "Work it out")
    assert text(browser, ".answer .big") == "Ready"


def test_a_pasted_text_that_is_no_document_stays_to_be_mended(at: Go) -> None:
    browser = at("/plan")
    write(browser, "or its text", '{"unit": "mm",')
    press(browser, "Fill the form with it")
    assert "can't be read" in text(browser, "#told")
    browser.find_element(By.CSS_SELECTOR, "#told a").click()
    assert field(browser, "or its text").get_attribute("value").strip() == '{"unit": "mm",'


def test_the_keyboard_alone_is_enough(at: Go) -> None:
    browser = at("/thread")
    keys = browser.find_element(By.TAG_NAME, "body")
    keys.send_keys(Keys.TAB)
    skip = browser.switch_to.active_element
    assert skip.text == "Skip to the page's content"
    skip.send_keys(Keys.ENTER)
    browser.switch_to.active_element.send_keys(Keys.TAB)
    box = browser.switch_to.active_element
    assert box.get_attribute("id") == "at-designation"
    outline = box.value_of_css_property("outline-style"), box.value_of_css_property("outline-width")
    assert outline == ("solid", "3px")
    box.send_keys("M8-6g", Keys.TAB, Keys.SPACE)
    assert browser.switch_to.active_element.get_attribute("value") == "in"
    box = browser.switch_to.active_element
    box.send_keys(Keys.ARROW_RIGHT)
    browser.switch_to.active_element.send_keys(Keys.ENTER)
    for _ in range(100):
        if "Limits of size, mm" in text(browser):
            break
        time.sleep(0.05)
    assert "Limits of size, mm" in text(browser)


def test_it_all_works_without_script(at: Go) -> None:
    browser = at("/plan")
    script(browser, on=False)
    browser.refresh()
    field(browser, "Job document, a file").send_keys(str(EXAMPLES / "coolant-port.json"))
    press(browser, "Fill the form with it")
    press(browser, "Work it out")
    assert text(browser, ".answer .big") == "Ready"
    assert browser.find_element(By.ID, "program-text").is_displayed()
    assert not browser.find_element(By.CSS_SELECTOR, "[data-copies]").is_displayed()


def test_nothing_typed_runs_and_nothing_slipped_in_would(at: Go) -> None:
    name = "<img src=x onerror=window.hit=1><script>window.hit=1</script>"[:60]
    browser = at("/plan")
    choose(browser, "Unit", "mm")
    write(browser, "Name of the part", name)
    write(browser, "Designation", "M20x1.5-6H")
    write(browser, "Length of full thread", "16")
    write(browser, "Material", "6082")
    write(browser, "Depth", "22", inside="Hole, for an internal thread")
    press(browser, "Work it out")
    assert name in text(browser, "h1")
    assert browser.execute_script("return window.hit") is None
    assert complaints(browser) == []
    # Were there a hole all the same, the policy would stop what comes through it.
    browser.execute_script(
        "const one = document.createElement('script'); one.textContent = 'window.hit = 1';"
        "document.body.append(one)"
    )
    assert browser.execute_script("return window.hit") is None
    assert any("Content Security Policy" in line for line in complaints(browser))
