"""The service against floor servers, in turns, in the same minutes of the same machine.

Each server has one worker: with more, chance decides how the few connections spread over them, and
that moves a rate by half. Runs are short and many, because a machine's own speed changes by the
second.
"""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import asdict

from bench import picture
from bench.asks import Ask, Asks, elsewhere, feed, helix, hexagon, limits
from bench.floors import HELIX_TURNS
from bench.goals import Part
from bench.load import Load, cpu_ratio, interleaved, median_rate, ratio, wrk
from bench.options import Options
from bench.servers import Running, gunicorn

PAIRS = (
    ("limits by GET / constant Flask route", limits(), "/constant", 0.9),
    ("feed by POST / Flask + orjson + load", feed(), "/feed", 0.85),
    ("hexagon by POST / Flask + orjson + load", hexagon(), "/hexagon", 0.85),
    ("helix, 100 segments / load + same constant bytes", helix(HELIX_TURNS), "/helix", 0.6),
)


def run(options: Options) -> Part:
    """Return the ratios of rates, each of the service over its floor."""
    part = Part("floor")
    with ExitStack() as stack:
        service = stack.enter_context(gunicorn(workers=1))
        floor = stack.enter_context(gunicorn("bench.floors:build()", workers=1, name="floor"))
        bare = stack.enter_context(gunicorn("bench.floors:bare()", workers=1, name="bare"))
        _bare_against_flask(part, options, bare, floor)
        for name, asks, path, aim in PAIRS:
            loads = _turns(
                options, {"service": (asks, service), "floor": (elsewhere(asks, path), floor)}
            )
            _note(part, name, loads)
            note = f"{median_rate(loads['service']):,.0f} / {median_rate(loads['floor']):,.0f} a second"
            figure = ratio(loads["service"], loads["floor"])
            part.tell(name, figure, aim=aim, at_least=True, note=note)
            part.tell(
                "  the same by processor time a request",
                cpu_ratio(loads["service"], loads["floor"]),
                note=f"{_cpu(loads['service']):.3f} / {_cpu(loads['floor']):.3f} ms",
            )
    rates = [goal for goal in part.goals if goal.aim is not None]
    part.pictures["floor.svg"] = picture.bars("Rate of the service over its floor", rates)
    return part


def _bare_against_flask(part: Part, options: Options, bare: Running, floor: Running) -> None:
    loads = _turns(options, {"bare": ((Ask("/"),), bare), "flask": ((Ask("/constant"),), floor)})
    _note(part, "bare", loads)
    part.tell(
        "constant Flask route / bare WSGI function (what Flask costs)",
        ratio(loads["flask"], loads["bare"]),
        note=f"{median_rate(loads['flask']):,.0f} / {median_rate(loads['bare']):,.0f} a second",
    )


def _turns(options: Options, who: dict[str, tuple[Asks, Running]]) -> dict[str, list[Load]]:
    return interleaved(
        {
            name: lambda asks=asks, server=server: wrk(asks, server, options.seconds / 2)  # type: ignore[misc]
            for name, (asks, server) in who.items()
        },
        2 * options.rounds - 1,
    )


def _note(part: Part, name: str, loads: dict[str, list[Load]]) -> None:
    part.raw[name] = {who: [asdict(load) for load in each] for who, each in loads.items()}


def _cpu(loads: list[Load]) -> float:
    return sorted(load.cpu_ms for load in loads)[len(loads) // 2]
