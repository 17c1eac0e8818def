"""The same for long: every boundary of every field, and many more requests made at random."""

from __future__ import annotations

import os

import pytest
from schemathesis import Case

from support.fuzzing import ask, bounded, contract

api = contract(coverage=True)


@pytest.mark.slow
@api.parametrize()
@bounded(int(os.environ.get("FLANKWISE_TEST_CASES", "200")))
def test_the_service_keeps_the_contract_for_long(case: Case) -> None:
    ask(case)
