"""Stock: hexagon and round bar, the blank before threading, drills for the hole."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from flankwise_service.core.cutting.material_table import find_material
from flankwise_service.core.stock.bars import bars
from flankwise_service.core.stock.blank import check_blank_depth
from flankwise_service.core.stock.choice import bar_choices
from flankwise_service.core.stock.drills import drill_choices, hole_for_percent
from flankwise_service.core.stock.facts import aim_for, hexagon_facts, thread_for_drill
from flankwise_service.core.stock.hexagon import MEASURES, one_measure
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas.stock import (
    BarsQuery,
    BarsReply,
    BlankAsk,
    BlankReply,
    DrillAsk,
    DrillReply,
    HexagonAsk,
    HexagonFactsReply,
    StockChoiceAsk,
    StockChoiceReply,
)

blueprint = Blueprint("stock", __name__)


@operation(
    blueprint,
    "POST",
    "/stock/hexagon",
    id="stock_hexagon",
    tag="stock",
    asks=HexagonAsk,
    replies=HexagonFactsReply,
    summary="A hexagon from any one of its measures",
)
def stock_hexagon(asked: dict[str, Any]) -> object:
    """Across flats, across corners, side and both radii from exactly one of them, with area, mass,
    wrench, and how far the corners stand out beyond a boss.

    `readings` shows the same number taken each other way: a 30 mm hexagon drawn with a 30 mm
    radius is 51.96 mm across flats. With `drawn_across_flats` that wrong turn is found and named.
    Corners are taken as sharp, so figures over corners are greatest values.
    """
    measure, value = one_measure({name: asked[name] for name in MEASURES})
    return hexagon_facts(
        measure,
        value,
        asked["unit"],
        density_g_per_cm3=asked["density_g_per_cm3"],
        diameter=asked["diameter"],
        drawn_across_flats=asked["drawn_across_flats"],
    )


@operation(
    blueprint,
    "GET",
    "/stock/bars",
    id="stock_bars",
    tag="stock",
    asks=BarsQuery,
    replies=BarsReply,
    summary="Standard sizes of bar",
)
def stock_bars(asked: dict[str, Any]) -> object:
    """Sizes of hexagon or round bar, each with its source. Your supplier's list governs."""
    return {**asked, "bars": bars(asked["shape"], asked["unit"])}


@operation(
    blueprint,
    "POST",
    "/stock/choice",
    id="stock_choice",
    tag="stock",
    asks=StockChoiceAsk,
    replies=StockChoiceReply,
    summary="The smallest bars that clean up a diameter",
)
def stock_choice(asked: dict[str, Any]) -> object:
    """The smallest standard bars from which a diameter cleans up with the allowance stated.

    Metric bar is taken at the bottom of its size tolerance (ISO h11). Inch bar states none here:
    put what your supplier allows into `allowance`.
    """
    given = dict(asked)
    designation = given.pop("material")
    if given["density_g_per_cm3"] is None and designation is not None:
        given["density_g_per_cm3"] = find_material(designation).density_g_per_cm3.value
    given["shapes"] = tuple(dict.fromkeys(given["shapes"]))
    return {"unit": asked["unit"], "choices": bar_choices(**given)}


@operation(
    blueprint,
    "POST",
    "/stock/blank",
    id="stock_blank",
    tag="stock",
    asks=BlankAsk,
    replies=BlankReply,
    summary="The blank before threading: diameter and depth",
    pointers={
        f"/{name}": f"/depth/{name}"
        for name in ("blank_depth", "thread_length", "half_tooth", "clearance")
    },
)
def stock_blank(asked: dict[str, Any]) -> object:
    """The diameter to turn a boss, or bore a hole, to: inside its limits, not at the basic size.

    With `depth` the axial budget is checked too: a blank needs thread length, half a tooth and
    clearance. One that lacks depth is refused with the missing length in figures.
    """
    depth = asked["depth"]
    return {
        "unit": asked["unit"],
        "aim": aim_for(
            asked["designation"],
            asked["side"],
            asked["least"],
            asked["greatest"],
            asked["unit"],
            asked["fraction"],
        ),
        "depth": None if depth is None else check_blank_depth(**depth),
    }


@operation(
    blueprint,
    "POST",
    "/stock/drill",
    id="stock_drill",
    tag="stock",
    asks=DrillAsk,
    replies=DrillReply,
    summary="Drills for the percent of thread wanted",
)
def stock_drill(asked: dict[str, Any]) -> object:
    """Standard drills nearest to the percent of thread wanted; those inside the limits first.

    Percent of thread is 100 (D - drill)/(1.299038 P), for 60 degree threads. A drill cuts larger
    than itself, the more the worse its grind: measure a trial hole.
    """
    major, pitch, span = thread_for_drill(
        asked["designation"], asked["side"], asked["major_diameter"], asked["pitch"], asked["unit"]
    )
    return {
        "unit": asked["unit"],
        "hole": hole_for_percent(major, pitch, asked["percent"]),
        "minor_least": None if span is None else span[0],
        "minor_greatest": None if span is None else span[1],
        "choices": drill_choices(
            major,
            pitch,
            asked["unit"],
            percent=asked["percent"],
            series=tuple(dict.fromkeys(asked["series"])),
            minor_limits=span,
            count=asked["count"],
        ),
    }
