"""Requests made from the contract, for the short and the long form of the same test."""

from __future__ import annotations

from typing import Any

import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis import Case
from schemathesis.checks import load_all_checks, positive_data_acceptance

from support.contract import application, fresh

load_all_checks()

# Too long a query or body is bad data too, and says so by a status of its own.
REJECTED = ["400", "404", "405", "406", "411", "413", "414", "415", "422"]

# A request can be right by its schema and still not be cuttable: 422 with a reason is then right.
NOT_OURS = [positive_data_acceptance]


def contract(*, coverage: bool) -> Any:
    """Return the contract as schemathesis reads it; `coverage` adds every boundary of each field."""
    config = schemathesis.Config.from_dict(
        {
            "checks": {"negative_data_rejection": {"expected-statuses": REJECTED}},
            "phases": {"coverage": {"enabled": coverage}},
        }
    )
    api = schemathesis.openapi.from_dict(fresh(), config=config)
    # A stream of lines is judged line by line, in tests of its own.
    return api.exclude(operation_id="batch_stream")


def bounded(examples: int) -> settings:
    """Return settings for so many generated requests an operation, the same ones in every run."""
    return settings(
        max_examples=examples,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )


def ask(case: Case[Any]) -> None:
    """Send one request and hold the reply to everything the contract promises."""
    case.call_and_validate(app=application(), base_url="http://localhost", excluded_checks=NOT_OURS)
