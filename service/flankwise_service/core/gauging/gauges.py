"""Go and no-go gauges of a parallel thread, by the principle of limit gauging.

A go gauge is the mating thread at maximum material, full form, as long as the engagement; it must
enter. A no-go gauge checks the pitch diameter alone at minimum material, with short flanks and a
few turns; it must not. The gauge maker's tolerance and wear allowance (ASME B1.2, ISO 1502) aren't
stored here and aren't added: the sizes are the limits they start from.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from flankwise_service.core.errors import Fault, NoSource
from flankwise_service.core.threads.model import Source
from flankwise_service.core.threads.sized import Sized, both_limits

Kind = Literal["thread ring", "thread plug", "plain ring", "plain plug"]
Duty = Literal["go", "no-go"]

PRINCIPLE = Source(
    "ISO 1502; ASME B1.2",
    "1996; 1983",
    "principle of limit gauging (Taylor), without the gauge maker's tolerance",
    "memory",
)
CREST = Source(
    "ASME B1.2", "1983", "gauge crests H/2 and H/4 from the gauge's pitch diameter", "memory"
)


@dataclass(frozen=True, slots=True)
class Gauge:
    """One gauge; a size is None where this gauge doesn't check it."""

    kind: Kind
    duty: Duty
    name: str
    """What to take out of the drawer: duty, kind, thread, and its hand where it is left."""
    pitch_diameter: Decimal | None
    crest_diameter: float | None
    """Of the gauge's own crest: minor diameter of a ring, major diameter of a plug."""
    plain_diameter: Decimal | None
    checks: str
    sources: tuple[Source, ...]


def gauges(limits: Sized) -> tuple[Gauge, ...]:
    """Return the gauges that accept a thread inside its limits, in the unit of the limits.

    Refused (NoSource) for taper threads: those are gauged by how far they screw on.

    >>> from flankwise_service.core.threads import limits as limits_of
    >>> go, no_go = gauges(limits_of("1/4-20 UNC-2A"))[:2]
    >>> go.pitch_diameter, no_go.pitch_diameter
    (Decimal('0.2164'), Decimal('0.2127'))
    >>> gauges(limits_of("M10x1-6H-LH"))[0].name
    'go thread plug M10x1-6H-LH, left hand'
    """
    if limits.basic.taper:
        raise NoSource(
            Fault(
                "/limits",
                "tapered",
                "a taper thread has no go and no-go size; a taper gauge's standoff is read",
                "see its gauge length and the turns allowed either way",
            )
        )
    low, high = both_limits(limits.pitch_diameter, "/limits/pitch_diameter", "pitch diameter")
    go, no_go = (high, low) if limits.side == "external" else (low, high)
    kind: Kind = "thread ring" if limits.side == "external" else "thread plug"
    go_crest, no_go_crest = _crests(limits, go, no_go)
    sources = (PRINCIPLE,) if go_crest is None else (PRINCIPLE, CREST)
    must, must_not = _words(limits)
    thread_gauges = (
        Gauge(kind, "go", _name("go", kind, limits), go, go_crest, None, must, sources),
        Gauge(
            kind, "no-go", _name("no-go", kind, limits), no_go, no_go_crest, None, must_not, sources
        ),
    )
    return thread_gauges + _plain(limits)


def _name(duty: Duty, kind: Kind, limits: Sized) -> str:
    hand = ", left hand" if limits.hand == "left" else ""
    return f"{duty} {kind} {limits.designation}{hand}"


def _crests(limits: Sized, go: Decimal, no_go: Decimal) -> tuple[float | None, float | None]:
    """Return crest diameters of go and no-go gauge; stated for 60 degree threads only.

    Go ring: pitch diameter - H/2. Go plug: the least major diameter. No-go ring: pitch
    diameter - H/4. No-go plug: pitch diameter + H/2, not above the least major diameter.
    """
    basic = limits.basic
    if (basic.flank_angle_upper, basic.flank_angle_lower) != (30.0, 30.0):
        return None, None
    height = basic.fundamental_height
    if limits.side == "external":
        return float(go) - height / 2, float(no_go) - height / 4
    full = limits.major_diameter.min
    major = float(basic.major_diameter if full is None else full)
    return major, min(float(no_go) + height / 2, major)


def _words(limits: Sized) -> tuple[str, str]:
    part, way = ("part", "on") if limits.side == "external" else ("hole", "in")
    return (
        f"must screw {way} freely over the whole thread: the {part} leaves room for its mate",
        f"must not screw {way} more than three turns by ASME B1.2, two by ISO 1502 (memory), "
        "turned without force",
    )


def _plain(limits: Sized) -> tuple[Gauge, ...]:
    external = limits.side == "external"
    span = limits.major_diameter if external else limits.minor_diameter
    name = "major diameter" if external else "minor diameter"
    kind: Kind = "plain ring" if external else "plain plug"
    go, no_go = (span.max, span.min) if external else (span.min, span.max)
    pairs: tuple[tuple[Duty, Decimal | None], ...] = (("go", go), ("no-go", no_go))
    return tuple(
        Gauge(
            kind, duty, f"{duty} {kind}", None, None, size, f"{duty} for the {name}", (PRINCIPLE,)
        )
        for duty, size in pairs
        if size is not None
    )
