"""How much wider than the tooth the groove gets, to first order: the formula for the back of a
drawing, derived here and used to start the exact solution.

The tooth's upper flank is a cone about the cutter's axis: at distance rho its height over the
mid-plane is w(rho) = tip/2 + (R - rho) tan(a). While the axis turns by t about the thread's axis it
rises by H t, H = lead/(2 pi), and a point at radius r is rho(t) away from it, with
rho^2 = r^2 + Rc^2 - 2 r Rc cos(t). Near t = 0, with rho0 = |r - Rc|:

    rho(t)       = rho0 + r Rc t^2 / (2 rho0) + ...
    height(t)    = H t + w(rho0) - tan(a) r Rc t^2 / (2 rho0)
    its maximum    at t = H rho0 / (tan(a) r Rc)
    overcut      = H^2 rho0 / (2 tan(a) r Rc)

on each flank. Along the pitch line the groove is wider by the sum of both. A flank leans
1 : tan(a), so the pitch line, where groove and ridge are equal, moves by (sum of overcuts) /
(sum of tangents) away from where the triangle has it, toward the side the tooth cuts to. In
diameter that is twice as much: for equal flanks

    change of pitch diameter = (lead/2 pi)^2 rho0 / (tan(a)^2 r Rc)

larger for an internal thread, smaller for an external one. With Rc = r -/+ rho0: a cutter nearly
as big as its hole makes Rc small and the overcut large.
"""

from __future__ import annotations

import math

from flankwise_service.core.errors import BadInput, Faults
from flankwise_service.core.form.model import GREATEST_LENGTH, LEAST_LENGTH, MOST_STARTS


def overcut_first_order(
    radius: float, centre_radius: float, lead: float, flank_angle: float
) -> float:
    """Return how much higher than the tooth one flank of the groove is at `radius`, first order.

    Formula: (lead/2 pi)^2 |r - Rc| / (2 tan(a) r Rc). Lengths in one unit, positive; `flank_angle`
    in degrees, 0.01 to 89. Raises BadInput. Source: derived above.

    >>> round(overcut_first_order(3.59405, 1.0, 1.25, 30.0), 5)
    0.02474
    """
    faults = Faults()
    for name, value, least in (
        ("radius", radius, LEAST_LENGTH),
        ("centre_radius", centre_radius, LEAST_LENGTH),
        ("lead", lead, 0.0),
    ):
        faults.within(
            f"/{name}", value, least=least, greatest=MOST_STARTS * GREATEST_LENGTH,
            name=name.replace("_", " "),
        )  # fmt: skip
    faults.within(
        "/flank_angle", flank_angle, least=0.01, greatest=89.0, name="flank angle", unit="degrees"
    )
    faults.raise_any(BadInput)
    rise = lead / (2 * math.pi)
    slope = math.tan(math.radians(flank_angle))
    return rise * rise * abs(radius - centre_radius) / (2 * slope * radius * centre_radius)


def pitch_diameter_change_first_order(
    radius: float,
    centre_radius: float,
    lead: float,
    flank_angle_upper: float,
    flank_angle_lower: float,
) -> float:
    """Return by how much the overcut moves the pitch diameter, first order; never negative.

    Twice the sum of both overcuts over the sum of both flank tangents; `radius` is that of the
    pitch line. Internal threads grow by it, external threads shrink.

    >>> round(pitch_diameter_change_first_order(3.59405, 1.0, 1.25, 30.0, 30.0), 4)
    0.0857
    """
    angles = (flank_angle_upper, flank_angle_lower)
    overcuts = [overcut_first_order(radius, centre_radius, lead, a) for a in angles]
    return 2 * sum(overcuts) / sum(math.tan(math.radians(a)) for a in angles)
