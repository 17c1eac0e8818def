"""Where the drawings of a sheet find room; that they do is printed and measured in tests/browser."""

from __future__ import annotations

import re

import pytest

from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import CuttingAsked
from flankwise_service.web.sheet import ROOM_BESIDE, lines_of, placed, sheet, sheet_html
from support.jobs import adapter, others, port


@pytest.mark.parametrize("name", ["left-hand", "two-start"])
def test_the_path_is_drawn_below_the_shorter_column_where_the_foot_is_full(name: str) -> None:
    found = sheet(work(others()[name], "1.0.0"))
    density, foot, beside = placed(found)
    assert density == "roomy"
    assert [one.view for one in foot] == ["setup", "section"]
    assert beside is not None
    assert beside.view == "path"
    left, right, _ = lines_of(found)
    assert right - left >= ROOM_BESIDE
    text = sheet_html(found, "x")
    assert re.findall(r'aria-labelledby="fw-(\w+)-title', text) == ["path", "setup", "section"]
    assert text.count('<div class="beside"><svg') == 1


def test_a_sheet_whose_foot_holds_all_has_none_beside() -> None:
    found = sheet(work(adapter(), "1.0.0"))
    assert placed(found) == ("roomy", found.drawings, None)
    assert 'class="beside"' not in sheet_html(found, "x")


def test_a_crowded_sheet_has_no_room_beside() -> None:
    found = sheet(work(adapter(cutting=CuttingAsked(passes=50, spring_passes=5)), "1.0.0"))
    _, foot, beside = placed(found)
    assert (len(foot), beside) == (2, None)


def test_the_wall_of_a_sheet_is_named_apart_from_that_of_the_drawing() -> None:
    text = sheet_html(sheet(work(port(), "1.0.0")), "x")
    assert re.findall(r"wall beyond the thread [\d.]+", text) == ["wall beyond the thread 5.000"]


def test_the_metal_outside_an_external_thread_is_no_wall() -> None:
    text = sheet_html(sheet(work(adapter(), "1.0.0")), "x")
    assert "wall beyond the thread" not in text
    assert "metal outside the thread" in text


def test_each_row_of_the_table_says_what_becomes_of_the_part() -> None:
    outside = sheet_html(sheet(work(adapter(), "1.0.0")), "x")
    inside = sheet_html(sheet(work(port(), "1.0.0")), "x")
    cell = re.compile(r'<td class="part">([^<]+)</td><td>([^<]+)')
    scrap, good, rework = ["scrap, next:"] * 3, ["good"] * 3, ["rework"] * 3
    assert [fate for fate, _ in cell.findall(outside)] == scrap + good + rework
    assert [fate for fate, _ in cell.findall(inside)] == rework + good + scrap
    for text in (outside, inside):
        told = cell.findall(text)
        assert {words.split()[4] for fate, words in told if fate == "rework"} == {"smaller"}
        assert {words.split()[4] for fate, words in told if "scrap" in fate} == {"larger"}


def test_gauges_are_named() -> None:
    bolt = sheet_html(sheet(work(others()["left-hand"], "1.0.0")), "x")
    assert "<p>Go thread ring M12x1.5-6g-LH, left hand: pitch diameter" in bolt
    assert "<p>No-go thread ring M12x1.5-6g-LH, left hand: pitch diameter" in bolt
    assert "<p>Go thread plug M20x1.5-6H: pitch" in sheet_html(sheet(work(port(), "1.0.0")), "x")


def test_a_refused_plan_prints_nothing_to_cut_by() -> None:
    found = sheet(work(adapter(length=0.99), "1.0.0"))
    assert found.plan.verdict == "refused"
    text = sheet_html(found, "x")
    assert text.index("No program: this plan is refused.") < text.index("Limits of size")
    body = text[text.index("Limits of size") : text.index("What to look at")]
    for word in ("radius offset", "rev/min", "feed", "Passes", "aim ", "Measured", "Tool change"):
        assert word not in body, word
    assert "plough into the shoulder" in text
    ready = sheet_html(sheet(work(adapter(), "1.0.0")), "x")
    assert "this plan is refused" not in ready
    assert "<h2>Passes</h2>" in ready


def test_the_tool_change_is_told_where_there_is_one() -> None:
    two = sheet_html(sheet(work(adapter(), "1.0.0")), "x")
    one = sheet_html(sheet(work(others()["M3 internal"], "1.0.0")), "x")
    assert re.search(r"Tool change at Z 0\.9843:</b> see that the machine lifts", two)
    assert "Tool change" not in one


def test_the_end_mill_has_its_feed() -> None:
    found = sheet(work(adapter(), "1.0.0"))
    feed = found.plan.blank.edge_feed
    assert feed is not None
    assert f">{feed:.1f} (edge)</td>" in sheet_html(found, "x")


def test_lengths_of_the_standard_are_a_sentence() -> None:
    text = sheet_html(sheet(work(others()["1/2-14 NPT internal"], "1.0.0")), "x")
    (said,) = re.findall(r"Lengths of the standard: ([^<]*)</p>", text)
    assert re.fullmatch(r"[a-z0-9 ]+ [\d.]+(; [a-z0-9 ]+ [\d.]+)*\.", said), said
