"""What tilting the cutter to the lead angle would change, and so what not tilting costs.

A second, independent way to the exact form: not "how high at this radius" but "where does this
point of the tooth cut". The tooth's axis a leans by the tilt about the radius through its middle.
A point of its surface at distance rho, angle phi, where the profile has the flank angle b, has the
outward normal n = sin b u(phi) +/- cos b a. It lies on the surface it leaves behind when n is
square to its helical motion v = k x p + H k. Written out, that is

    A sin phi + B cos phi + D = 0,  A = sin b (Rc cos T + H sin T),
    B = +/- sin T (w sin b - rho cos b),  D = +/- cos b (H cos T - Rc sin T)

for the tilt T: phi in closed form, for flank, tip arc and sharp corner (b from the flank angle to
90 degrees on one spot) alike. The point is then screwed back into the half plane at angle 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible, plain
from flankwise_service.core.form.model import Cut, Pass, checked
from flankwise_service.core.form.pitchline import flank_angles_of, pitch_line, triangle_pitch_radius
from flankwise_service.core.form.profile import Array

POINTS = 1200


@dataclass(frozen=True, slots=True)
class TiltEffect:
    """The same path, cut with the axis upright and with the axis tilted."""

    lead_angle: float
    """At the pitch line, degrees: the tilt that puts the tooth square to its groove."""
    tilt: float
    pitch_diameter_upright: float
    pitch_diameter_tilted: float
    overcut_upright: float
    overcut_tilted: float
    """Mean of both flanks, along the axis at the pitch line as cut."""
    cost_of_no_tilt: float
    """pitch_diameter_upright minus pitch_diameter_tilted: what a correction of the radius has to
    take back because the cutter stands upright."""


def lead_angle(lead: float, diameter: float) -> float:
    """Return the lead angle, degrees: atan(lead / (pi diameter)).

    >>> round(lead_angle(1.25, 7.188), 4)
    3.1683
    """
    faults = Faults()
    faults.within("/lead", lead, least=0.0, greatest=1e7, name="lead")
    faults.within("/diameter", diameter, least=1e-6, greatest=1e6, name="diameter")
    faults.raise_any(BadInput)
    return math.degrees(math.atan(lead / (math.pi * diameter)))


def tooth_points(cut: Cut, row: int, points: int = POINTS) -> tuple[Array, Array, Array]:
    """Return rho, half width and flank angle (radians) along one side of the tooth, tip first.

    The first quarter of the points turn about the tip's corner or along its arc.
    """
    tooth, big = cut.tooth, cut.cutter_radius
    angle_rad = math.radians(flank_angles_of(cut)[row])
    q = tooth.tip_radius
    turning = np.linspace(math.pi / 2, angle_rad, points // 4)
    arc_height = tooth.tip_width / 2 - q * math.tan(math.pi / 4 - angle_rad / 2)
    corner_rho = big - q + q * np.sin(turning)
    corner_width = arc_height + q * np.cos(turning)
    rho = np.linspace(float(corner_rho[-1]), big - tooth.depth, points - points // 4)
    width = tooth.tip_width / 2 + (big - rho) * math.tan(angle_rad)
    return (
        np.concatenate((corner_rho, rho)),
        np.concatenate((corner_width, width)),
        np.concatenate((turning, np.full(rho.shape, angle_rad))),
    )


def left_behind(cut: Cut, row: int, tilt: float, points: int = POINTS) -> tuple[Array, Array]:
    """Return radius and reach of the surface one side of the tooth leaves, for the deepest pass.

    `tilt` in degrees, positive with the thread's lead angle. Parallel threads only. Points of the
    tooth that leave nothing behind are dropped.
    """
    centre, rise = cut.deepest.centre_radius, cut.lead / (2 * math.pi)
    sign = 1.0 if row == 0 else -1.0
    rho, width, angle = tooth_points(cut, row, points)
    sine, cosine = math.sin(math.radians(tilt)), math.cos(math.radians(tilt))
    a = np.sin(angle) * (centre * cosine + rise * sine)
    b = sign * sine * (width * np.sin(angle) - rho * np.cos(angle))
    d = sign * np.cos(angle) * (rise * cosine - centre * sine)
    size = np.maximum(np.hypot(a, b), 1e-300)
    real = np.abs(d) < size
    middle, spread = np.arctan2(a, b), np.arccos(np.clip(-d / size, -1.0, 1.0))
    both = np.stack((middle + spread, middle - spread))
    toward = cut.outward * np.cos(both)
    phi = np.where(toward[0] >= toward[1], both[0], both[1])
    x = centre + rho * np.cos(phi)
    y = rho * np.sin(phi) * cosine - sign * width * sine
    z = rho * np.sin(phi) * sine + sign * width * cosine
    reach = sign * (z - rise * np.arctan2(y, x))
    return np.hypot(x, y)[real], reach[real]


def tilt_effect(cut: Cut, tilt: float | None = None) -> TiltEffect:
    """Return what tilting the cutter by `tilt` degrees would change; by the lead angle when None.

    The tilt is about the radius through the tooth's middle and goes round with the path, as on a
    machine with tilting head or table. Deepest pass only; parallel threads. Raises BadInput,
    Impossible.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> told = tilt_effect(cut)
    >>> round(told.lead_angle, 3), round(told.cost_of_no_tilt, 4)
    (3.13, 0.0852)
    """
    checked(cut)
    faults = Faults()
    faults.need(
        cut.taper == 0.0,
        "/taper",
        "taper_with_tilt",
        "the effect of tilt is worked out for parallel threads only",
        "leave the taper out, or the tilt",
        cut.taper,
    )
    faults.within("/tilt", tilt or 0.0, least=-30.0, greatest=30.0, name="tilt", unit="degrees")
    faults.raise_any(BadInput)
    one = replace(cut, passes=(Pass(cut.deepest.centre_radius),))
    upright = pitch_line(one)
    natural = lead_angle(cut.lead, 2 * upright.radius)
    used = natural if tilt is None else tilt
    tilted, overcut = _tilted_pitch_line(one, used)
    return TiltEffect(
        lead_angle=natural,
        tilt=used,
        pitch_diameter_upright=2 * upright.radius,
        pitch_diameter_tilted=2 * tilted,
        overcut_upright=_overcut(one, upright.radius),
        overcut_tilted=overcut,
        cost_of_no_tilt=2 * (upright.radius - tilted),
    )


def _tilted_pitch_line(cut: Cut, tilt: float) -> tuple[float, float]:
    """Return radius and mean overcut at the pitch line with the axis tilted."""
    curves = [_rising(*left_behind(cut, row, tilt)) for row in (0, 1)]
    low = max(float(radius[0]) for radius, _ in curves)
    high = min(float(radius[-1]) for radius, _ in curves)
    grid = np.linspace(low, high, 4 * POINTS)
    width = sum(np.interp(grid, radius, reach) for radius, reach in curves)
    excess = cut.outward * (np.asarray(width) - cut.pitch / 2)
    if low >= high or excess[0] < 0 or excess[-1] > 0:
        raise Impossible(
            Fault(
                "/tilt",
                "no_pitch_line",
                f"tilted {plain(tilt, 4)} degrees the tooth leaves no groove half a pitch wide",
                "give a tilt nearer to the lead angle",
                tilt,
            )
        )
    radius = float(np.interp(0.0, -excess, grid))
    return radius, _overcut(cut, radius)


def _rising(radius: Array, reach: Array) -> tuple[Array, Array]:
    order = np.argsort(radius, kind="stable")
    return radius[order], reach[order]


def _overcut(cut: Cut, pitch_radius: float) -> float:
    """Return the mean overcut that puts the pitch line at `pitch_radius`."""
    slopes = sum(math.tan(math.radians(a)) for a in flank_angles_of(cut))
    return cut.outward * (pitch_radius - triangle_pitch_radius(cut)) * slopes / 2
