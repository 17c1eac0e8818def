"""Throughput with one worker and with two, and of several instances behind the proxy."""

from __future__ import annotations

import shutil
from contextlib import ExitStack
from dataclasses import asdict
from pathlib import Path

from bench.asks import Asks, feed, plan
from bench.goals import Part
from bench.load import Load, interleaved, median_rate, ratio, wrk
from bench.options import Options
from bench.proxy import nginx
from bench.servers import Running, gunicorn


def run(options: Options) -> Part:
    """Return how rates add up, measured in turns."""
    part = Part("processes")
    with ExitStack() as stack:
        one = stack.enter_context(gunicorn(workers=1, name="one"))
        two = stack.enter_context(gunicorn(workers=2, name="two"))
        for name, asks in (("feed", feed()), ("plan", plan())):
            loads = _turns(part, options, name, asks, {"one": one, "two": two})
            part.tell(f"{name}: two workers over one", ratio(loads["two"], loads["one"]),
                      note=_rates(loads))  # fmt: skip
        if not (shutil.which("nginx") or Path("/usr/sbin/nginx").exists()):
            print("  nginx is missing: nothing measured through the proxy (apt-get install nginx)")
            return part
        other = stack.enter_context(gunicorn(workers=1, name="other"))
        single = stack.enter_context(nginx([one]))
        loads = _turns(part, options, "proxied", feed(), {"direct": one, "proxied": single})
        part.tell("feed: one worker through the proxy over directly",
                  ratio(loads["proxied"], loads["direct"]), note=_rates(loads))  # fmt: skip
    with ExitStack() as stack:
        one = stack.enter_context(gunicorn(workers=1, name="one"))
        other = stack.enter_context(gunicorn(workers=1, name="other"))
        two = stack.enter_context(gunicorn(workers=2, name="two"))
        both = stack.enter_context(nginx([one, other]))
        loads = _turns(part, options, "instances", plan(), {"workers": two, "instances": both})
        part.tell("plan: two instances behind the proxy over two workers of one",
                  ratio(loads["instances"], loads["workers"]), note=_rates(loads))  # fmt: skip
    return part


def _turns(
    part: Part, options: Options, name: str, asks: Asks, who: dict[str, Running]
) -> dict[str, list[Load]]:
    loads = interleaved(
        {
            key: lambda server=server: wrk(asks, server, options.seconds)
            for key, server in who.items()
        },  # type: ignore[misc]
        options.rounds,
    )
    part.raw[name] = {key: [asdict(load) for load in each] for key, each in loads.items()}
    return loads


def _rates(loads: dict[str, list[Load]]) -> str:
    return (
        ", ".join(f"{name} {median_rate(each):,.0f}" for name, each in loads.items()) + " a second"
    )
