"""flankwise as a service: `create_app()` builds the WSGI application."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flask import Flask

    from flankwise_service.config import Settings

__version__ = "1.0.0"
__all__ = ["__version__", "create_app"]


def create_app(settings: Settings | None = None) -> Flask:
    """Return the WSGI application, configured by `settings` or else by the environment."""
    # Imported here so that core/ can be used, and timed, without Flask.
    from flankwise_service.web.app import build_app  # noqa: PLC0415

    return build_app(settings)
