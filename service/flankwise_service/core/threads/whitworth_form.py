"""The Whitworth thread form: 55 degrees, crest and root rounded, a sixth of the height off each.

H = 0.960491 P, h = 2/3 H = 0.640327 P, r = 0.137329 P (BS 84:2007, Fig. 1). Any unit of length.
"""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.threads.model import BasicProfile

FLANK_ANGLE = 27.5
_FUNDAMENTAL = Decimal("0.960491")
_DEPTH = Decimal("0.640327")
_RADIUS = Decimal("0.137329")


def depth(pitch: Decimal) -> Decimal:
    """Return the depth of thread, h = 0.640327 P, not rounded.

    >>> depth(Decimal("0.05"))
    Decimal('0.03201635')
    """
    return _DEPTH * pitch


def crest_radius(pitch: Decimal) -> Decimal:
    """Return the radius of crest and root, r = 0.137329 P, not rounded.

    >>> crest_radius(Decimal("0.05"))
    Decimal('0.00686645')
    """
    return _RADIUS * pitch


def profile(
    pitch: Decimal, major: Decimal, middle: Decimal, minor: Decimal, taper: float = 0.0
) -> BasicProfile:
    """Return the basic profile on given basic diameters; flats are those the radii replace, P/6."""
    return BasicProfile(
        pitch=pitch,
        lead=pitch,
        starts=1,
        flank_angle_upper=FLANK_ANGLE,
        flank_angle_lower=FLANK_ANGLE,
        fundamental_height=float(_FUNDAMENTAL * pitch),
        thread_height=float(depth(pitch)),
        crest_width=float(pitch / 6),
        root_width=float(pitch / 6),
        root_radius=float(crest_radius(pitch)),
        major_diameter=major,
        pitch_diameter=middle,
        minor_diameter=minor,
        taper=taper,
    )
