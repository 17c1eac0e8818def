"""The same for every number of every operation: at length, or a share of them."""

from __future__ import annotations

import pytest

from support.many import MANY
from support.told_limits import asked, cases, refused_again

SHARE = 1 if MANY else 5


@pytest.mark.slow
@pytest.mark.parametrize("operation_id", asked())
def test_every_limit_told_is_taken_when_given_back(operation_id: str) -> None:
    found = [said for case in cases(operation_id)[::SHARE] for said in refused_again(case)]
    assert found == []
