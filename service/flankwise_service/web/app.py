"""Builds the WSGI application: one list of subjects, one error handler, one front."""

from __future__ import annotations

import logging
from importlib import import_module

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException

from flankwise_service.config import BadSettings, Settings
from flankwise_service.core.errors import Refusal
from flankwise_service.web import docs, health, page
from flankwise_service.web.access import Access, BadTokens
from flankwise_service.web.front import PROBLEM, REQUEST_ID, Front
from flankwise_service.web.log import AccessLog
from flankwise_service.web.lookups import Lookups
from flankwise_service.web.metrics import Meter
from flankwise_service.web.operation import BASE, State
from flankwise_service.web.page_look import TEMPLATES
from flankwise_service.web.problems import INSIDE, MEDIA_TYPE, Problem, of_refusal, of_status
from flankwise_service.web.reply import Service
from flankwise_service.web.turns import Turns

SUBJECTS: tuple[str, ...] = (
    # One line per module of this folder that declares operations, in the order of the contract.
    "threads",
    "threads_uses",
    "stock",
    "cutting",
    "path",
    "form",
    "gauging",
    "program",
    "drawing",
    "plan",
    "batch",
)

logger = logging.getLogger("flankwise_service")


def build_app(settings: Settings | None = None, subjects: tuple[str, ...] = SUBJECTS) -> Flask:
    """Return the application that serves `subjects`, modules of this folder, below /v1.

    Raises BadSettings where the environment, or the list of tokens it names, can't be used.
    """
    settings = settings or Settings.from_environment()
    app = Service("flankwise_service", static_folder=None)
    app.url_map.merge_slashes = False
    lookups = Lookups(settings.lookup_entries, settings.lookup_bytes)
    access = _access(settings)
    meter = Meter()
    app.extensions["flankwise"] = State(settings, lookups, access, meter, Turns(settings.turn_wait))
    app.register_blueprint(health.blueprint)
    app.register_blueprint(page.blueprint)
    app.register_blueprint(docs.blueprint)
    for name in subjects:
        module = import_module(name if "." in name else f"{__package__}.{name}")
        app.register_blueprint(module.blueprint, url_prefix=BASE)
    app.register_error_handler(Exception, answer_error)
    log = AccessLog(settings.access_log)
    app.wsgi_app = Front(app.wsgi_app, lookups, access, log, meter)  # type: ignore[method-assign]
    return app


def load_templates() -> None:
    """Read every template now: later the files may be those of another version."""
    for templates, other in ((docs.TEMPLATES, " "), (TEMPLATES, "docs/")):
        for name in templates.list_templates(["html"]):
            if not name.startswith(other):
                templates.get_template(name)


def _access(settings: Settings) -> Access:
    try:
        return Access(settings.tokens, settings.token_file)
    except BadTokens as error:
        where = "FLANKWISE_TOKEN_FILE or FLANKWISE_TOKENS" if settings.tokens else (
            f"FLANKWISE_TOKEN_FILE={settings.token_file!r}"
        )  # fmt: skip
        raise BadSettings(f"{where}: {error}") from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise BadSettings(
            f"FLANKWISE_TOKEN_FILE={settings.token_file!r} can't be read: {why}"
        ) from None


def answer_error(error: Exception) -> Response:
    """Return the problem reply for whatever went wrong. Nothing of our insides leaks."""
    problem = _problem_of(error)
    request.environ[PROBLEM] = problem.code
    request_id = str(request.environ.get(REQUEST_ID, ""))
    if problem.status >= 500:
        logger.error("request %s failed", request_id, exc_info=error)
    if request.environ.get(page.PAGE):
        return page.problem_page(problem)
    response = Response(problem.body(request_id), status=problem.status, content_type=MEDIA_TYPE)
    response.headers["Cache-Control"] = "no-store"
    response.headers.update(problem.headers)
    return response


def _problem_of(error: Exception) -> Problem:
    if isinstance(error, Problem):
        return error
    if isinstance(error, Refusal):
        return of_refusal(error)
    if isinstance(error, HTTPException):
        return _problem_of_http(error)
    return Problem("internal", INSIDE)


def _problem_of_http(error: HTTPException) -> Problem:
    status = error.code or 500
    if status == 404:
        return Problem("no_such_path", "see /openapi.json for every path there is")
    if status == 405:
        methods = sorted(getattr(error, "valid_methods", None) or ())
        allow = ", ".join(methods)
        return Problem("method_not_allowed", f"this path knows {allow}", headers={"Allow": allow})
    if status >= 500:
        return Problem("internal", INSIDE)
    return of_status(status, error.name)
