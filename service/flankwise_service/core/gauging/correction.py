"""From a measured pitch diameter to the radius offset at the control, and guards against slips.

A cutter's radius offset keeps its centre off the programmed contour. A larger offset keeps it
farther: less is cut. So an external thread grows and an internal one shrinks when the offset is
made larger, by `diameter_per_radius` for each unit of offset: 2 for a rigid shift of the path,
a little more or less where the form really cut changes with the path's radius (core/form).
Source: the geometry of cutter compensation; the guards are common practice, no source.
Lengths in one unit; `unit` only says how they are printed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    Impossible,
    at_most,
    plain,
    plain_beyond,
)
from flankwise_service.core.gauging.groove import Groove, refuse_lengths, within_lengths
from flankwise_service.core.gauging.measure import (
    Measured,
    Verdict,
    measured,
    standing_of,
    verdict,
)
from flankwise_service.core.gauging.over_wires import (
    Line,
    Method,
    pitch_diameter_from,
    reading_over,
)
from flankwise_service.core.threads.model import Side
from flankwise_service.core.units import Unit

PLACES: dict[Unit, int] = {"in": 4, "mm": 3}
GREATEST_SHARE_OF_PITCH = 0.1
"""A change of the radius offset beyond this share of the pitch is refused: our own guard, common
practice, no source. A wrong wire, pitch or tool shows up as such a change."""
NO_CORRECTION = (
    "no correction: more than a tenth of the pitch. Check wire, pitch, tool number and reading"
)
Fate = Literal["good", "rework", "scrap"]
LEAST_RESPONSE, GREATEST_RESPONSE = 1.0, 3.5


@dataclass(frozen=True, slots=True)
class Correction:
    """What to change at the control to bring the pitch diameter to its aim."""

    aim: float
    pitch_diameter_change: float
    """Aim less measured."""
    radius_offset_change: float
    """To add to the radius offset, signed."""
    diameter_offset_change: float
    """The same for a control that keeps the tool's diameter: twice as much."""
    words: str
    rework: bool | None
    """True: another pass brings this part to its aim; False: metal is missing, the correction is
    for the next part; None: the part is inside its limits, or its standing can't be told."""
    verdict: Verdict
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CorrectionRow:
    """One line of the table that goes with the job."""

    reading: float
    pitch_diameter: float
    standing: str
    part: Fate
    """What becomes of a part that reads so."""
    radius_offset_change: float | None
    """None where it would be more than a tenth of the pitch: that is no correction."""
    words: str


def offset_change(
    pitch_diameter: float, aim: float, side: Side, diameter_per_radius: float = 2.0
) -> float:
    """Return what to add to the radius offset so that the pitch diameter becomes `aim`.

    External: (aim - measured) / diameter_per_radius. Internal: the same with the sign turned.

    >>> round(offset_change(0.8286, 0.8270, "external"), 6)
    -0.0008
    >>> round(offset_change(0.8286, 0.8270, "internal"), 6)
    0.0008
    """
    change = (aim - pitch_diameter) / diameter_per_radius
    return change if side == "external" else -change


def fate_of(standing: str, side: Side) -> Fate:
    """Return what becomes of a part: metal that is left can be cut, metal that is gone can't.

    >>> fate_of("too large", "external"), fate_of("too large", "internal")
    ('rework', 'scrap')
    """
    if standing == "inside":
        return "good"
    return "rework" if (standing == "too large") == (side == "external") else "scrap"


def in_words(change: float, unit: Unit) -> str:
    """Return a change of the radius offset as it is said to the one who types it in.

    Printed to 0.0001 in or 0.001 mm.

    >>> in_words(-0.0008, "in"), in_words(0.01, "mm")
    ('make the radius offset smaller by 0.0008 in', 'make the radius offset larger by 0.010 mm')
    >>> in_words(0.00004, "in")
    'leave the radius offset as it is'
    """
    places = PLACES[unit]
    shown = f"{abs(change):.{places}f}"
    if float(shown) == 0:
        return "leave the radius offset as it is"
    return f"make the radius offset {'smaller' if change < 0 else 'larger'} by {shown} {unit}"


def correction(
    found: Measured,
    least: float,
    greatest: float,
    *,
    side: Side,
    pitch: float,
    unit: Unit,
    aim: float | None = None,
    diameter_per_radius: float = 2.0,
) -> Correction:
    """Return the change of the radius offset that brings the pitch diameter to its aim.

    `aim` is the middle of the limits when left out. Refused: an aim outside the limits
    (BadInput), and a change beyond a tenth of the pitch (Impossible), which is never a correction
    but a wrong wire, pitch, tool or a slip in reading.

    >>> fix = correction(
    ...     measured(0.8287, 0.0001), 0.8216, 0.8270, side="external", pitch=1 / 14, unit="in"
    ... )
    >>> fix.words, fix.rework
    ('make the radius offset smaller by 0.0022 in', True)
    """
    refuse_lengths({"least": least, "greatest": greatest})
    goal = (least + greatest) / 2 if aim is None else aim
    _refuse_bad_aim(goal, least, greatest, pitch, diameter_per_radius)
    change = offset_change(found.pitch_diameter, goal, side, diameter_per_radius)
    greatest_change = GREATEST_SHARE_OF_PITCH * pitch
    # Told as pitch diameters, so tested as one: what is told as allowed is allowed.
    reach = diameter_per_radius * greatest_change
    if not goal - reach <= found.pitch_diameter <= goal + reach and not at_most(
        abs(change), greatest_change
    ):
        raise Impossible(_absurd(change, greatest_change, unit, found.pitch_diameter, goal, reach))
    told = verdict(found, least, greatest)
    rework = _rework(told, change)
    return Correction(
        goal,
        goal - found.pitch_diameter,
        change,
        2 * change,
        in_words(change, unit),
        rework,
        told,
        tuple(_cautions(found, change, least, greatest, diameter_per_radius, rework, told)),
    )


def _rework(told: Verdict, change: float) -> bool | None:
    """A smaller offset always cuts more, inside and outside: only that can rework a part."""
    if told.standing == "inside" or (told.doubt is not None and change >= 0):
        return None
    return change < 0


def _cautions(
    found: Measured,
    change: float,
    least: float,
    greatest: float,
    diameter_per_radius: float,
    rework: bool | None,
    told: Verdict,
) -> list[str]:
    said = []
    if told.doubt is not None:
        said.append(told.words)
    if rework is False:
        said.append(
            "metal is missing: no correction brings this part back; the change is for the next one"
        )
    shift = abs(change) * diameter_per_radius
    if shift > 2 * (greatest - least):
        said.append(
            "the change is more than twice the tolerance: check wire, pitch and tool number first,"
            " and cut half of it before measuring again"
        )
    if 0 < shift < found.uncertainty:
        said.append("the change is smaller than the measurement's uncertainty: it may be noise")
    return said


def _absurd(
    change: float, greatest: float, unit: Unit, pitch_diameter: float, aim: float, reach: float
) -> Fault:
    most = plain(greatest, 3)
    return Fault(
        "/pitch_diameter",
        "absurd_correction",
        f"pitch diameter {plain(pitch_diameter)} {unit} is {plain(abs(aim - pitch_diameter), 3)} "
        f"{unit} from its aim {plain(aim)}: that asks for "
        f"{plain_beyond(abs(change), most, 3)} {unit} on the radius, more than a tenth of the "
        f"pitch ({most} {unit})",
        "check wire diameter, pitch, thread and tool number, and the reading; "
        "this is no correction",
        pitch_diameter,
        aim - reach,
        aim + reach,
        unit,
    )


def _refuse_bad_aim(
    aim: float, least: float, greatest: float, pitch: float, diameter_per_radius: float
) -> None:
    faults = Faults()
    faults.within("/aim", aim, least=least, greatest=greatest, name="aim of the pitch diameter")
    within_lengths(faults, "/pitch", pitch, "pitch")
    faults.within(
        "/diameter_per_radius",
        diameter_per_radius,
        least=LEAST_RESPONSE,
        greatest=GREATEST_RESPONSE,
        name="change of pitch diameter per radius",
    )
    faults.raise_any(BadInput)


def correction_table(
    groove: Groove,
    wire: float,
    least: float,
    greatest: float,
    *,
    unit: Unit,
    method: Method = "three wires",
    line: Line = "square to the axis",
    aim: float | None = None,
    rows: int = 11,
    diameter_per_radius: float = 2.0,
) -> tuple[CorrectionRow, ...]:
    """Return rows from one tolerance below the limits to one above: reading -> radius offset.

    Readings are evenly spaced, printed ones (0.0001 in, 0.001 mm); `rows` from 3 to 201. What
    `correction` would refuse has no number to dial in.
    """
    faults = Faults()
    faults.within("/rows", rows, least=3, greatest=201, name="rows")
    faults.raise_any(BadInput)
    refuse_lengths({"least": least, "greatest": greatest})
    goal = (least + greatest) / 2 if aim is None else aim
    _refuse_bad_aim(goal, least, greatest, groove.pitch, diameter_per_radius)
    tolerance = greatest - least
    low = reading_over(groove, least - tolerance, wire, method, line).reading
    high = reading_over(groove, greatest + tolerance, wire, method, line).reading
    readings = [
        round(low + (high - low) * row / (rows - 1), PLACES[unit]) for row in range(int(rows))
    ]
    return tuple(
        _row(
            groove, reading, wire, method, line, (least, greatest), goal, diameter_per_radius, unit
        )
        for reading in dict.fromkeys(readings)
    )


def _row(
    groove: Groove,
    reading: float,
    wire: float,
    method: Method,
    line: Line,
    limits: tuple[float, float],
    aim: float,
    diameter_per_radius: float,
    unit: Unit,
) -> CorrectionRow:
    size = pitch_diameter_from(groove, reading, wire, method, line).pitch_diameter
    change = offset_change(size, aim, groove.side, diameter_per_radius)
    standing, _ = standing_of(measured(size, 0.0), *limits)
    fate = fate_of(standing, groove.side)
    if abs(change) > GREATEST_SHARE_OF_PITCH * groove.pitch:
        return CorrectionRow(reading, size, standing, fate, None, NO_CORRECTION)
    return CorrectionRow(reading, size, standing, fate, change, in_words(change, unit))
