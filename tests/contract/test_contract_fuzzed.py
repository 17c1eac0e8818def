"""Requests made from the contract, good and bad: the service keeps every promise it makes there."""

from __future__ import annotations

import os

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis import Case
from schemathesis.checks import load_all_checks, positive_data_acceptance

from support.contract import application, fresh

load_all_checks()
# Too long a query or body is bad data too, and says so by a status of its own.
REJECTED = ["400", "404", "405", "406", "411", "413", "414", "415", "422"]
config = schemathesis.Config.from_dict(
    {"checks": {"negative_data_rejection": {"expected-statuses": REJECTED}}}
)
api = schemathesis.openapi.from_dict(fresh(), config=config)
EXAMPLES = int(os.environ.get("FLANKWISE_TEST_CASES", "15"))

# A request can be right by its schema and still not be cuttable: 422 with a reason is then right.
NOT_OURS = [positive_data_acceptance]


def bounded(examples: int) -> settings:
    return settings(
        max_examples=examples,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )


@api.parametrize()
@bounded(EXAMPLES)
def test_the_service_keeps_the_contract(case: Case) -> None:
    case.call_and_validate(app=application(), base_url="http://localhost", excluded_checks=NOT_OURS)


@pytest.mark.slow
@api.parametrize()
@bounded(400)
def test_the_service_keeps_the_contract_for_long(case: Case) -> None:
    case.call_and_validate(app=application(), base_url="http://localhost", excluded_checks=NOT_OURS)
