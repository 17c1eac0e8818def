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
