"""Limits of size of Unified threads (ASME B1.1-2003, unchanged 2019), one function per step.

Rounding is the standard's own order (worked in Machinery's Handbook 31 for 1/2-28 UNEF and
19/64-36 UNS): pitch to 8 decimals, heights and tolerances to 6, each limit to 4
from the limit already rounded above it; an exact half goes to the even digit. Inches throughout.
"""

from __future__ import annotations

from decimal import Decimal

from flankwise_service.core.threads.common import to_places

_THIRD = Decimal(1) / 3
_NUMBER_6 = Decimal("0.138")
_QUARTER = Decimal("0.25")
# Twice the standard's heights over the pitch: 0.75 H, 1.25 H, 1.375 H and 0.125 H.
_EXTERNAL_ADDENDUM = Decimal("0.64951905")
_INTERNAL_HEIGHT = Decimal("1.08253175")
_ROUNDED_ROOT_HEIGHT = Decimal("1.19078493")
_ROOT_TRUNCATION = Decimal("0.10825318")

FACTOR = {
    "1A": Decimal("1.5"), "2A": Decimal(1), "3A": Decimal("0.75"),
    "1B": Decimal("1.95"), "2B": Decimal("1.3"), "3B": Decimal("0.975"),
}  # fmt: skip
"""Pitch diameter tolerance of each class over that of class 2A."""


def pitch_of(threads_per_inch: Decimal) -> Decimal:
    """Return the pitch 1/n to the standard's 8 decimals, in.

    >>> pitch_of(Decimal(28))
    Decimal('0.03571429')
    """
    return to_places(1 / threads_per_inch, 8)


def twice_addendum(pitch: Decimal) -> Decimal:
    """Return major less pitch diameter, 0.64951905 P, to 6 decimals, in (2 has).

    >>> twice_addendum(Decimal("0.03571429"))
    Decimal('0.023197')
    """
    return to_places(_EXTERNAL_ADDENDUM * pitch, 6)


def twice_height(pitch: Decimal) -> Decimal:
    """Return major less minor diameter, 1.08253175 P, to 6 decimals, in (2 hn).

    >>> twice_height(Decimal("0.03571429"))
    Decimal('0.038662')
    """
    return to_places(_INTERNAL_HEIGHT * pitch, 6)


def twice_rounded_root_height(pitch: Decimal) -> Decimal:
    """Return major less UNR minor diameter, 1.19078493 P, to 6 decimals, in (2 hs).

    >>> twice_rounded_root_height(Decimal("0.03571429"))
    Decimal('0.042528')
    """
    return to_places(_ROUNDED_ROOT_HEIGHT * pitch, 6)


def pitch_tolerance_2a(diameter: Decimal, engagement: Decimal, pitch: Decimal) -> Decimal:
    """Return 0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3), to 6 decimals, in.

    >>> pitch_tolerance_2a(Decimal("0.5"), 9 * Decimal("0.03571429"), Decimal("0.03571429"))
    Decimal('0.003668')
    """
    total = (
        Decimal("0.0015") * diameter**_THIRD
        + Decimal("0.0015") * engagement.sqrt()
        + Decimal("0.015") * pitch ** (2 * _THIRD)
    )
    return to_places(total, 6)


def pitch_tolerance(thread_class: str, tolerance_2a: Decimal) -> Decimal:
    """Return the pitch diameter tolerance of a class from that of 2A, to 6 decimals, in.

    >>> pitch_tolerance("3B", Decimal("0.003668"))
    Decimal('0.003576')
    """
    return to_places(FACTOR[thread_class] * tolerance_2a, 6)


def allowance(thread_class: str, tolerance_2a: Decimal) -> Decimal:
    """Return 0.3 of the 2A pitch diameter tolerance for 1A and 2A, else 0, to 4 decimals, in.

    >>> allowance("2A", Decimal("0.003668")), allowance("3A", Decimal("0.003668"))
    (Decimal('0.0011'), Decimal('0.0000'))
    """
    share = Decimal("0.3") if thread_class in ("1A", "2A") else Decimal(0)
    return to_places(share * tolerance_2a, 4)


def major_tolerance(thread_class: str, pitch: Decimal) -> Decimal:
    """Return 0.060 P^(2/3), or 0.090 P^(2/3) for class 1A, to 6 decimals, in.

    The handbook's worked example squares P to 6 decimals first and so gets 0.006508 here.

    >>> major_tolerance("2A", Decimal("0.03571429"))
    Decimal('0.006507')
    """
    factor = Decimal("0.090") if thread_class == "1A" else Decimal("0.060")
    return to_places(factor * pitch ** (2 * _THIRD), 6)


def minor_tolerance(thread_class: str, diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return the tolerance on minor diameter of an internal thread, to 6 decimals, in.

    1B, 2B from 1/4 in: 0.25 P - 0.40 P^2, or 0.15 P coarser than 4 threads per inch. Below:
    0.05 P^(2/3) + 0.03 P/D - 0.002 within 0.25 P - 0.40 P^2 and 0.394 P. 3B: that same sum within
    0.23 P - 1.5 P^2 (13 threads per inch and finer; else 0.120 P) and 0.394 P.

    >>> minor_tolerance("2B", Decimal("0.5"), pitch_of(Decimal(28)))
    Decimal('0.008418')
    """
    quadratic = Decimal("0.25") * pitch - Decimal("0.40") * pitch**2
    if thread_class != "3B" and diameter >= _QUARTER:
        return to_places(quadratic if pitch <= _QUARTER else Decimal("0.15") * pitch, 6)
    least = quadratic if thread_class != "3B" else _least_minor_tolerance_3b(pitch)
    total = Decimal("0.05") * pitch ** (2 * _THIRD) + Decimal("0.03") * pitch / diameter
    return to_places(min(max(total - Decimal("0.002"), least), Decimal("0.394") * pitch), 6)


def _least_minor_tolerance_3b(pitch: Decimal) -> Decimal:
    if pitch <= pitch_of(Decimal(13)):
        return Decimal("0.23") * pitch - Decimal("1.5") * pitch**2
    return Decimal("0.120") * pitch


def minor_places(thread_class: str, diameter: Decimal) -> int:
    """Return the decimals a minor diameter limit is printed to: 3 for 1B, 2B from No. 6 up, else 4.

    >>> minor_places("2B", Decimal("0.5")), minor_places("2B", Decimal("0.125"))
    (3, 4)
    """
    return 3 if thread_class in ("1B", "2B") and diameter >= _NUMBER_6 else 4


def least_minor_internal(thread_class: str, diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return D - 1.08253175 P as printed, in; 3B from No. 6 up is that of 2B with a zero added.

    >>> least_minor_internal("3B", Decimal("0.5"), pitch_of(Decimal(28)))
    Decimal('0.4610')
    """
    exact = diameter - twice_height(pitch)
    printed = to_places(exact, 3 if diameter >= _NUMBER_6 else 4)
    return printed if thread_class in ("1B", "2B") else to_places(printed, 4)


def greatest_minor_internal(thread_class: str, diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return the greatest minor diameter as printed, in: the unrounded least plus the tolerance.

    >>> greatest_minor_internal("2B", Decimal("0.2969"), pitch_of(Decimal(36)))
    Decimal('0.273')
    """
    exact = diameter - twice_height(pitch) + minor_tolerance(thread_class, diameter, pitch)
    return to_places(exact, minor_places(thread_class, diameter))


def greatest_minor_internal_1989(thread_class: str, diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return the same as the tables of B1.1-1989 print it: both terms rounded to 4 decimals first.

    Source: fitted to the pages of Machinery's Handbook 27 that reprint B1.1-1989.

    >>> greatest_minor_internal_1989("2B", Decimal("0.1900"), pitch_of(Decimal(24)))
    Decimal('0.156')
    """
    least = to_places(diameter - _INTERNAL_HEIGHT * pitch, 4)
    total = least + to_places(minor_tolerance(thread_class, diameter, pitch), 4)
    return to_places(total, minor_places(thread_class, diameter))


def greatest_minor_flat(greatest_major: Decimal, pitch: Decimal) -> Decimal:
    """Return the greatest minor diameter of UN, in: greatest major less 1.08253175 P.

    >>> greatest_minor_flat(Decimal("0.4989"), pitch_of(Decimal(28)))
    Decimal('0.4602')
    """
    return to_places(greatest_major - twice_height(pitch), 4)


def greatest_minor_rounded(greatest_major: Decimal, pitch: Decimal) -> Decimal:
    """Return the greatest minor diameter of a UNR thread, in: greatest major less 1.19078493 P.

    >>> greatest_minor_rounded(Decimal("0.4989"), pitch_of(Decimal(28)))
    Decimal('0.4564')
    """
    return to_places(greatest_major - twice_rounded_root_height(pitch), 4)


def greatest_minor_rounded_1989(greatest_major: Decimal, pitch: Decimal) -> Decimal:
    """Return the same as the tables of B1.1-1989 print it: flat minor, then H/8, each rounded.

    >>> greatest_minor_rounded_1989(Decimal("0.8734"), pitch_of(Decimal(14)))
    Decimal('0.7884')
    """
    flat = to_places(greatest_major - _INTERNAL_HEIGHT * pitch, 4)
    return flat - to_places(_ROOT_TRUNCATION * pitch, 4)
