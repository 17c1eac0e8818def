"""Whole questions a shop asks about cutting, answered with the steps of this folder.

Source: each step's own module names its own; figures of a material carry theirs with them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from flankwise_service.core.cutting.chip import HeldChip
from flankwise_service.core.cutting.cutter import Substance
from flankwise_service.core.cutting.deflection import Deflection
from flankwise_service.core.cutting.feed import ArcFeed
from flankwise_service.core.cutting.force import PassLoad
from flankwise_service.core.cutting.load import (
    ThreadCut,
    ThreadPass,
    stiff_thread_depths,
    thread_passes,
)
from flankwise_service.core.cutting.material_table import find_material
from flankwise_service.core.cutting.materials import (
    STATED,
    Figure,
    Window,
    chip_load_window,
    force_figures,
    surface_speed_window,
)
from flankwise_service.core.cutting.passes import (
    chip_area,
    equal_area_depths,
    equal_step_depths,
    passes_for_area,
    with_spring_passes,
)
from flankwise_service.core.cutting.ranges import refuse_outside
from flankwise_service.core.cutting.speed import GREATEST_RPM, SpindleSpeed, spindle_speed
from flankwise_service.core.cutting.time import Move, Piece, moves_of
from flankwise_service.core.errors import BadInput, Fault, Impossible, plain, plain_greatest
from flankwise_service.core.units import Unit, from_mm, to_mm

Method = Literal["equal_area", "equal_step"]


@dataclass(frozen=True, slots=True)
class SpeedAnswer:
    """A spindle speed with the windows of the material it was taken from."""

    unit: Unit
    spindle: SpindleSpeed
    surface_speed_window: Window | None
    chip_load_window: Window | None
    """In `unit`."""


@dataclass(frozen=True, slots=True)
class RadialPass:
    """One radial pass of a groove."""

    depth: float
    step: float
    chip_area: float


@dataclass(frozen=True, slots=True)
class LoadedPass:
    """A pass of a thread beside the tolerance of its pitch diameter."""

    depth_before: float
    depth_after: float
    diameter_after: float
    chip: HeldChip
    feed: ArcFeed
    force: PassLoad
    deflection: Deflection | None
    share_of_tolerance: float | None


def speed_answer(
    unit: Unit,
    diameter: float,
    *,
    surface_speed: float | None = None,
    material: str | None = None,
    substance: Substance = "carbide",
    fraction: float = 0.5,
    least_speed: float = 0.0,
    greatest_speed: float = GREATEST_RPM,
) -> SpeedAnswer:
    """Return the spindle speed for a stated surface speed, or from the material's window.

    Both stated: the surface speed counts and the material's windows are shown beside it.
    Neither: BadInput.

    >>> answer = speed_answer("mm", 10.0, material="303", fraction=0.0)
    >>> round(answer.spindle.speed)
    2069
    """
    refuse_outside(fraction=(fraction, 0, 1, None))
    speeds = chips = None
    if material is not None:
        found = find_material(material)
        speeds = surface_speed_window(found, substance, unit)
        in_mm = chip_load_window(found, substance, to_mm(diameter, unit))
        chips = Window(from_mm(in_mm.least, unit), from_mm(in_mm.greatest, unit), in_mm.source)
    wanted = surface_speed
    if wanted is None:
        wanted = _wanted(speeds, fraction)
    spindle = spindle_speed(wanted, diameter, unit, least=least_speed, greatest=greatest_speed)
    return SpeedAnswer(unit, spindle, speeds, chips)


def radial_passes(
    depth: float,
    form: tuple[float, float, float],
    method: Method,
    *,
    passes: int | None = None,
    greatest_step: float | None = None,
    greatest_area: float | None = None,
    spring_passes: int = 0,
) -> tuple[RadialPass, ...]:
    """Return the passes of a groove of `form` (tip width, upper and lower flank angle).

    The number of passes is stated, or follows from the greatest area (equal areas) or step (equal
    steps); exactly one of them.

    >>> [round(one.depth, 3) for one in radial_passes(0.6, (0.15, 30, 30), "equal_step", passes=3)]
    [0.2, 0.4, 0.6]
    """
    own, other = ("greatest_area", "greatest_step")
    limit, stray = greatest_area, greatest_step
    if method == "equal_step":
        own, other, limit, stray = other, own, greatest_step, greatest_area
    if (passes is None) == (limit is None) or stray is not None:
        raise BadInput(
            Fault(
                "/passes",
                "one_way",
                f"passes of method {method} are set by passes, or by {own}; just one of the two",
                f"give passes or {own}, and leave out {other}",
                passes,
            )
        )
    if method == "equal_area":
        count = passes_for_area(depth, limit, *form) if limit is not None else int(passes or 1)
        depths = equal_area_depths(depth, count, *form)
    else:
        refuse_outside(passes=(passes or 1, 1, 100, None))
        depths = equal_step_depths(depth, limit if limit is not None else depth / (passes or 1))
    depths = with_spring_passes(depths, spring_passes)
    begins = (0.0, *depths[:-1])
    return tuple(
        RadialPass(end, end - begin, chip_area(begin, end, *form))
        for begin, end in zip(begins, depths, strict=True)
    )


def force_figures_for(
    material: str | None, kc11_n_per_mm2: float | None, mc: float | None
) -> tuple[Figure, Figure]:
    """Return kc1.1 and mc: stated ones where given, else the material's.

    >>> [figure.value for figure in force_figures_for("C45", None, 0.2)]
    [2220.0, 0.2]
    """
    stated = [None if one is None else Figure(float(one), STATED) for one in (kc11_n_per_mm2, mc)]
    if stated[0] is not None and stated[1] is not None:
        return stated[0], stated[1]
    if material is None:
        raise BadInput(
            Fault(
                "/material",
                "needed",
                "cutting force needs a material, or both kc1.1 and mc",
                "name a material of /v1/cutting/materials, or state kc11_n_per_mm2 and mc",
            )
        )
    listed = force_figures(find_material(material))
    return stated[0] or listed[0], stated[1] or listed[1]


def loaded_passes(
    cut: ThreadCut,
    depth: float,
    *,
    passes: int | None = None,
    spring_passes: int = 0,
    pitch_diameter_tolerance: float | None = None,
    final_share: float = 0.1,
    rough_share: float = 0.5,
) -> tuple[LoadedPass, ...]:
    """Return a thread's passes worked out, each beside the pitch diameter's tolerance.

    Refused where the depth is more than the tooth has.
    `passes` of equal chip area; left out, by stiffness of the cutter where a tolerance is given,
    else one pass.
    """
    tooth = cut.cutter.tooth
    if depth > tooth.depth * (1 + 1e-9):
        raise Impossible(
            Fault(
                "/depth",
                "tooth_too_shallow",
                f"a depth of {plain(depth)} is more than the tooth's own {plain(tooth.depth)}: the "
                "cutter's body would rub",
                "take a cutter with a deeper tooth, or a depth of at most "
                f"{plain_greatest(tooth.depth)}",
                depth,
                greatest=tooth.depth,
            )
        )
    form = (tooth.tip_width, tooth.flank_angle_upper, tooth.flank_angle_lower)
    if passes is None and pitch_diameter_tolerance is not None:
        depths = stiff_thread_depths(
            cut,
            depth,
            pitch_diameter_tolerance,
            final_share=final_share,
            rough_share=rough_share,
        )
    else:
        depths = equal_area_depths(depth, passes or 1, *form)
    done = thread_passes(cut, with_spring_passes(depths, spring_passes))
    return tuple(_beside(one, pitch_diameter_tolerance, cut.unit) for one in done)


def moves_from(moves: Sequence[Move], segments: Sequence[Piece]) -> tuple[Move, ...]:
    """Return the moves stated, or those of the segments stated; exactly one kind.

    >>> moves_from([Move(1.0, 100.0)], [])
    (Move(length=1.0, feed=100.0, radius=None, smooth=False),)
    """
    if bool(moves) == bool(segments):
        raise BadInput(
            Fault(
                "/moves",
                "one_way",
                "time is worked out from moves, or from segments of a path; just one of the two",
                "give moves or segments",
            )
        )
    return tuple(moves) or moves_of(segments)


def _wanted(speeds: Window | None, fraction: float) -> float:
    if speeds is None:
        raise BadInput(
            Fault(
                "/surface_speed",
                "needed",
                "a spindle speed needs a surface speed or a material",
                "state surface_speed, or name a material of /v1/cutting/materials",
            )
        )
    return speeds.at(fraction)


def _beside(done: ThreadPass, tolerance: float | None, unit: Unit) -> LoadedPass:
    share = None
    if tolerance is not None and done.deflection is not None:
        share = abs(done.deflection.pitch_diameter_error_mm) / to_mm(tolerance, unit)
    return LoadedPass(
        done.depth_before,
        done.depth_after,
        done.diameter_after,
        done.chip,
        done.feed,
        done.force,
        done.deflection,
        share,
    )
