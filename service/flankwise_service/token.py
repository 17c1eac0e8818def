"""Makes a bearer token: `python -m flankwise_service.token NAME [read,plan]`.

The token itself goes to standard output, once; the line for the token file to standard error.
Only the hash is kept by the service, so a lost token is made anew.
"""

from __future__ import annotations

import hashlib
import secrets
import sys
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Sequence

from flankwise_service.web.access import SCOPES, BadTokens, tokens_in


def main(arguments: Sequence[str] | None = None) -> int:
    """Print a new token and its line; return the exit code."""
    asked = _parser().parse_args(arguments)
    secret = secrets.token_urlsafe(32)
    line = f"{asked.name} {asked.scopes} {hashlib.sha256(secret.encode()).hexdigest()}"
    try:
        tokens_in([line])
    except BadTokens:
        print(
            "give a name of letters, digits and . _ -, and scopes from: read, plan", file=sys.stderr
        )
        return 2
    print(secret)
    print(line, file=sys.stderr)
    return 0


def _parser() -> ArgumentParser:
    parser = ArgumentParser(prog="python -m flankwise_service.token", description=__doc__,
                            formatter_class=RawDescriptionHelpFormatter)  # fmt: skip
    parser.add_argument("name", metavar="NAME", help="whose token it is")
    parser.add_argument("scopes", metavar="SCOPES", nargs="?", default=",".join(SCOPES),
                        help="what it is good for: read, plan or read,plan (default)")  # fmt: skip
    return parser


if __name__ == "__main__":
    sys.exit(main())
