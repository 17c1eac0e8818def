"""What is cut, with what, out of what: all that stands in the way of it is told together."""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.cutting.material_table import MATERIALS
from flankwise_service.core.cutting.materials import Material, force_figures, material, with_stated
from flankwise_service.core.errors import Refusal
from flankwise_service.core.plan import asked as asks
from flankwise_service.core.plan import bar as bars
from flankwise_service.core.plan import blank as blanks
from flankwise_service.core.plan import offset, shape, tooling
from flankwise_service.core.plan import taper as tapers
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.common import Defaults, assumed_words, check_sweep, defaults
from flankwise_service.core.plan.job import CutterAsked, Job
from flankwise_service.core.plan.result import BarPlan, BlankPlan
from flankwise_service.core.plan.sizes import Sizes, sizes
from flankwise_service.core.plan.tool_fit import cutter_checks, refuse_unfit
from flankwise_service.core.plan.tooth import is_assumed, tooth_for
from flankwise_service.core.plan.tries import Tries
from flankwise_service.core.units import written


@dataclass(frozen=True, slots=True)
class Prepared:
    """What is cut, with what, out of what."""

    job: Job
    sizes: Sizes
    material: Material
    used: Defaults
    crest: blanks.Crest
    cutter: Cutter
    fit: tuple[Check, ...]
    bar: BarPlan
    blank: BlankPlan
    assumed: tuple[str, ...]


def prepared(job: Job) -> Prepared:
    """Return thread, material, blank, bar and tools; refused together where they don't fit.

    Raises the refusals of all steps as one.

    >>> from flankwise_service.core.plan.job import HoleAsked, StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082"), hole=HoleAsked(22.0))
    >>> ready = prepared(job)
    >>> ready.bar.size, ready.cutter.diameter, round(ready.blank.diameter, 3)
    (25.0, 12.5, 18.526)
    """
    at, found = _read(job)
    crest = blanks.crest(job, at)
    tried = Tries()
    chosen = tried(lambda: _chosen(job, at, crest.diameter))
    bar = tried(lambda: bars.plan_bar(job, at, crest.diameter, found))
    if chosen is None and bar is not None:
        tried(lambda: bars.refuse_unfit(job, bar, bars.bar_checks(job, at, bar, crest.diameter)))
    number = _number(job) if chosen is None else chosen[0].number
    milled = tried(lambda: blanks.end_mill(job, at, crest, number))
    if chosen is None or bar is None or milled is None:
        raise tried.joined()
    cutter, fit, words = chosen
    mill, said_of_mill = milled
    blank = blanks.blank_plan(job, at, crest, found, mill)
    used = defaults(job)
    if said_of_mill and not blank.ready:
        words.append(said_of_mill)
    words += blanks.assumed_of(job, crest)
    if bar.proposed:
        words.append(
            f"bar: {bar.shape} {written(bar.size, job.unit)} {job.unit}, the smallest that cleans "
            f"up{bars.skin_left(job, at, bar, crest.diameter)}"
        )
    assumed = (*words, *assumed_words(job, used))
    return Prepared(job, at, found, used, crest, cutter, fit, bar, blank, assumed)


def _number(job: Job) -> int:
    """Return the tool number asked for the thread mill; 0 where none is."""
    return 0 if job.cutter is None else job.cutter.number


def _chosen(
    job: Job, at: Sizes, blank_diameter: float
) -> tuple[Cutter, tuple[Check, ...], list[str]]:
    """Return the cutter, asked for or proposed, how it fits, and what was assumed of it."""
    words: list[str] = []
    asked = job.cutter
    if asked is None:
        asked, said = tooling.proposed(job, at, blank_diameter)
        words.append(said)
    cutter, said_of_tooth = tooling.complete(asked, at, _tooth(job, at, asked, blank_diameter))
    narrow = tapers.far_diameter(at, blank_diameter, job.thread.length)
    fit = cutter_checks(cutter, at, narrow, assumed=is_assumed(job))
    refuse_unfit(fit, cutter, at)
    return cutter, fit, words + list(said_of_tooth)


def _tooth(job: Job, at: Sizes, asked: CutterAsked, blank_diameter: float) -> Tooth:
    """Return the cutter's own tooth, or the one this thread asks of this cutter."""
    if asked.tooth is not None:
        return asked.tooth
    first = asked.with_tooth(tooth_for(at, blank_diameter), 0.0)
    return shape.tooth_as_it_cuts(job, at, first).tooth


def _read(job: Job) -> tuple[Sizes, Material]:
    """Return thread and material; all that is wrong with thread, stock and blank is told."""
    tried = Tries()
    at = tried(lambda: sizes(job.thread, job.unit))
    found = tried(lambda: _material(job))
    tried(lambda: bars.check_sizes_given(job.stock))
    tried(lambda: check_sweep(job))
    tried(lambda: asks.check_accept(job))
    tried(lambda: asks.check_clearance_height(job))
    tried(lambda: asks.check_safe_height(job))
    tried(lambda: offset.check_radius_offset(job))
    if at is not None:
        tried(lambda: bars.check_side_given(job, at))
        tried(lambda: tapers.refuse_straight_blank(job, at))
        tried(lambda: blanks.refuse_past_size(job, at))
    if tried.refusals or at is None or found is None:
        raise tried.joined()
    return at, found


def _material(job: Job) -> Material:
    try:
        stock = job.stock
        found = with_stated(
            material(stock.material, MATERIALS),
            kc11_n_per_mm2=stock.kc11_n_per_mm2,
            mc=stock.mc,
            density_g_per_cm3=stock.density_g_per_cm3,
        )
        force_figures(found)
    except Refusal as refusal:
        raise refusal.under("/stock") from refusal
    return found
