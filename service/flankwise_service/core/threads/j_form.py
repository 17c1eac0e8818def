"""The J form's own figures: a root of controlled radius, and minor diameters raised to clear it.

Sources (memory): ASME B1.15-1995, ISO 3161:1999 for UNJ; ISO 5855-1:1999, ASME B1.21M for MJ.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from flankwise_service.core.threads.common import to_places
from flankwise_service.core.threads.model import BasicProfile

LEAST_RADIUS, GREATEST_RADIUS = Decimal("0.15011"), Decimal("0.18042")
"""Root radius of an external thread over its pitch."""
_INTERNAL_HEIGHT = Decimal("0.97427858")
"""1.125 H over the pitch: major less minor diameter of the internal thread."""


def least_minor_internal(diameter: Decimal, pitch: Decimal, places: int) -> Decimal:
    """Return D - 0.97427858 P.

    >>> least_minor_internal(Decimal(6), Decimal(1), 3)
    Decimal('5.026')
    """
    return to_places(diameter - _INTERNAL_HEIGHT * pitch, places)


def greatest_minor_external(pitch_max: Decimal, pitch: Decimal, places: int) -> Decimal:
    """Return d2max - 0.50518 P: where the greatest root radius touches both flanks.

    >>> greatest_minor_external(Decimal("5.350"), Decimal(1), 3)
    Decimal('4.845')
    """
    return to_places(pitch_max - Decimal("0.50518") * pitch, places)


def extra_external(pitch_min: Decimal, pitch: Decimal, places: int) -> dict[str, Decimal | None]:
    """Return the root radii, and the minor diameter that the least radius gives at d2min.

    >>> extra_external(Decimal("5.279"), Decimal(1), 3)["minor_diameter_at_least_radius"]
    Decimal('4.713')
    """
    return {
        "root_radius_min": to_places(LEAST_RADIUS * pitch, places),
        "root_radius_max": to_places(GREATEST_RADIUS * pitch, places),
        "minor_diameter_at_least_radius": to_places(pitch_min - Decimal("0.56580") * pitch, places),
    }


def basic_profile_j(basic: BasicProfile, places: int) -> BasicProfile:
    """Return the basic profile of the J form: the ISO and Unified one, cut to 9/16 H.

    Root flat 5/16 P, where the least root radius is 0.15011 P.
    """
    return replace(
        basic,
        thread_height=0.5625 * basic.fundamental_height,
        root_width=0.3125 * float(basic.pitch),
        root_radius=float(LEAST_RADIUS * basic.pitch),
        minor_diameter=least_minor_internal(basic.major_diameter, basic.pitch, places),
    )
