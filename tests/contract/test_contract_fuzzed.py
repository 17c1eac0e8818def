"""Requests made from the contract, good and bad: the service keeps every promise it makes there.

The long form, in test_contract_fuzzed_long.py, asks thousands more.
"""

from __future__ import annotations

from schemathesis import Case

from support.fuzzing import ask, bounded, contract

api = contract(coverage=False)


@api.parametrize()
@bounded(8)
def test_the_service_keeps_the_contract(case: Case) -> None:
    ask(case)
