"""One thread, written in the ways drawings write it, reads the same."""

from __future__ import annotations

import pytest

from flankwise_service.core.errors import UnknownThread
from flankwise_service.core.threads import parse


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        ('7/8"-14 UNF-2A', "7/8-14 UNF-2A"),
        ("7⁄8-14 UNF-2A", "7/8-14 UNF-2A"),
        ("7/8-14 UNF-2A (LH)", "7/8-14 UNF-2A-LH"),
        ("7/8-14 UNF-2A (21)", "7/8-14 UNF-2A"),
        ("7/8-14 UNF-2A(22)-LH", "7/8-14 UNF-2A-LH"),
        ("7/8-14 UNF-2A-LH (23)", "7/8-14 UNF-2A-LH"),
        ("No. 10-24 UNC-2B", "10-24 UNC-2B"),
        ("10 (.190)-24 UNC-2B", "10-24 UNC-2B"),
        ("#10(0.190) - 24 UNC-2B", "10-24 UNC-2B"),
        ("M16 x Ph 3 P 1.5 - 6H", "M16xPh3P1.5-6H"),
        ("M16xPh3P1,5-6H (LH)", "M16xPh3P1.5-6H-LH"),
        ("Tr 40x14(P7)-7e (LH)", "Tr 40x14(P7)-7e-LH"),
        ("No. 2 BA close", "2 BA close"),
        ("No 4 B.A. normal", "4 BA normal"),
    ],
)
def test_ways_of_writing_one_thread(written: str, canonical: str) -> None:
    assert parse(written).designation == canonical


@pytest.mark.parametrize(
    "written",
    ["10 (.216)-24 UNC-2B", "11 (.190)-24 UNC-2B", "7/8-14 UNF-2A (24)", "No. 7/8", '7"/8-14 UNF'],
)
def test_what_contradicts_itself_is_refused(written: str) -> None:
    with pytest.raises(UnknownThread) as caught:
        parse(written)
    assert caught.value.faults[0].pointer == "/designation"


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("M24x1.5 LH-6G", "M24x1.5-6G-LH"),
        ("M24x1.5LH-6G", "M24x1.5-6G-LH"),
        ("M24x1.5-LH-6G", "M24x1.5-6G-LH"),
        ("1 1/8-8 LH UNR-3A", "1 1/8-8 UNR-3A-LH"),
        ("m12x1.5-lh-6h", "M12x1.5-6h-LH"),
    ],
)
def test_left_hand_before_the_class_is_told_where_it_belongs(text: str, meant: str) -> None:
    with pytest.raises(UnknownThread) as caught:
        parse(text)
    (fault,) = caught.value.faults
    assert fault.near[0] == meant
    assert fault.change == f"write LH at the end: {meant}"
    assert parse(meant).hand == "left"


@pytest.mark.parametrize("text", ["M24x1.5-9Z-LH", "M24x1.5 LH-9Z", "M24x1.5-6Q"])
def test_what_no_hand_mends_is_told_as_before(text: str) -> None:
    with pytest.raises(UnknownThread) as caught:
        parse(text)
    assert "LH at the end" not in caught.value.faults[0].change
