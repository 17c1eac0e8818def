"""The drawings of a plan: section, path, setup, bar."""

from __future__ import annotations

from typing import Literal

from flankwise_service.core.drawing.hexagon_views import hexagon_drawing
from flankwise_service.core.drawing.path_views import path_drawing
from flankwise_service.core.drawing.scene import Scene
from flankwise_service.core.drawing.section import EdgePoint, section_drawing
from flankwise_service.core.drawing.setup_sketch import Heights, setup_drawing
from flankwise_service.core.errors import BadInput, Fault
from flankwise_service.core.plan.common import defaults
from flankwise_service.core.plan.result import Work

View = Literal["section", "path", "setup", "bar"]
VIEWS: tuple[View, ...] = ("section", "path", "setup", "bar")


def views_of(work: Work) -> tuple[View, ...]:
    """Return the views there are of this plan: no section of a taper thread, no flats on round.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> from flankwise_service.core.plan.compose import work
    >>> views_of(work(job, "1.0.0"))
    ('section', 'path', 'setup', 'bar')
    """
    missing = {
        "section": work.plan.limits.basic.taper != 0.0,
        "bar": work.plan.bar.shape != "hexagon",
    }
    return tuple(view for view in VIEWS if not missing.get(view, False))


def picture(work: Work, view: View) -> str:
    """Return one drawing of a plan as SVG. Errors: a view this plan doesn't have, at /view."""
    if view not in views_of(work):
        have = views_of(work)
        raise BadInput(
            Fault(
                "/view",
                "no_such_view",
                f"there is no {view} view of {work.plan.limits.designation} on "
                f"{work.plan.bar.shape} bar",
                f"ask for one of {', '.join(have)}",
                view,
                near=have,
            )
        )
    if view == "section":
        return _section(work)
    if view == "path":
        return path_drawing(scene(work), work.thread_segments)
    if view == "setup":
        return setup_drawing(scene(work), _heights(work))
    found = work.plan.form
    external = work.plan.limits.side == "external"
    inner = found.minor_diameter if external else found.major_diameter
    return hexagon_drawing(scene(work), inner)


def scene(work: Work) -> Scene:
    """Return part and cutter as the drawings take them."""
    plan, job = work.plan, work.job
    is_hexagon = plan.bar.shape == "hexagon"
    return Scene(
        unit=plan.unit,
        side=plan.limits.side,
        diameter=plan.blank.diameter,
        length=job.thread.length,
        cutter_diameter=plan.cutter.diameter,
        across_flats=plan.bar.size if is_hexagon else None,
        bar_diameter=None if is_hexagon else plan.bar.size,
        depth=max(plan.blank.depth, job.thread.length),
        centre=(job.program.centre_x, job.program.centre_y),
        name=f"{plan.name} {plan.limits.designation}".strip(),
        taper=plan.limits.basic.taper,
    )


def _section(work: Work) -> str:
    cut = work.section
    points = [
        EdgePoint(*place) for place in zip(cut.radius, cut.lower_edge, cut.upper_edge, strict=True)
    ]
    return section_drawing(work.plan.limits, points, work.plan.form.pitch_diameter)


def _heights(work: Work) -> Heights:
    used, job = defaults(work.job), work.job
    return Heights(
        used.safe_height,
        used.clearance_height,
        job.program.work_offset,
        work.plan.cutter.tip_to_tooth,
        work.plan.cutter.number,
    )
