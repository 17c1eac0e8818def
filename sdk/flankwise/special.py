"""What some results can do beyond what all can. The generated ones in `results` build on these."""

from __future__ import annotations

import csv
import html
import io
from collections.abc import Iterator
from os import PathLike
from pathlib import Path
from typing import Any, NoReturn

from flankwise.errors import NoProgram
from flankwise.result import Result

SEGMENT_COLUMNS = (
    "kind", "purpose", "begin_x", "begin_y", "begin_z", "end_x", "end_y", "end_z", "centre_x",
    "centre_y", "sense", "sweep", "feed", "radial_pass", "start", "unit",
)  # fmt: skip


class ProgramResult(Result):
    """A result that holds a program."""

    __slots__ = ()

    def save_program(self, path: str | PathLike[str]) -> Path:
        """Write the program to `path` as it came, and return it.

        Raises `NoProgram` where a check refuses the plan: there is nothing that may be run. Prove
        a program out in air before it cuts.
        """
        target = Path(path)
        target.write_text(self._program_text(), "ascii", newline="")
        return target

    def _program_text(self) -> str:
        return str(self.raw["text"])


class PlanResult(ProgramResult):
    """A whole plan."""

    __slots__ = ()

    def _program_text(self) -> str:
        program = self.raw["program"]
        return self._no_program() if program is None else str(program["text"])

    def _no_program(self) -> NoReturn:
        said = [check for check in self.raw["checks"] if check["state"] == "refused"]
        raise NoProgram("; ".join(f"{one['detail']} ({one['change']})" for one in said))

    def __str__(self) -> str:
        return "\n".join(f"{name:<10}{said}" for name, said in self._told())

    def _repr_html_(self) -> str:
        rows = "".join(
            f"<tr><th style='text-align:left'>{html.escape(name)}</th>"
            f"<td style='text-align:left'>{html.escape(said)}</td></tr>"
            for name, said in self._told()
        )
        return f"<table>{rows}</table>"

    def _told(self) -> Iterator[tuple[str, str]]:
        """Yield the plan in a dozen lines, whatever isn't passed among them."""
        raw: Any = self.raw
        limits, bar, blank, motion = raw["limits"], raw["bar"], raw["blank"], raw["motion"]
        unit, last = raw["unit"], raw["passes"][-1]
        yield "job", f"{raw['name'] or '-'}, {raw['quantity']} off"
        yield "thread", f"{limits['designation']}, {limits['side']}"
        yield "verdict", raw["verdict"]
        yield "bar", f"{raw['material']}, {bar['shape']} {bar['size']:.6g} {unit}"
        yield blank["kind"], f"{blank['diameter']:.6g} {unit}, {blank['depth']:.6g} deep"
        yield "cutter", f"{raw['cutter']['diameter']:.6g} {unit}, {raw['cutter']['flutes']} flutes"
        yield "motion", f"{motion['turns']:.6g} turns, {motion['sense']}, {motion['motion']}"
        yield "passes", f"{len(raw['passes'])}, centre radius {last['centre_radius']:.6g} {unit}"
        yield "time", f"{raw['time']['total_s']:.0f} s a part"
        if raw["gauging"] is not None:
            over = raw["gauging"]
            span = f"{over['least_reading']:.5f} to {over['greatest_reading']:.5f} {unit}"
            yield "gauging", f"{over['method']} of {over['wire']:.5g}: {span}"
        for check in raw["checks"]:
            if check["state"] != "passed":
                yield check["state"], f"{check['detail']}; {check['change']}".rstrip("; ")
        yield "made by", raw["made_by"]


class PathResult(Result):
    """A result that holds a path's segments."""

    __slots__ = ()

    def to_csv(self) -> str:
        """Return the segments as CSV text (RFC 4180), as the service itself writes them."""
        text = io.StringIO()
        writer = csv.writer(text)
        writer.writerow(SEGMENT_COLUMNS)
        for piece in self.raw["segments"]:
            begin, end, centre = piece["begin"], piece["end"], piece["centre"] or (None, None)
            writer.writerow((
                piece["kind"], piece["purpose"], *begin.values(), *end.values(), *centre,
                *(piece[name] for name in SEGMENT_COLUMNS[10:-1]), self.raw["unit"],
            ))  # fmt: skip
        return text.getvalue()


class DrawnResult(Result):
    """A result that holds one drawing."""

    __slots__ = ()

    def _repr_svg_(self) -> str:
        return str(self.raw["svg"])
