"""What must hold for every thread of the list, and for every special one."""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.errors import Fault, NoSource, Refusal, UnknownThread
from flankwise_service.core.threads import Limits, classes, designations, limits, limits_in, parse
from flankwise_service.core.threads.model import Side, Span

SIDES: tuple[Side, ...] = ("external", "internal")


@cache
def unified_and_metric() -> tuple[str, ...]:
    kept = ("unified", "unified_j", "iso_metric", "metric_j", "unified_miniature")
    return tuple(name for name in designations() if parse(name).family in kept)


@st.composite
def threads_with_class(draw: st.DrawFn) -> tuple[str, Side]:
    name = draw(st.sampled_from(unified_and_metric()))
    side = draw(st.sampled_from(SIDES))
    offered = classes(parse(name))[side]
    text = f"{name}-{draw(st.sampled_from(offered))}" if offered else name
    return text + draw(st.sampled_from(("", "-LH"))), side


def stated(text: str, side: Side, edition: str | None = None) -> Limits | None:
    try:
        return limits(text, side=side, edition=edition)
    except NoSource:
        return None


def ordered(span: Span) -> bool:
    return span.min is None or span.max is None or span.min <= span.max


def check(found: Limits) -> None:
    """Check what holds for any limits: order of limits, order of diameters, allowance, width."""
    basic = found.basic
    for span in (found.major_diameter, found.pitch_diameter, found.minor_diameter):
        assert ordered(span)
    assert found.allowance >= 0
    assert (basic.starts, basic.starts * basic.pitch) == (found.thread.starts, basic.lead)
    assert basic.major_diameter > basic.pitch_diameter > basic.minor_diameter > 0
    middle = found.pitch_diameter
    assert middle.min is not None
    assert middle.max is not None
    if found.side == "external":
        assert found.major_diameter.max is not None
        assert found.major_diameter.max <= basic.major_diameter
        assert middle.max <= basic.pitch_diameter
        assert found.minor_diameter.max is not None
        assert found.minor_diameter.max < middle.min
    else:
        assert found.major_diameter.min is not None
        assert found.major_diameter.min >= basic.major_diameter
        assert middle.min >= basic.pitch_diameter
        assert found.minor_diameter.max is not None
        # The smallest UNM sizes do print a greatest minor diameter above the least pitch diameter.
        assert found.minor_diameter.max < middle.min or found.thread.family == "unified_miniature"


@settings(deadline=None, max_examples=200)
@given(threads_with_class())
def test_limits_lie_in_order(asked: tuple[str, Side]) -> None:
    text, side = asked
    thread = parse(text)
    assert parse(thread.designation) == thread
    if (found := stated(text, side)) is not None:
        check(found)


@settings(deadline=None, max_examples=100)
@given(threads_with_class())
def test_inch_and_millimetre_say_the_same(asked: tuple[str, Side]) -> None:
    text, side = asked
    if (found := stated(text, side)) is None:
        return
    inch, metric = limits_in(found, "in"), limits_in(found, "mm")
    assert inch.rounded_in == metric.rounded_in == found.thread.unit
    for name in ("major_diameter", "pitch_diameter", "minor_diameter"):
        for end in ("min", "max"):
            in_inches, in_mm = (
                getattr(getattr(inch, name), end),
                getattr(getattr(metric, name), end),
            )
            assert (in_inches is None) == (in_mm is None)
            if in_inches is not None:
                assert abs(in_inches * Decimal("25.4") - in_mm) < Decimal("1e-20")
    own = inch if found.thread.unit == "in" else metric
    assert own.pitch_diameter == found.pitch_diameter


@settings(deadline=None, max_examples=100)
@given(st.sampled_from([name for name in unified_and_metric() if parse(name).family == "unified"]))
def test_a_finer_unified_class_lies_inside_a_coarser(name: str) -> None:
    external = [limits(f"{name}-{number}A").pitch_diameter for number in (1, 2, 3)]
    assert [s.max for s in external] == sorted(s.max or 0 for s in external)
    assert [s.min for s in external] == sorted(s.min or 0 for s in external)
    internal = [limits(f"{name}-{number}B").pitch_diameter for number in (1, 2, 3)]
    assert [s.max for s in internal] == sorted((s.max or 0 for s in internal), reverse=True)
    assert len({s.min for s in internal}) == 1


@settings(deadline=None, max_examples=100)
@given(
    st.sampled_from([name for name in unified_and_metric() if parse(name).family == "iso_metric"]),
    st.sampled_from(SIDES),
)
def test_a_coarser_metric_grade_is_wider(name: str, side: Side) -> None:
    position = "h" if side == "external" else "H"
    whole = [c for c in classes(parse(name))[side] if c[1] == position and len(c) == 2]
    widths = [
        limits(f"{name}-{grade}").tolerances.pitch_diameter or Decimal(0) for grade in sorted(whole)
    ]
    assert all(finer < coarser for finer, coarser in pairwise(widths))


@settings(deadline=None, max_examples=200)
@given(
    diameter=st.decimals("0.06", "24", places=4),
    threads=st.one_of(st.integers(1, 80), st.sampled_from(["4.5", "11.5", "13.25"])),
    name=st.sampled_from(["1A", "2A", "3A", "1B", "2B", "3B"]),
    edition=st.sampled_from(["ASME B1.1-2019", "ASME B1.1-1989"]),
)
def test_special_unified_threads(
    diameter: Decimal, threads: object, name: str, edition: str
) -> None:
    text = f"{diameter}-{threads} UNS-{name}"
    code = "stated"
    try:
        found = limits(text, edition=edition)
    except Refusal as refused:
        code = refused.faults[0].code
    else:
        check(found)
        assert parse(found.thread.designation) == found.thread
    assert code in ("stated", "pitch_too_coarse", "not_special", "tolerance_too_wide")


@settings(deadline=None, max_examples=200)
@given(
    diameter=st.decimals("0.5", "400", places=2),
    pitch=st.sampled_from(["0.2", "0.35", "0.5", "1", "1.25", "1.5", "2", "3", "4", "6", "8"]),
    name=st.sampled_from(["6g", "6H", "4h", "5g6g", "7H", "4H5H"]),
)
def test_special_metric_threads(diameter: Decimal, pitch: str, name: str) -> None:
    try:
        found = limits(f"M{diameter}x{pitch}-{name}")
    except (UnknownThread, NoSource):
        return
    check(found)
    assert parse(found.thread.designation) == found.thread


def read_or_refused(text: str) -> list[str]:
    """Return the near names of the refusal; none when the text is read, and reads back."""
    faults: tuple[Fault, ...] = ()
    try:
        thread = parse(text)
    except Refusal as refused:
        faults = refused.faults
    else:
        assert parse(thread.designation) == thread
    assert all(fault.detail and fault.change for fault in faults)
    return [name for fault in faults for name in fault.near]


@settings(deadline=None, max_examples=300)
@given(st.text(max_size=70))
def test_any_text_is_read_or_refused(text: str) -> None:
    read_or_refused(text)


@settings(deadline=None, max_examples=300)
@given(st.text(alphabet="0123456789/-.# xXMUNCFEFSRJPhLABTrGHe", max_size=30))
def test_text_made_of_the_right_letters_is_read_or_refused(text: str) -> None:
    read_or_refused(text)


@settings(deadline=None, max_examples=150)
@given(st.sampled_from(unified_and_metric()), st.data())
def test_one_slip_of_the_pen_is_read_or_refused(name: str, data: st.DataObject) -> None:
    place = data.draw(st.integers(0, len(name) - 1))
    slip = data.draw(st.sampled_from("0123456789/-. xMUNCF"))
    text = name[:place] + slip + name[place + 1 :]
    for suggestion in read_or_refused(text):
        assert parse(suggestion)
