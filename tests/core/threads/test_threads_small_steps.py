"""Small steps of threads whose every figure is worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.threads import limits
from flankwise_service.core.threads.common import nearest
from flankwise_service.core.threads.model import Span
from flankwise_service.core.threads.plating import plated


def test_letters_in_another_order_are_not_alike():
    assert nearest("ab", ["ba"]) == ()
    assert nearest("ab", ["xab"]) == ("xab",)


@pytest.mark.parametrize(
    ("name", "crest"), [("M10-6g", "major_diameter"), ("M10-6G", "minor_diameter")]
)
def test_a_crest_without_a_limit_gives_a_coat_no_room(name, crest):
    """6g and 6G stand 32 micrometres off the basic size: 8 micrometres of coat, at the flanks."""
    thread = limits(name)
    whole = plated(thread, 0.001, 0.002, "basic size")
    assert whole.greatest_thickness_uncut == pytest.approx(0.032 / 4)
    open_end = replace(thread, **{crest: Span(None, None)})
    assert plated(open_end, 0.001, 0.002, "basic size").greatest_thickness_uncut == 0.0
