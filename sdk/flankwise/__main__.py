"""flankwise at a shell: `python -m flankwise limits "7/8-14 UNF-2A" --unit in`.

Ends with 0 when done, 1 when the service refuses what was asked, 2 when the command line can't be
understood or a file can't be used, 3 when there is no service to talk to, 141 when nobody reads
its output any more, as a shell tells of a closed pipe.
"""

from __future__ import annotations

import os
import sys
from argparse import SUPPRESS, ArgumentParser, Namespace, RawDescriptionHelpFormatter
from collections.abc import Sequence
from contextlib import suppress
from importlib import import_module

from flankwise import __version__
from flankwise.commands import MISUSED, NO_SERVICE, NOBODY_READS, REFUSED

COMMANDS = {
    "limits": "limits of size of a thread",
    "plan": "the whole job: report, program, sheet and drawings from a job document",
    "batch": "many requests from a file, the replies to another",
}
ABOUT = """\
Thread milling, worked out whole, by a flankwise service.

The service is the one at --service, or else at FLANKWISE_URL; a token is read from FLANKWISE_TOKEN.
A program is a proposal: prove it out in air, check tool and offset, wear eye protection.
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    # Only the module of the command asked for is imported: --help needs none of them.
    asked = next((word for word in given if word in COMMANDS), None)
    parser = _parser(asked)
    options = parser.parse_args(given)
    if options.command is None:
        parser.print_help()
        return MISUSED
    try:
        code = _run(options)
        sys.stdout.flush()
    except BrokenPipeError:
        _write_to_nobody()
        return NOBODY_READS
    return code


def _write_to_nobody() -> None:
    """Send what is left of the output nowhere: the interpreter flushes it once more at its end."""
    with suppress(OSError, ValueError):  # an output that is no file holds nothing back
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _parser(asked: str | None) -> ArgumentParser:
    parser = ArgumentParser(
        prog="flankwise", description=ABOUT, formatter_class=RawDescriptionHelpFormatter
    )
    parser.add_argument("--version", action="version", version=f"flankwise {__version__}")
    parser.set_defaults(service=None, timeout=60.0, wait=0.0)
    _add_common(parser)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    for name, summary in COMMANDS.items():
        command = commands.add_parser(name, help=summary, description=summary.capitalize() + ".")
        if name == asked:
            _add_common(command)
            import_module(f"flankwise.commands.{name}").add_to(command)
    return parser


def _add_common(parser: ArgumentParser) -> None:
    """Declare what may stand before the command and behind it; only what is given is set."""
    parser.add_argument("--service", metavar="URL", default=SUPPRESS, help="address of the service")
    parser.add_argument("--timeout", type=float, default=SUPPRESS, metavar="SECONDS",
                        help="longest wait for a reply (default: 60)")  # fmt: skip
    parser.add_argument("--wait", type=float, default=SUPPRESS, metavar="SECONDS",
                        help="wait so long for a starting service (default: 0)")  # fmt: skip


def _run(options: Namespace) -> int:
    from flankwise.client import Client  # noqa: PLC0415
    from flankwise.commands.files import BadFile  # noqa: PLC0415
    from flankwise.errors import FlankwiseError, Refused  # noqa: PLC0415

    command = import_module(f"flankwise.commands.{options.command}")
    try:
        with Client(options.service, timeout=(5.0, options.timeout)) as client:
            client.wait_until_ready(options.wait)
            code: int = command.run(client, options)
    except Refused as error:
        _say(f"refused: {error.title}")
        for fault in error.faults:
            _say(f"  {fault.pointer or '/'}: {fault.detail}")
            _say(f"      change: {fault.change}")
            if fault.near:
                _say(f"      near: {', '.join(fault.near)}")
        _say(f"  request {error.request_id}")
        return REFUSED
    except BadFile as error:
        _say(f"error: {error}")
        return MISUSED
    except FlankwiseError as error:
        _say(f"error: {error}")
        return NO_SERVICE
    return code


def _say(text: str) -> None:
    print(f"flankwise: {text}", file=sys.stderr)


if __name__ == "__main__":
    sys.exit(main())
