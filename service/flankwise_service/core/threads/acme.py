"""Acme screw threads, general purpose and centralizing (ASME B1.5), and Stub Acme (B1.8).

Designations: "1/2-10 ACME-2G", "1 3/4-6 ACME-4C-LH", "1/2-10 STUB ACME-2G", more than one start
"2 7/8-0.4P-0.8L ACME-3C". Classes are the same for both sides: ask with a side.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from flankwise_service.core.threads import acme_limits as step
from flankwise_service.core.threads.common import half_up, plain, side_of, to_places, unknown
from flankwise_service.core.threads.model import (
    Family,
    Limits,
    Side,
    Source,
    Span,
    Thread,
    Tolerances,
)
from flankwise_service.core.threads.reading import (
    SIZE,
    THREADS_PER_INCH,
    class_missing,
    closest,
    hand_mark,
    inches,
    take_hand,
)
from flankwise_service.core.threads.sizes import size_name
from flankwise_service.core.threads.tables import asme_b1_5 as table

FAMILIES: tuple[Family, ...] = ("acme", "stub_acme")
EDITIONS: tuple[str, ...] = ("ASME B1.5-1997 (R2014), B1.8-1988 (R2021)",)
EXAMPLES: tuple[str, ...] = ("1/2-10 ACME-2G", "1 3/4-6 ACME-4C")

_GRAMMAR = re.compile(
    rf"{SIZE}-(?:(?P<pitch>\d?\.\d{{1,5}})P-(?P<lead>\d{{0,2}}\.\d{{1,5}}|\d{{1,2}})L|"
    rf"{THREADS_PER_INCH})[ -]?(?P<stub>STUB[ -]?)?ACME(?:[ -](?P<grade>\d[A-Z]))?",
    re.IGNORECASE,
)
_MOST_STARTS = 8
_GENERAL = ("2G", "3G", "4G")
_CENTRALIZING = ("2C", "3C", "4C")


def read(text: str) -> Thread | None:
    """Return the Acme or Stub Acme thread named, None when the text isn't one.

    >>> [read(text).designation for text in ("0.500-10-acme-2g", "2.875-0.4P-0.8L-ACME-3C-LH")]
    ['1/2-10 ACME-2G', '2 7/8-0.4P-0.8L ACME-3C-LH']
    """
    body, hand = take_hand(text)
    found = _GRAMMAR.fullmatch(body)
    if found is None:
        return None
    word: Family = "stub_acme" if found["stub"] else "acme"
    diameter = _diameter(text, found["size"], word)
    threads, starts = _threads(text, found, diameter, word)
    grade = found["grade"].upper() if found["grade"] else None
    pitch = 1 / threads
    name = f"{_pairing(diameter, threads, starts)} {_WORD[word]}"
    thread = Thread(
        designation=name + (f"-{grade}" if grade else "") + hand_mark(hand),
        family=word,
        series=_WORD[word] if table.SIZES.get(diameter) == threads else "special",
        unit="in",
        diameter=diameter,
        pitch=pitch,
        starts=starts,
        hand=hand,
        thread_class=grade,
        threads_per_inch=threads,
    )
    offered = classes(thread)["external"]
    if grade and grade not in offered:
        near = [f"{name}-{one}" for one in offered]
        raise unknown(text, f"{_WORD[word]} {size_name(diameter)} has no class {grade}", near)
    return thread


_WORD = {"acme": "ACME", "stub_acme": "STUB ACME"}


def _pairing(diameter: Decimal, threads: Decimal, starts: int) -> str:
    if starts == 1 and threads == to_places(threads, 4):
        return f"{size_name(diameter)}-{plain(threads)}"
    pitch, lead = 1 / threads, starts / threads
    return f"{size_name(diameter)}-{plain(to_places(pitch, 4))}P-{plain(to_places(lead, 4))}L"


def _diameter(text: str, size: str, word: str) -> Decimal:
    """Return the diameter to 4 decimals, or refuse what B1.5 has no increments for."""
    exact = inches(size)
    if exact is None or not table.SMALLEST <= exact <= table.LARGEST:
        detail = (
            f"{_WORD[word]} threads run from {table.SMALLEST} to {table.LARGEST} in, not {size}"
        )
        raise unknown(text, detail, _near(exact or Decimal(1), word))
    return to_places(exact, 4)


def _standard(diameter: Decimal, word: str) -> str:
    return f"{_pairing(diameter, table.SIZES[diameter], 1)} {_WORD[word]}"


def _threads(text: str, found: re.Match[str], diameter: Decimal, word: str) -> tuple[Decimal, int]:
    """Return standard threads per inch and starts; refuse a pitch that isn't standard."""
    asked = inches(found["tpi"]) if found["tpi"] else 1 / max(Decimal(found["pitch"]), _TINY)
    threads = next((n for n in table.THREADS_PER_INCH if _same(n, asked)), None)
    if threads is None:
        known = ", ".join(plain(to_places(n, 3)) for n in table.THREADS_PER_INCH)
        written = found["tpi"] or f"a pitch of {found['pitch']} in"
        detail = f"{written} is no standard Acme pitch; threads per inch are {known}"
        near = _near(diameter, word) if asked is None else _of_pitch(diameter, asked, word)
        raise unknown(text, detail, near)
    if 2 / threads > diameter:
        detail = f"a pitch over half the diameter {size_name(diameter)} leaves no core"
        raise unknown(text, detail, _near(diameter, word))
    starts = _starts(found["lead"], threads)
    if starts is None:
        lead = found["lead"]
        detail = f"a lead of {lead} in is no whole number of pitches, 1 to {_MOST_STARTS}"
        raise unknown(text, detail, _near(diameter, word), "give the lead as starts times pitch")
    return threads, starts


_TINY = Decimal("0.00001")


def _of_pitch(diameter: Decimal, threads: Decimal, word: str) -> tuple[str, ...]:
    """Return what there is at a diameter with the standard pitches nearest to the one asked."""
    cored = (n for n in table.THREADS_PER_INCH if 2 / n <= diameter)
    return closest(threads, ((n, f"{_pairing(diameter, n, 1)} {_WORD[word]}") for n in cored))


def _same(threads: Decimal, asked: Decimal | None) -> bool:
    """Return whether threads per inch are those asked, a pitch being written to 4 decimals."""
    return asked is not None and asked > 0 and abs(1 / threads - 1 / asked) < Decimal("0.00006")


def _starts(lead: str | None, threads: Decimal) -> int | None:
    """Return how many pitches the lead is, None when it is no whole number of them."""
    if lead is None:
        return 1
    starts = int((Decimal(lead) * threads).to_integral_value())
    off = abs(Decimal(lead) - starts / threads)
    return starts if 1 <= starts <= _MOST_STARTS and off <= Decimal("0.0001") else None


def _near(diameter: Decimal, word: str) -> tuple[str, ...]:
    return closest(diameter, ((d, _standard(d, word)) for d in table.SIZES))


def designations() -> Iterator[str]:
    """Yield every standard size of Acme, then of Stub Acme."""
    for word in FAMILIES:
        for diameter in table.SIZES:
            yield _standard(diameter, word)


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes to choose from: G everywhere, C for Acme from 1/2 in."""
    names: tuple[str, ...] = _GENERAL
    if thread.family == "acme" and thread.diameter >= table.SMALLEST_CENTRALIZING:
        names += _CENTRALIZING
    return {"external": names, "internal": names}


def limits(thread: Thread, side: Side | None, edition: str) -> Limits:
    """Return limits of size, in.

    Source: ASME B1.5, sections 2 and 3; ASME B1.8.

    >>> limits(read("5/8-8 ACME-2G"), "external", EDITIONS[0]).pitch_diameter
    Span(min=Decimal('0.5408'), max=Decimal('0.5562'))
    """
    known = side_of(thread, side)
    if thread.thread_class is None:
        bare = thread.designation.removesuffix("-LH")
        raise class_missing(thread, known, (f"{bare}-{one}" for one in classes(thread)[known]))
    major, minor = (_external if known == "external" else _internal)(thread)
    grade = thread.thread_class[0]
    allowance = step.pitch_diameter_allowance(grade, thread.diameter)
    tolerance = step.pitch_diameter_tolerance(grade, thread.diameter, thread.pitch)
    middle = thread.diameter - step.height_in_pitches(thread.family) * thread.pitch
    if known == "external":
        pitch = _span(middle - allowance - tolerance, middle - allowance)
    else:
        pitch = _span(middle, middle + tolerance)
    return Limits(
        thread=thread,
        side=known,
        allowance=half_up(allowance, 4) if known == "external" else Decimal(0),
        major_diameter=_span(*major),
        pitch_diameter=pitch,
        minor_diameter=_span(*minor),
        basic=step.basic_profile(thread),
        tolerances=Tolerances(
            half_up(major[1] - major[0], 4),
            half_up(tolerance, 4),
            half_up(minor[1] - minor[0], 4),
        ),
        sources=_sources(thread),
        notes=_notes(thread),
        extra=step.form_extra(thread),
    )


def _span(low: Decimal, high: Decimal) -> Span:
    return Span(half_up(low, 4), half_up(high, 4))


_Pair = tuple[Decimal, Decimal]


def _root_tolerance(thread: Thread) -> Decimal:
    """Return the tolerance of the external minor diameter: 1.5 pitch tolerances, 1 for Stub."""
    assert thread.thread_class is not None
    tolerance = step.pitch_diameter_tolerance(thread.thread_class[0], thread.diameter, thread.pitch)
    return tolerance if thread.family == "stub_acme" else Decimal("1.5") * tolerance


def _external(thread: Thread) -> tuple[_Pair, _Pair]:
    """Return least and greatest major, then minor, of the screw."""
    assert thread.thread_class is not None
    diameter, pitch, name = thread.diameter, thread.pitch, thread.thread_class
    height = step.height_in_pitches(thread.family) * pitch
    if name.endswith("C"):
        share = table.MAJOR_TOLERANCE_CENTRALIZING[name[0]][0]
        crest = share * step.tolerance_diameter(diameter).sqrt()
    else:
        crest = step.crest_tolerance(pitch)
    root = diameter - 2 * height - step.root_clearance(pitch)
    return (diameter - crest, diameter), (root - _root_tolerance(thread), root)


def _internal(thread: Thread) -> tuple[_Pair, _Pair]:
    """Return least and greatest major, then minor, of the nut."""
    assert thread.thread_class is not None
    diameter, pitch, name = thread.diameter, thread.pitch, thread.thread_class
    height = step.height_in_pitches(thread.family) * pitch
    clearance = step.root_clearance(pitch)
    crest = step.crest_tolerance(pitch)
    least_minor, least_major, root = diameter - 2 * height, diameter + clearance, clearance
    if name.endswith("C"):
        # Table 8a: the nut of a centralizing thread is bored D - 0.9 P, out of the way.
        square_root = step.tolerance_diameter(diameter).sqrt()
        least_minor = diameter - Decimal("0.9") * pitch
        least_major = diameter + table.MAJOR_CLEARANCE_CENTRALIZING * square_root
        root = table.MAJOR_TOLERANCE_CENTRALIZING[name[0]][1] * square_root
    elif thread.family == "stub_acme":
        root = _root_tolerance(thread)
    return (least_major, least_major + root), (least_minor, least_minor + crest)


def _sources(thread: Thread) -> tuple[Source, ...]:
    assert thread.thread_class is not None
    found = [table.GENERAL, table.ALLOWANCE_RANGES]
    if thread.diameter not in table.SIZES:
        found.append(table.TOLERANCE_DIAMETERS)
    if thread.family == "stub_acme":
        found += [table.STUB, table.STUB_LIMITS]
    if thread.thread_class.endswith("C"):
        found += [table.CENTRALIZING, table.CENTRALIZING_MAJOR]
    return tuple(found)


def _notes(thread: Thread) -> tuple[str, ...]:
    found = []
    if thread.starts > 1:
        found.append("B1.5 sets limits for one start; for more it lets them serve if suitable.")
    if thread.family == "stub_acme" and thread.thread_class != "2G":
        found.append("B1.8 tabulates class 2G; 3G and 4G borrow the figures of B1.5.")
    if thread.family == "stub_acme":
        found.append("Greatest internal major, least external minor: the narrower of two readings.")
    return tuple(found)
