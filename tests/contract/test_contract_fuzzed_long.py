"""The same for long: every boundary of every field, and many more requests made at random."""

from __future__ import annotations

import pytest
from schemathesis import Case

from support.fuzzing import ask, bounded, contract
from support.many import many

api = contract(coverage=True)


@pytest.mark.slow
@api.parametrize()
@bounded(many(40, 200))
def test_the_service_keeps_the_contract_for_long(case: Case) -> None:
    ask(case)
