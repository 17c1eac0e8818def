"""What gunicorn loads: `gunicorn flankwise_service.wsgi:app`."""

from __future__ import annotations

import gc

from flankwise_service import create_app

# What is made while modules load stays; looking for garbage in it takes a tenth of the start.
gc.disable()
app = create_app()
gc.enable()
