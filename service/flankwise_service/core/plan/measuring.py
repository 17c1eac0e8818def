"""How the thread is measured when it is cut: wires or balls, their limits, what to correct."""

from __future__ import annotations

from flankwise_service.core.errors import Refusal
from flankwise_service.core.gauging.correction import correction_table
from flankwise_service.core.gauging.gauges import gauges
from flankwise_service.core.gauging.groove import groove_of
from flankwise_service.core.gauging.limits_over import readings_over, wire_sizes
from flankwise_service.core.gauging.over_wires import axial_offset, reading_over
from flankwise_service.core.gauging.taper_gauge import taper_gauge
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.common import placed
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.result import GaugingPlan
from flankwise_service.core.plan.sizes import Sizes, between
from flankwise_service.core.units import written

WIRE_PLACES = {"in": 5, "mm": 4}
TABLE_ROWS = 9


def gauging_plan(job: Job, sizes: Sizes, diameter_per_radius: float) -> GaugingPlan | None:
    """Return wires, limits over them and the correction table; None for taper threads.

    Errors: a wire at hand that can't be used, below /gauging.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> found = gauging_plan(job, sizes(job.thread, job.unit), 2.0)
    >>> found.method, found.wire, round(found.least_reading, 4)
    ('between balls', 0.866, 17.7266)
    """
    if sizes.taper:
        return None
    groove = groove_of(sizes.limits.basic, sizes.side)
    found = wire_sizes(sizes.limits)
    best = found.use or found.best
    wire = job.gauging.wire_diameter or round(best, WIRE_PLACES[job.unit])
    method = "three wires" if sizes.side == "external" else "between balls"
    least, greatest = sizes.pitch_diameter
    aim = between(sizes.pitch_diameter, job.thread.pitch_diameter_aim)
    inner = min(max(aim, least + 1e-9), greatest - 1e-9)
    try:
        low, high = readings_over(sizes.limits, wire, method)  # type: ignore[arg-type]
        table = correction_table(
            groove, wire, least, greatest, unit=job.unit, method=method, aim=inner,  # type: ignore[arg-type]
            rows=TABLE_ROWS, diameter_per_radius=diameter_per_radius,
        )  # fmt: skip
    except Refusal as refusal:
        raise placed(refusal, {"/wire": "/gauging/wire_diameter"}, "/gauging") from refusal
    aimed = reading_over(groove, aim, wire, method)  # type: ignore[arg-type]
    return GaugingPlan(
        method=method,
        wire=wire,
        best_wire=best,
        least_reading=low.reading,
        greatest_reading=high.reading,
        aimed_reading=aimed.reading,
        handbook_error=aimed.handbook_error,
        table=table,
        gauges=gauges(sizes.limits),
    )


def gauging_check(job: Job, sizes: Sizes, found: GaugingPlan | None) -> Check:
    """Return how finely the wires at hand can judge the tolerance."""
    if found is None:
        return Check("gauging", "passed", taper_gauge(sizes.limits)[0])
    share = 2 * job.gauging.uncertainty / (found.greatest_reading - found.least_reading)
    detail = (
        f"{found.method} of {written(found.wire, job.unit)} {job.unit}: {found.least_reading:.5f} "
        "to "
        f"{found.greatest_reading:.5f} {job.unit}"
    )
    if share > 0.5:
        return Check(
            "gauging", "caution", f"{detail}; the uncertainty takes {share:.0%} of that", share,
            0.5, "of tolerance", "measure with a finer instrument, or use go and no-go gauges",
        )  # fmt: skip
    return Check("gauging", "passed", detail, change=_hold_square(sizes, found))


def _hold_square(sizes: Sizes, found: GaugingPlan) -> str:
    """Return how to hold a gauge of two balls whose grooves aren't opposite one another."""
    offset = axial_offset(groove_of(sizes.limits.basic, sizes.side))
    if found.method != "between balls" or not offset:
        return ""
    return (
        f"hold the gauge square to the axis: opposite grooves lie {written(offset, sizes.unit)} "
        f"{sizes.unit} apart "
        "along it, and straight from ball to ball the reading comes out too large"
    )
