"""Whether a wire or ball can tell the pitch diameter of a thread at all.

Lengths in one unit. Source: geometry.
"""

from __future__ import annotations

import math

from flankwise_service.core.errors import Faults, Impossible
from flankwise_service.core.gauging import helicoid, section
from flankwise_service.core.gauging.groove import Groove


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
        f"wire or ball {wire:g} touches at diameter {outermost:g}, beyond the crest's edge at "
        f"{crest_diameter:g}: it rides on the crest, not on the flank",
        change,
        wire,
    )
    faults.need(
        sign * innermost >= sign * root_diameter,
        "/wire",
        "below_flank",
        f"wire or ball {wire:g} touches at diameter {innermost:g}, past the end of the flank at "
        f"{root_diameter:g}",
        change,
        wire,
    )
    faults.need(
        sign * stands > sign * outside,
        "/wire",
        "below_crest",
        f"wire or ball {wire:g} reaches diameter {stands:g}, short of the crest at {outside:g}: "
        "the gauge would rest on the crest",
        change,
        wire,
    )
    faults.need(
        sign * bottoms >= sign * floor,
        "/wire",
        "bottoms_in_root",
        f"wire or ball {wire:g} reaches down to diameter {bottoms:g}, past the root at {floor:g}",
        change,
        wire,
    )
    raise Impossible(*faults.found)


def _fit_words(groove: Groove, pitch_diameter: float, edge: float, outside: float) -> str:
    least = section.least_wire(groove, pitch_diameter, outside if math.isfinite(outside) else edge)
    greatest = section.greatest_wire(groove, pitch_diameter, edge)
    best = section.best_wire(groove)
    return f"take one from {least:.5g} to {greatest:.5g}; {best:.5g} is best"
