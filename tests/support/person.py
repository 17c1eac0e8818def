"""What a person does at the page: finds fields by their labels, buttons by their words."""

from __future__ import annotations

from typing import Any

from selenium.webdriver.common.by import By
from selenium.webdriver.support.expected_conditions import staleness_of
from selenium.webdriver.support.ui import WebDriverWait


def quoted(words: str) -> str:
    """Return words as an XPath literal."""
    if "'" not in words:
        return f"'{words}'"
    return f'"{words}"'


def field(browser: Any, label: str, inside: str = "") -> Any:
    """Return the field with this label, in the part of the form with this heading."""
    part = f"//*[self::fieldset[legend={quoted(inside)}]]" if inside else ""
    found = browser.find_element(By.XPATH, f"{part}//label[normalize-space(.)={quoted(label)}]")
    return browser.find_element(By.ID, found.get_attribute("for"))


def write(browser: Any, label: str, text: str, inside: str = "") -> None:
    """Type text into the field with this label."""
    box = field(browser, label, inside)
    box.clear()
    box.send_keys(text)


def choose(browser: Any, group: str, word: str) -> None:
    """Choose a word of a group of radio buttons."""
    browser.find_element(
        By.XPATH,
        f"//fieldset[legend={quoted(group)}]//label[normalize-space(.)={quoted(word)}]",
    ).click()


def press(browser: Any, words: str, *, away: bool = True) -> None:
    """Press the button, or follow the link, of these words; wait for the page that comes."""
    before = browser.find_element(By.TAG_NAME, "html")
    browser.find_element(
        By.XPATH, f"//*[self::button or self::a][normalize-space(.)={quoted(words)}]"
    ).click()
    if away:
        WebDriverWait(browser, 20).until(staleness_of(before))
        WebDriverWait(browser, 20).until(
            lambda one: one.execute_script("return document.readyState") == "complete"
        )


def text(browser: Any, selector: str = "main") -> str:
    """Return what is read in a part of the page."""
    return str(browser.find_element(By.CSS_SELECTOR, selector).text)


def complaints(browser: Any) -> list[str]:
    """Return what the browser's console says, but for the status of a refused form."""
    return [
        entry["message"]
        for entry in browser.get_log("browser")
        if "status of 422" not in entry["message"]
    ]
