"""What the page's lookups find: each asks the service's own operations and puts them together."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

from flankwise_service.core.cutting.material_table import find_material
from flankwise_service.core.drawing.section import section_drawing
from flankwise_service.core.errors import Refusal
from flankwise_service.core.gauging.gauges import Gauge, gauges
from flankwise_service.core.gauging.inspection import Inspection
from flankwise_service.core.gauging.limits_over import (
    LimitsOver,
    WireSizes,
    limits_over,
    wire_sizes,
)
from flankwise_service.core.stock.blank import Aim
from flankwise_service.core.stock.facts import HexagonFacts, blank_aim
from flankwise_service.core.threads.model import StatedLimits
from flankwise_service.core.units import Unit
from flankwise_service.web.gauging import inspected
from flankwise_service.web.load import load
from flankwise_service.web.schemas.page import CorrectionForm, HexagonForm, ThreadForm
from flankwise_service.web.schemas.stock import DrillAsk, HexagonAsk
from flankwise_service.web.stock import stock_drill, stock_hexagon
from flankwise_service.web.threads import threads_limits

THREAD, HEXAGON, CORRECTION = ThreadForm(), HexagonForm(), CorrectionForm()
DRILL, HEXAGON_ASK = DrillAsk(), HexagonAsk()
WIRE_PLACES = {"in": 5, "mm": 4}
FoundT = TypeVar("FoundT")


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a lookup: what was found, or why there is none."""

    found: Any
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class ThreadFound:
    """All the page shows of one thread."""

    limits: StatedLimits
    drawing: Part
    blank: Part
    wires: Part
    gauges: Part
    drills: Part
    percent: float


def part(step: Callable[[], object]) -> Part:
    """Return what a step finds; a refusal of it is told, and doesn't take the rest away."""
    try:
        return Part(step())
    except Refusal as refusal:
        return Part(None, "; ".join(f"{one.detail}: {one.change}" for one in refusal.faults))


def thread_found(raw: dict[str, Any]) -> ThreadFound:
    """Return limits, section, blank, wires, gauges and drills of the thread asked for."""
    asked = load(THREAD, raw)
    percent = asked.pop("percent")
    stated: StatedLimits = threads_limits(asked)  # type: ignore[assignment]
    return ThreadFound(
        limits=stated,
        drawing=part(lambda: section_drawing(stated)),
        blank=part(lambda: _blank(stated)),
        wires=part(lambda: _over_best_wire(stated)),
        gauges=part(lambda: _gauges(stated)),
        drills=part(lambda: _drills(stated, percent)),
        percent=percent,
    )


def _blank(stated: StatedLimits) -> Aim:
    return blank_aim(stated)


def _gauges(stated: StatedLimits) -> tuple[Gauge, ...]:
    return gauges(stated)


def _over_best_wire(stated: StatedLimits) -> tuple[WireSizes, LimitsOver]:
    sizes = wire_sizes(stated)
    wire = round(sizes.best, WIRE_PLACES[stated.unit])
    method = "three wires" if stated.side == "external" else "between balls"
    return sizes, limits_over(stated, wire, method)  # type: ignore[arg-type]


def _drills(stated: StatedLimits, percent: float) -> object:
    if stated.side != "internal":
        return None
    wanted = {
        "unit": stated.unit, "designation": stated.designation, "side": "internal",
        "percent": percent,
    }  # fmt: skip
    return stock_drill(load(DRILL, wanted))


@dataclass(frozen=True, slots=True)
class HexagonFound:
    """All the page shows of one hexagon."""

    facts: HexagonFacts
    mass: tuple[float, str] | None
    material: str | None
    drawn_right: bool | None
    """Whether the drawing has the size wanted; None where it wasn't measured."""


def hexagon_found(raw: dict[str, Any]) -> HexagonFound:
    """Return every measure of the hexagon, and the wrong turn of its drawing."""
    asked = load(HEXAGON, raw)
    grade = asked["material"]
    density = None if grade is None else find_material(grade).density_g_per_cm3.value
    ask = {
        "unit": asked["unit"],
        asked["measure"]: asked["size"],
        "diameter": asked["diameter"],
        "drawn_across_flats": asked["drawn_across_flats"],
        "density_g_per_cm3": density,
    }
    facts: HexagonFacts = stock_hexagon(load(HEXAGON_ASK, ask))  # type: ignore[assignment]
    drawn = asked["drawn_across_flats"]
    right = None if drawn is None else math.isclose(drawn, facts.hexagon.across_flats, rel_tol=1e-3)
    return HexagonFound(facts, _mass(facts), grade, right)


def _mass(facts: HexagonFacts) -> tuple[float, str] | None:
    if facts.mass is None:
        return None
    if facts.unit == "in":
        return facts.mass.pounds_per_foot or 0.0, "lb/ft"
    return facts.mass.kilograms_per_metre or 0.0, "kg/m"


@dataclass(frozen=True, slots=True)
class Corrected:
    """What one measured part says, and the new radius offset."""

    unit: Unit
    designation: str
    inspection: Inspection
    offset_before: float | None
    offset_after: float | None


def corrected(raw: dict[str, Any]) -> Corrected:
    """Return pitch diameter, verdict and correction; the new offset where the old one is told."""
    asked = load(CORRECTION, raw)
    before = asked.pop("radius_offset")
    unit, designation = asked["unit"], asked["designation"]
    told = inspected(asked)
    after = None if before is None else before + told.correction.radius_offset_change
    return Corrected(unit, designation, told, before, after)
