"""Schemas of the subject batch."""

from __future__ import annotations

from flankwise_service.web import fields

MOST_ITEMS = 1000


class RequestAsk(fields.Schema):
    """One request among many."""

    operation = fields.Text(
        "Which operation, by its id in this contract", longest=64, example="threads_limits"
    )
    request = fields.Anything("What that operation asks, as one object")
    key = fields.Text("A name of your own, given back with the result", longest=64, default=None)


class RequestBatchAsk(fields.Schema):
    """Many requests in one."""

    items = fields.ListOf(
        fields.Nested(RequestAsk, "One request"), "The requests", fewest=1, most=MOST_ITEMS
    )


class RequestReply(fields.Schema):
    """What came of one request: a reply, or a problem."""

    key = fields.Text("Your own name for it, null without one", nullable=True)
    operation = fields.Text("Which operation")
    status = fields.Count("The HTTP status it would have had alone")
    reply = fields.Anything("What the operation replies, null where there is a problem")
    problem = fields.Anything("The problem, null where there is a reply")


class RequestBatchReply(fields.Schema):
    """What came of each, in the order asked."""

    results = fields.ListOf(fields.Nested(RequestReply, "One result"), "One for each request")
    count = fields.Count("How many there are")
    refused = fields.Count("How many of them have a problem")


class RequestLineAsk(RequestAsk):
    """One line of a stream of requests (NDJSON)."""
