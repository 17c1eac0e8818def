"""Whether a wire or ball can tell the pitch diameter of a thread at all.

Lengths in one unit. Source: geometry.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from flankwise_service.core.errors import Faults, Impossible, plain, plain_greatest, plain_least
from flankwise_service.core.gauging import helicoid, section
from flankwise_service.core.gauging.groove import Groove

HALVINGS = 12


def refuse_unfit_wire(
    groove: Groove,
    pitch_diameter: float,
    wire: float,
    crest_diameter: float,
    root_diameter: float,
    standing: float | None = None,
    bottom: float | None = None,
) -> helicoid.Rest:
    """Return where the wire rests, or raise Impossible when it can't tell the pitch diameter.

    The wire must touch both flanks between the crest's edge and `root_diameter`, where the flank
    ends, stand out beyond the crest (`standing`: the crest's other limit, if it differs; infinite
    where the crest isn't in the gauge's way), and not bottom (`bottom`: the root's diameter, if it
    isn't where the flank ends).

    >>> unified = Groove(1 / 14, 1 / 14, 30.0, 30.0)
    >>> lies = refuse_unfit_wire(unified, 0.8270, 0.04124, 0.8631, 0.7946, 0.8734)
    >>> round(lies.contact_diameter_upper, 3)
    0.827
    >>> refuse_unfit_wire(unified, 0.8270, 0.075, 0.8631, 0.7946, 0.8734)
    Traceback (most recent call last):
    flankwise_service.core.errors.Impossible: wire or ball 0.075 touches at diameter 0.877685, \
beyond the crest's edge at 0.8631: it rides on the crest, not on the flank
    """
    lies = helicoid.rest(groove, pitch_diameter, wire)
    sign = 1 if groove.side == "external" else -1
    touches = (lies.contact_diameter_upper, lies.contact_diameter_lower)
    outermost = max(touches) if sign > 0 else min(touches)
    innermost = min(touches) if sign > 0 else max(touches)
    stands = 2 * lies.centre_radius + sign * wire
    bottoms = 2 * lies.centre_radius - sign * wire
    outside = crest_diameter if standing is None else standing
    floor = root_diameter if bottom is None else bottom
    on_flank = (
        sign * outermost <= sign * crest_diameter and sign * innermost >= sign * root_diameter
    )
    if on_flank and sign * stands > sign * outside and sign * bottoms >= sign * floor:
        return lies
    change = _fit_words(groove, pitch_diameter, crest_diameter, outside)
    faults = Faults()
    faults.need(
        sign * outermost <= sign * crest_diameter,
        "/wire",
        "rides_on_crest",
        f"wire or ball {plain(wire)} touches at diameter {plain(outermost)}, beyond the crest's "
        "edge at "
        f"{plain(crest_diameter)}: it rides on the crest, not on the flank",
        change,
        wire,
    )
    faults.need(
        sign * innermost >= sign * root_diameter,
        "/wire",
        "below_flank",
        f"wire or ball {plain(wire)} touches at diameter {plain(innermost)}, past the end of the "
        "flank at "
        f"{plain(root_diameter)}",
        change,
        wire,
    )
    faults.need(
        sign * stands > sign * outside,
        "/wire",
        "below_crest",
        f"wire or ball {plain(wire)} reaches diameter {plain(stands)}, short of the crest at "
        f"{plain(outside)}: "
        "the gauge would rest on the crest",
        change,
        wire,
    )
    faults.need(
        sign * bottoms >= sign * floor,
        "/wire",
        "bottoms_in_root",
        f"wire or ball {plain(wire)} reaches down to diameter {plain(bottoms)}, past the root at "
        f"{plain(floor)}",
        change,
        wire,
    )
    raise Impossible(*faults.found)


def _fit_words(groove: Groove, pitch_diameter: float, edge: float, outside: float) -> str:
    least = section.least_wire(groove, pitch_diameter, outside if math.isfinite(outside) else edge)
    greatest = section.greatest_wire(groove, pitch_diameter, edge)
    return fit_words(least, greatest, section.best_wire(groove))


def fit_words(least: float, greatest: float, best: float) -> str:
    """Return which wires to take instead.

    >>> fit_words(0.962314, 1.650289, 1.0475)
    'take one from 0.96232 to 1.6502; 1.0475 is best'
    """
    said = f"{plain_least(least, 5)} to {plain_greatest(greatest, 5)}"
    return f"take one from {said}; {plain(best, 5)} is best"


def last_fitting(fits: Callable[[float], bool], inside: float, outside: float) -> float:
    """Return the wire farthest from `inside`, which fits, toward `outside`, that still fits.

    To a four-thousandth of the way, on the side that fits.

    >>> last_fitting(lambda wire: wire <= 0.75, 0.5, 1.0)
    0.75
    """
    if fits(outside):
        return outside
    for _ in range(HALVINGS):
        middle = (inside + outside) / 2
        inside, outside = (middle, outside) if fits(middle) else (inside, middle)
    return inside
