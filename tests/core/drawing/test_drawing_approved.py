"""Drawings are as they were when somebody looked at them; `support.approved_drawings` says how."""

from __future__ import annotations

import pytest

from support.approved_drawings import DRAWINGS, FOLDER
from support.svg import parsed


@pytest.mark.parametrize("name", sorted(DRAWINGS))
def test_a_drawing_is_as_approved(name: str) -> None:
    text = DRAWINGS[name]()
    parsed(text)
    assert text == (FOLDER / f"{name}.svg").read_text("utf-8"), (
        "if that is meant: python -m support.approved_drawings, and look at what changed"
    )


def test_no_drawing_is_kept_that_nothing_makes() -> None:
    assert {file.stem for file in FOLDER.iterdir()} == set(DRAWINGS)
