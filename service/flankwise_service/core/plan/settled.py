"""The job document with every choice the plan made written into it.

Planned again it gives the same plan, also by a later version that would choose otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.plan.common import Defaults
from flankwise_service.core.plan.job import CutterAsked, EndMill, Job, StockAsked
from flankwise_service.core.plan.result import BarPlan, GaugingPlan, PassPlan
from flankwise_service.core.plan.sizes import Sizes
from flankwise_service.core.plan.tooling import lower_half_width
from flankwise_service.core.plan.tooth import is_assumed
from flankwise_service.core.threads.families import BY_FAMILY


def settled(
    job: Job, at: Sizes, cutter: Cutter, mill: EndMill | None, bar: BarPlan,
    passes: Sequence[PassPlan], gauging: GaugingPlan | None, used: Defaults,
    surface_speed: float, chip_load: float, version: str,
) -> Job:  # fmt: skip
    """Return the job with thread, bar, tools, passes, speeds and clearances as the plan has them.

    What only limits a check (the machine's greatest feed, say) stays as the job has it: not stated
    is not checked, then as now.

    >>> from flankwise_service.core.plan.job import HoleAsked, Job, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> from flankwise_service.core.plan.compose import work
    >>> made = work(job, "1.0.0").plan.job
    >>> made.made_by, made.stock.across_flats, made.end_mill.diameter
    ('flankwise 1.0.0', 25.0, 10.0)
    """
    limits = at.limits
    editions = BY_FAMILY[limits.family].EDITIONS
    return replace(
        job,
        made_by=f"flankwise {version}",
        thread=replace(
            job.thread, designation=limits.designation, side=at.side,
            edition=job.thread.edition or editions[0],
        ),
        stock=_stock(job.stock, bar),
        cutter=_cutter(job.cutter, cutter, is_assumed(job)),
        end_mill=mill or job.end_mill,
        machine=replace(
            job.machine, rapid=used.rapid, acceleration=used.acceleration,
            tool_change_seconds=used.tool_change_s, chord_tolerance=used.chord_tolerance,
        ),
        cutting=replace(
            job.cutting, surface_speed=surface_speed, chip_load=chip_load,
            passes=sum(not one.spring for one in passes),
            spring_passes=sum(one.spring for one in passes),
            radial_clearance=used.radial_clearance, axial_clearance=used.axial_clearance,
        ),
        program=replace(
            job.program, clearance_height=used.clearance_height, safe_height=used.safe_height
        ),
        gauging=replace(job.gauging, wire_diameter=gauging.wire if gauging else None),
    )  # fmt: skip


def _stock(asked: StockAsked, bar: BarPlan) -> StockAsked:
    if not bar.proposed:
        return asked
    if bar.shape == "hexagon":
        return replace(asked, across_flats=bar.size)
    return replace(asked, diameter=bar.size)


def _cutter(asked: CutterAsked | None, cutter: Cutter, assumed: bool) -> CutterAsked:
    """Return the cutter with its tooth; without, where only a part of the tooth clears the tip.

    Of a tooth that the plan takes from the thread, the tip need only clear what cuts.
    """
    made = CutterAsked(
        **{name: getattr(cutter, name) for name in Cutter.__slots__}, tooth_assumed=assumed
    )
    taken = asked is not None and asked.tooth is None
    if taken and cutter.tip_to_tooth < lower_half_width(cutter.tooth, cutter.tooth.depth):
        return replace(made, tooth=None, tooth_assumed=False)
    return made
