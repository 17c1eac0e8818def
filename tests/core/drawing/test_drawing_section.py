"""The section is drawn to scale, with the standard's limits and the groove really cut."""

from __future__ import annotations

import itertools
import math
from decimal import Decimal
from typing import Any

import pytest

from flankwise_service.core.drawing.outline import (
    Diameters,
    groove_edges,
    material,
    outline,
    sharp_radius,
)
from flankwise_service.core.drawing.section import MOST_POINTS, EdgePoint, section_drawing, spread
from flankwise_service.core.errors import BadInput
from flankwise_service.core.threads import designations, limits, limits_in
from flankwise_service.core.threads.model import StatedLimits
from support.svg import SVG, extent, of_class, parsed, places, words


def stated(designation: str, unit: Any = "in", side: Any = None) -> StatedLimits:
    return limits_in(limits(designation, side=side), unit)


UNF = stated("7/8-14 UNF-2A")
PORT = stated("M20x1.5-6H", "mm")


def groove(of: StatedLimits, pitch_radius: float, count: int = 9) -> list[EdgePoint]:
    both = material(of)
    low, high = sorted((both.most.crest / 2, (both.most.root or 0) / 2))
    radii = [low + (high - low) * k / (count - 1) for k in range(count)]
    return [EdgePoint(r, *groove_edges(of.basic, of.side, pitch_radius, r)) for r in radii]


def test_the_outline_has_half_a_pitch_of_groove_at_the_pitch_line() -> None:
    for of in (UNF, PORT):
        pitch = float(of.basic.pitch)
        low, high = groove_edges(of.basic, of.side, 5.0, 5.0)
        assert high - low == pytest.approx(pitch / 2)
        sharp = sharp_radius(of.basic, of.side, 5.0)
        low, high = groove_edges(of.basic, of.side, 5.0, sharp)
        assert high - low == pytest.approx(0.0, abs=1e-12)
        height = pitch * math.sqrt(3) / 4  # half the fundamental triangle of a 60 degree thread
        assert abs(sharp - 5.0) == pytest.approx(height)
        assert (sharp < 5.0) == (of.side == "external")


def test_the_basic_outline_is_the_standard_s() -> None:
    """ISO 68-1 basic profile: crest flat P/8, root flat P/4, height 5H/8 (memory)."""
    basic = stated("M8-6g", "mm").basic
    drawn = outline(
        basic, "external",
        Diameters(8.0, float(basic.pitch_diameter), float(basic.minor_diameter)),
    )  # fmt: skip
    (z0, r0), (z1, _), (z2, r2), (z3, _), (z4, _), (z5, _) = drawn
    assert (z0, z5) == (-0.625, 0.625)
    assert (z1 - z0) + (z5 - z4) == pytest.approx(1.25 / 8, abs=1e-3)
    assert z3 - z2 == pytest.approx(1.25 / 4, abs=1e-3)
    assert r0 - r2 == pytest.approx(0.625 * 1.25 * math.sqrt(3) / 2, abs=1e-3)


def test_a_root_deeper_than_the_flanks_meet_is_sharp() -> None:
    sharp = sharp_radius(UNF.basic, "external", 0.41)
    drawn = outline(UNF.basic, "external", Diameters(0.87, 0.82, 0.5))
    assert drawn[2][1] == drawn[3][1] == sharp
    assert drawn[2][0] == pytest.approx(drawn[3][0])
    assert outline(UNF.basic, "external", Diameters(0.87, 0.82, None)) == drawn
    inside = outline(PORT.basic, "internal", Diameters(18.5, 19.1, 25.0))
    assert inside[2][1] == sharp_radius(PORT.basic, "internal", 9.55)


def test_a_crest_beyond_the_flanks_keeps_to_its_pitch() -> None:
    drawn = outline(UNF.basic, "external", Diameters(1.2, 0.82, 0.79))
    assert drawn[0][0] == drawn[1][0]
    assert drawn[4][0] == drawn[5][0]


def test_most_and_least_material_are_the_limits() -> None:
    both = material(UNF)
    assert both.most == Diameters(0.8734, 0.8270, 0.7961)
    assert both.least == Diameters(0.8631, 0.8216, None)
    both = material(PORT)
    assert both.most == Diameters(18.376, 19.026, 20.0)
    assert both.least == Diameters(18.676, 19.216, None)


@pytest.mark.parametrize("of", [UNF, PORT], ids=["external", "internal"])
def test_the_picture_is_to_one_scale(of: StatedLimits) -> None:
    root = parsed(section_drawing(of))
    group = next(root.iter(f"{SVG}g"))
    band = places(next(n for n in group.iter() if n.get("class") == "band"))
    most = band[:18]
    pitch = float(of.basic.pitch)
    scale = extent(most)[0] / (3 * pitch)
    both = material(of)
    assert extent(most)[1] / scale == pytest.approx(
        abs(both.most.crest - (both.most.root or 0)) / 2, rel=2e-3
    )
    least = band[18:]
    crest = min if of.side == "external" else max
    apart = abs(crest(y for _, y in least) - crest(y for _, y in most))
    assert apart / scale == pytest.approx(
        abs(both.most.crest - both.least.crest) / 2, abs=0.02 / scale
    )


def test_limits_are_written_as_printed_and_led_to_their_places() -> None:
    root = parsed(section_drawing(UNF, groove(UNF, 0.4121), 0.8242))
    shown = words(root)
    for text in ("major diameter max 0.8734", "major diameter min 0.8631",
                 "pitch diameter max 0.8270", "pitch diameter min 0.8216",
                 "pitch diameter as cut 0.8242", "minor diameter max 0.7961",
                 "minor diameter: no least limit", "pitch 0.0714286", "7/8-14 UNF-2A"):  # fmt: skip
        assert text in shown
    said = root.findtext(f"{SVG}desc") or ""
    assert "Pitch diameter from 0.8216 to 0.8270." in said
    assert "Minor diameter no lower limit, to 0.7961." in said
    assert "Pitch diameter as cut 0.8242." in said
    port = parsed(section_drawing(PORT))
    assert "major diameter: no greatest limit" in words(port)
    assert "Major diameter from 20.000, no upper limit." in (port.findtext(f"{SVG}desc") or "")


def test_the_groove_as_cut_is_drawn_where_it_lies() -> None:
    cut = groove(UNF, 0.4121)
    root = parsed(section_drawing(UNF, list(reversed(cut))))
    plot, inset = (group for group in root.iter(f"{SVG}g"))
    for group in (plot, inset):
        lines = [places(n) for n in group.iter() if n.get("class") == "cut"]
        assert len(lines) == 3
        assert len(lines[1]) == 2 * len(cut)
    middle = [places(n) for n in plot.iter() if n.get("class") == "cut"][1]
    scale = extent(places(next(n for n in plot.iter() if n.get("class") == "band"))[:18])[0]
    scale /= 3 * float(UNF.basic.pitch)
    assert extent(middle)[0] / scale == pytest.approx(
        cut[-1].upper - cut[-1].lower, abs=0.02 / scale
    )
    assert middle[0][1] < middle[len(cut) - 1][1]  # crest above, root below, outside thread
    assert "groove as cut" in words(root)
    assert "groove as cut" not in words(parsed(section_drawing(UNF)))


def test_the_inset_is_magnified() -> None:
    root = parsed(section_drawing(UNF))
    (text,) = [line for line in words(root).splitlines() if "times the scale" in line]
    assert float(text.split(" ")[0]) > 2
    _, inset = (group for group in root.iter(f"{SVG}g"))
    lowest = max(y for _, y in places(next(n for n in inset.iter() if n.get("class") == "band")))
    assert lowest > 100


def test_in_the_other_unit_the_picture_is_the_same() -> None:
    inch, millimetre = section_drawing(UNF), section_drawing(stated("7/8-14 UNF-2A", "mm"))
    bands = [places(of_class(parsed(one), "band", "polygon")[0]) for one in (inch, millimetre)]
    for a, b in zip(*bands, strict=True):
        assert a == pytest.approx(b, abs=0.011)
    assert "pitch diameter max 21.0058" in words(parsed(millimetre))
    assert "pitch diameter max 0.7565" in words(parsed(section_drawing(stated("M20x1.5-6H", "in"))))


@pytest.mark.parametrize(
    ("designation", "side"),
    [("M20x1.5-6H", None), ("M8-6g", None), ("Tr 40x7-7e", None), ("1/4-20 UNC-2B", None),
     ("G 1/2 A", None), ("M16xPh3P1.5-6g", None)],
)  # fmt: skip
def test_every_kind_of_parallel_thread_can_be_drawn(designation: str, side: Any) -> None:
    of = stated(designation, "mm", side)
    text = words(parsed(section_drawing(of)))
    assert of.designation in text


def test_starts_are_said() -> None:
    assert "2 starts" in words(parsed(section_drawing(stated("M16xPh3P1.5-6g", "mm"))))


def test_every_designation_listed_with_limits_draws_or_refuses_as_taper() -> None:
    drawn = 0
    for designation in list(designations())[::97]:
        try:
            of = stated(designation, "mm", "external")
        except Exception:
            continue
        if of.basic.taper:
            with pytest.raises(BadInput):
                section_drawing(of)
        else:
            parsed(section_drawing(of))
            drawn += 1
    assert drawn


def test_taper_threads_and_cuts_elsewhere_are_refused() -> None:
    with pytest.raises(BadInput) as refused:
        section_drawing(
            stated("1/2-14 NPT", "in", "external"), [EdgePoint(0, 0, 0)] * (MOST_POINTS + 1)
        )
    assert [fault.pointer for fault in refused.value.faults] == ["/designation", "/cut"]
    for point in (EdgePoint(-0.1, 0, 0), EdgePoint(0.9, 0, 0), EdgePoint(0.4, -0.2, 0),
                  EdgePoint(0.4, 0, 0.2), EdgePoint(math.nan, 0, 0), EdgePoint(0.4, math.nan, 0)):  # fmt: skip
        with pytest.raises(BadInput) as refused:
            section_drawing(UNF, [EdgePoint(0.4, -0.01, 0.01), point])
        assert refused.value.faults[0].pointer == "/cut/1"


def test_labels_are_spread_and_keep_their_order() -> None:
    assert spread([], 10.0) == []
    assert spread([1.0, 100.0], 10.0) == [1.0, 100.0]
    assert spread([50.0, 50.0, 50.0], 10.0) == [40.0, 50.0, 60.0]
    moved = spread([10.0, 12.0, 19.0, 21.0, 60.0], 10.0)
    assert all(b - a >= 10.0 - 1e-9 for a, b in itertools.pairwise(moved))
    assert sum(moved) == pytest.approx(122.0)


def test_limits_with_many_digits_are_rounded_for_the_eye() -> None:
    assert Decimal("0.82700") == Decimal("0.8270")
    inch = words(parsed(section_drawing(stated("M20x1.5-6H", "in"))))
    for line in inch.splitlines():
        if "diameter m" in line:
            assert len(line.rsplit(".", 1)[1]) <= 5
