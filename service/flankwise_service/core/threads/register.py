"""What the rest of flankwise asks of threads: read one, its limits, its unit, the whole list."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache, partial

from flankwise_service.core.errors import BadInput, Fault, Refusal, UnknownThread
from flankwise_service.core.threads.common import clean, nearest, unknown
from flankwise_service.core.threads.families import BY_FAMILY, MODULES
from flankwise_service.core.threads.model import (
    BasicProfile,
    Classes,
    Limits,
    ReadThread,
    Side,
    Span,
    StatedLimits,
    Thread,
    Tolerances,
)
from flankwise_service.core.threads.modified import crest_missing, with_crest
from flankwise_service.core.units import UNITS, Unit, convert, convert_exact

_HAND = re.compile(r"[ -]?LH(?![A-Z0-9])", re.IGNORECASE)


def parse(text: str) -> Thread:
    """Return the thread that a designation names, in its one canonical spelling.

    Errors: `UnknownThread` at /designation, naming the nearest that exist.
    Source: the designation clause of each family's standard.

    >>> parse("7/8-14 unf-2a").designation
    '7/8-14 UNF-2A'
    >>> parse("M8×1.25").designation
    'M8'
    """
    return _parse_clean(clean(text))


@lru_cache(maxsize=4096)
def _parse_clean(text: str) -> Thread:
    for module in MODULES:
        try:
            thread = module.read(text)
        except UnknownThread as refusal:
            raise _with_hand_last(text, refusal) from refusal
        if thread is not None:
            return thread
    near = tuple(dict.fromkeys((*_turned(text), *nearest(text, designations()))))[:3]
    examples = ", ".join(example for module in MODULES for example in module.EXAMPLES[:1])
    change = f"write it as its standard does ({examples})"
    if near:
        change += f"; nearest in spelling: {', '.join(near)}"
    raise unknown(text, f"{text} is not a thread designation of any standard here", near, change)


def _with_hand_last(text: str, refusal: UnknownThread) -> UnknownThread:
    """Return the refusal, naming first what is meant where "LH" stands before the class."""
    fault = refusal.faults[0]
    spelled = _HAND.sub("", text, count=1) + "-LH"
    if not _HAND.search(text) or spelled == text:
        return refusal
    try:
        meant = _parse_clean(spelled).designation
    except UnknownThread:
        return refusal
    change = f"write LH at the end: {meant}"
    return UnknownThread(replace(fault, change=change, near=(meant, *fault.near)[:3]))


def _turned(text: str) -> tuple[str, ...]:
    """Return the designation that is meant where the series was said before the size."""
    series, _, size = text.partition(" ")
    if not size or not series.isalpha():
        return ()
    try:
        found = [module.read(f"{size} {series}") for module in MODULES]
    except Refusal:
        return ()
    return tuple(thread.designation for thread in found if thread is not None)


def limits(
    thread: Thread | str,
    *,
    side: Side | None = None,
    edition: str | None = None,
    crest: Span | None = None,
) -> Limits:
    """Return the limits of size of a thread, in the unit and with the digits of its standard.

    `side` is needed where the designation doesn't say it; `edition` names the edition whose
    tables to reproduce (default: the newest held). `crest` gives the limits of the crest diameter,
    in the thread's own unit, of a Unified thread with modified crests (MOD). Errors:
    `UnknownThread`, `NoSource`, `BadInput` at /side, /edition, /crest_least, /crest_greatest.

    >>> limits("7/8-14 UNF-2A").pitch_diameter
    Span(min=Decimal('0.8216'), max=Decimal('0.8270'))
    """
    known = parse(thread) if isinstance(thread, str) else thread
    found = _limits(known, side, edition)
    if crest is not None and crest != Span():
        return with_crest(found, crest)
    if known.modified:
        raise crest_missing(found.thread)
    return found


@lru_cache(maxsize=4096)
def _limits(thread: Thread, side: Side | None, edition: str | None) -> Limits:
    module = BY_FAMILY[thread.family]
    if edition is not None and edition not in module.EDITIONS:
        detail = f"limits of {thread.designation} can't be stated by {edition[:60]}"
        change = f"leave edition out, or give one of: {', '.join(module.EDITIONS)}"
        raise BadInput(Fault("/edition", "unknown_edition", detail, change, edition[:60]))
    return module.limits(thread, side, edition or module.EDITIONS[0])


def classes(thread: Thread) -> dict[Side, tuple[str, ...]]:
    """Return the classes a thread of this size may have, by side.

    >>> classes(parse("7/8-14 UNF"))["internal"]
    ('1B', '2B', '3B')
    """
    return BY_FAMILY[thread.family].classes(thread)


def classes_of(thread: Thread) -> Classes:
    """Return the same classes as one result.

    >>> classes_of(parse("7/8-14 UNF")).external
    ('1A', '2A', '3A')
    """
    by_side = classes(thread)
    return Classes(by_side.get("external", ()), by_side.get("internal", ()))


@lru_cache(maxsize=1)
def _all_designations() -> tuple[str, ...]:
    return tuple(name for module in MODULES for name in module.designations())


def designations() -> Iterator[str]:
    """Yield every size of every series held, canonical, in one fixed order.

    >>> "7/8-14 UNF" in set(designations())
    True
    """
    return iter(_all_designations())


_MIXED = re.compile(r"(\d)-(?=\d{1,2}/\d)")
_WORD = re.compile(r"\d{1,2} \d{1,2}/\S+|\S+")


def find(text: str) -> tuple[str, ...]:
    """Return the designations that hold every word of `text`, in the order of the whole list.

    A fraction is found as a size of its own: 7/8 doesn't find 1 7/8, and 1/16 doesn't find 11/16.

    >>> find("7/8 unf")
    ('7/8-14 UNF',)
    """
    words = _WORD.findall(_MIXED.sub(r"\1 ", text.upper()))
    patterns = [re.compile(_pattern(word), re.IGNORECASE) for word in words]
    return tuple(
        name for name in _all_designations() if all(each.search(name) for each in patterns)
    )


def _pattern(word: str) -> str:
    exact = re.escape(word)
    return rf"(?<!\d)(?<!\d ){exact}(?!\d)" if "/" in word else exact


def limits_in(given: Limits, unit: Unit) -> StatedLimits:
    """Return limits with every length in `unit`: printed figures, converted exactly.

    Errors: `BadInput` at /unit.

    >>> limits_in(limits("M8-6g"), "mm").pitch_diameter.max
    Decimal('7.160')
    """
    _check_unit(unit)
    thread = given.thread
    own = thread.unit
    exact = partial(convert_exact, unit=own, to=unit)
    return StatedLimits(
        designation=thread.designation,
        family=thread.family,
        series=thread.series,
        thread_class=thread.thread_class,
        side=given.side,
        hand=thread.hand,
        unit=unit,
        rounded_in=own,
        diameter=exact(thread.diameter),
        pitch=exact(thread.pitch),
        threads_per_inch=thread.threads_per_inch,
        starts=thread.starts,
        lead=exact(thread.lead),
        engagement=_length(thread.engagement, own, unit),
        engagement_group=thread.engagement_group,
        rounded_root=thread.rounded_root,
        modified=thread.modified,
        allowance=exact(given.allowance),
        major_diameter=_span(given.major_diameter, own, unit),
        pitch_diameter=_span(given.pitch_diameter, own, unit),
        minor_diameter=_span(given.minor_diameter, own, unit),
        basic=basic_in(given.basic, own, unit),
        tolerances=_tolerances(given.tolerances, own, unit),
        extra={
            name: value if name.endswith("_turns") else _length(value, own, unit)
            for name, value in given.extra.items()
        },
        source=given.sources,
        notes=given.notes,
    )


def read_in(text: str, unit: Unit) -> ReadThread:
    """Return what a designation says, every length in `unit`, and the classes to choose from.

    Errors: `UnknownThread` at /designation, `BadInput` at /unit.

    >>> read_in("7/8-14 unf", "mm").diameter
    Decimal('22.22500')
    """
    _check_unit(unit)
    thread = parse(text)
    exact = partial(convert_exact, unit=thread.unit, to=unit)
    return ReadThread(
        designation=thread.designation,
        family=thread.family,
        series=thread.series,
        unit=unit,
        rounded_in=thread.unit,
        diameter=exact(thread.diameter),
        pitch=exact(thread.pitch),
        threads_per_inch=thread.threads_per_inch,
        starts=thread.starts,
        lead=exact(thread.lead),
        hand=thread.hand,
        thread_class=thread.thread_class,
        side=thread.side,
        engagement=_length(thread.engagement, thread.unit, unit),
        engagement_group=thread.engagement_group,
        rounded_root=thread.rounded_root,
        modified=thread.modified,
        classes=classes_of(thread),
        editions=BY_FAMILY[thread.family].EDITIONS,
    )


def _check_unit(unit: Unit) -> None:
    if unit not in UNITS:
        raise BadInput(Fault("/unit", "unknown_unit", "unit is in or mm", "give in or mm", unit))


def _length(length: Decimal | None, own: Unit, unit: Unit) -> Decimal | None:
    return None if length is None else convert_exact(length, own, unit)


def _span(span: Span, own: Unit, unit: Unit) -> Span:
    return Span(_length(span.min, own, unit), _length(span.max, own, unit))


def _tolerances(given: Tolerances, own: Unit, unit: Unit) -> Tolerances:
    return Tolerances(
        _length(given.major_diameter, own, unit),
        _length(given.pitch_diameter, own, unit),
        _length(given.minor_diameter, own, unit),
    )


def basic_in(basic: BasicProfile, own: Unit, unit: Unit) -> BasicProfile:
    """Return a basic profile, given in `own` unit, with its lengths in `unit`."""
    exact = partial(convert_exact, unit=own, to=unit)
    length = partial(convert, unit=own, to=unit)
    return BasicProfile(
        pitch=exact(basic.pitch),
        lead=exact(basic.lead),
        starts=basic.starts,
        flank_angle_upper=basic.flank_angle_upper,
        flank_angle_lower=basic.flank_angle_lower,
        fundamental_height=length(basic.fundamental_height),
        thread_height=length(basic.thread_height),
        crest_width=length(basic.crest_width),
        root_width=length(basic.root_width),
        root_radius=None if basic.root_radius is None else length(basic.root_radius),
        major_diameter=exact(basic.major_diameter),
        pitch_diameter=exact(basic.pitch_diameter),
        minor_diameter=exact(basic.minor_diameter),
        taper=basic.taper,
    )
