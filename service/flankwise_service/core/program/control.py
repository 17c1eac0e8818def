"""The memory of the control that the interpreter lets run: modal state, place, feed."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from flankwise_service.core.program.codes import PLANES
from flankwise_service.core.program.modal import (
    FeedMode,
    Modal,
    Motion,
    Place,
    Plane,
    Spindle,
    Stop,
)
from flankwise_service.core.program.moves import (
    Arc,
    Known,
    end_place,
    known,
    length_of,
    read_arc,
)
from flankwise_service.core.program.reading import Rows, Track
from flankwise_service.core.program.setup import ARC_TOLERANCE
from flankwise_service.core.units import Unit, convert

UNIT_OF: dict[float, Unit] = {20: "in", 70: "in", 21: "mm", 71: "mm"}
PLANE_OF: dict[float, Plane] = {17: "XY", 18: "ZX", 19: "YZ"}
PLANE_AXES = {PLANE_OF[code]: axes for code, axes in PLANES.items()}
FEED_MODE_OF: dict[float, FeedMode] = {93: "inverse time", 94: "per minute", 95: "per revolution"}
SPINDLE_OF: dict[float, Spindle] = {3: "clockwise", 4: "counterclockwise", 5: "stopped"}
COOLANT_OF = {7: "mist", 8: "flood"}
MOVING = frozenset("XYZIJKRF")
"""Letters of a block that only moves."""
JUST_MOTION = frozenset({"motion"})
NOTHING: frozenset[str] = frozenset()
FEED = frozenset("F")
STRAIGHT, ROUND = frozenset("XYZ"), frozenset("XYZIJKR")
"""Letters that straight motions and arcs use."""

Groups = Mapping[str, float]
Values = Mapping[str, float]


class Control:
    """Carries out blocks one after the other; `Stop` where one can't be."""

    def __init__(self) -> None:
        self.unit: Unit | None = None
        """Of all lengths given back: the first one the program sets."""
        self.states: list[Modal] = [Modal()]
        self.track = Track()
        self.place: Place = (None, None, None)
        self.motion: float | None = None
        self.feed: float | None = None
        self.tool_chosen: int | None = None
        self.ended = False
        self.dwell = 0.0
        self.began = False

    def carry_out(self, line: int, groups: Groups, values: Values) -> None:
        """Carry out one block, in the standard's order."""
        if not groups and not values:
            return
        if self.ended:
            raise Stop("after_end", "a block after the end of the program", "take it out")
        began, self.began = self.began, True
        if "O" in values:
            if began or groups or len(values) > 1:
                raise Stop("program_number", "O stands alone, in the first block", "move it there")
            return
        if not groups or groups.keys() == JUST_MOTION:
            self._just_move(line, groups, values)
            return
        left = set(values)
        self._modes(groups, values, left)
        self._tool(groups, values, left)
        self._spindle(groups, values, left)
        self._dwell(groups, values, left)
        self._offsets(groups, values, left)
        self._leave(left - self._move(line, groups, values))
        self.ended = groups.get("stop") in (2, 30)

    def take(self, rows: Rows) -> None:
        """Take motions that have been carried out in the same way elsewhere."""
        self.track.add_rows(rows)
        x, y, z = rows.place[:, -1].tolist()
        self.place = (x, y, z)
        self.motion = float(rows.code[-1])
        if not math.isnan(rows.feed[-1]):
            self.feed = float(rows.feed[-1])

    def _just_move(self, line: int, groups: Groups, values: Values) -> None:
        """Carry out a block without other G or M words."""
        if not values.keys() <= MOVING:
            left = set(values)
            self._tool(groups, values, left)
            self._spindle(groups, values, left)
            self._feed_word(values, left)
            self._leave(left - self._move(line, groups, values))
            return
        if "F" in values:
            self._feed_word(values, set())
        used = self._move(line, groups, values)
        if not values.keys() <= (used | FEED):
            self._leave(set(values) - used - FEED)

    def _leave(self, left: set[str]) -> None:
        """Stop where a block holds a word without use."""
        if left:
            raise Stop("word_without_use", f"{min(left)} has no use in this block", "take it out")

    @property
    def state(self) -> Modal:
        """The modal state in force."""
        return self.states[-1]

    def _set(self, **changes: Any) -> None:
        """Change the modal state; one that no motion ran under isn't kept."""
        new = self.state._replace(**changes)
        if self.track.last_state() == len(self.states) - 1:
            if new != self.state:
                self.states.append(new)
        else:
            self.states[-1] = new

    def _length(self, value: float) -> float:
        """Return a length of the program in the unit given back."""
        unit = self.states[-1].unit
        if unit is None or self.unit is None:
            raise Stop("no_unit", "a length before the unit is given", "give the unit first")
        return value if unit == self.unit else convert(value, unit, self.unit)

    def _modes(self, groups: Groups, values: Values, left: set[str]) -> None:
        """Unit, feed mode, feed, plane, distance. A feed doesn't outlive its unit or mode."""
        if "unit" in groups:
            unit = UNIT_OF[groups["unit"]]
            if unit != self.state.unit:
                self.feed = None
            self.unit = self.unit or unit
            self._set(unit=unit)
        if "feed mode" in groups:
            mode = FEED_MODE_OF[groups["feed mode"]]
            if mode != self.state.feed_mode:
                self.feed = None
            self._set(feed_mode=mode)
        self._feed_word(values, left)
        if "plane" in groups:
            if self.state.radius_side:
                raise Stop("radius_offset", "a plane under a radius offset", "give G40 first")
            self._set(plane=PLANE_OF[groups["plane"]])
        if "distance" in groups:
            self._set(distance="absolute" if groups["distance"] == 90 else "incremental")

    def _feed_word(self, values: Values, left: set[str]) -> None:
        """Feed, kept until changed."""
        if "F" in values:
            left.discard("F")
            self.feed = values["F"]
            if self.feed <= 0.0:
                raise Stop("feed", "a feed that isn't above zero", "correct the feed")

    def _tool(self, groups: Groups, values: Values, left: set[str]) -> None:
        """Tool chosen and changed. Where a new tool's tip stands isn't known."""
        if "T" in values:
            left.discard("T")
            self.tool_chosen = _whole("T", values)
        if "tool change" not in groups:
            return
        if self.tool_chosen is None:
            raise Stop("no_tool", "a tool change before a tool is named", "give T")
        if self.state.radius_side:
            raise Stop("radius_offset", "a tool change under a radius offset", "give G40 first")
        self._set(tool=self.tool_chosen, spindle="stopped", length_offset=None)
        self.place = (None, None, None)

    def _spindle(self, groups: Groups, values: Values, left: set[str]) -> None:
        """Spindle and coolant."""
        if "S" in values:
            left.discard("S")
            if values["S"] < 0:
                raise Stop("spindle_speed", "a spindle speed below zero", "correct it")
            self._set(spindle_speed=values["S"])
        if "spindle" in groups:
            spindle = SPINDLE_OF[groups["spindle"]]
            if spindle != "stopped" and not self.state.spindle_speed:
                raise Stop("spindle_speed", "the spindle starts without a speed", "give S")
            self._set(spindle=spindle)
        if "coolant" in groups:
            kind = COOLANT_OF.get(int(groups["coolant"]))
            self._set(coolant=tuple(sorted({*self.state.coolant, kind})) if kind else ())

    def _dwell(self, groups: Groups, values: Values, left: set[str]) -> None:
        """Dwell in seconds."""
        if "dwell" in groups:
            if "P" not in values or values["P"] < 0:
                raise Stop("dwell", "a dwell without its seconds", "give P, not below zero")
            left.discard("P")
            self.dwell += values["P"]

    def _offsets(self, groups: Groups, values: Values, left: set[str]) -> None:
        """Radius, length and work offset; what an offset moves is unknown until given again."""
        if "radius offset" in groups:
            self._radius_offset(groups["radius offset"], values, left)
        if "length offset" in groups:
            number = None
            if groups["length offset"] == 43:
                if "H" not in values:
                    raise Stop("length_offset", "G43 without its number", "give H")
                left.discard("H")
                number = _whole("H", values)
            if number != self.state.length_offset:
                self.place = (self.place[0], self.place[1], None)
            self._set(length_offset=number)
        if "work offset" in groups:
            work_offset = f"G{groups['work offset']:g}"
            if work_offset != self.state.work_offset:
                self.place = (None, None, None)
            self._set(work_offset=work_offset)

    def _radius_offset(self, code: float, values: Values, left: set[str]) -> None:
        """Radius offset on or off."""
        if code == 40:
            self._set(radius_side=None, radius_offset=None)
            return
        if self.state.plane != "XY":
            raise Stop("radius_offset", "a radius offset outside the XY plane", "give G17 first")
        if self.state.radius_side:
            raise Stop("radius_offset", "a radius offset is on already", "give G40 first")
        if "D" not in values:
            raise Stop("radius_offset", f"G{code:g} without its number", "give D")
        left.discard("D")
        side = "left" if code == 41 else "right"
        self._set(radius_side=side, radius_offset=_whole("D", values))

    def _move(self, line: int, groups: Groups, values: Values) -> frozenset[str]:
        """Carry out the motion that axis words ask for; return the letters it used."""
        self.motion = code = groups.get("motion", self.motion)
        if not ("X" in values or "Y" in values or "Z" in values):
            return NOTHING
        if code is None or code == 80:
            raise Stop("no_motion_word", "axis words with no motion in force", "give G00 to G03")
        state, index = self.states[-1], len(self.states) - 1
        if state.distance is None:
            raise Stop("no_distance_mode", "a motion before G90 or G91 is given", "give one")
        factor = self._length(1.0)
        begin = self.place
        end = end_place(begin, values, factor, state.distance == "absolute")
        if code == 0:
            motion = Motion(line, "rapid", begin, end, None, None, 0.0, None, index)
        else:
            motion = self._cut(line, known(begin), known(end), values, factor)
        self.place = end
        self.track.add(motion)
        return STRAIGHT if code < 2 else ROUND

    def _cut(self, line: int, begin: Known, end: Known, values: Values, factor: float) -> Motion:
        """Return a line or arc with its feed."""
        state, index = self.states[-1], len(self.states) - 1
        if state.spindle == "stopped":
            raise Stop("spindle_stopped", "a cut with the spindle stopped", "start the spindle")
        if state.plane is None:
            raise Stop("no_plane", "a cut before its plane is given", "give G17")
        axes = PLANE_AXES[state.plane]
        arc: Arc | None = None
        if self.motion != 1:
            tolerance = ARC_TOLERANCE[self.unit or "mm"]
            arc = read_arc(begin, end, values, factor, axes, self.motion == 3, tolerance)
        feed = self._feed("F" in values, begin, end, arc, factor)
        if arc is None:
            return Motion(line, "line", begin, end, None, None, 0.0, feed, index)
        return Motion(line, "arc", begin, end, arc.centre, arc.sense, arc.sweep, feed, index)

    def _feed(self, given: bool, begin: Known, end: Known, arc: Arc | None, factor: float) -> float:
        """Return the feed a minute along the path."""
        state = self.states[-1]
        mode = state.feed_mode
        if self.feed is None or (mode == "inverse time" and not given):
            raise Stop("no_feed", "a cut without a feed", "give F")
        if mode == "per minute":
            return self.feed * factor
        if mode == "per revolution":
            return self.feed * factor * (state.spindle_speed or 0.0)
        return self.feed * length_of(begin, end, arc, PLANE_AXES[state.plane or "XY"])


def _whole(letter: str, values: Values) -> int:
    """Return a word's value as a number of a tool or offset, or stop."""
    value = values[letter]
    if not value.is_integer() or not 0 <= value <= 9999:
        raise Stop("whole_number", f"{letter} takes whole numbers from 0 to 9999", "correct it")
    return int(value)
