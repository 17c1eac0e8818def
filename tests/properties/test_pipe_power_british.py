"""What must hold for every pipe, power and British thread there is, whatever its size."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from decimal import Decimal
from functools import partial
from typing import TypeVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.errors import NoSource, Refusal, UnknownThread
from flankwise_service.core.threads import (
    Limits,
    acme,
    ba,
    buttress,
    classes,
    limits,
    limits_in,
    parse,
    pipe_bsp,
    pipe_npt,
    trapezoidal,
    whitworth,
)
from flankwise_service.core.threads.families import FamilyModule
from flankwise_service.core.threads.model import Side, Span

Answer = TypeVar("Answer")
MODULES = (pipe_npt, pipe_bsp, acme, trapezoidal, buttress, whitworth, ba)
ALL = tuple(name for module in MODULES for name in module.designations())
BLANK_BEFORE_CLASS = {"bsp_parallel", "whitworth", "ba"}


def with_class(name: str, grade: str) -> str:
    return f"{name}{' ' if parse(name).family in BLANK_BEFORE_CLASS else '-'}{grade}"


def choices(name: str) -> Iterator[tuple[str, Side]]:
    """Yield each designation with a class, and the side it may be asked for."""
    for side, grades in classes(parse(name)).items():
        for grade in grades:
            yield with_class(name, grade), side
        if not grades:
            yield name, side


def every() -> list[tuple[str, Side]]:
    return [pair for name in ALL for pair in choices(name)]


EVERY = every()
designations = st.sampled_from(EVERY)


def spans(found: Limits) -> tuple[Span, Span, Span]:
    return found.major_diameter, found.pitch_diameter, found.minor_diameter


def attempt(ask: Callable[[], Answer]) -> tuple[Answer | None, Refusal | None]:
    try:
        return ask(), None
    except Refusal as refused:
        return None, refused


def test_every_designation_comes_back_the_same() -> None:
    assert len(ALL) == len(set(ALL))
    for name in ALL:
        for text in (name, f"{name}-LH", name.upper(), f" {name} "):
            thread = parse(text)
            assert thread.designation == (f"{name}-LH" if "LH" in text else name)
            assert parse(thread.designation) == thread
    for name, _ in EVERY:
        assert parse(name).designation == name
        left = parse(f"{name}-LH")
        assert (left.designation, left.hand) == (f"{name}-LH", "left")


@settings(deadline=None, max_examples=400)
@given(designations)
def test_limits_stand_in_order(asked: tuple[str, Side]) -> None:
    name, side = asked
    found = limits(name, side=side)
    assert found.side == side
    assert found.allowance >= 0
    assert found.sources
    for span in spans(found):
        if span.min is not None and span.max is not None:
            assert span.min < span.max
    ordered = [span.max for span in spans(found) if span.max is not None]
    assert ordered == sorted(ordered, reverse=True)
    ordered = [span.min for span in spans(found) if span.min is not None]
    assert ordered == sorted(ordered, reverse=True)
    basic = found.basic
    assert basic.major_diameter > basic.pitch_diameter > basic.minor_diameter > 0
    assert found.pitch_diameter.min is not None
    assert found.pitch_diameter.max is not None
    assert found.tolerances.pitch_diameter is not None
    width = found.pitch_diameter.max - found.pitch_diameter.min
    assert abs(width - found.tolerances.pitch_diameter) <= Decimal("0.0011")


@settings(deadline=None, max_examples=300)
@given(designations)
def test_profile_fills_one_pitch(asked: tuple[str, Side]) -> None:
    """Crest flat, root flat and both flanks add up to the pitch; the triangle is as high as H."""
    basic = limits(asked[0], side=asked[1]).basic
    upper, lower = (
        math.tan(math.radians(angle))
        for angle in (basic.flank_angle_upper, basic.flank_angle_lower)
    )
    pitch = float(basic.pitch)
    across = basic.crest_width + basic.root_width + basic.thread_height * (upper + lower)
    assert across == pytest.approx(pitch, rel=2e-3)
    assert basic.fundamental_height * (upper + lower) == pytest.approx(pitch, rel=1e-4)
    assert basic.lead == basic.starts * basic.pitch
    assert float(basic.major_diameter - basic.minor_diameter) == pytest.approx(
        2 * basic.thread_height, abs=0.002
    )


@settings(deadline=None, max_examples=200)
@given(designations)
def test_a_screw_never_meets_its_nut(asked: tuple[str, Side]) -> None:
    """Parallel threads but jointing ones: greatest screw stays within the least nut."""
    name, side = asked
    found = limits(name, side=side)
    family = found.thread.family
    if found.basic.taper or found.thread.series in ("Rp", "NPSC"):
        return
    base = (
        name if family == "nps" else name.rsplit(" " if family in BLANK_BEFORE_CLASS else "-", 1)[0]
    )
    base = name if side not in classes(parse(name)) or not classes(parse(name))[side] else base
    other: Side = "internal" if side == "external" else "external"
    offered = classes(parse(base))[other]
    for grade in offered or ("",):
        if family in ("acme", "stub_acme") and grade[-1] != name[-1]:
            continue
        mate = limits(with_class(base, grade) if grade else base, side=other)
        screw, nut = (found, mate) if side == "external" else (mate, found)
        for outer, inner in zip(spans(screw), spans(nut), strict=True):
            if outer.max is not None and inner.min is not None:
                assert outer.max <= inner.min


def widths(names: list[tuple[str, Side]]) -> list[Decimal]:
    found = [limits(name, side=side).tolerances.pitch_diameter for name, side in names]
    return [width for width in found if width is not None]


@settings(deadline=None, max_examples=200)
@given(st.sampled_from(ALL))
def test_finer_classes_are_tighter(name: str) -> None:
    orders: dict[str, list[tuple[tuple[str, ...], Side]]] = {
        "bsp_parallel": [(("A", "B"), "external")],
        "acme": [(("4G", "3G", "2G"), "external"), (("4G", "3G", "2G"), "internal")],
        "stub_acme": [(("4G", "3G", "2G"), "external")],
        "trapezoidal": [(("7e", "8e", "9e"), "external"), (("7H", "8H", "9H"), "internal")],
        "buttress": [(("3A", "2A"), "external"), (("3B", "2B"), "internal")],
        "whitworth": [
            (("close", "medium", "free"), "external"),
            (("medium", "normal"), "internal"),
        ],
        "ba": [(("close", "normal"), "external")],
    }
    thread = parse(name)
    if thread.series == "Rp":
        return
    for grades, side in orders.get(thread.family, []):
        found = widths([(with_class(name, grade), side) for grade in grades])
        assert found == sorted(found)
        assert len(set(found)) == len(found)


@settings(deadline=None, max_examples=150)
@given(designations)
def test_inch_and_millimetre_are_one_thread(asked: tuple[str, Side]) -> None:
    found = limits(asked[0], side=asked[1])
    inch, metric = limits_in(found, "in"), limits_in(found, "mm")
    for one, other in zip(
        (inch.major_diameter, inch.pitch_diameter, inch.minor_diameter),
        (metric.major_diameter, metric.pitch_diameter, metric.minor_diameter),
        strict=True,
    ):
        for a, b in ((one.min, other.min), (one.max, other.max)):
            assert (a is None) == (b is None)
            if a is not None and b is not None:
                assert float(a) * 25.4 == pytest.approx(float(b), rel=1e-12)
    for name, figure in inch.extra.items():
        if name.endswith("_turns"):
            assert figure == metric.extra[name]


@settings(deadline=None, max_examples=400)
@given(
    st.text(alphabet="0123456789 -./()#GRPCNTMSAFLBWUHXabcehopstux", max_size=24),
    st.sampled_from(MODULES),
)
def test_any_text_is_read_or_refused(text: str, module: FamilyModule) -> None:
    thread, refused = attempt(lambda: module.read(" ".join(text.split())))
    if refused is not None:
        assert isinstance(refused, (UnknownThread, NoSource))
        assert all(fault.pointer == "/designation" for fault in refused.faults)
    elif thread is not None:
        assert module.read(thread.designation) == thread


_SIZES = st.sampled_from(
    ["0", "1/2", "0/5", "7/0", "1 1/4", ".5", "0.00001", "999", "2-3/4", "99 99/1"]
)
_PITCHES = st.sampled_from(
    ["", "-0", "-14", "-.5P-1L", "-0.0P-0L", "-9.99999P-99L", "-11-1/2", "-9 9/0"]
)
_TAILS = st.sampled_from(
    ["NPT", "NPTF-2", "ACME-2G", "STUB ACME", "BUTT-2A", "BSW medium", "BSF close nut", "BSPP A"]
)


@settings(deadline=None, max_examples=300)
@given(_SIZES, _PITCHES, _TAILS, st.sampled_from(["", "-LH", "LH"]))
def test_odd_numbers_are_read_or_refused(size: str, pitch: str, tail: str, hand: str) -> None:
    thread, refused = attempt(lambda: parse(f"{size}{pitch} {tail}{hand}"))
    if thread is None:
        assert refused is not None
        assert all(fault.detail and fault.change for fault in refused.faults)
        return
    assert parse(thread.designation) == thread
    for side in classes(thread):
        _, refused = attempt(partial(limits, thread, side=side))
        assert refused is None or refused.faults[0].pointer in ("/designation", "/side")


PRINTED_DIGITS = {
    "npt": 5, "nptf": 5, "nps": 4, "bsp_parallel": 3, "bsp_taper": 3, "acme": 4, "stub_acme": 4,
    "trapezoidal": 3, "buttress": 4, "whitworth": 4, "ba": 3,
}  # fmt: skip


def test_limits_carry_the_digits_of_their_standard() -> None:
    for name, side in EVERY:
        found = limits(name, side=side)
        most = PRINTED_DIGITS[found.thread.family]
        tolerances = found.tolerances
        figures = [figure for span in spans(found) for figure in (span.min, span.max)]
        figures += [
            tolerances.major_diameter,
            tolerances.pitch_diameter,
            tolerances.minor_diameter,
            found.allowance,
            found.basic.major_diameter,
            found.basic.pitch_diameter,
            found.basic.minor_diameter,
        ]
        for figure in figures:
            assert figure is None or -int(figure.as_tuple().exponent) <= most, (name, side, figure)
