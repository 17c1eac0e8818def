"""What gunicorn loads: `gunicorn flankwise_service.wsgi:app`."""

from __future__ import annotations

import gc
import sys

from flankwise_service import create_app
from flankwise_service.config import BadSettings
from flankwise_service.web.app import load_templates

# What is made while modules load stays; looking for garbage in it takes a tenth of the start.
gc.disable()
try:
    app = create_app()
    load_templates()
except BadSettings as error:
    sys.exit(f"flankwise doesn't start: {error}")
gc.enable()
