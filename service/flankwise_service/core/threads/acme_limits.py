"""Acme and Stub Acme quantities, one function per quantity of ASME B1.5 and B1.8; inches.

Nothing is rounded on the way: each limit is rounded once, to 4 decimals, an exact half up. That
order, and no other tried, gives every published cell collected (tests/published).
"""

from __future__ import annotations

import math
from decimal import Decimal

from flankwise_service.core.threads.common import half_up
from flankwise_service.core.threads.model import BasicProfile, Thread
from flankwise_service.core.threads.tables import asme_b1_5 as table

FLANK_ANGLE = 14.5
_LEAST_CREST_TOLERANCE = Decimal("0.005")
_COARSE = Decimal("0.1")
"""Pitches of 10 threads per inch and coarser have the larger clearance."""


def allowance_diameter(diameter: Decimal) -> Decimal:
    """Return the middle of the nominal size range that holds a diameter, in.

    >>> allowance_diameter(Decimal("0.625")), allowance_diameter(Decimal("1.75"))
    (Decimal('0.6250'), Decimal('1.71875'))
    """
    ends = (Decimal(0), *table.ALLOWANCE_RANGE_ENDS)
    place = next(place for place, end in enumerate(ends) if diameter <= end)
    return (ends[place - 1] + ends[place]) / 2


def pitch_diameter_allowance(grade: str, diameter: Decimal) -> Decimal:
    """Return the allowance on the external pitch diameter: 0.008, 0.006, 0.004 sqrt(D), in.

    D is the middle of the size range (B1.5, table of pitch diameter allowances).

    >>> half_up(pitch_diameter_allowance("2", Decimal("1.75")), 4)
    Decimal('0.0105')
    """
    return table.ALLOWANCE[grade] * allowance_diameter(diameter).sqrt()


def tolerance_diameter(diameter: Decimal) -> Decimal:
    """Return the tabulated diameter whose increment holds: its own, or the next larger one, in.

    >>> tolerance_diameter(Decimal("0.6"))
    Decimal('0.625')
    """
    return min(size for size in table.SIZES if size >= diameter)


def pitch_diameter_tolerance(grade: str, diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return the tolerance of the pitch diameter, external and internal alike, in.

    0.006 sqrt(D) + 0.030 sqrt(P) in class 2, 0.0028 and 0.014 in 3, 0.002 and 0.010 in 4.

    >>> half_up(pitch_diameter_tolerance("2", Decimal("0.25"), Decimal("0.0625")), 4)
    Decimal('0.0105')
    """
    by_diameter, by_pitch = table.TOLERANCE[grade]
    return by_diameter * tolerance_diameter(diameter).sqrt() + by_pitch * pitch.sqrt()


def crest_tolerance(pitch: Decimal) -> Decimal:
    """Return the tolerance of external major and internal minor: 0.05 P, not under 0.005, in.

    >>> crest_tolerance(Decimal("0.0625"))
    Decimal('0.005')
    """
    return max(Decimal("0.05") * pitch, _LEAST_CREST_TOLERANCE)


def root_clearance(pitch: Decimal) -> Decimal:
    """Return the least clearance at major and minor: 0.020, or 0.010 finer than 10 per inch, in.

    >>> root_clearance(Decimal("0.1")), root_clearance(1 / Decimal(12))
    (Decimal('0.020'), Decimal('0.010'))
    """
    return Decimal("0.020") if pitch >= _COARSE else Decimal("0.010")


def height_in_pitches(family: str) -> Decimal:
    """Return the basic height of thread in pitches: 0.5 for Acme, 0.3 for Stub Acme."""
    return Decimal("0.3") if family == "stub_acme" else Decimal("0.5")


def basic_profile(thread: Thread) -> BasicProfile:
    """Return the basic profile: 29 degrees, flats at crest and root P/2 - h tan(14.5 deg).

    >>> from flankwise_service.core.threads.acme import read
    >>> round(basic_profile(read("5/8-8 ACME")).crest_width, 4)
    0.0463
    """
    height = height_in_pitches(thread.family) * thread.pitch
    tangent = math.tan(math.radians(FLANK_ANGLE))
    flat = float(thread.pitch) / 2 - float(height) * tangent
    return BasicProfile(
        pitch=thread.pitch,
        lead=thread.lead,
        starts=thread.starts,
        flank_angle_upper=FLANK_ANGLE,
        flank_angle_lower=FLANK_ANGLE,
        fundamental_height=float(thread.pitch) / (2 * tangent),
        thread_height=float(height),
        crest_width=flat,
        root_width=flat,
        root_radius=None,
        major_diameter=half_up(thread.diameter, 4),
        pitch_diameter=half_up(thread.diameter - height, 4),
        minor_diameter=half_up(thread.diameter - 2 * height, 4),
    )


def form_extra(thread: Thread) -> dict[str, Decimal | None]:
    """Return the basic form's figures by name, in: heights, thickness, flats.

    The root flat is that of the external thread, 0.259 times the clearance under the basic flat.
    """
    height = height_in_pitches(thread.family) * thread.pitch
    clearance = root_clearance(thread.pitch)
    flat = Decimal(basic_profile(thread).crest_width)
    return {
        "thread_height_basic": half_up(height, 5),
        "thread_height_total": half_up(height + clearance / 2, 4),
        "thread_thickness_basic": half_up(thread.pitch / 2, 5),
        "crest_flat_basic": half_up(flat, 4),
        "root_flat": half_up(flat - half_up(Decimal("0.259") * clearance, 4), 4),
    }
