"""What a program needs to be told besides its path: control, tool, heights, header."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.path.segment import Segment
from flankwise_service.core.program.words import counts
from flankwise_service.core.threads.model import Thread
from flankwise_service.core.units import Unit

ArcForm = Literal["centre", "radius"]
UnitCodes = Literal["G20 G21", "G70 G71"]
Coolant = Literal["off", "mist", "flood"]
Ending = Literal["M30", "M02"]
RadiusSide = Literal["left", "right"]
WorkOffset = Literal["G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"]

WORK_OFFSETS: tuple[WorkOffset, ...] = (
    "G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3",
)  # fmt: skip
"""G54 to G59 by ISO 6983-1 (zero shifts); G59.1 to G59.3 by RS274/NGC (NISTIR 6556, 3.5.13)."""

USUAL_DECIMALS: dict[Unit, int] = {"in": 4, "mm": 3}
"""Resolution of most controls: 0.0001 in and 0.001 mm (common practice, no source)."""

ARC_TOLERANCE: dict[Unit, float] = {"in": 0.0002, "mm": 0.002}
"""Greatest difference of an arc's radius at its start and at its end that a control must take.

Source: Kramer, Proctor, Messina: The NIST RS274/NGC Interpreter, version 3 (NISTIR 6556, 2000),
section 3.5.3.2, from memory.
"""


@dataclass(frozen=True, slots=True)
class Tool:
    """The tool as the control knows it. Speeds in revolutions a minute, clockwise (M03)."""

    number: int
    spindle_speed: float
    length_offset: int | None
    """Number in G43 H; None where the control applies the length with the tool's number."""
    coolant: Coolant = "off"
    tip_to_tooth: float = 0.0
    """From the tool's tip, where its length is set, up to the point that the path is given for."""
    radius_offset: int | None = None
    """Number in G41 D or G42 D, for a correction at the control; None leaves it out.

    The path stays that of the cutter's centre, so the stored value is the correction alone:
    zero at first, positive moves the cutter off the flank."""
    radius_side: RadiusSide = "left"
    """On which side of its path the cutter moves off the flank: left (G41) for climb milling,
    right (G42) for conventional milling, spindle clockwise."""
    name: str = ""


@dataclass(frozen=True, slots=True)
class Operation:
    """One tool's part of the program: its segments joined end to begin."""

    tool: Tool
    segments: Sequence[Segment]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Setup:
    """How the program is written. Lengths in `unit`; `safe_height` is of the tool's tip.

    `unit_codes` picks the words that set the unit, for the two standards differ: G20 G21 in
    RS-274, G70 G71 in ISO 6983-1. `helix_rise_words` adds K, the rise in one turn, to every
    helical arc (ISO 6983-1: K is the lead parallel to Z; RS274/NGC has no K in the XY plane).
    `arc_centre_code` spells G91.1, arc centres counted from the arc's start, which is how I and J
    are written in any case.
    """

    unit: Unit
    safe_height: float
    work_offset: WorkOffset = "G54"
    unit_codes: UnitCodes = "G20 G21"
    decimals: int | None = None
    """Digits after the point of a length; None takes `USUAL_DECIMALS`."""
    arc_form: ArcForm = "centre"
    helix_rise_words: bool = False
    arc_centre_code: bool = False
    line_number_step: int = 0
    """N10, N20 ... for 10; 0 leaves line numbers out."""
    program_number: int | None = None
    """Written as O and four digits; the standards don't assign O, so None leaves it out."""
    end: Ending = "M30"
    thread: Thread | None = None
    remarks: tuple[str, ...] = ()
    """Further lines of the header: limits, stock, job. Made safe before they are written."""
    version: str = ""
    """Version of flankwise, for the header's "made by" line."""

    @property
    def places(self) -> int:
        """Digits after the point of a length.

        >>> Setup("in", 1.0).places, Setup("mm", 25.0, decimals=4).places
        (4, 4)
        """
        return USUAL_DECIMALS[self.unit] if self.decimals is None else self.decimals

    @property
    def feed_places(self) -> int:
        """Digits after the point of a feed: 2 for in/min, 1 for mm/min."""
        return 2 if self.unit == "in" else 1


def moves_before_change(setup: Setup, before: Operation, after: Operation) -> bool:
    """Return whether the next tool begins elsewhere in X and Y than the one before it ended.

    >>> from flankwise_service.core.path.segment import Point
    >>> here, there = Point(0.0, 0.0, 1.0), Point(0.00001, 0.0, 0.5)
    >>> one = Operation(Tool(1, 900, 1), [Segment("rapid", "approach", here, there)])
    >>> moves_before_change(Setup("in", 1.0), one, one)
    False
    """
    end, begin = before.segments[-1].end, after.segments[0].begin
    places = setup.places
    return any(
        counts(was, places) != counts(now, places)
        for was, now in zip(end[:2], begin[:2], strict=True)
    )
