"""Where the drawings of a sheet find room; that they do is printed and measured in tests/browser."""

from __future__ import annotations

import re

import pytest

from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import CuttingAsked
from flankwise_service.web.sheet import ROOM_BESIDE, lines_of, placed, sheet, sheet_html
from support.jobs import adapter, others, port


@pytest.mark.parametrize("name", ["M3 internal", "Tr 24x5 external", "two-start"])
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
