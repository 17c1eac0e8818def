"""Motions as read, the modal state they run under, and why a block can't be carried out."""

from __future__ import annotations

from typing import Literal, NamedTuple

from flankwise_service.core.path.segment import Kind, Sense
from flankwise_service.core.units import Unit

Plane = Literal["XY", "ZX", "YZ"]
Spindle = Literal["stopped", "clockwise", "counterclockwise"]
FeedMode = Literal["per minute", "per revolution", "inverse time"]
Place = tuple[float | None, float | None, float | None]
"""Of the tool's tip; None for an axis whose place isn't known yet."""


class Modal(NamedTuple):
    """The modal state of the control; None where the program hasn't said."""

    unit: Unit | None = None
    plane: Plane | None = None
    distance: Literal["absolute", "incremental"] | None = None
    feed_mode: FeedMode = "per minute"
    work_offset: str | None = None
    tool: int | None = None
    length_offset: int | None = None
    radius_side: Literal["left", "right"] | None = None
    radius_offset: int | None = None
    spindle: Spindle = "stopped"
    spindle_speed: float | None = None
    coolant: tuple[str, ...] = ()


class Motion(NamedTuple):
    """One motion as read. Lengths in the reading's unit, feed in that unit a minute.

    `centre` holds the two coordinates of the plane's axes in the order X Y, Z X or Y Z; `sense`
    is seen from the positive end of the axis across. `state` is an index into `Reading.states`.
    """

    line: int
    kind: Kind
    begin: Place
    end: Place
    centre: tuple[float, float] | None
    sense: Sense | None
    sweep: float
    feed: float | None
    state: int


class Stop(Exception):
    """A block can't be carried out: code, what is wrong, what to change."""

    def __init__(self, code: str, detail: str, change: str) -> None:
        super().__init__(detail)
        self.code, self.detail, self.change = code, detail, change
