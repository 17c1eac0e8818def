"""What the form takes of the pitch diameter's tolerance."""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.errors import Faults, plain
from flankwise_service.core.form.model import GREATEST_LENGTH, LEAST_LENGTH


@dataclass(frozen=True, slots=True)
class ToleranceUse:
    """What the form takes of the pitch diameter's tolerance, in percent of it."""

    tolerance: float
    used_by_overcut: float
    """Change of pitch diameter by the overcut, before any correction of the radius."""
    used_by_form: float
    """Functional effect: what a correction of the radius can't take back."""
    position: float
    """0 with the pitch diameter at its least limit, 100 at its greatest."""
    pitch_diameter_inside: bool
    functional_diameter_inside: bool


def tolerance_use(
    pitch_diameter: float, triangle: float, functional: float, limits: tuple[float, float] | None
) -> ToleranceUse | None:
    """Return the shares of the pitch diameter's tolerance, or None without limits.

    >>> use = tolerance_use(7.268, 7.19, 7.27, (7.188, 7.348))
    >>> round(use.used_by_overcut, 2), round(use.used_by_form, 2), round(use.position, 2)
    (48.75, 1.25, 50.0)
    """
    if limits is None:
        return None
    least, most = limits
    tolerance = most - least
    return ToleranceUse(
        tolerance=tolerance,
        used_by_overcut=100 * abs(pitch_diameter - triangle) / tolerance,
        used_by_form=100 * abs(functional - pitch_diameter) / tolerance,
        position=100 * (pitch_diameter - least) / tolerance,
        pitch_diameter_inside=least <= pitch_diameter <= most,
        functional_diameter_inside=least <= functional <= most,
    )


def check_limits(limits: tuple[float, float] | None, faults: Faults) -> None:
    """Note a fault unless the pitch diameter's limits are two lengths, least first."""
    if limits is None:
        return
    for n, value in enumerate(limits):
        faults.within(
            f"/pitch_diameter_limits/{n}",
            value,
            least=LEAST_LENGTH,
            greatest=GREATEST_LENGTH,
            name="limit of pitch diameter",
        )
    faults.need(
        limits[0] < limits[1],
        "/pitch_diameter_limits",
        "limits_crossed",
        f"pitch diameter limits {plain(limits[0])} and {plain(limits[1])} leave no tolerance",
        "give the least limit first, then the greatest",
    )
