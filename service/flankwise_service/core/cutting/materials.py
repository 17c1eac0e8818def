"""Work materials: what to call them, how hard, how fast, how thick a chip, how much force.

Groups are the letters of ISO 513: P steel (and stainless steel that isn't austenitic), M stainless
austenitic and duplex, K cast iron, N non-ferrous and plastics, S heat-resistant alloys and
titanium, H hardened steel. Every figure carries its source; most are memory or common practice,
and a caller may put their own in place of any.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, get_args

from flankwise_service.core.cutting.cutter import Substance
from flankwise_service.core.cutting.ranges import refuse_outside
from flankwise_service.core.errors import BadInput, Fault, NoSource
from flankwise_service.core.threads.model import Source
from flankwise_service.core.units import Unit, surface_speed_from_m_per_min

Group = Literal["P", "M", "K", "N", "S", "H"]
GROUPS: tuple[Group, ...] = get_args(Group)

STATED = Source("the request", "", "stated by the caller", "stated by the caller")


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure with its source. `spread` is the share by which published values differ."""

    value: float
    source: Source
    spread: float = 0.0


@dataclass(frozen=True, slots=True)
class Window:
    """A range of figures with its source."""

    least: float
    greatest: float
    source: Source

    def at(self, fraction: float) -> float:
        """Return the value at a fraction of the window, 0 at the least, 1 at the greatest."""
        return self.least + fraction * (self.greatest - self.least)


@dataclass(frozen=True, slots=True)
class CuttingWindow:
    """Where to start with one kind of cutter."""

    substance: Substance
    surface_speed_m_per_min: Window
    chip_share: Window
    """Chip load per tooth as a share of the cutter's diameter."""


@dataclass(frozen=True, slots=True)
class Material:
    """A work material. `name` is one of its `designations`."""

    name: str
    group: Group
    description: str
    designations: tuple[str, ...]
    hardness: Window
    hardness_scale: Literal["HB", "HRC", "Shore D"]
    density_g_per_cm3: Figure
    kc11_n_per_mm2: Figure | None
    """Specific cutting force at a chip 1 mm thick; None where no figure can be stated."""
    mc: Figure | None
    windows: tuple[CuttingWindow, ...]
    notes: tuple[str, ...] = ()


LEAST_CHIP_MM = 0.004
GREATEST_CHIP_MM = 0.15
"""Chip loads outside these are rare with thread mills (common practice, no source)."""

_PREFIX = re.compile(r"^(AISI|SAE|UNS|ASTM|DIN|EN|ISO|AW|AC|WNR|W\.?-?NR\.?|TYPE|GRADE|ALLOY)[ -]+")


@lru_cache(maxsize=1024)  # every look-up compares with all that are listed, some 330
def plain(designation: str) -> str:
    """Return a designation as it is compared: capitals, no spaces, no leading standard's name.

    >>> plain("AISI 303"), plain("en aw-6082"), plain("1.4305"), plain("Ti-6Al-4V")
    ('303', '6082', '1.4305', 'TI6AL4V')
    """
    text = designation.strip().upper()
    while (found := _PREFIX.match(text)) is not None:
        text = text[found.end() :]
    return re.sub(r"[\s_-]", "", text)


def material(designation: str, listed: tuple[Material, ...]) -> Material:
    """Return the material of this designation among `listed` (`material_table.MATERIALS`).

    Any standard number or name of it will do, however spaced. Unknown: NoSource, naming those
    that look alike.
    """
    wanted = plain(designation[:100])
    if not wanted:
        raise NoSource(
            Fault(
                "/material",
                "unknown_material",
                "the material is empty",
                "name one of the list, by its standard number or short name",
                designation[:100],
            )
        )
    index = {plain(one): found for found in listed for one in found.designations}
    if wanted in index:
        return index[wanted]
    close = difflib.get_close_matches(wanted, list(index), n=5, cutoff=0.6)
    # Materials of the kind that looks most alike come first.
    close = sorted(close, key=lambda one: index[one].group != index[close[0]].group)
    spelled = {plain(one): one for found in listed for one in found.designations}
    near = tuple(dict.fromkeys(spelled[one] for one in close))
    raise NoSource(
        Fault(
            "/material",
            "unknown_material",
            f"no material {designation[:100]!r} is in the list",
            "name one of the list by its standard number, or state its own figures",
            designation[:100],
            near=near,
        )
    )


def cutting_window(found: Material, substance: Substance) -> CuttingWindow:
    """Return the starting window of a material for one kind of cutter.

    Where the list has none (hardened steel with high speed steel) it is refused: NoSource.
    """
    for window in found.windows:
        if window.substance == substance:
            return window
    raise NoSource(
        Fault(
            "/substance",
            "no_window",
            f"no surface speed for {found.name} with {substance} cutters is in the list",
            "take a carbide cutter, or state surface speed and chip load yourself",
            substance,
        )
    )


def surface_speed_window(found: Material, substance: Substance, unit: Unit) -> Window:
    """Return the surface speed window: ft/min for "in", m/min for "mm"."""
    window = cutting_window(found, substance).surface_speed_m_per_min
    return Window(
        surface_speed_from_m_per_min(window.least, unit),
        surface_speed_from_m_per_min(window.greatest, unit),
        window.source,
    )


def chip_load_window(found: Material, substance: Substance, cutter_diameter_mm: float) -> Window:
    """Return the chip load window in mm: share * diameter, kept within 0.004 to 0.15 mm.

    The chip load is the greatest chip thickness a tooth should take (`chip.held_chip`).
    """
    refuse_outside(cutter_diameter_mm=(cutter_diameter_mm, 0.1, 1000, "mm"))
    share = cutting_window(found, substance).chip_share
    return Window(
        _held(share.least * float(cutter_diameter_mm)),
        _held(share.greatest * float(cutter_diameter_mm)),
        share.source,
    )


def force_figures(found: Material) -> tuple[Figure, Figure]:
    """Return kc1.1 in N/mm2 and mc, or refuse where none can be stated (plastics)."""
    if found.kc11_n_per_mm2 is None or found.mc is None:
        raise NoSource(
            Fault(
                "/material",
                "no_cutting_force",
                f"no specific cutting force for {found.name} can be stated",
                "state kc1.1 and mc yourself, or leave out the force check",
                found.name,
            )
        )
    return found.kc11_n_per_mm2, found.mc


def with_stated(
    found: Material,
    *,
    kc11_n_per_mm2: float | None = None,
    mc: float | None = None,
    density_g_per_cm3: float | None = None,
    substance: Substance | None = None,
    surface_speed_m_per_min: tuple[float, float] | None = None,
    chip_share: tuple[float, float] | None = None,
) -> Material:
    """Return the material with the caller's own figures in place of the list's.

    Speed and chip windows need `substance`; for a kind of cutter the list has no window for,
    state both. Each replaced figure's source is the request.
    """
    refuse_outside(
        kc11_n_per_mm2=(_or(kc11_n_per_mm2, 1000.0), 50, 20_000, "N/mm2"),
        mc=(_or(mc, 0.25), 0, 0.9, None),
        density_g_per_cm3=(_or(density_g_per_cm3, 8.0), 0.5, 25, "g/cm3"),
    )
    changed = replace(
        found,
        kc11_n_per_mm2=_stated(kc11_n_per_mm2) or found.kc11_n_per_mm2,
        mc=_stated(mc) or found.mc,
        density_g_per_cm3=_stated(density_g_per_cm3) or found.density_g_per_cm3,
    )
    if surface_speed_m_per_min is None and chip_share is None:
        return changed
    if substance is None:
        raise BadInput(
            Fault(
                "/substance",
                "needed",
                "a stated speed or chip load needs the kind of cutter it is for",
                "state carbide or high speed steel",
            )
        )
    return replace(
        changed, windows=_windows(changed, substance, surface_speed_m_per_min, chip_share)
    )


def _windows(
    found: Material,
    substance: Substance,
    speed: tuple[float, float] | None,
    share: tuple[float, float] | None,
) -> tuple[CuttingWindow, ...]:
    if speed is not None and share is not None:
        new = CuttingWindow(
            substance, _stated_window("surface_speed_m_per_min", speed, 0.1, 20_000),
            _stated_window("chip_share", share, 1e-5, 0.2),
        )  # fmt: skip
    elif speed is not None:
        new = replace(
            cutting_window(found, substance),
            surface_speed_m_per_min=_stated_window("surface_speed_m_per_min", speed, 0.1, 20_000),
        )
    else:
        new = replace(
            cutting_window(found, substance),
            chip_share=_stated_window("chip_share", share or (0, 0), 1e-5, 0.2),
        )
    return (*(one for one in found.windows if one.substance != substance), new)


def _stated_window(name: str, pair: tuple[float, float], least: float, greatest: float) -> Window:
    low, high = pair
    refuse_outside(**{name: (low, least, greatest, None)})
    refuse_outside(**{name: (high, low, greatest, None)})
    return Window(float(low), float(high), STATED)


def _stated(value: float | None) -> Figure | None:
    return None if value is None else Figure(float(value), STATED)


def _or(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


def _held(chip_mm: float) -> float:
    return min(max(chip_mm, LEAST_CHIP_MM), GREATEST_CHIP_MM)
