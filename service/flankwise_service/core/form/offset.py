"""From what was measured to the control's radius offset, the next measurement narrowing it.

The offset keeps the cutter's centre off its contour: make it smaller and the cutter runs deeper.
An ideal machine answers with `diameter_per_depth` (about 2, from the form) in pitch diameter for
each unit of depth. A real one answers with a gain g times that, unknown but near 1, and starts from
an unknown size. Sizes measured at known offsets are fitted by size = a + g x, x being the ideal
change; before any measurement g is 1 with a spread of 0.15 (our own figure, common practice, no
source). One measurement leaves g at 1; a second, if it lies far enough from the first to tell more
than the gauge's own doubt, brings g to what the machine does.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from flankwise_service.core.errors import BadInput, Fault, Faults, Impossible, plain
from flankwise_service.core.form.model import Cut, checked
from flankwise_service.core.form.pitchline import pitch_line
from flankwise_service.core.threads.model import Side
from flankwise_service.core.units import Unit

GAIN_SPREAD = 0.15
LEAST_GAIN, GREATEST_GAIN = 0.5, 1.6
CERTAIN = 3.0
"""Standard deviations beyond which an odd answer of the machine is no chance."""
GREATEST_SHARE_OF_PITCH = 0.1
"""A change of offset beyond this share of the pitch is refused: our own guard, no source."""
MOST_MEASUREMENTS = 100
PLACES: dict[Unit, int] = {"in": 4, "mm": 3}


class Measurement(NamedTuple):
    """A size, and the radius offset that was in force when it was cut."""

    size: float
    """Pitch diameter, or size over or between the same wires: both move alike."""
    radius_offset: float = 0.0


@dataclass(frozen=True, slots=True)
class NextOffset:
    """The radius offset to set next."""

    radius_offset: float
    change: float
    """Against the offset of the last measurement; minus cuts deeper."""
    diameter_offset_change: float
    """The same for a control that keeps the tool's diameter: twice as much."""
    size_expected: float
    uncertainty: float
    """Standard uncertainty of the size expected, the gauge's and the machine's together."""
    gain: float
    """How much of an offset's change the machine turns into size; 1 is ideal."""
    gain_uncertainty: float
    diameter_per_depth: float
    words: str


def diameter_per_depth(cut: Cut) -> float:
    """Return how much the pitch diameter moves, outward positive, per unit of depth, by the form.

    2 for a plain triangle. Deeper into a hole the centre path is wider and the overcut smaller, so
    a little less. Lengths in one unit. Raises BadInput, Impossible.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> round(diameter_per_depth(cut), 3)
    1.886
    """
    checked(cut)
    step = 1e-3 * cut.pitch
    outer, inner = (pitch_line(cut.moved(move)).radius for move in (step, -step))
    return abs(outer - inner) / step


def next_offset(
    measurements: Sequence[Measurement],
    aim: float,
    *,
    side: Side,
    pitch: float,
    unit: Unit,
    uncertainty: float,
    per_depth: float = 2.0,
) -> NextOffset:
    """Return the radius offset that should bring the size to `aim`, from all `measurements`.

    `uncertainty`: standard uncertainty of one measurement, in the same unit. `per_depth`: of
    `diameter_per_depth`. Raises BadInput, and Impossible when the machine's answer makes no sense
    or the change would be absurd.

    >>> told = next_offset(
    ...     [Measurement(7.25)], 7.268, side="internal", pitch=1.25, unit="mm", uncertainty=0.002
    ... )
    >>> told.words
    'make the radius offset smaller by 0.009 mm: the cutter runs deeper, the thread gets larger'
    """
    _check(measurements, aim, pitch, uncertainty, per_depth)
    toward = -per_depth if side == "internal" else per_depth
    moves = [toward * one.radius_offset for one in measurements]
    sizes = [one.size for one in measurements]
    gain, spread = _gain(moves, sizes, uncertainty)
    n = len(sizes)
    middle, mean = math.fsum(moves) / n, math.fsum(sizes) / n
    wanted = middle + (aim - mean) / gain
    offset = wanted / toward
    change = offset - measurements[-1].radius_offset
    if abs(change) > GREATEST_SHARE_OF_PITCH * pitch:
        raise Impossible(_absurd(change, pitch, unit))
    doubt = math.hypot(uncertainty / math.sqrt(n), spread * (wanted - middle))
    return NextOffset(
        radius_offset=offset,
        change=change,
        diameter_offset_change=2 * change,
        size_expected=mean + gain * (wanted - middle),
        uncertainty=doubt,
        gain=gain,
        gain_uncertainty=spread,
        diameter_per_depth=per_depth,
        words=in_words(change, side, unit),
    )


def in_words(change: float, side: Side, unit: Unit) -> str:
    """Return the change of a radius offset as it is said at the machine.

    >>> in_words(0.0004, "external", "in")
    'make the radius offset larger by 0.0004 in: the cutter keeps off, the thread gets larger'
    >>> in_words(0.0, "external", "in")
    'leave the radius offset as it is'
    """
    shown = f"{abs(change):.{PLACES[unit]}f}"
    if float(shown) == 0.0:
        return "leave the radius offset as it is"
    deeper = change < 0
    grows = deeper == (side == "internal")
    return (
        f"make the radius offset {'smaller' if deeper else 'larger'} by {shown} {unit}:"
        f" the cutter {'runs deeper' if deeper else 'keeps off'},"
        f" the thread gets {'larger' if grows else 'smaller'}"
    )


def _gain(moves: list[float], sizes: list[float], uncertainty: float) -> tuple[float, float]:
    """Return the machine's gain and its standard uncertainty, weighed against expecting 1."""
    n = len(sizes)
    middle, mean = math.fsum(moves) / n, math.fsum(sizes) / n
    square = math.fsum((x - middle) ** 2 for x in moves)
    cross = math.fsum((x - middle) * (y - mean) for x, y in zip(moves, sizes, strict=True))
    told, expected = square / uncertainty**2, GAIN_SPREAD**-2
    if square > 0.0:
        _refuse_odd_answer(cross / square, uncertainty / math.sqrt(square))
    gain = (expected + cross / uncertainty**2) / (expected + told)
    return gain, 1 / math.sqrt(expected + told)


def _refuse_odd_answer(gain: float, spread: float) -> None:
    """Refuse an answer of the machine that no gauge's doubt explains."""
    if LEAST_GAIN - CERTAIN * spread <= gain <= GREATEST_GAIN + CERTAIN * spread:
        return
    raise Impossible(
        Fault(
            "/measurements",
            "odd_answer",
            f"the size moved {plain(gain, 3)} times what the offsets asked for;"
            f" {plain(LEAST_GAIN)} to {plain(GREATEST_GAIN)} is what a sound set-up does",
            "check that the offset changed is that of this tool, that the program calls it, that"
            " the work is clamped and the cutter sharp, then measure again",
            gain,
            LEAST_GAIN,
            GREATEST_GAIN,
            "times",
        )
    )


def _absurd(change: float, pitch: float, unit: Unit) -> Fault:
    most = GREATEST_SHARE_OF_PITCH * pitch
    return Fault(
        "/measurements",
        "correction_absurd",
        f"an offset change of {plain(change, 4)} {unit} is more than a tenth of the pitch, "
        f"{plain(most, 4)}"
        f" {unit}: no wear or deflection does that",
        "check the reading, the wires, the pitch and the tool before touching the offset",
        change,
        -most,
        most,
        unit,
    )


def _check(
    measurements: Sequence[Measurement],
    aim: float,
    pitch: float,
    uncertainty: float,
    per_depth: float,
) -> None:
    faults = Faults()
    faults.need(
        0 < len(measurements) <= MOST_MEASUREMENTS,
        "/measurements",
        "measurements",
        f"{len(measurements)} measurements can't be used",
        f"give 1 to {MOST_MEASUREMENTS} measurements, oldest first",
    )
    for n, one in enumerate(measurements):
        faults.within(f"/measurements/{n}/size", one.size, least=1e-5, greatest=1e5, name="size")
        faults.within(
            f"/measurements/{n}/radius_offset",
            one.radius_offset,
            least=-1e5,
            greatest=1e5,
            name="radius offset",
        )
    faults.within("/aim", aim, least=1e-5, greatest=1e5, name="size aimed at")
    faults.within("/pitch", pitch, least=1e-5, greatest=1e5, name="pitch")
    faults.within(
        "/uncertainty", uncertainty, least=1e-9, greatest=1e3, name="uncertainty of a measurement"
    )
    faults.within(
        "/per_depth", per_depth, least=0.5, greatest=3.0, name="pitch diameter per unit of depth"
    )
    faults.raise_any(BadInput)
