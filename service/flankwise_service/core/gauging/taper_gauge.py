"""How a taper thread is gauged: how far a taper ring or plug screws on by hand."""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.errors import Fault, NoSource
from flankwise_service.core.threads.model import Source, StatedLimits
from flankwise_service.core.units import written

AMERICAN = Source(
    "ASME B1.20.1", "1983", "L1 ring and plug gauges, one turn large or small", "memory"
)
DRYSEAL = Source("ASME B1.20.5", "1991", "L1 and L3 gauges, crest check of NPTF", "memory")
WHITWORTH = Source("ISO 7-2", "2000", "taper ring and plug gauges with two steps", "memory")


def taper_gauge(limits: StatedLimits) -> tuple[str, Source]:
    """Return how the gauge of a taper thread must stand, in words, and the source.

    NPT: the L1 ring or plug, hand tight, flush within one turn, which is one pitch along the axis.
    R, Rc: the ISO 7-2 ring or plug, hand tight, with the face of the part between its two steps.
    Refused (NoSource) for a parallel thread: that has go and no-go gauges.

    >>> from flankwise_service.core.threads import limits as limits_of, limits_in
    >>> words, source = taper_gauge(limits_in(limits_of("R 1/2"), "mm"))
    >>> words[:40], words[-29:], source.document
    ('taper ring gauge by ISO 7-2, hand tight:', '(gauge length 6.4 to 10.0 mm)', 'ISO 7-2')
    """
    if not limits.basic.taper:
        raise NoSource(
            Fault("/limits", "parallel", "a parallel thread has no taper gauge",
                  "use its go and no-go gauges", limits.designation)
        )  # fmt: skip
    if limits.family == "bsp_taper":
        return _whitworth(limits), WHITWORTH
    if limits.series == "NPTF":
        more = "; the L3 gauge and the crest check of ASME B1.20.5 come on top"
        return _american(limits) + more, DRYSEAL
    return _american(limits), AMERICAN


def _american(limits: StatedLimits) -> str:
    unit, pitch = limits.unit, float(limits.pitch)
    grows = float(limits.extra["diameter_increase_per_thread"] or 0)
    kind, what = (
        ("ring", "its face flush with the small end of the part")
        if limits.side == "external"
        else ("plug", "its notch flush with the face of the part")
    )
    return (
        f"L1 taper thread {kind} gauge by ASME B1.20.1, hand tight: {what} within one turn large "
        f"or small (one turn is {written(pitch, unit)} {unit} along the axis, "
        f"{written(grows, unit)} {unit} on the "
        "diameter)"
    )


def _whitworth(limits: StatedLimits) -> str:
    unit, extra = limits.unit, limits.extra
    places = 1 if unit == "mm" else 3

    def length(name: str) -> str:
        return f"{extra[name] or Decimal(0):.{places}f}"

    if limits.side == "external":
        return (
            "taper ring gauge by ISO 7-2, hand tight: the small end of the part must lie between "
            f"the gauge's two steps (gauge length {length('gauge_length_min')} to "
            f"{length('gauge_length_max')} {unit})"
        )
    return (
        "taper plug gauge by ISO 7-2, hand tight: the face of the part must lie between the "
        f"gauge's two steps (the gauge plane within {length('gauge_plane_tolerance')} {unit} "
        "either way)"
    )
