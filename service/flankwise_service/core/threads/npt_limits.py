"""Taper pipe thread NPT and NPTF by formula, one function per quantity of ASME B1.20.1.

Inches throughout. Diameters are printed to 5 decimals, lengths to 4, an exact half to the even
digit. Two planes matter: the small end of the pipe (E0) and the plane of hand-tight engagement
(E1), which is the face of the fitting. Limits here are stated at the face of the part, Z = 0: the
small end of an external thread, the large end of an internal one.
"""

from __future__ import annotations

import math
from decimal import Decimal

from flankwise_service.core.threads.common import to_places
from flankwise_service.core.threads.model import BasicProfile, Side, Span, Thread, Tolerances
from flankwise_service.core.threads.tables import asme_b1_20_1 as table

TAPER = Decimal("0.0625")
"""Change of diameter for one unit of length, 1:16."""
FLANK_ANGLE = 30.0


def small_end_pitch_diameter(outside_diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return E0 = D - (0.05 D + 1.1) p, in (ASME B1.20.1, 3.2.1); not rounded.

    >>> to_places(small_end_pitch_diameter(Decimal("0.840"), 1 / Decimal(14)), 5)
    Decimal('0.75843')
    """
    return outside_diameter - (Decimal("0.05") * outside_diameter + Decimal("1.1")) * pitch


def effective_length(outside_diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return L2 = (0.80 D + 6.8) p, the length of effective external threads, in; not rounded.

    >>> to_places(effective_length(Decimal("0.840"), 1 / Decimal(14)), 4)
    Decimal('0.5337')
    """
    return (Decimal("0.80") * outside_diameter + Decimal("6.8")) * pitch


def pitch_diameter_at(outside_diameter: Decimal, pitch: Decimal, length: Decimal) -> Decimal:
    """Return the pitch diameter E0 + L/16 at a length from the small end, in; not rounded.

    >>> to_places(pitch_diameter_at(Decimal("0.840"), 1 / Decimal(14), Decimal("0.320")), 5)
    Decimal('0.77843')
    """
    return small_end_pitch_diameter(outside_diameter, pitch) + TAPER * length


def thread_height(pitch: Decimal, truncation: Decimal) -> Decimal:
    """Return H - 2 f: height of a 60 degree thread truncated by f at crest and root, in.

    >>> to_places(thread_height(1 / Decimal(14), Decimal("0.002358")), 5)
    Decimal('0.05714')
    """
    return table.FUNDAMENTAL_PITCHES * pitch - 2 * truncation


def wrench_makeup_length(outside_diameter: Decimal, pitch: Decimal) -> Decimal:
    """Return L3, three threads to size 2 and two threads above it, in (Table 2).

    >>> wrench_makeup_length(Decimal("0.840"), 1 / Decimal(14))
    Decimal('0.2143')
    """
    return to_places((3 if outside_diameter < Decimal("2.5") else 2) * pitch, 4)


def lengths(thread: Thread) -> dict[str, Decimal | None]:
    """Return the lengths and pitch diameters of Table 2 by their trade names, in and turns.

    Names that end in `_turns` are counts of threads, not lengths.
    """
    size = table.NPT_BY_DIAMETER[thread.diameter]
    outside, pitch, threads = thread.diameter, thread.pitch, size.threads_per_inch
    hand_tight, effective = size.hand_tight_length, effective_length(outside, pitch)
    makeup = wrench_makeup_length(outside, pitch)
    vanish = table.VANISH_LENGTH[threads]

    def at(length: Decimal) -> Decimal:
        return to_places(pitch_diameter_at(outside, pitch, length), 5)

    height = table.THREAD_HEIGHT_PITCHES * pitch
    return {
        "pitch_diameter_at_small_end": at(Decimal(0)),
        "pitch_diameter_at_hand_tight_plane": at(hand_tight),
        "pitch_diameter_at_effective_length": at(effective),
        "pitch_diameter_at_wrench_makeup": at(-makeup),
        "minor_diameter_at_small_end": to_places(
            small_end_pitch_diameter(outside, pitch) - height, 5
        ),
        "hand_tight_engagement": hand_tight,
        "effective_length": to_places(effective, 4),
        "wrench_makeup_length": makeup,
        "vanish_length": vanish,
        "overall_length": to_places(effective, 4) + vanish,
        "complete_thread_length": to_places(effective - 2 * pitch, 4),
        "diameter_increase_per_thread": to_places(TAPER * pitch, 5),
        "hand_tight_engagement_turns": to_places(hand_tight * threads, 2),
        "effective_length_turns": to_places(effective * threads, 2),
        "wrench_makeup_turns": to_places(makeup * threads, 2),
        "vanish_length_turns": to_places(vanish * threads, 2),
    }


def face_pitch_diameter(thread: Thread, side: Side) -> Decimal:
    """Return the basic pitch diameter at the face: E0 outside, E1 inside, in; not rounded."""
    size = table.NPT_BY_DIAMETER[thread.diameter]
    length = size.hand_tight_length if side == "internal" else Decimal(0)
    return pitch_diameter_at(thread.diameter, thread.pitch, length)


def basic_profile(
    thread: Thread, side: Side, crest_truncation: Decimal, root_truncation: Decimal
) -> BasicProfile:
    """Return the basic profile at the face of the part: 60 degrees, truncated at crest and root.

    The crest of an internal thread is at its minor diameter; widths are told as of an external one.
    """
    middle = face_pitch_diameter(thread, side)
    sharp = table.FUNDAMENTAL_PITCHES * thread.pitch
    outer, inner = crest_truncation, root_truncation
    if side == "internal":
        outer, inner = inner, outer
    return BasicProfile(
        pitch=thread.pitch,
        lead=thread.lead,
        starts=1,
        flank_angle_upper=FLANK_ANGLE,
        flank_angle_lower=FLANK_ANGLE,
        fundamental_height=float(sharp),
        thread_height=float(sharp - outer - inner),
        crest_width=_flat(outer),
        root_width=_flat(inner),
        root_radius=None,
        major_diameter=to_places(middle + sharp - 2 * outer, 5),
        pitch_diameter=to_places(middle, 5),
        minor_diameter=to_places(middle - sharp + 2 * inner, 5),
        taper=float(TAPER),
    )


def _flat(truncation: Decimal) -> float:
    """Return the width of the flat that a truncation leaves on a sharp 60 degree thread."""
    return 2 * float(truncation) * math.tan(math.radians(FLANK_ANGLE))


def face_limits(
    thread: Thread, side: Side, crest: tuple[Decimal, Decimal], root: tuple[Decimal, Decimal]
) -> tuple[Span, Span, Span, Tolerances]:
    """Return major, pitch and minor limits at the face, and the tolerances, in.

    The pitch diameter may lie one turn large or small of basic, +-p/16. Crest and root then follow
    from the least and greatest truncation of each (`crest`, `root`: min, max).
    """
    turn = TAPER * thread.pitch
    middle = face_pitch_diameter(thread, side)
    low, high = middle - turn, middle + turn
    sharp = table.FUNDAMENTAL_PITCHES * thread.pitch
    outer, inner = (crest, root) if side == "external" else (root, crest)
    major = Span(
        to_places(low + sharp - 2 * outer[1], 5), to_places(high + sharp - 2 * outer[0], 5)
    )
    minor = Span(
        to_places(low - sharp + 2 * inner[0], 5), to_places(high - sharp + 2 * inner[1], 5)
    )
    pitch = Span(to_places(low, 5), to_places(high, 5))
    return major, pitch, minor, Tolerances(pitch_diameter=to_places(2 * turn, 5))
