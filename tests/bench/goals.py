"""A figure beside its goal, and whether it was met."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Goal:
    """One figure of this run; without `aim` it is only told."""

    name: str
    figure: float
    unit: str = ""
    aim: float | None = None
    at_least: bool = False
    """Whether the figure must reach `aim`; otherwise it must stay below."""
    note: str = ""

    @property
    def met(self) -> bool | None:
        """Whether the goal was met, None where there is none."""
        if self.aim is None:
            return None
        return self.figure >= self.aim if self.at_least else self.figure <= self.aim

    def line(self) -> str:
        """Return the line of the printed table."""
        aim = "" if self.aim is None else f"{'>=' if self.at_least else '<='} {self.aim:g}"
        state = {None: "", True: "met", False: "SHORT OF GOAL"}[self.met]
        told = f"{self.figure:,.3f}" if abs(self.figure) < 100 else f"{self.figure:,.0f}"
        return f"{self.name:58} {told:>10} {self.unit:7} {aim:9} {state:14}{self.note}".rstrip()


@dataclass
class Part:
    """What one part of the bench found."""

    name: str
    goals: list[Goal] = field(default_factory=list)
    raw: dict[str, Any] = field(default_factory=dict)
    """Every single measurement, for result.json."""
    pictures: dict[str, str] = field(default_factory=dict)
    """SVG by file name."""

    def tell(self, name: str, figure: float, unit: str = "", **rest: Any) -> None:
        """Note a figure, and print its line at once."""
        goal = Goal(name, figure, unit, **rest)
        self.goals.append(goal)
        print("  " + goal.line(), flush=True)
