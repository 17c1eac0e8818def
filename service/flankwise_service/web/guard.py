"""What a browser is told to let a page do: nothing beyond its own styles, script and forms.

Inline styles and scripts are named by their hash, so that anything that slipped into a page neither
runs nor loads. Drawings bring one style of their own, always the same.
"""

from __future__ import annotations

import base64
import hashlib

from flask import Response

from flankwise_service.core.drawing.look import STYLE as DRAWING_STYLE


def hash_of(text: str) -> str:
    """Return the CSP source that stands for an inline style or script (CSP level 3, 2.3.1).

    >>> hash_of("")
    "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"
    """
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def policy(*styles: str, script: str = "") -> str:
    """Return the Content-Security-Policy of a page with these inline styles and script."""
    hashes = " ".join(hash_of(style) for style in (*styles, DRAWING_STYLE))
    scripts = f"script-src {hash_of(script)}; " if script else ""
    return f"default-src 'none'; style-src {hashes}; {scripts}form-action 'self'; base-uri 'none'"


def guarded(response: Response, allowed: str) -> Response:
    """Return the response with the headers that keep a browser from doing more than it must."""
    response.headers["Content-Security-Policy"] = f"{allowed}; frame-ancestors 'none'"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["Cache-Control"] = "no-store"
    return response
