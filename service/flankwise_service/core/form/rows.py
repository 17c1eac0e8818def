"""Cutters with several rows of teeth whose spacing isn't quite the thread's pitch."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from flankwise_service.core.errors import BadInput, Faults
from flankwise_service.core.form.model import Cut, Pass
from flankwise_service.core.form.pitchline import flank_angles_of

MOST_ROWS = 200


@dataclass(frozen=True, slots=True)
class RowsEffect:
    """What rows out of step do: to one groove (`cut`), and from groove to groove."""

    cut: Cut
    """The groove with all rows that pass through it."""
    row_pitch_error: float
    """row pitch minus thread pitch."""
    pitch_spread: float
    """How far grooves lie out of step along the axis: give it to `section`."""
    functional_change: float
    """Change of the functional diameter by the spread: + external, - internal."""


def rows_effect(cut: Cut, *, rows: int, row_pitch: float, rows_through: int = 1) -> RowsEffect:
    """Return the cut of a cutter with `rows` rows spaced `row_pitch`, e off the thread's pitch.

    Row i lies i e off its groove. With one turn each groove is cut by one row; where the path turns
    farther, `rows_through` rows pass through it, starts * e apart each, and widen it. Grooves cut
    by the first and the last row lie (rows - 1) e out of step. A perfect mating thread then needs
    2 * spread / (sum of flank tangents) in pitch diameter: cot(30) = 1.732 times the spread for a
    60 degree thread, the known figure for lead error. Raises BadInput.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> round(rows_effect(cut, rows=11, row_pitch=1.251).functional_change, 5)
    -0.01732
    """
    faults = Faults()
    faults.within("/rows", rows, least=1, greatest=MOST_ROWS, name="rows")
    faults.within(
        "/row_pitch", row_pitch, least=cut.pitch * 0.98, greatest=cut.pitch * 1.02, name="row pitch"
    )
    faults.raise_any(BadInput)
    faults.within(
        "/rows_through",
        rows_through,
        least=1,
        greatest=1 + (rows - 1) // cut.starts,
        name="rows through one groove",
    )
    faults.raise_any(BadInput)
    error = row_pitch - cut.pitch
    step = error * cut.starts
    shifts = [step * (n - (rows_through - 1) / 2) for n in range(rows_through)]
    passes = tuple(Pass(p[0], p[1] + shift) for p in cut.passes for shift in shifts)
    spread = abs(error) * (rows - 1 - (rows_through - 1) * cut.starts)
    slopes = sum(math.tan(math.radians(a)) for a in flank_angles_of(cut))
    return RowsEffect(
        cut=replace(cut, passes=passes),
        row_pitch_error=error,
        pitch_spread=spread,
        functional_change=-cut.outward * 2 * spread / slopes,
    )
