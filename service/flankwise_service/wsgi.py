"""What gunicorn loads: `gunicorn flankwise_service.wsgi:app`."""

from __future__ import annotations

from flankwise_service import create_app

app = create_app()
