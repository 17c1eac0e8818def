"""Makes a bearer token: `python -m flankwise_service.token NAME [read,plan]`.

The token itself goes to standard output, once; the line for the token file to standard error.
Only the hash is kept by the service, so a lost token is made anew.
"""

from __future__ import annotations

import hashlib
import secrets
import sys
from collections.abc import Sequence

from flankwise_service.web.access import SCOPES, BadTokens, tokens_in


def main(arguments: Sequence[str]) -> int:
    """Print a new token and its line; return the exit code."""
    if len(arguments) not in (1, 2):
        print(__doc__, file=sys.stderr)
        return 2
    name, scopes = arguments[0], arguments[1] if len(arguments) == 2 else ",".join(SCOPES)
    secret = secrets.token_urlsafe(32)
    line = f"{name} {scopes} {hashlib.sha256(secret.encode()).hexdigest()}"
    try:
        tokens_in([line])
    except BadTokens:
        print("give a name without spaces, and scopes from: read, plan", file=sys.stderr)
        return 2
    print(secret)
    print(line, file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
